//! What comes next, and why: it follows from what was written down of the toile and from
//! what that may mean, once that was shown.

use super::stage::{STAGES, Stage, Standing, work};
use hangtrue_adjust::reading::Looked;
use hangtrue_adjust::{Change, Document, OPEN_ROUND, RoundDroop, RoundPhoto};

/// What was written down of the toile that is worn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Written {
    droops: Vec<RoundDroop>,
    marked: Vec<RoundPhoto>,
    signs: Vec<Looked>,
}

impl Written {
    pub fn of(document: &Document) -> Self {
        let journal = &document.journal;
        let marked = journal.photos_of(OPEN_ROUND).filter(|p| p.marks.is_some());
        Self {
            droops: journal.droops.iter().filter(|d| d.round == OPEN_ROUND).cloned().collect(),
            marked: marked.cloned().collect(),
            signs: journal.signs_of(OPEN_ROUND),
        }
    }

    fn is_empty(&self) -> bool {
        self.droops.is_empty() && self.marked.is_empty() && self.signs.is_empty()
    }
}

/// What the lines that were written down may mean, as it was shown.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Causes {
    pub of: Written,
    pub say: Say,
}

/// What they say at most.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Say {
    /// Something has to be settled before any line is believed.
    First { cause: String },
    /// A cause fits best, with a change to try unless there is none.
    Cause { cause: String, change: Option<String> },
    /// Causes stand side by side with nothing at all: none is surely so.
    Open,
    /// Lines are off, and no cause that is known fits.
    Unknown,
    /// Too little of the lines was measured to say.
    Partly,
    /// Nothing is off by more than its ±, which is so wide that a usual fault would hide
    /// in it; working out how the toile hangs makes it finer.
    Coarse {
        /// The widest ±, in words.
        widest: String,
    },
    /// Each line hangs as on a toile that fits.
    Fits,
    /// They could not be read.
    Fault,
}

/// How far the toile of this fitting is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Toile<'a> {
    /// Nothing is known of it.
    Unseen,
    /// There are photos, and nothing is marked or measured.
    Photographed,
    /// Lines were written down, and what they may mean was not shown since.
    Unread,
    /// What they may mean was shown, and nothing was done about it.
    Read(&'a Say),
    /// It was pinned, or the pattern was changed for it.
    Answered,
}

impl<'a> Toile<'a> {
    pub fn of(document: &Document, causes: Option<&'a Causes>) -> Self {
        let begin = document.rounds().last().map_or(0, |r| r.1 + 1);
        let mut answers = document.changes.iter().skip(begin).map(|e| &e.change);
        if answers.any(Change::answers_a_toile) || !document.pinned.is_empty() {
            return Self::Answered;
        }
        let written = Written::of(document);
        if written.is_empty() {
            let photos = document.journal.photos_of(OPEN_ROUND).next().is_some();
            return if photos { Self::Photographed } else { Self::Unseen };
        }
        match causes.filter(|c| c.of == written) {
            Some(causes) => Self::Read(&causes.say),
            None => Self::Unread,
        }
    }

    /// Whether nothing is left to do about it but what is seen on the body.
    pub fn is_done(&self) -> bool {
        matches!(self, Self::Answered | Self::Read(Say::Fits))
    }

    /// What is to be done about it, and why.
    fn sentence(&self) -> Option<String> {
        Some(match self {
            Self::Unseen | Self::Answered | Self::Read(Say::Fits) => return None,
            Self::Photographed => {
                "Mark the lines on the photo, or write down by ruler how they hang.".into()
            }
            Self::Unread => "Look what the lines you wrote down may mean.".into(),
            Self::Read(Say::First { cause }) => format!(
                "First “{cause}”: do what stands there, look again and measure the lines anew."
            ),
            Self::Read(Say::Cause { cause, change: Some(change) }) => format!(
                "What you measured fits “{cause}” best. Try its change ({change}), or pin what you see."
            ),
            Self::Read(Say::Cause { cause, change: None }) => format!(
                "What you measured fits “{cause}” best. Its change cannot be taken as it stands, or there is none: see its notes."
            ),
            Self::Read(Say::Open) => {
                "What was measured names no cause: its ± is too wide to tell several apart, or from nothing at all. See which stand side by side, look for their signs, and pin what you see.".into()
            }
            Self::Read(Say::Unknown) => {
                "Lines are off, and what was measured names no cause: measure what the card asks for, look at the cloth there and pin what you see.".into()
            }
            Self::Read(Say::Partly) => {
                "What was measured is off nowhere, but it is too little to say that the toile fits: measure more.".into()
            }
            Self::Read(Say::Coarse { widest }) => format!(
                "Nothing is surely off, but what is less than ± {widest} cannot be told yet. “Work out how it hangs”, at Toile, mostly makes that finer; or pin what you see."
            ),
            Self::Read(Say::Fault) => {
                "What was written down cannot be read as it stands: see why.".into()
            }
        })
    }
}

/// Whether a stage is to be turned to yet.
fn is_left(standing: &Standing) -> bool {
    matches!(standing, Standing::Next | Standing::Stale(_))
}

/// Whether nothing of the open fitting is left to do.
pub(crate) fn fitting_is_done(standings: &[(Stage, Standing); STAGES]) -> bool {
    !standings.iter().any(|s| is_left(&s.1))
}

/// The stage to turn to, and why: the first of the work that is left, printing for a
/// toile that is still to be read never left out; Print when all is done.
pub(crate) fn next_stage(
    standings: &[(Stage, Standing); STAGES],
    document: &Document,
    causes: Option<&Causes>,
) -> (Stage, String) {
    let toile = Toile::of(document, causes);
    let of = |stage: Stage| standings.iter().find(|s| s.0 == stage);
    let mut left = work(toile != Toile::Unseen).into_iter().filter_map(of);
    let next = left.find(|s| is_left(&s.1));
    let Some((stage, standing)) = next else {
        let done = "This fitting is done: close it, then cut and sew the next toile.";
        return (Stage::Print, done.into());
    };
    let words = match (stage, standing) {
        (_, Standing::Stale(why)) => why.clone(),
        (Stage::Toile, _) => toile.sentence().unwrap_or_else(|| stage.to_do().to_owned()),
        (Stage::Pinch, _) => document.pinned.first().map_or_else(
            || stage.to_do().to_owned(),
            |p| format!("Take up “{}”, which was measured on the toile.", p.name),
        ),
        (Stage::Walk, _) => {
            "Every seam, corner and dart matches by calculation. Look at them yourself, then press “I looked at these seams”.".into()
        }
        (Stage::Print, _) if document.rounds().next().is_some() => {
            "Print the pattern for the next toile. Where the last one fits, choose the allowances “finished” here: the pair itself is cut then.".into()
        }
        _ => stage.to_do().to_owned(),
    };
    (*stage, words)
}
