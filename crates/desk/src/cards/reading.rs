//! What the hanging of the lines may mean: proposals, ranked, with the arithmetic,
//! and a change laid ready that the maker edits before it is accepted.

use super::{aside, fault, hanging, legs, part};
use crate::desk::Desk;
use crate::draft::Draft;
use crate::theme::bold;
use egui::{Frame, Stroke, Ui};
use hangtrue_adjust::reading::{Droop, Meaning, RuleTable, ToileReading, read_toile};
use hangtrue_adjust::{Change, OPEN_ROUND, RoundPhoto};
use hangtrue_files::droops::usual_rules;
use hangtrue_files::worn::{RoundDroops, round_droops};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};

/// What the card keeps.
#[derive(Default)]
pub(crate) struct ReadingCard {
    rules: Option<Result<Arc<RuleTable>, String>>,
    gathered: Option<Gathered>,
    read: Option<Read>,
}

/// What the droops of the round are gathered from.
#[derive(Clone, PartialEq)]
struct Sources {
    typed: Vec<Droop>,
    marked: Vec<RoundPhoto>,
    project: Option<PathBuf>,
    toile: Arc<Pattern>,
}

/// The droops of the round; those of photos are read beside the desk.
struct Gathered {
    from: Sources,
    found: RoundDroops,
    waiting: Option<Receiver<RoundDroops>>,
}

/// A reading and what it was made of.
struct Read {
    droops: Vec<Droop>,
    pattern: Arc<Pattern>,
    unit: Unit,
    reading: Result<ToileReading, String>,
}

/// Shows the card.
pub(super) fn show(desk: &mut Desk, ui: &mut Ui) {
    hanging::show(desk, ui);
    let Some(sources) = sources(desk) else { return };
    gather(desk, ui, sources);
    let Some(gathered) = &desk.cards.reading.gathered else { return };
    let (found, waits) = (gathered.found.clone(), gathered.waiting.is_some());
    part(ui, "What that may mean");
    if waits {
        ui.horizontal(|ui| {
            ui.spinner();
            ui.label("The marked photos are being read.");
        });
    }
    if found.droops.is_empty() {
        ui.label("Nothing is written down yet for this toile. Measure a line, or mark a photo.");
    } else {
        read(desk, &found.droops);
        meanings(desk, ui);
    }
    for note in &found.notes {
        aside(desk, ui, note.in_unit(desk.unit()));
    }
}

fn sources(desk: &Desk) -> Option<Sources> {
    let journal = &desk.document().journal;
    Some(Sources {
        typed: journal.droops_of(OPEN_ROUND).copied().collect(),
        marked: journal.photos_of(OPEN_ROUND).filter(|p| p.marks.is_some()).cloned().collect(),
        project: desk.files.path().map(ToOwned::to_owned),
        toile: desk.replay.toile(OPEN_ROUND).ok()?.clone(),
    })
}

/// Gathers the droops anew when something they come from changed.
fn gather(desk: &mut Desk, ui: &Ui, from: Sources) {
    let slot = &mut desk.cards.reading.gathered;
    if slot.as_ref().is_none_or(|g| g.from != from) {
        let (document, sources) = ((**desk.history.now()).clone(), from.clone());
        let gathering = move || {
            let project = sources.project.as_deref();
            round_droops(&document, project, &sources.toile, OPEN_ROUND)
        };
        *slot = Some(if from.marked.is_empty() {
            Gathered { from, found: gathering(), waiting: None }
        } else {
            let (tell, told) = channel();
            let ctx = ui.ctx().clone();
            std::thread::spawn(move || {
                // The desk may be gone by then; nobody is left to be told.
                let _ = tell.send(gathering());
                ctx.request_repaint();
            });
            let found = slot.take().map(|g| g.found).unwrap_or_default();
            Gathered { from, found, waiting: Some(told) }
        });
    }
    if let Some(gathered) = slot
        && let Some(found) = gathered.waiting.as_ref().and_then(|w| w.try_recv().ok())
    {
        gathered.found = found;
        gathered.waiting = None;
    }
}

/// Reads the droops when they, the pattern or the unit changed.
fn read(desk: &mut Desk, droops: &[Droop]) {
    // The changes proposed are made on the pattern as it stands.
    let Ok(pattern) = desk.replay.current().cloned() else { return };
    let unit = desk.unit();
    let card = &mut desk.cards.reading;
    let same = |r: &Read| r.droops == droops && Arc::ptr_eq(&r.pattern, &pattern) && r.unit == unit;
    if card.read.as_ref().is_some_and(same) {
        return;
    }
    let rules = card
        .rules
        .get_or_insert_with(|| usual_rules().map(Arc::new).map_err(|why| why.to_string()));
    let reading = rules.clone().and_then(|rules| {
        read_toile(droops, &rules, &pattern, unit).map_err(|why| why.to_string())
    });
    card.read = Some(Read { droops: droops.to_vec(), pattern, unit, reading });
}

