//! The reading: from how the marked lines hang on the worn toile to what that may
//! mean, with the arithmetic shown and a change to try. Proposals, never
//! certainty: they are ranked by how well the lines bear them out.

mod droop;
mod lay;
mod left_over;
mod offer;
mod open;
mod rule;
mod settled_home;
mod sign;
mod together;
mod value;

pub use droop::sorted as checked_droops;
pub use droop::{Droop, DroopError, HangLine, MOST_DROOP, PieceView, SAME_PLACE};
pub use hangtrue_pattern::Leg;
pub use left_over::{LineRead, Says, Split, place_words};
pub use offer::{Offer, offers};
pub use open::Open;
pub use rule::{Answer, Condition, Hanging, LooksAlike, Rule, RuleError, RuleTable, UsualMethod};
pub use settled_home::{SettledHome, SettledPlace};
pub use sign::{Looked, Pointer, SeenFrom, Sign};
pub use together::ReadTogether;
pub use value::Value;

use crate::Change;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{Unit, show_length, show_margin};
use hangtrue_pattern::words::capital;
use left_over::Homes;
use serde::Serialize;
use together::Margins;
use value::{Sum, Toile, with_error};

impl Meaning {
    /// What the change is called before it is told.
    pub fn change_heading(&self) -> &'static str {
        match (self.waits, self.sure) {
            (true, _) => "Only if it hangs so still after what comes first",
            (false, true) => "Change to try",
            (false, false) => "Only if you see it on the toile",
        }
    }
}

/// What a rule says of the toile.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Meaning {
    /// The rule.
    pub rule: String,
    /// How well the lines bear it out beside the others, 0 to 1; never certainty.
    pub fit: f64,
    /// How much, mm.
    pub amount: f64,
    /// ± mm of the amount, from the ± of the droops and of how lines hang at home.
    pub error: f64,
    /// Whether what was measured is more than its ±. What is not may as well be nothing.
    pub sure: bool,
    /// It comes before every other cause until this sign is there.
    pub until: Option<Sign>,
    /// Whether another comes first, after which the lines are read anew.
    pub waits: bool,
    /// The legs that show it.
    pub legs: Vec<Leg>,
    /// What it may mean and how much, in words.
    pub words: String,
    /// The arithmetic, a line a leg.
    pub arithmetic: Vec<String>,
    /// What the signs that were looked for say of it, and which to look for still.
    pub signs: Vec<String>,
    /// Remarks: one leg only, a change that cannot be made as it stands.
    pub notes: Vec<String>,
    /// Other causes that look the same, and what tells them apart.
    pub looks_alike: Vec<LooksAlike>,
    /// What cannot be told from the lines here.
    pub cannot_know: String,
    /// Where the rule comes from.
    pub source: String,
    /// What has to be done before the change to try: parting left and right.
    #[serde(skip)]
    pub first: Option<Change>,
    /// The change laid ready; none when there is nothing to do on the paper yet,
    /// and the notes say why.
    #[serde(skip)]
    pub change: Option<Change>,
    /// The change in words.
    pub change_words: Option<String>,
    /// Whether the change can be made as it stands; else the notes say why not.
    pub can_be_made: bool,
}

/// The reading of a toile.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToileReading {
    /// The lines that were read: as measured, of that at home, left over.
    pub lines: Vec<LineRead>,
    /// Measures that cannot both be right.
    pub doubts: Vec<String>,
    /// What it may mean: what is to be settled before any other, then what is more than its ±,
    /// and what fits best.
    pub meanings: Vec<Meaning>,
    /// What stands side by side, when nothing of it is surely so: what was measured neither
    /// bears it out nor rules it out. Empty when a cause is surely named.
    pub open: Vec<Open>,
    /// What was looked for besides the lines.
    pub signs: Vec<Looked>,
    /// What a sign that was seen points to, where the lines that would tell were not read.
    pub pointed_at: Vec<String>,
    /// What was not judged, and for want of which line.
    pub not_judged: Vec<String>,
    /// What no photo tells.
    pub cannot_know: Vec<String>,
}

