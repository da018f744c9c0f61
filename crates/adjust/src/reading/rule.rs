//! The rules of the reading, as kept in a table: what must be seen, what it may
//! mean, and the change that would answer it.

use super::droop::{HangLine, PieceView};
use super::sign::{Pointer, Sign};
use super::value::Value;
use crate::corrections::CATALOGUE;
use serde::{Deserialize, Serialize};

/// Something that must be seen on the lines; lengths in mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Condition {
    /// The value lies over this.
    Over(Value, f64),
    /// The value lies under this.
    Under(Value, f64),
    /// The value is level within this, up or down.
    Level(Value, f64),
    /// The value is off by more than this, up or down.
    Off(Value, f64),
}

/// How a pinch of the reading is turned into a flat change to begin with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum UsualMethod {
    /// Off the top of the centre seam, and scoop the crotch curve.
    TopAndScoop,
    /// Slash along the pinch and lap.
    SlashAndLap,
}

/// The change laid ready.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Answer {
    /// A pinch along a line: at each station as much as the line hangs below the
    /// straight between its ends, less what the other line does.
    Pinch {
        /// The line it runs along.
        along: HangLine,
        /// The line above it that hangs level.
        #[serde(default)]
        against: Option<HangLine>,
        /// The method.
        method: UsualMethod,
    },
    /// A correction of the catalogue by the amount.
    Correct(String),
    /// A correction of the leg that hangs higher or lower, by the size of the amount:
    /// for what differs between left and right.
    OneLeg {
        /// Which leg: a plus of the amount says that the left hangs lower.
        leg: Hanging,
        /// The correction.
        correct: String,
        /// Times the size of the amount.
        #[serde(default = "whole")]
        times: f64,
    },
    /// Nothing on the paper yet: what to do instead.
    Look(String),
}

/// Which of the two legs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hanging {
    /// The one whose lines lie higher.
    Higher,
    /// The one whose lines hang lower.
    Lower,
}

impl Hanging {
    /// The leg, when the left one hangs lower by this amount.
    pub fn leg(self, left_lower: f64) -> hangtrue_pattern::Leg {
        use hangtrue_pattern::Leg::{Left, Right};
        match (self, left_lower >= 0.0) {
            (Self::Lower, true) | (Self::Higher, false) => Left,
            _ => Right,
        }
    }
}

/// A rule of the reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// Its name, unique in the table.
    pub name: String,
    /// From where its lines are seen.
    pub view: PieceView,
    /// What must be seen on the lines; all of it. None where a sign alone is enough.
    #[serde(default)]
    pub when: Vec<Condition>,
    /// The signs that speak for it or against it.
    #[serde(default)]
    pub signs: Vec<Pointer>,
    /// It comes before every other cause until this sign is there: what the others go by is
    /// not known sooner. Once it is there the rule has been followed, and is silent.
    #[serde(default)]
    pub until: Option<Sign>,
    /// How much, mm; more is more of what the change says.
    pub amount: Value,
    /// The change laid ready.
    pub change: Answer,
    /// What it may mean, in a sentence.
    pub means: String,
    /// What cannot be told from the lines in this case.
    pub cannot_know: String,
    /// Other causes that look the same on these lines, and what tells them apart.
    #[serde(default)]
    pub looks_alike: Vec<LooksAlike>,
    /// How readily it is believed beside others that fit as well, 0 to 1 (memory).
    #[serde(default = "whole")]
    pub weight: f64,
    /// Where the rule comes from.
    pub source: String,
}

/// Another cause that looks the same on the lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LooksAlike {
    /// The cause.
    pub cause: String,
    /// What it wants, which may be the opposite.
    pub wants: String,
    /// What tells it apart, and where that is said when it is published.
    pub tells: String,
}

impl LooksAlike {
    /// In words.
    pub fn words(&self) -> String {
        format!("It looks the same when {}: that wants {}. {}", self.cause, self.wants, self.tells)
    }
}

fn whole() -> f64 {
    1.0
}

/// The table of rules.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RuleTable {
    /// What no photo tells, said with every reading.
    pub cannot_know: Vec<String>,
    /// The rules.
    pub rules: Vec<Rule>,
}

