//! Signs: folds and drag lines of the cloth by kind and place, and how seams, hem and
//! body stand from the side. A sign says what to look for, never how much; one that was
//! not looked for says nothing.

use hangtrue_pattern::Leg;
use serde::{Deserialize, Serialize};

/// From where a sign is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SeenFrom {
    /// The wearer's back.
    Back,
    /// The wearer's front.
    Front,
    /// A side of the wearer.
    Side,
}

impl SeenFrom {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Self::Back => "back",
            Self::Front => "front",
            Self::Side => "side",
        }
    }
}

/// Signs with their name, from where they are seen, and what they look like.
macro_rules! signs {
    ($($(#[$doc:meta])* $sign:ident: $name:literal, $from:ident, $looks:literal;)+) => {
        /// A sign on the worn toile.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        pub enum Sign {
            $($(#[$doc])* $sign,)+
        }

        impl Sign {
            /// All of them: at the back, in front, from the side.
            pub const ALL: &'static [Self] = &[$(Self::$sign),+];

            /// What it is called; unique.
            pub fn name(self) -> &'static str {
                match self { $(Self::$sign => $name),+ }
            }

            /// From where it is seen.
            pub fn from(self) -> SeenFrom {
                match self { $(Self::$sign => SeenFrom::$from),+ }
            }

            /// What it looks like, in a sentence.
            pub fn looks(self) -> &'static str {
                match self { $(Self::$sign => $looks),+ }
            }
        }
    };
}

// What they look like is common practice with no published source, but where a rule
// that uses them names a book.
signs! {
    /// The waist lies where it belongs, and the lines below it may be read.
    WaistOnTape: "waist on the tape", Back, "Tie a tape round the wearer's waist: the toile's waist lies along it all round.";
    /// A loose fold across below the back waist.
    FoldUnderWaist: "fold across under the back waist", Back, "A loose fold lies level across, just below the waistband.";
    /// Tight level lines at the fullest of the seat.
    PullAcrossSeat: "pull across the seat", Back, "Tight lines run level across the fullest of the seat.";
    /// Slack folds between seat and thigh.
    FoldUnderSeat: "folds under the seat", Back, "Slack folds hang below the seat, across the top of the back thigh.";
    /// Tight lines from the fork up to both sides.
    BackSmile: "smile at the back crotch", Back, "Tight lines rise from the crotch to both sides, as a smile does.";
    /// Lines from the fork down and outwards.
    BackFrown: "frown at the back crotch", Back, "Lines fall from the crotch outwards on both legs, as a frown does.";
    /// A line from the fork down to the side of the knee.
    CrotchToKnee: "diagonal from crotch to knee", Back, "A fold runs slanting down from the crotch to the outside of the knee.";
    /// The seat seam cuts in, a pleat on either side.
    SeamDrawnUp: "seat seam drawn up", Back, "The seat seam cuts in and is drawn up, with a pleat on either side of it.";
    /// The whole back is slack and works down.
    BackSlack: "whole back slack", Back, "The whole back wrinkles and works downward with each step.";
    /// Surplus at the top of the inseam, while the hems cling inside.
    InseamSlack: "top of the inseam slack", Back, "Cloth is left over at the top of the inseam, and the hems cling to the inside of the leg.";
    /// Short tight lines at the front of the fork.
    FrontWhiskers: "whiskers at the front crotch", Front, "Short tight lines fan out from the front crotch towards the hips.";
    /// Tight lines from the front of the fork up to both sides.
    FrontSmile: "smile at the front crotch", Front, "Tight lines rise from the front crotch to both sides, as a smile does.";
    /// Loose folds that fall from the front of the fork.
    FrontFrown: "frown at the front crotch", Front, "Loose folds fall from the front crotch outwards, as a frown does.";
    /// Fullness in the lap when sitting.
    LapFull: "fullness in the lap", Front, "When the wearer sits, cloth stands up in the lap beside the fly.";
    /// From the foot of the inseam forward and up to the knee.
    FootToKnee: "fold from foot to knee", Front, "A fold runs from the foot of the inseam forward and up to the knee.";
    /// The side seam runs forward towards the hem.
    SideForward: "side seam swings forward", Side, "The side seam leaves the plumb line below the hip and swings forward to the hem.";
    /// The side seam runs backward towards the hem.
    SideBackward: "side seam swings backward", Side, "The side seam leaves the plumb line below the hip and swings backward to the hem.";
    /// The hem stands off the leg at the front.
    HemKicksForward: "hem kicks forward", Side, "The hem stands away in front and lies on the leg behind.";
    /// The hem stands off the leg at the back.
    HemKicksBackward: "hem kicks backward", Side, "The hem stands away behind and lies on the foot in front.";
    /// The hips stand before the ankles.
    PelvisForward: "pelvis carried forward", Side, "A plumb line from the waist's side falls behind the fullest of the hip.";
    /// The hips stand behind the ankles.
    PelvisBackward: "pelvis carried backward", Side, "The seat stands well behind a plumb line from the waist's side.";
}

impl Sign {
    /// Whether it is something that a change may have to answer: the waist on the tape is as it
    /// should be.
    pub fn is_a_fault(self) -> bool {
        self != Self::WaistOnTape
    }

    /// The sign of that name.
    pub fn called(text: &str) -> Option<Self> {
        let text = text.trim().to_lowercase();
        Self::ALL.iter().copied().find(|s| s.name() == text)
    }
}

/// A sign that was looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Looked {
    /// The sign.
    pub sign: Sign,
    /// Whether it is there.
    pub seen: bool,
    /// The leg on which it is there; both when none is named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg: Option<Leg>,
}

