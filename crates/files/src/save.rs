//! Saving a file whole or not at all, and never over what it must not go over.

mod beside;

use crate::words_of_io;
use beside::{Beside, Put, Rights};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A file that could not be saved. What stood there before still stands.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// The path names no file.
    #[error("“{}” does not name a file; give a folder and a file name", path.display())]
    NoName {
        /// The path as given.
        path: PathBuf,
    },
    /// The path is a folder.
    #[error("“{}” is a folder; add a file name to it", path.display())]
    IsFolder {
        /// The path as given.
        path: PathBuf,
    },
    /// A file is there already, and nobody said that it may go.
    #[error("“{}” is already there; choose another name, or add --replace to write over it", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// A project is there.
    #[error("“{}” is a project, and only saving that project writes over it; choose another name", path.display())]
    IsProject {
        /// The project.
        path: PathBuf,
    },
    /// The file may only be read.
    #[error("“{}” may only be read; choose another name, or allow it to be written first", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// A link leads to a file that is not there.
    #[error("“{}” is a link to “{}”, which is not there; mend the link, or choose another name", path.display(), to.display())]
    LinkToNothing {
        /// The link.
        path: PathBuf,
        /// Where it leads.
        to: PathBuf,
    },
    /// The name has more letters than the drive takes.
    #[error("“{}” is too long for a file name here; choose a shorter one", path.display())]
    NameTooLong {
        /// The path as given.
        path: PathBuf,
    },
    /// A device or pipe, where a file is wanted that can be read again.
    #[error("“{}” is no file that can be read again; choose a file for the project", path.display())]
    NotAPlace {
        /// The path as given.
        path: PathBuf,
    },
    /// The folder is not there.
    #[error("the folder “{}” is not there; make it first, or choose another", folder.display())]
    NoFolder {
        /// The folder.
        folder: PathBuf,
    },
    /// What should be the folder is a file.
    #[error("“{}” is a file, not a folder; choose a folder to save in", folder.display())]
    FolderIsFile {
        /// The file.
        folder: PathBuf,
    },
    /// The folder may not be written to.
    #[error("nothing can be saved in “{}”: {}; choose a folder of your own", folder.display(), words_of_io(source))]
    Unwritable {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
    /// Writing stopped part of the way: a full disk, a drive taken out.
    #[error("saving “{}” stopped part of the way: {}; what was there before is untouched", path.display(), words_of_io(source))]
    Interrupted {
        /// The file that was to be saved.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
}

/// Whether something that is there may be written over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Nothing that is there is written over.
    Never,
    /// Somebody said that it may be: the option `--replace`, or the answer to the
    /// question of a window. A project is not written over even then.
    Replace,
}

impl Over {
    /// From whether it was said that a file may be replaced.
    pub fn said(replace: bool) -> Self {
        if replace { Self::Replace } else { Self::Never }
    }
}

/// Whether a result may be written to the place: asked before the work is begun,
/// so that nobody waits for what cannot be kept. Writing asks again.
///
/// # Errors
/// [`SaveError::Exists`], [`SaveError::IsProject`], [`SaveError::IsFolder`],
/// [`SaveError::LinkToNothing`].
pub fn may_write(path: &Path, over: Over) -> Result<(), SaveError> {
    if path.is_dir() {
        return Err(SaveError::IsFolder { path: path.to_owned() });
    }
    no_link_to_nothing(path)?;
    // A device takes bytes and loses nothing.
    if !path.is_file() {
        return Ok(());
    }
    if crate::project::is_project(path) {
        return Err(SaveError::IsProject { path: path.to_owned() });
    }
    match over {
        Over::Never => Err(SaveError::Exists { path: path.to_owned() }),
        Over::Replace => Ok(()),
    }
}

/// Writes a result somebody asked for: a print, a drawing, a table. This is the one
/// way for it: nothing that is there is written over unless that was said, and a
/// project never.
///
/// # Errors
/// [`SaveError`]; whatever stood at `path` is then untouched.
pub fn write_output(path: &Path, bytes: &[u8], over: Over) -> Result<(), SaveError> {
    may_write(path, over)?;
    let put = match over {
        Over::Never => Put::New,
        Over::Replace => Put::Over,
    };
    place(path, bytes, put, Rights::AsBefore).map(drop)
}

/// Writes a file of this program's own, whose old content is meant to go. It always
/// holds either the old or the whole new content. A link is followed, and the old
/// file's rights are kept. What is no file but takes bytes (a printer's device, a
/// pipe) is written to directly.
///
/// # Errors
/// [`SaveError`]; whatever stood at `path` is then untouched.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    place(path, bytes, Put::Over, Rights::AsBefore).map(drop)
}

/// The same for what only its owner may see.
///
/// # Errors
/// As [`write_whole`].
pub fn write_private(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    place(path, bytes, Put::Over, Rights::OwnerOnly).map(drop)
}

