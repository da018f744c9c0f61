//! The basic shapes of SVG as curves, in the file's own numbers (SVG 2, § 9 and
//! § 10). Arcs are drawn by cubics to a millionth of their size.

use hangtrue_geometry::{BezPath, Point, Vec2};
use kurbo::{Arc, PathEl, Shape, SvgArc};
use roxmltree::Node;
use svgtypes::{Length, LengthUnit, PathParser, PathSegment, PointsParser};

/// Cubics follow an arc to within this part of its radius.
const ARC: f64 = 1e-7;

/// A length in pixels of CSS; none for a share or a size of letters.
pub(crate) fn length(text: &str) -> Option<f64> {
    use std::str::FromStr;
    let first = text.split([' ', ',']).find(|t| !t.is_empty())?;
    let length = Length::from_str(first).ok()?;
    let inch = 96.0;
    let value = match length.unit {
        LengthUnit::None | LengthUnit::Px => length.number,
        LengthUnit::In => length.number * inch,
        LengthUnit::Cm => length.number * inch / 2.54,
        LengthUnit::Mm => length.number * inch / 25.4,
        LengthUnit::Pt => length.number * inch / 72.0,
        LengthUnit::Pc => length.number * inch / 6.0,
        _ => return None,
    };
    value.is_finite().then_some(value)
}

/// The shape of an element.
pub(crate) fn shape_of(node: Node) -> Result<BezPath, String> {
    let number = |name: &str| -> Result<f64, String> {
        match node.attribute(name) {
            None => Ok(0.0),
            Some(text) => {
                length(text).ok_or_else(|| "a shape sized as a share of the page".to_owned())
            }
        }
    };
    let path = match node.tag_name().name() {
        "path" => read_path(node.attribute("d").unwrap_or_default())?,
        "line" => {
            let mut path = BezPath::new();
            path.move_to((number("x1")?, number("y1")?));
            path.line_to((number("x2")?, number("y2")?));
            path
        }
        "polyline" | "polygon" => {
            let points = PointsParser::from(node.attribute("points").unwrap_or_default());
            let mut path = BezPath::new();
            for (index, point) in points.enumerate() {
                if index == 0 { path.move_to(point) } else { path.line_to(point) }
            }
            if node.tag_name().name() == "polygon" && !path.elements().is_empty() {
                path.close_path();
            }
            path
        }
        "circle" => {
            let r = number("r")?;
            ellipse(Point::new(number("cx")?, number("cy")?), Vec2::new(r, r))
        }
        "ellipse" => ellipse(
            Point::new(number("cx")?, number("cy")?),
            Vec2::new(number("rx")?, number("ry")?),
        ),
        _ => {
            let corner = Point::new(number("x")?, number("y")?);
            let size = Vec2::new(number("width")?, number("height")?);
            let round = (number("rx")?, number("ry")?);
            rectangle(corner, size, round)
        }
    };
    if path.is_finite() { Ok(path) } else { Err("a shape with a place that is no number".into()) }
}

fn ellipse(centre: Point, radii: Vec2) -> BezPath {
    if radii.x <= 0.0 || radii.y <= 0.0 {
        return BezPath::new();
    }
    let arc = Arc::new(centre, radii, 0.0, std::f64::consts::TAU, 0.0);
    let mut path = arc.to_path(ARC * radii.x.max(radii.y));
    path.close_path();
    path
}

fn rectangle(corner: Point, size: Vec2, round: (f64, f64)) -> BezPath {
    let mut path = BezPath::new();
    if size.x <= 0.0 || size.y <= 0.0 {
        return path;
    }
    let one = |a: f64, b: f64| if a > 0.0 { a } else { b };
    let rx = one(round.0, round.1).clamp(0.0, size.x / 2.0);
    let ry = one(round.1, round.0).clamp(0.0, size.y / 2.0);
    let (x0, y0, x1, y1) = (corner.x, corner.y, corner.x + size.x, corner.y + size.y);
    path.move_to((x0 + rx, y0));
    let mut side = |to: Point, round_to: Point| {
        path.line_to(to);
        if rx > 0.0 && ry > 0.0 {
            arc_to(&mut path, to, round_to, Vec2::new(rx, ry), 0.0, false, true);
        }
    };
    side(Point::new(x1 - rx, y0), Point::new(x1, y0 + ry));
    side(Point::new(x1, y1 - ry), Point::new(x1 - rx, y1));
    side(Point::new(x0 + rx, y1), Point::new(x0, y1 - ry));
    side(Point::new(x0, y0 + ry), Point::new(x0 + rx, y0));
    path.close_path();
    path
}

