//! Projects in and out of files: open, save, save as, recent files, a file
//! dropped on the table, and what was not saved the last time.

use crate::desk::desk::Desk;
use crate::exchange::give::What;
use crate::desk::recovery::Kept;
use egui::{Context, Key, Ui};
use hangtrue_adjust::Document;
use hangtrue_files::project;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

/// What a dialog was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Asked {
    Open,
    SaveAs,
    SavePdf,
    SaveMarking,
    SaveJournal,
    HandOn,
    Bring,
    TakePhoto,
    Photo,
    AddPhoto,
    SaveJob,
    SaveStraight,
    SendSvg,
    SendDxf,
    SendPdf,
}

impl Asked {
    fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a project",
            Self::SaveAs => "Save the project as",
            Self::SavePdf => "Save the sheets as PDF",
            Self::SaveMarking => "Save the marking sheet as PDF",
            Self::SaveJournal => "Write the fitting journal as PDF",
            Self::HandOn => "Hand the project on without photos",
            Self::Bring => "Bring in a drawing (SVG or DXF)",
            Self::TakePhoto => "Add a photo of the toile (JPEG or PNG)",
            Self::Photo => "A piece from a photo (PNG, JPEG), or saved work on one",
            Self::AddPhoto => "Another photo of the piece (PNG, JPEG)",
            Self::SaveJob => "Save the work on the photo",
            Self::SaveStraight => "Save the picture from straight above",
            Self::SendSvg => "Send the pattern out as SVG",
            Self::SendDxf => "Send the pattern out as DXF",
            Self::SendPdf => "Send the pattern out as PDF",
        }
    }

    /// Whether a file is read that must be there, not written.
    fn reads(self) -> bool {
        matches!(self, Self::Open | Self::Bring | Self::TakePhoto | Self::Photo | Self::AddPhoto)
    }

    pub fn ending(self) -> &'static str {
        match self {
            Self::Open | Self::SaveAs | Self::HandOn | Self::SaveJob => "ron",
            Self::Photo | Self::AddPhoto | Self::SaveStraight => "png",
            Self::SavePdf | Self::SaveMarking | Self::SaveJournal | Self::SendPdf => "pdf",
            Self::Bring | Self::SendSvg => "svg",
            Self::SendDxf => "dxf",
            Self::TakePhoto => "jpg",
        }
    }
}

/// What has to be answered before unsaved work is given up.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Leaving {
    /// The window is to be closed.
    Close,
    /// Another file is to be opened.
    Open(PathBuf),
}

/// The file of the project and what is being asked about files.
pub(crate) struct Files {
    path: Option<PathBuf>,
    saved: Option<Arc<Document>>,
    dialog: Option<(Asked, Receiver<Option<PathBuf>>, Instant)>,
    /// The little window where a place is typed.
    pub typed: Option<(Asked, String, Option<String>)>,
    pub leaving: Option<Leaving>,
    /// What was asked for before the work is saved; done when it is.
    then: Option<Leaving>,
    /// A typed place where a file lies already, to be asked about.
    over: Option<(Asked, PathBuf)>,
    pub may_close: bool,
    pub left_behind: Vec<(PathBuf, Kept)>,
}

impl Files {
    /// A project that was just read from a file, or is new when there is none.
    pub fn new(path: Option<PathBuf>, document: &Document) -> Self {
        Self {
            path,
            saved: Some(Arc::new(document.clone())),
            dialog: None,
            typed: None,
            leaving: None,
            then: None,
            over: None,
            may_close: false,
            left_behind: Vec::new(),
        }
    }

    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The file's name, without its folder.
    pub fn name(&self) -> Option<String> {
        Some(self.path.as_ref()?.file_name()?.to_string_lossy().into_owned())
    }

    pub fn is_unsaved(&self, document: &Arc<Document>) -> bool {
        self.saved.as_ref().is_none_or(|s| !Arc::ptr_eq(s, document) && **s != **document)
    }

    /// Whether the saved project names that photo.
    pub fn is_in_file(&self, photo: &str) -> bool {
        self.saved.as_ref().is_some_and(|s| s.journal.photos.iter().any(|p| p.file == photo))
    }

