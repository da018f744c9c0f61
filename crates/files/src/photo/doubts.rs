//! Places of a traced outline that may not be the card's edge: what lies over the
//! edge, touches it, or was taken for the card. They are told, never decided: the
//! maker looks at them.

use super::edge::outward;
use super::ground::Ground;
use super::job::Place;
use super::outline::{OnEdge, Stretch};
use super::whereabouts::whereabouts;
use super::{Known, Picture, Tone};
use crate::median::median;
use hangtrue_geometry::places::{Corner, CornerLook, find_corners};
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use nalgebra::{SMatrix, SVector};

/// A place of the outline to look at before the piece is taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// Which photo, from 0.
    pub photo: usize,
    /// The stretch, or the one place, pixels.
    pub seen: Vec<Place>,
    /// Where and why.
    pub why: Words,
    /// How far the card's edge may lie from the line there, mm.
    pub off: f64,
    /// Which share of the outline it is.
    pub share: f64,
}

/// Colours are looked at so far from the edge, mm, and at least as many pixels.
const BESIDE: (f64, f64) = (1.5, 3.0);
/// A change of light by this part is a change of what lies there: on the card, and
/// beside it where shadows and the lines of a mat are (natural logarithms). Found
/// by trials of the tests.
const UNLIKE_CARD: f64 = 0.2;
const UNLIKE_GROUND: f64 = 0.45;
/// So many times the usual spread of them too.
const SPREADS: f64 = 5.0;
/// An edge with less than this share of the usual contrast is doubtful.
const FAINT: f64 = 0.35;
/// What is shorter than this along the edge is not told, mm and pixels.
const SHORT: (f64, f64) = (1.5, 3.0);
/// The same for what lies beside the card, mm.
const SHORT_BESIDE: f64 = 5.0;
/// Doubtful places nearer to each other than this are one stretch, mm.
const NEAR: f64 = 8.0;
/// A hole of more than this between places of the edge is told, mm and pixels.
const HOLE: (f64, f64) = (5.0, 9.0);
/// An outline that comes back to its line within this has gone round something, mm.
const ROUND: f64 = 190.0;
/// By how much it must have left it, mm.
const LEFT: f64 = 2.0;
/// A mark may lie so far inside of the outline, mm.
const INSIDE: f64 = 3.0;
/// How far an edge that goes on past a corner is looked for, mm.
const GOES_ON: f64 = 14.0;
/// How much light changes across an edge that goes on (natural logarithm).
const GOES_ON_BY: f64 = 0.09;
/// How many doubts are told one by one.
const MOST: usize = 12;

/// The doubts about what one photo shows of the outline.
pub(crate) fn doubts(
    picture: &Picture,
    (photo, known): (usize, &Known),
    ground: &Ground,
    stretches: &[Stretch],
) -> Vec<Doubt> {
    let mut all = Vec::new();
    for stretch in stretches.iter().filter(|s| s.places.len() >= 40) {
        let Some(edge) = Beside::of(picture, (ground, known), stretch) else { continue };
        let mut found: Vec<Suspect> = marks_inside(&edge, known, ground).into_iter().collect();
        found.extend(unlike(&edge));
        found.extend(holes(&edge));
        let corners = corners(&edge);
        found.extend(gone_round(&edge, &corners));
        found.extend(going_on(picture, &edge, &corners));
        found.extend(inside_unlike(&edge));
        all.extend(found.into_iter().map(|f| f.told(photo, &edge)));
    }
    all.sort_by(|a: &Doubt, b| b.off.total_cmp(&a.off));
    all.truncate(MOST);
    all
}

/// A doubt while it is looked for.
struct Suspect {
    from: usize,
    to: usize,
    at: Option<Point>,
    why: &'static str,
    off: f64,
}

impl Suspect {
    fn told(self, photo: usize, edge: &Beside) -> Doubt {
        let n = edge.places.len();
        let count = (self.to + n - self.from) % n + 1;
        let seen: Vec<Point> = match self.at {
            Some(at) => vec![at],
            None => (0..count).map(|i| edge.places[(self.from + i) % n].seen).collect(),
        };
        let middle = self.at.unwrap_or_else(|| seen[seen.len() / 2]);
        let share = if self.at.is_some() { 1.0 } else { count as f64 / n as f64 };
        let place = whereabouts(middle, edge.size);
        let why = words![
            place,
            ": ",
            self.why,
            "; the card's edge may be ",
            Length(self.off),
            " from the line there"
        ];
        Doubt { photo, seen: seen.iter().map(|p| (p.x, p.y)).collect(), why, off: self.off, share }
    }
}

