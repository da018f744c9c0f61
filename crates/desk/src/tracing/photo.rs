//! Photos being traced: what is said of them, what was worked out, and what of it
//! is looked at.

use super::detail::{Detail, SHOWN};
use super::loupe::Loupe;
use super::named::Take;
use super::said::{Kind, Lacking, Said, SaidPhoto};
use super::work::{self, Done, Fault, FoundCard, Pictures};
use crate::board::requests::Requests;
use crate::kit::history::History;
use crate::kit::job::{Job, heard};
use crate::kit::view::PanZoom;
use egui::Context;
use hangtrue_files::photo::{
    OutlineSeen, Picture, ReadWithin, SolvedPhoto, Straight, TraceJob, USUAL_REACH, limits,
};
use hangtrue_pattern::units::Unit;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// The steps that can be taken back at most.
const REMEMBERED: usize = 200;

/// Photos being traced.
pub(crate) struct Photo {
    /// The folder that the names of the photos start from.
    pub(super) folder: PathBuf,
    pub(super) said: Said,
    pub(super) slots: Vec<Slot>,
    /// The photo looked at.
    pub(super) at: usize,
    pub(super) step: Step,
    /// What the step is, is shown at its head.
    pub about: bool,
    pub(super) tool: ClickTool,
    pub(super) chosen: Option<(Layer, usize)>,
    /// What was said whenever nothing was being pulled or typed.
    history: History<Said>,
    /// What the file holds, or what it started from.
    pub(super) saved: Said,
    pub(super) work: Option<Job<Done>>,
    pub(super) solved: Option<(TraceJob, Result<Vec<SolvedPhoto>, Fault>)>,
    /// How exactly places can be read from each solved photo.
    pub(super) within: Vec<ReadWithin>,
    pub(super) found: Option<(TraceJob, Result<FoundCard, Fault>)>,
    /// The maker has asked for the outline: it follows what is changed.
    pub(super) outline_wanted: bool,
    /// Why the marks cannot be solved yet.
    pub(super) lacking: Option<Lacking>,
    pub(super) straight_on: bool,
    pub(super) take: Take,
    /// Whether to leave with work that is in no file is being asked.
    pub(super) leaving: bool,
    pub(super) loupe: Loupe,
    /// The file of an earlier desk that this work goes on from.
    pub(super) taken_over: Option<PathBuf>,
    /// Why the work could not be kept beside, if it could not.
    pub(super) not_kept: Option<String>,
}

/// What a click in the photo does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum ClickTool {
    /// What the step asks for.
    #[default]
    Step,
    /// Marks that other photos show too.
    Shared,
    /// A place of the outline.
    Place,
    /// A corner of the outline.
    Corner,
}

/// What a chosen handle is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Layer {
    Mark,
    Shared,
    Point,
    Grain,
}

/// How the work on the photos ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ending {
    Leave,
    Into,
    New,
}

/// One photo on the screen.
pub(super) struct Slot {
    pub(super) picture: Option<Arc<Picture>>,
    pub(super) texture: Option<egui::TextureHandle>,
    pub(super) loading: Option<Job<Done>>,
    pub(super) fault: Option<String>,
    pub(super) look: PanZoom,
    pub(super) fitted: Option<(egui::Rect, bool)>,
    pub(super) above: Option<(Straight, egui::TextureHandle)>,
    pub(super) detail: Option<Detail>,
    /// Nothing was said about it when it was opened.
    pub(super) fresh: bool,
}

/// How far a mark is looked for round a click, pixels: on a large photo shown
/// whole a click is several pixels off.
fn reach_for(longest: usize) -> f64 {
    (longest as f64 / 150.0).round().clamp(USUAL_REACH, 60.0)
}

/// The steps from a photo to a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Known,
    Marks,
    Outline,
    Grain,
    Take,
}

impl Step {
    pub const ALL: [Self; 5] = [Self::Known, Self::Marks, Self::Outline, Self::Grain, Self::Take];

    pub fn name(self) -> &'static str {
        match self {
            Self::Known => "1 Size",
            Self::Marks => "2 Marks",
            Self::Outline => "3 Outline",
            Self::Grain => "4 Grain",
            Self::Take => "5 Bring in",
        }
    }

    /// The step after it, and how the button to it is called.
    pub fn next(self) -> Option<(Self, &'static str)> {
        match self {
            Self::Known => Some((Self::Marks, "Go on: click the marks")),
            Self::Marks => Some((Self::Outline, "Go on: the outline")),
            Self::Outline => Some((Self::Grain, "Go on: the grain")),
            Self::Grain => Some((Self::Take, "Go on: bring it in")),
            Self::Take => None,
        }
    }
}

