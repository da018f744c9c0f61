//! The cutting plan: what is chosen for the pieces that are cut. It stays with the
//! project; the pieces themselves are made anew from the pattern each time.

use crate::usual::is_usual;
use crate::{OwnShrinkage, Shrinkage};
use hangtrue_geometry::units::{Unit, round_in};
use serde::{Deserialize, Serialize};

mod opening;
mod pockets;

pub use opening::{Closure, Opening};
pub use pockets::{BackPocket, BackSizes, FrontPocket, FrontSizes, Pockets};

/// A named set of seam allowances. The widths are common practice; there is no
/// published source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AllowanceSet {
    /// None: the line that is sewn is the line that is cut.
    None,
    /// Wide all round, to be let out anywhere.
    Toile,
    /// Inlay at centre back, side and waist, to be let out at the fitting.
    FirstFitting,
    /// What is left in the finished trousers.
    Finished,
}

impl AllowanceSet {
    /// Every set, in the order of the work.
    pub const ALL: [Self; 4] = [Self::None, Self::Toile, Self::FirstFitting, Self::Finished];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "no allowance",
            Self::Toile => "toile",
            Self::FirstFitting => "first fitting",
            Self::Finished => "finished",
        }
    }

    /// The widths of the set, round in the unit.
    pub fn widths(self, unit: Unit) -> SetWidths {
        let round = |mm, inches| round_in(unit, (mm, inches));
        let (narrow, seam) = (round(10.0, 3.0 / 8.0), round(15.0, 5.0 / 8.0));
        match self {
            Self::None => SetWidths::default(),
            Self::Toile => SetWidths {
                seams: round(25.0, 1.0),
                waist: round(25.0, 1.0),
                crotch: seam,
                centre_back: seam,
                side: round(25.0, 1.0),
                hem: round(50.0, 2.0),
            },
            Self::FirstFitting => SetWidths {
                seams: seam,
                waist: round(25.0, 1.0),
                crotch: seam,
                centre_back: round(40.0, 1.5),
                side: round(25.0, 1.0),
                hem: round(50.0, 2.0),
            },
            Self::Finished => SetWidths {
                seams: seam,
                waist: narrow,
                crotch: narrow,
                centre_back: narrow,
                side: seam,
                hem: round(40.0, 1.5),
            },
        }
    }
}

/// The widths of a set, mm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SetWidths {
    /// Inseam, and every seam not named here.
    pub seams: f64,
    /// Waist.
    pub waist: f64,
    /// Crotch seam at the crotch point, and at the front all along.
    pub crotch: f64,
    /// The crotch seam of the back at the waist; it runs out to the crotch's own.
    pub centre_back: f64,
    /// Side seam.
    pub side: f64,
    /// Hem.
    pub hem: f64,
}

/// The width the maker chose for one seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeamWidth {
    /// The piece; none for the seam of that name on every piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub piece: Option<String>,
    /// The seam.
    pub seam: String,
    /// The allowance, mm.
    pub width: f64,
}

/// How the waist is finished. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub enum WaistFinish {
    /// No piece is cut for it.
    #[default]
    None,
    /// A straight band, folded along its middle.
    Straight {
        /// Height when it is sewn.
        width: f64,
        /// How far it runs on under the other end.
        overlap: f64,
    },
    /// A band shaped like the sewn waist, standing above it.
    Shaped {
        /// Height when it is sewn.
        width: f64,
        /// How far it runs on under the other end.
        overlap: f64,
    },
    /// A facing inside, shaped like the sewn waist, hanging below it.
    Facing {
        /// Depth.
        width: f64,
    },
    /// A casing for elastic, folded along its middle.
    Casing {
        /// Width of the elastic.
        elastic: f64,
    },
}

impl WaistFinish {
    /// Every finish in its usual width, for trousers that are opened so, with its name for the
    /// maker.
    pub fn choices(closure: Closure, unit: Unit) -> [(Self, &'static str); 5] {
        let (usual, overlap) = (UsualCut::of(unit), 0.0);
        [
            (Self::None, "no piece"),
            (Self::Straight { width: usual.band, overlap }, "straight band"),
            (Self::Shaped { width: usual.band, overlap }, "shaped band"),
            (Self::Facing { width: usual.facing }, "facing"),
            (Self::Casing { elastic: usual.elastic }, "elastic casing"),
        ]
        .map(|(finish, name)| (finish.opened(closure, unit), name))
    }

    /// The same finish so wide: its height, its depth, or its elastic.
    #[must_use]
    pub fn as_wide_as(self, wide: f64) -> Self {
        match self {
            Self::None => self,
            Self::Straight { overlap, .. } => Self::Straight { width: wide, overlap },
            Self::Shaped { overlap, .. } => Self::Shaped { width: wide, overlap },
            Self::Facing { .. } => Self::Facing { width: wide },
            Self::Casing { .. } => Self::Casing { elastic: wide },
        }
    }

    /// The same finish for trousers that are opened so: a band that is opened runs on by
    /// the usual overlap, where none was chosen; one that is not has none.
    #[must_use]
    pub fn opened(self, closure: Closure, unit: Unit) -> Self {
        let runs_on = |overlap: f64| match (closure, overlap > 0.0) {
            (Closure::None, _) => 0.0,
            (_, true) => overlap,
            (_, false) => UsualCut::of(unit).overlap,
        };
        match self {
            Self::Straight { width, overlap } => {
                Self::Straight { width, overlap: runs_on(overlap) }
            }
            Self::Shaped { width, overlap } => Self::Shaped { width, overlap: runs_on(overlap) },
            Self::None | Self::Facing { .. } | Self::Casing { .. } => self,
        }
    }
}

/// What is chosen for the pieces that are cut.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct CuttingPlan {
    /// The set of allowances; none: as the two widths chosen for printing say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<AllowanceSet>,
    /// Seams that differ from the set; a later one counts before an earlier one.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub widths: Vec<SeamWidth>,
    /// How the waist is finished.
    #[serde(skip_serializing_if = "is_usual")]
    pub waist: WaistFinish,
    /// How the trousers are opened.
    #[serde(skip_serializing_if = "is_usual")]
    pub closure: Closure,
    /// How that is cut.
    #[serde(skip_serializing_if = "is_usual")]
    pub opening: Opening,
    /// The pockets.
    #[serde(skip_serializing_if = "is_usual")]
    pub pockets: Pockets,
    /// Whether waist pieces and fly are cut in interfacing too.
    #[serde(skip_serializing_if = "is_usual")]
    pub interfacing: bool,
    /// Whether back and front are cut in lining too.
    #[serde(skip_serializing_if = "is_usual")]
    pub lining: bool,
    /// What the cloth of the trousers loses after it is cut, in washing or pressing: the pieces
    /// are cut larger by it, and smaller where the cloth stretches.
    #[serde(skip_serializing_if = "is_usual")]
    pub shrinkage: Shrinkage,
    /// The same of the other cloths, where it is another than the cloth's.
    #[serde(skip_serializing_if = "is_usual")]
    pub own_shrinkage: OwnShrinkage,
}

