//! How the pieces are laid on the cloth: what is chosen for each cloth, and where pieces
//! were put. It stays with the project; the pieces laid are made anew from the pattern.

use crate::usual::is_usual;
use hangtrue_geometry::units::{INCH, Unit, round_in};
use serde::{Deserialize, Serialize};

/// Which way up the pieces may lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Nap {
    /// Either: the cloth looks the same from both ends.
    #[default]
    BothWays,
    /// All the same: the cloth has a nap, a sheen, or a print that has an up and a down.
    OneWay,
}

/// What a cloth loses in length and width, in percent; less than none where it grows.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Shrinkage {
    /// Along the grain, percent.
    #[serde(skip_serializing_if = "is_usual")]
    pub lengthwise: f64,
    /// Across the grain, percent.
    #[serde(skip_serializing_if = "is_usual")]
    pub crosswise: f64,
}

impl Shrinkage {
    /// The most a cloth may grow and shrink, percent. Beyond it a number is likelier typed
    /// wrongly than true: from memory, no published source.
    pub const LIMITS: (f64, f64) = (-40.0, 25.0);

    /// Whether nothing is lost or gained.
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }

    /// In length and in width, percent.
    pub fn percents(&self) -> [f64; 2] {
        [self.lengthwise, self.crosswise]
    }

    /// How many times as long and as wide a piece is made, so that it is as meant once the
    /// cloth has lost or gained its part.
    pub fn times(&self) -> (f64, f64) {
        let times = |percent: f64| 1.0 / (1.0 - percent / 100.0);
        (times(self.lengthwise), times(self.crosswise))
    }

    /// The first of the two that lies outside the limits, and which it is.
    pub fn fault(&self) -> Option<(&'static str, f64)> {
        let (least, most) = Self::LIMITS;
        [("length", self.lengthwise), ("width", self.crosswise)]
            .into_iter()
            .find(|(_, percent)| !(least..=most).contains(percent))
    }

    /// “3 % in length and 1 % in width”: the wanted parts, without their signs.
    fn parts(&self, wanted: impl Fn(f64) -> bool) -> Option<String> {
        let part = |percent: f64, of: &str| {
            wanted(percent).then(|| {
                let number = hangtrue_geometry::units::show_number(percent.abs(), 1);
                format!("{} % in {of}", number.trim_end_matches(".0"))
            })
        };
        let parts: Vec<String> = [part(self.lengthwise, "length"), part(self.crosswise, "width")]
            .into_iter()
            .flatten()
            .collect();
        (!parts.is_empty()).then(|| parts.join(" and "))
    }

    /// “shrinks 3 % in length, stretches 2 % in width”; nothing where nothing changes.
    pub fn told(&self) -> String {
        let shrinks = self.parts(|p| p > 0.0).map(|parts| format!("shrinks {parts}"));
        let grows = self.parts(|p| p < 0.0).map(|parts| format!("stretches {parts}"));
        shrinks.into_iter().chain(grows).collect::<Vec<_>>().join(", ")
    }
}

/// What the cloths beside that of the trousers lose after they are cut; none for one that is
/// cut for the same loss as the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct OwnShrinkage {
    /// Lining.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lining: Option<Shrinkage>,
    /// Interfacing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interfacing: Option<Shrinkage>,
    /// Pocketing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pocketing: Option<Shrinkage>,
}

/// Where a piece was put, mm: its lower left corner as it lies, x along the cloth from
/// its cut end, y from the selvedge, or from the fold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LaidPiece {
    /// The piece.
    pub piece: String,
    /// Which of its copies, from one.
    pub copy: usize,
    /// Along the cloth, mm.
    pub x: f64,
    /// Across the cloth, mm.
    pub y: f64,
    /// Turned by half.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub turned: bool,
    /// Half of it, its middle on the fold.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub on_fold: bool,
}

/// What is chosen for one cloth. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClothLay {
    /// From edge to edge, as bought.
    pub width: f64,
    /// Folded along its middle, selvedge on selvedge, right sides together.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub folded: bool,
    /// Which way up pieces may lie.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub nap: Nap,
    /// After what length a print repeats; none where nothing need be matched.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub repeat: Option<f64>,
    /// What is left free along each selvedge.
    pub selvedge: f64,
    /// What is left free between pieces.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub apart: f64,
    /// What the cloth loses when it is washed or pressed before it is cut.
    #[serde(default, skip_serializing_if = "is_usual")]
    pub washed: Shrinkage,
    /// Where pieces were put.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<LaidPiece>,
}

impl ClothLay {
    /// Whether pieces may lie either way up: not on a nap, nor on a print that is matched.
    pub fn may_turn(&self) -> bool {
        self.nap == Nap::BothWays && self.repeat.is_none()
    }

