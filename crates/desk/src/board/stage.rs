//! The stages of a round, and which are done, next, or stale.

use super::next::{Causes, Toile};
use hangtrue_adjust::{Applied, Change, Document, Replay, Start, fold_darts, walk_all};
use hangtrue_files::print::print_mark;
use hangtrue_pattern::Pattern;
use std::sync::Arc;

/// How many stages there are.
pub const STAGES: usize = 9;

/// A stage of a round.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Stage {
    /// The body's measures.
    Body,
    /// The block drafted from them.
    Block,
    /// Lines that go to the cloth.
    Lines,
    /// How those lines will read when sewn.
    AsSewn,
    /// Paper for the toile.
    Print,
    /// The toile on the body: photos, how its lines hang, what that may mean.
    Toile,
    /// What was pinned, and the flat change.
    Pinch,
    /// Corrections for the shape of the body.
    Correct,
    /// Seams walked and trued.
    Walk,
}

impl Stage {
    /// All stages in their order.
    pub const ALL: [Self; STAGES] = [
        Self::Body,
        Self::Block,
        Self::Lines,
        Self::AsSewn,
        Self::Print,
        Self::Toile,
        Self::Pinch,
        Self::Correct,
        Self::Walk,
    ];

    /// The word for how the stage stands: a fact of that stage, never more than is true.
    pub fn word(self, standing: &Standing) -> &'static str {
        match (self, standing) {
            (Self::Body, Standing::Done) => "written down",
            (Self::Block, Standing::Done) => "on the table",
            (Self::Lines, Standing::Done) => "marked",
            (Self::AsSewn, Standing::Done) => "shown",
            (Self::Print, Standing::Done) => "PDF saved",
            (Self::Toile, Standing::Done) => "dealt with",
            (Self::Pinch, Standing::Done) => "taken up",
            (Self::Correct, Standing::Done) => "made",
            (Self::Walk, Standing::Done) => "looked at",
            (Self::AsSewn, Standing::Later) => "not shown",
            (Self::Walk, Standing::Later) => "not looked at",
            (Self::Print, Standing::Stale(_)) => "changed since",
            (Self::Walk, Standing::Stale(_)) => "does not match",
            (_, Standing::Stale(_)) => "look again",
            (_, Standing::Next) => "next",
            (_, Standing::Later) => "later",
            (_, Standing::AsNeeded) => "as needed",
        }
    }

    /// Its name on the ribbon.
    pub fn name(self) -> &'static str {
        match self {
            Self::Body => "Body",
            Self::Block => "Block",
            Self::Lines => "Lines",
            Self::AsSewn => "As sewn",
            Self::Toile => "Toile",
            Self::Pinch => "Pinch",
            Self::Correct => "Correct",
            Self::Walk => "Walk seams",
            Self::Print => "Print",
        }
    }

    /// What to do there, in one sentence.
    pub fn to_do(self) -> &'static str {
        match self {
            Self::Body => "Write down the body's measures.",
            Self::Block => "Look at what the block came to, and set the ease.",
            Self::Lines => "Mark the lines that go to the cloth, so the toile can be read.",
            Self::AsSewn => "See how the lines will run once the seams are sewn.",
            Self::Toile => {
                "Sew the toile, try it on, and write down how its lines hang: from photos or by ruler."
            }
            Self::Pinch => "Pin what is too much on the body, and write down what you pinned.",
            Self::Correct => "Change the paper for the shape of the body, without pins.",
            Self::Walk => {
                "Walk each seam: lay one edge along the other as they will be sewn. True what does not meet."
            }
            Self::Print => "Print the pieces at true scale, and mark the toile.",
        }
    }
}

/// The stage where a change is made and edited again.
pub(crate) fn stage_of(change: &Change) -> Stage {
    match change.plain() {
        Change::MarkLine(_) | Change::EraseLine(_) => Stage::Lines,
        Change::Pinch(_) => Stage::Pinch,
        Change::Correct(_) | Change::Style(_) | Change::PartLegs(_) | Change::JoinLegs(_) => {
            Stage::Correct
        }
        Change::Draw(_) => Stage::Block,
        _ => Stage::Walk,
    }
}

