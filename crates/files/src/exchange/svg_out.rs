//! SVG out: true mm, curves as curves, a group for each piece and each layer.

use super::seam_names::note_of;
use super::svg_clean::escaped;
use super::{ExchangeError, SendOptions};
use crate::print::piece_scenes;
use crate::print::{Anchor, Dash, DrawOptions, Ink, Item, Layer, Mark, Pen, Scene, Weight, Words};
use hangtrue_cut::seam_with_caps;
use hangtrue_geometry::{BezPath, PathEl, Point, Rect, Vec2};
use hangtrue_pattern::{Pattern, Piece};
use std::fmt::Write;

/// White round the drawing, mm.
const EDGE: f64 = 10.0;
/// Between two pieces, mm.
const GAP: f64 = 20.0;

/// The layers from below to above.
const LAYERS: [Layer; 10] = [
    Layer::Earlier,
    Layer::Cut,
    Layer::Sew,
    Layer::Dart,
    Layer::Notch,
    Layer::Cloth,
    Layer::Paper,
    Layer::Inner,
    Layer::Grain,
    Layer::Label,
];

/// The pattern as SVG: width and height in mm, a view box in mm, the pieces side
/// by side. What could not be drawn is added to the notes.
///
/// # Errors
/// [`ExchangeError::Print`] when a piece cannot be drawn.
pub fn svg_of(
    pattern: &Pattern,
    options: &SendOptions,
) -> Result<(String, Vec<String>), ExchangeError> {
    let draw = DrawOptions {
        allowance: options.allowance.clone(),
        set: options.set,
        label: std::iter::once(options.size.clone())
            .chain(options.label.iter().cloned())
            .filter(|l| !l.is_empty())
            .collect(),
        ..DrawOptions::default()
    };
    let scenes = piece_scenes(pattern, &draw)?;
    let mut bodies = String::new();
    let mut notes = Vec::new();
    let (mut x, mut height) = (EDGE, 0.0f64);
    for (index, (piece, scene)) in pattern.pieces.iter().zip(&scenes).enumerate() {
        let bounds = scene.bounds().unwrap_or(Rect::ZERO);
        let to_page = Page { left: bounds.x0 - x, top: bounds.y1 + EDGE };
        write_piece(&mut bodies, index, piece, scene, options, to_page)?;
        x += bounds.width() + GAP;
        height = height.max(bounds.height());
        notes.extend(scene.notes.iter().cloned());
    }
    let (width, height) = (x - GAP + EDGE, height + 2.0 * EDGE);
    Ok((whole((width, height), &options.title, &bodies), notes))
}

fn whole((width, height): (f64, f64), title: &str, bodies: &str) -> String {
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let (w, h) = (Number(width), Number(height));
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" fill=\"none\">\n<title>{}</title>\n{bodies}</svg>",
        escaped(title)
    );
    out
}

/// Drawings that lie in one plane as SVG, each a group of its name, the lowest first.
pub(crate) fn svg_of_scenes(groups: &[(String, Scene)], title: &str) -> String {
    let bounds = groups.iter().filter_map(|(_, scene)| scene.bounds());
    let bounds = bounds.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let page = Page { left: bounds.x0 - EDGE, top: bounds.y1 + EDGE };
    let mut bodies = String::new();
    for (index, (name, scene)) in groups.iter().enumerate() {
        let name = escaped(name);
        let _ = writeln!(bodies, "<g id=\"group-{}\">\n<title>{name}</title>", index + 1);
        scene.items.iter().for_each(|item| write_mark(&mut bodies, &item.mark, None, page));
        bodies.push_str("</g>\n");
    }
    whole((bounds.width() + 2.0 * EDGE, bounds.height() + 2.0 * EDGE), title, &bodies)
}

/// From the drawing (y up) to the page (y down), mm.
#[derive(Clone, Copy)]
struct Page {
    left: f64,
    top: f64,
}

impl Page {
    fn at(self, p: Point) -> OnPage {
        OnPage(p.x - self.left, self.top - p.y)
    }
}

struct OnPage(f64, f64);

impl std::fmt::Display for OnPage {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", Number(self.0), Number(self.1))
    }
}

/// A length to a millionth of a mm, without idle noughts.
struct Number(f64);

impl std::fmt::Display for Number {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let text = format!("{:.6}", self.0);
        let text = text.trim_end_matches('0').trim_end_matches('.');
        f.write_str(if text == "-0" { "0" } else { text })
    }
}

