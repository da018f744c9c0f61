//! Block: ease and widths, and what the block came to.

use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::drop_down::{drop_down, pick};
use crate::kit::length_field::{bare_length_field, in_hand, name_id, optional_length_field};
use crate::kit::number_field::percent_field;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use crate::table::pencil::Pencil;
use egui::{Align, ComboBox, Grid, Label, Layout, Ui, vec2};
use hangtrue_adjust::Start;
use hangtrue_pattern::units::{show_length, show_number};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::words::capital;
use hangtrue_pattern::{DraftReport, LegRoom, Plan, draft};

/// Shows the card while the pencil is not out.
pub(super) fn show(hand: &Pencil, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    if hand.on {
        return;
    }
    let Start::Block { measures, plan } = board.document().start.clone() else {
        ui.label(
            "This project started from pieces that were brought in, so there is no ease to set.",
        );
        return;
    };
    let typed_id = egui::Id::unique("plan being typed");
    // What is typed is of the plan on the table: where that became another (undone, opened
    // anew) it is gone.
    let typed: Option<Typed> = ui.data(|d| d.get_temp(typed_id));
    let typed = typed.filter(|t| t.on == plan || t.before == plan);
    // Another field begins from what the one before it came to.
    let field = ui.memory(|m| m.focused());
    let typed = typed.filter(|t| t.refused.is_some() || t.field == field);
    let before = typed.as_ref().map_or_else(|| plan.clone(), |t| t.before.clone());
    let typed = typed.and_then(|t| t.refused);
    let mut new = typed.clone().unwrap_or_else(|| plan.clone());
    part(ui, "Ease and widths");
    // What was typed is judged anew: it may be a block since another field was changed.
    let why = typed.as_ref().and_then(|typed| draft(&measures, typed).err());
    let works_now = typed.is_some() && why.is_none();
    let refused = why.map(|why| why.in_unit(board.unit()));
    let Taken { edited, mut back, told } = fields(board, ui, &mut new, refused.as_deref());
    aside(board, ui, SHARE);
    if edited {
        // The first digits of a number may be a block, and the whole number none: the table
        // then goes back to what it was before anything was typed.
        let whole = draft(&measures, &new).is_ok();
        let on = if whole { new.clone() } else { before.clone() };
        let refused = (!whole).then_some(new);
        ui.data_mut(|d| d.insert_temp(typed_id, Typed { field, before, on: on.clone(), refused }));
        if on != plan {
            requests.edit_on("the ease", move |d| d.start = Start::Block { measures, plan: on });
        }
    } else if let Some(refused) = refused.filter(|_| !told) {
        back |= say_refused(board, ui, &refused);
    }
    if back || (works_now && !edited) {
        ui.data_mut(|d| d.remove::<Typed>(typed_id));
    }
    if let Some(report) = board.replay.draft_report().cloned() {
        came_out(board, ui, &report);
    }
}

/// A plan while it is typed.
#[derive(Clone)]
struct Typed {
    /// The field.
    field: Option<egui::Id>,
    /// As it was before.
    before: Plan,
    /// What of it lies on the table.
    on: Plan,
    /// What is typed and no block.
    refused: Option<Plan>,
}

/// What came of the fields.
#[derive(Default)]
struct Taken {
    edited: bool,
    /// What was refused is to be given up.
    back: bool,
    /// Why it was refused stands under its field.
    told: bool,
}

fn fields(board: &Board, ui: &mut Ui, plan: &mut Plan, refused: Option<&str>) -> Taken {
    let (palette, unit) = (board.palette, board.unit());
    let mut taken = Taken::default();
    let Plan {
        waist_ease,
        hip_ease,
        crotch_ease,
        rise_ease,
        thigh_ease,
        leg_room,
        knee_width,
        knee_ease,
        hem_width,
        hem_ease,
        hem_above_floor,
        back_wider_hip,
        front_wider_waist,
        back_wider_leg,
        back_share,
    } = plan;
    // Why a number was refused stands under its field; nothing above it moves.
    let mut row = |ui: &mut Ui, name: &str, hover: &str, add: &mut dyn FnMut(&mut Ui) -> bool| {
        taken.edited |= label_and_field(board, ui, name, hover, add);
        if let Some(why) = refused.filter(|_| in_hand(ui).as_deref() == Some(name)) {
            taken.told = true;
            taken.back |= say_refused(board, ui, why);
        }
    };
    for (name, value) in [
        ("Waist ease", waist_ease),
        ("Hip ease", hip_ease),
        ("Crotch length ease", crotch_ease),
        ("Crotch hangs lower by", rise_ease),
        ("Thigh ease, at least", thigh_ease),
        ("Knee ease", knee_ease),
        ("Hem over heel by", hem_ease),
        ("Hem above the floor", hem_above_floor),
        ("Back wider at hip by", back_wider_hip),
        ("Front wider at waist by", front_wider_waist),
        ("Back leg wider by", back_wider_leg),
    ] {
        row(ui, name, "", &mut |ui| bare_length_field(ui, &palette, name, value, unit));
    }
    let name = "Room in the leg";
    row(ui, name, ROOM, &mut |ui| room_field(ui, name, leg_room));
    for (name, value) in [("Knee width, one leg", knee_width), ("Hem width, one leg", hem_width)] {
        let from = "from the body";
        row(ui, name, "", &mut |ui| optional_length_field(ui, &palette, name, value, unit, from));
    }
    let name = "Back’s share of the crotch width";
    row(ui, name, SHARE, &mut |ui| percent_field(ui, &palette, name, BACK_SHARE, back_share));
    taken
}

