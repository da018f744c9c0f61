//! Where a file is to lie: its usual name and place, its ending, its whole path.

use crate::board::asked::Asked;
use crate::board::places::{self, file_name};
use crate::desk::state::Desk;
use hangtrue_adjust::Document;
use std::path::{Path, PathBuf};

/// What a file that is written is usually called: after the project's file, else its title.
pub(super) fn usual_name(asked: Asked, project: Option<&Path>, document: &Document) -> String {
    let set = document.cutting.set.map(|set| format!(" {}", set.name()));
    let stem = project.and_then(Path::file_stem).map(|s| s.to_string_lossy().into_owned());
    let more = match asked {
        // Paper of one set of allowances is not written over that of another.
        Asked::SavePdf => set.as_deref().unwrap_or_default(),
        Asked::SaveMarking => " marking",
        Asked::SaveMeasuring => " measuring",
        Asked::SaveFitting => " fitting",
        Asked::SaveSewing(_) => " sewing",
        Asked::SaveHandout(_) => " handout",
        Asked::SaveClassList => " class",
        Asked::SaveHang => " hang",
        Asked::SaveLayPlan => " lay plan",
        Asked::SaveLay(_) => " lay",
        Asked::SaveJob => " photo",
        Asked::SaveStraight => " from above",
        Asked::SaveJournal => " journal",
        Asked::HandOn => " to hand on",
        _ => "",
    };
    let stem = stem.unwrap_or_else(|| file_name(&document.title));
    format!("{stem}{more}.{}", asked.ending())
}

/// The place that stands there before anything is typed: none for a file that is read.
pub(super) fn usual_place(desk: &Desk, asked: Asked) -> String {
    if asked.reads() {
        return String::new();
    }
    if let (Asked::SaveAs, Some(own)) = (asked, desk.board.filed.path()) {
        return own.display().to_string();
    }
    let name = usual_name(asked, desk.board.filed.path(), desk.board.document());
    whole_place(desk, Path::new(&name)).display().to_string()
}

pub(super) fn whole_place(desk: &Desk, typed: &Path) -> PathBuf {
    places::whole(typed, desk.board.filed.path(), &desk.board.settings)
}

/// The place with the ending of its kind, when it was named without one.
pub(super) fn with_ending(path: &Path, ending: &str) -> PathBuf {
    if path.extension().is_none() { path.with_extension(ending) } else { path.to_owned() }
}

/// Words that begin as a sentence and end as one.
pub(super) fn sentence(words: &str) -> String {
    format!("{}.", hangtrue_pattern::words::capital(words))
}
