//! Computing a document: every change applied in order, and only what follows an
//! edit computed again.

use crate::{
    Change, ChangeError, Compared, Cost, Document, OPEN_ROUND, Outcome, Residue, Start, TODAY,
    TODAYS_PATTERN,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::block::{self, DraftError, DraftReport};
use hangtrue_pattern::words::Words;
use std::sync::Arc;

/// What became of one change.
#[derive(Debug, Clone, PartialEq)]
pub enum Applied {
    /// It is in force.
    Done(Effect),
    /// It is switched off; the pattern passes through.
    Off,
    /// It could not be made; the pattern passes through unchanged.
    Failed(ChangeError),
}

/// What a change did, without the pattern.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Effect {
    /// Promised measures.
    pub kept: Vec<Compared>,
    /// Changed measures.
    pub changed: Vec<Compared>,
    /// What the paper cannot hold.
    pub residue: Vec<Residue>,
    /// What it costs round the body.
    pub costs: Vec<Cost>,
    /// Remarks.
    pub notes: Vec<Words>,
}

/// The pattern after a change, and what became of the change.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// The pattern.
    pub pattern: Arc<Pattern>,
    /// What became of the change.
    pub applied: Applied,
}

/// What a document starts from.
#[derive(Debug, Clone)]
struct Started {
    pattern: Arc<Pattern>,
    report: Option<DraftReport>,
}

/// A document with every state computed. Invariant: `states[i]` is what
/// `document.changes[i]` gives on the state before it.
///
/// ```
/// use hangtrue_adjust::{Change, Correction, Document, Replay};
/// use hangtrue_pattern::{Measure, Measures, Plan, names, units::Unit};
///
/// // A body of our own invention, mm.
/// let mut body = Measures::new();
/// for (measure, mm) in [
///     (Measure::WaistGirth, 740.0),
///     (Measure::HipGirth, 990.0),
///     (Measure::WaistHeight, 1040.0),
///     (Measure::InsideLegHeight, 775.0),
///     (Measure::CrotchLength, 690.0),
/// ] {
///     body.set(measure, mm);
/// }
/// let mut document =
///     Document::from_measures("Trousers", "", Unit::Mm, body, Plan::default());
/// let longer = Correction::named("leg length below the knee", 20.0)?;
/// document.push("longer", Change::Correct(longer));
/// let replay = Replay::new(document);
/// let inseam = |pattern: &hangtrue_pattern::Pattern| {
///     Ok::<_, hangtrue_pattern::PatternError>(
///         pattern.piece(names::BACK)?.seam(names::INSEAM)?.sewn_length(),
///     )
/// };
/// let (before, after) = (inseam(replay.start()?)?, inseam(replay.current()?)?);
/// assert!(after > before + 19.0);
/// // A change that is switched off lets the pattern through as it was.
/// let mut document = replay.document().clone();
/// document.changes[0].on = false;
/// assert_eq!(inseam(Replay::new(document).current()?)?, before);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Replay {
    document: Document,
    start: Result<Started, StartError>,
    states: Vec<State>,
}

