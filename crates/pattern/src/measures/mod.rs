//! The measures of one body.

mod check;
mod measure;

pub use check::MeasureError;
pub use measure::Measure;

use crate::units::{Unit, read_length};
use serde::de::{Error, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use std::collections::BTreeMap;

/// The measures of one body, mm. In a file a map from measure to a number of mm
/// or to a length in words: `{waist_girth: 908, hip_girth: "40 1/8 in"}`.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Measures {
    #[serde(deserialize_with = "read_map")]
    values: BTreeMap<Measure, f64>,
}

impl Measures {
    /// No measures yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// The value as taken, mm.
    pub fn get(&self, measure: Measure) -> Option<f64> {
        self.values.get(&measure).copied()
    }

    /// Sets a value, mm. Anything is taken; [`Self::check`] judges it.
    pub fn set(&mut self, measure: Measure, mm: f64) {
        self.values.insert(measure, mm);
    }

    /// Takes a value away.
    pub fn remove(&mut self, measure: Measure) -> Option<f64> {
        self.values.remove(&measure)
    }

    /// The measures taken, in the order a person is measured.
    pub fn iter(&self) -> impl Iterator<Item = (Measure, f64)> {
        self.values.iter().map(|(&m, &v)| (m, v))
    }

    /// Checks that all needed measures are there, each is a body's, and none
    /// contradicts another.
    ///
    /// # Errors
    /// The first [`MeasureError`] found, naming the measure or both measures.
    pub fn check(&self) -> Result<(), MeasureError> {
        self.faults().into_iter().next().map_or(Ok(()), Err)
    }

    /// All that is wrong with the measures, so that it can be told at once; nothing when
    /// [`Measures::check`] is content.
    pub fn faults(&self) -> Vec<MeasureError> {
        check::faults(self)
    }

    /// The value as taken, or derived from others where it was not taken and a
    /// proportion is known (see `docs/block.md`), mm. The proportions of girths
    /// and of the knee's height are medians of the 1,517 bodies of
    /// `tests/data/ansur2_trousers_dev.csv` (ANSUR II, NATICK/TR-15/007).
    pub fn get_or_derived(&self, measure: Measure) -> Option<f64> {
        if let Some(value) = self.get(measure) {
            return Some(value);
        }
        let part = |fraction: f64, of| self.get_or_derived(of).map(|v| fraction * v);
        match measure {
            Measure::HipHeight => {
                let inside = self.get(Measure::InsideLegHeight)?;
                Some(inside + 0.22 * (self.get(Measure::WaistHeight)? - inside))
            }
            Measure::ThighGirth => part(0.61, Measure::HipGirth),
            Measure::KneeGirth => part(0.655, Measure::ThighGirth),
            Measure::KneeHeight => part(0.576, Measure::InsideLegHeight),
            Measure::CalfGirth => part(0.953, Measure::KneeGirth),
            Measure::AnkleGirth => part(0.583, Measure::CalfGirth),
            Measure::HeelGirth => part(1.484, Measure::AnkleGirth),
            Measure::AnkleHeight => part(0.085, Measure::InsideLegHeight),
            Measure::CrotchLengthFront => {
                Some(self.get(Measure::CrotchLength)? - self.get(Measure::CrotchLengthBack)?)
            }
            Measure::CrotchLengthBack => {
                Some(self.get(Measure::CrotchLength)? - self.get(Measure::CrotchLengthFront)?)
            }
            _ => None,
        }
    }
}

impl FromIterator<(Measure, f64)> for Measures {
    fn from_iter<T: IntoIterator<Item = (Measure, f64)>>(iter: T) -> Self {
        Self { values: iter.into_iter().collect() }
    }
}

/// A value as written: a bare number is mm.
#[derive(Deserialize)]
#[serde(untagged)]
enum Written {
    Mm(f64),
    Words(String),
}

fn read_map<'de, D: Deserializer<'de>>(from: D) -> Result<BTreeMap<Measure, f64>, D::Error> {
    from.deserialize_map(MeasureMap)
}