    /// Nothing of this project is in its file: it was recovered.
    pub fn never_saved(&mut self) {
        self.saved = None;
    }
}

/// The buttons of the project row.
pub(crate) fn menu(desk: &mut Desk, ui: &mut Ui) {
    ui.menu_button("Files", |ui| {
        ui.set_min_width(260.0);
        let row = |ui: &mut Ui, words: &str, keys: &str| {
            let plain = egui::Button::new(words);
            let button = if keys.is_empty() { plain } else { plain.shortcut_text(keys) };
            let clicked = ui.add(button).clicked();
            if clicked {
                ui.close();
            }
            clicked
        };
        if row(ui, "Open…", "Ctrl+O") {
            ask(desk, Asked::Open);
        }
        if row(ui, "Save", "Ctrl+S") {
            save(desk);
        }
        if row(ui, "Save as…", "Ctrl+Shift+S") {
            ask(desk, Asked::SaveAs);
        }
        ui.separator();
        if row(ui, "Open by typing its place…", "") {
            desk.files.typed = Some((Asked::Open, String::new(), None));
        }
        if row(ui, "Save by typing a place…", "") {
            let place = desk.files.path.as_ref().map(|p| p.display().to_string());
            desk.files.typed = Some((Asked::SaveAs, place.unwrap_or_default(), None));
        }
        ui.separator();
        if row(ui, "Bring in a drawing…", "") {
            ask(desk, Asked::Bring);
        }
        if row(ui, "Bring in by typing its place…", "") {
            desk.files.typed = Some((Asked::Bring, String::new(), None));
        }
        if row(ui, "Piece from a photo…", "Ctrl+I") {
            ask(desk, Asked::Photo);
        }
        if row(ui, "Piece from a photo by typing its place…", "") {
            desk.files.typed = Some((Asked::Photo, String::new(), None));
        }
        let left = desk.own_folder.as_deref().and_then(crate::exchange::photo_left_behind);
        if let Some(left) = left
            && row(ui, "Go on with the photo that was not finished", "")
        {
            crate::exchange::go_on_with_photo(desk, &ui.ctx().clone(), left);
        }
        if row(ui, "Send the pattern out…", "") {
            crate::exchange::open_send(desk);
        }
        ui.separator();
        if row(ui, "Write the fitting journal…", "") {
            crate::exchange::give::open(desk, What::Journal);
        }
        if row(ui, "Hand the project on without photos…", "") {
            crate::exchange::give::open(desk, What::Project);
        }
        let recent = desk.settings.recent.clone();
        if !recent.is_empty() {
            ui.separator();
            ui.label("Opened lately");
            for file in recent {
                let name = file.file_name().map(|n| n.to_string_lossy().into_owned());
                let folder = file.parent().map(|f| f.display().to_string()).unwrap_or_default();
                if row(ui, &format!("{} — {folder}", name.unwrap_or_default()), "") {
                    open_asking(desk, file);
                }
            }
        }
    });
    if ui.button("Save").on_hover_text("Ctrl+S").clicked() {
        save(desk);
    }
}

/// Opens the system's own dialog beside the desk, which goes on meanwhile.
pub(crate) fn ask(desk: &mut Desk, asked: Asked) {
    if desk.files.dialog.is_some() {
        return;
    }
    let (tell, told) = channel();
    let start = desk.files.path.clone();
    let title = desk.document().title.clone();
    std::thread::spawn(move || {
        let dialog = rfd::FileDialog::new().set_title(asked.title());
        let mut dialog = match asked {
            Asked::Bring => dialog.add_filter("Drawings", &["svg", "dxf"]),
            Asked::TakePhoto => dialog.add_filter("Photos", &["jpg", "jpeg", "png", "JPG", "JPEG"]),
            Asked::Photo => {
                dialog.add_filter("Photos and saved work", &["png", "jpg", "jpeg", "ron"])
            }
            Asked::AddPhoto => dialog.add_filter("Photos", &["png", "jpg", "jpeg"]),
            _ => dialog.add_filter("Hangtrue", &[asked.ending()]),
        };
        if let Some(folder) = start.as_ref().and_then(|p| p.parent()) {
            dialog = dialog.set_directory(folder);
        }
        let chosen = if asked.reads() {
            dialog.pick_file()
        } else {
            let name = start.and_then(|p| p.file_stem().map(|s| s.to_string_lossy().into_owned()));
            let name = name.unwrap_or(title);
            let more = match asked {
                Asked::SaveMarking => " marking",
                Asked::SaveJob => " photo",
                Asked::SaveStraight => " from above",
                Asked::SaveJournal => " journal",
                Asked::HandOn => " to hand on",
                _ => "",
            };
            dialog.set_file_name(format!("{name}{more}.{}", asked.ending())).save_file()
        };
        // The desk may be gone by then; nobody is left to be told.
        let _ = tell.send(chosen);
    });
    desk.files.dialog = Some((asked, told, Instant::now()));
}

