//! The lay as a small picture with its measures: a page to stand on the cutting table.

use super::full::edges;
use super::{LayFile, OnCloth, caution, how_it_lies, told};
use crate::exchange::svg_of_scenes;
use crate::print::{
    About, Anchor, Ink, Layer, Page, Pen, PrintError, Scene, Size, Weight, Words, pdf_of, pens,
    width_of,
};
use crate::print::{Lines, settle_words};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;

/// The page, mm: A4 lying (ISO 216).
pub const PICTURE_SIZE: Size = Size { width: 297.0, height: 210.0 };
/// White round it, mm.
const EDGE: f64 = 14.0;
/// Upper edge of what stands on it, mm.
const TOP: f64 = PICTURE_SIZE.height - EDGE;
/// Room over the drawing and under it for words, mm.
const HEAD: f64 = 12.0;
const ROW: f64 = 4.6;
const LETTERS: f64 = 3.2;
/// Width of what is told at the left, mm.
const COLUMN: f64 = 100.0;
/// Where the two columns of what lies where begin, and how wide each is, mm.
const LISTS: [f64; 2] = [122.0, 204.0];
const LIST: f64 = 76.0;
/// A name takes no more than this part of its piece’s length: pieces run to points.
const OF_PIECE: f64 = 0.55;
/// Room for the measures beside the drawing, mm.
const BESIDE: f64 = 12.0;

/// The picture as a file, and what could not be drawn.
///
/// # Errors
/// [`PrintError`] when the PDF cannot be written.
pub fn picture_file(on: &OnCloth<'_>, file: LayFile) -> Result<Vec<u8>, PrintError> {
    let scene = lay_picture(on);
    let title = format!("{}: lay of the {}", on.title, on.of.word());
    if file == LayFile::Svg {
        return Ok(svg_of_scenes(&[("lay".to_owned(), scene)], &title).into_bytes());
    }
    let about = About { title, subject: "Lay plan, not at true scale".to_owned() };
    pdf_of(&[Page::plain(PICTURE_SIZE, &scene)], &about)
}

/// Where the cloth and the words stand on the page, mm.
struct Arranged {
    /// What the cloth is drawn in.
    room: Rect,
    /// The first line of what is told.
    told: Point,
    /// The first line of each column of what lies where.
    lists: [Point; 2],
    /// How many lines the first of them has.
    in_first: usize,
}

impl Arranged {
    /// The words below the cloth, what is told at the left, what lies where in two columns.
    fn below(told: usize, rows: usize) -> Self {
        let in_first = rows.div_ceil(2).max(told);
        let foot = EDGE + ROW * in_first as f64 + 6.0;
        let right = PICTURE_SIZE.width - EDGE;
        let line = |x: f64| Point::new(x, foot - ROW);
        Self {
            room: Rect::new(EDGE + BESIDE, foot + BESIDE, right, TOP - HEAD),
            told: line(EDGE),
            lists: LISTS.map(line),
            in_first,
        }
    }

    /// The words beside a cloth that is short; none where they are too many for one column.
    fn beside(told: usize, rows: usize) -> Option<Self> {
        let lines = told + 1 + rows;
        let free = TOP - HEAD - EDGE;
        let left = PICTURE_SIZE.width - EDGE - COLUMN;
        let first = Point::new(left, TOP - HEAD - ROW);
        let list = first - Vec2::new(0.0, ROW * (told + 1) as f64);
        (ROW * lines as f64 <= free).then_some(Self {
            room: Rect::new(EDGE + BESIDE, EDGE + BESIDE, left - BESIDE, TOP - HEAD),
            told: first,
            lists: [list, list],
            in_first: rows,
        })
    }

    /// The words beside the cloth as near to it as they may stand.
    fn close_to(self, on: &OnCloth<'_>) -> Self {
        let end = self.room.x0 + on.lay.length() * scale(on, self.room);
        let by = Vec2::new((end + BESIDE - self.told.x).min(0.0), 0.0);
        Self { told: self.told + by, lists: self.lists.map(|at| at + by), ..self }
    }
}

