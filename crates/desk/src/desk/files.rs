//! Projects in and out of files: open, save, save as, recent files, a file
//! dropped on the table, and what was not saved the last time.

use super::outside;
use super::recovery::LeftBehind;
use super::state::Desk;
use crate::board::Board;
use crate::board::asked::Asked;
use crate::board::places::{self, file_name};
use crate::board::stage::Stage;
use crate::kit::field::one_line;
use crate::kit::job::{Heard, Job};
use crate::kit::length_field::name_field;
use crate::kit::modal::{Edge, QUESTION, modal};
use crate::tracing::photo::Photo;
use crate::{exchange, toile, tracing};
use egui::{Context, Key};
use hangtrue_adjust::Document;
use hangtrue_files::print::print_mark;
use hangtrue_files::project::{self, Held, ProjectError, Standing};
use hangtrue_files::save::{Over, SaveError, is_same_file, may_write};
use hangtrue_pattern::words::{InUnit, Words};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What has to be answered before unsaved work is given up.
#[derive(Debug, Clone, PartialEq)]
enum Leaving {
    /// The window is to be closed.
    Close,
    /// Another file is to be opened.
    Open(PathBuf),
    /// A new client is to be begun.
    New,
}

/// What is being asked about files.
#[derive(Default)]
pub(super) struct Files {
    dialog: Option<(Asked, Job<Option<PathBuf>>)>,
    /// The little window where a place is typed.
    pub typed: Option<(Asked, String, Option<String>)>,
    leaving: Option<Leaving>,
    /// What was asked for before the work is saved; done when it is.
    then: Option<Leaving>,
    /// A typed place where a file lies already, to be asked about.
    over: Option<(Asked, PathBuf)>,
    pub may_close: bool,
    pub left_behind: Vec<LeftBehind>,
}

impl Files {
    /// Nothing is asked but what earlier desks left behind.
    pub fn with_left_behind(left_behind: Vec<LeftBehind>) -> Self {
        Self { left_behind, ..Self::default() }
    }

    /// Whether a place, or what becomes of unsaved work, is to be answered first.
    pub fn asks(&self) -> bool {
        self.typed.is_some() || self.leaving.is_some() || self.over.is_some()
    }

    /// What was to follow the saving does not follow: nothing was saved.
    pub fn give_up_leaving(&mut self) {
        self.then = None;
    }
}

/// Opens the system's own dialog beside the desk, which goes on meanwhile; where there is
/// none, or the maker types places rather, the window where one is typed.
pub(super) fn ask(desk: &mut Desk, ctx: &Context, asked: Asked) {
    if desk.files.dialog.is_some() {
        return;
    }
    if desk.board.types_places() {
        return ask_typed(desk, asked);
    }
    let start = desk.board.filed.path().map(Path::to_owned);
    let document = desk.board.document().clone();
    let job = Job::begin(ctx, asked.title(), move |_| {
        let dialog = rfd::FileDialog::new().set_title(asked.title());
        let mut dialog = match asked {
            Asked::Bring => dialog.add_filter("Drawings", &["svg", "dxf"]),
            Asked::TakePhoto => dialog.add_filter("Photos", &["jpg", "jpeg", "png", "JPG", "JPEG"]),
            Asked::Photo => {
                dialog.add_filter("Photos and saved work", &["png", "jpg", "jpeg", "ron"])
            }
            Asked::ClassList => dialog.add_filter("Tables", &["csv", "CSV", "txt"]),
            Asked::AddPhoto => dialog.add_filter("Photos", &["png", "jpg", "jpeg"]),
            _ => dialog.add_filter("Hangtrue", &[asked.ending()]),
        };
        if let Some(folder) = start.as_ref().and_then(|p| p.parent()) {
            dialog = dialog.set_directory(folder);
        }
        if asked.reads() {
            dialog.pick_file()
        } else {
            dialog.set_file_name(usual_name(asked, start.as_deref(), &document)).save_file()
        }
    });
    desk.files.dialog = Some((asked, job));
}

