//! Applying what was asked for: the only place that changes the board.

use super::state::Desk;
use super::{files, looked};
use crate::board::filed::Filed;
use crate::board::laid_out;
use crate::board::lay::Lay;
use crate::board::legs::named_on_leg;
use crate::board::requests::{Edit, Leads, Notice, Request, Requests, Window};
use crate::board::stage::{Seen, Stage, stage_of, standings};
use crate::board::trial::Trial;
use crate::cards::Cards;
use crate::exchange::give::What;
use crate::kit::history::History;
use crate::kit::theme::Palette;
use egui::Context;
use hangtrue_adjust::{Change, Document};
use hangtrue_files::project::Held;
use hangtrue_pattern::words::{InUnit, Words};

/// Applies all that was asked for, in order.
pub(super) fn apply(desk: &mut Desk, requests: Requests, ctx: &Context) {
    if requests.is_empty() {
        return;
    }
    for request in requests {
        apply_one(desk, request, ctx);
    }
    // What was drawn before is drawn again as it stands now.
    ctx.request_repaint();
}

fn apply_one(desk: &mut Desk, request: Request, ctx: &Context) {
    match request {
        Request::Edit { words, goes_on, change } => desk.edit(words, goes_on, change),
        Request::Try(trial) => desk.set_trial(trial),
        Request::Begin(trial) => desk.begin(trial),
        Request::TurnAway => desk.leave_untold(),
        Request::Accept => desk.accept_trial(),
        Request::AcceptOrLeave => desk.accept_or(Desk::leave_trial),
        Request::AcceptOrTell => desk.accept_or(|_| ()),
        Request::EditAgain(index) => desk.edit_again(index),
        Request::Undo => desk.undo(),
        Request::Redo => desk.redo(),
        Request::Select(at) => desk.board.selected = at,
        Request::Compare(rounds) => desk.board.compared = rounds,
        Request::GoTo(stage) => desk.go_to(stage),
        Request::Fit => desk.table.fit_wanted = true,
        Request::FitPhoto => desk.cards.toile.fit_wanted = true,
        Request::ComeCloser { piece, at } => {
            let shift = desk.board.lay.shift(&piece);
            desk.table.come_closer(at + shift);
        }
        Request::LayToolsDown => desk.cards.tools.lay_down(),
        Request::ReadAsSewn(pattern) => {
            desk.board.seen.as_sewn = Some(pattern);
            desk.judge();
            looked::remember(desk);
        }
        Request::LookedAtSeams(pattern) => {
            desk.board.seen.walked = Some(pattern);
            desk.judge();
            looked::remember(desk);
        }
        Request::CausesShown(causes) => {
            desk.board.seen.causes = Some(causes);
            desk.judge();
        }
        Request::Printed(printed) => desk.board.printed = printed,
        Request::Tell { words, is_fault, leads } => desk.tell(&words, is_fault, leads),
        Request::Follow(leads) => desk.follow(leads),
        Request::HushNotice => desk.board.notice = None,
        Request::Evening(evening) => desk.set_evening(evening),
        Request::Letters(scale) => desk.set_letters(scale),
        Request::Mates(mates) => desk.set_mates(mates),
        Request::TypePlaces(typed) => {
            desk.board.settings.type_places = typed;
            desk.keep_settings();
        }
        Request::ScreenMeasured(points) => desk.board.settings.points_per_mm = Some(points),
        Request::KeepSettings => desk.keep_settings(),
        Request::Turn(window) => desk.turn(window),
        Request::Ask(asked) => files::dialog::ask(desk, ctx, asked),
        Request::Save => files::saving::save(desk, ctx),
        Request::Open(path) => files::opening::open_asking(desk, path),
        Request::GoOnTracing(file) => files::photos::go_on_tracing(desk, ctx, file),
        Request::Begun(document, place) => files::opening::begin(desk, *document, place),
        Request::LookRound => {
            let mut example = crate::sample::opening();
            example.unit = desk.board.unit_to_begin();
            desk.put(example, None);
        }
        Request::Unit(unit) => {
            desk.board.settings.unit = Some(unit);
            desk.keep_settings();
        }
        Request::StartNew(document, from) => {
            desk.put(*document, None);
            desk.board.filed.never_saved();
            desk.say(format!("a new project was started with {from}. Save it to keep it."));
        }
    }
}

impl Desk {
    /// Tells something, in the project's unit.
    fn tell(&mut self, words: &Words, is_fault: bool, leads: Option<Leads>) {
        let text = words.in_unit(self.board.unit());
        self.board.notice = Some(Notice { text, is_fault, leads });
    }