/// The same for a file that must not be there yet.
///
/// # Errors
/// As [`write_whole`], and [`SaveError::Exists`].
pub fn write_private_new(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    place(path, bytes, Put::New, Rights::OwnerOnly).map(drop)
}

/// Writes the file of a project over what stands there, or where nothing does. It
/// comes back locked, so that nobody else writes before it is let go.
pub(crate) fn place_project(path: &Path, bytes: &[u8], over: bool) -> Result<File, SaveError> {
    let put = if over { Put::Over } else { Put::New };
    match place(path, bytes, put, Rights::AsBefore)? {
        Some(file) => Ok(file),
        None => Err(SaveError::NotAPlace { path: path.to_owned() }),
    }
}

/// Whether two places are one file, however they are written.
pub fn is_same_file(a: &Path, b: &Path) -> bool {
    same_file::is_same_file(a, b).unwrap_or(a == b)
}

/// Makes a folder that only its owner may enter, with those above it. One that is
/// there is left as it is.
///
/// # Errors
/// What the system says.
pub fn make_private_folder(folder: &Path) -> io::Result<()> {
    let mut build = fs::DirBuilder::new();
    build.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        build.mode(0o700);
    }
    build.create(folder)
}

/// Takes away what killed programs left half-written in a folder; what is being
/// written now stays. `older` knows the names of files that older versions of this
/// program wrote here. Gives how many were taken away.
pub fn sweep(folder: &Path, older: impl Fn(&str) -> bool) -> usize {
    beside::sweep(folder) + beside::sweep_older(folder, older)
}

fn place(path: &Path, bytes: &[u8], put: Put, rights: Rights) -> Result<Option<File>, SaveError> {
    if path.file_name().is_none() {
        return Err(SaveError::NoName { path: path.to_owned() });
    }
    if path.is_dir() {
        return Err(SaveError::IsFolder { path: path.to_owned() });
    }
    no_link_to_nothing(path)?;
    if let Ok(old) = fs::metadata(path) {
        if !old.is_file() {
            return write_to_device(path, bytes).map(|()| None);
        }
        // Putting another in its place would get round what its owner decided.
        if put == Put::Over && old.permissions().readonly() {
            return Err(SaveError::ReadOnly { path: path.to_owned() });
        }
    }
    if path.is_symlink()
        && let Ok(target) = fs::canonicalize(path)
    {
        return place(&target, bytes, put, rights);
    }
    let folder = folder_of(path)?;
    let mut beside = Beside::make(folder)
        .map_err(|source| SaveError::Unwritable { folder: folder.to_owned(), source })?;
    let done = fill(beside.file(), bytes).and_then(|()| beside.put(path, put, rights));
    done.map(Some).map_err(|source| match source.kind() {
        io::ErrorKind::AlreadyExists if put == Put::New => {
            SaveError::Exists { path: path.to_owned() }
        }
        io::ErrorKind::InvalidFilename => SaveError::NameTooLong { path: path.to_owned() },
        _ => SaveError::Interrupted { path: path.to_owned(), source },
    })
}

/// A link whose file is gone: putting a file in its place would break what it was
/// made for, and making the file anew is for whoever made the link.
fn no_link_to_nothing(path: &Path) -> Result<(), SaveError> {
    if path.is_symlink() && !path.exists() {
        let to = fs::read_link(path).unwrap_or_default();
        return Err(SaveError::LinkToNothing { path: path.to_owned(), to });
    }
    Ok(())
}

/// The folder a file is to lie in, which must be there.
fn folder_of(path: &Path) -> Result<&Path, SaveError> {
    let folder = folder_beside(path);
    if folder.is_dir() {
        Ok(folder)
    } else if folder.exists() {
        Err(SaveError::FolderIsFile { folder: folder.to_owned() })
    } else {
        Err(SaveError::NoFolder { folder: folder.to_owned() })
    }
}

