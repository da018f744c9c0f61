//! What the maker adds to the body: ease, and the widths chosen for the legs.

use super::DraftError;
use crate::units::Unit;
use serde::{Deserialize, Serialize};

/// An eighth of an inch, mm.
const EIGHTH: f64 = hangtrue_geometry::units::INCH / 8.0;

/// Least knee width of a leg, mm.
pub(super) const LEAST_KNEE: f64 = 200.0;

/// Limits of the back's share of the crotch extensions: the back one is then 1.8
/// to 3.3 times the front one (common practice: about 2 to 3 times).
pub(super) const BACK_SHARE: (f64, f64) = (0.64, 0.77);

/// Ease and chosen sizes, mm. Every default is common practice with no published
/// source, unless `docs/block.md` says otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Plan {
    /// Added to the waist girth.
    pub waist_ease: f64,
    /// Added to the hip girth at the hip line.
    pub hip_ease: f64,
    /// Added to the total crotch length.
    pub crotch_ease: f64,
    /// How far the crotch level of the trousers hangs below the body's crotch.
    pub rise_ease: f64,
    /// Least that a leg is wider than the thigh at the crotch point.
    pub thigh_ease: f64,
    /// How much room a leg is given at the crotch point.
    pub leg_room: LegRoom,
    /// Width of a leg round the knee; from the knee girth and its ease when none.
    pub knee_width: Option<f64>,
    /// Added to the knee girth.
    pub knee_ease: f64,
    /// Width of a leg round the hem; from the heel girth and its ease when none.
    pub hem_width: Option<f64>,
    /// Added to the heel girth.
    pub hem_ease: f64,
    /// Hem above the floor.
    pub hem_above_floor: f64,
    /// How much wider the back is than the front at the hip line.
    pub back_wider_hip: f64,
    /// How much wider the front is than the back at the sewn waist.
    pub front_wider_waist: f64,
    /// How much wider the back leg is than the front leg at knee and hem.
    pub back_wider_leg: f64,
    /// The back's share of the two crotch extensions, 0 to 1.
    pub back_share: f64,
}

/// How much room a leg is given at the crotch point, where the crotch length leaves
/// the choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LegRoom {
    /// Near the thigh.
    Close,
    /// As most trousers.
    #[default]
    Usual,
    /// Well off the thigh.
    Roomy,
}

impl LegRoom {
    /// All, closest first.
    pub const ALL: [Self; 3] = [Self::Close, Self::Usual, Self::Roomy];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Close => "close",
            Self::Usual => "usual",
            Self::Roomy => "roomy",
        }
    }

    /// What the two crotch extensions together want and what they are stretched to
    /// before anything else is: as a part of the hip with ease, and the ease over the
    /// thigh that they may give, mm. The lesser counts. (The usual part of the hip is
    /// a handbook proportion from memory; the rest are our own choices.)
    pub(super) fn extensions(self) -> [(f64, f64); 2] {
        match self {
            Self::Close => [(0.165, 70.0), (0.21, 100.0)],
            Self::Usual => [(0.185, 110.0), (0.25, 150.0)],
            Self::Roomy => [(0.215, 160.0), (0.29, 210.0)],
        }
    }
}

impl Default for Plan {
    fn default() -> Self {
        Self {
            waist_ease: 20.0,
            hip_ease: 40.0,
            crotch_ease: 20.0,
            rise_ease: 20.0,
            thigh_ease: 40.0,
            leg_room: LegRoom::Usual,
            knee_width: None,
            knee_ease: 80.0,
            hem_width: None,
            hem_ease: 60.0,
            hem_above_floor: 20.0,
            back_wider_hip: 20.0,
            front_wider_waist: 10.0,
            back_wider_leg: 20.0,
            back_share: 0.70,
        }
    }
}

impl Plan {
    /// The usual in round numbers of the unit: in inches the nearest eighths.
    pub fn usual(unit: Unit) -> Self {
        let mut plan = Self::default();
        if unit.denominator().is_none() {
            return plan;
        }
        for length in [
            &mut plan.waist_ease,
            &mut plan.hip_ease,
            &mut plan.crotch_ease,
            &mut plan.rise_ease,
            &mut plan.thigh_ease,
            &mut plan.knee_ease,
            &mut plan.hem_ease,
            &mut plan.hem_above_floor,
            &mut plan.back_wider_hip,
            &mut plan.front_wider_waist,
            &mut plan.back_wider_leg,
        ] {
            *length = (*length / EIGHTH).round() * EIGHTH;
        }
        plan
    }

    /// Checks that every number lies where trousers can be drafted.
    ///
    /// # Errors
    /// [`DraftError::Plan`] naming the entry, its value and its limits.
    pub fn check(&self) -> Result<(), DraftError> {
        let entries = [
            ("waist ease", Some(self.waist_ease), -100.0, 300.0),
            ("hip ease", Some(self.hip_ease), -150.0, 500.0),
            ("crotch ease", Some(self.crotch_ease), -60.0, 150.0),
            ("rise ease", Some(self.rise_ease), -40.0, 100.0),
            ("thigh ease", Some(self.thigh_ease), -100.0, 300.0),
            ("knee width", self.knee_width, LEAST_KNEE, 1200.0),
            ("knee ease", Some(self.knee_ease), -40.0, 500.0),
            ("hem width", self.hem_width, 160.0, 1400.0),
            ("hem ease", Some(self.hem_ease), -150.0, 800.0),
            ("hem above the floor", Some(self.hem_above_floor), 0.0, 400.0),
            (
                "width the back has over the front at the hip",
                Some(self.back_wider_hip),
                -60.0,
                80.0,
            ),
            (
                "width the front has over the back at the waist",
                Some(self.front_wider_waist),
                -60.0,
                80.0,
            ),
            ("width the back leg has over the front leg", Some(self.back_wider_leg), -60.0, 60.0),
        ];
        for (what, value, low, high) in entries {
            let Some(value) = value else { continue };
            if !(low..=high).contains(&value) {
                return Err(DraftError::Plan { what, value, low, high });
            }
        }
        let ((low, high), value) = (BACK_SHARE, self.back_share);
        if !(low..=high).contains(&value) {
            let what = "back share of the crotch extensions";
            return Err(DraftError::Share { what, value, low, high });
        }
        Ok(())
    }
}