    /// Turns to what a message was about, which is read then.
    fn follow(&mut self, leads: Leads) {
        self.board.notice = None;
        match leads {
            Leads::ToHang => {
                self.leave_untold();
                self.cards.hang.open = true;
                self.go_to(Stage::AsSewn);
            }
        }
    }

    pub(super) fn say(&mut self, words: impl Into<Words>) {
        self.tell(&words.into(), false, None);
    }

    pub(super) fn say_fault(&mut self, words: impl Into<Words>) {
        self.tell(&words.into(), true, None);
    }

    fn edit(&mut self, words: String, goes_on: bool, change: Edit) {
        let mut document = (**self.board.history.now()).clone();
        change(&mut document);
        if let Some(why) = self.over_limits(&document) {
            return self.say_fault(why);
        }
        let history = &mut self.board.history;
        let is_done =
            if goes_on { history.push_on(document, &words) } else { history.push(document, words) };
        if is_done {
            // What was told of the project as it was is no longer so.
            if !goes_on || self.board.notice.as_ref().is_some_and(|n| !n.is_fault) {
                self.board.notice = None;
            }
            self.recovery.work_done();
            self.board.dirty = true;
        }
    }

    /// Why a document that an edit makes could not be saved; what could not be saved is
    /// not begun. Recovered work that holds too much already may be mended in steps.
    fn over_limits(&self, document: &Document) -> Option<Words> {
        let why = document.check_limits().err()?;
        self.board.document().check_limits().is_ok().then(|| Words::why(why))
    }

    /// Puts another project on the desk.
    pub(super) fn put(&mut self, document: Document, held: Option<Held>) {
        self.files = Default::default();
        self.cards.toile.doubts.leave(&self.board);
        self.welcome.close();
        let board = &mut self.board;
        board.filed = Filed::new(held, &document);
        board.history = History::new(document);
        board.blank = false;
        board.trial = None;
        // What was told of another project is not of this one.
        board.notice = None;
        board.selected = None;
        board.compared = None;
        board.printed = None;
        board.seen = Seen::default();
        board.dirty = true;
        self.cards = Cards::default();
        self.table.fit_wanted = true;
        self.recompute();
        self.files.look_whether_otherwise(self.board.filed.held(), &self.board.replay);
        looked::take_up(self);
    }

    pub(super) fn set_trial(&mut self, trial: Option<Trial>) {
        if trial != self.board.trial {
            if trial.is_none() {
                self.table.step_back();
            }
            self.board.trial = trial;
            self.board.dirty = true;
        }
    }

    /// Lays another change on the table. What was tried there is left, and that is
    /// told.
    fn begin(&mut self, trial: Trial) {
        self.leave_untold();
        self.set_trial(Some(trial));
    }

    /// Leaves what was being tried, and tells so.
    fn leave_untold(&mut self) {
        if let Some(left) = self.board.trial.as_ref().map(|d| d.name.clone()) {
            self.set_trial(None);
            self.say_fault(format!("“{left}” was left, because it was not accepted."));
        }
    }

    fn leave_trial(&mut self) {
        self.set_trial(None);
    }

    /// Makes the change on the table part of the project.
    fn accept_trial(&mut self) {
        if let Some(trial) = self.board.trial.take() {
            let words = format!("“{}”", trial.name);
            let mut document = trial.laid_into(self.board.history.now());
            if let Some(why) = self.over_limits(&document) {
                self.board.trial = Some(trial);
                return self.say_fault(why);
            }
            self.table.step_back();
            if let Change::Pinch(answered) = &trial.change {
                document.pinned.retain(|p| p.name != answered.pinch.name);
            }
            let said = format!("{words} is accepted; undo takes it back.");
            if self.board.history.push(document, words) {
                self.say(said);
                self.recovery.work_done();
            }
            self.board.dirty = true;
        }
    }

    /// Accepts the change on the table if it can be made; else tells why it cannot.
    fn accept_or(&mut self, otherwise: impl FnOnce(&mut Self)) {
        self.recompute();
        match self.board.trial_fault() {
            Some(why) => {
                otherwise(self);
                self.say_fault(why);
            }
            None => self.accept_trial(),
        }
    }

    /// Opens a change on the card where it was made.
    fn edit_again(&mut self, index: usize) {
        let Some(mut trial) = Trial::again(self.board.document(), index) else { return };
        if let Ok(before) = self.board.replay.after(index) {
            trial.change = named_on_leg(before, trial.change);
        }
        self.board.selected = None;
        self.board.compared = None;
        self.go_to(stage_of(&trial.change));
        if self.board.trial.as_ref().is_some_and(|d| d.at == Some(index)) {
            self.set_trial(Some(trial));
        } else {
            self.begin(trial);
        }
    }

