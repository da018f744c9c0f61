//! A piece from photos of its card: the photos in the middle, the steps at the
//! side. The project on the table is not changed before the traced piece is taken
//! in; then it is one change, or a new project.

mod bar;
mod canvas;
mod handle;
mod job_file;
mod known;
mod look;
mod loupe;
mod marks;
mod outline;
mod said;
mod steps;
mod take;
mod unfinished;
mod work;

use crate::desk::desk::Desk;
use egui::{CentralPanel, Context, Frame, Key, KeyboardShortcut, Margin, Modifiers, Panel, Ui};
use hangtrue_files::photo::{
    OutlineSeen, Picture, ReadWithin, SolvedPhoto, Straight, TraceJob, USUAL_REACH, limits,
};
use look::Look;
use said::{Kind, Said, SaidPhoto};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use steps::Step;
use work::{Done, Fault, Found, Pictures, Work};

pub(crate) use job_file::{save as save_job, save_straight};
pub(crate) use unfinished::left_behind;

/// The steps that can be taken back at most.
const REMEMBERED: usize = 200;

/// Photos being traced.
pub(crate) struct Photo {
    /// The folder that the names of the photos start from.
    folder: PathBuf,
    said: Said,
    slots: Vec<Slot>,
    /// The photo looked at.
    at: usize,
    step: Step,
    tool: Tool,
    chosen: Option<(Layer, usize)>,
    past: Vec<Said>,
    future: Vec<Said>,
    /// What was said when nothing was being pulled or typed.
    kept: Said,
    /// What the file holds, or what it started from.
    saved: Said,
    work: Option<Work>,
    solved: Option<(TraceJob, Result<Vec<SolvedPhoto>, Fault>)>,
    /// How exactly places can be read from each solved photo.
    within: Vec<ReadWithin>,
    found: Option<(TraceJob, Result<Found, Fault>)>,
    /// The maker has asked for the outline: it follows what is changed.
    outline_wanted: bool,
    /// Why the marks cannot be solved yet.
    lacking: Option<said::Lacking>,
    straight_on: bool,
    take: take::Take,
    /// Whether to leave with work that is in no file is being asked.
    leaving: bool,
    loupe: loupe::Loupe,
    /// The file of an earlier desk that this work goes on from.
    taken_over: Option<PathBuf>,
    /// Why the work could not be kept beside, if it could not.
    not_kept: Option<String>,
}

/// What a click in the photo does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Tool {
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
enum Layer {
    Mark,
    Shared,
    Point,
    Grain,
}

/// One photo on the screen.
#[derive(Default)]
struct Slot {
    picture: Option<Arc<Picture>>,
    texture: Option<egui::TextureHandle>,
    loading: Option<Work>,
    fault: Option<String>,
    look: Look,
    fitted: Option<(egui::Rect, bool)>,
    above: Option<(Straight, egui::TextureHandle)>,
    detail: Option<canvas::Detail>,
    /// Nothing was said about it when it was opened.
    fresh: bool,
}

/// How far a mark is looked for round a click, pixels: on a large photo shown
/// whole a click is several pixels off.
fn reach_for(longest: usize) -> f64 {
    (longest as f64 / 150.0).round().clamp(USUAL_REACH, 60.0)
}

/// Whether a file is a photo, or a job of tracing is asked for.
pub(crate) fn takes(path: &Path) -> bool {
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
    ending.is_some_and(|e| ["png", "jpg", "jpeg"].contains(&&*e))
}

/// Opens a photo, or a saved job; nothing of the project is changed.
pub(crate) fn open(desk: &mut Desk, ctx: &Context, file: &Path) {
    let folder = file.parent().unwrap_or(Path::new("")).to_owned();
    let (said, fresh) = if takes(file) {
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        (Said::new(name), true)
    } else {
        match hangtrue_files::photo::read_job(file) {
            Ok(job) if job.photos.is_empty() => {
                return desk.tell_fault("the tracing job names no photo");
            }
            Ok(job) if job.photos.len() > limits::MOST_PHOTOS => {
                return desk.tell_fault(format!(
                    "the tracing job names {} photos and at most {} are used",
                    job.photos.len(),
                    limits::MOST_PHOTOS
                ));
            }
            Ok(job) => (Said::of(job), false),
            Err(why) => return desk.tell_fault(why.to_string()),
        }
    };
    desk.set_draft(None);
    desk.notice = None;
    let slots = said.photos.iter().map(|_| Slot { fresh, ..Slot::default() }).collect();
    let placed = |p: &SaidPhoto| matches!(p.outline, OutlineSeen::Placed { .. });
    let mut photo = Photo {
        folder,
        slots,
        at: 0,
        step: if fresh { Step::Known } else { Step::Marks },
        tool: Tool::default(),
        chosen: None,
        past: Vec::new(),
        future: Vec::new(),
        kept: said.clone(),
        saved: said.clone(),
        work: None,
        solved: None,
        within: Vec::new(),
        found: None,
        outline_wanted: said.photos.iter().any(placed),
        lacking: None,
        straight_on: false,
        take: take::Take::default(),
        leaving: false,
        loupe: loupe::Loupe::default(),
        taken_over: None,
        not_kept: None,
        said,
    };
    for index in 0..photo.slots.len() {
        photo.load(ctx, index);
    }
    desk.exchange.photo = Some(Box::new(photo));
}

