//! The cards at the right: one for each stage.

mod as_sewn;
mod block;
mod body;
mod correct;
mod effect;
mod from_toile;
mod hanging;
mod legs;
mod lines;
mod lines_together;
mod method_drawing;
mod method_fields;
mod methods;
mod notes;
mod pencil;
mod pinch;
mod pins;
pub(crate) mod print;
mod print_cutting;
mod print_papers;
mod reading;
mod sign_drawing;
mod signs;
mod style;
mod walk;

use crate::about::{self, Topic};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::board::stage::Stage;
use crate::hang;
use crate::hang::state::Hang;
use crate::kit::on_its_own::on_its_own;
use crate::kit::panels::Panels;
use crate::kit::scroll::scrolled;
use crate::lay;
use crate::lay::state::LayRoom;
use crate::table::tools::Tools;
use crate::toile;
use crate::toile::state::Toile;
use egui::{Label, RichText, ScrollArea, Ui};

/// What the cards keep between two pictures, and what they share with the table.
#[derive(Default)]
pub(crate) struct Cards {
    pub tools: Tools,
    pub toile: Toile,
    pub hang: Hang,
    pub lay: LayRoom,
    /// What the panel is, is shown at its head.
    pub about: bool,
    /// The stage was turned to by a key: the next Tab goes on in its card.
    pub turned_by_key: bool,
    as_sewn: as_sewn::AsSewnCard,
    body: body::BodyCard,
    correct: correct::CorrectCard,
    form: pencil::PencilForm,
    hanging: hanging::HangingCard,
    notes: notes::NotesCard,
    pinch: pinch::PinchCard,
    print: print::PrintCard,
    reading: reading::ReadingCard,
    walk: walk::WalkCard,
    /// What was shown in the picture before, to open another at its top.
    shown: Option<Panel>,
}

/// Which panel the cards show.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Panel {
    stage: Stage,
    /// A change being tried, and the one it edits again.
    trial: Option<Option<usize>>,
    /// A photo being marked, or what lies in place of the cutting table, has the card to itself.
    alone: bool,
}

impl Panel {
    /// Whether it opens where the other was: a change that ended leaves the list of its
    /// stage where it lies.
    fn opens(self, before: Option<Self>) -> bool {
        before.is_none_or(|b| {
            let other = b.stage != self.stage || b.alone != self.alone;
            other || (self.trial.is_some() && self.trial != b.trial)
        })
    }
}

/// Draws a card and takes what is done to it.
type Draw = fn(&mut Cards, &Board, &mut Requests, &mut Ui);

/// Every card and the stage it is shown at; two cards of one stage stand below
/// each other. A new card is a file of its own and one line here.
const CARDS: &[(Stage, Draw)] = &[
    (Stage::Body, |own, b, r, ui| body::show(&mut own.body, b, r, ui)),
    (Stage::Block, |own, b, r, ui| pencil::show((&mut own.form, &mut own.tools.pencil), b, r, ui)),
    (Stage::Block, |own, b, r, ui| block::show(&own.tools.pencil, b, r, ui)),
    (Stage::Lines, |own, b, r, ui| {
        lines::show((&mut own.tools.pointing, &mut own.as_sewn), b, r, ui);
    }),
    (Stage::Lines, |own, b, r, ui| {
        if b.trial.is_none() {
            hang::invite(&mut own.hang, b, r, ui);
        }
    }),
    (Stage::AsSewn, |own, b, r, ui| hang::show(&mut own.hang, b, r, ui)),
    (Stage::AsSewn, |own, b, r, ui| as_sewn::show(&mut own.as_sewn, b, r, ui)),
    (Stage::Toile, |own, b, r, ui| toile::show(&mut own.toile, b, r, ui)),
    (Stage::Toile, |own, b, r, ui| hanging::show((&mut own.hanging, &mut own.hang), b, r, ui)),
    (Stage::Toile, |_, b, r, ui| signs::show(b, r, ui)),
    (Stage::Toile, |own, b, r, ui| reading::show((&mut own.reading, &mut own.hang), b, r, ui)),
    (Stage::Toile, |own, b, r, ui| notes::show(&mut own.notes, b, r, ui)),
    (Stage::Pinch, |own, b, r, ui| {
        let others = (&mut own.tools, &mut own.hang, &mut own.reading);
        pinch::show((&mut own.pinch, others), b, r, ui);
    }),
    (Stage::Correct, |own, b, r, ui| correct::show((&mut own.correct, &mut own.hang), b, r, ui)),
    (Stage::Correct, |_, b, r, ui| style::show(b, r, ui)),
    (Stage::Walk, |own, b, r, ui| walk::show(&mut own.walk, b, r, ui)),
    (Stage::Print, |own, b, r, ui| {
        if own.lay.open {
            lay::show(&mut own.lay, b, r, ui);
        } else {
            print::show(&mut own.print, b, r, ui);
            lay::invite(&mut own.lay, b, r, ui);
        }
    }),
];

impl Cards {
    /// What is shown now. A photo that is being marked is alone: what its lines may mean is
    /// worked out when it is marked.
    fn panel(&self, board: &Board) -> Panel {
        let stage = board.stage;
        let alone = match stage {
            Stage::Toile => self.toile.open.is_some(),
            Stage::AsSewn => self.hang.open,
            Stage::Print => self.lay.open,
            _ => false,
        };
        Panel { stage, trial: board.trial.as_ref().map(|t| t.at), alone }
    }
}

/// The name of the stage, what it is, and what is to be done there.
fn head(own: &mut Cards, board: &Board, by_key: bool, ui: &mut Ui) {
    let stage = board.stage;
    about::head((&mut own.about, by_key), stage.name(), ui);
    ui.add(Label::new(RichText::new(stage.to_do()).color(board.palette.text_soft)).wrap());
    ui.add_space(4.0);
}

/// Shows the cards of the stage turned to.
pub(crate) fn show(own: &mut Cards, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let stage = board.stage;
    // What a panel is, is closed with its stage: the next is asked about anew.
    if own.shown.is_some_and(|s| s.stage != stage) {
        own.about = false;
    }
    let by_key = std::mem::take(&mut own.turned_by_key);
    // On a low screen the head is scrolled with the rest: the row of stages has the name.
    let low = Panels::of(ui.ctx().content_rect().size(), board.settings.letters).low;
    if !low {
        head(own, board, by_key, ui);
    }
    let panel = own.panel(board);
    let mut scroll = ScrollArea::vertical().id_salt("card").auto_shrink([false, false]);
    if panel.opens(own.shown.replace(panel)) {
        scroll = scroll.vertical_scroll_offset(0.0);
    }
    scrolled(ui, scroll, true, |ui| {
        ui.set_max_width(ui.available_width());
        if low {
            head(own, board, by_key, ui);
        }
        on_its_own(ui, "what it is", |ui| {
            if own.about {
                about::text(Topic::Of(stage), board, requests, ui);
            }
        });
        for (at, (_, draw)) in CARDS.iter().enumerate().filter(|(_, c)| c.0 == stage) {
            on_its_own(ui, &format!("card {at}"), |ui| draw(own, board, requests, ui));
            // Opened by a card, it goes on alone in the same picture.
            if own.panel(board).alone {
                break;
            }
        }
        ui.add_space(30.0);
    });
}