/// Whether a file is a photo, or a job of tracing is asked for.
pub(crate) fn takes(path: &Path) -> bool {
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    ending.is_some_and(|e| ["png", "jpg", "jpeg"].contains(&&*e))
}

impl Slot {
    fn new(fresh: bool) -> Self {
        Self {
            picture: None,
            texture: None,
            loading: None,
            fault: None,
            look: PanZoom::of_picture(),
            fitted: None,
            above: None,
            detail: None,
            fresh,
        }
    }
}

impl Photo {
    /// Opens a photo, or a saved job; why not, when it cannot be.
    pub fn open(ctx: &Context, file: &Path, unit: Unit) -> Result<Self, String> {
        let folder = file.parent().unwrap_or(Path::new("")).to_owned();
        if takes(file) {
            let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
            return Ok(Self::of(ctx, folder, Said::new(name, unit), true));
        }
        match hangtrue_files::photo::read_job(file) {
            Ok(job) if job.photos.is_empty() => Err("the job names no photo".into()),
            Ok(job) if job.photos.len() > limits::MOST_PHOTOS => Err(format!(
                "the job names {} photos and at most {} are used",
                job.photos.len(),
                limits::MOST_PHOTOS
            )),
            Ok(job) => Ok(Self::of(ctx, folder, Said::of(job), false)),
            Err(why) => Err(why.to_string()),
        }
    }

    /// What is said of photos in a folder; nothing yet when it is fresh.
    fn of(ctx: &Context, folder: PathBuf, said: Said, fresh: bool) -> Self {
        let slots = said.photos.iter().map(|_| Slot::new(fresh)).collect();
        let placed = |p: &SaidPhoto| matches!(p.outline, OutlineSeen::Placed { .. });
        let mut photo = Self {
            folder,
            slots,
            at: 0,
            step: if fresh { Step::Known } else { Step::Marks },
            about: false,
            tool: ClickTool::default(),
            chosen: None,
            history: History::of_at_most(REMEMBERED, said.clone()),
            saved: said.clone(),
            work: None,
            solved: None,
            within: Vec::new(),
            found: None,
            outline_wanted: said.photos.iter().any(placed),
            lacking: None,
            straight_on: false,
            take: Take::default(),
            leaving: false,
            loupe: Loupe::default(),
            taken_over: None,
            not_kept: None,
            said,
        };
        for index in 0..photo.slots.len() {
            photo.load(ctx, index);
        }
        photo
    }

    /// This is work that an earlier desk left in that file, and in no file of the
    /// maker's yet.
    pub fn goes_on_from(&mut self, file: PathBuf) {
        self.saved = Said::new(String::new(), Unit::default());
        self.taken_over = Some(file);
    }

    /// Adds a photo to those being traced; why not, when it cannot be.
    pub fn add(&mut self, ctx: &Context, file: &Path, unit: Unit) -> Result<(), String> {
        if self.said.photos.len() >= limits::MOST_PHOTOS {
            let most = limits::MOST_PHOTOS;
            return Err(format!("at most {most} photos of one piece are used"));
        }
        let whole = |p: &Path| std::path::absolute(p).unwrap_or_else(|_| p.to_owned());
        let (file, folder) = (whole(file), whole(&self.folder));
        let name = file.strip_prefix(&folder).unwrap_or(&file).to_string_lossy().into_owned();
        if self.said.photos.iter().any(|p| p.file == name) {
            return Err(format!("“{name}” is among the photos already"));
        }
        self.said.photos.push(SaidPhoto::new(name, Kind::Shared, unit));
        self.slots.push(Slot::new(true));
        self.look_at(self.slots.len() - 1);
        self.step = Step::Known;
        self.forget_steps();
        self.load(ctx, self.at);
        Ok(())
    }

    /// Whether the work is in no file yet.
    pub fn is_unsaved(&self) -> bool {
        self.said != self.saved
    }

    /// Asks what becomes of the work.
    pub fn ask_leaving(&mut self) {
        self.leaving = true;
    }
}

impl Photo {
    pub(super) fn now(&self) -> &SaidPhoto {
        &self.said.photos[self.at]
    }

    pub(super) fn now_mut(&mut self) -> &mut SaidPhoto {
        &mut self.said.photos[self.at]
    }

    pub(super) fn place_of(&self, index: usize) -> PathBuf {
        self.folder.join(&self.said.photos[index].file)
    }

