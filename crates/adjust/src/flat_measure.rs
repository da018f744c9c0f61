//! What a measure of the flat pattern is the measure of: which piece, which leg, which
//! quantity. Its words are made of it; nothing is read out of its words.

use hangtrue_pattern::{Leg, Pattern, names};
use serde::{Serialize, Serializer};
use std::fmt;

/// What a measure counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// mm.
    Length,
    /// mm².
    Area,
    /// Degrees.
    Angle,
}

/// A measure of one leg: of its back and front together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LegMeasure {
    /// Round the hem.
    Hem,
    /// The crotch seams of back and front.
    CrotchSeam,
    /// Along the thigh line.
    Thigh,
    /// Along the knee line.
    Knee,
}

/// A measure taken from a flat pattern, as a maker would with a tape.
///
/// ```
/// use hangtrue_adjust::{FlatMeasure, LegMeasure, Quantity};
/// use hangtrue_pattern::Leg;
///
/// let seam = FlatMeasure::seam("back", "inseam");
/// assert_eq!(seam.to_string(), "inseam of the back");
/// assert_eq!(seam.quantity(), Quantity::Length);
/// let hem = FlatMeasure::OfLeg { of: LegMeasure::Hem, leg: Some(Leg::Left) };
/// assert_eq!(hem.to_string(), "hem, left leg");
/// // A piece may be called anything: a measure is known by what it is, not by its words.
/// let odd = FlatMeasure::seam("area (mm²)", "lean");
/// assert_eq!(odd.quantity(), Quantity::Length);
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum FlatMeasure {
    /// The sewn length of a seam.
    Seam {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
    },
    /// The area within the outline of that piece.
    Area(String),
    /// The lean of the centre seam of that piece from its grain.
    CentreLean(String),
    /// From the waist at the side down to the crotch point of that piece, along the grain.
    CrotchDepth(String),
    /// Round the whole garment at the waist.
    Waist,
    /// Round the whole garment along the hip line on paper.
    HipOnPaper,
    /// Of one leg.
    OfLeg {
        /// What of it.
        of: LegMeasure,
        /// Which; none while the pieces serve both legs.
        leg: Option<Leg>,
    },
}

impl LegMeasure {
    fn what(self) -> &'static str {
        match self {
            Self::Hem => "hem",
            Self::CrotchSeam => "crotch seam, front and back",
            Self::Thigh => "thigh at its line",
            Self::Knee => "knee at its line",
        }
    }

    /// What it is of one leg, as it is told of both at once.
    fn of_either(self) -> &'static str {
        match self {
            Self::CrotchSeam => "",
            Self::Hem | Self::Thigh | Self::Knee => ", one leg",
        }
    }
}

impl FlatMeasure {
    /// The girth along the knee line, as long as the pieces serve both legs.
    pub(crate) const KNEE: Self = Self::OfLeg { of: LegMeasure::Knee, leg: None };

    /// The sewn length of a seam.
    pub fn seam(piece: &str, seam: &str) -> Self {
        Self::Seam { piece: piece.to_owned(), seam: seam.to_owned() }
    }

    /// What it counts.
    pub fn quantity(&self) -> Quantity {
        match self {
            Self::Area(_) => Quantity::Area,
            Self::CentreLean(_) => Quantity::Angle,
            Self::Seam { .. }
            | Self::CrotchDepth(_)
            | Self::Waist
            | Self::HipOnPaper
            | Self::OfLeg { .. } => Quantity::Length,
        }
    }

    /// Whether it is a length.
    pub fn is_length(&self) -> bool {
        self.quantity() == Quantity::Length
    }

    /// The piece it is taken on; none when it goes over several.
    pub fn piece(&self) -> Option<&str> {
        match self {
            Self::Seam { piece, .. }
            | Self::Area(piece)
            | Self::CentreLean(piece)
            | Self::CrotchDepth(piece) => Some(piece),
            Self::Waist | Self::HipOnPaper | Self::OfLeg { .. } => None,
        }
    }

    /// Its words without the piece it is taken on.
    pub fn what(&self) -> String {
        match self {
            Self::Seam { seam, .. } => seam.clone(),
            Self::Area(_) => "area".to_owned(),
            Self::CentreLean(_) => "centre seam lean".to_owned(),
            Self::CrotchDepth(_) => "crotch depth".to_owned(),
            Self::Waist => format!("{}, whole", names::WAIST),
            Self::HipOnPaper => "hip at its line, whole".to_owned(),
            Self::OfLeg { of, leg: None } => format!("{}{}", of.what(), of.of_either()),
            Self::OfLeg { of, leg: Some(leg) } => format!("{}, {} leg", of.what(), leg.word()),
        }
    }

    /// Its words with the unit its plain number is in, where that is not mm. So it is
    /// called in what other programs read.
    pub fn with_unit(&self) -> String {
        match self.quantity() {
            Quantity::Length => self.to_string(),
            Quantity::Area => format!("{self} (mm²)"),
            Quantity::Angle => format!("{self} (degrees)"),
        }
    }

    /// The measure of the parted pattern that a measure taken on one leg alone is.
    pub(crate) fn on_leg(self, apart: &Pattern, leg: Leg) -> Self {
        let named =
            |piece: String| apart.piece_for(leg, &piece).map_or(piece.clone(), str::to_owned);
        match self {
            Self::Seam { piece, seam } => Self::Seam { piece: named(piece), seam },
            Self::Area(piece) => Self::Area(named(piece)),
            Self::CentreLean(piece) => Self::CentreLean(named(piece)),
            Self::CrotchDepth(piece) => Self::CrotchDepth(named(piece)),
            Self::OfLeg { of, .. } => Self::OfLeg { of, leg: Some(leg) },
            Self::Waist | Self::HipOnPaper => self,
        }
    }
}

impl fmt::Display for FlatMeasure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.piece() {
            Some(piece) => write!(f, "{} of the {piece}", self.what()),
            None => f.write_str(&self.what()),
        }
    }
}

/// Written by its words, with the unit.
impl Serialize for FlatMeasure {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.with_unit())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{sample, take_measures};

    #[test]
    fn every_measure_of_a_pattern_has_words_of_its_own() {
        let whole = sample::pattern();
        for pattern in [whole.apart().unwrap(), whole] {
            let mut words: Vec<String> =
                take_measures(&pattern).iter().map(|t| t.measure.to_string()).collect();
            let count = words.len();
            words.sort();
            words.dedup();
            assert_eq!(words.len(), count);
        }
    }

    #[test]
    fn the_unit_is_written_only_for_what_is_no_length() {
        let written = |m: FlatMeasure| crate::ron_text::written(&m).unwrap();
        assert_eq!(written(FlatMeasure::Area("back".into())), "\"area of the back (mm²)\"");
        let lean = FlatMeasure::CentreLean("back".into());
        assert_eq!(written(lean), "\"centre seam lean of the back (degrees)\"");
        assert_eq!(written(FlatMeasure::Waist), "\"waist, whole\"");
        assert_eq!(written(FlatMeasure::KNEE), "\"knee at its line, one leg\"");
    }

    #[test]
    fn a_piece_named_like_a_quantity_changes_nothing() {
        let mut pattern = sample::pattern();
        let old = pattern.pieces[0].name.clone();
        pattern.piece_mut(&old).unwrap().name = "area (degrees)".into();
        for taken in take_measures(&pattern) {
            if matches!(taken.measure, FlatMeasure::Seam { .. }) {
                assert!(taken.measure.is_length(), "{}", taken.measure);
            }
        }
    }
}