fn meanings(desk: &mut Desk, ui: &mut Ui) {
    let reading = match desk.cards.reading.read.as_ref().map(|r| r.reading.clone()) {
        Some(Ok(reading)) => reading,
        Some(Err(why)) => return fault(desk, ui, &why),
        None => return,
    };
    if reading.meanings.is_empty() {
        ui.label("No rule is borne out: the lines that were read hang level, or their ± is too wide to tell.");
    } else {
        aside(
            desk,
            ui,
            "Proposals, the best borne out first. You saw the toile: pin what you believe before the paper is changed.",
        );
    }
    for (index, meaning) in reading.meanings.iter().enumerate() {
        ui.add_space(4.0);
        one(desk, ui, index + 1, meaning);
    }
    if !reading.not_judged.is_empty() {
        let words = "What was not judged, for want of a line";
        ui.collapsing(words, |ui| {
            for want in &reading.not_judged {
                aside(desk, ui, want.clone());
            }
        });
    }
    part(ui, "What neither ruler nor photo tells");
    for unknown in &reading.cannot_know {
        aside(desk, ui, unknown.clone());
    }
}

fn one(desk: &mut Desk, ui: &mut Ui, number: usize, meaning: &Meaning) {
    let palette = desk.palette;
    let frame = Frame::new().fill(palette.field).stroke(Stroke::new(1.0, palette.rule));
    frame.inner_margin(9.0).corner_radius(5.0).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.label(bold(format!("{number}. {}", crate::words::capital(&meaning.rule))));
        borne_out(ui, desk, meaning.fit);
        ui.add(egui::Label::new(&meaning.words).wrap());
        for line in &meaning.arithmetic {
            ui.add(egui::Label::new(egui::RichText::new(line).small()).wrap());
        }
        for note in &meaning.notes {
            aside(desk, ui, note.in_unit(desk.unit()));
        }
        if let (Some(change), Some(words)) = (&meaning.change, &meaning.change_words) {
            ui.add(egui::Label::new(format!("Laid ready: {words}.")).wrap());
            let button = ui.button("Try it on the paper");
            let label = format!("Try proposal {number} on the paper");
            crate::length_field::name_field(ui, &button, &label);
            if button.clicked() {
                take(desk, meaning.first.as_ref(), change, &meaning.rule);
            }
        }
        aside(desk, ui, format!("Not to be told from the lines: {}", meaning.cannot_know));
        aside(desk, ui, format!("Source: {}.", meaning.source));
    });
}

/// How well the lines bear it out: a stitched row as long as the share, and the
/// number.
fn borne_out(ui: &mut Ui, desk: &Desk, fit: f64) {
    ui.horizontal_wrapped(|ui| {
        let (rect, _) = ui.allocate_exact_size(egui::vec2(90.0, 10.0), egui::Sense::hover());
        let y = rect.center().y;
        let ends = [egui::pos2(rect.left(), y), egui::pos2(rect.right(), y)];
        let soft = Stroke::new(1.0, desk.palette.rule);
        ui.painter().line_segment(ends, soft);
        let to = egui::pos2(rect.left() + rect.width() * fit as f32, y);
        let strong = Stroke::new(4.0, desk.palette.indigo);
        ui.painter().extend(egui::Shape::dashed_line(&[ends[0], to], strong, 6.0, 2.5));
        ui.small(format!(
            "fits what was measured: {:.0} of 100 (a rank, not a chance)",
            100.0 * fit
        ));
    });
}

/// Lays the proposed change on the table, to be edited and accepted on its card;
/// what has to be done before it is done.
fn take(desk: &mut Desk, first: Option<&Change>, change: &Change, rule: &str) {
    desk.show_now();
    if let Some(first) = first {
        let words = first.words(desk.unit()).to_lowercase();
        desk.edit(&words, |d| d.push(&words, first.clone()));
        desk.recompute();
    }
    let Ok(pattern) = desk.replay.current().cloned() else { return };
    let change = legs::named_on_leg(&pattern, change.clone());
    desk.go_to(super::stage_of(&change));
    desk.set_draft(Some(Draft::new(rule, change)));
}
