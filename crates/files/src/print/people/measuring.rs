//! The measuring sheet: where each measure is taken, how, and a box for it; in the order
//! of the form of a new client.

use super::figure::{FigureStroke, body, where_taken};
use super::page::{SIDE, Written, pdf_of_pages};
use crate::print::{Layer, PrintError, Weight, Words, pens};
use hangtrue_adjust::figure::HANDLES;
use hangtrue_geometry::{Point, Rect};
use hangtrue_pattern::Measure;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::capital;
use kurbo::Shape;

/// Height of a row at the most, and of the figure, mm.
const ROW: f64 = 13.2;
const FIGURE: f64 = 112.0;
/// Width of the figure's column and of a box, mm.
const COLUMN: f64 = 56.0;
const BOX: f64 = 26.0;

/// The measures in the order of the form: those that are needed, then the others.
fn in_order() -> impl Iterator<Item = Measure> {
    let others = Measure::ALL.into_iter().filter(|m| m.is_optional());
    Measure::REQUIRED.into_iter().chain(others)
}

/// Makes the sheet for people who measure in that unit.
///
/// # Errors
/// [`PrintError`] when the PDF cannot be put together.
pub fn measuring_sheet(unit: Unit) -> Result<Vec<u8>, PrintError> {
    let mut page = Written::begin(unit);
    let asked = [("Name or code", 52.0), ("Date", 26.0), ("Measured by", 40.0)];
    page.title("Measuring sheet", &asked);
    page.care(CARE);
    let top = page.y;
    figure(&mut page, top);
    posture(&mut page, top - FIGURE - 12.0);
    rows(&mut page, top, unit);
    pdf_of_pages(
        vec![page],
        "Measuring sheet",
        "Hangtrue · typed in at “A new client”, in this order",
    )
}

/// Common practice, no published source.
const CARE: &str = "Ask before you measure. At the crotch and the inside leg the wearer holds the upper end of the tape and you read the lower. The tape lies flat and firm, and does not press. Measure over thin clothes, without shoes, the wearer standing easily.";

/// The figure with the number of each measure where it is taken.
fn figure(page: &mut Written, top: f64) {
    let foot = Point::new(SIDE + COLUMN / 2.0 + 1.6, top - FIGURE - 2.0);
    let place = (foot, FIGURE);
    page.strokes(&body(), place, pens::DART, pens::EARLIER);
    let mut heights = 0.0;
    for (index, measure) in in_order().enumerate() {
        let mut strokes = where_taken(measure);
        if is_height(measure) {
            stand_aside(&mut strokes, heights);
            heights += 1.0;
        }
        page.strokes(&strokes, place, pens::ACCENTED, pens::ACCENTED_BEHIND);
        if let Some(at) = label_place(measure, &strokes) {
            number(page, foot + at.to_vec2() * FIGURE, index + 1);
        }
    }
}

/// Whether it is taken up from the floor at the side, where the others are too.
fn is_height(measure: Measure) -> bool {
    use Measure::{AnkleHeight, HipHeight, KneeHeight, Stature, WaistHeight};
    matches!(measure, Stature | WaistHeight | HipHeight | KneeHeight | AnkleHeight)
}

/// Heights stand side by side, with shorter ends; all in shares of the stature.
fn stand_aside(strokes: &mut [FigureStroke], before: f64) {
    const OUTERMOST: f64 = 0.195;
    const APART: f64 = 0.0315;
    const ENDS: f64 = 0.4;
    let own = strokes.first().and_then(|s| s.places.first()).map_or(0.0, |p| p.x);
    for place in strokes.iter_mut().flat_map(|s| &mut s.places) {
        place.x = OUTERMOST - APART * before + ENDS * (place.x - own);
    }
}

