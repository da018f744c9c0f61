//! What was not saved is kept beside, never more than two seconds behind, and
//! offered at the next start.

use crate::kit::running::another_is_running;
use egui::Context;
use hangtrue_adjust::Document;
use hangtrue_files::project::{Held, Standing, Unsaved, read_text};
use hangtrue_files::save::make_private_folder;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Work is kept this long after it was done at the latest. With the writing and
/// a slow picture it stays below the two seconds that may be lost.
const BEHIND: Duration = Duration::from_millis(600);

/// Work that an earlier desk left unsaved.
#[derive(Debug, Clone)]
pub struct LeftBehind {
    /// The file it is kept in.
    pub file: PathBuf,
    /// The work.
    pub kept: Unsaved,
    /// How the file it belongs to stands now, if that is known.
    pub standing: Option<Standing>,
}

/// Keeps the work of one running desk in a file of its own.
#[derive(Debug)]
pub struct Recovery {
    file: Option<PathBuf>,
    undone_since: Option<Instant>,
    written: bool,
    older: Option<PathBuf>,
    /// Why the work could not be kept, if it could not.
    pub fault: Option<String>,
}

/// The folder of the kept projects.
fn kept_folder(own: &Path) -> PathBuf {
    own.join("not-saved")
}

/// A name no kept work has yet. The system gives a process the number of a dead one
/// again (where a desk runs shut in by itself it is often the very same), and what
/// that one kept may not be written over.
fn free_name(folder: &Path) -> PathBuf {
    let process = std::process::id();
    let first = folder.join(format!("{process}.ron"));
    let others = (1..).map(|i| folder.join(format!("{process}-{i}.ron")));
    let mut names = std::iter::once(first.clone()).chain(others);
    names.find(|name| !name.exists()).unwrap_or(first)
}

impl Recovery {
    /// Keeps in the desk's own folder; none keeps nothing.
    pub fn new(own_folder: Option<PathBuf>) -> Self {
        let file = own_folder.map(|f| free_name(&kept_folder(&f)));
        Self { file, undone_since: None, written: false, older: None, fault: None }
    }

    /// Where the work is kept.
    pub fn file(&self) -> Option<&Path> {
        self.file.as_deref()
    }

    /// Tells that something was done that is not kept yet.
    pub fn work_done(&mut self) {
        self.undone_since.get_or_insert_with(Instant::now);
    }

    /// Keeps the project when it is due, and asks to be called again when it
    /// will be.
    pub fn keep(&mut self, document: &Document, held: Option<&Held>, unsaved: bool, ctx: &Context) {
        if !unsaved {
            self.undone_since = None;
            self.forget();
            return;
        }
        let Some(since) = self.undone_since else { return };
        let waited = since.elapsed();
        if waited < BEHIND {
            ctx.request_repaint_after(BEHIND - waited);
        } else {
            self.undone_since = None;
            self.fault = self.write(document, held).err();
        }
    }

    fn write(&mut self, document: &Document, held: Option<&Held>) -> Result<(), String> {
        let Some(own) = &self.file else { return Ok(()) };
        let kept = Unsaved::new(document.clone(), held.cloned());
        let text = kept.to_text().map_err(|e| e.to_string())?;
        if let Some(folder) = own.parent() {
            make_private_folder(folder).map_err(|e| e.to_string())?;
        }
        hangtrue_files::save::write_private(own, text.as_bytes()).map_err(|e| e.to_string())?;
        self.written = true;
        if let Some(older) = self.older.take() {
            let _ = std::fs::remove_file(older);
        }
        Ok(())
    }

    /// The work of this kept file is on the desk now: it is kept under our own name,
    /// and the older one taken away when that stands in its place.
    pub fn takes_over(&mut self, older: PathBuf, document: &Document, held: Option<&Held>) {
        self.older = Some(older);
        self.fault = self.write(document, held).err();
    }

    /// Takes the kept file away: the work is saved, or given up knowingly.
    pub fn forget(&mut self) {
        if let Some(older) = self.older.take() {
            let _ = std::fs::remove_file(older);
        }
        if self.written
            && let Some(file) = &self.file
        {
            let _ = std::fs::remove_file(file);
            self.written = false;
        }
    }
}

/// Work of earlier desks.
#[derive(Debug, Default)]
pub struct Earlier {
    /// The projects they left unsaved, the newest first.
    pub left: Vec<LeftBehind>,
    /// What cannot be read of theirs, and why: it stays where it is.
    pub unreadable: Vec<(PathBuf, String)>,
}

