//! What was read on the toile: how far a marked line hangs below level (droops)
//! or above it (rises), station by station.

use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{Leg, names};
use serde::{Deserialize, Serialize};

/// A marked line of the toile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum HangLine {
    /// The waist.
    Waist,
    /// The hip balance line.
    Hip,
    /// The thigh line.
    Thigh,
    /// The knee line.
    Knee,
    /// The hem.
    Hem,
}

impl HangLine {
    /// All of them, from the top.
    pub const ALL: [Self; 5] = [Self::Waist, Self::Hip, Self::Thigh, Self::Knee, Self::Hem];

    /// The line that is called so. The hip line is none of them: it stays on paper and
    /// cannot droop.
    pub fn called(text: &str) -> Option<Self> {
        let text = text.trim().to_lowercase();
        let text = text.strip_suffix(" line").unwrap_or(&text);
        // Older tables call it so.
        let short = (text == names::HIP_BALANCE_BEFORE).then_some(Self::Hip);
        short.or_else(|| Self::ALL.into_iter().find(|line| line.name() == text))
    }

    /// Its name, as it is marked on the pattern; printed everywhere.
    pub fn name(self) -> &'static str {
        match self {
            Self::Waist => "waist",
            Self::Hip => names::HIP_BALANCE,
            Self::Thigh => "thigh",
            Self::Knee => "knee",
            Self::Hem => "hem",
        }
    }

    /// Where it starts: at the centre seam, or below the crotch at the inseam.
    pub fn inner_end(self) -> &'static str {
        match self {
            Self::Waist | Self::Hip => CENTRE,
            _ => "inseam",
        }
    }
}

/// From where the line was looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PieceView {
    /// The back.
    Back,
    /// The front.
    Front,
}

impl PieceView {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Back, Self::Front];

    /// The name of the piece seen.
    pub fn piece(self) -> &'static str {
        match self {
            Self::Back => hangtrue_pattern::names::BACK,
            Self::Front => hangtrue_pattern::names::FRONT,
        }
    }
}

/// One station of a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Droop {
    /// The line.
    pub line: HangLine,
    /// From where it was seen.
    pub view: PieceView,
    /// On which leg.
    pub leg: Leg,
    /// How far across: 0 at the inseam (at the centre seam for hip and waist), 1 at
    /// the side seam.
    pub at: f64,
    /// mm below level; a rise is negative.
    pub mm: f64,
    /// ± mm: the truth is taken to lie this near in nineteen cases of twenty.
    pub error: f64,
}

/// The inner end of a line above the crotch.
const CENTRE: &str = "centre";

/// Two stations nearer than this, as a share of the line, are the same place.
pub const SAME_PLACE: f64 = 0.02;

/// What a droop may not be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DroopError {
    /// A place off the line.
    #[error(
        "the {view} {line} line has a place at {at}, but a line runs from 0 at its inner end to 1 at the side seam"
    )]
    OffTheLine {
        /// The line.
        line: &'static str,
        /// The view.
        view: &'static str,
        /// The place.
        at: f64,
    },
    /// An absurd amount or error.
    #[error(
        "the {view} {line} line droops by {} ± {}; a droop is at most {:.0} and its ± lies above 0 and below {:.0}: measure again", Length(*mm), Length(*error), Length(MOST_DROOP), Length(MOST_DROOP)
    )]
    Absurd {
        /// The line.
        line: &'static str,
        /// The view.
        view: &'static str,
        /// The droop.
        mm: f64,
        /// Its error.
        error: f64,
    },
    /// The same place twice.
    #[error(
        "the {leg} {view} {line} line is given twice {place}; keep the measure you trust, or their mean"
    )]
    Twice {
        /// The line.
        line: &'static str,
        /// The view.
        view: &'static str,
        /// The leg.
        leg: &'static str,
        /// The place in words.
        place: String,
    },
}

/// A line that hangs farther off than this is not read but misread, mm (memory).
pub const MOST_DROOP: f64 = 150.0;

/// Checks the droops and sorts them along their lines.
pub fn sorted(droops: &[Droop]) -> Result<Vec<Droop>, DroopError> {
    let mut sorted = droops.to_vec();
    sorted.sort_by(|a, b| a.at.total_cmp(&b.at));
    for d in &sorted {
        let (line, view) = (d.line.name(), d.view.piece());
        if !(0.0..=1.0).contains(&d.at) {
            return Err(DroopError::OffTheLine { line, view, at: d.at });
        }
        let sound = d.mm.abs() <= MOST_DROOP && d.error > 0.0 && d.error < MOST_DROOP;
        if !sound {
            return Err(DroopError::Absurd { line, view, mm: d.mm, error: d.error });
        }
    }
    for (i, d) in sorted.iter().enumerate() {
        let same = |o: &&Droop| {
            (o.line, o.view, o.leg) == (d.line, d.view, d.leg) && d.at - o.at < SAME_PLACE
        };
        if sorted[..i].iter().any(|o| same(&o)) {
            return Err(DroopError::Twice {
                line: d.line.name(),
                view: d.view.piece(),
                leg: d.leg.word(),
                place: super::place_words(d.line, d.at),
            });
        }
    }
    Ok(sorted)
}

/// Measures that cannot both be right: at the centre seam left and right are one place of the
/// cloth, and differ by no more than they were read.
pub(super) fn doubts(droops: &[Droop], unit: Unit) -> Vec<String> {
    let at_centre = |d: &&Droop| d.line.inner_end() == CENTRE && d.at < SAME_PLACE;
    let of = |leg: Leg| droops.iter().filter(at_centre).filter(move |d| d.leg == leg);
    let pairs = of(Leg::Left).filter_map(|l| {
        let r = of(Leg::Right).find(|r| (r.line, r.view) == (l.line, l.view))?;
        ((l.mm - r.mm).abs() > l.error + r.error).then_some((l, r))
    });
    let said = |(l, r): (&Droop, &Droop)| {
        format!(
            "The {} {} line was measured {} at the centre on the left and {} on the right, but there it is one place of the cloth: measure it again.",
            l.view.piece(),
            l.line.name(),
            super::droop_words(l.mm, unit),
            super::droop_words(r.mm, unit)
        )
    };
    pairs.map(said).collect()
}
