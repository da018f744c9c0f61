//! Project files: a document as RON text, readable in a diff, with a version.

mod drawn;
mod held;
mod numbers;
mod unsaved;

pub use drawn::{SavedOtherwise, save_as_it_was, save_beside, saved_otherwise};
pub use held::{
    Held, Stamp, Standing, Writing, open, open_to_write, save_new, save_new_over, sweep,
};
pub use unsaved::Unsaved;

use crate::read::{self, ReadError};
use crate::ron_text;
use crate::ron_words::in_words;
use crate::save::SaveError;
use hangtrue_adjust::Document;
use hangtrue_pattern::Pattern;
use ron::ser::PrettyConfig;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// The version this program writes. It reads this one and every older one.
pub const VERSION: u32 = 1;

/// A project file that could not be read or written.
#[derive(Debug, thiserror::Error)]
pub enum ProjectError {
    /// The file is not there, may not be read, or is no ordinary text file.
    #[error(transparent)]
    Unreadable(#[from] ReadError),
    /// The text is not a project: broken off, misspelt, or something else.
    #[error(
        "“{name}” is damaged and cannot be opened; nothing in it was changed. Open an older copy of it, or let somebody mend this place of its text: line {line}, column {column}: {why}"
    )]
    Broken {
        /// The file.
        name: String,
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader met.
        why: String,
    },
    /// The text does not even begin like a project.
    #[error("“{name}” is no project of Hangtrue, but some other text; choose another file")]
    Foreign {
        /// The file.
        name: String,
    },
    /// The file was written by a newer program.
    #[error(
        "“{name}” has version {found} of the project file; this program reads up to version {VERSION}, so a newer Hangtrue is needed"
    )]
    Newer {
        /// The file.
        name: String,
        /// The version it has.
        found: u32,
    },
    /// A field this program does not know: it would be gone after the next save.
    #[error(
        "“{name}” holds “{field}”, which is not known here; take it out, or open the file with the Hangtrue that wrote it"
    )]
    UnknownField {
        /// The file.
        name: String,
        /// The field, with what it lies in.
        field: String,
    },
    /// A number in the file is not a number.
    #[error("“{name}” holds “{word}” at line {line} where a number should be; put a number there")]
    NotANumber {
        /// The file.
        name: String,
        /// The word found.
        word: String,
        /// Line, from 1.
        line: usize,
    },
    /// Somebody else wrote the file since it was read.
    #[error(
        "“{}” was changed by somebody else since it was read here, so it is not written over; read it again, or save under another name", path.display()
    )]
    ChangedMeanwhile {
        /// The file.
        path: PathBuf,
    },
    /// The file is no longer there.
    #[error(
        "“{}” is no longer where it was read; put it back, or save under another name", path.display()
    )]
    Gone {
        /// The file.
        path: PathBuf,
    },
    /// Somebody else writes the file and does not let go.
    #[error(
        "“{}” is being written by another Hangtrue, which does not let go of it; close that one, then try again", path.display()
    )]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// The document cannot be written as text.
    #[error("the project cannot be written as text: {why}")]
    Unwritable {
        /// What the writer said.
        why: String,
    },
    /// The document holds too much.
    #[error(transparent)]
    Limit(#[from] hangtrue_adjust::LimitError),
    /// Saving failed; the old file still stands.
    #[error(transparent)]
    Save(#[from] SaveError),
}

/// How the first line of a project begins.
const WORDS_ABOVE: &str = "// A Hangtrue project.";
/// The name of what stands in the file.
const FILE_NAME: &str = "HangtrueProject";

/// What stands in the file.
#[derive(Serialize, Deserialize)]
#[serde(rename = "HangtrueProject", deny_unknown_fields)]
struct ProjectFile {
    version: u32,
    project: Document,
    /// The pattern it came to when it was saved: see [`drawn`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    drawn: Option<Pattern>,
}

/// Only the version, for files whose rest may be unknown to us.
#[derive(Deserialize)]
struct VersionOnly {
    version: u32,
}

/// The document as project text.
///
/// # Errors
/// [`ProjectError::Unwritable`].
pub fn to_text(document: &Document) -> Result<String, ProjectError> {
    document.check_limits()?;
    let drawn = drawn::drawn_now(document);
    let file = ProjectFile { version: VERSION, project: document.clone(), drawn };
    let pretty = PrettyConfig::new().indentor("  ").struct_names(false).compact_arrays(false);
    let body = ron_text::written_in_lines(&file, pretty)
        .map_err(|e| ProjectError::Unwritable { why: e.to_string() })?;
    // Such a file could not be opened again.
    if let Some((line, word)) = numbers::no_number(&body) {
        let why = format!("a length in it is “{word}” (line {line} of the text)");
        return Err(ProjectError::Unwritable { why });
    }
    Ok(format!("{WORDS_ABOVE} Lengths are in millimetres.\n{body}\n"))
}

/// Reads project text; `name` is used in messages.
///
/// # Errors
/// [`ProjectError`] with the place of the fault.
pub fn from_text(text: &str, name: &str) -> Result<Document, ProjectError> {
    let newer = |found| ProjectError::Newer { name: name.to_owned(), found };
    if !begins_like_one(text) {
        return Err(ProjectError::Foreign { name: name.to_owned() });
    }
    match strictly::<ProjectFile>(text, name) {
        Ok(file) if file.version > VERSION => Err(newer(file.version)),
        Ok(file) => from_file(file),
        // What cannot be read may be of a version that knows more; only then is the text
        // gone through a second time.
        Err(fault) => match ron_text::read::<VersionOnly>(text) {
            Ok(VersionOnly { version }) if version > VERSION => Err(newer(version)),
            Ok(_) => Err(fault),
            Err(e) => Err(broken(&e, name)),
        },
    }
}

fn from_file(file: ProjectFile) -> Result<Document, ProjectError> {
    file.project.check_limits()?;
    Ok(file.project)
}

/// Whether the first of the text that is no remark, if there is any, opens a bracket.
fn begins_like_one(text: &str) -> bool {
    let lines = text.trim_start_matches('\u{feff}').lines().map(str::trim_start);
    let mut said = lines.filter(|line| !line.is_empty() && !line.starts_with("//"));
    // Remarks of the other kind, and what sets the reading, are left to the reader.
    said.next().is_none_or(|line| line.starts_with(['(', '#', '/']))
}

/// Reads text that holds a document with other things: each number a number, each
/// field one that is known, at any depth.
///
/// # Errors
/// [`ProjectError`] with the place of the fault; `name` is used in it.
fn strictly<T: DeserializeOwned>(text: &str, name: &str) -> Result<T, ProjectError> {
    if let Some((line, word)) = numbers::no_number(text) {
        return Err(ProjectError::NotANumber { name: name.to_owned(), word, line });
    }
    // Places come from the library of curves, which reads over what it does not know.
    let mut unknown = None;
    let mut note = |path: serde_ignored::Path<'_>| {
        unknown.get_or_insert_with(|| path.to_string());
    };
    let held = ron_text::read_noting(text, &mut note).map_err(|e| broken(&e, name))?;
    match unknown {
        Some(field) => Err(ProjectError::UnknownField { name: name.to_owned(), field }),
        None => Ok(held),
    }
}

