//! The file a project was read from, so that it is never saved over another: not
//! over what somebody else wrote meanwhile, not over the project of another client
//! that lies where the file once lay.

use super::{ProjectError, from_text, read_text, to_text};
use crate::album;
use crate::digest::digest_of;
use crate::read::{self, ReadError};
use crate::save::{self, folder_beside, place_project};
use hangtrue_adjust::Document;
use same_file::Handle;
use serde::{Deserialize, Serialize};
use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Others are waited for so long when they write the same project. Writing takes a
/// fraction of a second; who needs longer than this hangs.
const PATIENCE: Duration = Duration::from_secs(20);
/// So long until it is looked again whether they are done.
const PAUSE: Duration = Duration::from_millis(5);

/// What a file held, in short: its SHA-256 (FIPS 180-4).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stamp(String);

impl Stamp {
    fn of(text: &str) -> Self {
        Self(digest_of(text))
    }
}

/// A project's file, and what it held when it was last read or written here.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Held {
    file: PathBuf,
    stamp: Stamp,
}

/// How a file stands against what was read from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// It holds what was read.
    AsRead,
    /// It holds something else, or cannot be read any more.
    Changed,
    /// There is no file of that name.
    Gone,
}

impl Held {
    /// The whole place of the file, links resolved, wherever the program is started
    /// from.
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// Looks at the file again.
    pub fn standing(&self) -> Standing {
        match read_text(&self.file) {
            Ok(text) if Stamp::of(&text) == self.stamp => Standing::AsRead,
            Err(_) if !self.file.exists() => Standing::Gone,
            _ => Standing::Changed,
        }
    }

    /// Saves the project over the file it was read from, if that is still the same.
    ///
    /// # Errors
    /// [`ProjectError::ChangedMeanwhile`], [`ProjectError::Gone`],
    /// [`ProjectError::Busy`], and as [`place_project`]; the file is then untouched.
    pub fn save(&mut self, document: &Document) -> Result<(), ProjectError> {
        let lock = lock(&self.file).or_else(|fault| self.as_read().and(Err(fault)))?;
        self.as_read()?;
        self.write(document)?;
        drop(lock);
        Ok(())
    }

    /// Does something beside the project while nobody else writes it.
    ///
    /// # Errors
    /// [`ProjectError::Busy`], [`ProjectError::Unreadable`].
    pub fn while_locked<T>(&self, act: impl FnOnce(&Path) -> T) -> Result<T, ProjectError> {
        let lock = lock(&self.file)?;
        let done = act(&self.file);
        drop(lock);
        Ok(done)
    }

    /// Settles the photos in doubt by what the file holds, if it is still `saved` and
    /// nobody writes it; else the next to open the project does.
    pub fn settle_photos(&self, saved: &Document) {
        if album::any_doubt(&self.file)
            && let Ok(lock) = File::open(&self.file)
            && lock.try_lock().is_ok()
            && is_still(&lock, &self.file)
            && self.standing() == Standing::AsRead
        {
            album::settle(&self.file, saved);
        }
    }

    /// Refuses a file that is not what was read.
    fn as_read(&self) -> Result<(), ProjectError> {
        let path = self.file.clone();
        match self.standing() {
            Standing::AsRead => Ok(()),
            Standing::Changed => Err(ProjectError::ChangedMeanwhile { path }),
            Standing::Gone => Err(ProjectError::Gone { path }),
        }
    }

    /// Writes while the file is locked; gives the new file, locked.
    fn write(&mut self, document: &Document) -> Result<File, ProjectError> {
        let text = to_text(document)?;
        let file = place_project(&self.file, text.as_bytes(), true)?;
        self.stamp = Stamp::of(&text);
        Ok(file)
    }
}

/// A project that nobody else writes until this is dropped.
#[derive(Debug)]
pub struct Writing {
    held: Held,
    lock: File,
}

impl Writing {
    /// The file.
    pub fn held(&self) -> &Held {
        &self.held
    }

    /// Saves the project; it stays locked.
    ///
    /// # Errors
    /// [`ProjectError::Unwritable`], [`ProjectError::Save`]; the old file then
    /// still stands. [`ProjectError::ChangedMeanwhile`] when something else than
    /// this program wrote the file, which no lock keeps out.
    pub fn save(&mut self, document: &Document) -> Result<(), ProjectError> {
        self.held.as_read()?;
        // The new file is locked before it is seen, and the old one until then.
        self.lock = self.held.write(document)?;
        Ok(())
    }
}

/// Reads a project to look at it. What killed programs left half-written beside it
/// is swept.
///
/// # Errors
/// [`ProjectError`].
pub fn open(path: &Path) -> Result<(Document, Held), ProjectError> {
    let (document, held) = read_held(path)?;
    sweep(&held.file);
    held.settle_photos(&document);
    Ok((document, held))
}

fn read_held(path: &Path) -> Result<(Document, Held), ProjectError> {
    let held_file = resolved(path);
    let text = read_text(path)?;
    let document = from_text(&text, &path.display().to_string())?;
    Ok((document, Held { file: held_file, stamp: Stamp::of(&text) }))
}

/// Reads a project to change it: nobody else changes it before this is done, and
/// what is read is what the last one left.
///
/// # Errors
/// [`ProjectError`]; [`ProjectError::Busy`] when somebody else does not let go.
pub fn open_to_write(path: &Path) -> Result<(Document, Writing), ProjectError> {
    let lock = lock(path)?;
    let (document, held) = read_held(path)?;
    sweep(&held.file);
    album::settle(&held.file, &document);
    Ok((document, Writing { held, lock }))
}

