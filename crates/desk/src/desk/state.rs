//! The desk: the board, and what each room keeps between two pictures.

use super::looked;
use crate::board::Board;
use crate::board::settings::Settings;
use crate::cards::Cards;
use crate::desk::files::asking::Files;
use crate::desk::outside::found::Outside;
use crate::desk::recovery::{Recovery, left_behind};
use crate::edges::help::Help;
use crate::edges::list::List;
use crate::exchange::Exchange;
use crate::kit::theme;
use crate::table::state::Table;
use crate::tracing::photo::Photo;
use crate::welcome::Welcome;
use hangtrue_adjust::{Document, Replay};
use hangtrue_files::project::Held;
use std::path::{Path, PathBuf};

/// The whole desk. It draws itself into any [`egui::Ui`], so that it can be
/// driven without a window.
pub struct Desk {
    pub(super) board: Board,
    pub(super) table: Table,
    pub(super) cards: Cards,
    pub(super) list: List,
    pub(super) help: Help,
    pub(super) welcome: Welcome,
    pub(super) exchange: Exchange,
    /// Photos being traced, in place of the table.
    pub(super) tracing: Option<Box<Photo>>,
    pub(super) files: Files,
    pub(super) recovery: Recovery,
    pub(super) outside: Outside,
    pub(super) own_folder: Option<PathBuf>,
    pub(super) dressed: bool,
    /// The field the cursor stood in when the last picture was drawn.
    pub(super) field: Option<egui::Id>,
    /// The day was said and is not looked up.
    day_is_set: bool,
}

impl Desk {
    /// A desk with a project on it, `held` in its file or in none. `own_folder` is where settings and unsaved
    /// work are kept, and where work is looked for that an earlier desk could not
    /// save; none keeps nothing.
    pub fn new(document: Document, held: Option<Held>, own_folder: Option<PathBuf>) -> Self {
        let settings = own_folder.as_deref().map(Settings::read).unwrap_or_default();
        let recovery = Recovery::new(own_folder.clone());
        let earlier = own_folder.as_deref().map(|own| left_behind(own, recovery.file()));
        let earlier = earlier.unwrap_or_default();
        let mut files = Files::with_left_behind(earlier.left);
        let mut board = Board::new(document, held, settings);
        files.look_whether_otherwise(board.filed.held(), &board.replay);
        board.kept_in = recovery.file().map(Path::to_owned);
        let mut desk = Self {
            board,
            table: Table::default(),
            cards: Cards::default(),
            list: List::default(),
            help: Help::default(),
            welcome: Welcome::default(),
            exchange: Exchange::default(),
            tracing: None,
            files,
            outside: Outside::default(),
            recovery,
            own_folder,
            dressed: false,
            field: None,
            day_is_set: false,
        };
        looked::take_up(&mut desk);
        if let [(_, why), ..] = &earlier.unreadable[..] {
            desk.say_fault(format!("work an earlier desk could not save is kept, but {why}"));
        }
        desk
    }

    /// A desk nobody chose a project for: it asks how to begin. A file that was named
    /// and is not there yet is where the new project is to lie.
    pub fn welcoming(missing: Option<PathBuf>, own_folder: Option<PathBuf>) -> Self {
        let mut desk = Self::new(crate::sample::opening(), None, own_folder);
        desk.board.blank = true;
        match missing {
            Some(file) => desk.welcome.begin_at(file),
            None => desk.welcome.open(),
        }
        desk
    }

    /// The same desk on that day, so that its pages and pictures can be made again.
    #[must_use]
    pub fn on_day(mut self, date: &str) -> Self {
        date.clone_into(&mut self.board.today);
        self.day_is_set = true;
        self
    }

    /// A desk that stands open over midnight writes the day that it is.
    pub(super) fn look_at_the_day(&mut self) {
        if !self.day_is_set {
            self.board.today = hangtrue_files::today();
        }
    }

    /// The same desk settling its toile on one coarse mesh from one start: for tests,
    /// which have no time for more.
    #[must_use]
    pub fn settling_coarsely(mut self) -> Self {
        self.cards.hang.settle_coarsely();
        self
    }

    /// The same desk where the system has no window to choose a file in: places are typed.
    #[must_use]
    pub fn without_dialogs(mut self) -> Self {
        self.board.no_dialogs = true;
        self
    }

    /// The project as it would be saved.
    pub fn document(&self) -> &Document {
        self.board.document()
    }

    /// What the document computes to, the change being made included.
    pub fn replay(&self) -> &Replay {
        &self.board.replay
    }

    /// Whether there is work that is not in the file.
    pub fn is_unsaved(&self) -> bool {
        self.board.is_unsaved()
    }

    /// The window's title: the truth about what is saved.
    pub fn title(&self) -> String {
        if self.board.blank {
            return "Welcome · Hangtrue".into();
        }
        let document = self.document();
        let unsaved = if self.is_unsaved() { " — not saved" } else { "" };
        let place = self.board.filed.name().unwrap_or_else(|| "no file yet".into());
        format!("{} · {} ({place}){unsaved} · Hangtrue", document.title, document.client)
    }

    /// Loads the letters; once for each context, before the first picture.
    pub fn prepare(ctx: &egui::Context) {
        theme::load_letters(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
    }

    pub(super) fn keep_settings(&self) {
        if let Some(folder) = &self.own_folder {
            self.board.settings.write(folder);
        }
    }
}