/// Goes on with work that an earlier desk left in no file.
pub(crate) fn go_on(desk: &mut Desk, ctx: &Context, file: PathBuf) {
    open(desk, ctx, &file);
    if let Some(photo) = &mut desk.exchange.photo {
        // It is in no file of the maker's yet.
        photo.saved = Said::new(String::new());
        photo.taken_over = Some(file);
        desk.tell("this is the work on the photo that was not finished. Save it to keep it.");
    }
}

/// Adds a photo to those being traced.
pub(crate) fn add(desk: &mut Desk, ctx: &Context, file: &Path) {
    let Some(photo) = &mut desk.exchange.photo else { return open(desk, ctx, file) };
    if photo.said.photos.len() >= limits::MOST_PHOTOS {
        let most = limits::MOST_PHOTOS;
        return desk.tell_fault(format!("at most {most} photos of one piece are used"));
    }
    let whole = |p: &Path| std::path::absolute(p).unwrap_or_else(|_| p.to_owned());
    let (file, folder) = (whole(file), whole(&photo.folder));
    let name = file.strip_prefix(&folder).unwrap_or(&file).to_string_lossy().into_owned();
    if photo.said.photos.iter().any(|p| p.file == name) {
        return desk.tell_fault(format!("“{name}” is among the photos already"));
    }
    photo.said.photos.push(SaidPhoto::new(name, Kind::Shared));
    photo.slots.push(Slot { fresh: true, ..Slot::default() });
    photo.look_at(photo.slots.len() - 1);
    photo.step = Step::Known;
    photo.forget_steps();
    photo.load(ctx, photo.at);
}

/// Whether photos are being traced.
pub(crate) fn is_open(desk: &Desk) -> bool {
    desk.exchange.photo.is_some()
}

/// Whether work on a photo is in no file yet.
pub(crate) fn is_unsaved(desk: &Desk) -> bool {
    desk.exchange.photo.as_ref().is_some_and(|p| p.said != p.saved)
}

/// Asks what becomes of the work on the photo.
pub(crate) fn ask_leaving(desk: &mut Desk) {
    if let Some(photo) = &mut desk.exchange.photo {
        photo.leaving = true;
    }
}

/// Shows the photos in place of the table.
pub(crate) fn show(desk: &mut Desk, ui: &mut Ui) {
    let Some(mut photo) = desk.exchange.photo.take() else { return };
    let ctx = ui.ctx().clone();
    photo.hear(desk, &ctx);
    let card = desk.palette.card;
    let side = |margin: i8| Frame::new().fill(card).inner_margin(Margin::same(margin));
    let scale = desk.settings.letters;
    let mut end = None;
    Panel::top("photos").frame(side(12)).show(ui, |ui| {
        end = bar::show(desk, &mut photo, ui);
    });
    Panel::right("photo steps")
        .frame(side(14))
        .exact_size(440.0 * scale.sqrt())
        .resizable(false)
        .show(ui, |ui| end = steps::show(desk, &mut photo, ui).or(end));
    CentralPanel::default().frame(Frame::NONE).show(ui, |ui| canvas::show(desk, &mut photo, ui));
    end = bar::leaving(desk, &mut photo, &ctx).or(end);
    photo.after(&ctx, desk.own_folder.as_deref());
    let end = match end {
        None => false,
        Some(End::Leave) => true,
        // It is closed only when the piece was taken.
        Some(End::Into) => take::bring_into(desk, &photo),
        Some(End::New) => take::start_new(desk, &photo),
    };
    if !end {
        desk.exchange.photo = Some(photo);
    } else if let Some(own) = &desk.own_folder {
        photo.forget_beside(own);
    }
}

/// How the work on the photos ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Leave,
    Into,
    New,
}

