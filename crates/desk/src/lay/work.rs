//! Working out what is laid, and looking for a short lay beside the desk.

use super::state::{LayRoom, Made, Shown, plan_of};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::job::{Heard, Job};
use egui::Context;
use hangtrue_adjust::ClothLay;
use hangtrue_cut::{Cloth, pieces_to_cut};
use hangtrue_geometry::words::Length;
use hangtrue_lay::{Effort, Lay, LayError, choose, chosen, find, kept_lay};
use hangtrue_pattern::words::InUnit;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// How often a search tells how it stands, lays.
const TELLS_EVERY: usize = 25;

/// A search beside the desk.
pub(super) struct Work {
    /// What it is for: another cloth or other pieces end it.
    of: Cloth,
    cloth: ClothLay,
    set: Arc<hangtrue_cut::CutSet>,
    pub job: Job<Result<Lay, LayError>>,
}

/// Looks what there is to be shown, and hears the search.
pub(super) fn look(own: &mut LayRoom, board: &Board, requests: &mut Requests, ctx: &Context) {
    let Some(set) = made(own, board) else {
        (own.shown, own.work) = (None, None);
        return;
    };
    let cloth = chosen(board.document(), own.of);
    let ended =
        |w: &Work| w.of != own.of || !same_cloth(&w.cloth, &cloth) || !Arc::ptr_eq(&w.set, &set);
    if own.work.as_ref().is_some_and(ended) {
        own.work = None;
    }
    hear(own, board, requests, ctx);
    let (of, held) = (own.of, own.held);
    let is_shown =
        |s: &Shown| Arc::ptr_eq(&s.set, &set) && s.of == of && s.cloth == cloth && s.held == held;
    if own.shown.as_ref().is_some_and(is_shown) {
        return;
    }
    let lay = kept_lay(&set, of, &cloth).map_err(|why| why.in_unit(board.unit()));
    let lay = lay.map(|mut lay| {
        if let Some(held) = held
            && let Some(place) = lay.places.get_mut(held.part)
        {
            *place = Some(held.place);
        }
        let faults = lay.faults();
        (lay, faults)
    });
    let count = lay.as_ref().map_or(0, |(lay, _)| lay.parts.len());
    own.chosen = own.chosen.filter(|part| *part < count);
    own.shown = Some(Shown { set, of, cloth, held, lay });
}

/// Whether both are the same cloth, wherever pieces were put on it.
fn same_cloth(a: &ClothLay, b: &ClothLay) -> bool {
    let bare = |c: &ClothLay| ClothLay { pieces: Vec::new(), ..c.clone() };
    bare(a) == bare(b)
}

/// The pieces as they are cut now.
fn made(own: &mut LayRoom, board: &Board) -> Option<Arc<hangtrue_cut::CutSet>> {
    let pattern = board.replay.current().ok()?;
    let plan = plan_of(board.document());
    let is_made = |m: &Made| Arc::ptr_eq(&m.pattern, pattern) && m.plan == plan;
    if !own.made.as_ref().is_some_and(is_made) {
        let set = pieces_to_cut(pattern, &plan);
        let set = set.map(Arc::new).map_err(|why| why.in_unit(board.unit()));
        own.made = Some(Made { pattern: pattern.clone(), plan, set });
    }
    own.made.as_ref()?.set.as_ref().ok().cloned()
}

fn hear(own: &mut LayRoom, board: &Board, requests: &mut Requests, ctx: &Context) {
    let Some(work) = &mut own.work else { return };
    let ended = match work.job.hear(ctx) {
        Heard::Waiting => return,
        Heard::Done(ended) => Some(ended),
        Heard::BrokeOff => None,
    };
    let Some(Work { of, mut cloth, .. }) = own.work.take() else { return };
    match ended {
        Some(Ok(lay)) => {
            cloth.pieces = lay.to_keep();
            requests.edit("lay found", move |document| choose(document, of, cloth));
        }
        Some(Err(why)) => own.fault = Some(why.in_unit(board.unit())),
        None => own.fault = Some("the search broke off; look again".into()),
    }
}

/// Begins to look.
pub(super) fn begin(own: &mut LayRoom, board: &Board, ctx: &Context) {
    let Some(shown) = &own.shown else { return };
    let Ok((lay, _)) = &shown.lay else { return };
    own.fault = None;
    let (bed, parts, unit) = (lay.bed, lay.parts.clone(), board.unit());
    let time = Duration::from_secs_f64(own.seconds.clamp(0.1, 3600.0));
    let job = Job::begin(ctx, "Looking for a lay", move |teller| {
        let begun = Instant::now();
        let effort = Effort { rounds: usize::MAX, ..Effort::default() };
        find(bed, parts, effort, &mut |told| {
            let gone = begun.elapsed();
            if told.rounds % TELLS_EVERY == 0 {
                let words = hangtrue_pattern::words!["Shortest so far: ", Length(told.length)];
                let part = gone.as_secs_f64() / time.as_secs_f64();
                teller.doing(&words.in_unit(unit), part.min(0.99));
            }
            gone < time && !teller.given_up()
        })
    });
    let (of, cloth, set) = (shown.of, shown.cloth.clone(), shown.set.clone());
    own.work = Some(Work { of, cloth, set, job });
}
