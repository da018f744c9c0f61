//! Three ways to take a pinch out of the flat paper, side by side, with what each
//! keeps and what it cannot hold.

use super::{effect, method_drawing};
use crate::board::Board;
use crate::board::legs::drawn_piece;
use crate::hang::state::Hang;
use crate::hang::weighing::{self, Weighable};
use crate::kit::picture;
use crate::kit::say::{aside, fault, fault_line, part, told};
use egui::{Frame, Stroke, Ui, vec2};
use hangtrue_adjust::{
    Applied, Change, ChangeError, Effect, LESS_LEAN, Method, Outcome, Pinch, PinchChange, Proposal,
    SEEN, legs_named, less_lean_beside, propose,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::words::capital;
use std::sync::Arc;

/// The methods as they were tried last.
#[derive(Default)]
pub(super) struct Methods {
    tried: Option<Tried>,
    /// The parameters of the methods not chosen now, so that nothing is lost by
    /// looking at another.
    others: Option<[Method; 3]>,
}

/// The three methods tried on one pinch.
struct Tried {
    base: Arc<Pattern>,
    pinch: Pinch,
    methods: [Method; 3],
    outcomes: Vec<Tries>,
    proposals: Vec<Proposal>,
    /// What a book names beside them, weighed like them.
    less_lean: Option<Result<Outcome, ChangeError>>,
    /// While a station is pulled only the method on the table follows; the others
    /// are tried again when it is let go.
    others_wait: bool,
}

/// The pattern a method gives and what it did, or why it cannot be used.
type Tries = Result<(Arc<Pattern>, Effect), ChangeError>;

impl Tried {
    /// A method as a change whose doing on the body can be predicted.
    fn weighable(&self, index: usize) -> Option<Weighable> {
        let (after, _) = self.outcomes[index].as_ref().ok()?;
        let name = self.methods[index].name().to_owned();
        Some(Weighable { name, before: self.base.clone(), after: after.clone() })
    }
}

impl Methods {
    /// The next pinch starts from the usual parameters of every method.
    pub fn begin_anew(&mut self) {
        self.others = None;
    }

    /// Where a second cut could go.
    pub fn proposals(&self) -> &[Proposal] {
        self.tried.as_ref().map(|t| t.proposals.as_slice()).unwrap_or_default()
    }

    /// Tries all three methods when the pinch, the pattern or a parameter changed.
    pub fn try_all(
        &mut self,
        pulling: bool,
        board: &Board,
        change: &PinchChange,
        base: &Arc<Pattern>,
    ) {
        let mut methods = self.others.clone().unwrap_or_else(|| Method::all(board.unit()));
        for method in &mut methods {
            if method.name() == change.method.name() {
                *method = change.method.clone();
            }
        }
        self.others = Some(methods.clone());
        let same = |t: &Tried| {
            Arc::ptr_eq(&t.base, base)
                && t.pinch == change.pinch
                && t.methods == methods
                && (pulling || !t.others_wait)
        };
        if self.tried.as_ref().is_some_and(same) {
            return;
        }
        let on_the_table = on_the_table(board, change);
        if pulling
            && let Some(tried) = &mut self.tried
            && Arc::ptr_eq(&tried.base, base)
            && tried.methods == methods
            && let Some(chosen) = methods.iter().position(|m| m.name() == change.method.name())
        {
            tried.outcomes[chosen] = on_the_table.unwrap_or_else(|| compute(board, change, base));
            tried.pinch = change.pinch.clone();
            tried.others_wait = true;
            return;
        }
        // A method whose self parameters did not change keeps its outcome.
        let old = self
            .tried
            .take()
            .filter(|t| Arc::ptr_eq(&t.base, base) && t.pinch == change.pinch && !t.others_wait);
        let outcome_of = |(index, method): (usize, &Method)| {
            if let Some(old) = &old
                && old.methods[index] == *method
            {
                return old.outcomes[index].clone();
            }
            if let Some(made) = &on_the_table
                && *method == change.method
            {
                return made.clone();
            }
            compute(
                board,
                &PinchChange { pinch: change.pinch.clone(), method: method.clone() },
                base,
            )
        };
        let outcomes = methods.iter().enumerate().map(outcome_of).collect();
        let on = legs_named(base, &change.pinch.piece).pop();
        let proposals = on.and_then(|(_, on)| {
            let laid = change.pinch.lay(&on).ok()?;
            propose(&on, &change.pinch.piece, &laid).ok()
        });
        let proposals = proposals.unwrap_or_default();
        let less_lean = less_lean_beside(base, &change.pinch);
        let less_lean = less_lean.map(|lean| lean.apply_for(base, board.document().body()));
        let (base, pinch) = (base.clone(), change.pinch.clone());
        self.tried = Some(Tried {
            base,
            pinch,
            methods,
            outcomes,
            proposals,
            less_lean,
            others_wait: false,
        });
    }

    pub fn show(&mut self, hang: &Hang, board: &Board, ui: &mut Ui, change: &mut PinchChange) {
        let Some(tried) = self.tried.take() else { return };
        // Three beside each other; fewer in a row where large letters would stand in a column
        // too thin for their words.
        let (room, letters) = (ui.available_width(), board.settings.letters);
        let wide = ((room - 34.0) / 3.0).max(90.0 * letters).min(room - 12.0);
        let in_a_row = (((room + BETWEEN) / (wide + BETWEEN)).floor() as usize).max(1);
        let all: Vec<usize> = (0..tried.methods.len()).collect();
        for row in all.chunks(in_a_row) {
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing.x = BETWEEN;
                for index in row {
                    way(hang, board, ui, (&tried, *index, wide), change);
                }
            });
        }
        if let Some(lean) = &tried.less_lean {
            less_lean(board, ui, lean);
        }
        self.tried = Some(tried);
    }

    pub fn verdict(&self, board: &Board, ui: &mut Ui, method: &Method) {
        let Some(tried) = &self.tried else { return };
        let at = tried.methods.iter().position(|m| m.name() == method.name());
        let Some(outcome) = at.and_then(|at| tried.outcomes.get(at)) else { return };
        part(ui, &format!("{} on the table", capital(method.name())));
        let outcome = match outcome {
            Ok((_, outcome)) => outcome,
            Err(why) => return fault(board, ui, &why.in_unit(board.unit())),
        };
        effect::show(board, ui, outcome);
    }
}

