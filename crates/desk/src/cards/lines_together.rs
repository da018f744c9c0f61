//! Lines of one name on several pieces, set by one number: back and front, and both
//! legs where they are parted.

use crate::board::Board;
use crate::board::lines::mark_of;
use crate::board::requests::Requests;
use crate::kit::length_field::bare_length_field;
use crate::kit::say::{aside, part};
use egui::Ui;
use hangtrue_adjust::{
    Change, Document, MarkLine, UsualDepths, pulled_length, usual_lines, with_pulled_length,
};
use hangtrue_pattern::{Pattern, ReferenceLine, Rule, names, rule};

/// Numbers this near are the same, mm: what a tape does not show.
const ALIKE: f64 = 0.05;

/// Shows a field for each name that several pieces have a line of.
pub(super) fn show(board: &Board, requests: &mut Requests, ui: &mut Ui, pattern: &Pattern) {
    let together = groups(pattern);
    if together.is_empty() {
        return;
    }
    part(ui, "Lines of one name, together");
    for lines in together {
        let Some(length) = length_of(&lines) else { continue };
        let name = lines[0].name.clone();
        let label = format!("{name}, all together");
        let mut new = length;
        ui.horizontal_wrapped(|ui| {
            ui.label(&label);
            if bare_length_field(ui, &board.palette, &label, &mut new, board.unit()) {
                set(board, requests, pattern, &lines, new);
            }
        });
        // From where the number counts, in the words of one of them.
        if let Some(from) = lines.iter().find(|l| pulled_length(&l.rule) == Some(length)) {
            let sentence = from.rule.sentence(board.unit());
            aside(board, ui, format!("On the {}: {sentence}", from.piece));
        }
        let off =
            |l: &ReferenceLine| pulled_length(&l.rule).is_some_and(|n| (n - length).abs() > ALIKE);
        let alike_rules = lines.iter().all(|l| same_rule(&l.rule, &lines[0].rule));
        if alike_rules && lines.iter().any(off) {
            let on = &lines[0].piece;
            aside(board, ui, format!("They differ now; this is the one on the {on}."));
        }
    }
}

fn same_rule(a: &Rule, b: &Rule) -> bool {
    std::mem::discriminant(a) == std::mem::discriminant(b)
}

/// The lines of each name that can be set by one number: by one rule, or the thigh
/// lines as they usually hang.
fn groups(pattern: &Pattern) -> Vec<Vec<ReferenceLine>> {
    let mut groups: Vec<Vec<ReferenceLine>> = Vec::new();
    for line in &pattern.lines {
        match groups.iter_mut().find(|g| g[0].name == line.name) {
            Some(group) => group.push(line.clone()),
            None => groups.push(vec![line.clone()]),
        }
    }
    groups.retain(|group| {
        let one_rule = group.iter().all(|l| same_rule(&l.rule, &group[0].rule));
        let thigh = group[0].name == names::THIGH && drop_of(group).is_some();
        group.len() > 1 && (one_rule || thigh) && length_of(group).is_some()
    });
    groups
}

/// How far the thigh line hangs below the crotch point, where it does.
fn drop_of(lines: &[ReferenceLine]) -> Option<f64> {
    let below = |l: &ReferenceLine| match &l.rule {
        Rule::Below(rule::Below { drop, .. }) => Some(*drop),
        _ => None,
    };
    lines.iter().find_map(below)
}

/// The number they are set by: that of the first.
fn length_of(lines: &[ReferenceLine]) -> Option<f64> {
    let one_rule = lines.iter().all(|l| same_rule(&l.rule, &lines[0].rule));
    if one_rule { pulled_length(&lines[0].rule) } else { drop_of(lines) }
}

fn set(
    board: &Board,
    requests: &mut Requests,
    pattern: &Pattern,
    lines: &[ReferenceLine],
    length: f64,
) {
    let one_rule = lines.iter().all(|l| same_rule(&l.rule, &lines[0].rule));
    let mut new: Vec<ReferenceLine> = lines.to_vec();
    if one_rule {
        for line in &mut new {
            line.rule = with_pulled_length(&line.rule, length);
        }
    } else {
        // So that the side seams meet, the others follow the one by the crotch point.
        let depths = UsualDepths { thigh: Some(length), ..UsualDepths::default() };
        let Ok(usual) = usual_lines(pattern, depths) else { return };
        for line in &mut new {
            let as_usual = usual.iter().find(|u| u.name == line.name && u.piece == line.piece);
            if let Some(usual) = as_usual {
                line.rule = usual.rule.clone();
            }
        }
    }
    let marks: Vec<(Option<usize>, ReferenceLine)> =
        new.into_iter().map(|line| (mark_of(board, &line), line)).collect();
    let words = format!("the {} lines", lines[0].name);
    requests.edit_on(&words, move |d| marks.into_iter().for_each(|(at, line)| mark(d, at, line)));
}

/// Marks a line anew, in place of the change that marked it before.
fn mark(document: &mut Document, at: Option<usize>, line: ReferenceLine) {
    let line = ReferenceLine { last: None, cloth: None, ..line };
    let name = format!("{} on the {}", line.name, line.piece);
    let change = Change::MarkLine(MarkLine { line });
    match at.and_then(|at| document.changes.get_mut(at)) {
        Some(entry) => entry.change = change,
        None => document.push(&name, change),
    }
}