type Colour = [f64; 3];

/// The edge with the colours to both sides of it.
struct Beside<'a> {
    places: &'a [OnEdge],
    closed: bool,
    size: (f64, f64),
    /// How much each place differs from the card's own colour, inside of the edge,
    /// and from what lies round it, outside (natural logarithms).
    inner: Vec<Colour>,
    outer: Vec<Colour>,
    card_spread: Colour,
    /// How the ground round the card usually differs from it.
    usual: Colour,
    /// Pixels to a mm.
    scale: f64,
    /// Places within the outline, pixels, and how they differ from the card.
    within: Vec<(Point, Colour)>,
}

const PURE: [Tone; 3] = [Tone([1.0, 0.0, 0.0]), Tone([0.0, 1.0, 0.0]), Tone([0.0, 0.0, 1.0])];

fn colour(picture: &Picture, at: Point) -> Colour {
    /// Darker than this all is noise.
    const DARK: f64 = 0.02;
    PURE.map(|tone| (f64::from(picture.light_at(tone, at)) + DARK).ln())
}

fn middle(of: impl Iterator<Item = f64>) -> f64 {
    median(&mut of.collect::<Vec<f64>>()).unwrap_or(0.0)
}

/// Whether a place lies on a line of a known mat.
fn on_line(ground: &Ground, known: &Known, seen: Point) -> bool {
    /// Half of how broad a line may look, mm.
    const LINE: f64 = 1.6;
    let Known::Grid { pitch, .. } = known else { return false };
    ground.camera.to_plane(seen).is_some_and(|p| {
        let line = LINE.max(ground.camera.scale_at(p).map_or(0.0, |s| 2.0 / s));
        let off = |v: f64| (v - (v / pitch).round() * pitch).abs();
        *pitch > 4.0 * line && (off(p.x) < line || off(p.y) < line)
    })
}

fn unlikeness(of: Colour) -> f64 {
    of.iter().fold(0.0, |a: f64, v| a.max(v.abs()))
}

impl<'a> Beside<'a> {
    fn of(
        picture: &Picture,
        (ground, known): (&Ground, &Known),
        stretch: &'a Stretch,
    ) -> Option<Self> {
        let places = stretch.places.as_slice();
        let n = places.len();
        let seen: Vec<Point> = places.iter().map(|p| p.seen).collect();
        let out = outward(&seen, stretch.closed);
        let scale = middle(
            places
                .iter()
                .step_by(20)
                .filter_map(|p| ground.camera.scale_at(ground.camera.to_plane(p.seen)?)),
        );
        let off = (BESIDE.0 * scale).max(BESIDE.1);
        let beside = |i: usize, way: f64| -> Colour {
            let at = |k: f64| colour(picture, seen[i] + out[i] * (way * off * k));
            let all = [at(1.0), at(1.4), at(1.8)];
            std::array::from_fn(|c| all.iter().map(|v| v[c]).sum::<f64>() / 3.0)
        };
        let size = (picture.width() as f64, picture.height() as f64);
        let scaled = |p: Point| (p.x / size.0 * 2.0 - 1.0, p.y / size.1 * 2.0 - 1.0);
        let inner: Vec<Colour> = (0..n).map(|i| beside(i, -1.0)).collect();
        // The lines of a mat run along the edge: the middle of five does not see one.
        let ground_at = |i: usize| -> Colour {
            let at = [1.0, 1.5, 2.0, 2.5, 3.0].map(|k| seen[i] + out[i] * (off * k));
            let all: Vec<Colour> = at
                .iter()
                .filter(|p| !on_line(ground, known, **p))
                .map(|p| colour(picture, *p))
                .collect();
            // Where all of them lie on lines nothing is told.
            let of =
                |c: usize| if all.len() < 2 { f64::NAN } else { middle(all.iter().map(|v| v[c])) };
            std::array::from_fn(of)
        };
        let outer: Vec<Colour> = (0..n).map(ground_at).collect();
        let within: Vec<(Point, Colour)> = if stretch.closed {
            grid_within(&seen, 2.5 * off).into_iter().map(|p| (p, colour(picture, p))).collect()
        } else {
            Vec::new()
        };
        // A card known only by its edge is told by that.
        let mut own = within.clone();
        if own.len() < 60 {
            own.extend(seen.iter().copied().zip(inner.iter().copied()));
        }
        let card: Vec<Bowed> = (0..3)
            .map(|c| Bowed::of(&own.iter().map(|(p, v)| (scaled(*p), v[c])).collect::<Vec<_>>()))
            .collect::<Option<_>>()?;
        let less = |v: Colour, p: Point| -> Colour {
            std::array::from_fn(|c| v[c] - card[c].at(scaled(p)))
        };
        let along = (SHORT.0 * scale / 1.2 / 2.0).max(1.0) as i64;
        let inner: Vec<Colour> = inner.iter().zip(&seen).map(|(v, p)| less(*v, *p)).collect();
        let outer: Vec<Colour> = outer.iter().zip(&seen).map(|(v, p)| less(*v, *p)).collect();
        let usual: Colour =
            std::array::from_fn(|c| middle(outer.iter().map(|v| v[c]).filter(|v| v.is_finite())));
        let outer: Vec<Colour> = outer
            .iter()
            .map(|v| std::array::from_fn(|c| if v[c].is_finite() { v[c] - usual[c] } else { 0.0 }))
            .collect();
        Some(Self {
            places,
            closed: stretch.closed,
            size,
            inner: quieted(&inner, along),
            outer: quieted(&outer, along),
            usual,
            card_spread: std::array::from_fn(|c| card[c].spread),
            scale,
            within: within.into_iter().map(|(p, v)| (p, less(v, p))).collect(),
        })
        .filter(|b| b.scale > 0.0 && unlikeness(usual) > 0.0)
    }

