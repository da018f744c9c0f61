//! How far a thing was pulled with the pointer.

use super::length_field::step_of;
use egui::{Response, Ui};
use hangtrue_geometry::{Affine, Vec2};
use hangtrue_pattern::units::Unit;

/// How far the pointer pulled since the last picture; the first time since it was
/// pressed, because a pull is known only after a few points.
pub(crate) fn pulled_by(ui: &Ui, response: &Response) -> egui::Vec2 {
    let from_press = ui.input(|i| Some(i.pointer.interact_pos()? - i.pointer.press_origin()?));
    from_press.filter(|_| response.drag_started()).unwrap_or_else(|| response.drag_delta())
}

/// The same on the paper, mm; Shift makes it finer.
pub(crate) fn pulled_on_paper(ui: &Ui, response: &Response, place: Affine) -> Vec2 {
    let d = pulled_by(ui, response);
    let fine = if ui.input(|i| i.modifiers.shift) { 0.2 } else { 1.0 };
    // The screen's y runs down.
    Vec2::new(f64::from(d.x), -f64::from(d.y)) * (fine / place.as_coeffs()[0])
}

/// An amount that was pulled to, to whole steps of the tape; half a mm where that
/// is metric.
pub(crate) fn to_steps(amount: f64, unit: Unit) -> f64 {
    let step = match unit {
        Unit::Mm | Unit::Cm => 0.5,
        unit => step_of(unit),
    };
    (amount / step).round() * step
}