/// Takes the keys while photos are traced.
pub(crate) fn keys(desk: &mut Desk, ctx: &Context) {
    let Some(mut photo) = desk.exchange.photo.take() else { return };
    let pressed = |modifiers: Modifiers, key: Key| {
        ctx.input_mut(|i| i.consume_shortcut(&KeyboardShortcut::new(modifiers, key)))
    };
    let ctrl = Modifiers::COMMAND;
    if pressed(ctrl | Modifiers::SHIFT, Key::Z) || pressed(ctrl, Key::Y) {
        photo.redo();
    } else if pressed(ctrl, Key::Z) {
        photo.undo();
    }
    for (key, step) in
        [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5].into_iter().zip(Step::ALL)
    {
        if pressed(ctrl, key) {
            photo.go_to(step);
        }
    }
    let save = pressed(ctrl, Key::S);
    desk.exchange.photo = Some(photo);
    if save {
        crate::desk::files::ask(desk, crate::desk::files::Asked::SaveJob);
    }
}

impl Photo {
    fn now(&self) -> &SaidPhoto {
        &self.said.photos[self.at]
    }

    fn now_mut(&mut self) -> &mut SaidPhoto {
        &mut self.said.photos[self.at]
    }

    fn place_of(&self, index: usize) -> PathBuf {
        self.folder.join(&self.said.photos[index].file)
    }

    fn load(&mut self, ctx: &Context, index: usize) {
        let place = self.place_of(index);
        let slot = &mut self.slots[index];
        slot.fault = None;
        slot.loading = Some(Work::load(ctx, place));
    }

    fn look_at(&mut self, index: usize) {
        if self.at != index {
            self.at = index;
            self.chosen = None;
        }
    }

    fn go_to(&mut self, step: Step) {
        if self.step != step {
            self.step = step;
            self.tool = Tool::default();
            self.chosen = None;
        }
    }

    fn forget_steps(&mut self) {
        self.past.clear();
        self.future.clear();
        self.kept = self.said.clone();
    }