/// What a file that is written is usually called: after the project's file, else its title.
fn usual_name(asked: Asked, project: Option<&Path>, document: &Document) -> String {
    let set = document.cutting.set.map(|set| format!(" {}", set.name()));
    let stem = project.and_then(Path::file_stem).map(|s| s.to_string_lossy().into_owned());
    let more = match asked {
        // Paper of one set of allowances is not written over that of another.
        Asked::SavePdf => set.as_deref().unwrap_or_default(),
        Asked::SaveMarking => " marking",
        Asked::SaveMeasuring => " measuring",
        Asked::SaveFitting => " fitting",
        Asked::SaveSewing(_) => " sewing",
        Asked::SaveHandout(_) => " handout",
        Asked::SaveClassList => " class",
        Asked::SaveHang => " hang",
        Asked::SaveLayPlan => " lay plan",
        Asked::SaveLay(_) => " lay",
        Asked::SaveJob => " photo",
        Asked::SaveStraight => " from above",
        Asked::SaveJournal => " journal",
        Asked::HandOn => " to hand on",
        _ => "",
    };
    let stem = stem.unwrap_or_else(|| file_name(&document.title));
    format!("{stem}{more}.{}", asked.ending())
}

fn whole_place(desk: &Desk, typed: &Path) -> PathBuf {
    places::whole(typed, desk.board.filed.path(), &desk.board.settings)
}

/// Opens the window where a place is typed. For a file that is written the usual place
/// stands there already: beside the project, else where projects lie.
fn ask_typed(desk: &mut Desk, asked: Asked) {
    desk.files.typed = Some((asked, usual_place(desk, asked), None));
}

/// The place that stands there before anything is typed: none for a file that is read.
fn usual_place(desk: &Desk, asked: Asked) -> String {
    if asked.reads() {
        return String::new();
    }
    if let (Asked::SaveAs, Some(own)) = (asked, desk.board.filed.path()) {
        return own.display().to_string();
    }
    let name = usual_name(asked, desk.board.filed.path(), desk.board.document());
    whole_place(desk, Path::new(&name)).display().to_string()
}

/// Saves into the project's file, or asks for one.
pub(super) fn save(desk: &mut Desk, ctx: &Context) {
    let Some(mut held) = desk.board.filed.held().cloned() else {
        return ask(desk, ctx, Asked::SaveAs);
    };
    desk.cards.toile.doubts.before_saving(&desk.board);
    match held.save(desk.board.document()) {
        Ok(()) => is_saved_at(desk, held),
        Err(ProjectError::ChangedMeanwhile { .. } | ProjectError::Gone { .. }) => {
            outside::ask_again(desk);
        }
        Err(why) => {
            desk.files.then = None;
            desk.say_fault(Words::why(why));
        }
    }
}

/// The project lies in that file now; its photos come along.
pub(super) fn is_saved_at(desk: &mut Desk, held: Held) {
    let path = held.file().to_owned();
    desk.board.settings.used(&path);
    desk.keep_settings();
    desk.say(format!("saved in “{}”.", path.display()));
    desk.recovery.forget();
    let now = desk.board.history.now().clone();
    let before = desk.board.filed.saved_at(held, now);
    super::looked::remember(desk);
    match before.filter(|b| b.file() != path) {
        Some(before) => {
            photos_along(desk, before.file(), &path);
            desk.cards.toile.doubts.leave_file(before.file());
        }
        None => {
            let gone = desk.cards.toile.doubts.saved(&desk.board);
            gone.iter().for_each(|photo| desk.cards.toile.photos.forget(&path, photo));
        }
    }
}

/// The place with the ending of its kind, when it was named without one.
fn with_ending(path: &Path, ending: &str) -> PathBuf {
    if path.extension().is_none() { path.with_extension(ending) } else { path.to_owned() }
}

/// Saves under a name that was asked for. Its own file is saved as always; another
/// project is never written over, and what else lies there only after it was asked.
fn save_as(desk: &mut Desk, ctx: &Context, path: &Path) -> Result<(), Words> {
    if desk.board.filed.path().is_some_and(|own| is_same_file(own, path)) {
        save(desk, ctx);
        return Ok(());
    }
    let held = project::save_new_over(path, desk.board.document(), Over::Replace);
    is_saved_at(desk, held.map_err(Words::why)?);
    Ok(())
}

/// Photos lie beside the project's file: saved under another name, it takes them
/// along.
fn photos_along(desk: &mut Desk, from: &Path, to: &Path) {
    let document = desk.board.document().clone();
    let files: Vec<&str> = document.journal.photos.iter().map(|p| p.file.as_str()).collect();
    match hangtrue_files::album::copy_along(from, to, &files) {
        Ok(0) => {}
        Ok(1) => desk.say(format!("saved in “{}”; its photo was copied along.", to.display())),
        Ok(n) => desk.say(format!("saved in “{}”; {n} photos were copied along.", to.display())),
        Err(why) => desk.say_fault(Words::why(why)),
    }
}