    /// The width after what is washed out before cutting, mm.
    pub fn width_to_lay(&self) -> f64 {
        self.width * (1.0 - self.washed.crosswise / 100.0)
    }

    /// The length to buy for a length that is laid, mm.
    pub fn length_to_buy(&self, laid: f64) -> f64 {
        laid * self.washed.times().0
    }
}

/// What is chosen for every cloth; none where nothing was.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Lays {
    /// The cloth of the trousers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cloth: Option<ClothLay>,
    /// Lining.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lining: Option<ClothLay>,
    /// Interfacing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interfacing: Option<ClothLay>,
    /// Pocketing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pocketing: Option<ClothLay>,
}

impl Lays {
    /// Whether nothing was chosen.
    pub fn is_usual(&self) -> bool {
        is_usual(self)
    }
}

/// What to begin with, round in the unit, mm. Common practice, no published source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UsualLay {
    /// Width of cloth.
    pub cloth: f64,
    /// Width of lining.
    pub lining: f64,
    /// Width of interfacing.
    pub interfacing: f64,
    /// Width of pocketing.
    pub pocketing: f64,
    /// Left free along a selvedge.
    pub selvedge: f64,
    /// To what length one buys: the next of these.
    pub bought_by: f64,
}

impl UsualLay {
    /// The usual where lengths are shown so.
    pub fn of(unit: Unit) -> Self {
        let round = |mm, inches| round_in(unit, (mm, inches));
        Self {
            cloth: round(1500.0, 60.0),
            lining: round(1400.0, 54.0),
            interfacing: round(900.0, 36.0),
            pocketing: round(1400.0, 54.0),
            selvedge: round(15.0, 5.0 / 8.0),
            bought_by: if unit.denominator().is_none() { 50.0 } else { 4.5 * INCH },
        }
    }

    /// An open cloth of that width.
    pub fn lay(&self, width: f64) -> ClothLay {
        ClothLay {
            width,
            folded: false,
            nap: Nap::BothWays,
            repeat: None,
            selvedge: self.selvedge,
            apart: 0.0,
            washed: Shrinkage::default(),
            pieces: Vec::new(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_geometry::units::show_length;

    #[test]
    fn a_piece_made_longer_shrinks_back_to_its_length() {
        for percent in [-40.0, -5.0, 0.0, 3.0, 25.0] {
            let (long, wide) = Shrinkage { lengthwise: percent, crosswise: -percent / 2.0 }.times();
            assert!((long * 1000.0 * (1.0 - percent / 100.0) - 1000.0).abs() < 1e-9);
            assert!((wide * 1000.0 * (1.0 + percent / 200.0) - 1000.0).abs() < 1e-9);
        }
        let lay = UsualLay::of(Unit::Mm).lay(1500.0);
        let washed = Shrinkage { lengthwise: 5.0, crosswise: 2.0 };
        let lay = ClothLay { washed, ..lay };
        assert!((lay.width_to_lay() - 1470.0).abs() < 1e-9);
        assert!((lay.length_to_buy(1900.0) - 2000.0).abs() < 1e-9);
    }

    #[test]
    fn what_a_cloth_does_is_told_in_words() {
        let told = |lengthwise, crosswise| Shrinkage { lengthwise, crosswise }.told();
        assert_eq!(told(3.0, 1.5), "shrinks 3 % in length and 1.5 % in width");
        assert_eq!(told(3.0, -2.0), "shrinks 3 % in length, stretches 2 % in width");
        assert_eq!(told(0.0, 0.0), "");
        assert!(Shrinkage { lengthwise: 30.0, crosswise: 0.0 }.fault().is_some());
        assert!(Shrinkage { lengthwise: f64::NAN, crosswise: 0.0 }.fault().is_some());
    }

    #[test]
    fn the_usual_is_round_and_what_was_not_chosen_is_not_written() {
        for unit in [Unit::Mm, Unit::Cm, Unit::Eighths, Unit::Sixteenths, Unit::ThirtySeconds] {
            let usual = UsualLay::of(unit);
            for mm in [usual.cloth, usual.lining, usual.interfacing, usual.selvedge] {
                assert!(!show_length(mm, unit).contains('≈'), "{mm} in {unit:?}");
            }
        }
        assert_eq!(crate::ron_text::written(&Lays::default()).unwrap(), "()");
        let lays = Lays { cloth: Some(UsualLay::of(Unit::Mm).lay(1400.0)), ..Lays::default() };
        let text = crate::ron_text::written(&lays).unwrap();
        assert_eq!(text, "(cloth:Some((width:1400.0,selvedge:15.0)))");
        assert_eq!(crate::ron_text::read::<Lays>(&text).unwrap(), lays);
    }
}
