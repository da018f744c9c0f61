//! The keys of the desk.

use crate::desk::desk::Desk;
use crate::desk::files::{self, Asked};
use crate::board::stage::Stage;
use egui::{Context, Key, KeyboardShortcut, Modifiers};

/// Every key that works anywhere, and what it does; shown in the list of keys.
pub(crate) const KEYS: [(&str, &str); 27] = [
    ("F1 or ?", "this list"),
    ("Tab, Shift+Tab", "the next or last thing: buttons, fields, corners, lines, stations"),
    ("Enter or Space", "press the button that is marked"),
    ("Ctrl+1 … Ctrl+9", "turn to a stage of the round"),
    ("Ctrl+Enter", "accept the change that is being tried"),
    ("Escape", "leave the change that is being tried"),
    ("Ctrl+Z", "undo"),
    ("Ctrl+Shift+Z or Ctrl+Y", "redo"),
    ("Ctrl+O", "open a project"),
    ("Ctrl+S", "save"),
    ("Ctrl+Shift+S", "save as"),
    ("Ctrl+I", "trace a piece from a photo"),
    ("Ctrl+P", "turn to printing"),
    ("F", "show everything on the table"),
    ("T", "true size"),
    ("+ and −", "nearer and farther"),
    ("Arrows", "move the table"),
    ("Arrows on a station of a pinch", "up and down its amount, left and right its place"),
    ("Arrows on a line", "up and down its depth"),
    ("Arrows on a corner, at Block", "move the corner by one step of the tape"),
    ("Arrows on a place of a photo", "by a pixel, with Shift by a tenth; Delete takes it away"),
    ("Shift while pulling on the table", "a fifth of the pull, for small steps"),
    ("M", "lay the mates out, or put them away"),
    ("Arrows in a length", "up and down by one step of the tape"),
    ("Ctrl++ and Ctrl+−", "larger and smaller letters"),
    ("Ctrl+L", "day table or evening lamp"),
    ("Alt+Up and Alt+Down", "step through the changes of the list"),
];

/// Takes the keys pressed since the last picture.
pub(crate) fn take(desk: &mut Desk, ctx: &Context) {
    let pressed = |modifiers: Modifiers, key: Key| {
        ctx.input_mut(|i| i.consume_shortcut(&KeyboardShortcut::new(modifiers, key)))
    };
    let ctrl = Modifiers::COMMAND;
    let ctrl_shift = Modifiers::COMMAND | Modifiers::SHIFT;
    if pressed(Modifiers::NONE, Key::F1) {
        desk.help_open = !desk.help_open;
    }
    let typing = ctx.text_edit_focused();
    let typed = |c: &str| {
        ctx.input(|i| i.events.iter().any(|e| matches!(e, egui::Event::Text(t) if t == c)))
    };
    if !typing && typed("?") {
        desk.help_open = !desk.help_open;
    }
    if pressed(ctrl, Key::L) {
        desk.set_evening(!desk.settings.evening);
    }
    if pressed(ctrl, Key::Plus) || pressed(ctrl, Key::Equals) {
        desk.set_letters(desk.settings.letters + 0.1);
    }
    if pressed(ctrl, Key::Minus) {
        desk.set_letters(desk.settings.letters - 0.1);
    }
    if crate::exchange::photo_is_open(desk) {
        return crate::exchange::photo_keys(desk, ctx);
    }
    // The longer combinations come first: the shorter would swallow them.
    if pressed(ctrl_shift, Key::Z) || pressed(ctrl, Key::Y) {
        desk.redo();
    } else if pressed(ctrl, Key::Z) {
        desk.undo();
    }
    if pressed(ctrl_shift, Key::S) {
        files::ask(desk, Asked::SaveAs);
    } else if pressed(ctrl, Key::S) {
        files::save(desk);
    }
    if pressed(ctrl, Key::O) {
        files::ask(desk, Asked::Open);
    }
    if pressed(ctrl, Key::I) {
        files::ask(desk, Asked::Photo);
    }
    if pressed(ctrl, Key::P) {
        desk.go_to(Stage::Print);
    }
    if pressed(ctrl, Key::Enter) && desk.draft.is_some() {
        match crate::cards::draft_fault(desk) {
            None => desk.accept_draft(),
            Some(why) => desk.tell_fault(why),
        }
    }
    let window_open = desk.help_open || desk.settings_open;
    let pointing = desk.cards.pinch.drawing || desk.cards.lines.pointing.is_some();
    if pointing && pressed(Modifiers::NONE, Key::Escape) {
        desk.cards.pinch.drawing = false;
        desk.cards.lines.pointing = None;
    }
    if !typing && desk.draft.is_some() && !window_open && pressed(Modifiers::NONE, Key::Escape) {
        desk.set_draft(None);
    }
    let stages = [
        Key::Num1,
        Key::Num2,
        Key::Num3,
        Key::Num4,
        Key::Num5,
        Key::Num6,
        Key::Num7,
        Key::Num8,
        Key::Num9,
    ];
    for (key, stage) in stages.into_iter().zip(Stage::ALL) {
        if pressed(ctrl, key) {
            desk.go_to(stage);
        }
    }
    step_through(
        desk,
        pressed(Modifiers::ALT, Key::ArrowUp),
        pressed(Modifiers::ALT, Key::ArrowDown),
    );
}

/// Looks at the change before or after the one looked at.
fn step_through(desk: &mut Desk, up: bool, down: bool) {
    let count = desk.document().changes.len();
    if count == 0 || up == down {
        return;
    }
    desk.set_draft(None);
    desk.compared = None;
    desk.selected = match (desk.selected, up) {
        (None, true) => Some(count - 1),
        (None, false) => Some(0),
        (Some(at), true) => at.checked_sub(1),
        (Some(at), false) => Some(at + 1).filter(|n| *n < count),
    };
}