    pub(super) fn load(&mut self, ctx: &Context, index: usize) {
        let place = self.place_of(index);
        let slot = &mut self.slots[index];
        slot.fault = None;
        slot.loading = Some(work::load(ctx, place));
    }

    pub(super) fn look_at(&mut self, index: usize) {
        if self.at != index {
            self.at = index;
            self.chosen = None;
        }
    }

    pub(super) fn go_to(&mut self, step: Step) {
        if self.step != step {
            self.step = step;
            self.tool = ClickTool::default();
            self.chosen = None;
        }
    }

    pub(super) fn forget_steps(&mut self) {
        self.history = History::of_at_most(REMEMBERED, self.said.clone());
    }

    pub(super) fn remove_photo(&mut self, index: usize) {
        self.said.photos.remove(index);
        self.slots.remove(index);
        self.said.grain = self
            .said
            .grain
            .filter(|g| g.0 != index)
            .map(|g| (if g.0 > index { g.0 - 1 } else { g.0 }, g.1, g.2));
        (self.solved, self.found) = (None, None);
        self.at = self.at.min(self.slots.len() - 1);
        self.chosen = None;
        self.forget_steps();
    }

    /// Remembers a step that can be taken back, once nothing is being pulled or
    /// typed.
    pub(super) fn after(&mut self, ctx: &Context, own_folder: Option<&Path>) {
        let busy = ctx.input(|i| i.pointer.any_down()) || ctx.text_edit_focused();
        if !busy && self.said != **self.history.now() {
            self.history.push(self.said.clone(), "");
            if let Some(own) = own_folder {
                self.not_kept = self.keep_beside(own).err();
            }
        }
        if !busy {
            self.trace_when_due(ctx);
        }
    }

    /// Takes the last step back, with what is being pulled or typed.
    pub(super) fn undo(&mut self) {
        self.history.amend(self.said.clone());
        if self.history.undo() {
            self.said = (**self.history.now()).clone();
            self.chosen = None;
        }
    }

    pub(super) fn redo(&mut self) {
        if self.history.redo() {
            self.said = (**self.history.now()).clone();
            self.chosen = None;
        }
    }

    /// How many steps can be taken back, and whether one can be made again.
    pub(super) fn steps(&self) -> (usize, bool) {
        (self.history.steps(), self.history.redo_words().is_some())
    }

    pub(super) fn pictures(&self) -> Option<Pictures> {
        let read: Vec<Option<Arc<Picture>>> =
            self.slots.iter().map(|s| s.picture.clone()).collect();
        Pictures::of(&self.said, &read)
    }

    /// Solves the marks, or says what is missing.
    pub(super) fn solve(&mut self, ctx: &Context) {
        self.lacking = None;
        match (self.said.nameless_job(), self.pictures()) {
            (Ok(job), Some(pictures)) => {
                self.solved = None;
                self.work = Some(work::solve(ctx, job, pictures));
            }
            (Err(lacking), _) => self.lacking = Some(lacking),
            (Ok(_), None) => {
                let words = "the photo is still being read; wait a moment".into();
                self.lacking = Some(Lacking { photo: self.at, words });
            }
        }
    }

    /// Follows the edge anew when the outline is wanted and something changed.
    pub(super) fn trace_when_due(&mut self, ctx: &Context) {
        if !self.outline_wanted || self.work.is_some() {
            return;
        }
        let (Ok(job), Some(pictures)) = (self.said.nameless_job(), self.pictures()) else { return };
        if self.found.as_ref().is_some_and(|f| f.0 == job) {
            return;
        }
        self.work = Some(work::trace(ctx, job, pictures));
    }

    /// The solved photos, when they belong to the marks as they are now.
    pub(super) fn solved_now(&self) -> Option<&Vec<SolvedPhoto>> {
        let (job, solved) = self.solved.as_ref()?;
        let solved = solved.as_ref().ok()?;
        (self.same_marks(job)).then_some(solved)
    }

    /// Whether a job has the marks as they are now; its outline does not matter.
    pub(super) fn same_marks(&self, job: &TraceJob) -> bool {
        let Ok(now) = self.said.job() else { return false };
        now.photos.len() == job.photos.len()
            && now.photos.iter().zip(&job.photos).all(|(a, b)| {
                a.known == b.known && a.shared == b.shared && a.lens == b.lens && a.reach == b.reach
            })
    }

