//! Lines: what is marked, by which rule, and whether it goes to the cloth.

use super::as_sewn::{self, AsSewnCard};
use super::lines_together;
use crate::board::Board;
use crate::board::lines::{edit_line, new_line};
use crate::board::requests::Requests;
use crate::board::trial::Trial;
use crate::kit::choice::choice;
use crate::kit::drop_down::{drop_down, item};
use crate::kit::field::one_line;
use crate::kit::length_field::{bare_length_field, name_field, name_id};
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use crate::table::point_at::{Hook, Pointing};
use crate::table::ways_out::accept_or_leave;
use egui::{ComboBox, TextEdit, Ui};
use hangtrue_adjust::glossary::meaning;
use hangtrue_adjust::{Change, EraseLine, MarkLine, UsualDepths, rule_lies_below, usual_lines};
use hangtrue_pattern::rule::{self, Part, PartValue, RULES};
use hangtrue_pattern::units::{Unit, round_in, show_or_finer};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{
    End, Pattern, Piece, Place, Purpose, ReferenceLine, Rule, SeamPlace, names,
};

/// Shows the card.
pub(super) fn show(
    (pointing, as_sewn): (&mut Pointing, &mut AsSewnCard),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let Ok(pattern) = board.replay.current().cloned() else { return };
    let editing = board.trial.as_ref().and_then(|d| match &d.change {
        Change::MarkLine(m) => Some(m.line.clone()),
        _ => None,
    });
    if let Some(line) = editing {
        edit((pointing, as_sewn), board, requests, ui, &pattern, line);
        return;
    }
    if pattern.lines.is_empty() {
        ui.label("No line is marked yet. Mark the usual ones, or make your own by a rule.");
    }
    lines_together::show(board, requests, ui, &pattern);
    list(board, requests, ui, &pattern);
    ui.horizontal_wrapped(|ui| {
        if ui.button("Mark the usual lines").clicked() {
            mark_usual(board.unit(), requests, &pattern);
        }
        for piece in &pattern.pieces {
            if ui.button(format!("New line on the {}", piece.name)).clicked() {
                edit_line(board, requests, new_line(&piece.name, board.unit()));
            }
        }
    });
    aside(
        board,
        ui,
        "A line that should read level on the toile is drawn equally deep along the side and the centre. Square to the grain is level on paper only.",
    );
}

/// What the hip balance line is called in the words list.
const HIP_BALANCE_LINE: &str = "hip balance line";

fn list(board: &Board, requests: &mut Requests, ui: &mut Ui, pattern: &Pattern) {
    let (placed, unplaced) = pattern.place_lines();
    let (mut erase, mut explained) = (None, false);
    for line in &pattern.lines {
        ui.horizontal_wrapped(|ui| {
            ui.label(bold(format!("{} on the {}", line.name, line.piece)));
            let (word, colour) = if line.purpose.to_cloth() {
                ("to the cloth", board.palette.indigo)
            } else {
                ("paper only", board.palette.text_soft)
            };
            ui.colored_label(colour, word);
        });
        ui.add(egui::Label::new(line.rule.sentence(board.unit())).wrap());
        aside(board, ui, line.purpose.reason());
        // The one line whose name does not say where it lies is told of where it first stands.
        if line.name == names::HIP_BALANCE
            && !std::mem::replace(&mut explained, true)
            && let Some(means) = meaning(HIP_BALANCE_LINE)
        {
            aside(board, ui, means);
        }
        let found = placed.iter().find(|p| p.name == line.name && p.piece == line.piece);
        if let Some(why) = found.and_then(|f| f.stale.as_ref()) {
            fault(board, ui, &format!("Stale, lies where it last lay: {why}"));
        }
        let on = format!("{} on the {}", line.name, line.piece);
        if let Some(below) = rule_lies_below(pattern, &line.piece, &line.name) {
            let way = if below > 0.0 { "lower" } else { "higher" };
            let by = show_or_finer(below.abs(), board.unit());
            aside(
                board,
                ui,
                format!(
                    "It is kept where the toile you sewed has it, so that the next toile shows what the change did. By its rule it would now lie {by} {way} at one end."
                ),
            );
            let anew = ui.button("Lay it by its rule again");
            name_id(ui, anew.id, &format!("Lay {on} by its rule again"));
            if anew.clicked() {
                mark_anew(requests, line);
            }
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button(format!("Set {on}")).clicked() {
                edit_line(board, requests, line.clone());
            }
            let remove = ui.button("Remove");
            name_id(ui, remove.id, &format!("Remove {on}"));
            if remove.clicked() {
                erase = Some((line.piece.clone(), line.name.clone()));
            }
        });
        ui.separator();
    }
    for why in unplaced {
        fault(board, ui, &why.in_unit(board.unit()));
    }
    if let Some((piece, line)) = erase {
        let name = format!("{line} off the {piece}");
        let change = Change::EraseLine(EraseLine { piece, line });
        requests.edit(&name.clone(), move |d| d.push(&name, change));
    }
}