/// The folder a path names its file in.
pub(crate) fn folder_beside(path: &Path) -> &Path {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

/// Putting a new file in the place of a device would take the device away.
fn write_to_device(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let opened = OpenOptions::new().write(true).open(path);
    let written = opened.and_then(|mut device| device.write_all(bytes));
    written.map_err(|source| SaveError::Interrupted { path: path.to_owned(), source })
}

fn fill(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("hangtrue-save-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    #[test]
    fn a_file_is_replaced_whole_and_nothing_is_left_beside_it() {
        let folder = folder("whole");
        let path = folder.join("Zoë – dos.pdf");
        write_whole(&path, b"first").unwrap();
        write_whole(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_missing_folder_a_folder_and_no_name_are_told_apart() {
        let folder = folder("wrong");
        let missing = write_whole(&folder.join("nowhere/a.pdf"), b"x").unwrap_err();
        assert!(matches!(missing, SaveError::NoFolder { .. }), "{missing}");
        let is_folder = write_whole(&folder, b"x").unwrap_err();
        assert!(matches!(is_folder, SaveError::IsFolder { .. }), "{is_folder}");
        let no_name = write_whole(Path::new("/"), b"x").unwrap_err();
        assert!(matches!(no_name, SaveError::NoName { .. }), "{no_name}");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_followed_rights_are_kept_and_a_device_stays_a_device() {
        use std::os::unix::fs::{FileTypeExt, PermissionsExt, symlink};
        let folder = folder("link");
        let (file, link) = (folder.join("a.pdf"), folder.join("link.pdf"));
        write_whole(&file, b"old").unwrap();
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).unwrap();
        symlink(&file, &link).unwrap();
        write_whole(&link, b"new").unwrap();
        assert!(link.is_symlink());
        assert_eq!(fs::read(&file).unwrap(), b"new");
        assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o640);
        // The device is reached by a link, so that a fault cannot harm the machine.
        let full = folder.join("full");
        symlink("/dev/full", &full).unwrap();
        let fault = write_whole(&full, b"new").unwrap_err();
        assert!(matches!(fault, SaveError::Interrupted { .. }), "{fault}");
        assert!(fs::metadata("/dev/full").unwrap().file_type().is_char_device());
        // To write to a file that is only to be read is refused for any user.
        fs::set_permissions(&file, fs::Permissions::from_mode(0o440)).unwrap();
        let fault = write_whole(&link, b"newer").unwrap_err();
        assert!(matches!(fault, SaveError::ReadOnly { .. }), "{fault}");
        let nothing = folder.join("to-nothing.pdf");
        symlink(folder.join("gone.pdf"), &nothing).unwrap();
        let fault = write_whole(&nothing, b"new").unwrap_err();
        assert!(matches!(fault, SaveError::LinkToNothing { .. }), "{fault}");
        assert_eq!(fs::read(&file).unwrap(), b"new");
        let under_file = write_whole(&file.join("b.pdf"), b"x").unwrap_err();
        assert!(matches!(under_file, SaveError::FolderIsFile { .. }), "{under_file}");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn when_the_file_cannot_be_made_the_old_one_stands() {
        let folder = folder("stands");
        let path = folder.join("a.pdf");
        write_whole(&path, b"old").unwrap();
        // A device that is always full stops the writing for any user.
        let mut beside = Beside::make(&folder).unwrap();
        assert!(fill(&mut File::options().write(true).open("/dev/full").unwrap(), b"new").is_err());
        beside.file().write_all(b"half").unwrap();
        drop(beside);
        assert_eq!(fs::read(&path).unwrap(), b"old");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn an_output_is_written_over_only_when_that_was_said() {
        let folder = folder("over");
        let path = folder.join("a.pdf");
        write_output(&path, b"first", Over::Never).unwrap();
        let fault = write_output(&path, b"second", Over::Never).unwrap_err();
        assert!(matches!(fault, SaveError::Exists { .. }), "{fault}");
        assert_eq!(fs::read(&path).unwrap(), b"first");
        write_output(&path, b"second", Over::Replace).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_name_as_long_as_the_drive_takes_is_saved_and_a_longer_one_refused() {
        let folder = folder("long");
        for letters in [244, 251] {
            let path = folder.join(format!("{}.ron", "n".repeat(letters)));
            write_whole(&path, b"first").unwrap();
            write_whole(&path, b"second").unwrap();
            write_output(&path.with_extension("pdf"), b"x", Over::Never).unwrap();
            assert_eq!(fs::read(&path).unwrap(), b"second");
        }
        let fault = write_whole(&folder.join("n".repeat(256)), b"x").unwrap_err();
        assert!(matches!(fault, SaveError::NameTooLong { .. }), "{fault}");
        fs::remove_dir_all(&folder).unwrap();
    }

    /// What is being written is nobody else's to see, and is left alone; what a dead
    /// program left is swept.
    #[test]
    fn the_half_written_is_private_and_swept_only_when_its_writer_is_dead() {
        let folder = folder("sweep");
        let mut living = Beside::make(&folder).unwrap();
        living.file().write_all(b"half").unwrap();
        let dead = Beside::make(&folder).unwrap();
        let left = fs::read_dir(&folder).unwrap().flatten().map(|e| e.path());
        #[cfg(unix)]
        for beside in left {
            use std::os::unix::fs::PermissionsExt;
            let mode = |p: &Path| fs::metadata(p).unwrap().permissions().mode() & 0o777;
            assert_eq!((mode(&beside), mode(&beside.join("new"))), (0o700, 0o600));
        }
        // As a kill leaves it: the folder stands and the system let go of the lock.
        dead.abandon();
        fs::write(folder.join(".my.ron.4999999.part"), b"older").unwrap();
        fs::write(folder.join(".other.4999999.part"), b"not ours").unwrap();
        fs::create_dir(folder.join(".hangtrue-empty.part")).unwrap();
        assert_eq!(sweep(&folder, |name| name == "my.ron"), 3);
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 2);
        drop(living);
        assert_eq!(fs::read_dir(&folder).unwrap().count(), 1);
        fs::remove_dir_all(&folder).unwrap();
    }
}