    /// The traced card, when it belongs to what is said now.
    pub(super) fn found_now(&self) -> Option<&FoundCard> {
        let (job, found) = self.found.as_ref()?;
        let found = found.as_ref().ok()?;
        let now = self.said.nameless_job().ok()?;
        (now == *job).then_some(found)
    }

    /// The refusal of the marks as they are now, by the last solving or tracing.
    pub(super) fn refused_now(&self) -> Option<&Fault> {
        let solved = self.solved.as_ref().filter(|s| self.same_marks(&s.0));
        let found = self.found.as_ref().filter(|f| self.same_marks(&f.0));
        let solved = solved.and_then(|s| s.1.as_ref().err());
        solved.or_else(|| found.and_then(|f| f.1.as_ref().err()))
    }

    /// The straight picture, when it is wanted and belongs to the marks.
    pub(super) fn above(&self) -> Option<&(Straight, egui::TextureHandle)> {
        if self.straight_on { self.slots[self.at].above.as_ref() } else { None }
    }

    /// Takes what was worked out beside.
    pub(super) fn hear(&mut self, requests: &mut Requests, ctx: &Context) {
        self.hear_of_photos(ctx);
        let Some(done) = heard(&mut self.work, ctx) else { return };
        self.take_done(requests, ctx, done);
        let solved = self.solved.as_ref().and_then(|s| s.1.as_ref().ok());
        self.within =
            solved.map_or_else(Vec::new, |s| s.iter().map(SolvedPhoto::read_within).collect());
    }

    /// Takes the photos that were read beside.
    fn hear_of_photos(&mut self, ctx: &Context) {
        let mut fresh = Vec::new();
        for (index, slot) in self.slots.iter_mut().enumerate() {
            match heard(&mut slot.loading, ctx) {
                None => {}
                Some(Some(Done::Loaded(Ok(loaded)))) => {
                    slot.texture = Some(ctx.load_texture("photo", loaded.image, SHOWN));
                    if slot.fresh {
                        fresh.push((index, loaded.picture.width().max(loaded.picture.height())));
                    }
                    slot.picture = Some(loaded.picture);
                    slot.fitted = None;
                }
                Some(Some(Done::Loaded(Err(why)))) => slot.fault = Some(why),
                Some(_) => slot.fault = Some("the photo could not be read".into()),
            }
        }
        for (index, longest) in fresh {
            self.slots[index].fresh = false;
            self.said.photos[index].reach = reach_for(longest);
            if self.history.steps() == 0 {
                self.forget_steps();
            }
            if let [only] = self.saved.photos.as_mut_slice() {
                only.reach = self.said.photos[0].reach;
            }
        }
    }

    fn take_done(&mut self, requests: &mut Requests, ctx: &Context, done: Option<Done>) {
        match done {
            Some(Done::Solved(job, solved)) => {
                self.forget_above();
                self.solved = Some((job, solved));
            }
            Some(Done::Found(job, found)) => {
                if let Ok(found) = &*found {
                    if !self.same_marks(&job) || self.solved_now().is_none() {
                        self.forget_above();
                    }
                    self.solved = Some((job.clone(), Ok(found.traced.photos.clone())));
                }
                self.found = Some((job, *found));
                self.take = Take::default();
            }
            Some(Done::Straight(index, Ok(above))) if index < self.slots.len() => {
                let texture = ctx.load_texture("from above", above.image, SHOWN);
                let mm = above.straight.mm_per_pixel();
                self.slots[index].above = Some((above.straight, texture));
                self.slots[index].fitted = None;
                self.straight_on = true;
                requests
                    .tell(format!("looked straight down: every pixel is {mm:.3} mm of the table."));
            }
            Some(Done::Straight(_, Err(why))) => requests.tell_fault(why),
            Some(_) => {}
            None => {
                requests.tell_fault("it broke off; try it again, and save the work on the photo")
            }
        }
    }

    pub(super) fn forget_above(&mut self) {
        self.straight_on = false;
        for slot in &mut self.slots {
            if slot.above.take().is_some() {
                slot.fitted = None;
            }
        }
    }

    /// Turns to the photo as seen from straight above, or back.
    pub(super) fn turn_straight(&mut self, ctx: &Context, on: bool) {
        self.slots[self.at].fitted = None;
        self.straight_on = on;
        if !on || self.slots[self.at].above.is_some() {
            return;
        }
        self.straight_on = false;
        let solved = self.solved_now().and_then(|s| s.get(self.at)).cloned();
        if let (Some(solved), Some(picture)) = (solved, self.slots[self.at].picture.clone()) {
            self.work = Some(work::straight(ctx, self.at, solved, picture));
        }
    }
}
