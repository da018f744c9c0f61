//! Parts of a panel that come and go or change while something is worked out beside: what
//! stands below them keeps its identity, so that a press or the focus is not lost in the
//! picture in which they change.

use egui::Ui;

/// Shows a part, called so. However much it holds, it counts as one thing of the panel; what may hold
/// nothing is shown all the same.
pub(crate) fn on_its_own<R>(ui: &mut Ui, name: &str, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.push_id(name, add).inner
}
