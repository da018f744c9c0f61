//! Saving a file whole or not at all.

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
    /// The folder is not there.
    #[error("the folder “{}” is not there; make it first, or choose another", folder.display())]
    NoFolder {
        /// The folder.
        folder: PathBuf,
    },
    /// The folder may not be written to.
    #[error("nothing can be saved in “{}”: {source}; choose a folder of your own", folder.display())]
    Unwritable {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
    /// Writing stopped part of the way: a full disk, a drive taken out.
    #[error("saving “{}” stopped part of the way: {source}; what was there before is untouched", path.display())]
    Interrupted {
        /// The file that was to be saved.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
}

/// Writes the bytes to a file beside `path` and puts it in place in one step,
/// so that `path` always holds either the old file or the whole new one.
///
/// # Errors
/// [`SaveError`]; whatever stood at `path` is then untouched.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let name = path.file_name().ok_or_else(|| SaveError::NoName { path: path.to_owned() })?;
    if path.is_dir() {
        return Err(SaveError::IsFolder { path: path.to_owned() });
    }
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if !folder.is_dir() {
        return Err(SaveError::NoFolder { folder: folder.to_owned() });
    }
    let mut beside_name = std::ffi::OsString::from(".");
    beside_name.push(name);
    beside_name.push(format!(".{}.part", std::process::id()));
    let beside = folder.join(beside_name);
    let file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(true)
        .open(&beside)
        .map_err(|source| SaveError::Unwritable { folder: folder.to_owned(), source })?;
    let done = fill(file, bytes).and_then(|()| fs::rename(&beside, path));
    done.map_err(|source| {
        // The half-written file is of no use; failing to remove it changes nothing.
        let _ = fs::remove_file(&beside);
        SaveError::Interrupted { path: path.to_owned(), source }
    })
}

fn fill(mut file: File, bytes: &[u8]) -> io::Result<()> {
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

    #[test]
    fn when_the_file_cannot_be_made_the_old_one_stands() {
        let folder = folder("stands");
        let path = folder.join("a.pdf");
        write_whole(&path, b"old").unwrap();
        // A folder where the half-written file would go stops the saving for
        // any user, whatever rights they have.
        let beside = folder.join(format!(".a.pdf.{}.part", std::process::id()));
        fs::create_dir(&beside).unwrap();
        let fault = write_whole(&path, b"new").unwrap_err();
        assert!(matches!(fault, SaveError::Unwritable { .. }), "{fault}");
        assert_eq!(fs::read(&path).unwrap(), b"old");
        fs::remove_dir_all(&folder).unwrap();
    }
}
