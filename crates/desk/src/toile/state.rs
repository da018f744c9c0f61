//! What of the toile's photos is looked at and marked.

use super::doubts::Doubts;
use super::pair::Pair;
use super::photos::{PhotoState, Photos, Ready};
use super::take_in::TakeIn;
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::view::PanZoom;
use egui::{Context, Rect};
use hangtrue_adjust::worn::{LegSeen, LevelBy, PhotoMarks};
use hangtrue_adjust::{OPEN_ROUND, RoundPhoto};
use hangtrue_files::worn::{MarksError, ReadPhoto};
use hangtrue_pattern::Pattern;
use std::sync::Arc;

/// What the toile's card and its place on the table keep.
#[derive(Default)]
pub(crate) struct Toile {
    /// The photo that lies in place of the table.
    pub open: Option<String>,
    /// The part of the screen it lies in, once it was shown.
    pub canvas: Option<Rect>,
    /// What of it is looked at; pixels of the photo, y down turned up.
    pub view: PanZoom,
    /// The whole photo is to be shown.
    pub fit_wanted: bool,
    /// What a click on it does.
    pub tool: Tool,
    /// Where a pulled place would be without being drawn to the line.
    pub pulled: Option<hangtrue_geometry::Point>,
    /// Two photos side by side: before and after.
    pub pair: Pair,
    pub photos: Photos,
    pub take: Option<TakeIn>,
    /// The photo that is about to be thrown away.
    pub removing: Option<String>,
    /// Photos that the saved project does not decide of yet.
    pub doubts: Doubts,
}

/// What a click on the photo does.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) enum Tool {
    /// Nothing: the photo is moved and looked at.
    #[default]
    Look,
    /// Sets the places of the level.
    Level(LevelBy),
    /// Sets the heels.
    Heels,
    /// Puts places along a line.
    Trace(String, LegSeen),
    /// Sets where the grain crosses the upper line.
    Upper,
    /// The same for the lower line.
    Lower,
}

/// The photo of that file name.
pub(crate) fn photo_of(board: &Board, file: &str) -> Option<RoundPhoto> {
    board.document().journal.photos.iter().find(|p| p.file == file).cloned()
}

impl Toile {
    /// Opens a photo in place of the table.
    pub fn open(&mut self, file: &str) {
        self.open = Some(file.to_owned());
        self.tool = Tool::Look;
        self.fit_wanted = true;
        self.pair.shown = false;
    }

    /// The photo as it can be shown.
    pub fn look(&mut self, board: &Board, ctx: &Context, file: &str) -> PhotoState {
        let Some(project) = board.filed.path() else {
            let why = "the project is in no file, so it has no photos beside it; save it first";
            return PhotoState::Failed(why.into());
        };
        self.photos.get(ctx, project, file)
    }

    /// What the marks of a photo come to; none while the toile has no pattern.
    pub fn read_marks(
        &mut self,
        board: &Board,
        photo: &RoundPhoto,
        ready: &Arc<Ready>,
    ) -> Option<Result<Arc<ReadPhoto>, MarksError>> {
        let pattern = toile_of(board, photo)?;
        Some(self.photos.read_marks(photo, ready, &pattern))
    }
}

/// What the toile of a photo was cut from.
pub(crate) fn toile_of(board: &Board, photo: &RoundPhoto) -> Option<Arc<Pattern>> {
    board.replay.toile(&photo.round).ok().cloned()
}

/// Changes the marks of a photo; `goes_on` while something is pulled, so that it is
/// one step of undo.
pub(crate) fn edit_marks(
    requests: &mut Requests,
    file: &str,
    words: &str,
    goes_on: bool,
    change: impl FnOnce(&mut PhotoMarks) + 'static,
) {
    let file = file.to_owned();
    let edit = move |document: &mut hangtrue_adjust::Document| {
        if let Some(photo) = document.journal.photo_mut(&file) {
            let mut marks = photo.marks.take().unwrap_or_default();
            change(&mut marks);
            photo.marks = (!marks.is_empty()).then_some(marks);
        }
    };
    if goes_on { requests.edit_on(words, edit) } else { requests.edit(words, edit) }
}

/// The round in words.
pub(crate) fn round_words(round: &str) -> String {
    if round == OPEN_ROUND { "this fitting".to_owned() } else { format!("“{round}”") }
}
