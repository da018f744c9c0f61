//! What the hanging of the lines may mean: proposals, ranked, with the arithmetic,
//! and a change to try that the maker edits before it is accepted.

use crate::board::Board;
use crate::board::legs::named_on_leg;
use crate::board::next::{Causes, Say, Written};
use crate::board::requests::{Request, Requests};
use crate::board::stage::stage_of;
use crate::board::trial::Trial;
use crate::hang::state::{Hang, SettledHomes};
use crate::hang::work_out_here;
use crate::kit::job::{Job, heard};
use crate::kit::length_field::name_field;
use crate::kit::on_its_own::on_its_own;
use crate::kit::say::{aside, fault, part};
use crate::kit::theme::bold;
use egui::{Frame, Grid, RichText, Stroke, Ui};
use hangtrue_adjust::reading::{
    Droop, LineRead, Looked, Meaning, Observed, ReadTogether, RuleTable, Says, ToileReading,
    read_toile,
};
use hangtrue_adjust::{Change, OPEN_ROUND, RoundPhoto};
use hangtrue_files::droops::usual_rules;
use hangtrue_files::worn::{RoundDroops, round_droops};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, show_margin};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::words::capital;
use std::path::PathBuf;
use std::sync::Arc;

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
    waiting: Option<Job<RoundDroops>>,
}

/// A reading and what it was made of.
struct Read {
    droops: Vec<Droop>,
    together: Vec<ReadTogether>,
    signs: Vec<Looked>,
    homes: SettledHomes,
    pattern: Arc<Pattern>,
    cut: Arc<Pattern>,
    unit: Unit,
    reading: Result<ToileReading, String>,
}

/// From where it is known how lines hang on a toile that fits.
const SETTLED: &str = "How the lines hang on a toile that fits is worked out for this toile on this body: predicted, not seen.";
const CLOSED: &str = "How the lines hang on a toile that fits is reckoned from the slope of the seams: predicted, not seen.";
const TO_SETTLE: &str = "It can be worked out for this toile on the body; what that tells is then taken instead, mostly with a smaller ±, and what is left over may come out otherwise.";
/// A ± wider than this hides a usual fault, mm (ours: little under the 3/8 in that is often
/// pinned).
const COARSE: f64 = 8.0;

/// Shows the card.
pub(super) fn show(
    (own, hang): (&mut ReadingCard, &mut Hang),
    board: &Board,
    requests: &mut Requests,
    ui: &mut Ui,
) {
    let Some(sources) = sources(board) else { return };
    gather(own, board, ui, sources);
    let Some(gathered) = &own.gathered else { return };
    let (found, waits) = (gathered.found.clone(), gathered.waiting.is_some());
    part(ui, "What that may mean");
    on_its_own(ui, "waiting", |ui| {
        if waits {
            ui.horizontal_wrapped(|ui| {
                ui.spinner();
                ui.label("The marked photos are being read.");
            });
        }
    });
    let signs = board.document().journal.signs_of(OPEN_ROUND);
    if found.droops.is_empty() && signs.is_empty() {
        ui.label("Nothing is written down yet for this toile. Measure a line, tick a sign, or mark a photo.");
    } else {
        let homes = hang.home(board);
        read(own, board, (&found, &signs, homes));
        let settled = own.read.as_ref().is_some_and(|r| r.homes.is_some());
        let may = board.toile_is_unanswered() && board.document().worn_by().is_some();
        let finer = may && !settled;
        if !waits {
            tell(own, board, requests, finer && !hang.is_fresh());
        }
        aside(board, ui, if settled { SETTLED } else { CLOSED });
        if finer {
            aside(board, ui, TO_SETTLE);
            on_its_own(ui, "finer", |ui| work_out_here(hang, board, ui));
        }
        meanings(own, board, requests, ui);
    }
    for note in &found.notes {
        aside(board, ui, note.in_unit(board.unit()));
    }
}

