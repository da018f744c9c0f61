//! What a panel is for, in a few words with a small drawing. It is opened and closed at
//! the panel's head: the cards of a stage, the pages of the welcome, the steps of
//! digitising.

mod drawing;
mod on_card;

use crate::board::Board;
use crate::board::requests::{Request, Requests, Window};
use crate::board::stage::Stage;
use crate::kit::theme::bold_family;
use egui::text::{LayoutJob, TextFormat};
use egui::{Button, Frame, Label, Response, Stroke, TextStyle, Ui};

/// What can be asked about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Topic {
    /// The cards of a stage.
    Of(Stage),
    /// How a project is begun.
    Begin,
    /// The form of a new client.
    NewClient,
    /// Digitising: what of known size lies beside the card.
    KnownSize,
    /// Digitising: its marks in the photo.
    Marks,
    /// Digitising: the card's edge.
    Edge,
    /// Digitising: the grainline.
    Grain,
    /// Digitising: taking the piece in.
    BringIn,
}

/// What each is. Words in brackets stand in the words list.
fn text_of(topic: Topic) -> &'static str {
    match topic {
        Topic::Of(Stage::Body) => {
            "The measures of one [body]. Five are needed; each other makes the [block] follow this body more closely, and what is left empty is taken from the others. Touch a field and the figure shows where the tape goes. Change one later, and everything that was made from it follows."
        }
        Topic::Of(Stage::Block) => {
            "The [block] is the plain [pattern] drafted from the measures, one [back] and one [front]. [Ease] is what it measures more than the body. Below, what came out is set against what was asked for. Corners can also be moved by hand."
        }
        Topic::Of(Stage::Lines) => {
            "A [line] marked on the flat pieces should hang [level] on the body. Where it does not, it tells what the cloth wants. A [cloth line] is traced to the [toile]; a [paper line] stays on paper. Each lies by a rule, so it follows when the pieces change."
        }
        Topic::Of(Stage::AsSewn) => {
            "A line that is straight on paper need not be straight once the seams are sewn. At a [seam] it can [peak], [dip] or arrive with a [step]. Know this before the fitting, so that it is not taken for the body's doing. Nothing is to be done here but to look."
        }
        Topic::Of(Stage::Print) => {
            "The pieces at their [actual size], on sheets that are taped together. Measure the test [square] first: when it is as large as it says, so is the pattern. Each piece and [sheet] says for whom it is and which [fitting] it belongs to."
        }
        Topic::Of(Stage::Toile) => {
            "Sew the [toile] in cheap cloth, put it on the body, and look where the lines are not level. How far a place hangs below level is its [droop]. A straight line droops a little on a toile that fits, too: that is its [home], and only the rest is a fault. Measure it by ruler, or take photos and mark the lines on them. Below stand the [causes] it may have, each with a change to try."
        }
        Topic::Of(Stage::Pinch) => {
            "Cloth that is too much is folded away with pins along a line: a [pinch]. Measure at each [pin place] how much is taken, from mark to mark on the flat cloth, then write it down here. The methods to [take up] the pinch on paper stand side by side; nothing is changed until you accept one."
        }
        Topic::Of(Stage::Correct) => {
            "Some shapes of a body are known without pins: a full [seat], one hip higher, a sway in the back. A [correction] changes the paper by so much, and says which measures it keeps. The old outline stays to be seen under the new one."
        }
        Topic::Of(Stage::Walk) => {
            "To [walk] a seam is to lay one edge along the other as it will be sewn. Where lengths or notches do not meet, the pattern is [true]d: here it says how far each is off, and one press mends it. Do it before you print again."
        }
        Topic::Begin => {
            "Trousers are fitted to one real [body] at a time, and each project is kept in a file of its own. From a new client’s measures a [block] is made; a [pattern] you already have is brought in as it is. Then the [toile] is printed and sewn, and what you see on the body is taken back onto the paper."
        }
        Topic::NewClient => {
            "Five measures of the [body] are enough to [draft] a [block]. Touch a field: the figure shows where the tape goes, and the words beside it say how to take the measure. Name or code, and where the file lies, can be changed later; so can every measure, and what was made from it follows."
        }
        Topic::KnownSize => {
            "To [digitise] is to make a [piece] from a photo of its card. A photo alone has no size. So something whose size is known lies flat beside the card, and here you say what it is. The more of it lies all round the card, the better the size is known."
        }
        Topic::Marks => {
            "Click each mark, or each corner of the [sheet], as exactly as you can see it; it is shown enlarged. From these places the photo is turned as if seen from straight above. Marks to spare check each other: how far they miss is how far to trust the [piece]."
        }
        Topic::Edge => {
            "The [outline] of the [piece] is the edge of the card. Click once on the card and its edge is looked for; where it went wrong, pull the corners and the places of a curve yourself. It becomes a few smooth curves that keep within what you allow."
        }
        Topic::Grain => {
            "The [grain] drawn on the card says how the [piece] lies on the cloth: it runs along the threads. Click its two ends. Each [line] and [correction] is laid by it, so an error here turns the whole piece."
        }
        Topic::BringIn => {
            "Say which [piece] it is and what its corners are called, so that each [seam] is known by name. Check the lengths that are told against a tape on the card before you cut. Nothing is changed until you bring it in; it is one change, and can be undone."
        }
    }
}