fn write_piece(
    out: &mut String,
    index: usize,
    piece: &Piece,
    scene: &Scene,
    options: &SendOptions,
    page: Page,
) -> Result<(), ExchangeError> {
    let name = escaped(&piece.name);
    let _ = writeln!(out, "<g id=\"piece-{}\" data-piece=\"{name}\">", index + 1);
    let _ = writeln!(out, "<title>{name}</title>");
    let outline = if options.allowance_on(piece).is_some() { Layer::Sew } else { Layer::Cut };
    for layer in LAYERS {
        let items: Vec<&Item> = scene.items.iter().filter(|i| i.layer == layer).collect();
        if items.is_empty() {
            continue;
        }
        let label = layer.name();
        let id = label.replace(' ', "-");
        let _ = writeln!(out, "<g id=\"piece-{}-{id}\" data-layer=\"{label}\">", index + 1);
        let _ = writeln!(out, "<title>{label}</title>");
        for item in items {
            let note = if layer == outline { Some(seams_note(piece)?) } else { None };
            write_mark(out, &item.mark, note, page);
        }
        out.push_str("</g>\n");
    }
    out.push_str("</g>\n");
    Ok(())
}

/// Which stretch of the outline is which seam, so that we can read it back.
fn seams_note(piece: &Piece) -> Result<String, ExchangeError> {
    let mut notes = Vec::with_capacity(piece.seams.len());
    for seam in &piece.seams {
        let count = seam_with_caps(seam)?.segments().len();
        notes.push((seam.starts_at.clone(), seam.name.clone(), count));
    }
    Ok(note_of(&notes))
}

fn write_mark(out: &mut String, mark: &Mark, note: Option<String>, page: Page) {
    match mark {
        Mark::Stroke(path, pen) => {
            let note = note.map(|n| format!(" data-seams=\"{}\"", escaped(&n))).unwrap_or_default();
            let (d, pen) = (path_data(path, page), pen_words(pen));
            let _ = writeln!(out, "<path{note} d=\"{d}\" {pen}/>");
        }
        Mark::Fill(path, ink) => {
            let _ =
                writeln!(out, "<path d=\"{}\" fill=\"{}\"/>", path_data(path, page), colour(*ink));
        }
        Mark::Words(words) => write_words(out, words, page),
    }
}

fn write_words(out: &mut String, words: &Words, page: Page) {
    let anchor = match words.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let weight = if words.weight == Weight::Bold { " font-weight=\"bold\"" } else { "" };
    let place = page.at(words.at);
    let turn = -Vec2::from_angle(words.angle).atan2().to_degrees();
    let turned = if turn.abs() < 1e-9 {
        String::new()
    } else {
        format!(" transform=\"rotate({} {place})\"", Number(turn))
    };
    let _ = writeln!(
        out,
        "<text x=\"{}\" y=\"{}\" font-family=\"Lato, sans-serif\" font-size=\"{}\" text-anchor=\"{anchor}\"{weight} fill=\"{}\"{turned}>{}</text>",
        Number(place.0),
        Number(place.1),
        Number(words.size),
        colour(words.ink),
        escaped(&words.text)
    );
}

fn path_data(path: &BezPath, page: Page) -> String {
    let mut d = String::new();
    let at = |p: Point| page.at(p);
    for element in path.elements() {
        let _ = match *element {
            PathEl::MoveTo(p) => write!(d, "M{}", at(p)),
            PathEl::LineTo(p) => write!(d, "L{}", at(p)),
            PathEl::QuadTo(a, p) => write!(d, "Q{} {}", at(a), at(p)),
            PathEl::CurveTo(a, b, p) => write!(d, "C{} {} {}", at(a), at(b), at(p)),
            PathEl::ClosePath => write!(d, "Z"),
        };
    }
    d
}

fn colour(ink: Ink) -> String {
    format!("#{:02x}{:02x}{:02x}", ink.0, ink.1, ink.2)
}

fn pen_words(pen: &Pen) -> String {
    let mut words =
        format!("stroke=\"{}\" stroke-width=\"{}\"", colour(pen.ink), Number(pen.width));
    let dashes = |parts: &[f64]| {
        let parts: Vec<String> = parts.iter().map(|p| Number(*p).to_string()).collect();
        format!(" stroke-dasharray=\"{}\"", parts.join(" "))
    };
    match pen.dash {
        Dash::Solid => {}
        Dash::Dashed { on, off } => words += &dashes(&[on, off]),
        Dash::DashDot { on, off } => {
            words += &dashes(&[on, off, 0.5, off]);
        }
        Dash::Dotted { every } => {
            words += &dashes(&[0.0, every]);
            words += " stroke-linecap=\"round\"";
        }
    }
    words
}
