//! A row for one measure of the body: its name, a field, and what is wrong with it.

use super::figure;
use super::length_field::{self, Typed, is_being_typed, typed_length};
use super::picture;
use super::remark::{Remark, room_of, say_in_room};
use super::theme::{Palette, bold, bold_family};
use egui::{Align, Color32, FontId, Label, Layout, RichText, TextStyle, Ui, Vec2, vec2};
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::words::{InUnit, capital};
use hangtrue_pattern::{DraftError, Measure, MeasureError, Measures};

/// How rows of measures are shown.
#[derive(Clone, Copy)]
pub(crate) struct Rows {
    pub palette: Palette,
    pub unit: Unit,
    /// Size of the letters, 1.0 to 2.0.
    pub letters: f32,
}

/// The name of the measure as it stands before its field.
pub(crate) fn label(measure: Measure) -> String {
    capital(measure.name())
}

/// The measure whose field was written in last.
pub(crate) fn in_hand(ui: &Ui) -> Option<Measure> {
    let in_hand = length_field::in_hand(ui);
    Measure::ALL.into_iter().find(|m| in_hand.as_deref() == Some(&label(*m)))
}

/// The figure with the measure in hand, and how it is taken; as high for each of them, so
/// that nothing below moves.
pub(crate) fn figure_with_words(ui: &mut Ui, rows: Rows, height: f32) {
    figure_of(ui, rows, height);
    words_in_hand(ui, rows, 0.0);
}

/// The same with the words beside the figure where letters are small enough for it.
pub(crate) fn figure_beside_words(ui: &mut Ui, rows: Rows, height: f32) {
    /// Width of the figure's frame, points; and up to which letters.
    const WIDE: f32 = 150.0;
    const LARGE: f32 = 1.3;
    if rows.letters > LARGE || ui.available_width() < 2.0 * WIDE {
        return figure_with_words(ui, rows, height);
    }
    ui.horizontal_top(|ui| beside_words(ui, rows, vec2(WIDE, height)));
}

/// The figure in a frame so large, and the words to the right of it, as high at the least.
fn beside_words(ui: &mut Ui, rows: Rows, frame: Vec2) {
    ui.allocate_ui(frame, |ui| figure_of(ui, rows, frame.y));
    words_in_hand(ui, rows, frame.y);
}

/// The figure at the foot of a narrow page, the words beside it: always in view, and as
/// high for each measure.
pub(crate) fn figure_at_foot(ui: &mut Ui, rows: Rows) {
    /// Width and least height of the figure's frame, points.
    const FRAME: (f32, f32) = (110.0, 132.0);
    ui.horizontal_top(|ui| {
        let beside = ui.available_width() - FRAME.0 - ui.spacing().item_spacing.x;
        let height = most_words(ui, beside).max(FRAME.1);
        beside_words(ui, rows, vec2(FRAME.0, height));
    });
}

fn figure_of(ui: &mut Ui, rows: Rows, height: f32) {
    let in_hand = in_hand(ui);
    let words = in_hand.map_or("A figure standing".into(), |m| {
        format!("Where the {m} is taken: {}", m.definition())
    });
    let (rect, painter) = picture::frame(ui, &rows.palette, height, &words);
    painter.rect_filled(rect, 5.0, rows.palette.paper);
    figure::draw(&painter, rect, &rows.palette, in_hand);
}

/// How the measure in hand is taken, in room enough for the one with most words.
fn words_in_hand(ui: &mut Ui, rows: Rows, least: f32) {
    let in_hand = in_hand(ui);
    let wide = ui.available_width();
    let room = vec2(wide, most_words(ui, wide).max(least));
    ui.allocate_ui_with_layout(room, Layout::top_down(Align::LEFT), |ui| {
        ui.set_min_size(room);
        let words =
            in_hand.map_or("Come to a measure to see where it is taken.".into(), how_and_what_for);
        ui.add(Label::new(words).wrap());
        if let Some(care) = in_hand.and_then(Measure::care) {
            ui.add(Label::new(bold(care).color(rows.palette.madder)).wrap());
        }
    });
}

/// How it is taken, and what is done with it where it draws nothing.
fn how_and_what_for(measure: Measure) -> String {
    let kept = measure.kept().map(|kept| format!(" {kept}")).unwrap_or_default();
    format!("{}{kept}", measure.definition())
}

/// Height of the words of the measure that has most of them, in a column so wide.
fn most_words(ui: &Ui, wide: f32) -> f32 {
    let body = TextStyle::Body.resolve(ui.style());
    let strong = FontId::new(body.size, bold_family());
    let high = |words: &str, font: &FontId| {
        let laid = ui.painter().layout(words.to_owned(), font.clone(), Color32::BLACK, wide);
        laid.size().y
    };
    let of = |m: Measure| {
        let care = m.care().map_or(0.0, |c| high(c, &strong) + ui.spacing().item_spacing.y);
        high(&how_and_what_for(m), &body) + care
    };
    Measure::ALL.into_iter().map(of).fold(0.0, f32::max)
}

