//! Walk: seams slid along each other, matched lengths, corners and darts, and
//! each of them trued after it was seen.

use crate::board::Board;
use crate::board::requests::{Request, Requests};
use crate::board::trial::Trial;
use crate::kit::length_field::{bare_length_field, name_field};
use crate::kit::picture::{self, SewnPiece};
use crate::kit::say::{aside, fault, part, unbroken};
use crate::kit::theme::bold;
use crate::table::ways_out::accept_or_leave;
use egui::Ui;
use hangtrue_adjust::{
    Change, FoldedDart, TrueDart, Walked, fold_darts, laid_across, left_to_true, walk_all,
};
use hangtrue_geometry::{Affine, Point, Rect};
use hangtrue_pattern::units::{show_difference, show_length, show_number};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Join, Pattern};
use std::sync::Arc;

/// Which seam is walked, and how far along.
#[derive(Debug, Clone, Default)]
pub(crate) struct WalkCard {
    join: Option<String>,
    distance: f64,
    /// A distance that was asked for and lies outside.
    past: Option<f64>,
}

/// How much of the pieces the picture shows, mm each way.
const ROUND: f64 = 130.0;

/// Shows the card.
pub(super) fn show(own: &mut WalkCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let Ok(shown) = board.shown() else { return };
    let pattern = shown.new;
    if board.trial.is_some() {
        ui.label("The fix is on the table over the old line. Take it?");
        if let Some(why) = board.trial_fault() {
            fault(board, ui, &why);
        }
        ui.horizontal_wrapped(|ui| accept_or_leave(board, requests, ui));
        ui.separator();
    }
    let walked = match walk_all(&pattern) {
        Ok(walked) => walked,
        Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
    };
    if board.trial.is_none() {
        not_true(own, board, requests, ui, &pattern);
    }
    part(ui, "Slide one along the other");
    slide(own, board, ui, &pattern, &walked);
    part(ui, "Seams");
    for seam in &walked {
        seam_row(board, ui, seam);
    }
    part(ui, "Darts");
    darts(board, ui, &pattern);
    if board.trial.is_none() {
        looked_at(board, requests, ui, &pattern);
    }
}

fn slide(
    own: &mut WalkCard,
    board: &Board,
    ui: &mut Ui,
    pattern: &Arc<Pattern>,
    walked: &[Walked],
) {
    let two_sided: Vec<&Join> = pattern.joins.iter().filter(|j| !j.is_mirror()).collect();
    let Some(join) = two_sided
        .iter()
        .find(|j| Some(&j.name) == own.join.as_ref())
        .or(two_sided.first())
        .copied()
        .cloned()
    else {
        ui.label("No two pieces are sewn to each other yet.");
        return;
    };
    ui.horizontal_wrapped(|ui| {
        ui.label("Walk the");
        for other in &two_sided {
            if ui.selectable_label(other.name == join.name, &other.name).clicked() {
                own.join = Some(other.name.clone());
                own.distance = 0.0;
                own.past = None;
            }
        }
    });
    let Some(lengths) = walked.iter().find(|w| w.join == join.name) else { return };
    let most = lengths.first.min(lengths.second);
    let mut distance = own.distance.clamp(0.0, most);
    draw(board, ui, pattern, &join, distance);
    let unit = board.unit();
    ui.spacing_mut().slider_width = (ui.available_width() - 8.0).max(80.0);
    let slider = ui.add(egui::Slider::new(&mut distance, 0.0..=most).show_value(false));
    name_field(ui, &slider, "How far the seam is walked");
    ui.horizontal_wrapped(|ui| {
        let palette = board.palette;
        ui.label("at");
        bare_length_field(ui, &palette, "Walked so far", &mut distance, unit);
        ui.label(unbroken(&format!(
            "of {} on the {}, {} on the {}",
            show_length(lengths.first, unit),
            lengths.pieces.0,
            show_length(lengths.second, unit),
            lengths.pieces.1
        )));
    });
    own.distance = distance.clamp(0.0, most);
    if (distance - own.distance).abs() > 1e-9 {
        own.past = Some(distance);
    } else if own.distance < most && own.distance > 0.0 {
        own.past = None;
    }
    if let Some(past) = own.past {
        let words = format!(
            "{} lies outside: the seams are walked from 0 to {}.",
            show_length(past, unit),
            show_length(most, unit)
        );
        ui.colored_label(board.palette.ochre, words);
    }
}

