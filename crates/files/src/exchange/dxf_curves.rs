//! The curves of DXF as lines, quadratics and cubics.

use hangtrue_geometry::{Affine, CubicBez, Line, PathSeg, Point, QuadBez, Vec2};
use kurbo::{Arc, PathEl, SvgArc};

/// Cubics follow an arc to within this part of its radius.
const ARC: f64 = 1e-8;
/// Segments shorter than this are left out, in the file's numbers.
const NOTHING: f64 = 1e-9;
/// Cubics follow a rational spline to within this part of its size.
const FITTED: f64 = 1e-7;
/// A span of a spline is halved at most this often.
const HALVED: u32 = 14;
/// The highest degree of a spline that is read.
const MOST_DEGREE: usize = 15;

fn push_elements(
    segments: &mut Vec<PathSeg>,
    from: Point,
    elements: impl Iterator<Item = PathEl>,
    to: Option<Point>,
) {
    let mut at = from;
    let mut elements: Vec<PathEl> = elements.collect();
    if let (Some(to), Some(PathEl::CurveTo(_, _, end))) = (to, elements.last_mut()) {
        *end = to;
    }
    for element in elements {
        if let PathEl::CurveTo(a, b, p) = element {
            segments.push(PathSeg::Cubic(CubicBez::new(at, a, b, p)));
            at = p;
        }
    }
}

/// A stretch of a polyline from `from` to `to`. The bulge is the tangent of a
/// quarter of the arc's angle, positive counter-clockwise (DXF reference,
/// LWPOLYLINE, group code 42).
pub(crate) fn bulged(segments: &mut Vec<PathSeg>, from: Point, to: Point, bulge: f64) {
    let chord = from.distance(to);
    if chord < NOTHING || !chord.is_finite() {
        return;
    }
    let straight = || PathSeg::Line(Line::new(from, to));
    if bulge.abs() < 1e-9 || !bulge.is_finite() {
        segments.push(straight());
        return;
    }
    let radius = chord * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    let arc = SvgArc {
        from,
        to,
        radii: Vec2::new(radius, radius),
        x_rotation: 0.0,
        large_arc: bulge.abs() > 1.0,
        sweep: bulge > 0.0,
    };
    match Arc::from_svg_arc(&arc) {
        Some(arc) if radius.is_finite() && radius < 1e7 => {
            push_elements(segments, from, arc.append_iter(ARC * radius), Some(to));
        }
        _ => segments.push(straight()),
    }
}

/// An arc of an ellipse with the given axes, from one parameter to another,
/// counter-clockwise about the turn from the first axis to the second.
pub(crate) fn elliptical(
    centre: Point,
    first: Vec2,
    second: Vec2,
    from: f64,
    to: f64,
) -> Vec<PathSeg> {
    let mut sweep = to - from;
    // NaN lies in no range.
    let has_length = |v: Vec2| (f64::MIN_POSITIVE..=f64::MAX).contains(&v.hypot());
    if !sweep.is_finite() || !has_length(first) || !has_length(second) {
        return Vec::new();
    }
    let tau = std::f64::consts::TAU;
    // Whole turns come as from 0 to 2π; the rest may wrap.
    sweep = sweep.rem_euclid(tau);
    if sweep < 1e-9 {
        sweep = tau;
    }
    let unit = Arc::new(Point::ORIGIN, Vec2::new(1.0, 1.0), from, sweep, 0.0);
    let map = Affine::new([first.x, first.y, second.x, second.y, centre.x, centre.y]);
    let mut segments = Vec::new();
    let start = Point::new(from.cos(), from.sin());
    let whole = (sweep - tau).abs() < 1e-9;
    push_elements(&mut segments, start, unit.append_iter(ARC), whole.then_some(start));
    segments.into_iter().map(|s| map * s).collect()
}

/// Why a spline is not read.
pub(crate) enum SplineFault {
    /// It has points to pass through and no control points.
    OnlyPoints,
    /// Its numbers do not make a spline.
    Broken,
}

type Weighted = [f64; 3];

