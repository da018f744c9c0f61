//! Prints on pages as large as they need be: one sheet a piece, and one page for
//! a projector over the table.

use super::draw::{GAP, NO_ALLOWANCE};
use super::paper::LONGEST;
use super::room::{Lines, Plate, blocks, settle_words};
use super::whole::missing_letters;
use super::{
    About, Anchor, Dash, DrawOptions, Ink, Item, Layer, Mark, Page, Pen, PrintError, Scene, Size,
    Weight, Words, arrange, pdf_of, pens, piece_scenes,
};
use hangtrue_geometry::{Affine, BezPath, Point, Rect, Vec2};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{INCH, Unit, show_length};
use hangtrue_pattern::words::Length;
use kurbo::Shape;
use std::f64::consts::FRAC_PI_2;

/// White left round a piece on a sheet of its own, mm.
const EDGE: f64 = 15.0;
/// Height of the strip under a piece: the name and the test square, mm.
const STRIP: f64 = 62.0;
/// The test square, mm.
const SQUARE: f64 = 50.0;
/// The narrowest sheet that holds the strip, mm.
const NARROWEST: f64 = 210.0;

/// Pages as they were written.
#[derive(Debug, Clone)]
pub struct LargePrint {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// Its pages.
    pub pages: Vec<LargePage>,
    /// What could not be drawn, in words for the maker.
    pub notes: Vec<String>,
}

/// One large page.
#[derive(Debug, Clone, PartialEq)]
pub struct LargePage {
    /// Its size, mm.
    pub size: Size,
    /// What to measure before cutting, mm from the lower left corner, y up: the
    /// test square, or the frame of the grid.
    pub measure: Rect,
    /// The drawing as it lies on the page, mm from the lower left corner, y up.
    pub scene: Scene,
}

fn page_size(width: f64, height: f64) -> Result<Size, PrintError> {
    if width > LONGEST || height > LONGEST {
        return Err(PrintError::Page {
            width: Length(width),
            height: Length(height),
            most: Length(LONGEST),
        });
    }
    Ok(Size { width, height })
}

fn finish(
    pages: Vec<LargePage>,
    mut notes: Vec<String>,
    title: &str,
    subject: &str,
) -> Result<LargePrint, PrintError> {
    let about = About { title: title.to_owned(), subject: subject.to_owned() };
    let drawn: Vec<Page> = pages.iter().map(|p| Page::plain(p.size, &p.scene)).collect();
    let pdf = pdf_of(&drawn, &about)?;
    drop(drawn);
    for page in &pages {
        let missing = missing_letters(&page.scene, title);
        notes.extend(missing.filter(|n| !notes.contains(n)));
    }
    Ok(LargePrint { pdf, pages, notes })
}

/// Draws every piece on a sheet of its own, as large as the piece, with a test
/// square under it: for a plotter, or a print shop.
///
/// # Errors
/// [`PrintError::Page`] for a piece longer than a page of a PDF can be, and as
/// [`piece_scenes`].
pub fn piece_sheets(
    pattern: &Pattern,
    draw: &DrawOptions,
    title: &str,
) -> Result<LargePrint, PrintError> {
    let scenes = piece_scenes(pattern, draw)?;
    let count = scenes.len();
    let mut pages = Vec::with_capacity(count);
    let mut notes = Vec::new();
    for (index, (piece, scene)) in pattern.pieces.iter().zip(scenes).enumerate() {
        let bounds = scene.bounds().ok_or(PrintError::Nothing)?;
        let size = page_size(
            (bounds.width() + 2.0 * EDGE).max(NARROWEST).ceil(),
            (bounds.height() + 3.0 * EDGE + STRIP).ceil(),
        )?;
        notes.extend(scene.notes.iter().cloned());
        let to_page = Affine::translate((EDGE - bounds.x0, 2.0 * EDGE + STRIP - bounds.y0));
        let mut whole = scene.moved(to_page);
        let square = Rect::from_origin_size((EDGE, EDGE), (SQUARE, SQUARE));
        let bare = if draw.is_bare(piece) { NO_ALLOWANCE } else { "" };
        let number = format!("{} of {count}", index + 1);
        strip(&mut whole, square, &[title, &piece.name, &number, bare]);
        pages.push(LargePage { size, measure: square, scene: whole });
    }
    finish(pages, notes, title, "Sewing pattern at true scale, a sheet a piece")
}

