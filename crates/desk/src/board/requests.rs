//! What a room asks for. Rooms read the board and give out requests; the desk
//! applies them in their order once the room is drawn.

use super::asked::Asked;
use super::next::Causes;
use super::stage::Stage;
use super::trial::Trial;
use hangtrue_adjust::Document;
use hangtrue_files::print::Printed;
use hangtrue_geometry::Point;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::Words;
use std::path::PathBuf;
use std::sync::Arc;

/// Something to be told once, in words, where it happened.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Notice {
    pub text: String,
    pub is_fault: bool,
    /// Where it is to be seen, if somewhere else than here.
    pub leads: Option<Leads>,
}

/// What a press on a message turns to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Leads {
    /// How the toile will hang, which was worked out beside.
    ToHang,
}

impl Leads {
    /// What stands on the button.
    pub fn words(self) -> &'static str {
        match self {
            Self::ToHang => "Show it",
        }
    }
}

/// A change of the project.
pub(crate) type Edit = Box<dyn FnOnce(&mut Document)>;

/// A small window over the desk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Window {
    /// The keys and the words, in one window.
    Help,
    /// The same, at this word of the words list.
    Word(String),
    /// What the panel is, at its head.
    About,
    Settings,
    /// The form of a new client.
    NewClient,
    /// The list in place of the card, where there is room for one of them.
    List,
    /// The form that closes the open fitting.
    Closing,
    Send,
    /// What is given to somebody else: the fitting journal.
    Journal,
    /// The project without its photos.
    HandOn,
    /// A class, printed from a list.
    Class,
}

/// What can be asked for.
pub(crate) enum Request {
    /// Changes the project as one step that can be undone. What goes on, like a
    /// number being typed, is one step as long as its words stay the same.
    Edit {
        words: String,
        goes_on: bool,
        change: Edit,
    },
    /// The change being tried as it stands now; none leaves it.
    Try(Option<Trial>),
    /// Lays another change on the table. One that was tried and not accepted is left,
    /// and that is told.
    Begin(Trial),
    /// Leaves what is being tried because something else is turned to, and tells so.
    TurnAway,
    /// Makes the change on the table part of the project.
    Accept,
    /// The same if it can be; else it is left, and why is told.
    AcceptOrLeave,
    /// The same if it can be; else why is told.
    AcceptOrTell,
    /// Opens a change on the card where it was made.
    EditAgain(usize),
    Undo,
    Redo,
    /// Looks at the pattern just after a change; none looks at the present.
    Select(Option<usize>),
    /// Lays two rounds over each other, the older and the newer.
    Compare(Option<(String, String)>),
    GoTo(Stage),
    /// Shows everything on the table.
    Fit,
    /// Shows everything of the photo that lies in place of the table.
    FitPhoto,
    /// Looks closely at a place of a piece until the change on the table is accepted
    /// or left.
    ComeCloser {
        piece: String,
        at: Point,
    },
    /// Lays down what is pointed or drawn with on the table.
    LayToolsDown,
    /// The lines of this pattern were read as sewn.
    ReadAsSewn(Arc<Pattern>),
    /// The person says to have looked at the seams of this pattern.
    LookedAtSeams(Arc<Pattern>),
    /// What the lines of the toile may mean was shown.
    CausesShown(Causes),
    /// The sheets of paper were worked out.
    Printed(Option<Arc<Printed>>),
    Tell {
        words: Words,
        is_fault: bool,
        leads: Option<Leads>,
    },
    /// Turns to what a message was about.
    Follow(Leads),
    /// Takes away what was told.
    HushNotice,
    Evening(bool),
    Letters(f32),
    Mates(bool),
    /// Places of files are typed, or chosen in the system's window.
    TypePlaces(bool),
    /// The screen was measured: points per mm.
    ScreenMeasured(f64),
    KeepSettings,
    /// Opens a small window, or shuts it when it is open.
    Turn(Window),
    /// Asks for a file: in the system's dialog, or by its place being typed.
    Ask(Asked),
    Save,
    /// Opens a project, after asking when there is unsaved work.
    Open(PathBuf),
    /// Goes on with a tracing that an earlier desk left in no file.
    GoOnTracing(PathBuf),
    /// Puts a new project on the desk, that came from there.
    StartNew(Box<Document>, String),
    /// Puts a new client's project on the desk, saved in that file if one is named.
    Begun(Box<Document>, Option<PathBuf>),
    /// Puts the example on the desk.
    LookRound,
    /// The unit new projects are begun with.
    Unit(Unit),
}

/// What was asked for, in order.
#[derive(Default)]
pub(crate) struct Requests(Vec<Request>);

impl Requests {
    pub fn ask_for(&mut self, request: Request) {
        self.0.push(request);
    }

    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Changes the project as one step that can be undone.
    pub fn edit(&mut self, words: &str, change: impl FnOnce(&mut Document) + 'static) {
        let change = Box::new(change);
        self.ask_for(Request::Edit { words: words.to_owned(), goes_on: false, change });
    }

    /// The same for something that goes on.
    pub fn edit_on(&mut self, words: &str, change: impl FnOnce(&mut Document) + 'static) {
        let change = Box::new(change);
        self.ask_for(Request::Edit { words: words.to_owned(), goes_on: true, change });
    }

    /// Lays the change being tried on the table as it stands now.
    pub fn try_out(&mut self, trial: Trial) {
        self.ask_for(Request::Try(Some(trial)));
    }

    /// Lays another change on the table.
    pub fn begin(&mut self, trial: Trial) {
        self.ask_for(Request::Begin(trial));
    }

    /// Leaves the change on the table, because the maker said so.
    pub fn leave_trial(&mut self) {
        self.ask_for(Request::Try(None));
    }

    /// Leaves the change on the table for something else, and tells so.
    pub fn turn_away(&mut self) {
        self.ask_for(Request::TurnAway);
    }

    /// Back to the present pattern.
    pub fn show_now(&mut self) {
        self.ask_for(Request::Select(None));
        self.ask_for(Request::Compare(None));
    }

    pub fn go_to(&mut self, stage: Stage) {
        self.ask_for(Request::GoTo(stage));
    }

    pub fn fit(&mut self) {
        self.ask_for(Request::Fit);
    }

    pub fn tell(&mut self, words: impl Into<Words>) {
        self.ask_for(Request::Tell { words: words.into(), is_fault: false, leads: None });
    }

    /// Tells what is to be seen elsewhere, with a button that turns there.
    pub fn tell_of(&mut self, words: impl Into<Words>, leads: Leads) {
        let leads = Some(leads);
        self.ask_for(Request::Tell { words: words.into(), is_fault: false, leads });
    }

    pub fn tell_fault(&mut self, words: impl Into<Words>) {
        self.ask_for(Request::Tell { words: words.into(), is_fault: true, leads: None });
    }

    pub fn ask(&mut self, asked: Asked) {
        self.ask_for(Request::Ask(asked));
    }
}

impl IntoIterator for Requests {
    type Item = Request;
    type IntoIter = std::vec::IntoIter<Request>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}
