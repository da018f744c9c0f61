//! Photos in doubt: about to be named by a project, or about to be no more.
//!
//! Which photos a project has is decided by one thing alone, its saved file. So a
//! photo is marked as being in doubt before it is written or given up; then the
//! project is saved; then the marked photos are looked at: what the project names
//! stays, what it does not name goes, and so do the marks. Ended at any moment, the
//! next to open the project does the rest. A file without a mark is never touched.
//!
//! A program that stays open with unsaved work holds its marks ([`HeldDoubt`]): nobody
//! else settles those while it runs, nor afterwards as long as the file stands in which
//! it kept its unsaved work and that work names the photo.

use super::{AlbumError, folder_of, path_of};
use crate::digest::digest_of;
use crate::read;
use crate::save::write_private;
use hangtrue_adjust::Document;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How the marks are named.
const MARK: &str = ".hangtrue-doubt-";
/// A mark is two names and a place, so it is never longer than this, bytes.
const LONGEST: u64 = 16_384;

/// Marks a photo of the project. The project must be locked.
///
/// # Errors
/// [`AlbumError::NotAName`], [`AlbumError::FolderIsLink`], [`AlbumError::Save`].
pub fn doubt(project: &Path, photo: &str) -> Result<(), AlbumError> {
    mark(project, photo, None).map(|_| ())
}

/// A mark that nobody settles until this is dropped.
#[derive(Debug)]
pub struct HeldDoubt {
    photo: String,
    _locked: File,
}

impl HeldDoubt {
    /// The photo in doubt.
    pub fn photo(&self) -> &str {
        &self.photo
    }
}

/// Marks a photo and holds the mark. `unsaved` is the file in which the program keeps
/// its unsaved work, if it does: as long as that stands and names the photo, the work may
/// be recovered and the photo stays. The project must be locked.
///
/// # Errors
/// As [`doubt`].
pub fn hold_in_doubt(
    project: &Path,
    photo: &str,
    unsaved: Option<&Path>,
) -> Result<HeldDoubt, AlbumError> {
    let mark = mark(project, photo, unsaved)?;
    let locked = File::open(&mark).map_err(|source| AlbumError::Mark { path: mark, source })?;
    if is_locked_elsewhere(&locked) {
        return Err(AlbumError::InUse { photo: photo.to_owned() });
    }
    // On a drive that knows no locks the place of the unsaved work must do.
    Ok(HeldDoubt { photo: photo.to_owned(), _locked: locked })
}

/// Holds all marks of a project that nobody holds, for the program that recovered the
/// unsaved work they belong to. The project must be locked.
pub fn hold_all(project: &Path, unsaved: Option<&Path>) -> Vec<HeldDoubt> {
    let own = name_of(project);
    let photos: Vec<String> = marks(project)
        .filter_map(|path| Mark::read(&path))
        .filter(|mark| mark.project == own)
        .map(|mark| mark.photo)
        .collect();
    photos.iter().filter_map(|photo| hold_in_doubt(project, photo, unsaved).ok()).collect()
}

/// Writes a mark; gives its file. A mark that somebody holds is not written over.
fn mark(project: &Path, photo: &str, unsaved: Option<&Path>) -> Result<PathBuf, AlbumError> {
    path_of(project, photo)?;
    let name = name_of(project);
    let digest = digest_of(&format!("{name}\n{photo}"));
    let mark = folder_of(project).join(format!("{MARK}{digest:.16}"));
    if Mark::read(&mark).is_some_and(|m| m.is_held) {
        return Err(AlbumError::InUse { photo: photo.to_owned() });
    }
    let unsaved = unsaved.map_or(String::new(), |file| file.display().to_string());
    write_private(&mark, format!("{photo}\n{name}\n{unsaved}\n").as_bytes())?;
    Ok(mark)
}

/// So often, and with such a pause, it is tried to lock a mark.
const TRIES: usize = 20;
const PAUSE: Duration = Duration::from_millis(5);

/// Locks a mark; whether somebody else has it. A program that begins another one shares
/// its locks with it for a moment, so it is tried more than once.
fn is_locked_elsewhere(mark: &File) -> bool {
    for _ in 0..TRIES {
        match mark.try_lock() {
            Err(TryLockError::WouldBlock) => std::thread::sleep(PAUSE),
            _ => return false,
        }
    }
    true
}

/// What a mark says.
struct Mark {
    photo: String,
    project: String,
    /// Where the unsaved work is kept that the photo belongs to.
    unsaved: Option<PathBuf>,
    /// A program that runs holds it.
    is_held: bool,
}

impl Mark {
    fn read(path: &Path) -> Option<Self> {
        let text = read::text(path, LONGEST).ok()?;
        let mut lines = text.lines().map(ToOwned::to_owned);
        let (photo, project) = (lines.next()?, lines.next()?);
        let unsaved = lines.next().filter(|l| !l.is_empty()).map(PathBuf::from);
        let is_held = File::open(path).is_ok_and(|file| is_locked_elsewhere(&file));
        Some(Self { photo, project, unsaved, is_held })
    }

    /// Whether nobody has unsaved work that hangs from it.
    fn is_free(&self) -> bool {
        !self.is_held && !self.unsaved.as_ref().is_some_and(|file| self.is_named_in(file))
    }

    /// Whether work that was not saved names the photo; work that cannot be read may.
    fn is_named_in(&self, work: &Path) -> bool {
        work.exists()
            && read::text(work, read::LARGEST_TEXT).map_or(true, |text| text.contains(&self.photo))
    }
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
/// doubt, for the next time, and so does what is held.
pub fn settle(project: &Path, saved: &Document) {
    let own = name_of(project);
    for mark in marks(project) {
        let Some(said) = Mark::read(&mark) else { continue };
        // A folder may be shared by projects that differ in their ending.
        if said.project != own || !said.is_free() {
            continue;
        }
        let is_named = saved.journal.photos.iter().any(|p| p.file == said.photo);
        if is_named || is_gone(project, &said.photo) {
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
