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
    /// What should be the folder is a file.
    #[error("“{}” is a file, not a folder; choose a folder to save in", folder.display())]
    FolderIsFile {
        /// The file.
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
/// so that `path` always holds either the old file or the whole new one. A link
/// is followed, and the old file's rights are kept. What is no file but takes
/// bytes (a printer's device, a pipe) is written to directly.
///
/// # Errors
/// [`SaveError`]; whatever stood at `path` is then untouched.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let name = path.file_name().ok_or_else(|| SaveError::NoName { path: path.to_owned() })?;
    if path.is_dir() {
        return Err(SaveError::IsFolder { path: path.to_owned() });
    }
    let old = fs::metadata(path).ok();
    if old.as_ref().is_some_and(|m| !m.is_file()) {
        return write_to_device(path, bytes);
    }
    if path.is_symlink()
        && let Ok(target) = fs::canonicalize(path)
    {
        return write_whole(&target, bytes);
    }
    let folder = folder_of(path)?;
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
    let done = fill(file, bytes)
        .and_then(|()| old.map_or(Ok(()), |m| fs::set_permissions(&beside, m.permissions())))
        .and_then(|()| fs::rename(&beside, path));
    done.map_err(|source| {
        // The half-written file is of no use; failing to remove it changes nothing.
        let _ = fs::remove_file(&beside);
        SaveError::Interrupted { path: path.to_owned(), source }
    })
}

/// The folder a file is to lie in, which must be there.
fn folder_of(path: &Path) -> Result<&Path, SaveError> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    if folder.is_dir() {
        Ok(folder)
    } else if folder.exists() {
        Err(SaveError::FolderIsFile { folder: folder.to_owned() })
    } else {
        Err(SaveError::NoFolder { folder: folder.to_owned() })
    }
}

/// Putting a new file in the place of a device would take the device away.
fn write_to_device(path: &Path, bytes: &[u8]) -> Result<(), SaveError> {
    let opened = OpenOptions::new().write(true).open(path);
    let written = opened.and_then(|mut device| device.write_all(bytes));
    written.map_err(|source| SaveError::Interrupted { path: path.to_owned(), source })
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
        let under_file = write_whole(&file.join("b.pdf"), b"x").unwrap_err();
        assert!(matches!(under_file, SaveError::FolderIsFile { .. }), "{under_file}");
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