    fn undo(&mut self) {
        if self.board.trial.is_some() {
            self.set_trial(None);
        } else {
            let words = self.board.history.undo_words().map(str::to_owned);
            if self.board.history.undo() {
                self.after_travel(words, "taken back");
            }
        }
    }

    fn redo(&mut self) {
        let words = self.board.history.redo_words().map(str::to_owned);
        if self.board.trial.is_none() && self.board.history.redo() {
            self.after_travel(words, "made again");
        }
    }

    /// After a step was taken back or made again, which is told by its words.
    fn after_travel(&mut self, step: Option<String>, did: &str) {
        // What was told of the step before is no longer so.
        if self.board.notice.as_ref().is_some_and(|n| !n.is_fault) {
            self.board.notice = None;
        }
        if let Some(step) = step.filter(|step| !step.trim().is_empty()) {
            self.tell(&format!("“{step}” is {did}.").into(), false, None);
        }
        self.board.selected = None;
        self.board.dirty = true;
        self.recovery.work_done();
    }

    /// Computes what follows from the last edit, and only that.
    pub(super) fn recompute(&mut self) {
        let board = &mut self.board;
        if !board.dirty {
            return;
        }
        board.dirty = false;
        let now = board.history.now();
        let document = match &board.trial {
            Some(trial) => trial.laid_into(now),
            None => (**now).clone(),
        };
        let start_before = board.replay.start().ok().cloned();
        board.replay.update(document);
        if let Ok(start) = board.replay.start()
            && start_before.as_ref() != Some(start)
        {
            board.lay = Lay::of(start, board.settings.mates);
        }
        if let Ok(current) = board.replay.current() {
            board.lay.take_in(current);
        }
        // A change that is only being tried does not make a stage done.
        if board.trial.is_none() {
            board.standings = standings(&board.replay, &board.seen);
        }
        let count = board.replay.states().len();
        board.selected = board.selected.filter(|s| *s < count);
    }

    /// Judges how the stages stand after something was looked at. What is only being
    /// tried does not make a stage done.
    pub(super) fn judge(&mut self) {
        if self.board.trial.is_none() {
            self.board.standings = standings(&self.board.replay, &self.board.seen);
        }
    }

    /// Turns to a stage: the one way in. A change being tried that does not belong
    /// there is left, and that is told.
    pub(super) fn go_to(&mut self, stage: Stage) {
        self.board.list_in_front = false;
        if self.board.stage == stage {
            return;
        }
        let from = std::mem::replace(&mut self.board.stage, stage);
        let belongs = self.board.trial.as_ref().is_none_or(|d| {
            let own = stage_of(&d.change);
            // A line and a pinch being tried may be read as sewn before they are accepted.
            let read = stage == Stage::AsSewn
                && matches!(own, Stage::Lines | Stage::Pinch | Stage::Correct);
            own == stage || read
        });
        if !belongs {
            self.leave_untold();
        }
        if (from == Stage::Print) != (stage == Stage::Print) {
            self.table.fit_wanted = true;
        }
    }

    fn set_evening(&mut self, evening: bool) {
        self.board.settings.evening = evening;
        self.board.palette = Palette::of(evening);
        self.dressed = false;
        self.keep_settings();
    }

    /// Lays the mates beside the pieces, or puts them away.
    fn set_mates(&mut self, mates: bool) {
        self.board.settings.mates = mates;
        self.board.lay = laid_out(&self.board.replay, mates);
        self.table.fit_wanted = true;
        self.keep_settings();
    }

    fn set_letters(&mut self, scale: f32) {
        self.board.settings.letters = (scale * 10.0).round().clamp(10.0, 20.0) / 10.0;
        self.dressed = false;
        self.keep_settings();
    }

    fn turn(&mut self, window: Window) {
        match window {
            Window::Help => self.help.turn(),
            Window::Word(word) => self.help.open_at(word),
            Window::About => match &mut self.tracing {
                Some(photo) => photo.about = !photo.about,
                None if self.welcome.is_open() => self.welcome.turn_about(),
                None => self.cards.about = !self.cards.about,
            },
            Window::Settings => self.help.settings = !self.help.settings,
            Window::List => self.board.list_in_front = !self.board.list_in_front,
            Window::Closing => {
                self.board.list_in_front = true;
                self.list.close_fitting(&self.board);
            }
            Window::NewClient => files::opening::new_asking(self),
            Window::Send => self.exchange.send.open(),
            Window::Class => self.exchange.class.open(),
            Window::Journal => self.exchange.give.open(What::Journal),
            Window::HandOn => self.exchange.give.open(What::Project),
        }
    }
}
