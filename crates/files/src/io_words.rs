//! What the system says of a file, in our own words: its own differ from machine to
//! machine and end in a number nobody can use.

use std::io::{Error, ErrorKind};

/// Why a file or folder could not be read or written, to stand behind a colon.
pub fn words_of_io(error: &Error) -> &'static str {
    match error.kind() {
        ErrorKind::NotFound => "it is not there",
        ErrorKind::PermissionDenied => "you are not allowed to; ask its owner, or use a copy",
        ErrorKind::AlreadyExists => "something is there already; choose another name",
        ErrorKind::StorageFull => "the drive is full; make room on it, or use another",
        ErrorKind::QuotaExceeded => "you have used all your room on the drive; make some free",
        ErrorKind::FileTooLarge => "the drive takes no file of this size; use another",
        ErrorKind::ReadOnlyFilesystem => "the drive may only be read; use another",
        ErrorKind::InvalidFilename => {
            "the name is too long, or has letters the drive does not take"
        }
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "a part of its place is a file where a folder should be",
        ErrorKind::InvalidInput => "the name has letters that no file name may have",
        ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy | ErrorKind::WouldBlock => {
            "another program uses it; close that one, then try again"
        }
        ErrorKind::BrokenPipe => "whoever reads it has gone away",
        ErrorKind::TimedOut | ErrorKind::StaleNetworkFileHandle => {
            "the drive does not answer; look whether it is still connected"
        }
        ErrorKind::UnexpectedEof => "it breaks off",
        ErrorKind::InvalidData => "it does not hold what it should",
        ErrorKind::OutOfMemory => "the memory is full; close other programs, then try again",
        ErrorKind::Interrupted => "it was interrupted; try again",
        ErrorKind::Unsupported => "the drive does not know how",
        // Loops of links have no stable kind of their own.
        _ => "the drive or the link does not work; try a copy in another folder",
    }
}

/// The fault of the system inside that of a table, whose wrapping would hide its kind.
pub(crate) fn io_of_csv(error: csv::Error) -> Error {
    match error.into_kind() {
        csv::ErrorKind::Io(source) => source,
        other => Error::other(format!("{other:?}")),
    }
}

/// The same for a table, whose reader has words of its own for the rest.
pub(crate) fn words_of_csv(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::Io(source) => match source.get_ref() {
            // Ours, handed through: a table that grew past its limit.
            Some(own) => own.to_string(),
            None => words_of_io(source).to_owned(),
        },
        // The reader counts lines otherwise here, so none is named.
        csv::ErrorKind::Utf8 { .. } => "it is not plain text (UTF-8)".into(),
        csv::ErrorKind::UnequalLengths { pos, expected_len, len } => format!(
            "{} has {len} columns, where the first line has {expected_len}",
            line_of(pos.as_ref())
        ),
        _ => format!("{} cannot be understood", line_of(error.position())),
    }
}

/// The line of a table, named.
fn line_of(position: Option<&csv::Position>) -> String {
    position.map_or_else(|| "a line".into(), |at| format!("line {}", at.line()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault_of(table: &[u8]) -> String {
        let mut reader = csv::Reader::from_reader(table);
        reader.records().find_map(Result::err).map(|e| words_of_csv(&e)).unwrap_or_default()
    }

    #[test]
    fn a_table_is_refused_in_our_words_with_its_line() {
        assert_eq!(
            fault_of(b"a,b\n1,2\n1,2,3\n"),
            "line 3 has 3 columns, where the first line has 2"
        );
        assert_eq!(fault_of(b"a,b\n1,\xff\n"), "it is not plain text (UTF-8)");
    }
}
