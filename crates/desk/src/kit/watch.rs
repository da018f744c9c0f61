//! A file watched beside the window, so that it is noticed when somebody else writes
//! it. The file's date and size are looked at; what it holds is read by whoever asks.

use egui::Context;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, SystemTime};

/// How often the file is looked at. A drive that others share tells nobody of their
/// writing, so it has to be asked.
const EVERY: Duration = Duration::from_millis(700);

/// A file being watched, until this is dropped.
pub(crate) struct Watch {
    file: PathBuf,
    is_changed: Arc<AtomicBool>,
    stop: Arc<AtomicBool>,
}

/// Date and size; none of a file that is not there.
fn looks(file: &Path) -> Option<(SystemTime, u64)> {
    let found = std::fs::metadata(file).ok()?;
    Some((found.modified().ok()?, found.len()))
}

impl Watch {
    pub fn begin(ctx: &Context, file: &Path) -> Self {
        let (is_changed, stop) =
            (Arc::new(AtomicBool::new(false)), Arc::new(AtomicBool::new(false)));
        let watch = Self { file: file.to_owned(), is_changed, stop };
        let (file, ctx) = (watch.file.clone(), ctx.clone());
        let (is_changed, stop) = (watch.is_changed.clone(), watch.stop.clone());
        let mut known = looks(&file);
        std::thread::spawn(move || {
            while !stop.load(Ordering::Relaxed) {
                std::thread::sleep(EVERY);
                let now = looks(&file);
                if now != known {
                    known = now;
                    is_changed.store(true, Ordering::Relaxed);
                    ctx.request_repaint();
                }
            }
        });
        watch
    }

    pub fn file(&self) -> &Path {
        &self.file
    }

    /// Whether the file was written since this was last asked.
    pub fn take_changed(&self) -> bool {
        self.is_changed.swap(false, Ordering::Relaxed)
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}