/// A drawing on one page as large as it is, with a test square under it.
///
/// # Errors
/// [`PrintError::Page`] when it is longer than a page of a PDF can be.
pub fn one_page(
    scene: &Scene,
    names: &[&str],
    title: &str,
    subject: &str,
) -> Result<LargePrint, PrintError> {
    let bounds = scene.bounds().ok_or(PrintError::Nothing)?;
    let size = page_size(
        (bounds.width() + 2.0 * EDGE).max(NARROWEST).ceil(),
        (bounds.height() + 3.0 * EDGE + STRIP).ceil(),
    )?;
    let to_page = Affine::translate((EDGE - bounds.x0, 2.0 * EDGE + STRIP - bounds.y0));
    let mut whole = scene.moved(to_page);
    let square = Rect::from_origin_size((EDGE, EDGE), (SQUARE, SQUARE));
    strip(&mut whole, square, names);
    let page = LargePage { size, measure: square, scene: whole };
    finish(vec![page], scene.notes.clone(), title, subject)
}

/// The test square and what to do with it.
fn strip(scene: &mut Scene, square: Rect, names: &[&str]) {
    scene.stroke(Layer::Sheet, square.to_path(0.1), pens::TEST);
    let words = |text, at, size, weight| Words::level(text, at, size, weight, pens::INK);
    let inside = Point::new(square.x0 + 14.0, square.center().y - 1.6);
    scene.words(Layer::Sheet, words("50 mm".into(), inside, 5.0, Weight::Bold));
    let (x, y) = (square.x1 + 6.0, square.y1 - 6.0);
    let named: Vec<&str> = names.iter().copied().filter(|n| !n.is_empty()).collect();
    scene.words(Layer::Sheet, words(named.join("  ·  "), Point::new(x, y), 6.0, Weight::Bold));
    for (index, line) in [
        "Print at 100 % (“actual size”), with no “fit to page”.",
        "Every side of the square is 50 mm: measure it before you cut.",
        "Cut with the blade away from you; close shears and cover a rotary blade after use.",
    ]
    .into_iter()
    .enumerate()
    {
        let at = Point::new(x, y - 11.0 - 6.0 * index as f64);
        scene.words(Layer::Sheet, words(line.into(), at, 4.0, Weight::Regular));
    }
}

/// How a page for a projector looks. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProjectorOptions {
    /// No line is thinner than this.
    pub line: f64,
    /// Light lines on black: a dark room, and no glare from the table.
    pub inverted: bool,
    /// The side of the squares of the grid under the pattern; none draws only the
    /// frame.
    pub grid: Option<f64>,
}

impl Default for ProjectorOptions {
    /// Lines of 2 mm, black on white, squares of 50 mm.
    fn default() -> Self {
        Self { line: 2.0, inverted: false, grid: Some(50.0) }
    }
}

impl ProjectorOptions {
    /// The usual, its squares a round number of the maker's unit: 50 mm or 2 in.
    pub fn usual(unit: Unit) -> Self {
        let inches = unit.denominator().is_some();
        let grid = Some(if inches { 2.0 * INCH } else { 50.0 });
        Self { grid, ..Self::default() }
    }
}

/// The thinnest and thickest lines for a projector, mm.
const LINES: (f64, f64) = (0.3, 10.0);
/// The smallest and largest squares of the grid, mm.
const SQUARES: (f64, f64) = (10.0, 500.0);
/// The step of the frame without a grid, mm.
const FRAME: f64 = 50.0;
/// Between the frame and the edge of the page, mm.
const OUTSIDE: f64 = 25.0;