fn arc_to(
    path: &mut BezPath,
    from: Point,
    to: Point,
    radii: Vec2,
    turned: f64,
    large_arc: bool,
    sweep: bool,
) {
    let arc = SvgArc { from, to, radii, x_rotation: turned, large_arc, sweep };
    match Arc::from_svg_arc(&arc) {
        Some(arc) if from != to => {
            let size = arc.radii.x.abs().max(arc.radii.y.abs());
            let mut elements: Vec<PathEl> = arc.append_iter(ARC * size).collect();
            // The arc ends where the file says, to the last figure.
            if let Some(PathEl::CurveTo(_, _, end)) = elements.last_mut() {
                *end = to;
            }
            for element in elements {
                path.push(element);
            }
        }
        _ => path.line_to(to),
    }
}

/// The path data; a path broken off is read up to the fault, as SVG 2 § 9.5.4 asks.
fn read_path(text: &str) -> Result<BezPath, String> {
    let mut path = BezPath::new();
    let (mut at, mut start) = (Point::ORIGIN, Point::ORIGIN);
    // The last control point, for smooth curves: cubic, quadratic.
    let (mut cubic, mut quad): (Option<Point>, Option<Point>) = (None, None);
    for segment in PathParser::from(text) {
        let Ok(segment) = segment else { break };
        let from = at;
        let place = |abs: bool, x: f64, y: f64| {
            if abs { Point::new(x, y) } else { from + Vec2::new(x, y) }
        };
        let mirrored = |p: Option<Point>| p.map_or(from, |p| from + (from - p));
        let (mut next_cubic, mut next_quad) = (None, None);
        if path.elements().is_empty() && !matches!(segment, PathSegment::MoveTo { .. }) {
            return Err("a path without a start".into());
        }
        if matches!(path.elements().last(), Some(PathEl::ClosePath))
            && !matches!(segment, PathSegment::MoveTo { .. } | PathSegment::ClosePath { .. })
        {
            path.move_to(start);
        }
        match segment {
            PathSegment::MoveTo { abs, x, y } => {
                at = place(abs, x, y);
                start = at;
                path.move_to(at);
            }
            PathSegment::LineTo { abs, x, y } => {
                at = place(abs, x, y);
                path.line_to(at);
            }
            PathSegment::HorizontalLineTo { abs, x } => {
                at.x = if abs { x } else { at.x + x };
                path.line_to(at);
            }
            PathSegment::VerticalLineTo { abs, y } => {
                at.y = if abs { y } else { at.y + y };
                path.line_to(at);
            }
            PathSegment::CurveTo { abs, x1, y1, x2, y2, x, y } => {
                at = place(abs, x, y);
                next_cubic = Some(place(abs, x2, y2));
                path.curve_to(place(abs, x1, y1), place(abs, x2, y2), at);
            }
            PathSegment::SmoothCurveTo { abs, x2, y2, x, y } => {
                at = place(abs, x, y);
                next_cubic = Some(place(abs, x2, y2));
                path.curve_to(mirrored(cubic), place(abs, x2, y2), at);
            }
            PathSegment::Quadratic { abs, x1, y1, x, y } => {
                at = place(abs, x, y);
                next_quad = Some(place(abs, x1, y1));
                path.quad_to(place(abs, x1, y1), at);
            }
            PathSegment::SmoothQuadratic { abs, x, y } => {
                at = place(abs, x, y);
                next_quad = Some(mirrored(quad));
                path.quad_to(mirrored(quad), at);
            }
            PathSegment::EllipticalArc { abs, rx, ry, x_axis_rotation, large_arc, sweep, x, y } => {
                at = place(abs, x, y);
                let radii = Vec2::new(rx.abs(), ry.abs());
                let turned = x_axis_rotation.to_radians();
                arc_to(&mut path, from, at, radii, turned, large_arc, sweep);
            }
            PathSegment::ClosePath { .. } => {
                at = start;
                path.close_path();
            }
        }
        (cubic, quad) = (next_cubic, next_quad);
    }
    Ok(path)
}