    fn at(&self, i: usize) -> Point {
        self.places[i % self.places.len()].at
    }

    /// How far the line between two places leaves the chord, mm.
    fn leaves(&self, from: usize, to: usize) -> f64 {
        let n = self.places.len();
        let (a, b) = (self.at(from), self.at(to));
        let count = (to + n - from) % n;
        (0..=count)
            .map(|i| {
                let p = self.at(from + i);
                let t = (p - a).dot(b - a) / (b - a).hypot2().max(1e-9);
                p.distance(a.lerp(b, t.clamp(0.0, 1.0)))
            })
            .fold(0.0, f64::max)
    }

    /// Runs of places that are doubtful, joined where they are near, and long
    /// enough to be told.
    fn runs(&self, doubtful: &[bool], short: f64) -> Vec<(usize, usize)> {
        let n = doubtful.len();
        let mut runs: Vec<(usize, usize)> = Vec::new();
        let short = short.max(SHORT.1 / self.scale);
        for i in (0..n).filter(|&i| doubtful[i]) {
            match runs.last_mut() {
                Some(last) if self.at(last.1).distance(self.at(i)) < NEAR => last.1 = i,
                _ => runs.push((i, i)),
            }
        }
        if self.closed && runs.len() > 1 {
            let (first, last) = (runs[0], runs[runs.len() - 1]);
            if self.at(last.1).distance(self.at(first.0)) < NEAR {
                runs.pop();
                runs[0].0 = last.0;
            }
        }
        let long = |r: &(usize, usize)| {
            let count = (r.1 + n - r.0) % n + 1;
            let on = (0..count).filter(|k| doubtful[(r.0 + k) % n]).count() as f64;
            on * 1.2 / self.scale >= short
        };
        runs.retain(long);
        runs
    }

    /// A run with somewhat more to both sides, and how far off it may be: as far as
    /// it leaves the straight way, or a quarter of its length.
    fn found(&self, (from, to): (usize, usize), why: &'static str) -> Suspect {
        let n = self.places.len();
        let more = ((6.0 * self.scale / 1.2) as usize).clamp(2, n / 8);
        let (wide_from, wide_to) = if self.closed {
            ((from + n - more) % n, (to + more) % n)
        } else {
            (from.saturating_sub(more), (to + more).min(n - 1))
        };
        let long = self.at(from).distance(self.at(to));
        let off = self.leaves(wide_from, wide_to).max(long / 4.0).max(1.5);
        Suspect { from, to, at: None, why, off }
    }
}

