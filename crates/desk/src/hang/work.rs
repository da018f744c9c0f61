//! The settling beside the desk: begun when it is asked for, given up when it is stopped,
//! its result kept by content.

use super::state::{Bare, Hang, Shown};
use crate::board::Board;
use crate::board::requests::{Leads, Requests};
use crate::kit::job::{Heard, Job, Teller};
use egui::Context;
use hangtrue_adjust::Figure;
use hangtrue_drape::picture::Scene;
use hangtrue_drape::{
    Content, Options, PredictError, Prediction, Progress, Settled, body, read, read_on, settle_all,
    settle_on,
};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Measures, Pattern};
use std::sync::Arc;

/// What is being done, in words.
const WORKING: &str = "Working out how it hangs";

/// Steps a settling usually takes (docs/hang.md: 114 in the mean).
const USUAL_STEPS: f64 = 130.0;

/// What a settling depends on.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    pub pattern: Arc<Pattern>,
    pub measures: Measures,
    pub figure: Figure,
    pub content: Option<Content>,
}

impl Asked {
    /// Whether both come to the same cloth on the same body.
    pub fn same(&self, other: &Self) -> bool {
        self.content.is_some() && self.content == other.content
    }

    /// Whether nothing was changed, lines included.
    fn is_of(&self, pattern: &Arc<Pattern>, measures: &Measures, figure: &Figure) -> bool {
        Arc::ptr_eq(&self.pattern, pattern) && self.measures == *measures && self.figure == *figure
    }
}

/// A settling beside the desk.
pub(super) struct Work {
    pub of: Asked,
    /// What the prediction from an earlier rest claims no less than.
    before: Option<Prediction>,
    pub job: Job<Result<Settled, PredictError>>,
}

/// Looks what there is to be shown now, and hears the work beside.
pub(super) fn look(own: &mut Hang, board: &Board, ctx: &Context) {
    let (Ok(pattern), Some(measures)) = (board.replay.current(), board.document().worn_by()) else {
        (own.asked, own.shown, own.work, own.body) = (None, None, None, None);
        return;
    };
    let figure = &board.document().figure;
    if !own.asked.as_ref().is_some_and(|a| a.is_of(pattern, measures, figure)) {
        let options = own.options(board);
        let content = Content::of(pattern, measures, &figure.handles, &options).ok();
        let (pattern, measures) = (pattern.clone(), measures.clone());
        let asked = Asked { pattern, measures, figure: figure.clone(), content };
        if own.asked.as_ref().is_none_or(|a| !a.same(&asked)) {
            own.fault = None;
            // What goes on is for what was asked before.
            own.work = None;
        }
        own.asked = Some(asked);
    }
    hear(own, board, ctx);
    let Some(asked) = own.asked.clone() else { return };
    let is_read = |s: &Shown| s.of.same(&asked) && Arc::ptr_eq(&s.pattern, &asked.pattern);
    if own.shown.as_ref().is_some_and(is_read) {
        return;
    }
    // Lines are not sewn: what lies settled is read anew, and what is kept is taken up.
    let same = own.shown.as_ref().filter(|s| s.of.same(&asked));
    if let Some((settled, before)) = same.map(|s| (s.settled.clone(), s.told.clone())) {
        let told = if before.began_earlier {
            read_on(&asked.pattern, &settled, &before)
        } else {
            read(&asked.pattern, &settled)
        };
        lay(own, asked, settled, told);
    } else if let Some(settled) = asked.content.and_then(|c| own.kept.find(c)) {
        let told = read(&asked.pattern, &settled);
        lay(own, asked, settled, told);
    }
}

fn lay(own: &mut Hang, of: Asked, settled: Arc<Settled>, told: Prediction) {
    let pattern = of.pattern.clone();
    let scene = Arc::new(Scene::of(&pattern, &settled, &told));
    own.shown = Some(Shown { of, pattern, settled, told, scene });
}

/// Hears the work beside while another room is open: what became of it is told there, with a
/// button that turns to it.
pub(crate) fn go_on(own: &mut Hang, board: &Board, requests: &mut Requests, ctx: &Context) {
    if own.work.is_none() || own.lies_on_table(board) {
        return;
    }
    hear(own, board, ctx);
    if own.work.is_some() {
        return;
    }
    match &own.fault {
        None => requests.tell_of("how it will hang is worked out.", Leads::ToHang),
        Some(why) => requests.tell_fault(format!("how it will hang was not worked out: {why}")),
    }
}