/// Where the number of a measure stands, in shares of the stature.
fn label_place(measure: Measure, strokes: &[FigureStroke]) -> Option<Point> {
    let places = &strokes.first()?.places;
    let left = places.iter().copied().min_by(|a, b| a.x.total_cmp(&b.x))?;
    let top = places.iter().copied().max_by(|a, b| a.y.total_cmp(&b.y))?;
    Some(match measure {
        Measure::CrotchLength => Point::new(-0.055, 0.545),
        Measure::CrotchLengthFront => Point::new(-0.03, 0.585),
        Measure::CrotchLengthBack => Point::new(0.045, 0.585),
        Measure::InsideLegHeight => Point::new(0.0, 0.24),
        Measure::WaistHeightFront | Measure::WaistHeightBack => Point::new(top.x, top.y + 0.02),
        // The others stand above their upper ends.
        Measure::SeatedRise => Point::new(top.x, top.y - 0.175),
        _ if is_height(measure) => Point::new(top.x, top.y + 0.018),
        _ => Point::new(left.x - 0.028, left.y),
    })
}

/// A number on a plate, so that no line runs through it.
fn number(page: &mut Written, at: Point, number: usize) {
    let plate = kurbo::Circle::new(at, 2.1);
    page.scene.fill(Layer::Sheet, plate.to_path(0.05), pens::BLANK);
    let text = number.to_string();
    let wide = crate::print::width_of(&text, Weight::Bold, 3.2);
    let at = Point::new(at.x - wide / 2.0, at.y - 1.1);
    let words = Words::level(text, at, 3.2, Weight::Bold, pens::INK);
    page.scene.words(Layer::Sheet, words);
}

/// What a tape does not tell, to be ticked.
fn posture(page: &mut Written, top: f64) {
    page.text("What the tape does not tell", SIDE, top, 4.2, Weight::Bold);
    let mut y = top - 6.5;
    page.text("much", SIDE, y, 3.0, Weight::Regular);
    page.text("a little", SIDE + 9.0, y, 3.0, Weight::Regular);
    y -= 6.0;
    for handle in HANDLES {
        page.two_ticks(handle.name, (SIDE + 1.0, y), 9.0);
        y -= 6.2;
    }
    let kept = in_order().filter_map(|measure| Some((measure, measure.kept()?)));
    let (mut plain, mut more) = (Vec::new(), Vec::new());
    for (measure, kept) in kept {
        // What is said of all of them, and what is done instead of one.
        match kept.split_once(": ") {
            Some((_, instead)) => more.push((measure.name(), instead)),
            None => plain.push(kept),
        }
    }
    let names = more.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(" and ");
    let mut said = format!("Kept only: {}", plain.first().unwrap_or(&"").to_lowercase());
    if let Some((_, instead)) = more.first() {
        said += &format!(" {}: {instead}", capital(&names));
    }
    page.lines(&said, (SIDE, y - 1.0), 2.7, COLUMN - 4.0);
}

fn rows(page: &mut Written, top: f64, unit: Unit) {
    let x = SIDE + COLUMN + 4.0;
    let words = page.right() - BOX - 5.0 - x;
    let unit = match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        _ => "in",
    };
    let row = ROW.min(page.room() / in_order().count() as f64);
    let mut y = top;
    for (index, measure) in in_order().enumerate() {
        let frame = Rect::from_origin_size((page.right() - BOX, y - row + 2.6), (BOX, row - 3.4));
        page.frame(frame);
        let at = Point::new(frame.x1 - 7.0, frame.y0 + 1.2);
        let small = Words::level(unit.to_owned(), at, 2.8, Weight::Regular, pens::GREY);
        page.scene.words(Layer::Sheet, small);
        let needed = match (measure.is_optional(), measure.draws_the_block()) {
            (false, _) => "  · needed",
            (true, true) => "",
            (true, false) => "  · kept only",
        };
        let name = format!("{}  {}{needed}", index + 1, capital(measure.name()));
        page.text(&name, x, y - 3.4, 3.8, Weight::Bold);
        // In one line, or it would touch the next name.
        let definition = measure.definition();
        let wide = crate::print::width_of(definition, Weight::Regular, 2.7);
        page.lines(definition, (x, y - 7.2), 2.7 * (words / wide).min(1.0), words + 0.1);
        y -= row;
    }
    page.y = y;
}
