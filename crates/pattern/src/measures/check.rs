//! What can be wrong with a set of measures.

use super::{Measure, Measures};
use hangtrue_geometry::words::Length;

/// A fault in a set of measures, in words for the person with the tape.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeasureError {
    /// A measure the block needs is not there.
    #[error("the {measure} is missing; measure it: {}", measure.definition())]
    Missing {
        /// The measure.
        measure: Measure,
    },
    /// Not a finite number.
    #[error("the {measure} is not a number; measure it again: {}", measure.definition())]
    NotFinite {
        /// The measure.
        measure: Measure,
    },
    /// Zero, negative, or outside what a body can be.
    #[error(
        "the {measure} of {value} cannot be right: it lies outside {low:#.0}–{high:.0}; check the unit and measure again"
    )]
    Absurd {
        /// The measure.
        measure: Measure,
        /// The value, mm.
        value: Length,
        /// Lowest accepted, mm.
        low: Length,
        /// Highest accepted, mm.
        high: Length,
    },
    /// Two measures contradict each other.
    #[error(
        "the {measure} of {value} contradicts the {other} of {other_value}: {why}; measure both again"
    )]
    Contradiction {
        /// One measure.
        measure: Measure,
        /// Its value, mm.
        value: Length,
        /// The measure it disagrees with.
        other: Measure,
        /// Its value, mm.
        other_value: Length,
        /// What is impossible about the pair.
        why: &'static str,
    },
}

impl MeasureError {
    /// The measure to look at first.
    pub fn measure(&self) -> Measure {
        match self {
            Self::Missing { measure }
            | Self::NotFinite { measure }
            | Self::Absurd { measure, .. }
            | Self::Contradiction { measure, .. } => *measure,
        }
    }

    /// The measure it disagrees with, if the fault is between two.
    pub fn other(&self) -> Option<Measure> {
        match self {
            Self::Contradiction { other, .. } => Some(*other),
            _ => None,
        }
    }
}

/// The seat's fullest part may be measured this far below the crotch, mm: in
/// ANSUR II (NATICK/TR-15/007) it lies up to 23 mm below it.
const HIP_BELOW_CROTCH: f64 = 80.0;

/// Least rise a body can have, mm (ANSUR II: 125 mm at the least).
const LEAST_RISE: f64 = 70.0;

/// The waist may exceed the hip by this factor (ANSUR II: up to 1.23).
const WAIST_OVER_HIP: f64 = 1.5;

/// The hip may exceed the waist by this factor (ANSUR II: up to 1.43).
const HIP_OVER_WAIST: f64 = 1.9;

/// The parts of the crotch length may miss the whole by this much, mm.
const SPLIT_SLACK: f64 = 15.0;

/// Front or back of the waist may lie so much higher or lower than its side, mm. Ours: more
/// than a hand is another level, not a tilt.
const WAIST_TILT: f64 = 120.0;
const TILTED: &str = "the waist would tilt by more than a hand’s breadth";

