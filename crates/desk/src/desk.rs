//! The desk: one project on the table, and everything that shows it.

use crate::cards::Cards;
use crate::draft::Draft;
use crate::files::Files;
use crate::history::History;
use crate::lay::Lay;
use crate::recovery::{Recovery, left_behind};
use crate::settings::Settings;
use crate::sheet::SheetStore;
use crate::stage::{STAGES, Seen, Stage, Standing, standings};
use crate::theme::{self, Palette};
use crate::view::View;
use crate::{canvas, cards, help, keys, ribbon, rounds, tape};
use egui::{CentralPanel, Frame, Margin, Panel, TextureHandle, Ui};
use hangtrue_adjust::{Change, Document, Replay, StartError};
use hangtrue_geometry::Point;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use std::path::PathBuf;
use std::sync::Arc;

/// Something to be told once, in words, where it happened.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Notice {
    pub text: String,
    pub is_fault: bool,
}

/// The whole desk. It draws itself into any [`egui::Ui`], so that it can be
/// driven without a window.
pub struct Desk {
    pub(crate) history: History,
    pub(crate) replay: Replay,
    pub(crate) draft: Option<Draft>,
    pub(crate) dirty: bool,
    pub(crate) lay: Lay,
    pub(crate) view: View,
    pub(crate) fit_wanted: bool,
    /// Everything is in view, and stays so when the canvas changes its size.
    pub(crate) all_in_view: bool,
    /// The view to go back to after a close look at a change.
    view_before: Option<(View, bool)>,
    pub(crate) canvas: egui::Rect,
    /// Points at the top of the canvas that words lie over.
    pub(crate) words_above: f32,
    pub(crate) stage: Stage,
    pub(crate) standings: [(Stage, Standing); STAGES],
    pub(crate) seen: Seen,
    /// The change looked at in the list.
    pub(crate) selected: Option<usize>,
    /// Two rounds laid over each other: the older and the newer.
    pub(crate) compared: Option<(String, String)>,
    pub(crate) cards: Cards,
    pub(crate) rounds: rounds::RoundsList,
    pub(crate) palette: Palette,
    pub(crate) settings: Settings,
    pub(crate) own_folder: Option<PathBuf>,
    pub(crate) files: Files,
    pub(crate) exchange: crate::exchange::Exchange,
    pub(crate) give: crate::give::Give,
    pub(crate) recovery: Recovery,
    pub(crate) store: SheetStore,
    pub(crate) cloth: Option<(bool, TextureHandle)>,
    pub(crate) notice: Option<Notice>,
    pub(crate) help_open: bool,
    pub(crate) settings_open: bool,
    pub(crate) dressed: bool,
}

/// What lies on the table.
#[derive(Clone)]
pub(crate) struct Shown {
    /// The pattern on the table.
    pub new: Arc<Pattern>,
    /// The older version under it, and its name.
    pub old: Option<(Arc<Pattern>, String)>,
    /// Words over the table when it is not simply the present pattern.
    pub banner: Option<String>,
}

/// Where the pieces lie: those of the start, and beside them what came later by
/// bringing in or by parting the legs.
fn laid_out(replay: &Replay, mates: bool) -> Lay {
    let mut lay = replay.start().map(|p| Lay::of(p, mates)).unwrap_or_default();
    if let Ok(current) = replay.current() {
        lay.take_in(current);
    }
    lay
}

impl Desk {
    /// A desk with a project on it. `own_folder` is where settings and unsaved
    /// work are kept, and where work is looked for that an earlier desk could not
    /// save; none keeps nothing.
    pub fn new(document: Document, file: Option<PathBuf>, own_folder: Option<PathBuf>) -> Self {
        let settings = own_folder.as_deref().map(Settings::read).unwrap_or_default();
        let replay = Replay::new(document.clone());
        let mates = settings.mates;
        let lay = laid_out(&replay, mates);
        let seen = Seen::default();
        let standings = standings(&replay, &seen);
        let stage = crate::stage::next_stage(&standings).0;
        let recovery = Recovery::new(own_folder.clone());
        let mut files = Files::new(file, &document);
        if let Some(own) = &own_folder {
            files.left_behind = left_behind(own);
        }
        Self {
            files,
            exchange: Default::default(),
            give: Default::default(),
            history: History::new(document),
            replay,
            draft: None,
            dirty: false,
            lay,
            view: View::default(),
            fit_wanted: true,
            all_in_view: true,
            view_before: None,
            canvas: egui::Rect::NOTHING,
            words_above: 0.0,
            stage,
            standings,
            seen,
            selected: None,
            compared: None,
            cards: Cards::default(),
            rounds: rounds::RoundsList::default(),
            palette: Palette::of(settings.evening),
            settings,
            own_folder,
            recovery,
            store: SheetStore::default(),
            cloth: None,
            notice: None,
            help_open: false,
            settings_open: false,
            dressed: false,
        }
    }

    /// The project as it would be saved.
    pub fn document(&self) -> &Document {
        self.history.now()
    }

