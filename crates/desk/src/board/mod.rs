//! What is shared: the project, what it computes to, what is tried and looked at,
//! and how it is shown. Every room reads it; only the desk changes it, by applying
//! requests.

pub(crate) mod asked;
pub(crate) mod filed;
pub(crate) mod lay;
pub(crate) mod legs;
pub(crate) mod lines;
pub(crate) mod next;
pub(crate) mod pinches;
pub(crate) mod places;
pub(crate) mod requests;
pub(crate) mod settings;
pub(crate) mod stage;
pub(crate) mod trial;

use crate::kit::history::History;
use crate::kit::sheet::{SheetStore, Sheets};
use crate::kit::theme::Palette;
use filed::Filed;
use hangtrue_adjust::{Applied, Change, Document, OPEN_ROUND, Replay, StartError};
use hangtrue_files::print::Printed;
use hangtrue_files::project::Held;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::InUnit;
use lay::Lay;
use requests::Notice;
use settings::Settings;
use stage::{STAGES, Seen, Stage, Standing, standings};
use std::cell::RefCell;
use std::path::PathBuf;
use std::sync::Arc;
use trial::Trial;

/// What every room reads.
pub(crate) struct Board {
    pub history: History<Document>,
    pub replay: Replay,
    pub trial: Option<Trial>,
    /// What was done is not computed yet.
    pub dirty: bool,
    pub lay: Lay,
    pub stage: Stage,
    pub standings: [(Stage, Standing); STAGES],
    pub seen: Seen,
    /// The change looked at in the list.
    pub selected: Option<usize>,
    /// Two rounds laid over each other: the older and the newer.
    pub compared: Option<(String, String)>,
    /// The sheets of paper, as they were worked out last.
    pub printed: Option<Arc<Printed>>,
    pub palette: Palette,
    pub settings: Settings,
    pub filed: Filed,
    pub notice: Option<Notice>,
    /// Why unsaved work cannot be kept beside, if it cannot.
    pub unkept: Option<String>,
    /// Where unsaved work is kept beside, if it is.
    pub kept_in: Option<PathBuf>,
    /// The system has no window in which a file is chosen: places are typed.
    pub no_dialogs: bool,
    /// Where list and card share one place: whether the list lies there.
    pub list_in_front: bool,
    /// The day that is written on paper and at rounds.
    pub today: String,
    /// Nobody chose a project yet: what lies here stands in for one behind the welcome.
    pub blank: bool,
    /// Pieces made ready for drawing: worked out once, whoever asks first.
    store: RefCell<SheetStore>,
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
pub(crate) fn laid_out(replay: &Replay, mates: bool) -> Lay {
    let mut lay = replay.start().map(|p| Lay::of(p, mates)).unwrap_or_default();
    if let Ok(current) = replay.current() {
        lay.take_in(current);
    }
    lay
}

impl Board {
    /// Whether nothing was changed yet for what the open fitting's toile shows: what answers
    /// an earlier toile is for what the measures do not say.
    pub fn toile_is_unanswered(&self) -> bool {
        self.replay.toile_is_unanswered(OPEN_ROUND).unwrap_or(false)
    }

    /// A board with a project on it.
    pub fn new(document: Document, held: Option<Held>, settings: Settings) -> Self {
        let replay = Replay::new(document.clone());
        let seen = Seen::default();
        let standings = standings(&replay, &seen);
        Self {
            filed: Filed::new(held, &document),
            history: History::new(document),
            trial: None,
            dirty: false,
            lay: laid_out(&replay, settings.mates),
            stage: next::next_stage(&standings, replay.document(), None).0,
            standings,
            seen,
            selected: None,
            compared: None,
            printed: None,
            palette: Palette::of(settings.evening),
            settings,
            notice: None,
            unkept: None,
            kept_in: None,
            no_dialogs: false,
            blank: false,
            list_in_front: false,
            today: hangtrue_files::today(),
            store: RefCell::default(),
            replay,
        }
    }

    /// The stage that comes next, and why.
    pub fn next(&self) -> (Stage, String) {
        // What is tried is answered first: nothing else can be judged meanwhile.
        if let Some(trial) = &self.trial {
            let stage = stage::stage_of(&trial.change);
            return (stage, "Look at what is tried, then accept or discard it.".into());
        }
        next::next_stage(&self.standings, self.document(), self.seen.causes.as_ref())
    }