impl Methods {
    /// What the method on the table would do to the marked lines; the others may be predicted
    /// with it.
    pub fn on_the_body(&self, hang: &mut Hang, board: &Board, ui: &mut Ui, method: &Method) {
        let Some(tried) = self.tried.as_ref().filter(|t| !t.others_wait) else { return };
        let all: Vec<Weighable> =
            (0..tried.methods.len()).filter_map(|i| tried.weighable(i)).collect();
        if let Some(change) = all.iter().find(|c| c.name == method.name()) {
            weighing::show(hang, board, ui, change, &all);
        }
    }
}

/// Between the cards of two ways, points.
const BETWEEN: f32 = 8.0;

/// The card of one way, so wide; it is chosen by its name, which is the button, and by a
/// click anywhere on the card.
fn way(
    hang: &Hang,
    board: &Board,
    ui: &mut Ui,
    (tried, index, wide): (&Tried, usize, f32),
    change: &mut PinchChange,
) {
    let (palette, letters) = (board.palette, board.settings.letters);
    let method = &tried.methods[index];
    let chosen = method.name() == change.method.name();
    let edge = if chosen { Stroke::new(2.5, palette.text) } else { Stroke::new(1.0, palette.rule) };
    let card = Frame::new().stroke(edge).corner_radius(5.0).inner_margin(5.0);
    let card = card.show(ui, |ui| {
        ui.set_width(wide - 12.0);
        ui.vertical(|ui| {
            let name = egui::RichText::new(capital(method.name())).small();
            let button = egui::Button::selectable(chosen, name);
            if ui.add_sized(vec2(wide - 12.0, 26.0 * letters), button).clicked() {
                change.method = method.clone();
            }
            method_drawing::show(ui, &palette, letters, method);
            ui.add(egui::Label::new(small(method.in_a_sentence(change.pinch.lets_out()))).wrap());
            ui.small(match (chosen, tried.others_wait) {
                (true, _) => "on the table",
                (false, false) => "look at it",
                (false, true) => "waits for the pull",
            });
            small_picture(board, ui, tried, index, method);
            numbers(board, ui, &tried.outcomes[index]);
            let weighable = tried.weighable(index);
            if let Some(said) = weighable.and_then(|c| hang.in_short(board, &c)) {
                ui.small(said);
            }
        });
    });
    let clicked = ui.input(|i| i.pointer.primary_clicked());
    if clicked && card.response.contains_pointer() {
        change.method = method.clone();
    }
}