    /// What the document computes to, the change being made included.
    pub fn replay(&self) -> &Replay {
        &self.replay
    }

    /// Whether there is work that is not in the file.
    pub fn is_unsaved(&self) -> bool {
        self.files.is_unsaved(self.history.now())
    }

    /// The window's title: the truth about what is saved.
    pub fn title(&self) -> String {
        let document = self.document();
        let unsaved = if self.is_unsaved() { " — not saved" } else { "" };
        let place = self.files.name().unwrap_or_else(|| "no file yet".into());
        format!("{} · {} ({place}){unsaved} · Hangtrue", document.title, document.client)
    }

    pub(crate) fn unit(&self) -> Unit {
        self.document().unit
    }

    /// Changes the project as one step that can be undone.
    pub(crate) fn edit(&mut self, words: &str, change: impl FnOnce(&mut Document)) {
        let mut document = (**self.history.now()).clone();
        change(&mut document);
        if self.history.push(document, words) {
            self.recovery.work_done();
            self.dirty = true;
            self.notice = None;
        }
    }

    /// The same for something that goes on, like a number being typed: one step
    /// as long as the words stay the same.
    pub(crate) fn edit_on(&mut self, words: &str, change: impl FnOnce(&mut Document)) {
        let mut document = (**self.history.now()).clone();
        change(&mut document);
        if self.history.push_on(document, words) {
            self.recovery.work_done();
            self.dirty = true;
        }
    }

    /// Puts another project on the desk.
    pub(crate) fn put(&mut self, document: Document, file: Option<PathBuf>) {
        self.files = Files::new(file, &document);
        self.history = History::new(document);
        self.draft = None;
        self.selected = None;
        self.compared = None;
        self.cards = Cards::default();
        self.seen = Seen::default();
        self.fit_wanted = true;
        self.dirty = true;
        self.recompute();
        self.stage = crate::stage::next_stage(&self.standings).0;
    }

    /// Lays a change on the table to be looked at before it is accepted.
    pub(crate) fn set_draft(&mut self, draft: Option<Draft>) {
        if draft != self.draft {
            if draft.is_none() {
                self.step_back();
            }
            self.draft = draft;
            self.dirty = true;
        }
    }

    /// Looks closely at a place of a piece until the change on the table is
    /// accepted or left.
    pub(crate) fn come_closer(&mut self, piece: &str, at: Point) {
        const CLOSE: f64 = 2.2;
        self.view_before = Some((self.view, self.all_in_view));
        self.view = View { centre: at + self.lay.shift(piece), scale: self.view.scale.max(CLOSE) };
        self.all_in_view = false;
    }

    fn step_back(&mut self) {
        if let Some((view, all)) = self.view_before.take() {
            self.view = view;
            self.fit_wanted = all;
        }
    }

    /// Makes the change on the table part of the project.
    pub(crate) fn accept_draft(&mut self) {
        if let Some(draft) = self.draft.take() {
            self.step_back();
            let words = format!("“{}”", draft.name);
            let mut document = draft.laid_into(self.history.now());
            if let Change::Pinch(answered) = &draft.change {
                document.pinned.retain(|p| p.name != answered.pinch.name);
            }
            if self.history.push(document, words) {
                self.recovery.work_done();
            }
            self.dirty = true;
        }
    }

    pub(crate) fn undo(&mut self) {
        if self.draft.is_some() {
            self.set_draft(None);
        } else if self.history.undo() {
            self.after_travel();
        }
    }

    pub(crate) fn redo(&mut self) {
        if self.draft.is_none() && self.history.redo() {
            self.after_travel();
        }
    }

    fn after_travel(&mut self) {
        self.selected = None;
        self.dirty = true;
        self.recovery.work_done();
    }

    /// Computes what follows from the last edit, and only that.
    pub(crate) fn recompute(&mut self) {
        if !self.dirty {
            return;
        }
        self.dirty = false;
        let now = self.history.now();
        let document = match &self.draft {
            Some(draft) => draft.laid_into(now),
            None => (**now).clone(),
        };
        let start_before = self.replay.start().ok().cloned();
        self.replay.update(document);
        if let Ok(start) = self.replay.start()
            && start_before.as_ref() != Some(start)
        {
            self.lay = Lay::of(start, self.settings.mates);
        }
        if let Ok(current) = self.replay.current() {
            self.lay.take_in(current);
        }
        // A change that is only being tried does not make a stage done.
        if self.draft.is_none() {
            self.standings = standings(&self.replay, &self.seen);
        }
        let count = self.replay.states().len();
        self.selected = self.selected.filter(|s| *s < count);
    }

    /// The pattern the change being tried is made on.
    pub(crate) fn draft_base(&self) -> Option<Arc<Pattern>> {
        let at = self.draft.as_ref()?.index_in(self.document());
        self.replay.after(at).ok().cloned()
    }