/// What earlier desks left unsaved. A desk that still runs keeps its own (`own_file`
/// is that of this one); it is not offered.
pub fn left_behind(own_folder: &Path, own_file: Option<&Path>) -> Earlier {
    hangtrue_files::save::sweep(&kept_folder(own_folder), |_| true);
    let mut earlier = Earlier::default();
    let Ok(entries) = std::fs::read_dir(kept_folder(own_folder)) else { return earlier };
    let mut found: Vec<(std::time::SystemTime, PathBuf, Unsaved)> = Vec::new();
    for path in entries.flatten().map(|e| e.path()) {
        let is_own = own_file.is_some_and(|own| own == path);
        if path.extension().is_none_or(|e| e != "ron") || is_own || another_is_running(&path) {
            continue;
        }
        let Ok(time) = path.metadata().and_then(|m| m.modified()) else { continue };
        let name = path.display().to_string();
        match read_text(&path).and_then(|text| Unsaved::from_text(&text, &name)) {
            Ok(kept) => found.push((time, path, kept)),
            Err(why) => earlier.unreadable.push((path, why.to_string())),
        }
    }
    found.sort_by_key(|f| std::cmp::Reverse(f.0));
    earlier.left = found
        .into_iter()
        .map(|(_, file, kept)| LeftBehind {
            standing: kept.held.as_ref().map(Held::standing),
            file,
            kept,
        })
        .collect();
    earlier
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(path: &Path) -> Unsaved {
        Unsaved::from_text(&std::fs::read_to_string(path).unwrap(), "kept").unwrap()
    }

    #[test]
    fn unsaved_work_is_kept_when_due_and_forgotten_when_saved() {
        let own = std::env::temp_dir().join(format!("hangtrue-keep-{}", std::process::id()));
        let ctx = Context::default();
        let document = crate::sample::document();
        let mut recovery = Recovery::new(Some(own.clone()));
        let file = recovery.file.clone().unwrap();
        recovery.keep(&document, None, true, &ctx);
        assert!(!file.exists(), "nothing was done yet");
        recovery.work_done();
        recovery.keep(&document, None, true, &ctx);
        assert!(!file.exists(), "not due yet");
        std::thread::sleep(BEHIND);
        recovery.keep(&document, None, true, &ctx);
        let kept = read(&file);
        assert_eq!(kept.document, document);
        recovery.keep(&document, None, false, &ctx);
        assert!(!file.exists(), "saved, so there is nothing to recover");
        std::fs::remove_dir_all(&own).unwrap();
    }

    #[test]
    fn a_process_that_gets_a_dead_ones_number_keeps_beside_it() {
        let own = std::env::temp_dir().join(format!("hangtrue-again-{}", std::process::id()));
        let first = Recovery::new(Some(own.clone())).file.unwrap();
        let kept = Unsaved::new(crate::sample::document(), None);
        std::fs::create_dir_all(kept_folder(&own)).unwrap();
        std::fs::write(&first, kept.to_text().unwrap()).unwrap();
        let mut again = Recovery::new(Some(own.clone()));
        again.work_done();
        std::thread::sleep(BEHIND);
        assert_eq!(left_behind(&own, again.file()).left.len(), 1, "and is offered");
        let mut other = crate::sample::document();
        other.title = "another client’s".into();
        again.keep(&other, None, true, &Context::default());
        assert_eq!(read(&first), kept, "the dead one’s work still stands");
        assert_eq!(read(again.file().unwrap()).document, other);
        std::fs::remove_dir_all(&own).unwrap();
    }

    #[test]
    fn what_a_dead_desk_left_is_found_and_a_broken_file_is_not_offered() {
        let own = std::env::temp_dir().join(format!("hangtrue-left-{}", std::process::id()));
        let folder = kept_folder(&own);
        std::fs::create_dir_all(&folder).unwrap();
        let kept = Unsaved::new(crate::sample::document(), None);
        // No process has this number (the most Linux gives is 2^22).
        std::fs::write(folder.join("4999999.ron"), kept.to_text().unwrap()).unwrap();
        std::fs::write(folder.join("4999998.ron"), "(document: (tit").unwrap();
        let newer = kept.to_text().unwrap().replacen("title:", "hue:1,title:", 1);
        std::fs::write(folder.join("4999997.ron"), newer).unwrap();
        let found = left_behind(&own, None);
        assert_eq!(found.left.len(), 1);
        assert_eq!(found.left[0].kept, kept);
        let mut whys: Vec<String> = found.unreadable.into_iter().map(|(_, why)| why).collect();
        whys.sort();
        assert!(whys[0].contains("4999997") && whys[0].contains("hue"), "{whys:?}");
        assert!(whys[1].contains("4999998"), "{whys:?}");
        assert!(folder.join("4999997.ron").exists() && folder.join("4999998.ron").exists());
        std::fs::remove_dir_all(&own).unwrap();
    }
}