impl ProjectorOptions {
    fn check(&self) -> Result<(), PrintError> {
        let fits = |what, asked: f64, (least, most): (f64, f64)| {
            if (least..=most).contains(&asked) {
                Ok(())
            } else {
                Err(PrintError::Projector {
                    what,
                    asked: Length(asked),
                    least: Length(least),
                    most: Length(most),
                })
            }
        };
        fits("lines", self.line, LINES)?;
        self.grid.map_or(Ok(()), |g| fits("squares of the grid", g, SQUARES))
    }
}

/// Draws the whole pattern on one large page for a projector: thick lines, a grid
/// whose squares are measured on the table, light on dark when asked.
///
/// # Errors
/// [`PrintError::Projector`] for lines or squares that cannot be used,
/// [`PrintError::Page`] for a pattern larger than a page can be, and as
/// [`piece_scenes`].
pub fn projector_page(
    pattern: &Pattern,
    draw: &DrawOptions,
    options: &ProjectorOptions,
    title: &str,
) -> Result<LargePrint, PrintError> {
    options.check()?;
    // The names of seams and corners are too small to be read so; they only hide lines.
    let draw = DrawOptions { seam_names: false, corner_names: false, ..draw.clone() };
    let pieces = arrange(&piece_scenes(pattern, &draw)?, f64::INFINITY, GAP);
    let bounds = pieces.bounds().ok_or(PrintError::Nothing)?;
    let step = options.grid.unwrap_or(FRAME);
    let steps = |length: f64| ((length + 2.0 * GAP) / step).ceil();
    let (across, up) = (steps(bounds.width()), steps(bounds.height()));
    let frame = Rect::from_origin_size((OUTSIDE, OUTSIDE), (across * step, up * step));
    let size = page_size(frame.width() + 2.0 * OUTSIDE, frame.height() + 2.0 * OUTSIDE)?;
    let mut scene = Scene::default();
    if options.grid.is_some() {
        grid(&mut scene, frame, step);
    }
    let pen = Pen { width: options.line, dash: Dash::Solid, ink: pens::ACCENT };
    scene.stroke(Layer::Sheet, frame.to_path(0.1), pen);
    let bare = draw.has_none(pattern);
    foot(&mut scene, frame, [across, up].map(|n| n * step), step, (draw.unit, bare), options);
    let to_page = Affine::translate(frame.center() - bounds.center());
    let notes = pieces.notes.clone();
    let mut pieces = pieces.moved(to_page);
    for item in &mut pieces.items {
        thicken(item, options.line);
    }
    enlarge_words(&mut pieces, options.line);
    settle_words(&mut pieces, &Lines::default());
    // The grid is broken under the words, the pattern is not.
    let plates = pieces.items.iter().filter_map(|item| match &item.mark {
        Mark::Words(words) => Some(words.outline()),
        _ => None,
    });
    let plates: Vec<BezPath> = plates.collect();
    for plate in plates {
        scene.fill(Layer::Sheet, plate, pens::BLANK);
    }
    scene.append(pieces);
    if options.inverted {
        invert(&mut scene, size);
    }
    let page = LargePage { size, measure: frame, scene };
    finish(vec![page], notes, title, "Sewing pattern at true scale on one page for a projector")
}

/// Thin lines each square apart, every fifth line clearer.
fn grid(scene: &mut Scene, frame: Rect, step: f64) {
    let pen = |index: usize| {
        let ink = if index.is_multiple_of(5) { pens::GREY } else { pens::PALE };
        Pen { width: 0.3, dash: Dash::Solid, ink }
    };
    let count = |length: f64| (length / step).round() as usize;
    for index in 1..count(frame.width()) {
        let x = frame.x0 + step * index as f64;
        let (a, b) = (Point::new(x, frame.y0), Point::new(x, frame.y1));
        scene.line(Layer::Sheet, a, b, pen(index));
    }
    for index in 1..count(frame.height()) {
        let y = frame.y0 + step * index as f64;
        let (a, b) = (Point::new(frame.x0, y), Point::new(frame.x1, y));
        scene.line(Layer::Sheet, a, b, pen(index));
    }
}

