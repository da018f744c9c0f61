//! Work on a photo that is in no file is kept beside, so that a power failure
//! loses none of it; the menu offers what an earlier desk left.

use super::photo::Photo;
use crate::kit::running::is_running;
use hangtrue_files::photo::job_text;
use hangtrue_files::save::{make_private_folder, write_private};
use std::path::{Path, PathBuf};

fn folder(own: &Path) -> PathBuf {
    own.join("photos-not-finished")
}

fn own_file(own: &Path) -> PathBuf {
    folder(own).join(format!("{}.ron", std::process::id()))
}

/// The work on a photo that an earlier desk left, the newest.
pub(crate) fn left_behind(own: &Path) -> Option<PathBuf> {
    let entries = std::fs::read_dir(folder(own)).ok()?;
    let left = entries.flatten().map(|e| e.path());
    let left = left.filter(|p| p.extension().is_some_and(|e| e == "ron") && !is_running(p));
    let dated = left.filter_map(|p| Some((p.metadata().ok()?.modified().ok()?, p)));
    dated.max().map(|(_, path)| path)
}

impl Photo {
    /// Keeps what was said; photos are named by their whole place.
    pub(super) fn keep_beside(&mut self, own: &Path) -> Result<(), String> {
        let (job, _) = self.said.job_so_far();
        let job = job.named_from(&self.folder, &folder(own));
        let text = job_text(&job).map_err(|e| e.to_string())?;
        make_private_folder(&folder(own)).map_err(|e| e.to_string())?;
        write_private(&own_file(own), text.as_bytes()).map_err(|e| e.to_string())?;
        if let Some(older) = self.taken_over.take() {
            let _ = std::fs::remove_file(older);
        }
        Ok(())
    }

    /// Takes the kept file away: the work is saved, taken in or given up.
    pub(crate) fn forget_beside(&mut self, own: &Path) {
        if let Some(older) = self.taken_over.take() {
            let _ = std::fs::remove_file(older);
        }
        let _ = std::fs::remove_file(own_file(own));
    }
}
