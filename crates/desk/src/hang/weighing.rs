//! What a change that lies on the table would do to the marked lines on this body: the toile
//! before and after settled beside the desk, and the difference told. Predicted, not seen.

use super::state::Hang;
use super::work::{Watched, settlings};
use crate::board::Board;
use crate::kit::job::{Heard, Job};
use crate::kit::say::{aside, fault, part, told};
use crate::kit::theme::bold;
use egui::{Context, Label, ProgressBar, Ui};
use hangtrue_adjust::Figure;
use hangtrue_drape::{
    CLAIMED_WEIGHED, Content, LABEL, PredictError, Settled, Weighed, WeighedLine, pleat_doubt,
    settle_all, weigh,
};
use hangtrue_pattern::units::{Unit, show_length, show_margin};
use hangtrue_pattern::words::{InUnit, capital};
use hangtrue_pattern::{Measures, Pattern};
use std::sync::Arc;

/// So many answers are kept: three methods of two pinches and a few corrections.
const MOST_KEPT: usize = 10;

/// A change by what it is called and the patterns before and after it.
#[derive(Clone)]
pub(crate) struct Weighable {
    pub name: String,
    pub before: Arc<Pattern>,
    pub after: Arc<Pattern>,
}

/// A change on a body.
#[derive(Clone)]
struct Question {
    change: Weighable,
    measures: Measures,
    figure: Figure,
}

impl Question {
    fn is_of(&self, change: &Weighable, board: &Board) -> bool {
        Arc::ptr_eq(&self.change.before, &change.before)
            && Arc::ptr_eq(&self.change.after, &change.after)
            && self.figure == board.document().figure
            && board.document().worn_by() == Some(&self.measures)
    }
}

/// The toile before, and what the change does; or why it is not known.
type Answer = Result<(Arc<Settled>, Weighed), PredictError>;

/// What is weighed, was weighed, and waits for it.
#[derive(Default)]
pub(super) struct Weighing {
    known: Vec<(Question, Result<Arc<Weighed>, String>)>,
    work: Option<(Question, Job<Answer>)>,
    waiting: Vec<Weighable>,
}

impl Hang {
    /// What a change does to the lines in a few words, when it was weighed as it is.
    pub(crate) fn in_short(&self, board: &Board, change: &Weighable) -> Option<String> {
        Some(match self.known(board, change)? {
            Ok(weighed) => in_short(weighed, board.unit()),
            Err(_) => "predicted: could not be worked out".into(),
        })
    }

    fn known(&self, board: &Board, change: &Weighable) -> Option<&Result<Arc<Weighed>, String>> {
        let known = self.weighing.known.iter().rev();
        known.into_iter().find(|(q, _)| q.is_of(change, board)).map(|(_, answer)| answer)
    }
}

/// Shows what the change on the table does to the lines, or a button that has it worked out;
/// `all` are the changes that may be weighed in one go, that one among them.
pub(crate) fn show(
    own: &mut Hang,
    board: &Board,
    ui: &mut Ui,
    change: &Weighable,
    all: &[Weighable],
) {
    part(ui, "What it would do to the lines");
    hear(own, board, ui.ctx(), all);
    if board.document().worn_by().is_none() {
        return aside(
            board,
            ui,
            "For that the body is asked for: give its measures under How it will hang.",
        );
    }
    match own.known(board, change) {
        Some(Ok(weighed)) => lines(board, ui, (change, weighed)),
        Some(Err(why)) => fault(board, ui, why),
        None => {}
    }
    if let Some((of, job)) = &own.weighing.work {
        ui.add(Label::new(format!("{}: {}", capital(&of.change.name), job.words)).wrap());
        ui.add(ProgressBar::new(job.part as f32));
        if ui.button("Stop predicting").clicked() {
            (own.weighing.work, own.weighing.waiting) = (None, vec![]);
        }
        return;
    }
    let open: Vec<Weighable> =
        all.iter().filter(|c| own.known(board, c).is_none()).cloned().collect();
    if open.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let only = own.known(board, change).is_none();
        if only && ui.button("Predict it").clicked() {
            own.weighing.waiting = vec![change.clone()];
        }
        let words = if all.len() == open.len() {
            format!("Predict all {}", all.len())
        } else {
            "Predict the others too".to_owned()
        };
        let more = open.len() > usize::from(only);
        if more && ui.button(words).clicked() {
            own.weighing.waiting = open;
        }
    });
    begin_next(own, board, ui.ctx());
    aside(
        board,
        ui,
        "How the toile hangs before and after is worked out on a body of these measures, beside the desk: some seconds each. Predicted, not seen.",
    );
}

/// The line on which a change does most, in a few words; none where nothing is told.
fn in_short(weighed: &Weighed, unit: Unit) -> String {
    if weighed.waist_slips[1] {
        return "predicted: the waist would slip, so no line is read".into();
    }
    let told = weighed.lines.iter().filter(|l| l.tells());
    let most = told.max_by(|a, b| droops(a).abs().total_cmp(&droops(b).abs()));
    match most {
        Some(line) => format!("predicted: {}", sentence(line, unit)),
        None => "predicted: no line moves by more than its ±".into(),
    }
}

