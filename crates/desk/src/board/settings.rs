//! What the desk remembers between two days: not the work, only how it is shown.

use hangtrue_files::ron_text;
use hangtrue_pattern::units::Unit;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// How the desk is set up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Whether the evening lamp is lit.
    pub evening: bool,
    /// Size of the letters, 1.0 to 2.0.
    pub letters: f32,
    /// Whether the mates lie beside the pieces.
    pub mates: bool,
    /// How lengths of a new project are shown; none until the maker says.
    pub unit: Option<Unit>,
    /// Points of the screen per mm, as measured by the maker; none before that.
    pub points_per_mm: Option<f64>,
    /// The place of a file is typed, not chosen in the system's window.
    pub type_places: bool,
    /// Files opened lately, the last one first.
    pub recent: Vec<PathBuf>,
    /// What was looked at in files, the last one first.
    pub looked: Vec<LookedAt>,
}

/// What was looked at in a project's file, by the marks of what it was looked at on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LookedAt {
    /// The file, from the root of the file system.
    pub file: PathBuf,
    /// The lines as sewn.
    #[serde(default)]
    pub as_sewn: Option<String>,
    /// The seams walked.
    #[serde(default)]
    pub walked: Option<String>,
}

impl LookedAt {
    /// Nothing was looked at in that file.
    pub fn nothing(file: &Path) -> Self {
        Self { file: whole(file), as_sewn: None, walked: None }
    }
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            evening: false,
            letters: 1.0,
            mates: false,
            unit: None,
            points_per_mm: None,
            type_places: false,
            recent: Vec::new(),
            looked: Vec::new(),
        }
    }
}

/// So many files are remembered.
const RECENT: usize = 8;

impl Settings {
    /// Reads the settings of the folder; what cannot be read is set up anew,
    /// because nothing of the work is lost by it.
    pub fn read(folder: &Path) -> Self {
        let text =
            hangtrue_files::read::text(&folder.join(FILE), hangtrue_files::read::LARGEST_SETTINGS)
                .unwrap_or_default();
        let read: Self = ron_text::read(&text).unwrap_or_default();
        read.within_limits()
    }

    fn within_limits(mut self) -> Self {
        self.letters = if self.letters.is_finite() { self.letters.clamp(1.0, 2.0) } else { 1.0 };
        self.points_per_mm = self.points_per_mm.filter(|p| (1.0..=60.0).contains(p));
        self
    }

    /// Writes the settings into the folder; failing to is no fault of the work.
    pub fn write(&self, folder: &Path) {
        let text = ron_text::written_in_lines(self, Default::default());
        if let Ok(text) = text
            && std::fs::create_dir_all(folder).is_ok()
        {
            let _ = hangtrue_files::save::write_whole(&folder.join(FILE), text.as_bytes());
        }
    }

    /// Remembers what was looked at in a file.
    pub fn has_looked(&mut self, looked: LookedAt) {
        /// So many files are remembered.
        const LOOKED: usize = 24;
        put_first(&mut self.looked, looked, LOOKED, |one, other| one.file == other.file);
    }

    /// Remembers a file as the one used last.
    pub fn used(&mut self, file: &Path) {
        put_first(&mut self.recent, whole(file), RECENT, |one, other| one == other);
    }

    /// What was looked at in a file, if anything.
    pub fn looked_at(&self, file: &Path) -> Option<&LookedAt> {
        let file = whole(file);
        self.looked.iter().find(|l| l.file == file)
    }
}

/// The place of a file from the root of the file system.
fn whole(file: &Path) -> PathBuf {
    std::path::absolute(file).unwrap_or_else(|_| file.to_owned())
}

/// Puts one at the head of a list that holds it once, and so many at the most.
fn put_first<T>(list: &mut Vec<T>, one: T, most: usize, same: impl Fn(&T, &T) -> bool) {
    list.retain(|other| !same(&one, other));
    list.insert(0, one);
    list.truncate(most);
}

/// The unit people measure with where the system says it stands, by the order POSIX
/// gives the variables of the locale: inches in the United States, else centimetres.
pub(crate) fn unit_of_the_place() -> Unit {
    let named = |name| std::env::var(name).ok().filter(|v: &String| !v.is_empty());
    let place = ["LC_ALL", "LC_MEASUREMENT", "LANG"].into_iter().find_map(named);
    let inches = place.is_some_and(|p| p.split('.').next().is_some_and(|p| p.ends_with("_US")));
    if inches { Unit::Eighths } else { Unit::Cm }
}

const FILE: &str = "desk.ron";

/// The folder where the desk keeps its own files: `$XDG_DATA_HOME/hangtrue`, else
/// `.local/share/hangtrue` in the home folder (XDG Base Directory Specification);
/// `%APPDATA%\hangtrue` where there is one. None when the system names no home.
pub fn own_folder() -> Option<PathBuf> {
    let named = |name: &str| std::env::var_os(name).filter(|v| !v.is_empty()).map(PathBuf::from);
    named("XDG_DATA_HOME")
        .or_else(|| named("APPDATA"))
        .or_else(|| named("HOME").map(|h| h.join(".local").join("share")))
        .map(|base| base.join("hangtrue"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_are_read_back_and_nonsense_is_set_right() {
        let folder = std::env::temp_dir().join(format!("hangtrue-set-{}", std::process::id()));
        let mut settings = Settings { letters: 1.5, evening: true, ..Settings::default() };
        for i in 0..20 {
            settings.used(Path::new(&format!("/somewhere/{i}.ron")));
        }
        settings.used(Path::new("/somewhere/15.ron"));
        assert_eq!(settings.recent.len(), RECENT);
        assert!(settings.recent[0].ends_with("15.ron"));
        settings.write(&folder);
        assert_eq!(Settings::read(&folder), settings);
        std::fs::write(folder.join(FILE), "(letters: 900.0, points_per_mm: Some(-1.0))").unwrap();
        let read = Settings::read(&folder);
        assert_eq!((read.letters, read.points_per_mm), (2.0, None));
        std::fs::write(folder.join(FILE), "not ron at all (").unwrap();
        assert_eq!(Settings::read(&folder), Settings::default());
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
