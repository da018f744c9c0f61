//! The toile on the body: its photos, what is marked on them, and how its lines
//! hang.

mod list;
pub(crate) mod overlay;
pub(crate) mod pair_table;
pub(crate) mod photo_table;
pub(crate) mod photos;
mod mark;
mod pair;
mod take_in;
mod told;

use crate::desk::desk::Desk;
use crate::toile::photos::{Look, Photos, Ready};
use crate::kit::view::View;
use egui::{Context, Ui};
use hangtrue_adjust::worn::{LegSeen, LevelBy, PhotoMarks};
use hangtrue_adjust::{OPEN_ROUND, RoundPhoto};
use hangtrue_files::album;
use hangtrue_files::worn::{MarksError, ReadPhoto};
use hangtrue_pattern::Pattern;
use std::sync::Arc;

pub(crate) use take_in::{look_at, window};

/// What the card keeps.
#[derive(Default)]
pub(crate) struct ToileCard {
    /// The photo that lies in place of the table.
    pub open: Option<String>,
    /// What of it is looked at; pixels of the photo, y down turned up.
    pub view: View,
    /// The whole photo is to be shown.
    pub fit_wanted: bool,
    /// What a click on it does.
    pub tool: Tool,
    /// Where a pulled place would be without being drawn to the line.
    pub pulled: Option<hangtrue_geometry::Point>,
    /// Two photos side by side: before and after.
    pub pair: pair::Pair,
    pub photos: Photos,
    take: Option<take_in::TakeIn>,
    /// The photo that is about to be thrown away.
    removing: Option<String>,
    /// Photos taken in since the project was read: thrown away when the project is
    /// given up without being saved.
    taken: Vec<String>,
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

/// Shows the card.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    let open = desk.cards.toile.open.clone();
    match open.and_then(|file| photo_of(desk, &file)) {
        Some(photo) => mark::show(desk, ui, &photo),
        None => {
            desk.cards.toile.open = None;
            list::show(desk, ui);
            pair::show(desk, ui);
        }
    }
}

/// The photo of that file name.
pub(crate) fn photo_of(desk: &Desk, file: &str) -> Option<RoundPhoto> {
    desk.document().journal.photos.iter().find(|p| p.file == file).cloned()
}

/// Opens a photo in place of the table.
pub(crate) fn open(desk: &mut Desk, file: &str) {
    let card = &mut desk.cards.toile;
    card.open = Some(file.to_owned());
    card.tool = Tool::Look;
    card.fit_wanted = true;
    card.pair.shown = false;
}

/// The photo as it can be shown.
pub(crate) fn look(desk: &mut Desk, ctx: &Context, file: &str) -> Look {
    let Some(project) = desk.files.path().map(ToOwned::to_owned) else {
        let why = "the project is in no file, so it has no photos beside it; save it first";
        return Look::Failed(why.into());
    };
    desk.cards.toile.photos.get(ctx, &project, file)
}

/// What the toile of a photo was cut from.
pub(crate) fn toile_of(desk: &Desk, photo: &RoundPhoto) -> Option<Arc<Pattern>> {
    desk.replay.toile(&photo.round).ok().cloned()
}

/// What the marks of a photo come to; none while the toile has no pattern.
pub(crate) fn told(
    desk: &mut Desk,
    photo: &RoundPhoto,
    ready: &Arc<Ready>,
) -> Option<Result<Arc<ReadPhoto>, MarksError>> {
    let pattern = toile_of(desk, photo)?;
    Some(desk.cards.toile.photos.told(photo, ready, &pattern))
}

/// Changes the marks of a photo; `goes_on` while something is pulled, so that it is
/// one step of undo.
pub(crate) fn edit_marks(
    desk: &mut Desk,
    file: &str,
    words: &str,
    goes_on: bool,
    change: impl FnOnce(&mut PhotoMarks),
) {
    let edit = |document: &mut hangtrue_adjust::Document| {
        if let Some(photo) = document.journal.photo_mut(file) {
            let mut marks = photo.marks.take().unwrap_or_default();
            change(&mut marks);
            photo.marks = (!marks.is_empty()).then_some(marks);
        }
    };
    if goes_on { desk.edit_on(words, edit) } else { desk.edit(words, edit) }
}

/// Throws away the photos that were taken in and are in no saved file, when the
/// work is given up.
pub(crate) fn give_up(desk: &mut Desk) {
    let taken = std::mem::take(&mut desk.cards.toile.taken);
    let Some(project) = desk.files.path().map(ToOwned::to_owned) else { return };
    for file in taken {
        if !desk.files.is_in_file(&file) {
            // What cannot be thrown away is no reason to keep the window open.
            let _ = album::throw_away(&project, &file);
        }
    }
}

/// The round in words.
fn round_words(round: &str) -> String {
    if round == OPEN_ROUND { "this round".to_owned() } else { format!("“{round}”") }
}