/// How a stage stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// Done.
    Done,
    /// The one to do next.
    Next,
    /// Not yet reached.
    Later,
    /// Done only when the body asks for it.
    AsNeeded,
    /// Done before, but no longer true: why.
    Stale(String),
}

/// What was looked at last, to tell what has gone stale since.
#[derive(Debug, Clone, Default)]
pub struct Seen {
    /// The pattern whose lines were read as sewn.
    pub as_sewn: Option<Arc<Pattern>>,
    /// The pattern whose seams the person said to have looked at.
    pub walked: Option<Arc<Pattern>>,
    /// What the lines of the toile may mean.
    pub causes: Option<Causes>,
}

/// The order of the work that is left: as they stand in the row while the toile is
/// still to be read. Once it was, what it asks for comes before the next paper.
pub(crate) fn work(toile_is_worn: bool) -> [Stage; STAGES] {
    if !toile_is_worn {
        return Stage::ALL;
    }
    [
        Stage::Body,
        Stage::Block,
        Stage::Lines,
        Stage::Toile,
        Stage::Pinch,
        Stage::Correct,
        Stage::Walk,
        Stage::AsSewn,
        Stage::Print,
    ]
}

/// How all stages stand.
pub fn standings(replay: &Replay, seen: &Seen) -> [(Stage, Standing); STAGES] {
    let judged = Stage::ALL.map(|stage| (stage, judge(stage, replay, seen)));
    let left = |stage: &Stage| {
        let judged = judged.iter().find(|j| j.0 == *stage);
        judged.is_some_and(|j| matches!(j.1, Judged::Open | Judged::Stale(_)))
    };
    let worn = Toile::of(replay.document(), seen.causes.as_ref()) != Toile::Unseen;
    let first = work(worn).into_iter().find(left);
    judged.map(|(stage, judged)| {
        let standing = match judged {
            Judged::Done => Standing::Done,
            Judged::Stale(why) => Standing::Stale(why),
            Judged::AsNeeded => Standing::AsNeeded,
            Judged::Open if first == Some(stage) => Standing::Next,
            Judged::Open => Standing::Later,
        };
        (stage, standing)
    })
}

#[derive(PartialEq)]
enum Judged {
    Done,
    Open,
    AsNeeded,
    Stale(String),
}

fn judge(stage: Stage, replay: &Replay, seen: &Seen) -> Judged {
    let document = replay.document();
    let pattern = match replay.current() {
        Ok(pattern) => pattern,
        Err(why) => {
            return match stage {
                Stage::Body => Judged::Stale(why.to_string()),
                _ => Judged::Open,
            };
        }
    };
    match stage {
        // Pieces that were brought in have no measures to be written down.
        Stage::Body if matches!(document.start, Start::Pieces(_)) => Judged::AsNeeded,
        Stage::Body | Stage::Block => Judged::Done,
        Stage::Lines => judge_lines(pattern),
        Stage::AsSewn => match &seen.as_sewn {
            None => Judged::Open,
            Some(then) if then.lines == pattern.lines && then.pieces == pattern.pieces => {
                Judged::Done
            }
            Some(_) => {
                Judged::Stale("The pattern changed since its lines were last looked at as sewn: turn there and look.".into())
            }
        },
        Stage::Toile if Toile::of(document, seen.causes.as_ref()).is_done() => Judged::Done,
        Stage::Toile => Judged::Open,
        Stage::Pinch => judge_pinch(document, replay),
        Stage::Correct => judge_made(document, replay, is_correction, Judged::AsNeeded),
        Stage::Walk => judge_walk(pattern, seen),
        Stage::Print => judge_print(document),
    }
}

/// Paper was printed when the project is still as it was printed last.
fn judge_print(document: &Document) -> Judged {
    match &document.printing.printed {
        None => Judged::Open,
        Some(printed) if print_mark(document).as_ref() == Some(printed) => Judged::Done,
        Some(_) => {
            Judged::Stale("The pattern changed since it was printed: print it again.".into())
        }
    }
}