impl ToileReading {
    /// What has to be there before anything but the first meaning is worth a change.
    pub fn waits_for(&self) -> Option<Sign> {
        self.meanings.first().and_then(|m| m.until)
    }

    /// What may be said when no rule is borne out: which lines are off and by how
    /// much, or that the lines hang as they should, and which those are.
    pub fn nothing_proposed(&self, unit: Unit) -> Vec<String> {
        let off = || self.lines.iter().filter(|l| matches!(l.says, Says::Off(_)));
        let part = || self.lines.iter().filter(|l| l.says == Says::Partly);
        let mut said = Vec::new();
        let seen: Vec<String> =
            self.signs.iter().filter(|l| l.is_a_fault()).map(Looked::words).collect();
        if !seen.is_empty() {
            said.push(format!(
                "You saw: {}. No rule can say from that alone what to change.",
                seen.join(", ")
            ));
        }
        if self.lines.is_empty() {
            said.push("No line was measured, so nothing is said of how they hang.".into());
        } else if off().next().is_some() {
            let enough = self.not_judged.is_empty();
            said.push(if enough {
                "No rule fits what was measured, but the lines do not hang as they should:".into()
            } else {
                "The lines do not hang as they should, and what was measured is not enough to name a cause:".into()
            });
            said.extend(LineRead::words_of_all(off(), unit));
            said.extend(self.not_judged.iter().take(ASKED_FIRST).cloned());
            said.push("Look at the cloth there, and pin what you see.".into());
        } else if part().next().is_some() {
            said.push("No rule fits what was measured, and nothing is off where it was read. That is not the whole toile:".into());
            said.extend(LineRead::words_of_all(part(), unit));
        } else {
            let mut lines: Vec<String> = self
                .lines
                .iter()
                .map(|l| format!("{} {}", l.view.piece(), l.line.name()))
                .collect();
            lines.dedup();
            let widest =
                self.lines.iter().flat_map(|l| &l.places).fold(0.0, |a: f64, p| a.max(p.error));
            said.push(format!(
                "Nothing is surely off in the lines that were read ({}): each hangs as on a toile that fits, within its ±. What is less than that, {} at the widest, cannot be told.",
                lines.join(", "),
                show_margin(widest, unit)
            ));
            if !self.signs.iter().any(|l| l.sign.is_a_fault()) {
                said.push("Whether folds or drag lines show was not written down.".into());
            }
        }
        said
    }
}

/// So many of the lines that are still to be measured are asked for at once.
const ASKED_FIRST: usize = 2;

/// A rule borne out less than this is not named.
pub const LEAST_FIT: f64 = 0.25;

/// The same of a cause whose amount is less than its ±: less likely than not, it is not worth
/// a word (memory).
const LEAST_FIT_UNSURE: f64 = 0.45;

/// What shows on one leg and not on the other is believed this much less (memory).
const ONE_LEG: f64 = 0.7;

/// What was written down of a toile.
#[derive(Debug, Clone, Copy, Default)]
pub struct Observed<'a> {
    /// How far lines hang, where they were measured.
    pub droops: &'a [Droop],
    /// Signs that were looked for; one that is not named was not.
    pub signs: &'a [Looked],
    /// How lines hang on a toile that fits, where one was settled on the body; a line that
    /// is not among them goes by the closed form.
    pub homes: &'a [SettledHome],
    /// What the droops of one photo are unsure of together; droops that are not among them
    /// were measured one by one.
    pub together: &'a [ReadTogether],
}

impl<'a> From<&'a [Droop]> for Observed<'a> {
    fn from(droops: &'a [Droop]) -> Self {
        Self { droops, ..Self::default() }
    }
}

impl<'a> From<&'a Vec<Droop>> for Observed<'a> {
    fn from(droops: &'a Vec<Droop>) -> Self {
        droops.as_slice().into()
    }
}

