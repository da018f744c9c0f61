//! Photos of the worn toile as the desk shows them: read beside it, kept ready as
//! long as they are looked at, and what their marks say, worked out once.

use crate::kit::job::{Heard, Job};
use egui::{ColorImage, Context, TextureHandle, TextureOptions};
use hangtrue_adjust::RoundPhoto;
use hangtrue_adjust::worn::LineMark;
use hangtrue_files::album;
use hangtrue_files::photo::Picture;
use hangtrue_files::worn::{FollowedLine, MarksError, ReadPhoto, follow_line, read_photo};
use hangtrue_pattern::Pattern;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The longest side of what is drawn on the screen, pixels; the marks are drawn to
/// what the photo shows in full.
const SHOWN: usize = 2048;

/// So many photos are kept ready: two rounds side by side, and a few to go back to.
const KEPT: usize = 4;

/// A photo that can be shown.
pub(crate) struct Ready {
    /// In full.
    pub picture: Picture,
    /// Made smaller for the screen.
    pub texture: TextureHandle,
}

impl Ready {
    /// Width and height in full, pixels.
    pub fn size(&self) -> (f64, f64) {
        (self.picture.width() as f64, self.picture.height() as f64)
    }
}

/// How a photo stands.
#[derive(Clone)]
pub(crate) enum PhotoState {
    /// Still being read.
    Reading,
    /// It can be shown.
    Ready(Arc<Ready>),
    /// It cannot be read.
    Failed(String),
}

type AsRead = Result<(Picture, ColorImage), String>;

enum Standing {
    Reading(Job<AsRead>),
    Done(PhotoState),
}

/// What a photo's marks came to, as long as nothing they hang from changes.
type ReadMarks = (RoundPhoto, Arc<Pattern>, Arc<Ready>, Result<Arc<ReadPhoto>, MarksError>);

/// The photos kept ready.
#[derive(Default)]
pub(crate) struct Photos {
    kept: Vec<(PathBuf, Standing)>,
    read: Vec<ReadMarks>,
    followed: Vec<(LineMark, Arc<Ready>, Arc<FollowedLine>)>,
}

/// A picture as the screen takes it, its longer side at most `longest` pixels.
pub(crate) fn for_screen(picture: &Picture, longest: usize) -> ColorImage {
    let (small, _) = picture.reduced(longest);
    ColorImage::from_rgb([small.width(), small.height()], small.pixels())
}

impl Photos {
    /// A kept photo of the project; it begins to be read when it was not before.
    pub fn get(&mut self, ctx: &Context, project: &Path, file: &str) -> PhotoState {
        let path = match album::path_of(project, file) {
            Ok(path) => path,
            Err(why) => return PhotoState::Failed(why.to_string()),
        };
        let at = self.kept.iter().position(|k| k.0 == path).unwrap_or_else(|| {
            if self.kept.len() >= KEPT {
                self.kept.remove(0);
            }
            self.kept.push((path.clone(), Standing::Reading(begin(ctx, &path))));
            self.kept.len() - 1
        });
        let state = &mut self.kept[at].1;
        if let Standing::Reading(job) = state {
            let read = match job.hear(ctx) {
                Heard::Waiting => None,
                Heard::Done(read) => Some(read),
                Heard::BrokeOff => Some(Err("the photo could not be read; add it anew".into())),
            };
            match read {
                Some(Ok((picture, small))) => {
                    let name = path.display().to_string();
                    let texture = ctx.load_texture(name, small, TextureOptions::LINEAR);
                    *state =
                        Standing::Done(PhotoState::Ready(Arc::new(Ready { picture, texture })));
                }
                Some(Err(why)) => *state = Standing::Done(PhotoState::Failed(why)),
                None => {}
            }
        }
        match state {
            Standing::Reading(_) => PhotoState::Reading,
            Standing::Done(look) => look.clone(),
        }
    }

    /// Forgets a photo, because its file was changed.
    pub fn forget(&mut self, project: &Path, file: &str) {
        if let Ok(path) = album::path_of(project, file) {
            self.kept.retain(|k| k.0 != path);
        }
    }

    /// What the marks of a photo come to on the toile's pattern.
    pub fn read_marks(
        &mut self,
        photo: &RoundPhoto,
        ready: &Arc<Ready>,
        pattern: &Arc<Pattern>,
    ) -> Result<Arc<ReadPhoto>, MarksError> {
        let same = |t: &ReadMarks| {
            t.0 == *photo
                && Arc::ptr_eq(&t.2, ready)
                && (Arc::ptr_eq(&t.1, pattern) || t.1 == *pattern)
        };
        if let Some(found) = self.read.iter().find(|t| same(t)) {
            return found.3.clone();
        }
        let read = read_photo(photo, &ready.picture, pattern).map(Arc::new);
        if self.read.len() >= KEPT {
            drop(self.read.remove(0));
        }
        self.read.push((photo.clone(), pattern.clone(), ready.clone(), read.clone()));
        read
    }

    /// A clicked line as the picture shows it.
    pub fn followed(&mut self, mark: &LineMark, ready: &Arc<Ready>) -> Arc<FollowedLine> {
        const MANY: usize = 24;
        let found = self.followed.iter().find(|f| f.0 == *mark && Arc::ptr_eq(&f.1, ready));
        if let Some(found) = found {
            return found.2.clone();
        }
        // How large round it is does not move the line.
        let line = Arc::new(follow_line(mark, 1.0, Some(&ready.picture)));
        if self.followed.len() >= MANY {
            self.followed.remove(0);
        }
        self.followed.push((mark.clone(), ready.clone(), line.clone()));
        line
    }
}

/// Reads a photo beside the desk.
fn begin(ctx: &Context, path: &Path) -> Job<AsRead> {
    let path = path.to_owned();
    Job::begin(ctx, "Reading the photo", move |_| {
        let picture = Picture::open(&path).map_err(|why| format!("“{}”: {why}", path.display()))?;
        let small = for_screen(&picture, SHOWN);
        Ok((picture, small))
    })
}