/// The picture: the cloth with its pieces, its measures, and where each piece lies. The words
/// stand where they leave the cloth the most of the page.
pub fn lay_picture(on: &OnCloth<'_>) -> Scene {
    let mut scene = Scene::default();
    let words = |text: String, at: Point, size: f64, weight| {
        Words::level(text, at, size, weight, pens::INK)
    };
    let title = format!("{} · lay of the {}", on.title, on.of.word());
    scene.words(Layer::Label, words(title, Point::new(EDGE, TOP - 4.0), 5.0, Weight::Bold));
    let whose = Words {
        anchor: Anchor::End,
        ..words(
            on.label.join(" · "),
            Point::new(PICTURE_SIZE.width - EDGE, TOP - 4.0),
            LETTERS,
            Weight::Regular,
        )
    };
    scene.words(Layer::Label, whose);
    let (facts, care) = (facts(on), broken(caution(), COLUMN));
    // One line more says how small it is drawn.
    let told = facts.len() + 1 + care.len();
    let (in_list, in_column) = (rows(on, LIST), rows(on, COLUMN));
    let below = Arranged::below(told, in_list.len());
    let larger = |a: &Arranged| scale(on, a.room) > scale(on, below.room);
    let beside = Arranged::beside(told, in_column.len()).filter(larger);
    let (page, rows) = match beside {
        Some(page) => (page.close_to(on), in_column),
        None => (below, in_list),
    };
    drawn(&mut scene, on, page.room);
    let mut at = page.told;
    let facts = facts.into_iter().chain([scale_words(on, page.room)]);
    let facts = facts.map(|line| (line, Weight::Regular));
    for (line, weight) in facts.chain(care.into_iter().map(|line| (line, Weight::Bold))) {
        scene.words(Layer::Label, words(line, at, LETTERS, weight));
        at.y -= ROW;
    }
    for (index, row) in rows.into_iter().enumerate() {
        let (column, line) = (index / page.in_first, index % page.in_first);
        let at = page.lists[column.min(1)] - Vec2::new(0.0, ROW * line as f64);
        scene.words(Layer::Label, words(row, at, LETTERS * 0.92, Weight::Regular));
    }
    settle_words(&mut scene, &Lines::default());
    scene
}

/// What is wrong, and what is told of the lay, in lines that fit their column.
fn facts(on: &OnCloth<'_>) -> Vec<String> {
    let wrong = on.lay.faults().all;
    let wrong =
        wrong.iter().map(|fault| format!("To put right: {}", fault.words(on.lay).in_unit(on.unit)));
    let told = told(on).into_iter().map(|said| said.in_unit(on.unit));
    wrong.chain(told).flat_map(|said| broken(&said, COLUMN)).collect()
}

/// Where each piece lies, by its number: along from the cut end and across to its nearest
/// places, in lines that fit their column.
fn rows(on: &OnCloth<'_>, width: f64) -> Vec<String> {
    let shown = |mm: f64| show_length(mm, on.unit);
    let from = if on.lay.bed.folded { "fold" } else { "selvedge" };
    let row = |(index, _, place): (usize, _, hangtrue_lay::Place)| {
        let part = &on.lay.parts[index];
        let how = how_it_lies(part, place);
        let how = if how.is_empty() { how } else { format!(" ({how})") };
        let (x, y) = (shown(place.x), shown(place.y));
        let said = format!("{} {}: {x} along, {y} from the {from}{how}", index + 1, part.name());
        broken(&said, width)
    };
    on.lay.laid().flat_map(row).collect()
}

fn scale_words(on: &OnCloth<'_>, room: Rect) -> String {
    let times = 1.0 / scale(on, room);
    format!("Drawn 1 to {times:.0}; not to be cut from.")
}

fn scale(on: &OnCloth<'_>, room: Rect) -> f64 {
    let (long, across) = (on.lay.length().max(1.0), on.lay.bed.across.max(1.0));
    (room.width() / long).min((room.height() / across).max(1e-6))
}

fn drawn(scene: &mut Scene, on: &OnCloth<'_>, room: Rect) {
    let scale = scale(on, room);
    let across = on.lay.bed.across * scale;
    let corner = Point::new(room.x0, room.y1 - across);
    let to = Affine::translate(corner.to_vec2()) * Affine::scale(scale);
    for (a, b, inner) in edges(on) {
        let pen = if inner { pens::LAY.times(0.6) } else { Pen { width: 0.4, ..pens::TRIM } };
        scene.line(Layer::Sheet, to * a, to * b, pen);
    }
    for (index, ..) in on.lay.laid() {
        piece(scene, on, index, to);
    }
    for (a, b) in on.lay.faults().shown {
        scene.line(Layer::Sheet, to * a, to * b, Pen { width: 0.5, ..pens::STALE });
    }
    measures(scene, on, to);
}

