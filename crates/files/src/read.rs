//! The one way a file is read: only ordinary files, of a size that was asked
//! before. A pipe would wait for ever and a device may never end, so what a path
//! leads to is looked at before it is opened.

use crate::io_words::words_of_io;
use std::fs::{self, File, FileType};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

/// One megabyte, bytes.
const MB: u64 = 1024 * 1024;
/// The largest text of ours (a project, a plan, measures, rules, marks), bytes.
pub const LARGEST_TEXT: u64 = 64 * MB;
/// The largest table of a batch, bytes: half a million rows of a wide survey.
pub const LARGEST_TABLE: u64 = 256 * MB;
/// The largest settings of a desk, bytes.
pub const LARGEST_SETTINGS: u64 = MB;

/// The mark some programs put before UTF-8 text.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// A file that is not read.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// The file is not there or may not be read.
    #[error("“{}” cannot be read: {}; check the name and the folder", path.display(), words_of_io(source))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        #[source]
        source: io::Error,
    },
    /// A link leads to a file that is not there.
    #[error("“{}” is a link to “{}”, which is not there; mend the link, or choose another file", path.display(), to.display())]
    LinkToNothing {
        /// The link.
        path: PathBuf,
        /// Where it leads.
        to: PathBuf,
    },
    /// The path is a folder.
    #[error("“{}” is a folder; choose a file in it", path.display())]
    IsFolder {
        /// The path as given.
        path: PathBuf,
    },
    /// A pipe, a socket, a device.
    #[error("“{}” is a {kind}, not an ordinary file; save what it gives as a file, then choose that", path.display())]
    NotOrdinary {
        /// The path as given.
        path: PathBuf,
        /// What it is.
        kind: &'static str,
    },
    /// The file is larger than any of its kind.
    #[error("“{}” is larger than {} MB, which no file of this kind is; choose another file", path.display(), most / MB)]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The most that is read, bytes.
        most: u64,
    },
    /// The file holds something else than text.
    #[error("“{}” is not a text file; choose another, or save it again as UTF-8 text", path.display())]
    NotText {
        /// The file.
        path: PathBuf,
    },
}

/// Opens an ordinary file to be read bit by bit, `most` bytes and no more: one that
/// grows past that while it is read gives an error there.
///
/// # Errors
/// [`ReadError`].
pub fn open(path: &Path, most: u64) -> Result<impl Read + use<>, ReadError> {
    let file = open_ordinary(path)?;
    let size = file.metadata().map_err(unreadable(path))?.len();
    if size > most {
        return Err(ReadError::TooLarge { path: path.to_owned(), most });
    }
    Ok(Limited { file, left: most, path: path.to_owned(), most })
}

/// All bytes of an ordinary file.
///
/// # Errors
/// [`ReadError`].
pub fn bytes(path: &Path, most: u64) -> Result<Vec<u8>, ReadError> {
    let file = open_ordinary(path)?;
    let size = file.metadata().map_err(unreadable(path))?.len();
    let too_large = || ReadError::TooLarge { path: path.to_owned(), most };
    if size > most {
        return Err(too_large());
    }
    let mut bytes = Vec::new();
    // One more than may be: some files do not say how long they are.
    file.take(most + 1).read_to_end(&mut bytes).map_err(unreadable(path))?;
    if bytes.len() as u64 > most { Err(too_large()) } else { Ok(bytes) }
}

/// All of a text file, a byte-order mark left out.
///
/// # Errors
/// [`ReadError`].
pub fn text(path: &Path, most: u64) -> Result<String, ReadError> {
    let bytes = bytes(path, most)?;
    let text = without_mark(&bytes).to_vec();
    String::from_utf8(text).map_err(|_| ReadError::NotText { path: path.to_owned() })
}

/// The first bytes of an ordinary file, `most` of them or all there are.
///
/// # Errors
/// [`ReadError`].
pub fn beginning(path: &Path, most: u64) -> Result<Vec<u8>, ReadError> {
    let mut bytes = Vec::new();
    open_ordinary(path)?.take(most).read_to_end(&mut bytes).map_err(unreadable(path))?;
    Ok(bytes)
}

/// The bytes behind a byte-order mark.
pub(crate) fn without_mark(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes)
}

/// Refuses by kind what is no ordinary file; nothing is opened for it.
///
/// # Errors
/// [`ReadError`].
pub fn check_ordinary(path: &Path) -> Result<(), ReadError> {
    let found = fs::metadata(path).map_err(|source| match fs::read_link(path) {
        Ok(to) if source.kind() == io::ErrorKind::NotFound => {
            ReadError::LinkToNothing { path: path.to_owned(), to }
        }
        _ => ReadError::Unreadable { path: path.to_owned(), source },
    })?;
    ordinary(path, found.file_type())
}