fn judge_lines(pattern: &Pattern) -> Judged {
    if !pattern.lines.iter().any(|l| l.purpose.to_cloth()) {
        return Judged::Open;
    }
    let (placed, unplaced) = pattern.place_lines();
    let stale = placed.iter().find_map(|l| l.stale.clone());
    match stale.or_else(|| unplaced.first().map(ToString::to_string)) {
        None => Judged::Done,
        Some(why) => Judged::Stale(why),
    }
}

/// The first change of this round.
fn round_begin(document: &Document) -> usize {
    document.rounds().last().map_or(0, |r| r.1 + 1)
}

/// A pinch of this round is done; one that could not be made is to be looked at. One
/// that was measured waits to be taken up. Else what the toile says decides: it is told
/// there, and pins are needed only where somebody sees that they are.
fn judge_pinch(document: &Document, replay: &Replay) -> Judged {
    let waits = !document.pinned.is_empty();
    let is_worn = Toile::of(document, None) != Toile::Unseen;
    let none = if is_worn && !waits { Judged::AsNeeded } else { Judged::Open };
    judge_made(document, replay, is_pinch, none)
}

/// How the changes of one kind stand in this round; `none` when there are none.
fn judge_made(
    document: &Document,
    replay: &Replay,
    kind: fn(&Change) -> bool,
    none: Judged,
) -> Judged {
    let mut judged = none;
    let entries = document.changes.iter().zip(replay.states()).skip(round_begin(document));
    for (entry, state) in entries.filter(|(entry, _)| entry.on && kind(&entry.change)) {
        judged = Judged::Done;
        if let Applied::Failed(why) = &state.applied {
            return Judged::Stale(format!("“{}” cannot be made: {why}", entry.name));
        }
    }
    judged
}

/// A pinch, on both legs or one.
pub(crate) fn is_pinch(change: &Change) -> bool {
    matches!(change.plain(), Change::Pinch(_))
}

/// A correction, on both legs or one.
pub(crate) fn is_correction(change: &Change) -> bool {
    matches!(change.plain(), Change::Correct(_))
}

