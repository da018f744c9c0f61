//! The work on photos as a file, so that it can be taken up again, here or with
//! `hangtrue digitise job.ron --job`; and the picture from straight above.

use super::photo::Photo;
use hangtrue_files::photo::job_text;
use hangtrue_files::save::{Over, write_output};
use std::path::Path;

impl Photo {
    /// Saves what was said about the photos; gives what is told of it.
    pub fn save_job(&mut self, path: &Path, own_folder: Option<&Path>) -> Result<String, String> {
        let (job, losing) = self.said.job_so_far();
        let folder = path.parent().unwrap_or(Path::new("")).to_owned();
        let job = job.named_from(&self.folder, &folder);
        let text = job_text(&job).map_err(|e| e.to_string())?;
        write_output(path, text.as_bytes(), Over::Replace).map_err(|e| e.to_string())?;
        let place = path.display();
        if losing.is_empty() {
            self.saved = self.said.clone();
            if let Some(own) = own_folder {
                self.forget_beside(own);
            }
            return Ok(format!("the work on the photo is saved in “{place}”."));
        }
        let files: Vec<&str> = losing.iter().map(|i| self.said.photos[*i].file.as_str()).collect();
        let files = files.join(", ");
        Ok(format!(
            "saved in “{place}”, but without the marks of {files}: they are not all there yet."
        ))
    }

    /// Saves the photo looked at as it is seen from straight above; gives what is told
    /// of it.
    pub fn save_straight(&self, path: &Path) -> Result<String, String> {
        let Some((straight, _)) = &self.slots[self.at].above else {
            return Err("look straight down first".into());
        };
        let (mm, png) = (straight.mm_per_pixel(), straight.png().map_err(|e| e.to_string())?);
        write_output(path, &png, Over::Replace).map_err(|e| e.to_string())?;
        Ok(format!(
            "written to “{}”: every pixel is {mm:.3} mm, and it prints at its actual size.",
            path.display()
        ))
    }
}