fn ordinary(path: &Path, found: FileType) -> Result<(), ReadError> {
    let path = path.to_owned();
    if found.is_file() {
        Ok(())
    } else if found.is_dir() {
        Err(ReadError::IsFolder { path })
    } else {
        Err(ReadError::NotOrdinary { path, kind: kind(found) })
    }
}

#[cfg(unix)]
fn kind(found: FileType) -> &'static str {
    use std::os::unix::fs::FileTypeExt;
    if found.is_fifo() {
        "pipe"
    } else if found.is_socket() {
        "socket"
    } else {
        "device"
    }
}

#[cfg(not(unix))]
fn kind(_: FileType) -> &'static str {
    "device"
}

fn open_ordinary(path: &Path) -> Result<File, ReadError> {
    check_ordinary(path)?;
    let file = File::open(path).map_err(unreadable(path))?;
    // It may have been exchanged between the look and the opening.
    ordinary(path, file.metadata().map_err(unreadable(path))?.file_type())?;
    Ok(file)
}

fn unreadable(path: &Path) -> impl FnOnce(io::Error) -> ReadError {
    let path = path.to_owned();
    move |source| ReadError::Unreadable { path, source }
}

/// A file of which no more is read than may be.
struct Limited {
    file: File,
    left: u64,
    path: PathBuf,
    most: u64,
}

impl Read for Limited {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.file.read(buffer)?;
        match self.left.checked_sub(read as u64) {
            Some(left) => self.left = left,
            None => {
                let fault = ReadError::TooLarge { path: self.path.clone(), most: self.most };
                return Err(io::Error::other(fault));
            }
        }
        Ok(read)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("hangtrue-read-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    #[test]
    fn a_file_of_just_the_size_is_read_and_one_byte_more_is_refused() {
        let folder = folder("size");
        let path = folder.join("a");
        fs::write(&path, "12345").unwrap();
        assert_eq!(bytes(&path, 5).unwrap(), b"12345");
        assert!(matches!(bytes(&path, 4), Err(ReadError::TooLarge { .. })));
        assert!(matches!(open(&path, 4).err(), Some(ReadError::TooLarge { .. })));
        // Longer than the memory of most machines, and nothing in it.
        File::create(&path).unwrap().set_len(1 << 40).unwrap();
        let fault = text(&path, LARGEST_TEXT).unwrap_err().to_string();
        assert!(fault.contains("larger than 64 MB"), "{fault}");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_file_that_grows_while_it_is_read_is_read_no_further_than_its_limit() {
        let folder = folder("grows");
        let path = folder.join("a");
        fs::write(&path, "1234").unwrap();
        let mut reading = open(&path, 4).unwrap();
        fs::write(&path, "123456").unwrap();
        let mut read = Vec::new();
        let fault = reading.read_to_end(&mut read).unwrap_err();
        assert!(fault.to_string().contains("larger than"), "{fault}");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_byte_order_mark_is_no_part_of_the_text() {
        let folder = folder("mark");
        let path = folder.join("a");
        fs::write(&path, "\u{feff}words").unwrap();
        assert_eq!(text(&path, 99).unwrap(), "words");
        fs::write(&path, b"\xff\xfe\x00").unwrap();
        assert!(matches!(text(&path, 99), Err(ReadError::NotText { .. })));
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_folder_and_what_is_not_there_are_told_apart() {
        let folder = folder("none");
        assert!(matches!(bytes(&folder, 9), Err(ReadError::IsFolder { .. })));
        let fault = bytes(&folder.join("no"), 9).unwrap_err().to_string();
        assert!(fault.contains("it is not there") && !fault.contains("os error"), "{fault}");
        fs::remove_dir_all(&folder).unwrap();
    }

    #[cfg(unix)]
    #[test]
    fn pipes_sockets_and_devices_are_refused_by_kind_and_links_followed() {
        use std::os::unix::fs::symlink;
        let folder = folder("kinds");
        let pipe = folder.join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status().unwrap();
        assert!(made.success());
        let socket = folder.join("socket");
        let _listening = std::os::unix::net::UnixListener::bind(&socket).unwrap();
        let zero = Path::new("/dev/zero");
        for (path, word) in [(&*pipe, "pipe"), (&*socket, "socket"), (zero, "device")] {
            for fault in [bytes(path, 9).err(), open(path, 9).err(), beginning(path, 9).err()] {
                let fault = fault.unwrap().to_string();
                assert!(fault.contains(&format!("is a {word}")), "{fault}");
            }
        }
        let link = folder.join("link");
        symlink(folder.join("file"), &link).unwrap();
        assert!(matches!(bytes(&link, 9), Err(ReadError::LinkToNothing { .. })));
        fs::write(folder.join("file"), "x").unwrap();
        assert_eq!(bytes(&link, 9).unwrap(), b"x");
        fs::remove_dir_all(&folder).unwrap();
    }
}
