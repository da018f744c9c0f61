//! Photos in doubt: about to be named by a project, or about to be no more.
//!
//! Which photos a project has is decided by one thing alone, its saved file. So a
//! photo is marked as being in doubt before it is written or given up; then the
//! project is saved; then the marked photos are looked at: what the project names
//! stays, what it does not name goes, and so do the marks. Ended at any moment, the
//! next to open the project does the rest. A file without a mark is never touched.

use super::{AlbumError, folder_of, path_of};
use crate::digest::digest_of;
use crate::read;
use crate::save::write_private;
use hangtrue_adjust::Document;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// How the marks are named.
const MARK: &str = ".hangtrue-doubt-";
/// A mark is two names, so it is never longer than this, bytes.
const LONGEST: u64 = 2048;

/// Marks a photo of the project. The project must be locked.
///
/// # Errors
/// [`AlbumError::NotAName`], [`AlbumError::FolderIsLink`], [`AlbumError::Save`].
pub fn doubt(project: &Path, photo: &str) -> Result<(), AlbumError> {
    path_of(project, photo)?;
    let name = name_of(project);
    let digest = digest_of(&format!("{name}\n{photo}"));
    let mark = folder_of(project).join(format!("{MARK}{digest:.16}"));
    Ok(write_private(&mark, format!("{photo}\n{name}\n").as_bytes())?)
}

fn name_of(project: &Path) -> String {
    project.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// Whether any photo beside the project is in doubt.
pub fn any_doubt(project: &Path) -> bool {
    marks(project).next().is_some()
}

/// The marks in the folder of the photos; none in one that is a link.
fn marks(project: &Path) -> impl Iterator<Item = PathBuf> {
    let folder = folder_of(project);
    let entries = if folder.is_symlink() { None } else { fs::read_dir(folder).ok() };
    entries
        .into_iter()
        .flatten()
        .flatten()
        .filter(|e| e.file_name().to_string_lossy().starts_with(MARK))
        .map(|e| e.path())
}

/// Settles the photos in doubt by what the project's file holds. The project must be
/// locked, and `saved` be what its file holds. What cannot be thrown away stays in
/// doubt, for the next time.
pub fn settle(project: &Path, saved: &Document) {
    let own = name_of(project);
    for mark in marks(project) {
        let Ok(text) = read::text(&mark, LONGEST) else { continue };
        let mut lines = text.lines();
        // A folder may be shared by projects that differ in their ending.
        let (Some(photo), Some(of)) = (lines.next(), lines.next()) else { continue };
        if of != own {
            continue;
        }
        let is_named = saved.journal.photos.iter().any(|p| p.file == photo);
        if is_named || is_gone(project, photo) {
            let _ = fs::remove_file(&mark);
        }
    }
}

/// Throws a photo away; whether it is gone.
fn is_gone(project: &Path, photo: &str) -> bool {
    let Ok(path) = path_of(project, photo) else { return false };
    match fs::remove_file(path) {
        Ok(()) => true,
        Err(why) => why.kind() == io::ErrorKind::NotFound,
    }
}