/// Reads what was seen on the toile that was cut from `cut` by the table's rules, and
/// lays the changes on `pattern`, which may have been changed since. The rules look
/// at what is left over when the home shape of each line is taken away, and at signs.
///
/// # Errors
/// [`DroopError`] when a droop is absurd, off its line, or given twice.
pub fn read_toile<'a>(
    observed: impl Into<Observed<'a>>,
    table: &RuleTable,
    cut: &Pattern,
    pattern: &Pattern,
    unit: Unit,
) -> Result<ToileReading, DroopError> {
    let Observed { droops, signs, homes: settled, together } = observed.into();
    let sorted = droop::sorted(droops)?;
    let homes = Homes::of(cut, settled);
    let all = together::with_untold(&sorted, together);
    let left_over = homes.left_over(&all);
    let margins = Margins::of(&all, together);
    let seen = Seen { toile: Toile { places: &left_over, margins: &margins }, signs };
    let mut meanings: Vec<Meaning> =
        table.rules.iter().filter_map(|r| judged(r, &seen, pattern, unit)).collect();
    let rank = |m: &Meaning| (m.until.is_some(), m.sure);
    meanings.sort_by(|a, b| rank(b).cmp(&rank(a)).then(b.fit.total_cmp(&a.fit)));
    let waits = meanings.first().is_some_and(|m| m.until.is_some());
    for meaning in meanings.iter_mut().filter(|m| m.until.is_none()) {
        meaning.waits = waits;
    }
    let surely = meanings.first().is_some_and(|m| m.sure || m.until.is_some());
    Ok(ToileReading {
        lines: homes.lines(&sorted),
        doubts: droop::doubts(&sorted, unit),
        open: if surely { Vec::new() } else { open::open_rules(table, &seen) },
        meanings,
        signs: signs.to_vec(),
        pointed_at: pointed_at(table, &seen),
        not_judged: not_judged(table, &seen),
        cannot_know: table.cannot_know.clone(),
    })
}

/// A place of a line on a leg: the line, from where it is seen, the leg, and the share of
/// the way from the inner end to the side.
pub type LinePlace = (HangLine, PieceView, Leg, f64);

/// How places hang on a toile that fits, mm below the line's place at the side seam, and ±;
/// none where that is not known.
pub fn at_home(
    cut: &Pattern,
    settled: &[SettledHome],
    places: &[LinePlace],
) -> Vec<Option<(f64, f64)>> {
    let homes = Homes::of(cut, settled);
    places.iter().map(|place| homes.at(*place)).collect()
}

/// A droop in words, with + for one that hangs low: `+3/8 in`.
pub fn droop_words(mm: f64, unit: Unit) -> String {
    value::signed(mm, unit)
}

/// What the rules look at.
struct Seen<'a> {
    toile: Toile<'a>,
    signs: &'a [Looked],
}

/// How a rule stands on one leg.
struct Judged {
    leg: Leg,
    fit: f64,
    amount: Sum,
}