/// The middle of each place and its neighbours.
fn quieted(of: &[Colour], around: i64) -> Vec<Colour> {
    let n = of.len() as i64;
    let near = |i: i64, c: usize| {
        middle((i - around..=i + around).map(|k| of[k.rem_euclid(n) as usize][c]))
    };
    (0..n).map(|i| std::array::from_fn(|c| near(i, c))).collect()
}

/// Even places within a closed line, and not near it.
fn grid_within(line: &[Point], clear: f64) -> Vec<Point> {
    const ACROSS: f64 = 45.0;
    let coarse: Vec<Point> = line.iter().copied().step_by(4).collect();
    let bounds = |f: fn(&Point) -> f64| {
        let all = coarse.iter().map(f);
        (all.clone().fold(f64::INFINITY, f64::min), all.fold(f64::NEG_INFINITY, f64::max))
    };
    let ((x0, x1), (y0, y1)) = (bounds(|p| p.x), bounds(|p| p.y));
    let step = ((x1 - x0).max(y1 - y0) / ACROSS).max(1.0);
    let (nx, ny) = (((x1 - x0) / step) as usize, ((y1 - y0) / step) as usize);
    (0..nx * ny.max(1))
        .map(|i| {
            let (i, k) = ((i % nx) as f64, (i / nx) as f64);
            Point::new(x0 + (i + 0.5) * step, y0 + (k + 0.5) * step)
        })
        .filter(|p| holds(&coarse, *p) && coarse.iter().all(|q| q.distance(*p) > clear))
        .collect()
}

/// Whether a closed line goes round a place.
pub(super) fn holds(line: &[Point], p: Point) -> bool {
    let mut inside = false;
    for (i, a) in line.iter().enumerate() {
        let b = line[(i + 1) % line.len()];
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            inside = !inside;
        }
    }
    inside
}

/// A surface of second degree through most of the values.
struct Bowed {
    terms: SVector<f64, 6>,
    spread: f64,
}

impl Bowed {
    fn row((x, y): (f64, f64)) -> SVector<f64, 6> {
        SVector::from([1.0, x, y, x * x, x * y, y * y])
    }

    fn at(&self, place: (f64, f64)) -> f64 {
        self.terms.dot(&Self::row(place))
    }

    fn of(values: &[((f64, f64), f64)]) -> Option<Self> {
        let mut own = Self { terms: SVector::zeros(), spread: 0.0 };
        own.terms[0] = middle(values.iter().map(|v| v.1));
        own.spread = (1.4826 * middle(values.iter().map(|v| (v.1 - own.terms[0]).abs()))).max(0.05);
        for _ in 0..12 {
            let mut a = SMatrix::<f64, 6, 6>::identity() * 1e-6;
            let mut b = SVector::<f64, 6>::zeros();
            for (place, value) in values {
                let row = Self::row(*place);
                // Tukey's biweight (memory): what sticks out has no weight.
                let off = (value - own.at(*place)) / own.spread / 4.7;
                let weight = if off.abs() < 1.0 { (1.0 - off * off).powi(2) } else { 0.0 };
                a += row * row.transpose() * weight;
                b += row * (value * weight);
            }
            own.terms = a.cholesky()?.solve(&b);
            own.spread =
                (1.4826 * middle(values.iter().map(|v| (v.1 - own.at(v.0)).abs()))).max(0.005);
        }
        Some(own)
    }
}

/// A crossing seen inside the outline is not hidden by a card; the corner of the
/// known sheet on the outline is one of the sheet.
fn marks_inside(edge: &Beside, known: &Known, ground: &Ground) -> Option<Suspect> {
    if !edge.closed {
        return None;
    }
    let line: Vec<Point> = edge.places.iter().map(|p| p.at).collect();
    let inside = |at: Point| {
        let near = line.iter().map(|p| p.distance(at)).fold(f64::INFINITY, f64::min);
        match known {
            Known::Grid { .. } => near > INSIDE.max(3.0 / edge.scale) && holds(&line, at),
            _ => near < INSIDE || holds(&line, at),
        }
    };
    // Laid as the outline is: both on the photo's own table.
    let mark = ground.marks.iter().find(|m| ground.camera.to_plane(m.seen).is_some_and(inside))?;
    let (a, b) = line.iter().fold((line[0], line[0]), |(a, b), p| {
        (Point::new(a.x.min(p.x), a.y.min(p.y)), Point::new(b.x.max(p.x), b.y.max(p.y)))
    });
    Some(Suspect {
        from: 0,
        to: line.len() - 1,
        at: Some(mark.seen),
        why: "a mark of the known size lies inside the outline or on it, where the card would hide it, so the line may go round something else than the card",
        off: a.distance(b),
    })
}