/// Opens a file, after asking when there is unsaved work.
pub(super) fn open_asking(desk: &mut Desk, path: PathBuf) {
    if desk.board.is_unsaved() {
        desk.files.leaving = Some(Leaving::Open(path));
    } else {
        open(desk, &path);
    }
}

/// Opens the form of a new client, after asking when there is unsaved work.
pub(super) fn new_asking(desk: &mut Desk) {
    if desk.board.is_unsaved() {
        desk.files.leaving = Some(Leaving::New);
    } else {
        desk.welcome.new_client();
    }
}

/// Puts a project that was just begun on the desk, saved where it was asked to be. A
/// file that is there already is never written over: the form says so.
pub(super) fn begin(desk: &mut Desk, document: Document, place: Option<PathBuf>) {
    let Some(place) = place else {
        desk.put(document, None);
        desk.board.filed.never_saved();
        desk.recovery.work_done();
        return desk.go_to(Stage::Block);
    };
    let place = whole_place(desk, &place);
    if place.is_dir() {
        let why = format!("“{}” is a folder: write the file’s name behind it.", place.display());
        return desk.welcome.refused(why);
    }
    let place = with_ending(&place, Asked::BeginAs.ending());
    match project::save_new(&place, &document) {
        Ok(held) => {
            desk.put(document, Some(held));
            desk.board.settings.used(&place);
            desk.keep_settings();
            desk.go_to(Stage::Block);
            desk.say(format!("the block is drafted, and saved in “{}”.", place.display()));
        }
        Err(why) => desk.welcome.refused(sentence(&why.to_string())),
    }
}

fn open(desk: &mut Desk, path: &Path) {
    match project::open(path) {
        Ok((document, held)) => {
            desk.put(document, Some(held));
            desk.board.settings.used(path);
            desk.keep_settings();
        }
        Err(why) => desk.say_fault(Words::why(why)),
    }
}

/// Takes a file that was dropped on the desk, and what a dialog answered.
pub(super) fn take_dropped(desk: &mut Desk, ctx: &Context) {
    let dropped = ctx.input(|i| i.raw.dropped_files.clone());
    if let Some(file) = dropped.first() {
        let path = file.path().to_owned();
        if desk.tracing.is_some() {
            if tracing::takes(&path) {
                add_photo(desk, ctx, &path);
            }
        } else if exchange::bring::takes(&path) {
            exchange::bring::look_at(&mut desk.exchange.bring, ctx, path);
        } else if tracing::takes(&path) {
            take_photo(desk, ctx, path);
        } else {
            open_asking(desk, path);
        }
    }
    let Some((asked, job)) = &mut desk.files.dialog else { return };
    let (asked, heard, shown) = (*asked, job.hear(ctx), job.elapsed());
    if matches!(heard, Heard::Waiting) {
        return;
    }
    desk.files.dialog = None;
    match heard {
        Heard::Waiting => {}
        Heard::Done(Some(path)) => take_chosen(desk, ctx, asked, path),
        Heard::Done(None) if shown < TOO_FAST => type_instead(desk, asked),
        Heard::Done(None) => desk.files.then = None,
        Heard::BrokeOff => type_instead(desk, asked),
    }
}

/// A photo is one of the toile while the toile is looked at, else one of a card.
fn take_photo(desk: &mut Desk, ctx: &Context, path: PathBuf) {
    if desk.board.stage == Stage::Toile && desk.board.filed.path().is_some() {
        toile::take_in::look_at(&mut desk.cards.toile, ctx, path);
    } else {
        open_tracing(desk, ctx, &path);
    }
}

/// Opens a photo, or a saved job, to be traced; nothing of the project is changed.
fn open_tracing(desk: &mut Desk, ctx: &Context, file: &Path) {
    match Photo::open(ctx, file, desk.board.unit()) {
        Ok(photo) => {
            desk.set_trial(None);
            desk.board.notice = None;
            desk.tracing = Some(Box::new(photo));
        }
        Err(why) => desk.say_fault(why),
    }
}

/// Goes on with work that an earlier desk left in no file.
pub(super) fn go_on_tracing(desk: &mut Desk, ctx: &Context, file: PathBuf) {
    open_tracing(desk, ctx, &file);
    if let Some(photo) = &mut desk.tracing {
        photo.goes_on_from(file);
        desk.say("this is the work on the photo that was not finished. Save it to keep it.");
    }
}