    /// What lies on the table now.
    pub(crate) fn shown(&self) -> Result<Shown, StartError> {
        let after = |n: usize| self.replay.after(n).cloned();
        if let Some(draft) = &self.draft {
            let at = draft.index_in(self.history.now());
            // A line moves no paper: it is looked at among all that was done since.
            if matches!(draft.change, Change::MarkLine(_) | Change::EraseLine(_)) {
                let banner = Some(format!("Trying “{}”: not accepted yet.", draft.name));
                return Ok(Shown { new: self.replay.current()?.clone(), old: None, banner });
            }
            let old = Some((after(at)?, "before this change".into()));
            let banner = Some(format!("Trying “{}”: not accepted yet.", draft.name));
            return Ok(Shown { new: after(at + 1)?, old, banner });
        }
        if let Some((old_name, new_name)) = &self.compared {
            let find = |name: &str| self.replay.round(name).cloned().ok();
            if let (Some(old), Some(new)) = (find(old_name), find(new_name)) {
                let banner = format!("Comparing: “{new_name}” over “{old_name}” (broken line).");
                return Ok(Shown { new, old: Some((old, old_name.clone())), banner: Some(banner) });
            }
        }
        if let Some(at) = self.selected
            && let Some(entry) = self.replay.document().changes.get(at)
        {
            let old = Some((after(at)?, "before this change".into()));
            let banner = Some(format!("The pattern just after “{}”.", entry.name));
            return Ok(Shown { new: after(at + 1)?, old, banner });
        }
        Ok(Shown { new: self.replay.current()?.clone(), old: None, banner: None })
    }

    /// Back to the present pattern.
    pub(crate) fn show_now(&mut self) {
        self.selected = None;
        self.compared = None;
    }

    pub(crate) fn tell(&mut self, text: impl Into<String>) {
        self.notice = Some(Notice { text: text.into(), is_fault: false });
    }

    pub(crate) fn tell_fault(&mut self, text: impl Into<String>) {
        let text = text.into().in_unit(self.unit());
        self.notice = Some(Notice { text, is_fault: true });
    }

    pub(crate) fn go_to(&mut self, stage: Stage) {
        if self.stage != stage {
            let from = std::mem::replace(&mut self.stage, stage);
            cards::turned_to(self, from, stage);
        }
    }

    pub(crate) fn set_evening(&mut self, evening: bool) {
        self.settings.evening = evening;
        self.palette = Palette::of(evening);
        self.dressed = false;
        self.keep_settings();
    }

    /// Lays the mates beside the pieces, or puts them away.
    pub(crate) fn set_mates(&mut self, mates: bool) {
        self.settings.mates = mates;
        self.lay = laid_out(&self.replay, mates);
        self.fit_wanted = true;
        self.keep_settings();
    }

    pub(crate) fn set_letters(&mut self, scale: f32) {
        self.settings.letters = (scale * 10.0).round().clamp(10.0, 20.0) / 10.0;
        self.dressed = false;
        self.keep_settings();
    }

    pub(crate) fn keep_settings(&self) {
        if let Some(folder) = &self.own_folder {
            self.settings.write(folder);
        }
    }

    /// Loads the letters; once for each context, before the first picture.
    pub fn prepare(ctx: &egui::Context) {
        theme::load_letters(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
    }

    /// Draws the desk and takes what is done to it.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        if !self.dressed {
            theme::dress(&ctx, &self.palette, self.settings.letters);
            self.dressed = true;
            // This picture was begun in the old colours: it is drawn again, unseen.
            ctx.request_discard("the desk was dressed");
        }
        keys::take(self, &ctx);
        crate::files::take_dropped(self, &ctx);
        self.recompute();
        if crate::exchange::photo_is_open(self) {
            crate::exchange::show_photo(self, ui);
        } else {
            self.show_table(ui);
        }
        help::show(self, &ctx);
        crate::exchange::windows(self, &ctx);
        cards::toile::window(self, &ctx);
        crate::give::window(self, &ctx);
        crate::files::windows(self, &ctx);
        self.recovery.keep(self.history.now(), self.files.path(), self.is_unsaved(), &ctx);
        if self.dirty {
            ctx.request_repaint();
        }
    }

    /// The table, and what lies round it.
    fn show_table(&mut self, ui: &mut Ui) {
        let side =
            |margin: i8| Frame::new().fill(self.palette.card).inner_margin(Margin::same(margin));
        let scale = self.settings.letters;
        let (top, low, left, right) = (side(0), side(0), side(12), side(14));
        Panel::top("ribbon")
            .frame(top)
            .show_separator_line(false)
            .show(ui, |ui| ribbon::show(self, ui));
        Panel::bottom("tape")
            .frame(low)
            .show_separator_line(false)
            .show(ui, |ui| tape::show(self, ui));
        Panel::left("round")
            .frame(left)
            .exact_size(250.0 * scale.sqrt())
            .resizable(false)
            .show(ui, |ui| rounds::show(self, ui));
        Panel::right("card")
            .frame(right)
            .exact_size(425.0 * scale.sqrt())
            .resizable(false)
            .show(ui, |ui| cards::show(self, ui));
        self.recompute();
        CentralPanel::default().frame(Frame::NONE).show(ui, |ui| canvas::show(self, ui));
    }
}