type Rule = (Measure, Measure, fn(f64, f64) -> bool, &'static str);

/// Pairs that cannot be: the test is true when the pair is impossible.
const CONTRADICTIONS: [Rule; 17] = {
    use Measure::{
        AnkleGirth, AnkleHeight, CalfGirth, CrotchLength, HeelGirth, HipGirth, HipHeight,
        InsideLegHeight, KneeGirth, KneeHeight, SeatedRise, Stature, ThighGirth, WaistGirth,
        WaistHeight, WaistHeightBack, WaistHeightFront,
    };
    [
        (WaistHeight, Stature, |a, b| a >= 0.8 * b, "the waist would be in the shoulders"),
        (WaistHeightFront, WaistHeight, |a, b| (a - b).abs() > WAIST_TILT, TILTED),
        (WaistHeightBack, WaistHeight, |a, b| (a - b).abs() > WAIST_TILT, TILTED),
        (
            SeatedRise,
            WaistHeight,
            |a, b| a > 0.5 * b,
            "sitting, the waist would be as high as half of it standing",
        ),
        (InsideLegHeight, WaistHeight, |a, b| a >= b, "the crotch would be above the waist"),
        (
            InsideLegHeight,
            WaistHeight,
            |a, b| b - a < LEAST_RISE,
            "too little is left between crotch and waist for a body",
        ),
        (HipHeight, WaistHeight, |a, b| a >= b, "the seat would be above the waist"),
        (
            HipHeight,
            InsideLegHeight,
            |a, b| a < b - HIP_BELOW_CROTCH,
            "the seat would be far below the crotch",
        ),
        (KneeHeight, InsideLegHeight, |a, b| a > 0.8 * b, "the knee would be in the thigh"),
        (AnkleHeight, KneeHeight, |a, b| a > 0.5 * b, "the ankle would be at the calf"),
        (ThighGirth, HipGirth, |a, b| a > 0.85 * b, "one thigh would be as large as the seat"),
        (KneeGirth, ThighGirth, |a, b| a > b, "the knee would be wider than the thigh"),
        (CalfGirth, ThighGirth, |a, b| a > b, "the calf would be wider than the thigh"),
        (AnkleGirth, CalfGirth, |a, b| a > b, "the ankle would be wider than the calf"),
        (AnkleGirth, HeelGirth, |a, b| a > b, "the ankle would not pass its own foot"),
        (
            WaistGirth,
            HipGirth,
            |a, b| a > WAIST_OVER_HIP * b || b > HIP_OVER_WAIST * a,
            "waist and hip differ by more than a body allows",
        ),
        (
            CrotchLength,
            HipGirth,
            |a, b| a > 0.85 * b,
            "the way between the legs would be as long as the way round the seat",
        ),
    ]
};

/// Everything that is wrong, what concerns one measure first; pairs are not set against
/// each other while one of them is wrong by itself.
pub(super) fn faults(measures: &Measures) -> Vec<MeasureError> {
    let alone = measures.iter().filter_map(|(measure, value)| check_alone(measure, value).err());
    let missing = Measure::REQUIRED.into_iter().filter(|m| measures.get(*m).is_none());
    let mut faults: Vec<MeasureError> = alone.collect();
    faults.extend(missing.map(|measure| MeasureError::Missing { measure }));
    let wrong: Vec<Measure> = faults.iter().map(MeasureError::measure).collect();
    let pairs = CONTRADICTIONS.into_iter().filter_map(|pair| contradiction(measures, pair));
    // The crotch's length is set against the rise, which the inside leg is part of.
    let crotch = check_crotch(measures).err();
    let pairs = pairs.chain(crotch.filter(|_| !wrong.contains(&Measure::InsideLegHeight)));
    let is_new = |fault: &MeasureError| {
        let of_pair = [Some(fault.measure()), fault.other()];
        of_pair.into_iter().flatten().all(|m| !wrong.contains(&m))
    };
    faults.extend(pairs.filter(is_new));
    faults
}

fn contradiction(
    measures: &Measures,
    (measure, other, impossible, why): Rule,
) -> Option<MeasureError> {
    let (value, other_value) = (measures.get(measure)?, measures.get(other)?);
    impossible(value, other_value).then_some(MeasureError::Contradiction {
        measure,
        value: Length(value),
        other,
        other_value: Length(other_value),
        why,
    })
}

fn check_alone(measure: Measure, value: f64) -> Result<(), MeasureError> {
    if !value.is_finite() {
        return Err(MeasureError::NotFinite { measure });
    }
    let (low, high) = measure.limits();
    if (low..=high).contains(&value) {
        Ok(())
    } else {
        Err(MeasureError::Absurd {
            measure,
            value: Length(value),
            low: Length(low),
            high: Length(high),
        })
    }
}

/// The crotch length must reach from waist to crotch twice, and its parts must
/// make the whole.
fn check_crotch(measures: &Measures) -> Result<(), MeasureError> {
    let need = |m| measures.get(m).ok_or(MeasureError::Missing { measure: m });
    let (waist, inside) = (need(Measure::WaistHeight)?, need(Measure::InsideLegHeight)?);
    let total = need(Measure::CrotchLength)?;
    let clash = |measure, value, other, other_value, why| {
        let (value, other_value) = (Length(value), Length(other_value));
        Err(MeasureError::Contradiction { measure, value, other, other_value, why })
    };
    if total < 2.0 * (waist - inside) {
        let why = "the crotch length must be at least twice the height of waist over crotch";
        return clash(Measure::CrotchLength, total, Measure::WaistHeight, waist, why);
    }
    let parts = [Measure::CrotchLengthFront, Measure::CrotchLengthBack];
    for part in parts {
        if let Some(value) = measures.get(part)
            && value >= total
        {
            let why = "a part cannot be as long as the whole";
            return clash(part, value, Measure::CrotchLength, total, why);
        }
    }
    if let [Some(front), Some(back)] = parts.map(|p| measures.get(p))
        && (front + back - total).abs() > SPLIT_SLACK
    {
        let why = "front and back together do not make the total";
        return clash(Measure::CrotchLengthFront, front, Measure::CrotchLength, total, why);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_that_is_wrong_is_told_at_once_and_what_follows_from_it_is_not() {
        use Measure::{CrotchLength, HipGirth, InsideLegHeight, WaistGirth, WaistHeight};
        let of = |values: &[(Measure, f64)]| {
            let mut measures = Measures::new();
            values.iter().for_each(|(measure, value)| measures.set(*measure, *value));
            measures.faults()
        };
        let right =
            [(WaistGirth, 760.0), (HipGirth, 1010.0), (WaistHeight, 1040.0), (CrotchLength, 700.0)];
        let wrong = of(&[right[0], right[1], right[2], right[3], (InsideLegHeight, 0.0)]);
        assert_eq!(wrong.len(), 1, "the rise that follows from it is not told: {wrong:?}");
        let wrong = of(&[right[0], (HipGirth, 10.0), right[2], (InsideLegHeight, 9.0)]);
        let named: Vec<Measure> = wrong.iter().map(MeasureError::measure).collect();
        assert_eq!(named.len(), 3, "{wrong:?}");
        assert!([HipGirth, InsideLegHeight, CrotchLength].iter().all(|m| named.contains(m)));
        let pair = of(&[right[0], right[1], right[2], right[3], (InsideLegHeight, 1039.0)]);
        assert!(matches!(pair[0], MeasureError::Contradiction { .. }), "{pair:?}");
        assert!(of(&[right[0], right[1], right[2], right[3], (InsideLegHeight, 780.0)]).is_empty());
    }
}