    fn remove_photo(&mut self, index: usize) {
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
    fn after(&mut self, ctx: &Context, own_folder: Option<&Path>) {
        let busy = ctx.input(|i| i.pointer.any_down()) || ctx.text_edit_focused();
        if !busy && self.said != self.kept {
            let before = std::mem::replace(&mut self.kept, self.said.clone());
            self.past.push(before);
            if self.past.len() > REMEMBERED {
                self.past.remove(0);
            }
            self.future.clear();
            if let Some(own) = own_folder {
                self.not_kept = self.keep_beside(own).err();
            }
        }
        if !busy {
            self.trace_when_due(ctx);
        }
    }

    fn undo(&mut self) {
        if let Some(before) = self.past.pop() {
            self.future.push(std::mem::replace(&mut self.said, before.clone()));
            self.kept = before;
            self.chosen = None;
        }
    }

    fn redo(&mut self) {
        if let Some(next) = self.future.pop() {
            self.past.push(std::mem::replace(&mut self.said, next.clone()));
            self.kept = next;
            self.chosen = None;
        }
    }

    fn pictures(&self) -> Option<Pictures> {
        let read: Vec<Option<Arc<Picture>>> =
            self.slots.iter().map(|s| s.picture.clone()).collect();
        Pictures::of(&self.said, &read)
    }

    /// Solves the marks, or says what is missing.
    fn solve(&mut self, ctx: &Context) {
        self.lacking = None;
        match (self.said.nameless_job(), self.pictures()) {
            (Ok(job), Some(pictures)) => {
                self.solved = None;
                self.work = Some(Work::solve(ctx, job, pictures));
            }
            (Err(lacking), _) => self.lacking = Some(lacking),
            (Ok(_), None) => {
                let words = "the photo is still being read; wait a moment".into();
                self.lacking = Some(said::Lacking { photo: self.at, words });
            }
        }
    }

    /// Follows the edge anew when the outline is wanted and something changed.
    fn trace_when_due(&mut self, ctx: &Context) {
        if !self.outline_wanted || self.work.is_some() {
            return;
        }
        let (Ok(job), Some(pictures)) = (self.said.nameless_job(), self.pictures()) else { return };
        if self.found.as_ref().is_some_and(|f| f.0 == job) {
            return;
        }
        self.work = Some(Work::trace(ctx, job, pictures));
    }

    /// The solved photos, when they belong to the marks as they are now.
    fn solved_now(&self) -> Option<&Vec<SolvedPhoto>> {
        let (job, solved) = self.solved.as_ref()?;
        let solved = solved.as_ref().ok()?;
        (self.same_marks(job)).then_some(solved)
    }

    /// Whether a job has the marks as they are now; its outline does not matter.
    fn same_marks(&self, job: &TraceJob) -> bool {
        let Ok(now) = self.said.job() else { return false };
        now.photos.len() == job.photos.len()
            && now.photos.iter().zip(&job.photos).all(|(a, b)| {
                a.known == b.known && a.shared == b.shared && a.lens == b.lens && a.reach == b.reach
            })
    }

    /// The traced card, when it belongs to what is said now.
    fn found_now(&self) -> Option<&Found> {
        let (job, found) = self.found.as_ref()?;
        let found = found.as_ref().ok()?;
        let now = self.said.nameless_job().ok()?;
        (now == *job).then_some(found)
    }

    /// The refusal of the marks as they are now, by the last solving or tracing.
    fn refused_now(&self) -> Option<&Fault> {
        let solved = self.solved.as_ref().filter(|s| self.same_marks(&s.0));
        let found = self.found.as_ref().filter(|f| self.same_marks(&f.0));
        let solved = solved.and_then(|s| s.1.as_ref().err());
        solved.or_else(|| found.and_then(|f| f.1.as_ref().err()))
    }

    /// The straight picture, when it is wanted and belongs to the marks.
    fn above(&self) -> Option<&(Straight, egui::TextureHandle)> {
        if self.straight_on { self.slots[self.at].above.as_ref() } else { None }
    }

    /// Takes what was worked out beside.
    fn hear(&mut self, desk: &mut Desk, ctx: &Context) {
        let mut fresh = Vec::new();
        for (index, slot) in self.slots.iter_mut().enumerate() {
            let Some(loading) = &mut slot.loading else { continue };
            match loading.hear(ctx) {
                None => continue,
                Some(Some(Done::Loaded(Ok(loaded)))) => {
                    slot.texture = Some(ctx.load_texture("photo", loaded.image, canvas::SHOWN));
                    if slot.fresh {
                        fresh.push((index, loaded.picture.width().max(loaded.picture.height())));
                    }
                    slot.picture = Some(loaded.picture);
                    slot.fitted = None;
                }
                Some(Some(Done::Loaded(Err(why)))) => slot.fault = Some(why),
                Some(_) => slot.fault = Some("the photo could not be read".into()),
            }
            slot.loading = None;
        }
        for (index, longest) in fresh {
            self.slots[index].fresh = false;
            self.said.photos[index].reach = reach_for(longest);
            if self.past.is_empty() {
                self.forget_steps();
            }
            if let [only] = self.saved.photos.as_mut_slice() {
                only.reach = self.said.photos[0].reach;
            }
        }
        let Some(work) = &mut self.work else { return };
        let Some(done) = work.hear(ctx) else { return };
        self.work = None;
        self.take_done(desk, ctx, done);
        let solved = self.solved.as_ref().and_then(|s| s.1.as_ref().ok());
        self.within =
            solved.map_or_else(Vec::new, |s| s.iter().map(SolvedPhoto::read_within).collect());
    }

    fn take_done(&mut self, desk: &mut Desk, ctx: &Context, done: Option<Done>) {
        match done {
            Some(Done::Solved(job, solved)) => {
                self.forget_above();
                self.solved = Some((job, solved));
            }
            Some(Done::Found(job, found)) => {
                if let Ok(found) = &found {
                    if !self.same_marks(&job) || self.solved_now().is_none() {
                        self.forget_above();
                    }
                    self.solved = Some((job.clone(), Ok(found.traced.photos.clone())));
                }
                self.found = Some((job, found));
                self.take = take::Take::default();
            }
            Some(Done::Straight(index, Ok(above))) if index < self.slots.len() => {
                let texture = ctx.load_texture("from above", above.image, canvas::SHOWN);
                let mm = above.straight.mm_per_pixel();
                self.slots[index].above = Some((above.straight, texture));
                self.slots[index].fitted = None;
                self.straight_on = true;
                desk.tell(format!("looked straight down: every pixel is {mm:.3} mm of the table."));
            }
            Some(Done::Straight(_, Err(why))) => desk.tell_fault(why),
            Some(_) => {}
            None => desk.tell_fault("it broke off; try it again, and save the work on the photo"),
        }
    }

    fn forget_above(&mut self) {
        self.straight_on = false;
        for slot in &mut self.slots {
            if slot.above.take().is_some() {
                slot.fitted = None;
            }
        }
    }

    /// Turns to the photo as seen from straight above, or back.
    fn turn_straight(&mut self, ctx: &Context, on: bool) {
        self.slots[self.at].fitted = None;
        self.straight_on = on;
        if !on || self.slots[self.at].above.is_some() {
            return;
        }
        self.straight_on = false;
        let solved = self.solved_now().and_then(|s| s.get(self.at)).cloned();
        if let (Some(solved), Some(picture)) = (solved, self.slots[self.at].picture.clone()) {
            self.work = Some(Work::straight(ctx, self.at, solved, picture));
        }
    }
}