impl Looked {
    /// Whether it is there and may have to be answered.
    pub fn is_a_fault(&self) -> bool {
        self.seen && self.sign.is_a_fault()
    }

    /// What was found, in words.
    pub fn words(&self) -> String {
        let name = self.sign.name();
        match (self.seen, self.leg) {
            (false, _) => format!("no {name}"),
            (true, None) => name.to_owned(),
            (true, Some(leg)) => format!("{name} ({} leg only)", leg.word()),
        }
    }
}

/// What a sign means to a rule.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum Pointer {
    /// It speaks for the cause.
    For(Sign),
    /// It speaks against it: the cause makes another.
    Against(Sign),
}

impl Pointer {
    /// The sign.
    pub fn sign(self) -> Sign {
        match self {
            Self::For(sign) | Self::Against(sign) => sign,
        }
    }

    /// How many times likelier what was found makes the cause; 1 when it was not looked
    /// for on that leg.
    fn weighs(self, signs: &[Looked], leg: Leg) -> f64 {
        let found = signs.iter().find(|l| l.sign == self.sign());
        let there = found.map(|l| l.seen && l.leg.is_none_or(|only| only == leg));
        match (self, there) {
            (_, None) | (Self::Against(_), Some(false)) => 1.0,
            (Self::For(_), Some(true)) => SEEN,
            (Self::For(_), Some(false)) => NOT_SEEN,
            (Self::Against(_), Some(true)) => 1.0 / SEEN,
        }
    }
}

/// A sign makes the odds of a cause it speaks for so many times greater, of one it speaks
/// against so many times smaller (memory).
const SEEN: f64 = 3.0;

/// A sign that was looked for and is not there makes the odds so many times greater (memory).
const NOT_SEEN: f64 = 0.5;

/// How well a cause fits once signs are weighed with the lines: odds are multiplied, so
/// a cause the lines rule out stays so.
pub(super) fn weighed(fit: f64, pointers: &[Pointer], signs: &[Looked], leg: Leg) -> f64 {
    let times: f64 = pointers.iter().map(|p| p.weighs(signs, leg)).product();
    times * fit / (times * fit + 1.0 - fit)
}

/// Whether a sign that speaks for it is there.
pub(super) fn is_pointed_at(pointers: &[Pointer], signs: &[Looked], leg: Leg) -> bool {
    pointers.iter().any(|p| matches!(p, Pointer::For(_)) && p.weighs(signs, leg) > 1.0)
}

/// Whether a sign that would speak for it was looked for, on either leg.
pub(super) fn are_looked_for(pointers: &[Pointer], signs: &[Looked]) -> bool {
    let looked = |sign: Sign| signs.iter().any(|l| l.sign == sign);
    pointers.iter().any(|p| matches!(p, Pointer::For(sign) if looked(*sign)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_read_back() {
        for sign in Sign::ALL {
            assert_eq!(Sign::called(&sign.name().to_uppercase()), Some(*sign));
        }
        assert_eq!(Sign::called("a sign there is not"), None);
    }

    #[test]
    fn what_was_not_looked_for_says_nothing() {
        let of = |seen, leg| [Looked { sign: Sign::FoldUnderSeat, seen, leg }];
        let pointers = [Pointer::For(Sign::FoldUnderSeat)];
        let fit = |signs: &[Looked], leg| weighed(0.6, &pointers, signs, leg);
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-12, "{a} is not {b}");
        near(fit(&[], Leg::Left), 0.6);
        near(fit(&of(true, None), Leg::Left), 1.8 / 2.2);
        near(fit(&of(false, None), Leg::Left), 0.3 / 0.7);
        // Seen on one leg it was looked for on the other, and is not there.
        near(fit(&of(true, Some(Leg::Right)), Leg::Left), 0.3 / 0.7);
        let against = [Pointer::Against(Sign::FoldUnderSeat)];
        near(weighed(0.6, &against, &of(true, None), Leg::Left), 0.2 / 0.6);
        near(weighed(0.6, &against, &of(false, None), Leg::Left), 0.6);
    }
}