/// Saves a new project where no file is.
///
/// # Errors
/// [`ProjectError::Save`] with [`save::SaveError::Exists`] or
/// [`save::SaveError::IsProject`] when one is.
pub fn save_new(path: &Path, document: &Document) -> Result<Held, ProjectError> {
    save_new_over(path, document, save::Over::Never)
}

/// The same, where something that is no project may be written over when that was
/// said.
///
/// # Errors
/// As [`save_new`].
pub fn save_new_over(
    path: &Path,
    document: &Document,
    over: save::Over,
) -> Result<Held, ProjectError> {
    let text = to_text(document)?;
    save::may_write(path, over)?;
    drop(place_project(path, text.as_bytes(), over == save::Over::Replace)?);
    Ok(Held { file: resolved(path), stamp: Stamp::of(&text) })
}

/// Sweeps what is half-written beside a project and among its photos.
pub fn sweep(project: &Path) {
    let name = project.file_name().and_then(|n| n.to_str());
    save::sweep(folder_beside(project), |older| Some(older) == name);
    let photos = album::folder_of(project);
    // A folder that is a link leads to what is not ours.
    if !photos.is_symlink() {
        save::sweep(&photos, |_| true);
        album::tighten_beside(project);
    }
}

/// The whole place of a file, links resolved.
fn resolved(path: &Path) -> PathBuf {
    path.canonicalize().or_else(|_| std::path::absolute(path)).unwrap_or_else(|_| path.to_owned())
}

/// The advisory lock of a project's file. The file is replaced when it is saved, so
/// whoever waited looks again whether what was locked is still the project.
fn lock(path: &Path) -> Result<File, ProjectError> {
    let unreadable = |source| ReadError::Unreadable { path: path.to_owned(), source };
    let until = Instant::now() + PATIENCE;
    loop {
        read::check_ordinary(path)?;
        let file = File::open(path).map_err(unreadable)?;
        match file.try_lock() {
            Ok(()) if is_still(&file, path) => return Ok(file),
            Ok(()) => {}
            Err(TryLockError::WouldBlock) if Instant::now() < until => std::thread::sleep(PAUSE),
            Err(TryLockError::WouldBlock) => {
                return Err(ProjectError::Busy { path: path.to_owned() });
            }
            // A drive that knows no locks: what was read is still compared before
            // anything is written.
            Err(TryLockError::Error(_)) => return Ok(file),
        }
    }
}

fn is_still(file: &File, path: &Path) -> bool {
    let ours = file.try_clone().and_then(Handle::from_file);
    matches!((ours, Handle::from_path(path)), (Ok(ours), Ok(there)) if ours == there)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::tests::document;
    use crate::save::SaveError;
    use std::fs;

    fn folder(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("hangtrue-held-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    fn titled(title: &str) -> Document {
        Document { title: title.into(), ..document() }
    }

    #[test]
    fn what_somebody_else_wrote_is_not_saved_over() {
        let folder = folder("else");
        let path = folder.join("p.ron");
        let mut mine = save_new(&path, &titled("first")).unwrap();
        assert_eq!(mine.standing(), Standing::AsRead);
        let (_, mut theirs) = open(&path).unwrap();
        theirs.save(&titled("theirs")).unwrap();
        assert_eq!(mine.standing(), Standing::Changed);
        let fault = mine.save(&titled("mine")).unwrap_err();
        assert!(matches!(fault, ProjectError::ChangedMeanwhile { .. }), "{fault}");
        assert_eq!(open(&path).unwrap().0.title, "theirs");
        fs::remove_file(&path).unwrap();
        let fault = theirs.save(&titled("mine")).unwrap_err();
        assert!(matches!(fault, ProjectError::Gone { .. }), "{fault}");
        assert!(!path.exists());
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_project_is_never_begun_over_another() {
        let folder = folder("begun");
        let path = folder.join("p.ron");
        save_new(&path, &titled("first")).unwrap();
        for over in [save::Over::Never, save::Over::Replace] {
            let fault = save_new_over(&path, &titled("second"), over).unwrap_err();
            assert!(
                matches!(fault, ProjectError::Save(SaveError::IsProject { .. })),
                "{over:?}: {fault}"
            );
        }
        assert_eq!(open(&path).unwrap().0.title, "first");
        fs::remove_dir_all(&folder).unwrap();
    }

    /// Many hands at once, each adding its own word to the title: none is lost.
    #[test]
    fn edits_made_at_the_same_time_all_stand() {
        const HANDS: usize = 8;
        const EDITS: usize = 25;
        let folder = folder("hands");
        let path = folder.join("p.ron");
        save_new(&path, &titled("")).unwrap();
        std::thread::scope(|scope| {
            for hand in 0..HANDS {
                let path = &path;
                scope.spawn(move || {
                    for edit in 0..EDITS {
                        let (mut document, mut writing) = open_to_write(path).unwrap();
                        document.title += &format!(" {hand}.{edit}");
                        writing.save(&document).unwrap();
                        document.client = format!("{hand}");
                        writing.save(&document).unwrap();
                    }
                });
            }
        });
        let title = open(&path).unwrap().0.title;
        assert_eq!(title.split_whitespace().count(), HANDS * EDITS, "{title}");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1, "nothing is left beside");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_resolved_and_stays_a_link() {
        let folder = folder("link");
        let (path, link) = (folder.join("p.ron"), folder.join("link.ron"));
        save_new(&path, &titled("first")).unwrap();
        std::os::unix::fs::symlink(&path, &link).unwrap();
        let (_, mut writing) = open_to_write(&link).unwrap();
        writing.save(&titled("second")).unwrap();
        assert!(link.is_symlink());
        assert_eq!(open(&path).unwrap().0.title, "second");
        fs::remove_dir_all(&folder).unwrap();
    }
}