/// Saves into the project's file, or asks for one.
pub(crate) fn save(desk: &mut Desk) {
    match desk.files.path.clone() {
        Some(path) => save_to(desk, &path),
        None => ask(desk, Asked::SaveAs),
    }
}

/// The place with the ending of its kind, when it was named without one.
fn with_ending(path: &Path, ending: &str) -> PathBuf {
    if path.extension().is_none() { path.with_extension(ending) } else { path.to_owned() }
}

fn save_to(desk: &mut Desk, path: &Path) {
    let path = with_ending(path, "ron");
    match project::save(&path, desk.document()) {
        Ok(()) => {
            desk.files.saved = Some(desk.history.now().clone());
            desk.settings.used(&path);
            desk.keep_settings();
            desk.tell(format!("saved in “{}”.", path.display()));
            let before = desk.files.path.replace(path.clone());
            if let Some(before) = before.filter(|b| *b != path) {
                photos_along(desk, &before, &path);
            }
        }
        Err(why) => {
            desk.files.then = None;
            desk.tell_fault(why.to_string());
        }
    }
}

/// Photos lie beside the project's file: saved under another name, it takes them
/// along.
fn photos_along(desk: &mut Desk, from: &Path, to: &Path) {
    let document = desk.document().clone();
    let files: Vec<&str> = document.journal.photos.iter().map(|p| p.file.as_str()).collect();
    match hangtrue_files::album::copy_along(from, to, &files) {
        Ok(0) => {}
        Ok(1) => desk.tell(format!("saved in “{}”; its photo was copied along.", to.display())),
        Ok(n) => desk.tell(format!("saved in “{}”; {n} photos were copied along.", to.display())),
        Err(why) => desk.tell_fault(why.to_string()),
    }
}

/// Opens a file, after asking when there is unsaved work.
pub(crate) fn open_asking(desk: &mut Desk, path: PathBuf) {
    if desk.is_unsaved() {
        desk.files.leaving = Some(Leaving::Open(path));
    } else {
        open(desk, &path);
    }
}

fn open(desk: &mut Desk, path: &Path) {
    match project::load(path) {
        Ok(document) => {
            desk.put(document, Some(path.to_owned()));
            desk.settings.used(path);
            desk.keep_settings();
        }
        Err(why) => desk.tell_fault(why.to_string()),
    }
}

/// Takes a file that was dropped on the desk.
pub(crate) fn take_dropped(desk: &mut Desk, ctx: &Context) {
    let dropped = ctx.input(|i| i.raw.dropped_files.clone());
    if let Some(file) = dropped.first() {
        let path = file.path().to_owned();
        if crate::exchange::photo_is_open(desk) {
            if crate::exchange::takes_photo(&path) {
                crate::exchange::add_photo(desk, ctx, &path);
            }
        } else if crate::exchange::takes(&path) {
            crate::exchange::look_at(desk, path);
        } else if crate::exchange::takes_photo(&path) {
            take_photo(desk, ctx, path);
        } else {
            open_asking(desk, path);
        }
    }
    let answer = desk.files.dialog.as_ref().map(|d| (d.0, d.1.try_recv()));
    match answer {
        Some((asked, Ok(chosen))) => {
            let opened = desk.files.dialog.take().map(|d| d.2.elapsed());
            match chosen {
                Some(path) => take_answer(desk, ctx, asked, path),
                None if opened.is_some_and(|o| o < TOO_FAST) => type_instead(desk, asked),
                None => desk.files.then = None,
            }
        }
        Some((asked, Err(std::sync::mpsc::TryRecvError::Disconnected))) => {
            desk.files.dialog = None;
            type_instead(desk, asked);
        }
        Some(_) => ctx.request_repaint_after(Duration::from_millis(150)),
        None => {}
    }
}