/// A field beside its words, under them on a narrow card.
fn label_and_field(
    board: &Board,
    ui: &mut Ui,
    name: &str,
    hover: &str,
    add: &mut dyn FnMut(&mut Ui) -> bool,
) -> bool {
    let letters = board.settings.letters;
    let label = |ui: &mut Ui| {
        let label = ui.add(Label::new(name).wrap());
        if !hover.is_empty() {
            label.on_hover_text(hover);
        }
    };
    if ui.available_width() < WIDE * letters {
        label(ui);
        return add(ui);
    }
    let row = Layout::left_to_right(Align::Center);
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(vec2(WORDS * letters, 22.0), row, |ui| {
            ui.set_min_width(WORDS * letters);
            label(ui);
        });
        add(ui)
    })
    .inner
}

/// Why a number makes no block, and the way back; whether that was pressed.
fn say_refused(board: &Board, ui: &mut Ui, why: &str) -> bool {
    fault(board, ui, why);
    aside(board, ui, "The block on the table is as it was before this was typed.");
    ui.button("Back to the ease that worked").clicked()
}

/// One of the three kinds of room.
fn room_field(ui: &mut Ui, label: &str, room: &mut LegRoom) -> bool {
    let before = *room;
    let shown = drop_down(ui, ComboBox::from_id_salt(label).selected_text(room.word()), |ui| {
        for choice in LegRoom::ALL {
            pick(ui, room, choice, choice.word());
        }
    });
    name_id(ui, shown.response.id, &format!("{label}: {}", room.word()));
    *room != before
}

/// What the room changes.
const ROOM: &str = "How far the leg stands off the thigh at the crotch, where the crotch length leaves the choice. What came out says how much it is.";

/// Points two columns need, and the words of them, at letters of 100 %.
const WIDE: f32 = 290.0;
const WORDS: f32 = 180.0;

/// Percent the back may have of the crotch's width.
const BACK_SHARE: std::ops::RangeInclusive<f64> = 64.0..=77.0;

/// What that is a share of.
const SHARE: &str = "The crotch seam reaches out beyond the centre, under the body: so much of that width, back and front together, is the back’s. From 64 % to 77 %.";

fn came_out(board: &Board, ui: &mut Ui, report: &DraftReport) {
    part(ui, "What came out");
    let unit = board.unit();
    let mut rows = vec![
        ("Crotch seam", report.crotch),
        ("Waist", report.waist),
        ("Hip", report.hip),
        ("Thigh, at least", report.thigh),
        ("Knee", report.knee),
        ("Hem", report.hem),
    ];
    if let Some(back) = report.back_crotch {
        rows.insert(1, ("Its part on the back", back));
    }
    if board.settings.letters < 1.25 {
        Grid::new("came out").num_columns(3).striped(true).spacing([10.0, 4.0]).show(ui, |ui| {
            for heading in ["", "measure and ease", "on the pieces"] {
                ui.label(bold(heading));
            }
            ui.end_row();
            for (name, solved) in rows {
                ui.label(name);
                ui.label(show_length(solved.target, unit));
                ui.label(show_length(solved.drafted, unit));
                ui.end_row();
            }
        });
    } else {
        // Three columns of large letters do not fit beside each other.
        for (name, solved) in rows {
            let (asked, drawn) =
                (show_length(solved.target, unit), show_length(solved.drafted, unit));
            let words = format!("{name}: {asked} by measure and ease, {drawn} on the pieces.");
            ui.add(egui::Label::new(words).wrap());
        }
    }
    aside(
        board,
        ui,
        format!(
            "Thigh ease {} at the crotch. Of the hip, {} lie in the crotch curves.",
            show_length(report.thigh.drafted - report.thigh_girth, unit),
            show_length(2.0 * (report.back.curve_at_hip + report.front.curve_at_hip), unit)
        ),
    );
    for (name, piece) in [("Back", &report.back), ("Front", &report.front)] {
        let darts: Vec<String> = piece.darts.iter().map(|d| show_length(*d, unit)).collect();
        let darts = if darts.is_empty() {
            "no dart".into()
        } else {
            format!("darts of {}", darts.join(" and "))
        };
        aside(
            board,
            ui,
            format!(
                "{name}: crotch seam {}, inseam {}, side {}, {darts}, centre leans {}°.",
                show_length(piece.crotch, unit),
                show_length(piece.inseam, unit),
                show_length(piece.side, unit),
                show_number(piece.centre_lean, 1)
            ),
        );
    }
    for note in &report.notes {
        ui.colored_label(board.palette.ochre, capital(&note.in_unit(unit)));
    }
}
