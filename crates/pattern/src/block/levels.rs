//! The heights of a block, from the crotch level up and down.

use super::{DraftError, Plan};
use crate::measures::{Measure, Measures};

/// Levels of the block, mm above the crotch level (below it negative).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Levels {
    pub waist: f64,
    pub hip: f64,
    pub knee: f64,
    pub hem: f64,
}

/// The hip line is kept between these fractions of the way from crotch to waist,
/// so that there is a hook below it and room for darts above it.
const HIP_BETWEEN: (f64, f64) = (0.30, 0.50);

/// Least length of leg between crotch and knee, and knee and hem, mm.
const LEAST_LEG: f64 = 60.0;

impl Levels {
    /// The same levels over a crotch level lowered by `by` mm.
    pub(super) fn lowered(&self, by: f64) -> Self {
        Self {
            waist: self.waist + by,
            hip: self.hip + by,
            knee: self.knee + by,
            hem: self.hem + by,
        }
    }

    pub(super) fn new(measures: &Measures, plan: &Plan) -> Result<Self, DraftError> {
        let need = |m| super::need(measures, m);
        let crotch = need(Measure::InsideLegHeight)? - plan.rise_ease;
        let waist = need(Measure::WaistHeight)? - crotch;
        let hip = need(Measure::HipHeight)? - crotch;
        let hip = hip.clamp(HIP_BETWEEN.0 * waist, HIP_BETWEEN.1 * waist);
        let knee_height = need(Measure::KneeHeight)?;
        let (knee, hem) = (knee_height - crotch, plan.hem_above_floor - crotch);
        if waist <= 0.0 || knee > -LEAST_LEG {
            return Err(super::disagree(
                measures,
                Measure::KneeHeight,
                Measure::InsideLegHeight,
                "there is too little leg between crotch and knee",
            ));
        }
        if hem > knee - LEAST_LEG {
            return Err(DraftError::Plan {
                what: "hem above the floor",
                value: plan.hem_above_floor,
                low: 0.0,
                high: knee_height - LEAST_LEG,
            });
        }
        Ok(Self { waist, hip, knee, hem })
    }
}