/// What to measure, under the frame.
fn foot(
    scene: &mut Scene,
    frame: Rect,
    sides: [f64; 2],
    step: f64,
    (unit, bare): (Unit, bool),
    options: &ProjectorOptions,
) {
    let bare = if bare {
        format!(" {NO_ALLOWANCE}: cut outside the line by as much as you sew.")
    } else {
        String::new()
    };
    let [wide, high] = sides.map(|s| show_length(s, unit));
    let squares = match options.grid {
        Some(_) => format!("Each square is {}. ", show_length(step, unit)),
        None => String::new(),
    };
    scene.words(
        Layer::Sheet,
        Words {
            text: format!(
                "{squares}The outer frame is {wide} wide and {high} high: lay a tape on the table, both ways, before you cut.{bare}"
            ),
            at: Point::new(frame.x0, frame.y0 - 14.0),
            size: 9.0,
            angle: 0.0,
            anchor: Anchor::Start,
            weight: Weight::Bold,
            ink: pens::INK,
        },
    );
}

/// Words are this many times as large as on paper.
const LARGER: f64 = 1.35;

/// No line of the pattern is thinner than `line`, mm; the thin lines of the grid
/// stay, and dashes grow with the line so that they stay apart.
fn thicken(item: &mut Item, line: f64) {
    if item.layer == Layer::Sheet {
        return;
    }
    if let Mark::Stroke(_, pen) = &mut item.mark
        && pen.width < line
    {
        let dashed = pen.times((line / pen.width).sqrt()).dash;
        *pen = Pen { width: line, dash: apart(dashed, line), ink: pen.ink };
    }
}

/// Words are lifted off a line that grew under them, and grow where the larger ones stand
/// clear of every line: those of one label together or not at all.
fn enlarge_words(scene: &mut Scene, line: f64) {
    let mut lines = Lines::default();
    for item in &mut scene.items {
        lines.add(&item.mark, Affine::IDENTITY);
        if let Mark::Words(words) = &mut item.mark {
            words.at += Vec2::from_angle(words.angle + FRAC_PI_2) * (line / 2.0);
        }
    }
    for block in blocks(scene) {
        let larger: Vec<(usize, Words)> = block
            .into_iter()
            .filter_map(|index| match &scene.items[index].mark {
                Mark::Words(words) => {
                    Some((index, Words { size: words.size * LARGER, ..words.clone() }))
                }
                _ => None,
            })
            .collect();
        if larger.iter().any(|(_, words)| lines.under(&Plate::of(words))) {
            continue;
        }
        for (index, words) in larger {
            scene.items[index].mark = Mark::Words(words);
        }
    }
}

/// Dots and gaps that a line so wide does not run together.
fn apart(dash: Dash, line: f64) -> Dash {
    match dash {
        Dash::Dotted { every } => Dash::Dotted { every: every.max(2.5 * line) },
        Dash::Dashed { on, off } => Dash::Dashed { on, off: off.max(1.2 * line) },
        Dash::DashDot { on, off } => Dash::DashDot { on, off: off.max(1.2 * line) },
        Dash::Solid => Dash::Solid,
    }
}

/// Every colour turned to its opposite, on a black page.
fn invert(scene: &mut Scene, size: Size) {
    let opposite = |ink: Ink| Ink(255 - ink.0, 255 - ink.1, 255 - ink.2);
    for item in &mut scene.items {
        match &mut item.mark {
            Mark::Stroke(_, pen) => pen.ink = opposite(pen.ink),
            Mark::Fill(_, ink) => *ink = opposite(*ink),
            Mark::Words(words) => words.ink = opposite(words.ink),
        }
    }
    let page: BezPath = Rect::new(0.0, 0.0, size.width, size.height).to_path(0.1);
    let black = Item { layer: Layer::Sheet, mark: Mark::Fill(page, Ink(0, 0, 0)) };
    scene.items.insert(0, black);
}
