//! Whether every file of a crate's tests is run: a file that no program names would
//! pass without a word.

use std::path::Path;
use std::{fs, io};

/// The files of a crate's `tests` folder that neither `all.rs` nor a program of its own
/// runs, by name without ending.
///
/// # Errors
/// When the folder or one of the two lists cannot be read.
pub fn tests_not_run(crate_folder: &str) -> io::Result<Vec<String>> {
    let folder = Path::new(crate_folder).join("tests");
    let all = fs::read_to_string(folder.join("all.rs"))?;
    let manifest = fs::read_to_string(Path::new(crate_folder).join("Cargo.toml"))?;
    let run = |name: &str| {
        all.lines().any(|line| line == format!("mod {name};"))
            || manifest.lines().any(|line| line == format!("name = \"{name}\""))
    };
    let mut missing = Vec::new();
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        if path.extension().is_some_and(|e| e == "rs") && !run(&name) {
            missing.push(name);
        }
    }
    Ok(missing)
}
