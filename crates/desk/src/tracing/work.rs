//! What is worked out beside the desk: reading a photo, solving its marks,
//! following the card's edge, looking straight down. The desk goes on meanwhile,
//! is told how far it is, and may give it up.

use super::said::Said;
use egui::{ColorImage, Context};
use hangtrue_files::photo::{
    AtFault, PhotoError, Picture, SeenSeam, SolvedPhoto, Straight, TraceJob, Traced, solve_photos,
    straight, trace,
};
use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::Duration;

/// A refusal in words, and which mark of which photo it is about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    pub words: String,
    pub at: Option<AtFault>,
}

impl Fault {
    pub fn plain(words: impl Into<String>) -> Self {
        Self { words: words.into(), at: None }
    }

    fn of(why: &PhotoError, job: &TraceJob) -> Self {
        Self { words: why.words(job), at: why.at_fault(job) }
    }
}

/// A photo read, and a copy small enough for the screen's memory.
pub(super) struct Loaded {
    pub picture: Arc<Picture>,
    pub image: ColorImage,
}

/// A card traced, and how its seams are seen in each photo.
pub(super) struct Found {
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
    Found(TraceJob, Result<Found, Fault>),
    Straight(usize, Result<Box<FromAbove>, String>),
}

enum Told {
    Doing(String, f64),
    Done(Box<Done>),
}

/// Something that is being worked out.
pub(super) struct Work {
    pub words: String,
    /// How much of it is done, 0 to 1.
    pub part: f64,
    told: Receiver<Told>,
    stop: Arc<AtomicBool>,
}

impl Drop for Work {
    /// Given up: the thread stops before the next photo, and nobody hears it.
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// What a thread is handed to say how far it is.
struct Teller {
    tell: Sender<Told>,
    stop: Arc<AtomicBool>,
    ctx: Context,
}

impl Teller {
    fn doing(&self, words: &str, part: f64) {
        // Nobody waits any more when it was given up.
        let _ = self.tell.send(Told::Doing(words.to_owned(), part));
        self.ctx.request_repaint();
    }

    fn done(&self, done: Done) {
        let _ = self.tell.send(Told::Done(Box::new(done)));
        self.ctx.request_repaint();
    }

    fn given_up(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

impl Work {
    fn begin(
        ctx: &Context,
        words: &str,
        run: impl FnOnce(&Teller) -> Done + Send + 'static,
    ) -> Self {
        let (tell, told) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let teller = Teller { tell, stop: stop.clone(), ctx: ctx.clone() };
        std::thread::spawn(move || {
            let done = run(&teller);
            teller.done(done);
        });
        Self { words: words.to_owned(), part: 0.0, told, stop }
    }

    /// What came of it, once it is done; none when it broke off.
    pub fn hear(&mut self, ctx: &Context) -> Option<Option<Done>> {
        loop {
            match self.told.try_recv() {
                Ok(Told::Doing(words, part)) => (self.words, self.part) = (words, part),
                Ok(Told::Done(done)) => return Some(Some(*done)),
                Err(TryRecvError::Disconnected) => return Some(None),
                Err(TryRecvError::Empty) => {
                    ctx.request_repaint_after(Duration::from_millis(100));
                    return None;
                }
            }
        }
    }

    /// Reads a photo.
    pub fn load(ctx: &Context, file: PathBuf) -> Self {
        let longest = longest_side(ctx);
        Self::begin(ctx, "Reading the photo", move |teller| {
            Done::Loaded(Picture::open(&file).map_err(|e| e.to_string()).map(|picture| {
                teller.doing("Making it ready for the screen", 0.7);
                let image = image_of(&picture.reduced(longest).0);
                Loaded { picture: Arc::new(picture), image }
            }))
        })
    }

    /// Solves the marks.
    pub fn solve(ctx: &Context, job: TraceJob, pictures: Pictures) -> Self {
        Self::begin(ctx, "Finding the marks", move |teller| {
            let read = |file: &str| pictures.read(file, teller);
            let progress = |words: &str, part: f64| teller.doing(words, part);
            let solved = solve_photos(&job, &read, &progress).map_err(|e| Fault::of(&e, &job));
            Done::Solved(job, solved)
        })
    }

    /// Traces the card.
    pub fn trace(ctx: &Context, job: TraceJob, pictures: Pictures) -> Self {
        Self::begin(ctx, "Following the card's edge", move |teller| {
            let read = |file: &str| pictures.read(file, teller);
            let progress = |words: &str, part: f64| teller.doing(words, part);
            let found = trace(&job, &read, &progress)
                .map(|traced| {
                    let seen = (0..traced.photos.len()).map(|i| traced.seams_seen(i)).collect();
                    Found { traced, seen }
                })
                .map_err(|e| Fault::of(&e, &job));
            Done::Found(job, found)
        })
    }

    /// Looks straight down.
    pub fn straight(
        ctx: &Context,
        photo: usize,
        solved: SolvedPhoto,
        picture: Arc<Picture>,
    ) -> Self {
        let longest = longest_side(ctx);
        Self::begin(ctx, "Looking straight down", move |_| {
            let seen = straight(&picture, &solved, None).map_err(|e| e.to_string());
            Done::Straight(
                photo,
                seen.map(|straight| {
                    let image = image_of(&straight.picture.reduced(longest).0);
                    Box::new(FromAbove { straight, image })
                }),
            )
        })
    }
}

/// The photos in hand, by the names the job has for them.
pub(super) struct Pictures(HashMap<String, Arc<Picture>>);

impl Pictures {
    /// None when one of them is not read yet.
    pub fn of(said: &Said, read: &[Option<Arc<Picture>>]) -> Option<Self> {
        let pair = |(photo, picture): (&super::said::SaidPhoto, &Option<Arc<Picture>>)| {
            Some((photo.file.clone(), picture.clone()?))
        };
        said.photos.iter().zip(read).map(pair).collect::<Option<_>>().map(Self)
    }

    fn read(&self, file: &str, teller: &Teller) -> Result<Picture, PhotoError> {
        if teller.given_up() {
            return Err(PhotoError::Asked("it was given up".into()));
        }
        let picture = self.0.get(file).map(|p| (**p).clone());
        picture.ok_or_else(|| PhotoError::Asked(format!("“{file}” is not read yet")))
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