/// Lets a line lie by its rule again.
fn mark_anew(requests: &mut Requests, line: &ReferenceLine) {
    let line = ReferenceLine { last: None, cloth: None, ..line.clone() };
    let name = format!("{} on the {} anew", line.name, line.piece);
    requests.edit(&name.clone(), move |d| d.push(&name, Change::MarkLine(MarkLine { line })));
}

fn mark_usual(unit: Unit, requests: &mut Requests, pattern: &Pattern) {
    match usual_lines(pattern, UsualDepths::of(unit)) {
        Ok(lines) => requests.edit("the usual lines", move |d| {
            for line in lines {
                let name = format!("{} on the {}", line.name, line.piece);
                d.push(&name, Change::MarkLine(MarkLine { line }));
            }
        }),
        Err(why) => requests.tell_fault(hangtrue_pattern::words::Words::why(why)),
    }
}

fn edit(
    (pointing, as_sewn): (&mut Pointing, &mut AsSewnCard),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pattern: &Pattern,
    line: ReferenceLine,
) {
    let mut new = line.clone();
    ui.horizontal_wrapped(|ui| {
        ui.label("Name");
        let field = ui.add(one_line(&mut new.name).desired_width(180.0));
        name_field(ui, &field, "Name of the line");
    });
    ui.label(format!("on the {}", new.piece));
    let Ok(piece) = pattern.piece(&new.piece).cloned() else { return };
    part(ui, "By which rule");
    rule_choice(ui, &mut new.rule, &piece, pattern, board.unit());
    hangs_from(board, ui, &mut new.rule, &piece, pattern);
    point(pointing, ui, &new.rule);
    part(ui, "So it reads");
    ui.add(egui::Label::new(new.rule.sentence(board.unit())).wrap());
    part(ui, "What it is for");
    purpose(ui, &mut new.purpose);
    if let Some(why) = board.trial_fault() {
        fault(board, ui, &why);
    }
    if new != line
        && let Some(trial) = board.trial.clone()
    {
        let name = if trial.at.is_some() {
            trial.name.clone()
        } else {
            format!("{} on the {}", new.name, new.piece)
        };
        let change = Change::MarkLine(MarkLine { line: new });
        requests.try_out(Trial { change, name, ..trial });
    }
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
    on_its_own(ui, "the other pieces", |ui| {
        lines_together::offer(board, requests, ui, pattern, &line)
    });
    part(ui, "As sewn it will run");
    as_sewn::of_line(as_sewn, board, ui, &piece.name, &line.name);
}

/// Buttons for pointing at what the rule hangs from.
fn point(pointing: &mut Pointing, ui: &mut Ui, rule: &Rule) {
    let mut rule = rule.clone();
    let hooks = rule.parts().into_iter().enumerate().filter(|(_, p)| p.value.is_on_outline());
    let hooks: Vec<(String, Hook)> =
        hooks.map(|(index, part)| (point_at_words(&part), Hook(index))).collect();
    ui.horizontal_wrapped(|ui| {
        for (words, hook) in hooks {
            if pointing.hook == Some(hook) {
                ui.label("Now click on the table.");
                if ui.button("Do not point").clicked() {
                    pointing.hook = None;
                }
            } else if ui.button(words).clicked() {
                pointing.hook = Some(hook);
            }
        }
    });
}

fn point_at_words(part: &Part<'_>) -> String {
    match part.value {
        PartValue::Place(_) => format!("Point at {}", part.label),
        _ => format!("Point at the {}", part.label),
    }
}

fn purpose(ui: &mut Ui, purpose: &mut Purpose) {
    let mut reason = purpose.reason().to_owned();
    let mut cloth = purpose.to_cloth();
    ui.horizontal_wrapped(|ui| {
        ui.radio_value(&mut cloth, true, "Goes to the cloth");
        ui.radio_value(&mut cloth, false, "Stays on paper");
    });
    let field =
        ui.add(TextEdit::multiline(&mut reason).desired_rows(2).desired_width(f32::INFINITY));
    name_field(ui, &field, "Why the line is there");
    *purpose = if cloth { Purpose::Cloth(reason) } else { Purpose::Paper(reason) };
}

/// A rule to start from, hung from what the piece has.
fn fresh(listed: &rule::Listed, piece: &Piece, pattern: &Pattern, unit: Unit) -> Option<Rule> {
    let on = pattern.lines.iter().filter(|l| l.piece == piece.name);
    let lines: Vec<&str> = on.map(|l| l.name.as_str()).collect();
    (listed.fresh)(&rule::Fresh {
        piece,
        lines: &lines,
        far: round_in(unit, (100.0, 4.0)),
        near: round_in(unit, (50.0, 2.0)),
    })
}