/// A photo is one of the toile while the toile is looked at, else one of a card.
fn take_photo(desk: &mut Desk, ctx: &Context, path: PathBuf) {
    if desk.stage == crate::board::stage::Stage::Toile && desk.files.path.is_some() {
        crate::toile::look_at(desk, path);
    } else {
        crate::exchange::open_photo(desk, ctx, &path);
    }
}

/// A dialog answered faster than this was not answered by a person: the system
/// has none to show.
const TOO_FAST: Duration = Duration::from_millis(700);

fn type_instead(desk: &mut Desk, asked: Asked) {
    let why = "The system has no file dialog to show, so type the place here.";
    desk.files.typed = Some((asked, String::new(), Some(why.into())));
}

fn take_answer(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    match asked {
        Asked::Open => open_asking(desk, path),
        Asked::SaveAs => save_to(desk, &path),
        Asked::SavePdf => crate::cards::print::save_pdf(desk, &path),
        Asked::SaveMarking => crate::cards::print::save_marking(desk, &path),
        Asked::SaveJournal => crate::exchange::give::write_journal(desk, &with_ending(&path, "pdf")),
        Asked::HandOn => crate::exchange::give::hand_on(desk, &with_ending(&path, "ron")),
        Asked::Bring => crate::exchange::look_at(desk, path),
        Asked::TakePhoto => crate::toile::look_at(desk, path),
        Asked::Photo => crate::exchange::open_photo(desk, ctx, &path),
        Asked::AddPhoto => crate::exchange::add_photo(desk, ctx, &path),
        Asked::SaveJob => crate::exchange::save_job(desk, &path),
        Asked::SaveStraight => crate::exchange::save_straight(desk, &path),
        Asked::SendSvg | Asked::SendDxf | Asked::SendPdf => {
            crate::exchange::write_sent(desk, asked, &path);
        }
    }
}

/// Takes a place that was typed; a file that lies there is not written over
/// unasked. The system's own dialogs ask by themselves.
fn take_typed(desk: &mut Desk, ctx: &Context, asked: Asked, path: PathBuf) {
    let place = with_ending(&path, asked.ending());
    let is_own = desk.files.path.as_deref() == Some(&*place);
    if !asked.reads() && place.exists() && !is_own {
        desk.files.over = Some((asked, place));
    } else {
        take_answer(desk, ctx, asked, path);
    }
}

fn ask_over(desk: &mut Desk, ctx: &Context) {
    let Some((asked, place)) = desk.files.over.clone() else { return };
    let (mut over, mut other) = (false, false);
    let shut = modal(ctx, "over", |ui| {
        ui.heading("There is a file of that name");
        ui.add(egui::Label::new(format!("“{}” would be written over.", place.display())).wrap());
        ui.horizontal_wrapped(|ui| {
            over = ui.button("Write over it").clicked();
            other = ui.button("Choose another place").clicked();
        });
    });
    if over {
        desk.files.over = None;
        take_answer(desk, ctx, asked, place);
    } else if other || shut {
        desk.files.over = None;
        desk.files.typed = Some((asked, place.display().to_string(), None));
    }
}

/// Goes on to what was asked for before the work was saved.
fn go_on(desk: &mut Desk, ctx: &Context) {
    let waits = desk.files.dialog.is_some() || desk.files.typed.is_some();
    if waits || desk.files.over.is_some() || desk.is_unsaved() {
        return;
    }
    match desk.files.then.take() {
        Some(Leaving::Close) => {
            desk.files.may_close = true;
            ctx.send_viewport_cmd(egui::ViewportCommand::Close);
        }
        Some(Leaving::Open(path)) => open(desk, &path),
        None => {}
    }
}