/// What of the lines was left over on the toile, by what was written down of it.
pub(super) fn left_over(
    own: &mut ReadingCard,
    hang: &mut Hang,
    board: &Board,
    ui: &Ui,
) -> Vec<LineRead> {
    let Some(sources) = sources(board) else { return Vec::new() };
    gather(own, board, ui, sources);
    let found = own.gathered.as_ref().map(|g| g.found.clone()).unwrap_or_default();
    if found.droops.is_empty() {
        return Vec::new();
    }
    let signs = board.document().journal.signs_of(OPEN_ROUND);
    let homes = hang.home(board);
    read(own, board, (&found, &signs, homes));
    let read = own.read.as_ref().and_then(|r| r.reading.as_ref().ok());
    // What hangs over along a line means nothing yet while something else comes first.
    let read = read.filter(|r| r.waits_for().is_none());
    read.map(|r| r.lines.clone()).unwrap_or_default()
}

fn sources(board: &Board) -> Option<Sources> {
    let journal = &board.document().journal;
    Some(Sources {
        typed: journal.droops_of(OPEN_ROUND).copied().collect(),
        marked: journal.photos_of(OPEN_ROUND).filter(|p| p.marks.is_some()).cloned().collect(),
        project: board.filed.path().map(ToOwned::to_owned),
        toile: board.replay.toile(OPEN_ROUND).ok()?.clone(),
    })
}

/// Gathers the droops anew when something they come from changed.
fn gather(own: &mut ReadingCard, board: &Board, ui: &Ui, from: Sources) {
    let slot = &mut own.gathered;
    if slot.as_ref().is_none_or(|g| g.from != from) {
        let (document, sources) = ((**board.history.now()).clone(), from.clone());
        let gathering = move || {
            let project = sources.project.as_deref();
            round_droops(&document, project, &sources.toile, OPEN_ROUND)
        };
        *slot = Some(if from.marked.is_empty() {
            Gathered { from, found: gathering(), waiting: None }
        } else {
            let job =
                Job::begin(ui.ctx(), "The marked photos are being read", move |_| gathering());
            let found = slot.take().map(|g| g.found).unwrap_or_default();
            Gathered { from, found, waiting: Some(job) }
        });
    }
    if let Some(gathered) = slot
        && let Some(Some(found)) = heard(&mut gathered.waiting, ui.ctx())
    {
        gathered.found = found;
    }
}

/// Reads the droops when they, the pattern or the unit changed.
fn read(
    own: &mut ReadingCard,
    board: &Board,
    (found, signs, homes): (&RoundDroops, &[Looked], SettledHomes),
) {
    // The changes proposed are made on the pattern as it stands.
    let Ok(pattern) = board.replay.current().cloned() else { return };
    let unit = board.unit();
    let card = own;
    let Ok(cut) = board.replay.toile(OPEN_ROUND).cloned() else { return };
    let RoundDroops { droops, together, .. } = found;
    let same = |r: &Read| {
        r.droops == *droops
            && r.together == *together
            && r.signs == signs
            && r.homes.as_ref().map(Arc::as_ptr) == homes.as_ref().map(Arc::as_ptr)
            && Arc::ptr_eq(&r.pattern, &pattern)
            && Arc::ptr_eq(&r.cut, &cut)
            && r.unit == unit
    };
    if card.read.as_ref().is_some_and(same) {
        return;
    }
    let rules = card
        .rules
        .get_or_insert_with(|| usual_rules().map(Arc::new).map_err(|why| why.to_string()));
    let reading = rules.clone().and_then(|rules| {
        let homes = homes.as_ref().map_or(&[][..], |h| h.as_slice());
        let observed = Observed { droops, signs, homes, together };
        read_toile(observed, &rules, &cut, &pattern, unit).map_err(|why| why.to_string())
    });
    card.read = Some(Read {
        droops: droops.clone(),
        together: together.clone(),
        signs: signs.to_vec(),
        homes,
        pattern,
        cut,
        unit,
        reading,
    });
}