fn rule_choice(ui: &mut Ui, rule: &mut Rule, piece: &Piece, pattern: &Pattern, unit: Unit) {
    let now = rule.about().name;
    let shown =
        drop_down(ui, ComboBox::from_id_salt("rule").selected_text(now).width(260.0), |ui| {
            for listed in RULES {
                let name = listed.about.name;
                if item(ui, name == now, name).clicked()
                    && name != now
                    && let Some(new) = fresh(listed, piece, pattern, unit)
                {
                    *rule = new;
                }
            }
        });
    name_id(ui, shown.response.id, &format!("Rule: {now}"));
}

fn hangs_from(board: &Board, ui: &mut Ui, rule: &mut Rule, piece: &Piece, pattern: &Pattern) {
    let (palette, unit) = (board.palette, board.unit());
    let mut length = |ui: &mut Ui, label: &str, value: &mut f64| {
        ui.horizontal_wrapped(|ui| {
            ui.label(label);
            bare_length_field(ui, &palette, label, value, unit);
        });
    };
    for Part { label, value } in rule.parts() {
        match value {
            PartValue::Length(value) => length(ui, label, value),
            PartValue::Place(place) => place_choice(ui, &mut length, place, (piece, unit)),
            PartValue::SeamFrom((seam, from)) => seam_end(ui, label, piece, seam, from),
            PartValue::Seam(seam) => seam_choice(ui, label, piece, seam),
            PartValue::SeamPlace(place) => {
                seam_end(ui, label, piece, &mut place.seam, &mut place.from);
                length(ui, &format!("Along it, {label}"), &mut place.distance);
            }
            PartValue::Line(line) => {
                let on = pattern.lines.iter().filter(|l| l.piece == piece.name);
                let lines: Vec<String> = on.map(|l| l.name.clone()).collect();
                choice(ui, label, line, &lines);
            }
            PartValue::Share(share) => {
                let mut percent = *share * 100.0;
                let slider = egui::Slider::new(&mut percent, 0.0..=100.0).suffix(" % of the way");
                let shown = ui.add(slider);
                name_field(ui, &shown, label);
                *share = percent / 100.0;
            }
        }
    }
}

fn place_choice(
    ui: &mut Ui,
    length: &mut impl FnMut(&mut Ui, &str, &mut f64),
    place: &mut Place,
    (piece, unit): (&Piece, Unit),
) {
    let far = round_in(unit, (100.0, 4.0));
    let corners: Vec<String> = piece.corners().map(|c| c.0.to_owned()).collect();
    let darts: Vec<String> = piece.darts().map(|d| d.2.name.clone()).collect();
    let mut kind = match place {
        Place::Corner(_) => "a corner",
        Place::Seam(_) => "a place on a seam",
        Place::Apex(_) => "the point of a dart",
        Place::Point(_) => "a point on the paper",
    }
    .to_owned();
    let before = kind.clone();
    let kinds = ["a corner", "a place on a seam", "the point of a dart"].map(str::to_owned);
    choice(ui, "hangs from", &mut kind, &kinds);
    if kind != before {
        *place = match kind.as_str() {
            "a place on a seam" => Place::Seam(SeamPlace {
                seam: piece.seams[0].name.clone(),
                from: End::Start,
                distance: far,
            }),
            "the point of a dart" if !darts.is_empty() => Place::Apex(darts[0].clone()),
            _ => Place::Corner(corners.first().cloned().unwrap_or_default()),
        };
    }
    match place {
        Place::Corner(name) => choice(ui, "corner", name, &corners),
        Place::Apex(name) => choice(ui, "dart", name, &darts),
        Place::Seam(at) => {
            seam_end(ui, "seam", piece, &mut at.seam, &mut at.from);
            length(ui, "Along it", &mut at.distance);
        }
        Place::Point(_) => {}
    }
}

fn seam_choice(ui: &mut Ui, label: &str, piece: &Piece, seam: &mut String) {
    let seams: Vec<String> = piece.seams.iter().map(|s| s.name.clone()).collect();
    choice(ui, label, seam, &seams);
}

/// A seam and the corner it is measured from.
pub(super) fn seam_end(ui: &mut Ui, label: &str, piece: &Piece, seam: &mut String, end: &mut End) {
    seam_choice(ui, label, piece, seam);
    let Ok(index) = piece.seam_index(seam) else { return };
    let start = piece.seams[index].starts_at.clone();
    let finish = piece.seams[(index + 1) % piece.seams.len()].starts_at.clone();
    let mut from = if *end == End::Start { start.clone() } else { finish.clone() };
    choice(ui, &format!("{label} measured from"), &mut from, &[start.clone(), finish]);
    *end = if from == start { End::Start } else { End::End };
}