impl CuttingPlan {
    /// Chooses what opens the trousers; another one has its own usual sizes.
    pub fn open_by(&mut self, closure: Closure) {
        if closure != self.closure {
            self.opening = Opening { length: None, width: None, ..self.opening };
        }
        self.closure = closure;
    }

    /// Whether nothing was chosen.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// Lengths to begin with, round in the unit, mm. Common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsualCut {
    /// Height of a waistband.
    pub band: f64,
    /// Overlap of a waistband.
    pub overlap: f64,
    /// Depth of a facing.
    pub facing: f64,
    /// Width of elastic.
    pub elastic: f64,
    /// How far a fly opens.
    pub fly: f64,
    /// Width of a fly's facing.
    pub fly_facing: f64,
    /// How far a zip opens.
    pub zip: f64,
    /// A zip's wide allowance.
    pub zip_allowance: f64,
}

impl UsualCut {
    /// The usual where lengths are shown so.
    pub fn of(unit: Unit) -> Self {
        let round = |mm, inches| round_in(unit, (mm, inches));
        Self {
            band: round(40.0, 1.5),
            overlap: round(40.0, 1.5),
            facing: round(60.0, 2.5),
            elastic: round(30.0, 1.25),
            fly: round(160.0, 6.5),
            fly_facing: round(40.0, 1.5),
            zip: round(180.0, 7.0),
            zip_allowance: round(25.0, 1.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_geometry::units::{INCH, show_length};

    #[test]
    fn the_sets_are_round_in_every_unit() {
        for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
            for set in AllowanceSet::ALL {
                let w = set.widths(unit);
                for mm in [w.seams, w.waist, w.crotch, w.centre_back, w.side, w.hem] {
                    assert!(!show_length(mm, unit).contains('≈'), "{mm} in {unit:?}");
                    assert!(unit.denominator().is_some() || mm % 5.0 == 0.0, "{mm}");
                }
            }
            let first = AllowanceSet::FirstFitting.widths(unit);
            for inlay in [first.centre_back, first.side, first.waist] {
                assert!((25.0..=40.0).contains(&inlay), "{inlay}");
            }
        }
    }

    #[test]
    fn a_band_runs_on_where_it_is_opened_and_nowhere_else() {
        let overlap = |waist: WaistFinish| match waist {
            WaistFinish::Straight { overlap, .. } | WaistFinish::Shaped { overlap, .. } => overlap,
            _ => panic!("a band stays a band"),
        };
        for (unit, usual) in [(Unit::Mm, 40.0), (Unit::Eighths, 1.5 * INCH)] {
            for closure in Closure::ALL {
                let is_open = closure != Closure::None;
                for (before, after) in [(0.0, usual), (25.0, 25.0)] {
                    for band in [
                        WaistFinish::Straight { width: 40.0, overlap: before },
                        WaistFinish::Shaped { width: 40.0, overlap: before },
                    ] {
                        let meant = if is_open { after } else { 0.0 };
                        assert_eq!(overlap(band.opened(closure, unit)), meant, "{closure:?}");
                    }
                }
                let facing = WaistFinish::Facing { width: 60.0 };
                assert_eq!(facing.opened(closure, unit), facing);
            }
        }
    }

    #[test]
    fn what_was_not_chosen_is_not_written_and_read_as_usual() {
        assert_eq!(crate::ron_text::written(&CuttingPlan::default()).unwrap(), "()");
        let plan = CuttingPlan {
            set: Some(AllowanceSet::FirstFitting),
            waist: WaistFinish::Facing { width: 60.0 },
            ..CuttingPlan::default()
        };
        let text = crate::ron_text::written(&plan).unwrap();
        assert_eq!(text, "(set:Some(first_fitting),waist:facing(width:60.0))");
        assert_eq!(crate::ron_text::read::<CuttingPlan>(&text).unwrap(), plan);
    }
}
