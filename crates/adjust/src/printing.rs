//! How the pieces of a project are printed, and what was printed last. It stays with
//! the project, so that the next sheets are like those before.

use crate::usual::is_usual;
use hangtrue_geometry::units::INCH;
use hangtrue_geometry::units::Unit;
use serde::{Deserialize, Serialize};

/// A paper by its name; what it measures is known to whoever prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum PaperName {
    /// 210 mm × 297 mm.
    A4,
    /// 297 mm × 420 mm.
    A3,
    /// 841 mm × 1189 mm.
    A0,
    /// 8.5 in × 11 in.
    Letter,
    /// A roll, whose width is said beside.
    Roll,
}

impl PaperName {
    /// All of them, as they are offered wherever paper is chosen.
    pub const ALL: [Self; 5] = [Self::A4, Self::Letter, Self::A3, Self::A0, Self::Roll];

    /// What it is called where it is chosen.
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::A0 => "A0",
            Self::Letter => "Letter",
            Self::Roll => "a roll",
        }
    }
}

/// What the maker chose for printing; what was not chosen is [`Usual`] in the
/// project's unit.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Printing {
    /// The paper.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paper: Option<PaperName>,
    /// Width of a roll, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roll: Option<f64>,
    /// The edge left free on each sheet, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin: Option<f64>,
    /// How far sheets overlap, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overlap: Option<f64>,
    /// Whether seam allowance is drawn.
    #[serde(skip_serializing_if = "is_usual")]
    pub with_allowance: bool,
    /// The allowance on seams, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub allowance: Option<f64>,
    /// The allowance on the hem, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hem: Option<f64>,
    /// Whether names of seams and corners are left out.
    #[serde(skip_serializing_if = "is_usual")]
    pub without_names: bool,
    /// The mark of the project as it was printed last, by which it is known again.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub printed: Option<String>,
}

impl Printing {
    /// Whether nothing was chosen or printed.
    pub fn is_usual(&self) -> bool {
        is_usual(self)
    }
}

/// What is printed with where nothing else was chosen, in round numbers of the unit.
/// The lengths are common practice; there is no published source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Usual {
    /// The paper.
    pub paper: PaperName,
    /// Width of a roll, mm.
    pub roll: f64,
    /// The edge left free on each sheet, mm.
    pub margin: f64,
    /// How far sheets overlap, mm.
    pub overlap: f64,
    /// The allowance on seams, mm.
    pub allowance: f64,
    /// The allowance on the hem, mm.
    pub hem: f64,
}

impl Usual {
    /// The usual where lengths are shown so.
    pub fn of(unit: Unit) -> Self {
        match unit.denominator() {
            None => Self {
                paper: PaperName::A4,
                roll: 900.0,
                margin: 10.0,
                overlap: 15.0,
                allowance: 15.0,
                hem: 40.0,
            },
            Some(_) => Self {
                paper: PaperName::Letter,
                roll: 36.0 * INCH,
                margin: 3.0 / 8.0 * INCH,
                overlap: 5.0 / 8.0 * INCH,
                allowance: 5.0 / 8.0 * INCH,
                hem: 1.5 * INCH,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_geometry::units::show_length;

    #[test]
    fn the_usual_is_round_in_every_unit() {
        for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
            let Usual { roll, margin, overlap, allowance, hem, .. } = Usual::of(unit);
            for mm in [roll, margin, overlap, allowance, hem] {
                assert!(!show_length(mm, unit).contains('≈'), "{mm} in {unit:?}");
                assert!(unit.denominator().is_some() || mm % 5.0 == 0.0, "{mm}");
            }
        }
    }

    #[test]
    fn what_was_not_chosen_is_not_written() {
        let text = crate::ron_text::written(&Printing::default()).unwrap();
        assert_eq!(text, "()");
        let read: Printing = crate::ron_text::read("(paper:Some(A3),with_allowance:true)").unwrap();
        assert_eq!((read.paper, read.with_allowance), (Some(PaperName::A3), true));
    }
}