/// Tells what the lines may mean as it is shown, for the next step follows from it; `finer`:
/// the ± would be smaller if it were worked out how the toile hangs.
fn tell(own: &ReadingCard, board: &Board, requests: &mut Requests, finer: bool) {
    let Some(read) = &own.read else { return };
    // While the pattern is only being tried nothing is judged.
    if board.trial.is_some() {
        return;
    }
    let says = |kind: fn(&Says) -> bool, reading: &ToileReading| {
        reading.lines.iter().any(|l| kind(&l.says))
    };
    let say = match &read.reading {
        Err(_) => Say::Fault,
        Ok(reading) => match reading.meanings.first() {
            Some(first) if first.until.is_some() => Say::First { cause: first.rule.clone() },
            Some(first) if !first.sure => Say::Open,
            Some(first) => {
                let change = first.change_words.clone().filter(|_| first.can_be_made);
                Say::Cause { cause: first.rule.clone(), change }
            }
            None if says(|s| matches!(s, Says::Off(_)), reading) => Say::Unknown,
            None if reading.signs.iter().any(Looked::is_a_fault) => Say::Unknown,
            None if reading.lines.is_empty() => Say::Partly,
            None if says(|s| *s == Says::Partly, reading) => Say::Partly,
            None => {
                let places = reading.lines.iter().flat_map(|l| &l.places);
                let widest = places.fold(0.0_f64, |widest, p| widest.max(p.error));
                match finer && widest > COARSE {
                    true => Say::Coarse { widest: show_margin(widest, board.unit()) },
                    false => Say::Fits,
                }
            }
        },
    };
    let causes = Causes { of: Written::of(board.document()), say };
    if board.seen.causes.as_ref() != Some(&causes) {
        requests.ask_for(Request::CausesShown(causes));
    }
}

fn meanings(own: &mut ReadingCard, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let reading = match own.read.as_ref().map(|r| r.reading.clone()) {
        Some(Ok(reading)) => reading,
        Some(Err(why)) => return fault(board, ui, &why),
        None => return,
    };
    split(board, ui, &reading.lines);
    for doubt in &reading.doubts {
        fault(board, ui, doubt);
    }
    if reading.meanings.is_empty() {
        for said in reading.nothing_proposed(board.unit()) {
            ui.add(egui::Label::new(said).wrap());
        }
    } else {
        let order = match reading.waits_for() {
            Some(_) => {
                "Proposals. The first is to be settled before the others are believed: then measure the lines anew."
            }
            None => {
                "Proposals, what fits best first. You saw the toile: pin what you believe before the paper is changed."
            }
        };
        aside(board, ui, order);
    }
    if let Some(words) = reading.side_by_side() {
        ui.add(egui::Label::new(bold(words)).wrap());
    }
    for (index, meaning) in reading.meanings.iter().enumerate() {
        ui.add_space(4.0);
        one(board, requests, ui, index + 1, meaning);
    }
    for points in &reading.pointed_at {
        ui.add(egui::Label::new(points).wrap());
    }
    if !reading.not_judged.is_empty() {
        let words = "What else to measure";
        ui.collapsing(words, |ui| {
            for want in &reading.not_judged {
                aside(board, ui, want.clone());
            }
        });
    }
    part(ui, "What neither ruler nor photo tells");
    for unknown in &reading.cannot_know {
        aside(board, ui, unknown.clone());
    }
}

/// Up to these letters four columns fit the card.
const FOUR_COLUMNS: f32 = 1.2;

/// Each place that was measured, against a toile that fits.
fn split(board: &Board, ui: &mut Ui, lines: &[LineRead]) {
    for (name, rows) in LineRead::split_of_all(lines, board.unit()) {
        ui.label(RichText::new(capital(&name)).small().strong());
        // Four columns of large letters are wider than the card.
        if board.settings.letters > FOUR_COLUMNS {
            for [place, measured, home, left] in rows {
                let words =
                    format!("{place}: measured {measured}, where it fits {home}, left over {left}");
                ui.add(egui::Label::new(RichText::new(words).small()).wrap());
            }
            continue;
        }
        let table = Grid::new(("split", name)).num_columns(4).spacing([10.0, 2.0]);
        table.show(ui, |ui| {
            for head in ["", "measured", "where it fits", "left over"] {
                ui.label(RichText::new(head).small().color(board.palette.text_soft));
            }
            ui.end_row();
            for row in rows {
                for words in row {
                    ui.label(RichText::new(words).small());
                }
                ui.end_row();
            }
        });
    }
}

