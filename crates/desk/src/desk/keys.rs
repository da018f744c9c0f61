//! Taking the keys of the desk.

use super::state::Desk;
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::requests::{Request, Requests, Window};
use crate::board::stage::Stage;
use crate::kit::text_size;
use crate::tracing;
use egui::{Context, Key, KeyboardShortcut, Modifiers};

const CTRL: Modifiers = Modifiers::COMMAND;

fn pressed(ctx: &Context, modifiers: Modifiers, key: Key) -> bool {
    ctx.input_mut(|i| i.consume_shortcut(&KeyboardShortcut::new(modifiers, key)))
}

/// Takes the keys pressed since the last picture.
pub(super) fn take(desk: &mut Desk, ctx: &Context) {
    desk.room(ctx, |desk, requests| anywhere(&desk.board, requests, ctx));
    desk.room(ctx, |desk, requests| match &mut desk.tracing {
        // A question that lies over the desk is answered first.
        _ if desk.files.asks() => {}
        // What was recovered may be saved before the rest is answered.
        _ if desk.outside.asks() || !desk.files.left_behind.is_empty() => {
            if pressed(ctx, CTRL, Key::S) {
                requests.ask_for(Request::Save);
            }
        }
        Some(photo) => tracing::keys(photo, requests, ctx),
        None if desk.welcome.is_open() => files_in(requests, ctx),
        None => {
            let open = desk.help.open || desk.help.settings;
            let lost = desk.field;
            let pointing = desk.cards.tools.is_pointing();
            if at_the_table(&desk.board, requests, ctx, open, pointing)
                && let Some(field) = lost
            {
                // Escape took the cursor out of the field it stood in.
                ctx.memory_mut(|m| m.request_focus(field));
            }
            if let Some(stage) = stage_key(&desk.board, ctx) {
                requests.go_to(stage);
                desk.cards.turned_by_key = true;
            }
        }
    });
}

fn anywhere(board: &Board, requests: &mut Requests, ctx: &Context) {
    let typed = |c: &str| {
        ctx.input(|i| i.events.iter().any(|e| matches!(e, egui::Event::Text(t) if t == c)))
    };
    if pressed(ctx, Modifiers::SHIFT, Key::F1) {
        requests.ask_for(Request::Turn(Window::About));
    }
    let asked = !ctx.text_edit_focused() && typed("?");
    if pressed(ctx, Modifiers::NONE, Key::F1) || asked {
        // A list that is open would lie over it.
        egui::Popup::close_all(ctx);
        requests.ask_for(Request::Turn(Window::Help));
    }
    if pressed(ctx, CTRL, Key::Q) {
        ctx.send_viewport_cmd(egui::ViewportCommand::Close);
    }
    if pressed(ctx, CTRL, Key::L) {
        requests.ask_for(Request::Evening(!board.settings.evening));
    }
    if pressed(ctx, CTRL, Key::Plus) || pressed(ctx, CTRL, Key::Equals) {
        requests.ask_for(Request::Letters(board.settings.letters + text_size::STEP));
    }
    if pressed(ctx, CTRL, Key::Minus) {
        requests.ask_for(Request::Letters(board.settings.letters - text_size::STEP));
    }
}

/// What is begun or opened, at the table and at the welcome.
fn files_in(requests: &mut Requests, ctx: &Context) {
    if pressed(ctx, CTRL, Key::N) {
        requests.ask_for(Request::Turn(Window::NewClient));
    }
    if pressed(ctx, CTRL, Key::O) {
        requests.ask(Asked::Open);
    }
    if pressed(ctx, CTRL, Key::I) {
        requests.ask(Asked::Photo);
    }
}

/// The keys of the table; whether a message was closed by Escape.
fn at_the_table(
    board: &Board,
    requests: &mut Requests,
    ctx: &Context,
    window_open: bool,
    pointing: bool,
) -> bool {
    let ctrl_shift = CTRL | Modifiers::SHIFT;
    // The longer combinations come first: the shorter would swallow them.
    if pressed(ctx, ctrl_shift, Key::Z) || pressed(ctx, CTRL, Key::Y) {
        requests.ask_for(Request::Redo);
    } else if pressed(ctx, CTRL, Key::Z) {
        requests.ask_for(Request::Undo);
    }
    if pressed(ctx, ctrl_shift, Key::S) {
        requests.ask(Asked::SaveAs);
    } else if pressed(ctx, CTRL, Key::S) {
        requests.ask_for(Request::Save);
    }
    files_in(requests, ctx);
    if pressed(ctx, CTRL, Key::Enter) && board.trial.is_some() {
        requests.ask_for(Request::AcceptOrTell);
    }
    // An open list closes by Escape, and nothing else does.
    if egui::Popup::is_any_open(ctx) {
        return false;
    }
    if pointing && pressed(ctx, Modifiers::NONE, Key::Escape) {
        requests.ask_for(Request::LayToolsDown);
    }
    let may_leave = !ctx.text_edit_focused() && board.trial.is_some() && !window_open;
    if may_leave && pressed(ctx, Modifiers::NONE, Key::Escape) {
        requests.leave_trial();
    }
    // What was told is read: there is nothing else that Escape would leave.
    let told = board.notice.is_some() && board.trial.is_none() && !window_open;
    let hushed = told && !ctx.text_edit_focused() && pressed(ctx, Modifiers::NONE, Key::Escape);
    if hushed {
        requests.ask_for(Request::HushNotice);
    }
    let up = pressed(ctx, Modifiers::ALT, Key::ArrowUp);
    let down = pressed(ctx, Modifiers::ALT, Key::ArrowDown);
    step_through(board, requests, up, down);
    hushed
}

/// The stage that a key turns to.
fn stage_key(board: &Board, ctx: &Context) -> Option<Stage> {
    if pressed(ctx, CTRL, Key::P) {
        return Some(Stage::Print);
    }
    if pressed(ctx, CTRL, Key::Num0) {
        return Some(board.next().0);
    }
    let mut keys = STAGE_KEYS.into_iter().zip(Stage::ALL);
    keys.find(|(key, _)| pressed(ctx, CTRL, *key)).map(|(_, stage)| stage)
}

/// The keys that, with Ctrl, turn to the stages in their order.
const STAGE_KEYS: [Key; 9] = [
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

/// Looks at the change before or after the one looked at.
fn step_through(board: &Board, requests: &mut Requests, up: bool, down: bool) {
    let count = board.document().changes.len();
    if count == 0 || up == down {
        return;
    }
    requests.turn_away();
    requests.ask_for(Request::Compare(None));
    requests.ask_for(Request::Select(match (board.selected, up) {
        (None, true) => Some(count - 1),
        (None, false) => Some(0),
        (Some(at), true) => at.checked_sub(1),
        (Some(at), false) => Some(at + 1).filter(|n| *n < count),
    }));
}
