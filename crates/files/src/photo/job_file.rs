//! The job of tracing as a file: written and read, its photos found beside it.

use super::{PhotoError, TraceJob};
use crate::project::read_text;
use crate::ron_text;
use crate::ron_words::in_words;
use std::path::{Path, PathBuf};

/// The job as text.
///
/// # Errors
/// [`PhotoError::Job`].
pub fn job_text(job: &TraceJob) -> Result<String, PhotoError> {
    ron_text::written_in_lines(job, ron::ser::PrettyConfig::default())
        .map_err(|e| PhotoError::Job { path: PathBuf::new(), why: in_words(&e) })
}

/// Reads a job; its photos lie beside it unless they name a folder.
///
/// # Errors
/// [`PhotoError::Job`] with the place of the fault.
pub fn read_job(path: &Path) -> Result<TraceJob, PhotoError> {
    let wrong = |why: String| PhotoError::Job { path: path.to_owned(), why };
    let text = read_text(path).map_err(|e| wrong(e.to_string()))?;
    ron_text::read(&text).map_err(|e| {
        let (line, column) = (e.span.start.line, e.span.start.col);
        wrong(format!("line {line}, column {column}: {}", in_words(&e.code)))
    })
}

impl TraceJob {
    /// The same job for a file in `folder`, when the photos were named from
    /// `from`: by their name alone where they lie in it, else with their whole
    /// place.
    #[must_use]
    pub fn named_from(&self, from: &Path, folder: &Path) -> Self {
        let whole = |p: &Path| std::path::absolute(p).unwrap_or_else(|_| p.to_owned());
        let folder = whole(folder);
        let mut job = self.clone();
        for photo in &mut job.photos {
            let place = whole(&from.join(&photo.file));
            let short = place.strip_prefix(&folder).unwrap_or(&place);
            photo.file = short.to_string_lossy().into_owned();
        }
        job
    }
}

#[cfg(test)]
mod tests {
    use super::super::{GrainSeen, Known, LensKind, OutlineSeen, PhotoJob, SheetSize};
    use super::*;

    fn job() -> TraceJob {
        TraceJob {
            photos: vec![PhotoJob {
                file: "card.png".into(),
                lens: LensKind::Wide,
                known: Known::Sheet {
                    sheet: SheetSize::A3,
                    corners: [(1.0, 2.0), (3.0, 4.5), (5.0, 6.0), (7.0, 8.0)],
                    as_pointed: true,
                },
                shared: Vec::new(),
                reach: 8.0,
                outline: OutlineSeen::Card(Some((9.0, 10.0))),
            }],
            piece: "back".into(),
            grain: Some(GrainSeen { photo: 0, from: (1.0, 9.0), to: (1.0, 2.0) }),
            tolerance: 0.3,
            raised: 2.0,
            seams: vec!["waist".into()],
        }
    }

    #[test]
    fn a_job_written_is_read_the_same_and_finds_its_photos() {
        let folder = std::env::temp_dir().join(format!("hangtrue-job-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let file = folder.join("job.ron");
        let beside = job().named_from(&folder, &folder);
        assert_eq!(beside, job(), "a photo beside the job is named by its name");
        std::fs::write(&file, job_text(&beside).unwrap()).unwrap();
        assert_eq!(read_job(&file).unwrap(), job());
        let away = job().named_from(&folder, &folder.join("further"));
        assert_eq!(Path::new(&away.photos[0].file), folder.join("card.png"));
        std::fs::write(&file, "(photos: [], colour: 1)").unwrap();
        let why = read_job(&file).unwrap_err().to_string();
        assert!(why.contains("line 1") && why.contains("colour"), "{why}");
        std::fs::remove_dir_all(&folder).unwrap();
    }
}
