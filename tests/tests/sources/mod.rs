//! The project's own files, for tests that read them.

use std::path::{Path, PathBuf};

/// Adds all files of that ending in a folder and those within it.
pub fn files(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    for path in std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
        if path.is_dir() {
            files(&path, ending, found);
        } else if path.extension().is_some_and(|e| e == ending) {
            found.push(path);
        }
    }
}