fn judged(rule: &Rule, seen: &Seen<'_>, pattern: &Pattern, unit: Unit) -> Option<Meaning> {
    let toile = &seen.toile;
    let is_there = |sign: Sign| seen.signs.iter().any(|l| l.sign == sign && l.seen);
    if rule.until.is_some_and(is_there) {
        return None;
    }
    // What compares the legs is judged once.
    let legs: &[Leg] = if compares(rule) { &[Leg::Left] } else { &Leg::BOTH };
    let read: Vec<Judged> = legs.iter().filter_map(|&leg| on_leg(rule, seen, leg)).collect();
    let showing: Vec<&Judged> = read.iter().filter(|j| j.fit >= LEAST_FIT).collect();
    if showing.is_empty() {
        return None;
    }
    let share = 1.0 / showing.len() as f64;
    let mean = showing.iter().fold(Sum::default(), |sum, j| sum.plus(share, &j.amount));
    let (amount, error) = toile.measure(&mean);
    let mut fit = share * showing.iter().map(|j| j.fit).sum::<f64>();
    let mut notes = Vec::new();
    if !compares(rule) && showing.len() == 1 {
        let leg = showing[0].leg;
        if read.len() == 2 {
            fit *= ONE_LEG;
            notes.push(if matches!(rule.change, Answer::Look(_)) {
                format!("Only the {} leg shows it.", leg.word())
            } else if pattern.is_apart() {
                format!("Only the {} leg shows it: the change is laid on that leg alone.", leg.word())
            } else {
                format!("Only the {} leg shows it. Left and right share a piece: the change goes to both, so take less; or part left and right and read again: then it is laid on that leg alone.", leg.word())
            });
        } else {
            notes.push(format!(
                "Only the {} leg was read; look at the other before both are changed.",
                leg.word()
            ));
        }
    }
    let arithmetic = showing
        .iter()
        .filter_map(|j| {
            let sum = rule.amount.shown(toile, rule.view, j.leg, unit)?;
            let which = if compares(rule) {
                "Both legs".into()
            } else {
                format!("{} leg", capital(j.leg.word()))
            };
            Some(format!("{which}, {}: {sum}", rule.view.piece()))
        })
        .collect();
    let legs: Vec<Leg> =
        if compares(rule) { Leg::BOTH.to_vec() } else { showing.iter().map(|j| j.leg).collect() };
    let laid = lay::change(rule, toile, &legs, amount, pattern, unit);
    notes.extend(laid.notes);
    let sure = matches!(rule.amount, Value::Begin(_)) || amount.abs() > error;
    if !sure && fit < LEAST_FIT_UNSURE {
        return None;
    }
    if !sure {
        notes.insert(0, MAY_BE_NOTHING.into());
    }
    Some(Meaning {
        rule: rule.name.clone(),
        fit,
        amount,
        error,
        sure,
        // What may be nothing holds nothing up.
        until: rule.until.filter(|_| sure),
        waits: false,
        words: match rule.amount {
            Value::Begin(0.0) => rule.means.clone(),
            Value::Begin(_) => format!(
                "{} How much, a sign does not tell: {} is only to begin with.",
                rule.means,
                show_length(amount, unit)
            ),
            _ => format!("{} About {}.", rule.means, with_error(amount, error, unit)),
        },
        legs,
        arithmetic,
        signs: signs_said(rule, seen.signs),
        notes,
        looks_alike: rule.looks_alike.clone(),
        cannot_know: rule.cannot_know.clone(),
        source: rule.source.clone(),
        change_words: laid.change.as_ref().map(|c| match &laid.first {
            Some(first) => format!("{}, then {}", first.words(unit), lower(&c.words(unit))),
            None => c.words(unit),
        }),
        first: laid.first,
        change: laid.change,
        can_be_made: laid.can_be_made,
    })
}

/// Said of a cause whose amount is less than its ±.
const MAY_BE_NOTHING: &str = "It may as well be nothing: the ± is as large as the amount. Before anything is cut, look for its signs, measure again, or work out how this toile hangs on the body: its lines then have a closer home.";

/// What goes by signs alone is believed this much before a sign is weighed (memory).
const BY_SIGN: f64 = 0.3;

/// The rule on a leg; none when a line it needs was not read there, or a rule that goes by
/// signs alone has none.
fn on_leg(rule: &Rule, seen: &Seen<'_>, leg: Leg) -> Option<Judged> {
    let Seen { toile, signs } = seen;
    let mut fit = rule.weight;
    if rule.when.is_empty() {
        if !sign::are_looked_for(&rule.signs, signs) {
            return None;
        }
        // What is not there on this leg may be on the other.
        let there = sign::is_pointed_at(&rule.signs, signs, leg);
        fit *= if there { BY_SIGN } else { 0.0 };
    }
    for condition in &rule.when {
        let (value, margin) = toile.measure_parts(&condition.value().of(toile, rule.view, leg)?);
        fit *= condition.borne_out(value, margin);
    }
    let fit = sign::weighed(fit, &rule.signs, signs, leg);
    Some(Judged { leg, fit, amount: rule.amount.of(toile, rule.view, leg)? })
}

