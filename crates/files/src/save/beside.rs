//! The file being written, in a folder of its own beside the place it is for.
//!
//! The folder may be entered by its owner only (0700) and so may the file (0600)
//! until it is put in place. Whoever writes holds an advisory lock on the file, so
//! that what a killed program left can be told from what is being written: of a
//! dead process the system lets go of the lock.

use std::ffi::OsStr;
use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// How the folders beside are named. The name says nothing of the file, so that a
/// file may have the longest name there is.
const PREFIX: &str = ".hangtrue-";
const SUFFIX: &str = ".part";
/// The file in such a folder.
const INSIDE: &str = "new";

/// A folder is made so often before it is given up, when each was swept away
/// before the file in it was locked.
const TRIES: usize = 100;

/// What those may do with the finished file who are not its owner.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Rights {
    /// As the file had that stood there, or as the system gives a new one.
    AsBefore,
    /// Nothing: the owner alone reads and writes it.
    OwnerOnly,
}

/// Whether a file that is there may be written over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Put {
    /// The new file takes the place of the old one, if there is one.
    Over,
    /// It is put there only if nothing is.
    New,
}

/// A file being written. Dropped before it is put in place, it is gone.
pub(super) struct Beside {
    folder: TempDir,
    file: File,
    /// The rights the system gives a new file here.
    #[cfg(unix)]
    usual: fs::Permissions,
}

impl Beside {
    /// An empty, locked file beside the ones in `folder`.
    pub fn make(folder: &Path) -> io::Result<Self> {
        for _ in 0..TRIES {
            let mut build = tempfile::Builder::new();
            build.prefix(PREFIX).suffix(SUFFIX);
            #[cfg(unix)]
            {
                use std::os::unix::fs::PermissionsExt;
                build.permissions(fs::Permissions::from_mode(0o700));
            }
            let own = build.tempdir_in(folder)?;
            let path = own.path().join(INSIDE);
            let file = match OpenOptions::new().read(true).write(true).create_new(true).open(&path)
            {
                Ok(file) => file,
                // Swept away while it was still empty.
                Err(e) if e.kind() == io::ErrorKind::NotFound => continue,
                Err(e) => return Err(e),
            };
            // Where files cannot be locked nobody can tell that this one is left
            // behind, and nobody sweeps it.
            let _ = file.lock();
            if !path.exists() {
                continue;
            }
            #[cfg(unix)]
            let usual = {
                use std::os::unix::fs::PermissionsExt;
                let usual = file.metadata()?.permissions();
                file.set_permissions(fs::Permissions::from_mode(0o600))?;
                usual
            };
            return Ok(Self {
                folder: own,
                file,
                #[cfg(unix)]
                usual,
            });
        }
        Err(io::Error::new(io::ErrorKind::ResourceBusy, "another program clears the folder"))
    }

    pub fn file(&mut self) -> &mut File {
        &mut self.file
    }

    /// Leaves the file as a kill would.
    #[cfg(test)]
    pub fn abandon(self) {
        let _ = self.folder.keep();
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join(INSIDE)
    }

    /// Puts the file in its place in one step. The file comes back, still locked.
    pub fn put(self, target: &Path, how: Put, rights: Rights) -> io::Result<File> {
        self.give_rights(target, rights)?;
        match how {
            Put::Over => fs::rename(self.path(), target)?,
            Put::New => self.put_new(target)?,
        }
        // The name must outlive a power failure as the content does; a system that
        // cannot promise it has done what it can.
        if let Some(Ok(folder)) = target.parent().map(File::open) {
            let _ = folder.sync_all();
        }
        Ok(self.file)
    }

    fn put_new(&self, target: &Path) -> io::Result<()> {
        match fs::hard_link(self.path(), target) {
            Ok(()) => {
                // What is left beside goes with its folder.
                let _ = fs::remove_file(self.path());
                Ok(())
            }
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Err(e),
            // A drive without second names for a file (a stick): the name is taken
            // first, then filled.
            Err(_) => {
                OpenOptions::new().write(true).create_new(true).open(target)?;
                fs::rename(self.path(), target)
            }
        }
    }

    #[cfg(unix)]
    fn give_rights(&self, target: &Path, rights: Rights) -> io::Result<()> {
        use std::os::unix::fs::{MetadataExt, PermissionsExt};
        let old = fs::metadata(target).ok();
        if let Some(old) = &old {
            // Only the administrator may give a file away; anyone else's new file is
            // their own, as it was before.
            let _ = std::os::unix::fs::fchown(&self.file, Some(old.uid()), Some(old.gid()));
        }
        self.file.set_permissions(match (rights, old) {
            (Rights::OwnerOnly, _) => fs::Permissions::from_mode(0o600),
            (Rights::AsBefore, Some(old)) => old.permissions(),
            (Rights::AsBefore, None) => self.usual.clone(),
        })
    }

    #[cfg(not(unix))]
    fn give_rights(&self, target: &Path, rights: Rights) -> io::Result<()> {
        let _ = (target, rights);
        Ok(())
    }
}

/// Takes away what dead programs left half-written in a folder. What is being
/// written at this moment stays. Gives how many were taken away.
pub(super) fn sweep(folder: &Path) -> usize {
    let Ok(entries) = fs::read_dir(folder) else { return 0 };
    let own = |e: &fs::DirEntry| e.file_type().is_ok_and(|t| t.is_dir()) && is_ours(&e.file_name());
    entries.flatten().filter(own).filter(|e| sweep_one(&e.path())).count()
}

fn is_ours(name: &OsStr) -> bool {
    name.to_str().is_some_and(|n| n.starts_with(PREFIX) && n.ends_with(SUFFIX))
}

/// Whether the folder was left behind and is gone now.
fn sweep_one(folder: &Path) -> bool {
    let inside = folder.join(INSIDE);
    // Not through a link: what is ours is a plain file.
    let is_file = fs::symlink_metadata(&inside).is_ok_and(|m| m.is_file());
    if is_file && let Ok(file) = File::open(&inside) {
        // Locked: its writer lives.
        if file.try_lock().is_err() {
            return false;
        }
        let _ = fs::remove_file(&inside);
    }
    // An empty folder may belong to a writer that is about to put its file in; it
    // then makes another.
    fs::remove_dir(folder).is_ok()
}

/// Takes away half-written files as older versions of this program named them,
/// `.NAME.PROCESS.part`, when `is_ours` knows the name and the process is dead.
pub(super) fn sweep_older(folder: &Path, is_ours: impl Fn(&str) -> bool) -> usize {
    let Ok(entries) = fs::read_dir(folder) else { return 0 };
    let mut gone = 0;
    for entry in entries.flatten() {
        let name = entry.file_name();
        let Some((of, process)) = name.to_str().and_then(older_name) else { continue };
        let plain = entry.file_type().is_ok_and(|t| t.is_file());
        if plain && is_ours(of) && !is_alive(process) && fs::remove_file(entry.path()).is_ok() {
            gone += 1;
        }
    }
    gone
}

fn older_name(name: &str) -> Option<(&str, u32)> {
    let (of, process) = name.strip_prefix('.')?.strip_suffix(SUFFIX)?.rsplit_once('.')?;
    Some((of, process.parse().ok()?))
}

/// Whether a process of that number runs; where the system does not show them as
/// folders none is held alive, for such a file is no longer written by anyone.
fn is_alive(process: u32) -> bool {
    Path::new(&format!("/proc/{process}")).exists()
}