fn one(board: &Board, requests: &mut Requests, ui: &mut Ui, number: usize, meaning: &Meaning) {
    let palette = board.palette;
    let frame = Frame::new().fill(palette.field).stroke(Stroke::new(1.0, palette.rule));
    frame.inner_margin(9.0).corner_radius(5.0).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.label(bold(format!("{number}. {}", capital(&meaning.rule))));
        borne_out(ui, board, meaning.fit);
        ui.add(egui::Label::new(&meaning.words).wrap());
        for line in &meaning.arithmetic {
            ui.add(egui::Label::new(egui::RichText::new(line).small()).wrap());
        }
        for sign in &meaning.signs {
            ui.add(egui::Label::new(egui::RichText::new(sign).small()).wrap());
        }
        for (index, note) in meaning.notes.iter().enumerate() {
            // That it may be nothing stands first, and is no aside.
            if index == 0 && !meaning.sure {
                ui.add(egui::Label::new(bold(note)).wrap());
            } else {
                aside(board, ui, note);
            }
        }
        if let (Some(change), Some(words)) = (&meaning.change, &meaning.change_words) {
            let heading = meaning.change_heading();
            ui.add(egui::Label::new(format!("{heading}: {words}.")).wrap());
            let button = ui.button("Try it on the paper");
            let label = format!("Try proposal {number} on the paper");
            name_field(ui, &button, &label);
            if button.clicked() {
                take(board, requests, meaning.first.as_ref(), change, &meaning.rule);
            }
        }
        for other in &meaning.looks_alike {
            ui.add(egui::Label::new(other.words()).wrap());
        }
        aside(board, ui, format!("Not to be told from the lines: {}", meaning.cannot_know));
        aside(board, ui, format!("Source: {}.", meaning.source));
    });
}

/// How well the lines bear it out: a stitched row as long as the share, and the
/// number.
fn borne_out(ui: &mut Ui, board: &Board, fit: f64) {
    ui.horizontal_wrapped(|ui| {
        let (rect, _) = ui.allocate_exact_size(egui::vec2(90.0, 10.0), egui::Sense::hover());
        let y = rect.center().y;
        let ends = [egui::pos2(rect.left(), y), egui::pos2(rect.right(), y)];
        let soft = Stroke::new(1.0, board.palette.rule);
        ui.painter().line_segment(ends, soft);
        let to = egui::pos2(rect.left() + rect.width() * fit as f32, y);
        let strong = Stroke::new(4.0, board.palette.indigo);
        ui.painter().extend(egui::Shape::dashed_line(&[ends[0], to], strong, 6.0, 2.5));
        ui.small(format!(
            "fits what was measured: {:.0} of 100 (a rank, not a chance)",
            100.0 * fit
        ));
    });
}

/// Lays the proposed change on the table, to be edited and accepted on its card;
/// what has to be done before it is done.
fn take(
    board: &Board,
    requests: &mut Requests,
    first: Option<&Change>,
    change: &Change,
    rule: &str,
) {
    let Ok(pattern) = board.replay.current().cloned() else { return };
    let mut pattern = pattern;
    requests.show_now();
    if let Some(first) = first.cloned() {
        let words = first.words(board.unit()).to_lowercase();
        if let Ok(outcome) = first.apply(&pattern) {
            pattern = Arc::new(outcome.pattern);
        }
        requests.edit(&words.clone(), move |d| d.push(&words, first));
    }
    let change = named_on_leg(&pattern, change.clone());
    requests.go_to(stage_of(&change));
    requests.begin(Trial::new(rule, change));
}
