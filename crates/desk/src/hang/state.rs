//! What is kept of the settled toile between two pictures.

use super::weighing::Weighing;
use super::work::{Asked, Work};
use crate::board::Board;
use crate::board::stage::Stage;
use egui::{TextureHandle, Vec2};
use hangtrue_adjust::reading::SettledHome;
use hangtrue_adjust::{Figure, OPEN_ROUND};
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::picture::{Scene, Viewpoint};
use hangtrue_drape::{Content, Kept, Options, Prediction, Settled, read, settled_homes};
use hangtrue_files::hang::{HangSheet, hang_sheet};
use hangtrue_files::save::{Over, write_output};
use hangtrue_files::worn::as_png;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::words::InUnit;
use std::path::Path;
use std::sync::Arc;

/// The room's own state.
pub(crate) struct Hang {
    /// It has the card and the table's place.
    pub open: bool,
    /// It was asked for, and is begun when the card is shown.
    pub(super) wanted: bool,
    /// The body is seen through the cloth.
    pub thin: bool,
    /// From where it is looked at.
    pub view: Viewpoint,
    /// How much nearer than all of it, and how far moved, points.
    pub near: f64,
    pub moved: Vec2,
    /// One coarse mesh and one start: for tests, which have no time for more.
    coarse: bool,
    pub(super) kept: Kept,
    pub(super) asked: Option<Asked>,
    pub(super) work: Option<Work>,
    pub(super) shown: Option<Shown>,
    pub(super) fault: Option<String>,
    pub(super) body: Option<Bare>,
    pub(super) drawn: Option<Drawn>,
    pub(super) weighing: Weighing,
    home: Option<Home>,
}

/// How lines hang at home by a settled toile, where there is one.
pub(crate) type SettledHomes = Option<Arc<Vec<SettledHome>>>;

/// The home of a toile's lines, and what it was looked for with.
struct Home {
    cut: Arc<Pattern>,
    figure: Figure,
    kept: usize,
    lines: SettledHomes,
}

impl Default for Hang {
    fn default() -> Self {
        Self {
            open: false,
            wanted: false,
            thin: false,
            view: Viewpoint::BACK,
            near: 1.0,
            moved: Vec2::ZERO,
            coarse: false,
            kept: Kept::default(),
            asked: None,
            work: None,
            shown: None,
            fault: None,
            body: None,
            drawn: None,
            weighing: Weighing::default(),
            home: None,
        }
    }
}

/// A settled toile, and what is read of it.
pub(super) struct Shown {
    /// What was settled.
    pub of: Asked,
    /// The pattern whose lines are read.
    pub pattern: Arc<Pattern>,
    pub settled: Arc<Settled>,
    pub told: Prediction,
    pub scene: Arc<Scene>,
}

/// The body alone, or why there is none.
pub(super) struct Bare {
    pub of: Asked,
    pub scene: Result<Arc<Scene>, String>,
}

/// What is drawn, so that it is drawn once.
pub(super) struct Drawn {
    pub scene: Arc<Scene>,
    pub like: Like,
    pub texture: TextureHandle,
}

/// From where, how large and how fine something is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Like {
    pub view: Viewpoint,
    pub scale: f64,
    pub middle: (f64, f64),
    pub size: (usize, usize),
    pub fine: usize,
    pub thin: bool,
}

impl Hang {
    /// Whether the toile lies in place of the table.
    pub fn lies_on_table(&self, board: &Board) -> bool {
        self.open && board.stage == Stage::AsSewn
    }

    /// The same with one coarse mesh and one start.
    pub fn settle_coarsely(&mut self) {
        self.coarse = true;
    }

    /// What is settled by.
    pub(super) fn options(&self, board: &Board) -> Options {
        let breadths = board.document().figure.breadths;
        let mut options = Options { breadths, ..Options::default() };
        if self.coarse {
            options.grids = vec![Grid { side: 40.0, shift: (0.0, 0.0) }];
            options.starts.truncate(1);
        }
        options
    }

    /// Whether what is shown is of the pattern and the body as they are.
    pub fn is_fresh(&self) -> bool {
        self.shown.as_ref().zip(self.asked.as_ref()).is_some_and(|(s, a)| s.of.same(a))
    }

    /// How the lines of the open fitting's toile hang at home by the settled one, where that
    /// may be taken.
    pub fn home(&mut self, board: &Board) -> SettledHomes {
        let cut = board.replay.toile(OPEN_ROUND).ok().filter(|_| board.toile_is_unanswered())?;
        self.homes(board, cut)
    }

    /// How the lines of a toile hang at home, when it lies settled among those kept. A search
    /// for it digests the pattern, so it is made only when something changed.
    fn homes(&mut self, board: &Board, cut: &Arc<Pattern>) -> SettledHomes {
        let figure = &board.document().figure;
        let kept = self.kept.count();
        let same = |h: &Home| Arc::ptr_eq(&h.cut, cut) && h.figure == *figure && h.kept == kept;
        if !self.home.as_ref().is_some_and(same) {
            let lines = self.look_for_home(board, cut);
            self.home = Some(Home { cut: cut.clone(), figure: figure.clone(), kept, lines });
        }
        self.home.as_ref()?.lines.clone()
    }

    fn look_for_home(&mut self, board: &Board, cut: &Arc<Pattern>) -> SettledHomes {
        let handles = &board.document().figure.handles;
        let (measures, options) = (board.document().worn_by()?, self.options(board));
        let content = Content::of(cut, measures, handles, &options).ok()?;
        let settled = self.kept.find(content)?;
        let lines = settled_homes(cut, &settled, &read(cut, &settled));
        (!lines.is_empty()).then(|| Arc::new(lines))
    }

    /// Writes the picture of back, side and front; gives what is told of it.
    pub fn save_picture(&self, board: &Board, path: &Path) -> Result<String, String> {
        let shown = self.shown.as_ref().filter(|_| self.is_fresh()).ok_or(
            "how it hangs is not worked out for the toile as it is now; work it out first",
        )?;
        let unit = board.unit();
        let doubts: Vec<String> =
            hangtrue_drape::doubts(&shown.pattern, &shown.told, &shown.settled)
                .iter()
                .map(|d| d.in_unit(unit))
                .collect();
        let title = format!("How {} will hang", board.document().title);
        let sheet = HangSheet { title: &title, doubts: &doubts, unit };
        let picture = hang_sheet(&shown.scene, &sheet).and_then(|p| as_png(&p));
        let bytes = picture.map_err(|why| why.in_unit(unit))?;
        write_output(path, &bytes, Over::Replace).map_err(|why| why.to_string())?;
        Ok(format!("written to “{}”.", path.display()))
    }
}