/// Stretches beside which lies something else than the card, or than what lies
/// round it elsewhere, and stretches where the two hardly differ.
fn unlike(edge: &Beside) -> Vec<Suspect> {
    let usual: Colour =
        std::array::from_fn(|c| 1.4826 * middle(edge.outer.iter().map(|v| v[c].abs())));
    let over = |v: &Colour, least: f64, spread: &Colour| {
        (0..3).any(|c| v[c].abs() > least.max(SPREADS * spread[c]))
    };
    let inner: Vec<bool> =
        edge.inner.iter().map(|v| over(v, UNLIKE_CARD, &edge.card_spread)).collect();
    let outer: Vec<bool> = edge.outer.iter().map(|v| over(v, UNLIKE_GROUND, &usual)).collect();
    let mut found: Vec<Suspect> = edge
        .runs(&inner, SHORT.0)
        .into_iter()
        .map(|r| edge.found(r, "inside the line lies something of another colour than the card"))
        .collect();
    found.extend(edge.runs(&outer, SHORT_BESIDE).into_iter().map(|r| {
        edge.found(r, "beside the card lies something else than elsewhere, perhaps over its edge")
    }));
    let contrast = |i: usize| {
        let of = |c: usize| (edge.outer[i][c] + edge.usual[c] - edge.inner[i][c]).abs();
        of(0).max(of(1)).max(of(2))
    };
    let all: Vec<f64> = (0..edge.places.len()).map(contrast).collect();
    let clear = middle(all.iter().copied());
    let faint: Vec<bool> = all.iter().map(|v| *v < FAINT * clear).collect();
    found.extend(
        edge.runs(&faint, SHORT_BESIDE)
            .into_iter()
            .map(|r| edge.found(r, "card and ground hardly differ here")),
    );
    found
}

/// Stretches where no edge was seen.
fn holes(edge: &Beside) -> Vec<Suspect> {
    let n = edge.places.len();
    let most = HOLE.0.max(HOLE.1 / edge.scale);
    let last = if edge.closed { n } else { n - 1 };
    (0..last)
        .map(|i| (i, (i + 1) % n))
        .filter(|(a, b)| edge.at(*a).distance(edge.at(*b)) > most)
        .map(|run| edge.found(run, "no edge is seen here"))
        .collect()
}

fn corners(edge: &Beside) -> Vec<Corner> {
    let line: Vec<Point> = edge.places.iter().map(|p| p.at).collect();
    let gap = (3.3 / edge.scale).clamp(1.0, 8.0);
    find_corners(&line, edge.closed, CornerLook { turn: 0.35, arm: gap + 10.0, gap })
}

/// The outline leaves its line and comes back to it, as round a thing that lies over
/// the edge or touches it.
fn gone_round(edge: &Beside, corners: &[Corner]) -> Vec<Suspect> {
    /// How well both lines must be one, radians.
    const ALIGNED: f64 = 0.21;
    let mut found = Vec::new();
    let n = corners.len();
    for i in 0..n {
        for k in 1..n.min(8) {
            let (a, b) = (&corners[i], &corners[(i + k) % n]);
            let chord = b.at - a.at;
            if chord.hypot() > ROUND || chord.hypot() < 1.0 {
                continue;
            }
            let turn = |v: Vec2| v.cross(chord).atan2(v.dot(chord)).abs();
            let off = edge.leaves(a.index, b.index);
            let aligned = ALIGNED + (3.0 / chord.hypot()).min(0.15);
            if turn(a.arrives) < aligned && turn(b.leaves) < aligned && off > LEFT {
                found.push(Suspect {
                    from: a.index,
                    to: b.index,
                    at: None,
                    why: "the line leaves the edge and comes back to it, as round something that lies on it or touches it",
                    off: off + 2.0,
                });
            }
        }
    }
    found
}