/// The words in brackets.
fn terms(text: &str) -> impl Iterator<Item = &str> {
    text.split('[').skip(1).filter_map(|rest| rest.split(']').next())
}

/// The panel's name, and the control that opens and closes what it is. The control takes
/// the focus when the panel was turned to by a key.
pub(crate) fn head((open, by_key): (&mut bool, bool), name: &str, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        ui.heading(name);
        let control = switch(open, ui);
        if by_key {
            control.request_focus();
        }
    });
}

/// Opens and closes what a panel is.
pub(crate) fn switch(open: &mut bool, ui: &mut Ui) -> Response {
    let words = if *open { "Close “what is this”" } else { "What is this?" };
    let control = ui.add(Button::new(words)).on_hover_text("Shift+F1");
    if control.clicked() {
        *open = !*open;
    }
    control
}

/// What it is, in a frame.
pub(crate) fn text(topic: Topic, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    let edge = Stroke::new(1.0, board.palette.edge);
    Frame::new().stroke(edge).inner_margin(8.0).corner_radius(5.0).show(ui, |ui| {
        ui.set_width(ui.available_width());
        shown(topic, board, requests, ui);
    });
}

fn shown(topic: Topic, board: &Board, requests: &mut Requests, ui: &mut Ui) {
    drawing::show(topic, board, ui);
    ui.add(Label::new(laid_out(text_of(topic), board, ui)).wrap());
    ui.horizontal_wrapped(|ui| {
        ui.label("Words:");
        for word in terms(text_of(topic)) {
            let link = ui.button(word.to_lowercase());
            crate::kit::length_field::name_field(
                ui,
                &link,
                &format!("Word: {}", word.to_lowercase()),
            );
            if link.clicked() {
                requests.ask_for(Request::Turn(Window::Word(word.to_lowercase())));
            }
        }
    });
}

/// The text with its terms bold.
fn laid_out(text: &str, board: &Board, ui: &Ui) -> LayoutJob {
    let plain = TextFormat {
        font_id: TextStyle::Body.resolve(ui.style()),
        color: board.palette.text,
        ..TextFormat::default()
    };
    let mut bold = plain.clone();
    bold.font_id.family = bold_family();
    let mut job = LayoutJob::default();
    for (index, part) in text.split('[').enumerate() {
        let (term, rest) = part.split_once(']').filter(|_| index > 0).unwrap_or(("", part));
        job.append(term, 0.0, bold.clone());
        job.append(rest, 0.0, plain.clone());
    }
    job
}
