//! What is worked out beside the desk: reading a photo, solving its marks,
//! following the card's edge, looking straight down. The desk goes on meanwhile,
//! is told how far it is, and may give it up.

use super::said::{Said, SaidPhoto};
use crate::kit::job::{Job, Teller};
use egui::{ColorImage, Context};
use hangtrue_files::photo::{
    self, AtFault, PhotoError, Picture, SeenSeam, SoFar, SolvedPhoto, Straight, TraceJob, Traced,
    solve_photos,
};
use hangtrue_pattern::words::Words;
use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::Arc;

/// A refusal in words, and which mark of which photo it is about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    pub words: Words,
    pub at: Option<AtFault>,
    /// What was found of a refused outline, and in which photo.
    pub so_far: Option<(usize, SoFar)>,
}

impl Fault {
    pub fn plain(words: impl Into<Words>) -> Self {
        Self { words: words.into(), at: None, so_far: None }
    }

    fn of(why: PhotoError, job: &TraceJob) -> Self {
        let at = why.at_fault(job);
        let so_far =
            why.so_far().map(|(_, found)| (at.as_ref().map_or(0, |a| a.photo), found.clone()));
        Self { words: why.told(job), at, so_far }
    }
}

/// A photo read, and a copy small enough for the screen's memory.
pub(super) struct Loaded {
    pub picture: Arc<Picture>,
    pub image: ColorImage,
}

/// A card traced, and how its seams are seen in each photo.
pub(super) struct FoundCard {
    pub traced: Traced,
    pub seen: Vec<Vec<SeenSeam>>,
}

/// A photo from straight above.
pub(super) struct FromAbove {
    pub straight: Straight,
    pub image: ColorImage,
}

/// What came of it.
pub(super) enum Done {
    Loaded(Result<Loaded, String>),
    Solved(TraceJob, Result<Vec<SolvedPhoto>, Fault>),
    Found(TraceJob, Box<Result<FoundCard, Fault>>),
    Straight(usize, Result<Box<FromAbove>, String>),
}

/// Reads a photo.
pub(super) fn load(ctx: &Context, file: PathBuf) -> Job<Done> {
    let longest = longest_side(ctx);
    Job::begin(ctx, "Reading the photo", move |teller| {
        Done::Loaded(Picture::open(&file).map_err(|e| e.to_string()).map(|picture| {
            teller.doing("Making it ready for the screen", 0.7);
            let image = image_of(&picture.reduced(longest).0);
            Loaded { picture: Arc::new(picture), image }
        }))
    })
}

/// Solves the marks.
pub(super) fn solve(ctx: &Context, job: TraceJob, pictures: Pictures) -> Job<Done> {
    Job::begin(ctx, "Finding the marks", move |teller| {
        let read = |file: &str| pictures.read(file, teller);
        let progress = |words: &str, part: f64| teller.doing(words, part);
        let solved = solve_photos(&job, &read, &progress).map_err(|e| Fault::of(e, &job));
        Done::Solved(job, solved)
    })
}

/// Traces the card.
pub(super) fn trace(ctx: &Context, job: TraceJob, pictures: Pictures) -> Job<Done> {
    Job::begin(ctx, "Following the card's edge", move |teller| {
        let read = |file: &str| pictures.read(file, teller);
        let progress = |words: &str, part: f64| teller.doing(words, part);
        let found = photo::trace(&job, &read, &progress)
            .map(|traced| {
                let seen = (0..traced.photos.len()).map(|i| traced.seams_seen(i)).collect();
                FoundCard { traced, seen }
            })
            .map_err(|e| Fault::of(e, &job));
        Done::Found(job, Box::new(found))
    })
}

/// Looks straight down.
pub(super) fn straight(
    ctx: &Context,
    photo: usize,
    solved: SolvedPhoto,
    picture: Arc<Picture>,
) -> Job<Done> {
    let longest = longest_side(ctx);
    Job::begin(ctx, "Looking straight down", move |_| {
        let seen = photo::straight(&picture, &solved, None).map_err(|e| e.to_string());
        Done::Straight(
            photo,
            seen.map(|straight| {
                let image = image_of(&straight.picture.reduced(longest).0);
                Box::new(FromAbove { straight, image })
            }),
        )
    })
}

/// The photos in hand, by the names the job has for them.
pub(super) struct Pictures(HashMap<String, Arc<Picture>>);

impl Pictures {
    /// None when one of them is not read yet.
    pub fn of(said: &Said, read: &[Option<Arc<Picture>>]) -> Option<Self> {
        let pair = |(photo, picture): (&SaidPhoto, &Option<Arc<Picture>>)| {
            Some((photo.file.clone(), picture.clone()?))
        };
        said.photos.iter().zip(read).map(pair).collect::<Option<_>>().map(Self)
    }

    fn read(&self, file: &str, teller: &Teller<Done>) -> Result<Picture, PhotoError> {
        if teller.given_up() {
            return Err(PhotoError::Asked("it was given up".into()));
        }
        let picture = self.0.get(file).map(|p| (**p).clone());
        picture.ok_or_else(|| PhotoError::Asked(format!("“{file}” is not read yet").into()))
    }
}

/// The longest side of a picture on the screen, pixels: what the graphics card
/// takes, and no more than a quarter of a common one's memory is filled by.
fn longest_side(ctx: &Context) -> usize {
    ctx.input(|i| i.max_texture_side).min(4096)
}

/// A picture for the screen.
pub(super) fn image_of(picture: &Picture) -> ColorImage {
    ColorImage::from_rgb([picture.width(), picture.height()], picture.pixels())
}