/// A table that cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("the reading rule “{rule}” {why}")]
pub struct RuleError {
    /// The rule.
    pub rule: String,
    /// What is wrong with it, after its name.
    pub why: String,
}

impl RuleTable {
    /// Checks that every rule can be judged and answered.
    ///
    /// # Errors
    /// [`RuleError`] naming the rule and what is wrong.
    pub fn check(&self) -> Result<(), RuleError> {
        for (index, rule) in self.rules.iter().enumerate() {
            let wrong = |why: String| Err(RuleError { rule: rule.name.clone(), why });
            if self.rules[..index].iter().any(|r| r.name == rule.name) {
                return wrong("stands twice in the table; give one another name".into());
            }
            let by_sign = rule.signs.iter().any(|p| matches!(p, Pointer::For(_)));
            if rule.when.is_empty() && !by_sign {
                return wrong("asks for nothing; say what must be seen under “when”, or a sign that speaks for it under “signs”".into());
            }
            let begins = matches!(rule.amount, Value::Begin(_));
            if begins != rule.when.is_empty() {
                return wrong("must have an amount “Begin(mm)” where it goes by signs alone, and one read off the lines where it goes by lines".into());
            }
            if !(rule.weight > 0.0 && rule.weight <= 1.0) {
                return wrong(format!(
                    "has the weight {}; it lies over 0 and up to 1",
                    rule.weight
                ));
            }
            if rule.source.trim().is_empty() {
                return wrong("names no source; write “common practice, no published source”, “memory” or the book and page".into());
            }
            if let Answer::Correct(name) | Answer::OneLeg { correct: name, .. } = &rule.change
                && !CATALOGUE.iter().any(|l| l.about.name == name)
            {
                return wrong(format!(
                    "asks for the correction “{name}”, which the catalogue does not have"
                ));
            }
        }
        Ok(())
    }
}

impl Condition {
    pub(crate) fn value(&self) -> &Value {
        match self {
            Self::Over(v, _) | Self::Under(v, _) | Self::Level(v, _) | Self::Off(v, _) => v,
        }
    }

    /// How far a measured value bears the condition out: the share of a bell curve
    /// round it, its ± two standard deviations, that lies where it is asked. For a fault
    /// that is its whole ±. That a line is level asks only whether it was read as level: that
    /// its home is not known better speaks neither for a fault elsewhere nor against it.
    pub(crate) fn borne_out(&self, value: f64, margin: Margin) -> f64 {
        // What was read must point there itself: a wide ± alone bears nothing out.
        let points_there = match *self {
            Self::Over(_, limit) => value > POINTS * limit,
            Self::Under(_, limit) => value < POINTS * limit,
            Self::Off(_, limit) => value.abs() > POINTS * limit,
            Self::Level(..) => true,
        };
        if points_there { self.left_open(value, margin) } else { 0.0 }
    }

    /// The same, whether or not what was read points there itself: how far the condition
    /// may hold, as far as is known.
    pub(crate) fn left_open(&self, value: f64, Margin { read, whole }: Margin) -> f64 {
        let error = if matches!(self, Self::Level(..)) { read } else { whole };
        let spread = 0.5 * error.max(LEAST_ERROR);
        let below = |limit: f64| bell((limit - value) / spread);
        match *self {
            Self::Over(_, limit) => 1.0 - below(limit),
            Self::Under(_, limit) => below(limit),
            Self::Level(_, within) => below(within) - below(-within),
            Self::Off(_, limit) => 1.0 - below(limit) + below(-limit),
        }
    }
}

/// ± of a value, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Margin {
    /// Of the measuring alone.
    pub read: f64,
    /// With that of home.
    pub whole: f64,
}

/// A value points to a fault from this share of the fault's limit on (memory).
const POINTS: f64 = 0.5;

/// No line is read better than this, mm.
const LEAST_ERROR: f64 = 0.5;

/// The share of a bell curve that lies below so many standard deviations, by the
/// logistic curve nearest to it (within 0.01; memory).
fn bell(deviations: f64) -> f64 {
    1.0 / (1.0 + (-1.702 * deviations).exp())
}