/// Adds a photo to those being traced.
fn add_photo(desk: &mut Desk, ctx: &Context, file: &Path) {
    let Some(photo) = &mut desk.tracing else { return open_tracing(desk, ctx, file) };
    if let Err(why) = photo.add(ctx, file, desk.board.unit()) {
        desk.say_fault(why);
    }
}

/// A dialog answered faster than this was not answered by a person: the system
/// has none to show.
const TOO_FAST: Duration = Duration::from_millis(700);

fn type_instead(desk: &mut Desk, asked: Asked) {
    desk.board.no_dialogs = true;
    let why = "The system has no file dialog to show, so type the place here.";
    desk.files.typed = Some((asked, usual_place(desk, asked), Some(why.into())));
}

/// Does what a place was asked for; why not, when it cannot be written there.
fn take_answer(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) -> Result<(), Words> {
    match asked {
        Asked::Open => open_asking(desk, path),
        Asked::SaveAs => save_as(desk, ctx, &with_ending(&path, asked.ending()))?,
        Asked::BeginAs => desk.welcome.lies_in(path),
        Asked::Bring => exchange::bring::look_at(&mut desk.exchange.bring, ctx, path),
        Asked::TakePhoto => toile::take_in::look_at(&mut desk.cards.toile, ctx, path),
        Asked::Photo => open_tracing(desk, ctx, &path),
        Asked::AddPhoto => add_photo(desk, ctx, &path),
        Asked::ClassList => desk.exchange.class.list_is(&path),
        _ => {
            let told = write(desk, asked, &with_ending(&path, asked.ending()))?;
            desk.say(told);
        }
    }
    Ok(())
}

/// The same for a place that was typed: what was typed stands there again with the
/// reason when nothing could be written, so that it need not be typed anew.
fn take_answer_typed(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    let place = path.display().to_string();
    if let Err(why) = take_answer(desk, ctx, asked, path) {
        let why = sentence(&why.in_unit(desk.board.unit()));
        desk.files.typed = Some((asked, place, Some(why)));
    }
}

/// Writes what is not the project itself; gives what is told of it.
fn write(desk: &mut Desk, asked: Asked, path: &Path) -> Result<String, String> {
    let Desk { board, cards, exchange, tracing, own_folder, recovery, .. } = desk;
    match asked {
        Asked::SavePdf => {
            let told = crate::cards::print::save_pdf(board, path)?;
            was_printed(board);
            recovery.work_done();
            Ok(told)
        }
        Asked::SaveMarking => crate::cards::print::save_marking(board, path),
        Asked::SaveMeasuring => crate::cards::print::save_measuring(board, path),
        Asked::SaveFitting => crate::cards::print::save_fitting(board, path),
        Asked::SaveSewing(sewn_as) => crate::cards::print::save_sewing(board, sewn_as, path),
        Asked::SaveHandout(reduced) => crate::cards::print::save_handout(board, reduced, path),
        Asked::SaveClassList => exchange::class::save_blank(board, path),
        Asked::SaveHang => cards.hang.save_picture(board, path),
        Asked::SaveLayPlan => cards.lay.save(board, None, path),
        Asked::SaveLay(file) => cards.lay.save(board, Some(file), path),
        Asked::SaveJournal => exchange.give.write_journal(board, path),
        Asked::HandOn => exchange.give.hand_on(board, path),
        Asked::SaveJob => match tracing {
            Some(photo) => photo.save_job(path, own_folder.as_deref()),
            None => Err("no photo is being digitised".into()),
        },
        Asked::SaveStraight => match tracing {
            Some(photo) => photo.save_straight(path),
            None => Err("no photo is being digitised".into()),
        },
        Asked::Send(_) => exchange.send.write(board, path),
        _ => Err("nothing is written for that".into()),
    }
}

/// The project remembers that it was printed as it is. Where nothing else is to be
/// saved, that is saved at once: printing is no work to be lost.
fn was_printed(board: &mut Board) {
    let was_saved = !board.is_unsaved();
    let mut document = board.document().clone();
    document.printing.printed = print_mark(&document);
    board.history.amend(document);
    board.dirty = true;
    if !was_saved {
        return;
    }
    let now = board.history.now().clone();
    match board.filed.held().cloned() {
        None => board.filed.is_as_saved(now),
        Some(mut held) => {
            if held.save(&now).is_ok() {
                board.filed.saved_at(held, now);
            }
        }
    }
}