/// A spline by control points (x, y), weights (empty when all alike) and knots.
/// Degrees 1 to 3 without weights are exact; others are followed by cubics to
/// within a ten-millionth of their size.
pub(crate) fn spline(
    degree: usize,
    points: &[Point],
    weights: &[f64],
    knots: &[f64],
) -> Result<Vec<PathSeg>, SplineFault> {
    if points.is_empty() {
        return Err(SplineFault::OnlyPoints);
    }
    let weighted = weights.len() == points.len();
    let sound = (1..=MOST_DEGREE).contains(&degree)
        && points.len() > degree
        && knots.len() == points.len() + degree + 1
        && knots.windows(2).all(|w| w[0] <= w[1])
        && knots.iter().all(|k| k.is_finite())
        && (!weighted || weights.iter().all(|w| w.is_finite() && *w > 0.0));
    if !sound {
        return Err(SplineFault::Broken);
    }
    let control: Vec<Weighted> = points
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let w = if weighted { weights[i] } else { 1.0 };
            [p.x * w, p.y * w, w]
        })
        .collect();
    let plain = !weighted || weights.iter().all(|w| (w - weights[0]).abs() < 1e-12 * weights[0]);
    let mut segments = Vec::new();
    for k in degree..points.len() {
        let (a, b) = (knots[k], knots[k + 1]);
        if b <= a {
            continue;
        }
        let span: Vec<Weighted> = (0..=degree)
            .map(|j| blossom(degree, &control, knots, k, |r| if r <= degree - j { a } else { b }))
            .collect();
        if span.iter().flatten().any(|v| !v.is_finite()) {
            return Err(SplineFault::Broken);
        }
        add_span(&mut segments, &span, plain);
    }
    // The ends of neighbouring spans agree to rounding; they are made the same.
    for i in 1..segments.len() {
        let (before, after) = (segments[i - 1], segments[i]);
        let joint = super::loops::Ends::end_of(&before);
        let end = super::loops::Ends::end_of(&after);
        segments[i] = super::loops::with_ends(after, joint, end);
    }
    if segments.is_empty() { Err(SplineFault::Broken) } else { Ok(segments) }
}

/// The blossom of the span from knot `k` (L. Ramshaw, "Blossoms are polar
/// forms", 1989): de Boor's triangle with an argument for each level.
fn blossom(
    degree: usize,
    control: &[Weighted],
    knots: &[f64],
    k: usize,
    argument: impl Fn(usize) -> f64,
) -> Weighted {
    let mut d: Vec<Weighted> = (0..=degree).map(|j| control[k - degree + j]).collect();
    for r in 1..=degree {
        let u = argument(r);
        for j in (r..=degree).rev() {
            let i = k - degree + j;
            let (low, high) = (knots[i], knots[i + degree - r + 1]);
            let t = if high > low { (u - low) / (high - low) } else { 0.0 };
            d[j] = between(d[j - 1], d[j], t);
        }
    }
    d[degree]
}

fn between(a: Weighted, b: Weighted, t: f64) -> Weighted {
    [0, 1, 2].map(|c| (1.0 - t) * a[c] + t * b[c])
}

fn project(w: Weighted) -> Point {
    Point::new(w[0] / w[2], w[1] / w[2])
}

fn add_span(segments: &mut Vec<PathSeg>, span: &[Weighted], plain: bool) {
    let p: Vec<Point> = span.iter().map(|w| project(*w)).collect();
    match (plain, &p[..]) {
        (true, [a, b]) => segments.push(PathSeg::Line(Line::new(*a, *b))),
        (true, [a, b, c]) => segments.push(PathSeg::Quad(QuadBez::new(*a, *b, *c))),
        (true, [a, b, c, d]) => segments.push(PathSeg::Cubic(CubicBez::new(*a, *b, *c, *d))),
        _ => {
            let size = p.iter().map(|q| q.distance(p[0])).fold(0.0, f64::max);
            fit(segments, span, (0.0, 1.0), FITTED * size.max(1e-6), 0);
        }
    }
}

/// Place and derivative of a weighted Bézier span at `t`.
fn at(span: &[Weighted], t: f64) -> (Point, Vec2) {
    let n = span.len() - 1;
    let mut d = span.to_vec();
    for level in 0..n.saturating_sub(1) {
        for j in 0..n - level {
            d[j] = between(d[j], d[j + 1], t);
        }
    }
    let (a, b) = (d[0], d[1]);
    let mut w = [0.0; 3];
    let mut dw = [0.0; 3];
    for c in 0..3 {
        w[c] = (1.0 - t) * a[c] + t * b[c];
        dw[c] = n as f64 * (b[c] - a[c]);
    }
    let p = project(w);
    (p, Vec2::new(dw[0] - p.x * dw[2], dw[1] - p.y * dw[2]) / w[2])
}

fn fit(
    segments: &mut Vec<PathSeg>,
    span: &[Weighted],
    (a, b): (f64, f64),
    within: f64,
    halved: u32,
) {
    let ((p, dp), (q, dq)) = (at(span, a), at(span, b));
    let third = (b - a) / 3.0;
    let cubic = CubicBez::new(p, p + dp * third, q - dq * third, q);
    let off = |t: f64| {
        use kurbo::ParamCurve;
        cubic.eval(t).distance(at(span, a + (b - a) * t).0)
    };
    if halved >= HALVED || [0.25, 0.5, 0.75].into_iter().map(off).fold(0.0, f64::max) <= within {
        segments.push(PathSeg::Cubic(cubic));
        return;
    }
    let middle = (a + b) / 2.0;
    fit(segments, span, (a, middle), within, halved + 1);
    fit(segments, span, (middle, b), within, halved + 1);
}