/// What the signs say of a rule, and which to look for.
fn signs_said(rule: &Rule, signs: &[Looked]) -> Vec<String> {
    let said = |p: &Pointer| {
        let sign = p.sign();
        let speaks = if matches!(p, Pointer::For(_)) { "for" } else { "against" };
        match signs.iter().find(|l| l.sign == sign) {
            Some(found) if found.seen => {
                Some(format!("You saw: {}. That speaks {speaks} it.", found.words()))
            }
            Some(_) if matches!(p, Pointer::Against(_)) => None,
            Some(_) => Some(format!("No {} was found, which would speak for it.", sign.name())),
            None => Some(format!(
                "Look for the sign “{}”, which would speak {speaks} it. {}",
                sign.name(),
                sign.looks()
            )),
        }
    };
    rule.signs.iter().filter_map(said).collect()
}

/// Signs that were seen, and the causes they may have of which the lines were not read.
fn pointed_at(table: &RuleTable, seen: &Seen<'_>) -> Vec<String> {
    let of = |found: &Looked| {
        let points = |r: &&Rule| {
            let speaks = r.signs.contains(&Pointer::For(found.sign));
            speaks && Leg::BOTH.iter().all(|&leg| on_leg(r, seen, leg).is_none())
        };
        let rules: Vec<&str> = table.rules.iter().filter(points).map(|r| r.name.as_str()).collect();
        (!rules.is_empty()).then(|| {
            format!(
                "You saw: {}. It may come of: {}. The lines that would tell were not all measured.",
                found.words(),
                rules.join(", ")
            )
        })
    };
    seen.signs.iter().filter(|l| l.is_a_fault()).filter_map(of).collect()
}

fn compares(rule: &Rule) -> bool {
    fn within(value: &Value) -> bool {
        match value {
            Value::LeftLessRight(_) => true,
            Value::Less(a, b) => within(a) || within(b),
            Value::Times(_, a) | Value::Seen(_, a) => within(a),
            _ => false,
        }
    }
    within(&rule.amount) || rule.when.iter().any(|c| within(c.value()))
}

/// The rules that could not be judged on either leg, by the lines they want.
fn not_judged(table: &RuleTable, seen: &Seen<'_>) -> Vec<String> {
    let toile = &seen.toile;
    let mut wanting: Vec<(Vec<String>, Vec<&str>)> = Vec::new();
    for rule in &table.rules {
        let by_sign = rule.when.is_empty();
        if by_sign || Leg::BOTH.iter().any(|&leg| on_leg(rule, seen, leg).is_some()) {
            continue;
        }
        let values = rule.when.iter().map(Condition::value).chain([&rule.amount]);
        let mut missing: Vec<String> = values
            .flat_map(|v| v.needs(rule.view))
            .filter(|(view, line)| !whole_line(toile, *line, *view, compares(rule)))
            .map(|(view, line)| format!("{} {}", view.piece(), line.name()))
            .collect();
        missing.sort();
        missing.dedup();
        match wanting.iter_mut().find(|w| w.0 == missing) {
            Some(w) => w.1.push(&rule.name),
            None => wanting.push((missing, vec![&rule.name])),
        }
    }
    let said = |(lines, rules): (Vec<String>, Vec<&str>)| {
        format!(
            "Measure the {} too, at both ends and in the middle; that would tell of: {}.",
            lines.join(" line and the ") + " line",
            rules.join(", ")
        )
    };
    wanting.into_iter().map(said).collect()
}

/// Whether a line was read at both ends and in the middle, on one leg or on both.
fn whole_line(toile: &Toile<'_>, line: HangLine, view: PieceView, both: bool) -> bool {
    let read = |leg: &Leg| [0.0, 0.5, 1.0].iter().all(|&s| toile.at(line, view, *leg, s).is_some());
    if both { Leg::BOTH.iter().all(read) } else { Leg::BOTH.iter().any(read) }
}

fn lower(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(char::to_lowercase).into_iter().flatten();
    first.chain(letters).collect()
}

#[cfg(test)]
mod tests;

#[cfg(test)]
mod tests_unsure;