/// One piece: its cut line, its grain with its upper end, its name.
fn piece(scene: &mut Scene, on: &OnCloth<'_>, index: usize, to: Affine) {
    let part = &on.lay.parts[index];
    let (Some(known), Ok(piece), Some(place)) =
        (on.set.piece(&part.piece), on.set.pattern.piece(&part.piece), on.lay.places[index])
    else {
        return;
    };
    let to_page = to * on.lay.to_cloth(index).unwrap_or_default();
    let Some(corners) = on.lay.corners(index) else { return };
    let mut cut = hangtrue_geometry::BezPath::new();
    if place.on_fold {
        corners.iter().enumerate().for_each(|(i, p)| match i {
            0 => cut.move_to(to * *p),
            _ => cut.line_to(to * *p),
        });
    } else {
        cut = to_page * known.cut.to_path();
    }
    cut.close_path();
    scene.areas.push(cut.clone());
    scene.fill(Layer::Cut, cut.clone(), Ink(244, 240, 233));
    scene.stroke(Layer::Cut, cut, Pen { width: 0.35, ..pens::CUT });
    let Some(bounds) = on.lay.bounds(index) else { return };
    let bounds = to.transform_rect_bbox(bounds);
    let is_tall = bounds.height() > 3.0 * LETTERS;
    // A low piece has room for its name alone.
    if !place.on_fold && is_tall {
        let (from, tip) = (to_page * piece.grain.from, to_page * piece.grain.to);
        scene.line(Layer::Grain, from, tip, Pen { width: 0.2, ..pens::GRAIN });
        crate::print::arrow_head(scene, Layer::Grain, tip, tip - from, 2.2);
    }
    let how = how_it_lies(part, place);
    let size = LETTERS.min(0.8 * bounds.height());
    let number = (index + 1).to_string();
    let named = format!("{number} {}", part.name());
    let fits = |text: &str, size| width_of(text, Weight::Bold, size) < OF_PIECE * bounds.width();
    // A piece too small for its name has its number alone; the list says which it is.
    let is_named = fits(&named, size);
    let name = if is_named { named } else { number };
    let line = |text: String, down: f64, weight, size| Words {
        text,
        at: bounds.center() - Vec2::new(0.0, down),
        size,
        angle: 0.0,
        anchor: Anchor::Middle,
        weight,
        ink: pens::INK,
    };
    scene.words(
        Layer::Label,
        line(name, if is_tall { -1.4 } else { 0.3 * size }, Weight::Bold, size),
    );
    if is_tall && is_named && !how.is_empty() && fits(&how, 0.8 * size) {
        scene.words(Layer::Label, line(how, 1.3 * size, Weight::Regular, 0.8 * size));
    }
}

/// Length and width with their arrows, and the words of the edges.
fn measures(scene: &mut Scene, on: &OnCloth<'_>, to: Affine) {
    let (long, across) = (on.lay.length(), on.lay.bed.across);
    let (low, right, high) =
        (to * Point::ORIGIN, to * Point::new(long, 0.0), to * Point::new(0.0, across));
    let down = Vec2::new(0.0, -6.0);
    let left = Vec2::new(-5.0, 0.0);
    arrow(scene, low + down, right + down, show_length(long, on.unit));
    arrow(scene, low + left, high + left, show_length(across, on.unit));
    let foot = if on.lay.bed.folded { "fold" } else { "selvedge" };
    let edge = |text: &str, at: Point| Words {
        anchor: Anchor::End,
        ..Words::level(text.to_owned(), at, 2.4, Weight::Regular, pens::GREY)
    };
    scene.words(Layer::Label, edge(foot, right + Vec2::new(0.0, -3.0)));
    let upper = Point::new(right.x, high.y);
    scene.words(Layer::Label, edge("selvedge", upper + Vec2::new(0.0, 1.6)));
}

fn arrow(scene: &mut Scene, a: Point, b: Point, text: String) {
    scene.line(Layer::Sheet, a, b, pens::HAIR);
    crate::print::arrow_head(scene, Layer::Sheet, b, b - a, 2.0);
    crate::print::arrow_head(scene, Layer::Sheet, a, a - b, 2.0);
    let along = (b - a).normalize();
    let up = Vec2::new(-along.y, along.x);
    let side = if along.x > along.y { -3.6 } else { 1.2 };
    let at = a.midpoint(b) + up * side;
    scene.words(
        Layer::Label,
        Words {
            text,
            at,
            size: LETTERS,
            angle: along.atan2(),
            anchor: Anchor::Middle,
            weight: Weight::Bold,
            ink: pens::INK,
        },
    );
}

/// Words broken so that each line fits.
fn broken(text: &str, width: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ') {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if line.is_empty() || width_of(&longer, Weight::Bold, LETTERS) < width {
            line = longer;
        } else {
            lines.push(std::mem::replace(&mut line, word.to_owned()));
        }
    }
    lines.push(line);
    lines
}
