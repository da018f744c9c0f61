//! A row for one measure of the body: its name, a field, and what is wrong with it.

use super::figure;
use super::length_field::{IN_HAND, optional_length_field};
use super::picture;
use super::say::fault;
use super::theme::{Palette, bold};
use super::words::capital;
use egui::{Id, Label, RichText, Ui};
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::words::InUnit;
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
    let in_hand: Option<String> = ui.data(|d| d.get_temp(Id::unique(IN_HAND)));
    Measure::ALL.into_iter().find(|m| in_hand.as_deref() == Some(&label(*m)))
}

/// The figure with the measure in hand, and how it is taken.
pub(crate) fn figure_with_words(ui: &mut Ui, rows: Rows, height: f32) {
    let in_hand = in_hand(ui);
    let words = in_hand.map_or("A figure standing".into(), |m| {
        format!("Where the {m} is taken: {}", m.definition())
    });
    let (rect, painter) = picture::frame(ui, &rows.palette, height, &words);
    painter.rect_filled(rect, 5.0, rows.palette.paper);
    figure::draw(&painter, rect, &rows.palette, in_hand);
    let words =
        in_hand.map_or("Click into a measure to see where it is taken.", |m| m.definition());
    ui.add(Label::new(words).wrap());
    if let Some(care) = in_hand.and_then(Measure::care) {
        ui.add(Label::new(bold(care).color(rows.palette.madder)).wrap());
    }
}

/// One measure; true when it changed. What is wrong with it stands under it; `empty`
/// is what is said in an empty field of a measure that is needed.
pub(crate) fn measure_row(
    ui: &mut Ui,
    rows: Rows,
    measure: Measure,
    measures: &mut Measures,
    wrong: Option<&DraftError>,
    empty: &str,
) -> bool {
    let Rows { palette, unit, letters } = rows;
    let named = wrong.is_some_and(|w| involves(w, measure));
    let mut value = measures.get(measure);
    let derived = measures.get_or_derived(measure).filter(|_| value.is_none());
    let hint = derived.map_or("not taken".into(), |d| format!("≈ {}", show_rounded(d, unit)));
    let mut changed = false;
    ui.horizontal_wrapped(|ui| {
        let name = label(measure);
        let text = if named {
            bold(format!("{name} (!)")).color(palette.ochre)
        } else {
            RichText::new(&name)
        };
        let size = egui::vec2(170.0 * letters, 22.0);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(size, left, |ui| {
            ui.set_min_width(size.x);
            ui.add(Label::new(text).wrap());
        });
        let hint = if measure.is_optional() { hint.as_str() } else { empty };
        changed = optional_length_field(ui, &palette, &name, &mut value, unit, hint);
    });
    if changed {
        match value {
            Some(mm) => measures.set(measure, mm),
            None => drop(measures.remove(measure)),
        }
    }
    if let Some(wrong) = wrong
        && wrong.measure() == Some(measure)
    {
        fault(palette, ui, &wrong.in_unit(unit));
    }
    changed
}

/// What is only derived is shown without the sign of a rounded value: the hint has
/// its own.
fn show_rounded(mm: f64, unit: Unit) -> String {
    show_length(mm, unit).trim_start_matches('≈').to_owned()
}

/// Whether the fault is about this measure, alone or against another.
fn involves(wrong: &DraftError, measure: Measure) -> bool {
    let other = match wrong {
        DraftError::Measures(MeasureError::Contradiction { other, .. })
        | DraftError::Disagree { other, .. } => Some(*other),
        _ => None,
    };
    wrong.measure() == Some(measure) || other == Some(measure)
}