    /// The project as it would be saved.
    pub fn document(&self) -> &Document {
        self.history.now()
    }

    pub fn unit(&self) -> Unit {
        if self.blank { self.unit_to_begin() } else { self.document().unit }
    }

    /// The unit a new project is begun with.
    pub fn unit_to_begin(&self) -> Unit {
        self.settings.unit.unwrap_or_else(settings::unit_of_the_place)
    }

    /// Whether the place of a file is typed, not chosen in the system's window.
    pub fn types_places(&self) -> bool {
        self.no_dialogs || self.settings.type_places
    }

    /// Whether there is work that is not in the file.
    pub fn is_unsaved(&self) -> bool {
        !self.blank && self.filed.is_unsaved(self.history.now())
    }

    /// The pieces of a pattern made ready for a scale in points of the screen per mm.
    pub fn sheets(&self, pattern: &Arc<Pattern>, scale: f64) -> Arc<Sheets> {
        self.store.borrow_mut().get(pattern, scale)
    }

    /// The index of the change being tried in the document it is laid into.
    pub fn trial_index(&self) -> Option<usize> {
        Some(self.trial.as_ref()?.index_in(self.document()))
    }

    /// The pattern the change being tried is made on.
    pub fn trial_base(&self) -> Option<Arc<Pattern>> {
        self.replay.after(self.trial_index()?).ok().cloned()
    }

    /// The pattern with the change being tried, once it is made as it stands.
    pub fn trial_made(&self) -> Option<Arc<Pattern>> {
        let state = self.replay.states().get(self.trial_index()?)?;
        let made = !self.dirty && matches!(state.applied, Applied::Done(_));
        made.then(|| state.pattern.clone())
    }

    /// Why the change being tried cannot be accepted, if it cannot.
    pub fn trial_fault(&self) -> Option<String> {
        match self.replay.states().get(self.trial_index()?).map(|s| &s.applied) {
            Some(Applied::Failed(why)) => Some(why.in_unit(self.unit())),
            _ => None,
        }
    }

    /// What the change being tried takes of the ease where that is more than a third: said
    /// beside Accept, before it is done.
    fn trial_costs(&self) -> String {
        let state = self.trial_index().and_then(|at| self.replay.states().get(at));
        let Some(Applied::Done(effect)) = state.map(|s| &s.applied) else {
            return String::new();
        };
        let much = effect.costs.iter().filter(|c| c.takes_much());
        let said: Vec<String> = much.map(|c| c.short().in_unit(self.unit())).collect();
        if said.is_empty() {
            return String::new();
        }
        let small = effect.costs.iter().any(hangtrue_adjust::Cost::is_too_small);
        let body = if small {
            " Smaller than the body: cloth that does not stretch will not go on."
        } else {
            ""
        };
        format!(" More than a third of the ease goes: {}.{body}", said.join(", "))
    }

    /// What lies on the table now.
    pub fn shown(&self) -> Result<Shown, StartError> {
        let after = |n: usize| self.replay.after(n).cloned();
        if let Some(trial) = &self.trial {
            let at = trial.index_in(self.history.now());
            // A line moves no paper: it is looked at among all that was done since.
            if matches!(trial.change, Change::MarkLine(_) | Change::EraseLine(_)) {
                let banner = Some(format!("Trying “{}”: not accepted yet.", trial.name));
                return Ok(Shown { new: self.replay.current()?.clone(), old: None, banner });
            }
            let old = Some((after(at)?, "before this change".into()));
            let costs = self.trial_costs();
            let banner = Some(format!("Trying “{}”: not accepted yet.{costs}", trial.name));
            return Ok(Shown { new: after(at + 1)?, old, banner });
        }
        if let Some((old_name, new_name)) = &self.compared {
            let find = |name: &str| self.replay.round(name).cloned().ok();
            if let (Some(old), Some(new)) = (find(old_name), find(new_name)) {
                let banner = format!("Comparing: “{new_name}” over “{old_name}” (dashed line).");
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
}

impl From<&Board> for Palette {
    fn from(board: &Board) -> Self {
        board.palette
    }
}