fn droops(line: &WeighedLine) -> f64 {
    line.most().map_or(0.0, |place| place.droops_more)
}

/// Where the line changes most and by how much: "thigh of the back, in the middle, 6 mm higher".
fn sentence(line: &WeighedLine, unit: Unit) -> String {
    let Some(most) = line.most() else { return String::new() };
    let place = match most.along {
        a if a < 0.4 => "towards the inner end",
        a if a > 0.6 => "towards the side",
        _ => "in the middle",
    };
    let way = if most.droops_more > 0.0 { "lower" } else { "higher" };
    format!(
        "{} of the {}, {place}, {} {way}",
        line.line,
        line.piece,
        show_length(most.droops_more.abs(), unit)
    )
}

fn lines(board: &Board, ui: &mut Ui, (change, weighed): (&Weighable, &Weighed)) {
    let unit = board.unit();
    ui.add(Label::new(bold(LABEL).color(board.palette.madder)).wrap());
    if weighed.lines.is_empty() {
        ui.label("No line goes to the cloth, so nothing is told. Mark lines first.");
        return;
    }
    let mut quiet = CLAIMED_WEIGHED;
    for line in &weighed.lines {
        if line.tells() {
            let words =
                format!("{} ± {}", sentence(line, unit), show_margin(line.plus_minus, unit));
            ui.add(Label::new(capital(&words)).wrap());
        } else {
            quiet = quiet.max(line.plus_minus);
        }
    }
    let count = weighed.lines.iter().filter(|l| !l.tells()).count();
    if count > 0 {
        let what =
            if count == weighed.lines.len() { "No line changes" } else { "No other changes" };
        let words = format!(
            "{what} by more than its ±, {} at the most: nothing can be told of that.",
            show_margin(quiet, unit)
        );
        ui.add(Label::new(words).wrap());
    }
    if let Some(doubt) = pleat_doubt(&change.after) {
        told(board, ui, doubt.in_unit(unit), true);
    }
    match weighed.waist_slips {
        [_, true] => told(
            board,
            ui,
            "The waist would not stay at its level: such a toile should not be read.".into(),
            true,
        ),
        [true, false] => {
            ui.label("The waist slips now and would stay at its level with it.");
        }
        [false, false] => {}
    }
    aside(
        board,
        ui,
        "Lower or higher than now, against the straight between the line’s own two ends: worked out before and after from the same starts on the same meshes.",
    );
}

/// Takes what was worked out, gives up what is asked about no more (an amount was changed
/// meanwhile), and begins what waits.
fn hear(own: &mut Hang, board: &Board, ctx: &Context, all: &[Weighable]) {
    if let Some((of, job)) = &mut own.weighing.work {
        let asked = all.iter().any(|c| of.is_of(c, board));
        let ended = match job.hear(ctx) {
            Heard::Waiting if asked => return,
            Heard::Done(ended) => Some(ended),
            Heard::Waiting | Heard::BrokeOff => None,
        };
        let of = own.weighing.work.take().map(|work| work.0);
        if let Some((of, ended)) = of.zip(ended) {
            keep(own, board, of, ended);
        }
    }
    own.weighing.waiting.retain(|w| {
        all.iter().any(|c| Arc::ptr_eq(&c.after, &w.after) && Arc::ptr_eq(&c.before, &w.before))
    });
    begin_next(own, board, ctx);
}

/// Keeps an answer, and the toile before by its content: the next change begins from it.
fn keep(own: &mut Hang, board: &Board, of: Question, ended: Answer) {
    let answer = ended.map_err(|why| why.in_unit(board.unit())).map(|(before, weighed)| {
        let (options, handles) = (own.options(board), &of.figure.handles);
        if let Ok(content) = Content::of(&of.change.before, &of.measures, handles, &options) {
            own.kept.keep(content, before);
        }
        Arc::new(weighed)
    });
    let known = &mut own.weighing.known;
    known.push((of, answer));
    let over = known.len().saturating_sub(MOST_KEPT);
    known.drain(..over);
}

fn begin_next(own: &mut Hang, board: &Board, ctx: &Context) {
    if own.weighing.work.is_some() || own.weighing.waiting.is_empty() {
        return;
    }
    let Some(measures) = board.document().worn_by().cloned() else { return };
    let change = own.weighing.waiting.remove(0);
    let question = Question { change, measures, figure: board.document().figure.clone() };
    let options = own.options(board);
    let Question { change, measures, figure } = question.clone();
    let handles = figure.handles;
    let content = Content::of(&change.before, &measures, &handles, &options).ok();
    let before = content.and_then(|c| own.kept.find(c));
    let job = Job::begin(ctx, "Working out how it hangs", move |teller| {
        let times = if before.is_some() { 1 } else { 2 };
        let mut watch = Watched::new(times * settlings(&options));
        let mut watch = |p: &hangtrue_drape::Progress| watch.told(p, teller);
        let Weighable { before: pattern, after, .. } = &change;
        let before = match before {
            Some(before) => before,
            None => Arc::new(settle_all(pattern, &measures, &handles, &options, &mut watch)?),
        };
        let weighed = weigh(pattern, &before, after, &measures, &handles, &options, &mut watch)?;
        Ok((before, weighed))
    });
    own.weighing.work = Some((question, job));
}