/// Reads measures one by one, so that one given twice is seen.
struct MeasureMap;

impl<'de> Visitor<'de> for MeasureMap {
    type Value = BTreeMap<Measure, f64>;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("measures and their lengths")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut values = BTreeMap::new();
        while let Some((measure, written)) = map.next_entry::<Measure, Written>()? {
            let mm = match written {
                Written::Mm(mm) => mm,
                Written::Words(text) => read_length(&text, Unit::Mm)
                    .map_err(|e| A::Error::custom(format!("the {measure} cannot be read: {e}")))?,
            };
            if values.insert(measure, mm).is_some() {
                return Err(A::Error::custom(format!("the {measure} stands there twice")));
            }
        }
        Ok(values)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measure_given_twice_is_refused() {
        let twice = "{waist_girth: 700, waist_girth: \"30 in\"}";
        let fault = ron::from_str::<Measures>(twice).unwrap_err().to_string();
        assert!(fault.contains("waist girth stands there twice"), "{fault}");
    }

    fn body() -> Measures {
        let text = r#"{
            stature: 1718, waist_girth: "35 3/4 in", hip_girth: "101.8 cm", waist_height: 1034,
            hip_height: 868, inside_leg_height: 825, crotch_length: 619.5, thigh_girth: 622,
            knee_girth: 405, knee_height: 477,
        }"#;
        ron::from_str(text).unwrap()
    }

    #[test]
    fn reads_numbers_and_words_and_writes_them_back() {
        let body = body();
        assert!((body.get(Measure::WaistGirth).unwrap() - 35.75 * 25.4).abs() < 1e-9);
        assert!((body.get(Measure::HipGirth).unwrap() - 1018.0).abs() < 1e-9);
        let again: Measures = ron::from_str(&ron::to_string(&body).unwrap()).unwrap();
        assert_eq!(again, body);
        assert_eq!(body.check(), Ok(()));
    }

    #[test]
    fn a_length_that_cannot_be_read_names_the_measure() {
        let refused = ron::from_str::<Measures>(r#"{hip_girth: "wide"}"#).unwrap_err();
        assert!(refused.to_string().contains("hip girth"), "{refused}");
    }

    #[test]
    fn not_finite_zero_negative_and_absurd_are_refused_by_name() {
        for measure in Measure::ALL {
            for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 0.0, -90.0, 1e9] {
                let mut body = body();
                body.set(measure, value);
                assert_eq!(body.check().unwrap_err().measure(), measure);
            }
        }
    }

    #[test]
    fn a_missing_measure_is_named() {
        for measure in Measure::REQUIRED {
            let mut body = body();
            body.remove(measure);
            assert_eq!(body.check(), Err(MeasureError::Missing { measure }));
        }
    }

    #[test]
    fn contradictions_name_both_measures_and_values() {
        use Measure::{
            CrotchLength, HipGirth, HipHeight, InsideLegHeight, KneeGirth, KneeHeight, ThighGirth,
            WaistGirth, WaistHeight,
        };
        for (measure, value, other) in [
            (HipHeight, 1040.0, WaistHeight),
            (CrotchLength, 410.0, WaistHeight),
            (ThighGirth, 1020.0, HipGirth),
            (InsideLegHeight, 1034.0, WaistHeight),
            (KneeHeight, 790.0, InsideLegHeight),
            (KneeGirth, 700.0, ThighGirth),
            (WaistGirth, 2000.0, HipGirth),
        ] {
            let mut body = body();
            body.set(measure, value);
            let refused = body.check().unwrap_err();
            assert_eq!((refused.measure(), refused.other()), (measure, Some(other)), "{refused}");
            let words = refused.to_string();
            assert!(words.contains(&format!("{value:.1}")), "{words}");
            assert!(words.contains(&format!("{:.1}", body.get(other).unwrap())), "{words}");
        }
    }
}