/// Takes a place that the system's own dialog gave. It asked by itself about the
/// file it named, but not about the one with the ending added.
fn take_chosen(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    if !asked.reads() && with_ending(&path, asked.ending()) != path {
        take_typed(desk, ctx, asked, path);
    } else if let Err(why) = take_answer(desk, ctx, asked, path) {
        desk.files.then = None;
        desk.say_fault(why);
    }
}

/// Takes a place that was typed; a file that lies there is not written over
/// unasked, and a project not at all but by its own saving.
fn take_typed(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    let path = whole_place(desk, &path);
    let mut ask_again = |place: &Path, why: &str| {
        desk.files.typed = Some((asked, place.display().to_string(), Some(why.to_owned())));
    };
    if path.is_dir() {
        return if asked.reads() {
            ask_again(&path, "That is a folder: type the name of the file behind it.");
        } else {
            let name = usual_name(asked, desk.board.filed.path(), desk.board.document());
            ask_again(
                &path.join(name),
                "That is a folder: the name of the file stands behind it now.",
            );
        };
    }
    let place = with_ending(&path, asked.ending());
    let is_own = desk.board.filed.path().is_some_and(|own| is_same_file(own, &place));
    if asked.reads() || asked == Asked::BeginAs || (asked == Asked::SaveAs && is_own) {
        return take_answer_typed(desk, ctx, asked, path);
    }
    match may_write(&place, Over::Never) {
        Err(SaveError::Exists { .. }) => desk.files.over = Some((asked, place)),
        Err(why @ SaveError::IsProject { .. }) => ask_again(&place, &sentence(&why.to_string())),
        // What else is wrong is told by the writing.
        _ => take_answer_typed(desk, ctx, asked, path),
    }
}

fn ask_over(desk: &mut Desk, ctx: &Context) {
    let Some((asked, place)) = desk.files.over.clone() else { return };
    let (mut over, mut other) = (false, false);
    let shut = modal(ctx, "over", Edge::Note, QUESTION, |ui| {
        ui.heading("There is a file of that name");
        ui.add(egui::Label::new(format!("“{}” would be written over.", place.display())).wrap());
        ui.horizontal_wrapped(|ui| {
            over = ui.button("Write over it").clicked();
            other = ui.button("Choose another place").clicked();
        });
    });
    if over {
        desk.files.over = None;
        take_answer_typed(desk, ctx, asked, place);
    } else if other || shut {
        desk.files.over = None;
        desk.files.typed = Some((asked, place.display().to_string(), None));
    }
}