fn broken(e: &ron::error::SpannedError, name: &str) -> ProjectError {
    ProjectError::Broken {
        name: name.to_owned(),
        line: e.span.start.line,
        column: e.span.start.col,
        why: in_words(&e.code),
    }
}

/// Reads a small text file; one that is far too large is refused before it fills
/// the memory, also when its size is not known beforehand.
///
/// # Errors
/// [`ProjectError::Unreadable`].
pub fn read_text(path: &Path) -> Result<String, ProjectError> {
    Ok(read::text(path, read::LARGEST_TEXT)?)
}

/// Reads a project, with nothing swept or remembered.
///
/// # Errors
/// [`ProjectError`].
pub fn load(path: &Path) -> Result<Document, ProjectError> {
    from_text(&read_text(path)?, &path.display().to_string())
}

/// Whether a file is a project, by how it begins: of any version, broken further
/// on, or without the line of words above. What cannot be read is none.
pub fn is_project(path: &Path) -> bool {
    const BEGINNING: u64 = 4096;
    read::beginning(path, BEGINNING)
        .is_ok_and(|bytes| begins_as_project(&String::from_utf8_lossy(&bytes)))
}

fn begins_as_project(text: &str) -> bool {
    let text = text.trim_start_matches('\u{feff}');
    if text.starts_with(WORDS_ABOVE) {
        return true;
    }
    let lines = text.lines().map(|l| l.split("//").next().unwrap_or_default());
    let code: String = lines.flat_map(str::chars).filter(|c| !c.is_whitespace()).collect();
    let fields = code.strip_prefix(FILE_NAME).unwrap_or(&code);
    fields.starts_with("(version:") && fields.contains("project:")
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_adjust::Start;
    use hangtrue_pattern::Pattern;

    pub(super) fn document() -> Document {
        Document {
            title: "Trousers \"no. 1\"".into(),
            client: "Ågot, of nowhere (inf)".into(),
            unit: Default::default(),
            start: Start::Pieces(Pattern::default()),
            pinned: vec![],
            changes: vec![],
            journal: hangtrue_adjust::Journal::default(),
            printing: Default::default(),
            cutting: Default::default(),
            lays: Default::default(),
            figure: Default::default(),
        }
    }

    #[test]
    fn saving_and_loading_is_identity() {
        let text = to_text(&document()).unwrap();
        assert_eq!(from_text(&text, "x").unwrap(), document());
        assert_eq!(to_text(&from_text(&text, "x").unwrap()).unwrap(), text);
    }

    #[test]
    fn what_could_not_be_opened_again_is_not_written() {
        let with = |value: f64| {
            let mut document = document();
            let values = [(hangtrue_pattern::Measure::Stature, value)];
            let plan = Default::default();
            document.start = Start::Block { measures: values.into_iter().collect(), plan };
            to_text(&document)
        };
        assert!(with(1680.0).is_ok());
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(matches!(with(value), Err(ProjectError::Unwritable { .. })), "{value}");
        }
    }

    #[test]
    fn a_title_may_speak_of_what_is_no_number() {
        let spoken = Document { title: "say \"NaN\" and // \"inf\"".into(), ..document() };
        assert_eq!(from_text(&to_text(&spoken).unwrap(), "x").unwrap(), spoken);
    }

    #[test]
    fn a_text_broken_off_anywhere_is_refused_with_its_place() {
        let text = to_text(&document()).unwrap();
        let end = text.trim_end().len();
        for cut in (0..end).filter(|c| text.is_char_boundary(*c)) {
            assert!(from_text(&text[..cut], "x").is_err(), "cut at {cut}");
        }
    }

    #[test]
    fn a_newer_version_says_so_even_when_the_rest_is_strange() {
        let text = "(version: 99, project: Something(new: [1, 2], way: \"x\"))";
        assert!(matches!(from_text(text, "x"), Err(ProjectError::Newer { found: 99, .. })));
    }

    #[test]
    fn not_a_number_is_named_with_its_line() {
        let text = "(version: 1,\n project: (title: \"NaN\", client: \"\",\n depth: -inf))";
        let Err(ProjectError::NotANumber { word, line, .. }) = from_text(text, "x") else {
            panic!("accepted")
        };
        assert_eq!((word.as_str(), line), ("-inf", 3));
    }

    #[cfg(unix)]
    #[test]
    fn a_file_without_end_is_refused() {
        let fault = load(Path::new("/dev/zero")).unwrap_err();
        assert!(
            matches!(fault, ProjectError::Unreadable(ReadError::NotOrdinary { .. })),
            "{fault}"
        );
        let folder = load(Path::new("/"));
        assert!(matches!(folder, Err(ProjectError::Unreadable(ReadError::IsFolder { .. }))));
    }

    #[test]
    fn a_project_is_known_by_its_beginning() {
        let text = to_text(&document()).unwrap();
        let without_words = text.split_once('\n').unwrap().1;
        let named = without_words.replacen('(', "HangtrueProject (", 1);
        for text in [&*text, without_words, &named, &text[..120], &format!("\u{feff}{text}")] {
            assert!(begins_as_project(text), "{text}");
        }
        for other in ["", "%PDF-1.7", "(photos: [], colour: 1)", "(version: 1, rules: [])"] {
            assert!(!begins_as_project(other), "{other}");
        }
    }

    #[test]
    fn a_missing_file_is_named() {
        let fault = load(Path::new("/nowhere/at/all.ron")).unwrap_err().to_string();
        assert!(fault.contains("/nowhere/at/all.ron"), "{fault}");
    }
}