/// Why a document has no pattern to start with.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StartError {
    /// The block cannot be drafted.
    #[error("the block cannot be drafted: {0}")]
    Draft(#[from] DraftError),
    /// The starting pieces are faulty.
    #[error("the starting pieces are not sound: {0}")]
    Pieces(#[from] hangtrue_pattern::PatternError),
}

impl Replay {
    /// Computes the whole document.
    pub fn new(document: Document) -> Self {
        let start = start_pattern(&document.start);
        let mut replay = Self { document, start, states: Vec::new() };
        replay.compute_from(0);
        replay
    }

    /// Takes an edited document and computes again only what follows the first
    /// difference.
    pub fn update(&mut self, document: Document) {
        let same_start = document.start == self.document.start;
        let same = |(a, b): &(&crate::Entry, &crate::Entry)| a.change == b.change && a.on == b.on;
        let common = document.changes.iter().zip(&self.document.changes).take_while(same).count();
        self.document = document;
        if !same_start {
            self.start = start_pattern(&self.document.start);
        }
        self.compute_from(if same_start { common } else { 0 });
    }

    fn compute_from(&mut self, first: usize) {
        self.states.truncate(first);
        let Ok(start) = &self.start else { return };
        let mut pattern =
            self.states.last().map_or_else(|| start.pattern.clone(), |s| s.pattern.clone());
        for entry in &self.document.changes[self.states.len()..] {
            let applied = if !entry.on {
                Applied::Off
            } else if matches!(entry.change, Change::CloseRound(_)) {
                // The pattern passes through as it is: not even its frame is copied.
                Applied::Done(Effect::default())
            } else {
                match entry.change.apply_for(&pattern, self.document.body()) {
                    Ok(Outcome { pattern: new, kept, changed, residue, costs, notes }) => {
                        pattern = Arc::new(new);
                        Applied::Done(Effect { kept, changed, residue, costs, notes })
                    }
                    Err(why) => Applied::Failed(why),
                }
            };
            self.states.push(State { pattern: pattern.clone(), applied });
        }
    }

    /// The document.
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// The starting pattern.
    ///
    /// # Errors
    /// [`StartError`] when the document cannot start.
    pub fn start(&self) -> Result<&Arc<Pattern>, StartError> {
        self.start.as_ref().map(|s| &s.pattern).map_err(Clone::clone)
    }

    /// What the drafted block was asked for and came to; none for traced pieces.
    pub fn draft_report(&self) -> Option<&DraftReport> {
        self.start.as_ref().ok().and_then(|s| s.report.as_ref())
    }

    /// The state after every change, in order.
    pub fn states(&self) -> &[State] {
        &self.states
    }

    /// The pattern after the first `count` changes.
    ///
    /// # Errors
    /// [`StartError`] when the document cannot start.
    pub fn after(&self, count: usize) -> Result<&Arc<Pattern>, StartError> {
        match count.min(self.states.len()).checked_sub(1) {
            None => self.start(),
            Some(last) => {
                self.start()?;
                Ok(&self.states[last].pattern)
            }
        }
    }

    /// The pattern after all changes.
    ///
    /// # Errors
    /// [`StartError`] when the document cannot start.
    pub fn current(&self) -> Result<&Arc<Pattern>, StartError> {
        self.after(self.states.len())
    }

    /// The pattern as it was when the round of that name was closed; "start" is
    /// the starting pattern and "now" the current one.
    ///
    /// # Errors
    /// [`ChangeError::Unknown`] with the rounds there are, or the start's fault
    /// in words.
    pub fn round(&self, name: &str) -> Result<&Arc<Pattern>, ChangeError> {
        let found = match name {
            "start" => Some(0),
            OPEN_ROUND | TODAYS_PATTERN => Some(self.states.len()),
            _ => {
                let closed = self.document.rounds().find(|r| r.0 == name).map(|r| r.1 + 1);
                closed.or((name == TODAY).then_some(self.states.len()))
            }
        };
        let unknown = || {
            let mut known: Vec<&str> = vec!["start"];
            known.extend(self.document.rounds().map(|r| r.0));
            known.push(TODAY);
            ChangeError::Unknown { kind: "fitting", name: name.to_owned(), known: known.join(", ") }
        };
        let count = found.ok_or_else(unknown)?;
        self.after(count).map_err(|_| unknown())
    }

    /// The pattern the toile that is worn in a round was cut from: as it stood before
    /// the first pinch or correction of that round, because these answer what was
    /// read from it.
    ///
    /// # Errors
    /// As [`Self::round`].
    pub fn toile(&self, round: &str) -> Result<&Arc<Pattern>, ChangeError> {
        let whole = self.round(round)?;
        let (begin, end) = self.changes_of(round);
        let answer =
            self.document.changes[begin..end].iter().position(|e| e.change.answers_a_toile());
        Ok(answer.and_then(|at| self.after(begin + at).ok()).unwrap_or(whole))
    }

    /// Where the changes of a round begin, and where they end.
    fn changes_of(&self, round: &str) -> (usize, usize) {
        let rounds = || self.document.rounds();
        let end = rounds().find(|r| r.0 == round).map_or(self.document.changes.len(), |r| r.1);
        let begin = rounds().map(|r| r.1 + 1).filter(|b| *b <= end).max();
        (begin.unwrap_or(0), end)
    }

    /// Whether no toile was answered yet in what the toile of a round was cut from. Only then
    /// does the body of the measures tell how its lines hang on a toile that fits: a change
    /// that answers a toile is for what the measures do not say, and on their body alone it
    /// would look like a fault.
    ///
    /// # Errors
    /// As [`Self::round`].
    pub fn toile_is_unanswered(&self, round: &str) -> Result<bool, ChangeError> {
        self.round(round)?;
        let (begin, _) = self.changes_of(round);
        let earlier = self.document.changes.iter().zip(&self.states).take(begin);
        let mut made = earlier.filter(|(_, s)| matches!(s.applied, Applied::Done(_)));
        Ok(!made.any(|(e, _)| e.change.answers_a_toile()))
    }

    /// The changes that could not be made: index, name, reason.
    pub fn failures(&self) -> impl Iterator<Item = (usize, &str, &ChangeError)> {
        self.states.iter().zip(&self.document.changes).enumerate().filter_map(
            |(i, (s, e))| match &s.applied {
                Applied::Failed(why) => Some((i, e.name.as_str(), why)),
                _ => None,
            },
        )
    }
}

fn start_pattern(start: &Start) -> Result<Started, StartError> {
    let (mut pattern, report) = match start {
        Start::Block { measures, plan } => {
            let draft = block::draft(measures, plan)?;
            (draft.pattern, Some(draft.report))
        }
        Start::Pieces(pattern) => (pattern.clone(), None),
    };
    pattern.check()?;
    pattern.remember_lines();
    Ok(Started { pattern: Arc::new(pattern), report })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Method, Pinch, PinchChange, sample};
    use hangtrue_pattern::names::*;
    use proptest::prelude::*;

    fn document(amounts: &[f64]) -> Document {
        let mut document = Document {
            title: "sample".into(),
            client: "nobody".into(),
            unit: Default::default(),
            start: Start::Pieces(sample::pattern()),
            pinned: vec![],
            changes: vec![],
            journal: crate::Journal::default(),
            printing: Default::default(),
            cutting: Default::default(),
            lays: Default::default(),
            figure: Default::default(),
        };
        for &amount in amounts {
            let method = Method::TopAndScoop(Default::default());
            let pinch = Pinch::in_the_middle("seat", BACK, THIGH, amount);
            document.push("seat", Change::Pinch(PinchChange { pinch, method }));
        }
        document
    }

    #[test]
    fn a_failed_change_lets_the_pattern_through_and_says_why() {
        let replay = Replay::new(document(&[3.0, 500.0, 2.0]));
        assert_eq!(replay.failures().count(), 1);
        assert_eq!(replay.states()[0].pattern, replay.states()[1].pattern);
        assert!(matches!(replay.states()[2].applied, Applied::Done(_)));
    }

    #[test]
    fn the_toile_of_a_round_was_cut_before_its_answers() {
        let close = || Change::CloseRound(crate::CloseRound { date: "x".into(), note: "".into() });
        let mut all = document(&[3.0]);
        all.push("one", close());
        let pinched = document(&[4.0]).changes.remove(0).change;
        all.push("second", pinched);
        all.push("two", close());
        let replay = Replay::new(all);
        let after = |n| replay.after(n).unwrap().clone();
        assert_eq!(*replay.toile("one").unwrap(), after(0));
        assert_eq!(*replay.toile("two").unwrap(), after(2));
        assert_eq!(*replay.toile(crate::OPEN_ROUND).unwrap(), after(4));
        assert!(replay.toile("never").is_err());
        assert_eq!(replay.toile_is_unanswered("one"), Ok(true));
        assert_eq!(replay.toile_is_unanswered("two"), Ok(false));
        assert!(replay.toile_is_unanswered("never").is_err());
    }

    #[test]
    fn states_share_what_a_change_leaves_alone() {
        let mut all = document(&[]);
        let mut line = sample::pattern().lines[0].clone();
        line.name = "another".into();
        let other = line.name.clone();
        all.push("line", Change::MarkLine(crate::MarkLine { line }));
        let close = crate::CloseRound { date: "x".into(), note: String::new() };
        all.push("one", Change::CloseRound(close));
        let seat = document(&[3.0]).changes.remove(0).change;
        all.push("seat", seat);
        let replay = Replay::new(all);
        assert_eq!(replay.failures().count(), 0);
        let after = |n| replay.after(n).unwrap();
        // A line copies no piece, no join, and no other line.
        let (before, marked) = (after(0), after(1));
        assert!(before.pieces.iter().zip(&marked.pieces).all(|(a, b)| a.is_same(b)));
        assert!(before.joins.is_same(&marked.joins));
        assert!(before.lines.shared().zip(marked.lines.shared()).all(|(a, b)| a.is_same(b)));
        assert_eq!(marked.lines.len(), before.lines.len() + 1);
        // A closed round copies nothing.
        assert!(Arc::ptr_eq(marked, after(2)));
        // A pinch on the back leaves the new line's seams or moves it; either way it
        // lies as if all were placed anew.
        let mut anew = (**after(3)).clone();
        anew.remember_lines();
        assert_eq!(anew, **after(3));
        assert!(after(3).line(&marked.lines[0].piece, &other).is_ok());
    }

    #[test]
    fn names_stay_unique() {
        let names: Vec<String> =
            document(&[1.0, 1.0, 1.0]).changes.into_iter().map(|e| e.name).collect();
        assert_eq!(names, ["seat", "seat 2", "seat 3"]);
    }

    #[test]
    fn a_document_reads_back_from_ron() {
        let document = document(&[3.0, -2.0]);
        let text = crate::ron_text::written(&document).unwrap();
        assert_eq!(crate::ron_text::read::<Document>(&text).unwrap(), document);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        #[test]
        fn an_incremental_update_equals_a_fresh_computation(
            before in proptest::collection::vec(-4.0f64..6.0, 1..5),
            edit in 0usize..5, amount in -4.0f64..6.0, off in any::<bool>(),
        ) {
            let mut replay = Replay::new(document(&before));
            let mut edited = document(&before);
            let at = edit % edited.changes.len();
            if let Change::Pinch(p) = &mut edited.changes[at].change {
                p.pinch.stations[0].amount = amount;
            }
            edited.changes[at].on = off;
            replay.update(edited.clone());
            let fresh = Replay::new(edited);
            prop_assert_eq!(replay.states(), fresh.states());
            // Undo by construction: the old document gives the old states.
            replay.update(document(&before));
            let again = Replay::new(document(&before));
            prop_assert_eq!(replay.states(), again.states());
        }
    }
}