/// Begins what was asked for, where it is known what is to hang on whom.
pub(super) fn begin_wanted(own: &mut Hang, board: &Board, ctx: &Context) {
    if !std::mem::take(&mut own.wanted) || own.asked.is_none() {
        return;
    }
    let has_body = matches!(bare_body(own, board), Some(Ok(_)));
    if has_body && own.work.is_none() && !own.is_fresh() {
        begin(own, board, ctx, false);
    }
}

fn hear(own: &mut Hang, board: &Board, ctx: &Context) {
    let Some(work) = &mut own.work else { return };
    let ended = match work.job.hear(ctx) {
        Heard::Waiting => return,
        Heard::Done(ended) => Some(ended),
        Heard::BrokeOff => None,
    };
    let Some(Work { of, before, .. }) = own.work.take() else { return };
    match ended {
        Some(Ok(settled)) => {
            let settled = Arc::new(settled);
            let told = match &before {
                Some(before) => read_on(&of.pattern, &settled, before),
                None => {
                    if let Some(content) = of.content {
                        own.kept.keep(content, settled.clone());
                    }
                    read(&of.pattern, &settled)
                }
            };
            lay(own, of, settled, told);
        }
        Some(Err(why)) => own.fault = Some(why.in_unit(board.unit())),
        None => own.fault = Some("the work broke off; begin it again".into()),
    }
}

/// Begins the settling; from where the toile lay before, when that is asked for.
pub(super) fn begin(own: &mut Hang, board: &Board, ctx: &Context, from_before: bool) {
    let Some(asked) = own.asked.clone() else { return };
    own.fault = None;
    let options = own.options(board);
    let earlier = own.shown.as_ref().filter(|_| from_before);
    let before = earlier.map(|s| s.told.clone());
    let rest = earlier.map(|s| s.settled.clone());
    let of = asked.clone();
    let words = if from_before { "Working it out from where it lay" } else { WORKING };
    let job = Job::begin(ctx, words, move |teller| {
        let mut watch = Watched::new(if rest.is_some() { 1 } else { settlings(&options) });
        let handles = &asked.figure.handles;
        let mut watch = |p: &Progress| watch.told(p, teller);
        match &rest {
            Some(rest) => settle_on(
                &asked.pattern,
                &asked.measures,
                handles,
                &options,
                &rest.first,
                &mut watch,
            ),
            None => settle_all(&asked.pattern, &asked.measures, handles, &options, &mut watch),
        }
    });
    own.work = Some(Work { of, before, job });
}

/// How often a cloth is settled: every start on the first mesh, one on each other.
pub(super) fn settlings(options: &Options) -> usize {
    options.starts.len() + options.grids.len().saturating_sub(1)
}

/// How far the settlings are.
pub(super) struct Watched {
    all: usize,
    done: usize,
    steps: usize,
}

impl Watched {
    pub(super) fn new(all: usize) -> Self {
        Self { all: all.max(1), done: 0, steps: 0 }
    }

    pub(super) fn told<T: Send + 'static>(
        &mut self,
        progress: &Progress,
        teller: &Teller<T>,
    ) -> bool {
        if progress.steps < self.steps {
            self.done += 1;
        }
        self.steps = progress.steps;
        let within = (progress.steps as f64 / USUAL_STEPS).min(0.97);
        let number = (self.done + 1).min(self.all);
        let words = if self.all > 1 {
            format!("{WORKING}, start {number} of {}", self.all)
        } else {
            WORKING.to_owned()
        };
        teller.doing(&words, ((self.done as f64 + within) / self.all as f64).min(0.99));
        !teller.given_up()
    }
}

/// The body alone, built anew when something of it changed: some hundredths of a second.
pub(super) fn bare_body(own: &mut Hang, board: &Board) -> Option<Result<Arc<Scene>, String>> {
    let asked = own.asked.as_ref()?;
    let same = |b: &Bare| b.of.measures == asked.measures && b.of.figure == asked.figure;
    if !own.body.as_ref().is_some_and(same) {
        let figure = &asked.figure;
        let built = body::build(&asked.measures, &figure.breadths, &figure.handles);
        let scene = built
            .map(|body| Arc::new(Scene::of_body(&body)))
            .map_err(|why| why.in_unit(board.unit()));
        own.body = Some(Bare { of: asked.clone(), scene });
    }
    own.body.as_ref().map(|b| b.scene.clone())
}