/// At a true corner of a card no edge goes on straight.
fn going_on(picture: &Picture, edge: &Beside, corners: &[Corner]) -> Vec<Suspect> {
    let n = edge.places.len();
    let line: Vec<Point> = edge.places.iter().map(|p| p.seen).collect();
    let mut found = Vec::new();
    for (k, corner) in corners.iter().enumerate() {
        let at = |i: usize| edge.places[i % n].seen;
        let back = (10.0 * edge.scale / 1.2).max(8.0) as usize;
        let gap = 4;
        let i = corner.index + n;
        let ways = [(at(i - back), at(i - gap)), (at(i + back), at(i + gap))];
        let goes = ways.iter().any(|(from, to)| {
            let way = *to - *from;
            let inward = holds(&line, *to + way.normalize() * (16.0 + 6.0 * edge.scale));
            way.hypot() > 1.0 && goes_on(picture, edge.scale, (*to, way.normalize()), inward)
        });
        if goes {
            let other = |j: usize| corners[j % corners.len()].at.distance(corner.at);
            let off = other(k + 1).max(other(k + corners.len() - 1));
            let step = (3.0 * edge.scale).max(3.0) as usize;
            let (from, to) = ((i - step) % n, (i + step) % n);
            let why =
                "an edge goes on straight past the corner of the line, as where two things meet";
            found.push(Suspect { from, to, at: None, why, off });
        }
    }
    found
}

/// Whether light changes across all along the way on, or within the outline a line
/// runs there: outside it may be one of the mat.
fn goes_on(picture: &Picture, scale: f64, (from, way): (Point, Vec2), inward: bool) -> bool {
    const TRIED: [f64; 5] = [-0.06, -0.03, 0.0, 0.03, 0.06];
    let start = (6.0_f64).max(2.5 * scale) + 4.0;
    let long = (GOES_ON * scale).max(10.0);
    let count = (long / 1.2) as usize;
    let grey = |p: Point| colour(picture, p)[1];
    TRIED.iter().any(|turn| {
        let way = hangtrue_geometry::turned(way, *turn);
        let across = Vec2::new(-way.y, way.x);
        (-2..=2).any(|shift| {
            let shift = f64::from(shift);
            let (mut line, mut step) = (Vec::new(), Vec::new());
            for k in 0..count {
                let p = from + way * (start + 1.2 * k as f64) + across * shift;
                if !picture.holds(p, 8.0) {
                    return false;
                }
                let (a, b) = (grey(p + across * 3.5), grey(p - across * 3.5));
                line.push(grey(p) - (a + b) / 2.0);
                let near = grey(p + across * 2.0) - grey(p - across * 2.0);
                let far = grey(p + across * 5.0) - grey(p - across * 5.0);
                // A line has but one of the two.
                let both = if near * far > 0.0 { near.abs().min(far.abs()) } else { 0.0 };
                step.push(both * near.signum());
            }
            let clear = |of: &[f64]| {
                let mean = of.iter().sum::<f64>() / of.len().max(1) as f64;
                let same = of.iter().filter(|v| **v * mean > 0.3 * mean * mean).count();
                mean.abs() > GOES_ON_BY && same * 10 >= of.len() * 9 && of.len() * 2 > count
            };
            (inward && clear(&line)) || clear(&step)
        })
    })
}

/// More of what lies within the outline is unlike the card than writing is.
fn inside_unlike(edge: &Beside) -> Option<Suspect> {
    const MUCH: f64 = 0.05;
    let other: Vec<Point> = edge
        .within
        .iter()
        .filter(|(_, v)| (0..3).any(|c| v[c].abs() > UNLIKE_CARD.max(6.0 * edge.card_spread[c])))
        .map(|w| w.0)
        .collect();
    if other.len() < 5 || (other.len() as f64) < MUCH * edge.within.len() as f64 {
        return None;
    }
    let n = edge.places.len();
    Some(Suspect {
        from: 0,
        to: n - 1,
        at: Some(other[other.len() / 2]),
        why: "much inside the line has another colour than the rest of the card, so it may be something else that touches it",
        off: edge.leaves(0, n / 2).max(edge.leaves(n / 2, 0)),
    })
}