fn draw(board: &Board, ui: &mut Ui, pattern: &Arc<Pattern>, join: &Join, distance: f64) {
    let Some(second) = &join.second else { return };
    let Ok(across) = laid_across(pattern, join, distance) else { return };
    let sheets = board.sheets(pattern, 1.2);
    let (Some(a), Some(b)) = (sheets.get(&join.first.piece), sheets.get(&second.piece)) else {
        return;
    };
    let seam = pattern.piece(&join.first.piece).and_then(|p| p.seam(&join.first.seam));
    let Ok(at) = seam.map(|s| s.place(join.first.from, distance).point) else { return };
    let words = format!("{} and {} laid at the {}", join.first.piece, second.piece, join.name);
    let (rect, painter) =
        picture::frame(ui, &board.palette, 220.0 * board.settings.letters.sqrt(), &words);
    let round = Rect::from_center_size(Point::ORIGIN, (2.0 * ROUND, 1.3 * ROUND));
    let view = picture::fitted(round, rect.shrink(4.0)) * Affine::translate(-at.to_vec2());
    let laid = [
        SewnPiece { sheet: a, lines: Vec::new(), by: Affine::IDENTITY },
        SewnPiece { sheet: b, lines: Vec::new(), by: across },
    ];
    picture::as_sewn(&painter, view, &board.palette, &laid, "");
    let here = crate::kit::view::pos(view * at);
    painter.circle_filled(here, 5.0, board.palette.on_paper().madder);
    notches(board, &painter, pattern, join, view, across);
}

/// The notches of both sides, so that it is seen whether they meet.
fn notches(
    board: &Board,
    painter: &egui::Painter,
    pattern: &Pattern,
    join: &Join,
    view: Affine,
    across: Affine,
) {
    let inks = board.palette.on_paper();
    for (side, by) in join.sides().zip([Affine::IDENTITY, across]) {
        let Ok(piece) = pattern.piece(&side.piece) else { continue };
        let Ok(seam) = piece.seam(&side.seam) else { continue };
        for notch in piece.notches.iter().filter(|n| n.seam == side.seam) {
            let at =
                crate::kit::view::pos(view * by * seam.place(notch.from, notch.distance).point);
            painter.circle_stroke(at, 5.0, egui::Stroke::new(2.0, inks.indigo));
            let font = egui::FontId::proportional(13.0);
            painter.text(at, egui::Align2::LEFT_BOTTOM, &notch.name, font, inks.ink);
        }
    }
}

/// Two stretches that differ by less are the same, mm.
const NO_DIFFERENCE: f64 = 0.05;

/// By how much a seam does not match: its length, else its worst corner.
fn off(seam: &Walked, unit: hangtrue_pattern::units::Unit) -> String {
    if !seam.matches {
        return format!("off by {}", show_length(seam.difference.abs(), unit));
    }
    let worst = seam.corners.iter().map(|c| c.off.abs()).fold(0.0, f64::max);
    format!("corner off by {worst:.1}°")
}

/// What was worked out here is one thing, what somebody looked at another: this is said
/// by who looked, for the pattern as it is.
fn looked_at(board: &Board, requests: &mut Requests, ui: &mut Ui, pattern: &Arc<Pattern>) {
    ui.add_space(6.0);
    let same = |then: &Arc<Pattern>| {
        Arc::ptr_eq(then, pattern) || (then.pieces == pattern.pieces && then.joins == pattern.joins)
    };
    if board.seen.walked.as_ref().is_some_and(same) {
        ui.label("You looked at the seams of this pattern.");
    } else if ui.button("I looked at these seams").clicked() {
        requests.ask_for(Request::LookedAtSeams(pattern.clone()));
    }
}

fn seam_row(board: &Board, ui: &mut Ui, seam: &Walked) {
    let (palette, unit) = (board.palette, board.unit());
    ui.horizontal_wrapped(|ui| {
        ui.label(bold(&seam.join));
        let (word, colour) = if seam.is_true() && seam.is_mirror {
            ("its ends meet straight".into(), palette.sage)
        } else if seam.is_true() {
            ("matches".into(), palette.sage)
        } else {
            (off(seam, unit), palette.ochre)
        };
        ui.colored_label(colour, word);
    });
    if seam.is_mirror {
        let words = "Left and right are cut from the same piece, so this seam is sewn to one just like it and there are no lengths to compare; only its ends can be off.";
        aside(board, ui, words);
    } else if seam.stretches.len() > 1 || !seam.matches {
        for s in &seam.stretches {
            let words = format!(
                "{} to {}: {} on {}",
                s.from,
                s.to,
                show_length(s.first, unit),
                show_length(s.second, unit)
            );
            let off = show_difference(s.first - s.second, unit, NO_DIFFERENCE);
            crate::kit::say::row(ui, &words, &off);
        }
    }
    if seam.ease.abs() > 1e-9 {
        aside(board, ui, format!("{} of ease is meant.", show_length(seam.ease, unit)));
    }
    if !seam.matches {
        ui.add(
            egui::Label::new(format!(
                "The {} is {} {} than the {}.",
                seam.pieces.0,
                show_length(seam.difference.abs(), unit),
                if seam.difference > 0.0 { "longer" } else { "shorter" },
                seam.pieces.1
            ))
            .wrap(),
        );
    }
    for corner in seam.corners.iter().filter(|c| !c.is_true) {
        let shape = if corner.off > 0.0 { "a peak" } else { "a dip" };
        ui.add(
            egui::Label::new(format!(
                "At {} the two make {shape} of {:.1}° ({:.1}° and {:.1}°).",
                corner.corner,
                corner.off.abs(),
                corner.first,
                corner.second
            ))
            .wrap(),
        );
    }
    for corner in seam.corners.iter().filter(|c| c.turns_with_the_leg()) {
        let shape = if corner.off > 0.0 { "a peak" } else { "a dip" };
        let words = format!(
            "At {} the two make {shape} of {:.1}°, as the leg tapers: within that, a hem is right.",
            corner.corner,
            corner.off.abs()
        );
        aside(board, ui, words);
    }
    ui.separator();
}