/// That all matches is worked out; that it was looked at is said by who looked.
fn judge_walk(pattern: &Pattern, seen: &Seen) -> Judged {
    match walk_all(pattern) {
        Ok(walked) => {
            let seams = walked.iter().filter(|w| !w.is_true()).count();
            let darts = fold_darts(pattern).iter().filter(|d| !d.is_true).count();
            match seams + darts {
                0 => match &seen.walked {
                    Some(then) if then.pieces == pattern.pieces && then.joins == pattern.joins => {
                        Judged::Done
                    }
                    _ => Judged::Open,
                },
                1 => Judged::Stale("One seam or dart does not match: walk the seams.".into()),
                n => Judged::Stale(format!("{n} seams and darts do not match: walk the seams.")),
            }
        }
        Err(why) => Judged::Stale(why.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::board::next::{Say, Written, next_stage};
    use hangtrue_adjust::reading::{Droop, HangLine, Leg, PieceView};
    use hangtrue_adjust::{CloseRound, OPEN_ROUND, RoundDroop};

    fn next(replay: &Replay, seen: &Seen) -> (Stage, String) {
        next_stage(&standings(replay, seen), replay.document(), seen.causes.as_ref())
    }

    fn stand(replay: &Replay, seen: &Seen, stage: Stage) -> Standing {
        standings(replay, seen).into_iter().find(|s| s.0 == stage).unwrap().1
    }

    /// What comes next follows from what the lines say, and says why; nothing is called
    /// done that was not looked at.
    #[test]
    fn the_next_step_follows_from_what_was_read() {
        let mut document = crate::sample::document();
        document.printing.printed = print_mark(&document);
        let mut replay = Replay::new(document.clone());
        let mut seen = Seen { as_sewn: replay.current().ok().cloned(), ..Seen::default() };
        assert_eq!(next(&replay, &seen).0, Stage::Toile);
        let droop = Droop {
            line: HangLine::Thigh,
            view: PieceView::Back,
            leg: Leg::Left,
            at: 0.5,
            mm: -12.0,
            error: 1.0,
        };
        document.journal.droops.push(RoundDroop { round: OPEN_ROUND.into(), droop });
        replay.update(document.clone());
        let (stage, why) = next(&replay, &seen);
        assert_eq!(stage, Stage::Toile, "what was written down is looked at first");
        assert!(why.contains("may mean"), "{why}");
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Next);
        assert_eq!(stand(&replay, &seen, Stage::Pinch), Standing::AsNeeded);
        let of = Written::of(&document);
        let cause = Say::Cause { cause: "flat seat".into(), change: Some("let out".into()) };
        seen.causes = Some(Causes { of: of.clone(), say: cause });
        let (stage, why) = next(&replay, &seen);
        assert_eq!(stage, Stage::Toile, "never Pinch for a line that lies too high");
        assert!(why.contains("flat seat") && why.contains("let out"), "{why}");
        seen.causes = Some(Causes { of, say: Say::Fits });
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Done);
        assert_eq!(next(&replay, &seen).0, Stage::Walk);
        // Another droop: what was shown before says nothing of it.
        document.journal.droops[0].droop.mm = 12.0;
        replay.update(document);
        assert_eq!(next(&replay, &seen).0, Stage::Toile);
    }

    #[test]
    fn seams_that_match_were_not_looked_at_until_somebody_says_so() {
        let document = crate::sample::document();
        let replay = Replay::new(document);
        let mut seen = Seen::default();
        let walk = stand(&replay, &seen, Stage::Walk);
        assert_eq!((walk.clone(), Stage::Walk.word(&walk)), (Standing::Later, "not looked at"));
        seen.walked = replay.current().ok().cloned();
        assert_eq!(stand(&replay, &seen, Stage::Walk), Standing::Done);
    }

    #[test]
    fn stages_follow_the_work() {
        let mut document = crate::sample::document();
        let mut replay = Replay::new(document.clone());
        let mut seen = Seen::default();
        assert_eq!(stand(&replay, &seen, Stage::Lines), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::AsSewn), Standing::Next);
        seen.as_sewn = Some(replay.current().unwrap().clone());
        assert_eq!(stand(&replay, &seen, Stage::AsSewn), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Print), Standing::Next, "paper comes first");
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Later);
        document.printing.printed = print_mark(&document);
        replay.update(document.clone());
        assert_eq!(stand(&replay, &seen, Stage::Print), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Next);
        assert_eq!(stand(&replay, &seen, Stage::Pinch), Standing::Later);
        let pinch = hangtrue_adjust::Pinch::in_the_middle("p", "back", "thigh", 9.525);
        let [method, ..] = hangtrue_adjust::Method::all(document.unit);
        let change = Change::Pinch(hangtrue_adjust::PinchChange { pinch, method });
        document.push("p", change);
        replay.update(document.clone());
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Pinch), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Correct), Standing::AsNeeded);
        assert!(matches!(stand(&replay, &seen, Stage::AsSewn), Standing::Stale(_)));
        assert!(matches!(stand(&replay, &seen, Stage::Print), Standing::Stale(_)));
        // What the toile asked for comes before the next paper.
        assert_ne!(next(&replay, &seen).0, Stage::Print);
        let close = CloseRound { date: "2026-01-01".into(), note: String::new() };
        document.push("one", Change::CloseRound(close));
        replay.update(document.clone());
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Later, "read it first");
        seen.as_sewn = Some(replay.current().unwrap().clone());
        assert_eq!(next(&replay, &seen).0, Stage::Print, "the pinch moved paper");
        document.printing.printed = print_mark(&document);
        replay.update(document.clone());
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Next, "a new round");
        let correction = hangtrue_adjust::Correction::named("full seat", 6.0).unwrap();
        document.push("seat", Change::Correct(correction));
        replay.update(document);
        assert_eq!(stand(&replay, &seen, Stage::Toile), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Correct), Standing::Done);
        assert_eq!(stand(&replay, &seen, Stage::Pinch), Standing::AsNeeded, "it was answered so");
    }
}
