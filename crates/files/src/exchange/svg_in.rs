//! SVG in.

use super::svg_clean::{Clean, Group, Stood, clean};
use super::{ExchangeError, Found, Label, Role, Run};
use hangtrue_geometry::{Affine, BezPath, Chain, Line, PathEl, PathSeg, Point};
use hangtrue_pattern::units::INCH;

/// The pixel of CSS, mm.
const PIXEL: f64 = INCH / 96.0;

/// Segments shorter than this are dropped, in the file's numbers.
const NOTHING: f64 = 1e-9;

/// Reads an SVG. Places are in pixels of CSS, y up; `unit` is set when the file
/// says how large its page is.
pub(crate) fn read(bytes: &[u8]) -> Result<Found, ExchangeError> {
    if bytes.starts_with(&[0x1f, 0x8b]) {
        return Err(ExchangeError::NotSvg { why: "it is packed (svgz); unpack it first".into() });
    }
    let text = std::str::from_utf8(bytes)
        .map_err(|_| ExchangeError::NotSvg { why: "it is not text in UTF-8".into() })?;
    let mut found = Found::default();
    let Clean { text, mut stood, stated } = clean(text.trim_start_matches('\u{feff}'), &mut found)?;
    let options = usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(&text, &options)
        .map_err(|e| ExchangeError::NotSvg { why: e.to_string() })?;
    found.unit = stated.then_some(PIXEL);
    let mut seen = std::collections::HashSet::new();
    gather(tree.root(), &stood, &mut found, &mut seen);
    stood.retain(|number, _| !seen.contains(number));
    for one in stood.values() {
        found.lose(match one {
            Stood::Shape { .. } => "a hidden shape, or one kept only to be referred to",
            Stood::Words { .. } => "hidden words",
        });
    }
    Ok(found)
}

fn gather(
    group: &usvg::Group,
    stood: &std::collections::HashMap<usize, Stood>,
    found: &mut Found,
    seen: &mut std::collections::HashSet<usize>,
) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => gather(group, stood, found, seen),
            usvg::Node::Path(path) if path.is_visible() => {
                let number = path.stroke().and_then(|s| number_of(s.paint()));
                let Some((number, one)) = number.and_then(|n| Some((n, stood.get(&n)?))) else {
                    continue;
                };
                seen.insert(number);
                place(one, path.abs_transform(), found);
            }
            _ => {}
        }
    }
}

/// The number a stand-in carries as its colour.
fn number_of(paint: &usvg::Paint) -> Option<usize> {
    match paint {
        usvg::Paint::Color(c) => {
            Some(usize::from(c.red) << 16 | usize::from(c.green) << 8 | usize::from(c.blue))
        }
        _ => None,
    }
}

fn place(one: &Stood, at: usvg::Transform, found: &mut Found) {
    let c = [at.sx, at.ky, at.kx, at.sy, at.tx, at.ty].map(f64::from);
    // SVG counts y downwards.
    let to_up = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 0.0]) * Affine::new(c);
    match one {
        Stood::Words { text, at, groups } => found.labels.push(Label {
            text: text.clone(),
            at: to_up * *at,
            group: piece_of(groups),
        }),
        Stood::Shape { path, name, groups, seams } => {
            let layer = groups.iter().rev().find_map(|g| g.layer.clone());
            let role = role_of(layer.as_deref());
            let called = if name.is_empty() {
                groups.last().map(|g| g.name.clone()).unwrap_or_default()
            } else {
                name.clone()
            };
            let Some(role) = role else {
                let what = layer.unwrap_or_default();
                return found.lose(format!("a shape of the layer “{what}”, drawn to be looked at"));
            };
            for chain in chains(&(to_up * path.clone())) {
                found.runs.push(Run {
                    chain,
                    role,
                    name: called.clone(),
                    group: piece_of(groups),
                    seams: seams.clone(),
                });
            }
        }
    }
}

/// The piece a thing belongs to: by our own note, or, in a file of others, by no
/// group at all, since groups there mean anything.
fn piece_of(groups: &[Group]) -> String {
    groups.iter().find_map(|g| g.piece.clone()).unwrap_or_default()
}

/// What a layer of ours holds; none for what we draw only to be looked at.
fn role_of(layer: Option<&str>) -> Option<Role> {
    use crate::print::Layer;
    let Some(layer) = layer else { return Some(Role::Unsaid) };
    let is = |l: Layer| l.name() == layer;
    if is(Layer::Cut) {
        Some(Role::Boundary)
    } else if is(Layer::Sew) {
        Some(Role::Sew)
    } else if is(Layer::Grain) {
        Some(Role::Grain)
    } else if is(Layer::Notch) {
        Some(Role::Notch)
    } else if is(Layer::Dart) {
        Some(Role::Dart)
    } else if is(Layer::Inner) || is(Layer::Cloth) || is(Layer::Paper) {
        Some(Role::Inner)
    } else {
        None
    }
}

/// The runs of a path; each part that is closed comes back to its start.
fn chains(path: &BezPath) -> Vec<Chain> {
    let mut out = Vec::new();
    let mut segments: Vec<PathSeg> = Vec::new();
    let (mut at, mut start) = (Point::ORIGIN, Point::ORIGIN);
    let mut flush = |segments: &mut Vec<PathSeg>| {
        let taken = std::mem::take(segments);
        out.extend(Chain::new(taken).ok());
    };
    for &element in path.elements() {
        let segment = match element {
            PathEl::MoveTo(p) => {
                flush(&mut segments);
                (at, start) = (p, p);
                continue;
            }
            PathEl::LineTo(p) => PathSeg::Line(Line::new(at, p)),
            PathEl::QuadTo(a, p) => PathSeg::Quad(hangtrue_geometry::QuadBez::new(at, a, p)),
            PathEl::CurveTo(a, b, p) => {
                PathSeg::Cubic(hangtrue_geometry::CubicBez::new(at, a, b, p))
            }
            PathEl::ClosePath => PathSeg::Line(Line::new(at, start)),
        };
        at = super::loops::Ends::end_of(&segment);
        let straight = matches!(segment, PathSeg::Line(l) if l.p0.distance(l.p1) < NOTHING);
        if !straight {
            segments.push(segment);
        }
    }
    flush(&mut segments);
    out
}