/// Everything that is not true yet, each with a button that shows how it would be
/// trued.
fn not_true(
    own: &mut WalkCard,
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    pattern: &Pattern,
) {
    let (lengths, corners) = match left_to_true(pattern) {
        Ok(left) => left,
        Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
    };
    let darts: Vec<FoldedDart> = fold_darts(pattern).into_iter().filter(|d| !d.is_true).collect();
    if lengths.is_empty() && corners.is_empty() && darts.is_empty() {
        ui.horizontal_wrapped(|ui| {
            crate::kit::say::mark(ui, true, board.palette.sage);
            ui.label("Worked out: every seam, corner and dart matches.");
        });
        return;
    }
    part(ui, "Does not match yet");
    for fix in lengths {
        let words = format!("True the length of the {}", fix.join);
        let at = place_of(pattern, &fix.join, fix.at_matched_end);
        try_button(board, requests, ui, &words, Change::TrueLength(fix), at);
    }
    for fix in corners {
        let at = place_of(pattern, &fix.join, fix.at_matched_end);
        let corner = at.as_ref().map_or("the corner", |a| a.2.as_str());
        let words = format!("True {corner} at the {}", fix.join);
        let (join, near) = (fix.join.clone(), fix.at_matched_end);
        if try_button(board, requests, ui, &words, Change::TrueCorner(fix), at.clone()) {
            // The picture slides to the corner too; the far end is found by its limit.
            own.join = Some(join);
            own.distance = if near { 0.0 } else { f64::MAX };
        }
    }
    for dart in darts {
        let words = format!("True the {} of the {}", dart.dart, dart.piece);
        let piece = pattern.piece(&dart.piece);
        let at = piece.ok().and_then(|p| {
            let (seam, index) = p.dart(&dart.dart).ok()?;
            Some((dart.piece.clone(), seam.parts[index].end(), dart.dart.clone()))
        });
        let fix = TrueDart { piece: dart.piece, dart: dart.dart };
        try_button(board, requests, ui, &words, Change::TrueDart(fix), at);
    }
}

/// Where an end of a join lies on its first piece: the piece, the place, and the
/// name of the corner there.
fn place_of(
    pattern: &Pattern,
    join: &str,
    at_matched_end: bool,
) -> Option<(String, Point, String)> {
    let side = &pattern.joins.iter().find(|j| j.name == join)?.first;
    let piece = pattern.piece(&side.piece).ok()?;
    let end = if at_matched_end { side.from } else { side.from.other() };
    let at = piece.seam(&side.seam).ok()?.end_point(end);
    let name = piece.corners().min_by(|a, b| a.1.distance(at).total_cmp(&b.1.distance(at)))?.0;
    Some((side.piece.clone(), at, name.to_owned()))
}

fn darts(board: &Board, ui: &mut Ui, pattern: &Pattern) {
    let folded = fold_darts(pattern);
    if folded.is_empty() {
        aside(board, ui, "There are no darts.");
    }
    let (palette, unit) = (board.palette, board.unit());
    for dart in folded {
        ui.horizontal_wrapped(|ui| {
            ui.label(bold(format!("{} of the {}", dart.dart, dart.piece)));
            let legs = dart.legs.0 - dart.legs.1;
            let (word, colour) = match (dart.is_true, legs.abs() < NO_DIFFERENCE) {
                (true, _) => ("matches".into(), palette.sage),
                (false, true) => (format!("off by {:.1}°", dart.turn.abs()), palette.ochre),
                (false, false) => {
                    (format!("off by {}", show_length(legs.abs(), unit)), palette.ochre)
                }
            };
            ui.colored_label(colour, word);
        });
        ui.small(format!(
            "takes {}; legs {} and {}; folded, the seam turns by {}°",
            show_length(dart.intake, unit),
            show_length(dart.legs.0, unit),
            show_length(dart.legs.1, unit),
            show_number(dart.turn, 1)
        ));
    }
}

/// A button that lays a fix on the table and comes closer to it; true when it was
/// pressed.
fn try_button(
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
    words: &str,
    change: Change,
    at: Option<(String, Point, String)>,
) -> bool {
    let busy = board.trial.is_some();
    let button = egui::Button::new(format!("{words}: show me")).wrap();
    let clicked = ui.add_enabled(!busy, button).clicked();
    if clicked {
        requests.show_now();
        requests.begin(Trial::new(words, change));
        if let Some((piece, at, _)) = at {
            requests.ask_for(Request::ComeCloser { piece, at });
        }
    }
    clicked
}
