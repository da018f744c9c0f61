//! A change: one small value in a document's ordered list.

use crate::cost::costs;
use crate::notches_on_cloth;
use crate::on_cloth::{drawn_in, taken_out};
use crate::one_leg::{Named, on_named_legs};
use crate::{
    BringIn, ChangeError, Correction, Distribute, Draw, EraseLine, JoinLegs, LaidPinch, MarkLine,
    OneLeg, Outcome, PartLegs, Pinch, SlashAndLap, Style, TopAndScoop, TrueCorner, TrueDart,
    TrueLength, distribute, slash_and_lap, top_and_scoop,
};
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::{Leg, Pattern, names};
use serde::{Deserialize, Serialize};

/// How a pinch is turned into a flat change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Method {
    /// Slash along the pinch and lap.
    SlashAndLap(SlashAndLap),
    /// Off the top of the centre seam, and scoop the crotch curve.
    TopAndScoop(TopAndScoop),
    /// An even strip across the whole piece.
    Distribute(Distribute),
}

impl Method {
    /// The method's name.
    pub fn name(&self) -> &'static str {
        match self {
            Self::SlashAndLap(_) => "slash and lap",
            Self::TopAndScoop(_) => "top and scoop",
            Self::Distribute(_) => "even strip",
        }
    }

    /// What it does to the paper, in a sentence; the opposite where cloth is let out.
    pub fn in_a_sentence(&self, lets_out: bool) -> &'static str {
        match (self, lets_out) {
            (Self::SlashAndLap(_), false) => {
                "Cut the paper along the pins and lap the edges: most where most was pinned."
            }
            (Self::SlashAndLap(_), true) => {
                "Cut the paper along the line and spread the edges: most where most is lacking."
            }
            (Self::TopAndScoop(_), false) => {
                "Lower the top of the centre seam, and scoop the crotch curve deeper."
            }
            (Self::TopAndScoop(_), true) => {
                "Raise the top of the centre seam, and fill the crotch curve."
            }
            (Self::Distribute(_), false) => {
                "Take a strip as wide everywhere out across the whole piece."
            }
            (Self::Distribute(_), true) => {
                "Put a strip as wide everywhere in across the whole piece."
            }
        }
    }

    /// One of each method, with the parameters that are usual in that unit.
    pub fn all(unit: Unit) -> [Self; 3] {
        use crate::Mates;
        [
            Self::TopAndScoop(TopAndScoop::usual(unit)),
            Self::SlashAndLap(SlashAndLap::default()),
            Self::Distribute(Distribute { take: None, mates: Mates::Follow }),
        ]
    }
}

/// A pinch and the method that answers it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PinchChange {
    /// What was pinned.
    pub pinch: Pinch,
    /// How the paper is changed.
    pub method: Method,
}

impl PinchChange {
    /// Applies the change. On a parted pattern a pinch on the back is answered on
    /// both legs, one on the back left on that leg.
    ///
    /// # Errors
    /// [`ChangeError`] as the pinch and the method say.
    pub fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let named = [Named::Piece(&self.pinch.piece)];
        on_named_legs(pattern, &named, |pattern| self.apply_here(pattern))
    }

    fn apply_here(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        let laid: LaidPinch = self.pinch.lay(pattern)?;
        let piece = &self.pinch.piece;
        match &self.method {
            Method::SlashAndLap(m) => slash_and_lap::apply(pattern, piece, &laid, m),
            Method::TopAndScoop(m) => top_and_scoop::apply(pattern, piece, &laid, m),
            Method::Distribute(m) => distribute::apply(pattern, piece, &laid, m),
        }
    }
}

/// A round of the fitting is closed: the pattern as it stands is kept as a
/// version.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CloseRound {
    /// Date, year-month-day.
    pub date: String,
    /// What was seen and decided.
    pub note: String,
}

/// A change of the pattern.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Change {
    /// A reference line is marked.
    MarkLine(MarkLine),
    /// A reference line is taken away.
    EraseLine(EraseLine),
    /// A pinch is answered.
    Pinch(PinchChange),
    /// A corner is made fair over a seam.
    TrueCorner(TrueCorner),
    /// Two seams are made equally long.
    TrueLength(TrueLength),
    /// A dart is trued.
    TrueDart(TrueDart),
    /// A correction of the catalogue is made.
    Correct(Correction),
    /// A style of the list is given.
    Style(Style),
    /// A step of drawing by hand.
    Draw(Draw),
    /// Pieces are brought in from elsewhere.
    BringIn(BringIn),
    /// Left and right get pieces of their own.
    PartLegs(PartLegs),
    /// One piece serves both legs again.
    JoinLegs(JoinLegs),
    /// A change of one leg alone.
    OneLeg(OneLeg),
    /// A round is closed.
    CloseRound(CloseRound),
}

impl Change {
    /// Whether it answers what was read from a worn toile: a pinch or a correction,
    /// on both legs or one.
    pub fn answers_a_toile(&self) -> bool {
        matches!(self.plain(), Self::Pinch(_) | Self::Correct(_))
    }

