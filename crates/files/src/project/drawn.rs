//! The pattern a project came to when it was saved, kept beside what it is computed from:
//! another Hangtrue may compute another one, and what was printed then must not be lost.

use super::{Held, ProjectError, ProjectFile, from_file, read_text, save_new, strictly};
use crate::save::SaveError;
use hangtrue_adjust::{Document, DrawnOtherwise, Figure, Replay, drawn_otherwise};
use hangtrue_pattern::Pattern;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A pattern that comes out otherwise than when it was saved.
#[derive(Debug, Clone, PartialEq)]
pub struct SavedOtherwise {
    /// As it was saved.
    pub pattern: Pattern,
    /// Where today's lies furthest from it.
    pub at: DrawnOtherwise,
}

/// What the project comes to now; none where it cannot be computed.
pub(super) fn drawn_now(document: &Document) -> Option<Pattern> {
    let replay = Replay::new(document.clone());
    replay.current().ok().map(|pattern| Pattern::clone(pattern))
}

/// Whether the project in that file comes out otherwise today than when it was saved. What
/// was `computed` is not computed again, where it is of what the file holds. A file that says
/// nothing of it, as older ones, says nothing wrong.
///
/// # Errors
/// [`ProjectError`] when the file cannot be read.
pub fn saved_otherwise(
    path: &Path,
    computed: &Replay,
) -> Result<Option<SavedOtherwise>, ProjectError> {
    let name = path.display().to_string();
    let file: ProjectFile = strictly(&read_text(path)?, &name)?;
    let Some(pattern) = file.drawn.clone() else { return Ok(None) };
    let document = from_file(file)?;
    let now = match *computed.document() == document {
        true => computed.current().ok().cloned(),
        false => drawn_now(&document).map(Arc::new),
    };
    let at = now.and_then(|now| drawn_otherwise(&pattern, &now));
    Ok(at.map(|at| SavedOtherwise { pattern, at }))
}

/// Saves the pattern as it was in a project of its own beside the one it is of, which starts
/// from those pieces. The file gets the first free name.
///
/// # Errors
/// As [`save_new`].
pub fn save_as_it_was(
    project: &Path,
    document: &Document,
    pattern: Pattern,
) -> Result<Held, ProjectError> {
    let title = format!("{} (as it was saved)", document.title);
    let mut own = Document::from_pieces(&title, &document.client, document.unit, pattern);
    own.figure = document.figure.clone();
    if let Some(body) = document.body() {
        own.figure = Figure { measures: body.clone(), ..own.figure };
    }
    own.printing = document.printing.clone();
    own.cutting = document.cutting.clone();
    save_beside(project, "as it was saved", &own)
}

/// Saves under the first free name after that of a project, with these words behind it.
///
/// # Errors
/// As [`save_new`].
pub fn save_beside(project: &Path, words: &str, document: &Document) -> Result<Held, ProjectError> {
    let mut number = 1;
    loop {
        match save_new(&beside(project, words, number), document) {
            Err(ProjectError::Save(SaveError::Exists { .. } | SaveError::IsProject { .. })) => {
                number += 1;
            }
            done => return done,
        }
    }
}

fn beside(project: &Path, words: &str, number: usize) -> PathBuf {
    let stem = project.file_stem().unwrap_or_default().to_string_lossy();
    let ending = project.extension().unwrap_or_default().to_string_lossy();
    let count = if number > 1 { format!(" {number}") } else { String::new() };
    project.with_file_name(format!("{stem} ({words}{count}).{ending}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::project::{open, to_text};
    use crate::ron_text;
    use hangtrue_adjust::Start;
    use std::fs;

    fn folder(name: &str) -> PathBuf {
        let folder =
            std::env::temp_dir().join(format!("hangtrue-drawn-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).unwrap();
        folder
    }

    /// A file as a Hangtrue with other rules would have written it: of the same measures,
    /// another pattern.
    fn written_by_other_rules(path: &Path, document: &Document) -> Pattern {
        let mut other = document.clone();
        let Start::Block { measures, .. } = &mut other.start else { panic!("no block") };
        let hip = measures.get(hangtrue_pattern::Measure::HipGirth).unwrap();
        measures.set(hangtrue_pattern::Measure::HipGirth, hip + 20.0);
        let drawn = drawn_now(&other).unwrap();
        let file = ProjectFile {
            version: super::super::VERSION,
            project: document.clone(),
            drawn: Some(drawn.clone()),
        };
        fs::write(path, ron_text::written_in_lines(&file, Default::default()).unwrap()).unwrap();
        drawn
    }

    #[test]
    fn a_project_that_comes_out_as_it_was_saved_says_nothing() {
        let folder = folder("alike");
        let path = folder.join("p.ron");
        let document = crate::demo::bare().unwrap();
        save_new(&path, &document).unwrap();
        assert_eq!(saved_otherwise(&path, &Replay::new(document.clone())).unwrap(), None);
        // Nor does one that is too old to say.
        let text = to_text(&document).unwrap();
        let start = text.find("  drawn: Some(").unwrap();
        fs::write(&path, format!("{})\n", &text[..start])).unwrap();
        assert_eq!(saved_otherwise(&path, &Replay::new(document.clone())).unwrap(), None);
        assert_eq!(open(&path).unwrap().0, document);
        fs::remove_dir_all(&folder).unwrap();
    }

    #[test]
    fn a_pattern_that_comes_out_otherwise_is_found_and_kept() {
        let folder = folder("otherwise");
        let path = folder.join("p.ron");
        let document = crate::demo::bare().unwrap();
        let then = written_by_other_rules(&path, &document);
        let found = saved_otherwise(&path, &Replay::new(document.clone())).unwrap().unwrap();
        assert_eq!(found.pattern, then);
        assert!(found.at.apart.is_some_and(|mm| mm > 1.0), "{:?}", found.at);
        let held = save_as_it_was(&path, &document, found.pattern.clone()).unwrap();
        let again = save_as_it_was(&path, &document, found.pattern).unwrap();
        assert_ne!(held.file(), again.file(), "nothing is written over");
        let (kept, _) = open(held.file()).unwrap();
        assert_eq!(drawn_now(&kept).unwrap(), then);
        assert_eq!(kept.worn_by(), document.worn_by());
        assert_eq!(open(&path).unwrap().0, document, "the project itself stays");
        fs::remove_dir_all(&folder).unwrap();
    }
}
