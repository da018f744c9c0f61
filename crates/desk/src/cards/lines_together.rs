//! Lines of one name on several pieces, set by one number: back and front, and both
//! legs where they are parted.

use crate::board::Board;
use crate::board::lines::mark_of;
use crate::board::requests::{Request, Requests};
use crate::kit::length_field::bare_length_field;
use crate::kit::say::{aside, part, told};
use egui::Ui;
use hangtrue_adjust::{
    Change, Document, MarkLine, UsualDepths, moved, pulled_length, usual_lines, with_pulled_length,
};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Pattern, ReferenceLine, Rule, names, rule, words};

/// Up to these letters a number stands beside what it is.
const BESIDE: f32 = 1.45;

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
        // Beside large letters the field would be too narrow for its number.
        let row = |ui: &mut Ui| {
            ui.label(&label);
            bare_length_field(ui, &board.palette, &label, &mut new, board.unit())
        };
        let changed = match board.settings.letters > BESIDE {
            true => ui.vertical(row).inner,
            false => ui.horizontal_wrapped(row).inner,
        };
        if changed {
            set(board, requests, pattern, &lines, new);
        }
        // From where the number counts, in the words of one of them.
        let from = lines.iter().find(|l| pulled_length(&l.rule) == Some(length));
        if let Some(from) = from {
            let sentence = from.rule.sentence(board.unit());
            aside(board, ui, format!("On the {}: {sentence}", from.piece));
        }
        if differ(pattern, &lines, length) {
            let on = &from.unwrap_or(&lines[0]).piece;
            told(
                board,
                ui,
                format!(
                    "They differ now: this is the one on the {on}. Typed anew it sets them all."
                ),
                true,
            );
        }
    }
}

/// Whether one of them lies elsewhere than where that number sets them all.
fn differ(pattern: &Pattern, lines: &[ReferenceLine], length: f64) -> bool {
    let Some(together) = set_by(pattern, lines, length) else { return false };
    lines.iter().zip(&together).any(|(now, set)| {
        let numbers = pulled_length(&now.rule).zip(pulled_length(&set.rule));
        !same_rule(&now.rule, &set.rule) || numbers.is_some_and(|(n, s)| (n - s).abs() > ALIKE)
    })
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
    let Some(new) = set_by(pattern, lines, length) else { return };
    mark_all(board, requests, new, &format!("the {} lines", lines[0].name));
}

/// The lines of one name, all set by that number.
fn set_by(pattern: &Pattern, lines: &[ReferenceLine], length: f64) -> Option<Vec<ReferenceLine>> {
    let one_rule = lines.iter().all(|l| same_rule(&l.rule, &lines[0].rule));
    let mut new: Vec<ReferenceLine> = lines.to_vec();
    if one_rule {
        for line in &mut new {
            line.rule = with_pulled_length(&line.rule, length);
        }
        return Some(new);
    }
    // So that the side seams meet, the others follow the one by the crotch point.
    let depths = UsualDepths { thigh: Some(length), ..UsualDepths::default() };
    let usual = usual_lines(pattern, depths).ok()?;
    for line in &mut new {
        let as_usual = usual.iter().find(|u| u.name == line.name && u.piece == line.piece);
        if let Some(usual) = as_usual {
            line.rule = usual.rule.clone();
        }
    }
    Some(new)
}

fn mark_all(board: &Board, requests: &mut Requests, lines: Vec<ReferenceLine>, words: &str) {
    let marks: Vec<(Option<usize>, ReferenceLine)> =
        lines.into_iter().map(|line| (mark_of(board, &line), line)).collect();
    requests.edit_on(words, move |d| marks.into_iter().for_each(|(at, line)| mark(d, at, line)));
}

/// While a line is set on one piece: what its number would do to the line of that name on
/// the others, and setting them along with it.
pub(super) fn offer(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pattern: &Pattern,
    line: &ReferenceLine,
) {
    if board.trial_fault().is_some() {
        return;
    }
    let Some(following) = following(pattern, line) else { return };
    let mut with = pattern.clone();
    let mut lines = with.lines.iter().cloned().collect::<Vec<_>>();
    for new in &following {
        let same = |l: &&mut ReferenceLine| l.name == new.name && l.piece == new.piece;
        if let Some(old) = lines.iter_mut().find(same) {
            *old = ReferenceLine { last: None, cloth: None, ..new.clone() };
        }
    }
    with.lines = lines.into();
    let moves = moved(pattern, &with);
    if moves.is_empty() {
        return;
    }
    let pieces: Vec<&str> = following.iter().map(|l| l.piece.as_str()).collect();
    let whose = pieces.join(" and the ");
    part(ui, &format!("The {} line of the {whose}", line.name));
    for moved in &moves {
        let words =
            words!["By the same number, on the ", moved.piece.as_str(), ", ", moved.words()];
        aside(board, ui, format!("{}.", words.in_unit(board.unit())));
    }
    if ui.button(format!("Accept, and set the {whose}’s too")).clicked() {
        requests.ask_for(Request::AcceptOrTell);
        mark_all(board, requests, following, &format!("the {} lines", line.name));
    }
}

/// The lines of the same name on other pieces that can follow this one, set by its number.
fn following(pattern: &Pattern, line: &ReferenceLine) -> Option<Vec<ReferenceLine>> {
    let group = groups(pattern).into_iter().find(|g| g[0].name == line.name)?;
    let one_rule = group.iter().all(|l| same_rule(&l.rule, &group[0].rule));
    let length = if one_rule {
        pulled_length(&line.rule)?
    } else {
        drop_of(std::slice::from_ref(line)).or_else(|| drop_for(pattern, &group, line))?
    };
    let others = set_by(pattern, &group, length)?.into_iter().filter(|l| l.piece != line.piece);
    let others: Vec<ReferenceLine> = others.collect();
    (!others.is_empty()).then_some(others)
}

/// How far below the crotch point the thigh line has to hang for this one, which follows it,
/// to lie where it was set, mm; its number goes nearly as that does, so a few steps do.
fn drop_for(pattern: &Pattern, group: &[ReferenceLine], line: &ReferenceLine) -> Option<f64> {
    const STEPS: usize = 8;
    let wanted = pulled_length(&line.rule)?;
    let number = |drop: f64| {
        let set = set_by(pattern, group, drop)?;
        let mine = set.into_iter().find(|l| l.piece == line.piece)?;
        pulled_length(&mine.rule).filter(|_| same_rule(&mine.rule, &line.rule))
    };
    let mut drop = drop_of(group)?;
    for _ in 0..STEPS {
        let now = number(drop)?;
        if (now - wanted).abs() < ALIKE {
            return Some(drop);
        }
        let by = (wanted - now) / (number(drop + 1.0)? - now);
        drop += Some(by).filter(|by| by.is_finite())?;
    }
    None
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