/// Goes on to what was asked for before the work was saved.
fn go_on(desk: &mut Desk, ctx: &Context) {
    let waits = desk.files.dialog.is_some() || desk.files.typed.is_some();
    if waits || desk.outside.asks() || desk.files.over.is_some() || desk.board.is_unsaved() {
        return;
    }
    match desk.files.then.take() {
        Some(Leaving::Close) => {
            desk.files.may_close = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        Some(Leaving::Open(path)) => open(desk, &path),
        Some(Leaving::New) => desk.welcome.new_client(),
        None => {}
    }
}

/// The small windows about files: a place to type, unsaved work, work that was
/// left behind.
pub(super) fn windows(desk: &mut Desk, ctx: &Context) {
    if ctx.input(|i| i.viewport().close_requested())
        && !desk.files.may_close
        && desk.board.is_unsaved()
    {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = Some(Leaving::Close);
    }
    let closes = ctx.input(|i| i.viewport().close_requested()) && !desk.files.may_close;
    if closes && let Some(photo) = desk.tracing.as_mut().filter(|p| p.is_unsaved()) {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = None;
        photo.ask_leaving();
    }
    type_place(desk, ctx);
    ask_over(desk, ctx);
    ask_leaving(desk, ctx);
    outside::window(desk, ctx);
    go_on(desk, ctx);
    offer_recovery(desk, ctx);
}

fn type_place(desk: &mut Desk, ctx: &Context) {
    let Some((asked, mut place, fault)) = desk.files.typed.clone() else { return };
    let (mut go, mut cancel) = (false, false);
    let mut leave = modal(ctx, "type a place", Edge::Note, QUESTION, |ui| {
        ui.heading(asked.title());
        ui.label("The folder and name of the file:");
        let field = ui.add(one_line(&mut place).desired_width(f32::INFINITY));
        name_field(ui, &field, "Place of the file");
        go = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if ui.memory(|m| m.focused().is_none()) {
            field.request_focus();
        }
        if let Some(why) = &fault {
            ui.colored_label(desk.board.palette.ochre, why);
        }
        ui.horizontal(|ui| {
            go |= ui.button("Go on").clicked();
            cancel = ui.button("Cancel").clicked();
        });
    });
    leave |= cancel;
    let known = fault.clone();
    desk.files.typed = Some((asked, place.clone(), known));
    if go && !place.trim().is_empty() {
        desk.files.typed = None;
        take_typed(desk, ctx, asked, PathBuf::from(place.trim()));
    } else if leave {
        desk.files.typed = None;
        desk.files.then = None;
    }
}

fn ask_leaving(desk: &mut Desk, ctx: &Context) {
    let Some(leaving) = desk.files.leaving.clone() else { return };
    let (mut keep, mut give_up, mut stay) = (false, false, false);
    stay |= modal(ctx, "not saved", Edge::Note, QUESTION, |ui| {
        ui.heading("This work is not saved");
        ui.label(format!("“{}” has changes that are in no file yet.", desk.board.document().title));
        ui.horizontal_wrapped(|ui| {
            keep = ui.button("Save first").clicked();
            give_up = ui.button("Give the changes up").clicked();
            stay = ui.button("Stay here").clicked();
        });
    });
    if keep {
        desk.files.leaving = None;
        desk.files.then = Some(leaving);
        save(desk, ctx);
    } else if give_up {
        desk.files.leaving = None;
        desk.recovery.forget();
        desk.cards.toile.doubts.leave(&desk.board);
        match leaving {
            Leaving::Close => {
                desk.files.may_close = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
            Leaving::Open(path) => open(desk, &path),
            Leaving::New => {
                // What was given up is not asked about again.
                let saved = desk.board.filed.saved().cloned();
                if let Some(saved) = saved {
                    let held = desk.board.filed.held().cloned();
                    desk.put(saved, held);
                }
                desk.welcome.new_client();
            }
        }
    } else if stay {
        desk.files.leaving = None;
    }
}

fn offer_recovery(desk: &mut Desk, ctx: &Context) {
    let Some(LeftBehind { file, kept, standing }) = desk.files.left_behind.first().cloned() else {
        return;
    };
    let (mut take, mut throw, mut later) = (false, false, false);
    later |= modal(ctx, "recover", Edge::Note, QUESTION, |ui| {
        ui.heading("Recover what was not saved");
        let place = kept.place().map_or("no file".into(), |f| f.display().to_string());
        ui.label(format!(
            "The desk closed last time before “{}” for {} was saved ({place}, {} changes).",
            kept.document.title,
            kept.document.client,
            kept.document.changes.len()
        ));
        if let Some(words) = standing_words(kept.held.is_some(), standing) {
            ui.add(egui::Label::new(words).wrap());
        }
        ui.horizontal_wrapped(|ui| {
            take = ui.button("Recover it").clicked();
            throw = ui.button("Throw it away").clicked();
            later = ui.button("Ask again next time").clicked();
        });
    });
    if take {
        let rest = desk.files.left_behind.split_off(1);
        let is_as_read = standing == Some(Standing::AsRead);
        desk.put(kept.document, kept.held);
        desk.files.left_behind = rest;
        desk.board.filed.never_saved();
        desk.recovery.work_done();
        let held = desk.board.filed.held().cloned();
        desk.recovery.takes_over(file, desk.board.history.now(), held.as_ref());
        desk.cards.toile.doubts.take_over(&desk.board);
        desk.say(if is_as_read {
            "recovered. Save it to keep it."
        } else {
            "recovered. Save it to keep it; you are asked where to."
        });
    } else if throw {
        let _ = std::fs::remove_file(file);
        desk.files.left_behind.remove(0);
        // Photos that only this work named go with it.
        if let Some(held) = &kept.held {
            let _ = project::open(held.file());
        }
    } else if later {
        desk.files.left_behind.clear();
    }
}

/// What is to be known of the file that unsaved work belongs to.
fn standing_words(is_known: bool, standing: Option<Standing>) -> Option<&'static str> {
    match standing {
        Some(Standing::AsRead) => None,
        Some(Standing::Changed) => {
            Some("Its file was changed since. Nothing is saved over that; you are asked first.")
        }
        Some(Standing::Gone) => {
            Some("Its file is no longer there. When you save, you are asked where to.")
        }
        // Kept by an older version, which did not say which file it meant.
        None if !is_known => Some("When you save it, you are asked where to."),
        None => None,
    }
}

/// Words that begin as a sentence and end as one.
fn sentence(words: &str) -> String {
    format!("{}.", hangtrue_pattern::words::capital(words))
}