/// The small windows about files: a place to type, unsaved work, work that was
/// left behind.
pub(crate) fn windows(desk: &mut Desk, ctx: &Context) {
    if ctx.input(|i| i.viewport().close_requested()) && !desk.files.may_close && desk.is_unsaved() {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = Some(Leaving::Close);
    }
    let closes = ctx.input(|i| i.viewport().close_requested()) && !desk.files.may_close;
    if closes && crate::exchange::photo_is_unsaved(desk) {
        ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
        desk.files.leaving = None;
        crate::exchange::ask_leaving_photo(desk);
    }
    type_place(desk, ctx);
    ask_over(desk, ctx);
    ask_leaving(desk, ctx);
    go_on(desk, ctx);
    offer_recovery(desk, ctx);
}

/// A small window over the desk; true when it is to be shut.
pub(crate) fn modal(ctx: &Context, name: &str, add: impl FnOnce(&mut Ui)) -> bool {
    egui::Modal::new(egui::Id::unique(name))
        .frame(crate::kit::theme::note_frame(ctx))
        .show(ctx, |ui| {
            ui.set_width(440.0_f32.min(ctx.content_rect().width() - 60.0));
            add(ui);
        })
        .should_close()
}

fn type_place(desk: &mut Desk, ctx: &Context) {
    let Some((asked, mut place, fault)) = desk.files.typed.clone() else { return };
    let (mut go, mut cancel) = (false, false);
    let mut leave = modal(ctx, "type a place", |ui| {
        ui.heading(asked.title());
        ui.label("The folder and name of the file:");
        let field = ui.add(egui::TextEdit::singleline(&mut place).desired_width(f32::INFINITY));
        crate::kit::length_field::name_field(ui, &field, "Place of the file");
        go = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if ui.memory(|m| m.focused().is_none()) {
            field.request_focus();
        }
        if let Some(why) = &fault {
            ui.colored_label(desk.palette.ochre, why);
        }
        ui.horizontal(|ui| {
            go |= ui.button("Go on").clicked();
            cancel = ui.button("Leave it").clicked();
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
    stay |= modal(ctx, "not saved", |ui| {
        ui.heading("This work is not saved");
        ui.label(format!("“{}” has changes that are in no file yet.", desk.document().title));
        ui.horizontal_wrapped(|ui| {
            keep = ui.button("Save first").clicked();
            give_up = ui.button("Give the changes up").clicked();
            stay = ui.button("Stay here").clicked();
        });
    });
    if keep {
        desk.files.leaving = None;
        desk.files.then = Some(leaving);
        save(desk);
    } else if give_up {
        desk.files.leaving = None;
        desk.recovery.forget();
        crate::toile::give_up(desk);
        match leaving {
            Leaving::Close => {
                desk.files.may_close = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
            Leaving::Open(path) => open(desk, &path),
        }
    } else if stay {
        desk.files.leaving = None;
    }
}

fn offer_recovery(desk: &mut Desk, ctx: &Context) {
    let Some((file, kept)) = desk.files.left_behind.first().cloned() else { return };
    let (mut take, mut throw, mut later) = (false, false, false);
    later |= modal(ctx, "recover", |ui| {
        ui.heading("Recover what was not saved");
        let place = kept.file.as_ref().map_or("no file".into(), |f| f.display().to_string());
        ui.label(format!(
            "The desk closed last time before “{}” for {} was saved ({place}, {} changes).",
            kept.document.title,
            kept.document.client,
            kept.document.changes.len()
        ));
        ui.horizontal_wrapped(|ui| {
            take = ui.button("Recover it").clicked();
            throw = ui.button("Throw it away").clicked();
            later = ui.button("Ask again next time").clicked();
        });
    });
    if take {
        let rest = desk.files.left_behind.split_off(1);
        desk.put(kept.document, kept.file);
        desk.files.left_behind = rest;
        desk.files.never_saved();
        desk.recovery.work_done();
        // The next keeping writes it under our own name; until then the old stays.
        desk.recovery.takes_over(file);
        desk.tell("recovered. Save it to keep it.");
    } else if throw {
        let _ = std::fs::remove_file(file);
        desk.files.left_behind.remove(0);
    } else if later {
        desk.files.left_behind.clear();
    }
}