/// The centre back that leans less, and what it costs; or why it cannot be made here.
fn less_lean(board: &Board, ui: &mut Ui, lean: &Result<Outcome, ChangeError>) {
    ui.add(egui::Label::new(small(LESS_LEAN)).wrap());
    match lean {
        Ok(lean) => {
            for cost in &lean.costs {
                ui.add(egui::Label::new(small(&cost.short().in_unit(board.unit()))).wrap());
            }
            aside(board, ui, "It is at Correct, “seat seam out and side in”.");
        }
        Err(why) => fault(board, ui, &why.in_unit(board.unit())),
    }
}

fn small(words: &str) -> egui::RichText {
    egui::RichText::new(words).small()
}

fn compute(board: &Board, change: &PinchChange, base: &Pattern) -> Tries {
    let Outcome { pattern, kept, changed, residue, costs, notes } =
        Change::Pinch(change.clone()).apply_for(base, board.document().body())?;
    Ok((Arc::new(pattern), Effect { kept, changed, residue, costs, notes }))
}

/// What the table shows already: the change being tried is computed once.
fn on_the_table(board: &Board, change: &PinchChange) -> Option<Tries> {
    let trial = board.trial.as_ref()?;
    let at = trial.index_in(board.document());
    let laid = &board.replay.document().changes.get(at)?.change;
    if board.dirty || *laid != Change::Pinch(change.clone()) {
        return None;
    }
    let state = board.replay.states().get(at)?;
    match &state.applied {
        Applied::Done(effect) => Some(Ok((state.pattern.clone(), effect.clone()))),
        Applied::Failed(why) => Some(Err(why.clone())),
        Applied::Off => None,
    }
}

fn small_picture(board: &Board, ui: &mut Ui, tried: &Tried, index: usize, method: &Method) {
    let words = format!("{} on the {}", method.name(), tried.pinch.piece);
    let palette = board.palette;
    let (rect, painter) = picture::frame(ui, &palette, 132.0, &words);
    let old = board.sheets(&tried.base, 0.25);
    let new = tried.outcomes[index].as_ref().ok().map(|o| board.sheets(&o.0, 0.25));
    let piece = drawn_piece(&tried.base, &tried.pinch.piece);
    picture::old_under_new(&painter, rect, &palette, &piece, &old, new.as_deref());
}

fn numbers(board: &Board, ui: &mut Ui, outcome: &Tries) {
    let palette = board.palette;
    match outcome {
        Ok((_, outcome)) => {
            let (all, broken) =
                (outcome.kept.len(), outcome.kept.iter().filter(|k| !k.kept()).count());
            ui.small(match broken {
                0 => format!("the {all} lengths it is to keep are kept"),
                n => format!("{n} of {all} lengths it is to keep change"),
            });
            let most = outcome.changed.iter().filter(|c| c.measure.is_length());
            let most = most.max_by(|a, b| a.change().abs().total_cmp(&b.change().abs()));
            if let Some(most) = most {
                let shown = most.shown(board.unit(), SEEN);
                ui.small(format!("changes most: {}, {}", shown.measure, shown.change));
            }
            for cost in outcome.costs.iter().filter(|c| c.takes_much()) {
                let words = cost.short().in_unit(board.unit());
                if cost.is_too_small() {
                    fault_line(board, ui, &format!("{words}: smaller than the body"));
                } else {
                    told(board, ui, words, true);
                }
            }
            let open: f64 = outcome
                .residue
                .iter()
                .filter(|r| !r.unpinned)
                .map(|r| r.amount.abs())
                .fold(0.0, f64::max);
            ui.small(if open < 0.05 {
                "nothing left over".into()
            } else {
                format!("left over: up to {}", show_length(open, board.unit()))
            });
        }
        Err(_) => {
            ui.colored_label(palette.ochre, egui::RichText::new("not possible here").small());
        }
    }
}