/// One measure; true when it changed. What is wrong with it stands beside it, or under it
/// where there is no room, and the room is kept free for it: nothing moves when a fault
/// comes or goes. What is being typed is not judged. `empty` is what is said in an empty
/// field of a measure that is needed.
pub(crate) fn measure_row(
    ui: &mut Ui,
    rows: Rows,
    measure: Measure,
    measures: &mut Measures,
    wrong: Option<&DraftError>,
    empty: &str,
) -> bool {
    let Rows { palette, unit, letters } = rows;
    let wrong = wrong.filter(|w| is_judged(ui, w));
    let named = wrong.is_some_and(|w| involves(w, measure));
    let mut value = measures.get(measure);
    let derived = measures.get_or_derived(measure).filter(|_| value.is_none());
    let hint = derived.map_or("not taken".into(), |d| format!("≈ {}", show_rounded(d, unit)));
    let name = label(measure);
    let lines = room_of(ui, 2.0).y;
    let beside = ui.available_width() > BESIDE * letters;
    let mut typed = Typed::default();
    let mut fault = None;
    let left = Layout::left_to_right(Align::Center);
    // A field with the cursor has a stronger edge, and needs a hair more.
    let field = ui.spacing().interact_size.y + 4.0;
    let height = if beside { lines.max(field) } else { field };
    ui.allocate_ui_with_layout(vec2(ui.available_width(), height), left, |ui| {
        ui.set_min_height(height);
        let text = if named {
            bold(format!("{name} (!)")).color(palette.ochre)
        } else {
            RichText::new(&name)
        };
        let size = vec2(170.0 * letters, 22.0);
        ui.allocate_ui_with_layout(size, left, |ui| {
            ui.set_min_width(size.x);
            ui.add(Label::new(text).wrap());
        });
        let hint = if measure.is_optional() { hint.as_str() } else { empty };
        typed = typed_length(ui, &name, &mut value, unit, hint);
        let refused = typed.refused.clone().filter(|_| !is_being_typed(ui, &name));
        let own = wrong.filter(|w| w.measure() == Some(measure));
        let fault_of = |w: &DraftError| Remark::fault(w.in_unit(unit), brief(w, unit));
        let said = refused.map(Remark::refused).or_else(|| own.map(fault_of));
        fault = said.or_else(|| typed.as_inches.clone().map(Remark::note));
        if beside {
            say_in_room(ui, &palette, vec2(ui.available_width(), lines), fault.take());
        }
    });
    if !beside {
        let room = room_of(ui, 1.0);
        // It stands close under its field.
        ui.add_space(2.0 - ui.spacing().item_spacing.y);
        say_in_room(ui, &palette, room, fault);
        ui.add_space(2.0 - ui.spacing().item_spacing.y);
    }
    if typed.changed {
        match value {
            Some(mm) => measures.set(measure, mm),
            None => drop(measures.remove(measure)),
        }
    }
    typed.changed
}

/// With more room than that, at letters of 100 %, a fault stands beside its field.
const BESIDE: f32 = 470.0;

/// Whether a fault is told: not while one of the measures it is about is being typed.
pub(crate) fn is_judged(ui: &Ui, wrong: &DraftError) -> bool {
    !Measure::ALL.into_iter().any(|m| involves(wrong, m) && is_being_typed(ui, &label(m)))
}

/// What is wrong, in a few words.
fn brief(wrong: &DraftError, unit: Unit) -> String {
    match wrong {
        DraftError::Measures(MeasureError::Missing { .. }) => "needed".into(),
        DraftError::Measures(MeasureError::Absurd { low, high, .. }) => {
            let [low, high] = [low, high].map(|l| show_rounded(l.0, unit));
            format!("out of range: {low} to {high}")
        }
        DraftError::Measures(MeasureError::Contradiction { other, .. })
        | DraftError::Disagree { other, .. } => format!("does not go with the {other}"),
        _ => "cannot be".into(),
    }
}

/// What is only derived is shown without the sign of a rounded value: the hint has
/// its own.
fn show_rounded(mm: f64, unit: Unit) -> String {
    show_length(mm, unit).trim_start_matches('≈').to_owned()
}

/// Whether the fault is about this measure, alone or against another.
pub(crate) fn involves(wrong: &DraftError, measure: Measure) -> bool {
    let other = match wrong {
        DraftError::Measures(MeasureError::Contradiction { other, .. })
        | DraftError::Disagree { other, .. } => Some(*other),
        _ => None,
    };
    wrong.measure() == Some(measure) || other == Some(measure)
}