    /// Applies the change to a pattern; the lines are placed anew and remembered.
    /// On a parted pattern a change that names a piece or a join as it was before
    /// the parting (the back, the side seam) is made on both legs.
    ///
    /// # Errors
    /// [`ChangeError`] with what is wrong and what to do; nothing is changed then.
    pub fn apply(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        // A style leaves the lines on the cloth where the fitting put them.
        let carries_lines = self.answers_a_toile() || matches!(self.plain(), Self::Style(_));
        let mut outcome = if carries_lines {
            let mut drawn = drawn_in(pattern);
            let moves_notches = matches!(self.plain(), Self::Pinch(_));
            if moves_notches {
                notches_on_cloth::draw_in(&mut drawn);
            }
            let mut outcome = self.apply_on_legs(&drawn)?;
            if moves_notches {
                notches_on_cloth::take_out(pattern, &mut outcome.pattern);
            }
            taken_out(self, pattern, &mut outcome);
            outcome
        } else {
            self.apply_on_legs(pattern)?
        };
        outcome.pattern.remember_moved_lines(pattern);
        Ok(outcome)
    }

    /// The same for a body: what the change costs it round hip, thigh and knee is told.
    ///
    /// # Errors
    /// As [`Self::apply`].
    pub fn apply_for(
        &self,
        pattern: &Pattern,
        body: Option<&Measures>,
    ) -> Result<Outcome, ChangeError> {
        let mut outcome = self.apply(pattern)?;
        if self.answers_a_toile() {
            outcome.costs = costs(pattern, &outcome.pattern, body);
        }
        Ok(outcome)
    }

    fn apply_on_legs(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        on_named_legs(pattern, &self.named(), |pattern| self.apply_here(pattern))
    }

    /// What it names of the pattern. What is of the whole pattern, and what says its leg
    /// itself, names nothing.
    fn named(&self) -> Vec<Named<'_>> {
        match self {
            Self::MarkLine(c) => vec![Named::Piece(&c.line.piece)],
            Self::EraseLine(c) => vec![Named::Piece(&c.piece)],
            Self::Pinch(c) => vec![Named::Piece(&c.pinch.piece)],
            Self::TrueCorner(c) => vec![Named::Join(&c.join)],
            Self::TrueLength(c) => vec![Named::Join(&c.join)],
            Self::TrueDart(c) => vec![Named::Piece(&c.piece)],
            Self::Correct(c) => c.works_on().into_iter().map(Named::Piece).collect(),
            Self::Style(_) => vec![Named::Piece(names::BACK), Named::Piece(names::FRONT)],
            Self::Draw(c) => c.named(),
            Self::BringIn(_)
            | Self::PartLegs(_)
            | Self::JoinLegs(_)
            | Self::OneLeg(_)
            | Self::CloseRound(_) => Vec::new(),
        }
    }

    fn apply_here(&self, pattern: &Pattern) -> Result<Outcome, ChangeError> {
        match self {
            Self::MarkLine(c) => c.apply(pattern),
            Self::EraseLine(c) => c.apply(pattern),
            Self::Pinch(c) => c.apply(pattern),
            Self::TrueCorner(c) => c.apply(pattern),
            Self::TrueLength(c) => c.apply(pattern),
            Self::TrueDart(c) => c.apply(pattern),
            Self::Correct(c) => c.apply(pattern),
            Self::Style(c) => c.apply(pattern),
            Self::Draw(c) => c.apply(pattern),
            Self::BringIn(c) => c.apply(pattern),
            Self::PartLegs(c) => c.apply(pattern),
            Self::JoinLegs(c) => c.apply(pattern),
            Self::OneLeg(c) => c.apply(pattern),
            Self::CloseRound(_) => Ok(Outcome::plain(pattern.clone())),
        }
    }

    /// The change itself, without the leg it is made on alone.
    pub fn plain(&self) -> &Self {
        match self {
            Self::OneLeg(one) => one.change.plain(),
            other => other,
        }
    }

    /// The leg it is made on alone, if it is.
    pub fn leg(&self) -> Option<Leg> {
        match self {
            Self::OneLeg(one) => Some(one.leg),
            _ => None,
        }
    }

    /// The change made on that leg alone; with no leg, as it is.
    #[must_use]
    pub fn on_leg(self, leg: Option<Leg>) -> Self {
        match leg {
            Some(leg) => Self::OneLeg(OneLeg { leg, change: Box::new(self) }),
            None => self,
        }
    }

    /// The change in a few words, lengths in the maker's unit.
    pub fn words(&self, unit: Unit) -> String {
        match self {
            Self::MarkLine(c) => format!("Mark the {} line on the {}", c.line.name, c.line.piece),
            Self::EraseLine(c) => format!("Take the {} line off the {}", c.line, c.piece),
            Self::Pinch(c) => {
                let most = c.pinch.stations.iter().map(|s| s.amount);
                let most = most.fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
                let verb = if most < 0.0 { "let out" } else { "pinched" };
                format!(
                    "{}: {} {verb} on the {}, by {}",
                    c.pinch.name,
                    show_length(most.abs(), unit),
                    c.pinch.piece,
                    c.method.name()
                )
            }
            Self::TrueCorner(c) => format!(
                "True the {} at its {}",
                c.join,
                if c.at_matched_end { "matched end" } else { "far end" }
            ),
            Self::TrueLength(c) => format!("True the length of the {}", c.join),
            Self::TrueDart(c) => format!("True the {} of the {}", c.dart, c.piece),
            Self::Correct(c) => c.words(unit),
            Self::Style(c) => c.words(unit),
            Self::Draw(c) => c.words(),
            Self::BringIn(c) => c.words(),
            Self::PartLegs(_) => "Left and right apart".to_owned(),
            Self::JoinLegs(c) => match c.from {
                Some(leg) => format!("Both legs as the {} one", leg.word()),
                None => "Left and right together".to_owned(),
            },
            Self::OneLeg(c) => format!("On the {} leg: {}", c.leg.word(), c.change.words(unit)),
            Self::CloseRound(c) => format!("Fitting closed {}", c.date),
        }
    }
}
