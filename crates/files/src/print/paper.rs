//! The papers.

use super::PrintError;
use hangtrue_adjust::PaperName;
use hangtrue_geometry::units::{Unit, show_length};
use hangtrue_geometry::words::Length;

/// Width and height, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Size {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

impl Size {
    /// The size turned by a quarter.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

/// What is printed on. A sizes by ISO 216; Letter by ANSI/ASME Y14.1 (size A,
/// 8.5 in × 11 in).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Paper {
    /// 210 mm × 297 mm.
    A4,
    /// 297 mm × 420 mm.
    A3,
    /// 841 mm × 1189 mm.
    A0,
    /// 8.5 in × 11 in.
    Letter,
    /// A roll of any width, cut as long as needed. The grain runs along it.
    Roll {
        /// Width of the roll, mm.
        width_mm: f64,
    },
}

/// The longest length cut off a roll at once, mm. ISO 32000 (Annex C) limits a
/// page to 14 400 units of 1/72 in, 5080 mm.
pub(crate) const LONGEST: f64 = 5000.0;

/// The narrowest roll, mm: the first sheet's test squares and map must fit.
pub(crate) const NARROWEST: f64 = 210.0;

impl Paper {
    /// Reads a paper's name: `A4`, `a3`, `A0`, `letter`, `roll 914` or
    /// `roll 36 in`. None when it is not one.
    pub fn named(text: &str) -> Option<Self> {
        let plain = text.trim().to_lowercase();
        match plain.as_str() {
            "a4" => Some(Self::A4),
            "a3" => Some(Self::A3),
            "a0" => Some(Self::A0),
            "letter" => Some(Self::Letter),
            _ => {
                let width = plain.strip_prefix("roll")?.trim_start_matches([' ', ':', '=']);
                let read = hangtrue_pattern::units::read_length;
                let width_mm = read(width, hangtrue_pattern::units::Unit::Mm).ok()?;
                Some(Self::Roll { width_mm })
            }
        }
    }

    /// The paper of a project's settings; `width_mm` is that of a roll.
    pub fn of(name: PaperName, width_mm: f64) -> Self {
        match name {
            PaperName::A4 => Self::A4,
            PaperName::A3 => Self::A3,
            PaperName::A0 => Self::A0,
            PaperName::Letter => Self::Letter,
            PaperName::Roll => Self::Roll { width_mm },
        }
    }

    /// The name in words, lengths in mm.
    pub fn name(self) -> String {
        self.name_in(Unit::Mm)
    }

    /// The name in words, lengths in the maker's unit.
    pub fn name_in(self, unit: Unit) -> String {
        match self {
            Self::A4 => "A4".into(),
            Self::A3 => "A3".into(),
            Self::A0 => "A0".into(),
            Self::Letter => "Letter".into(),
            Self::Roll { width_mm } => format!("roll {} wide", show_length(width_mm, unit)),
        }
    }

    /// The upright size, mm; none for a roll, whose length is free.
    pub fn size(self) -> Option<Size> {
        match self {
            Self::A4 => Some(Size { width: 210.0, height: 297.0 }),
            Self::A3 => Some(Size { width: 297.0, height: 420.0 }),
            Self::A0 => Some(Size { width: 841.0, height: 1189.0 }),
            Self::Letter => Some(Size { width: 215.9, height: 279.4 }),
            Self::Roll { .. } => None,
        }
    }

    /// Whether the pattern usually fits one or two sheets, so that the test
    /// squares are printed beside it and not on a sheet of their own.
    pub(crate) fn is_large(self) -> bool {
        matches!(self, Self::A0 | Self::Roll { .. })
    }

    /// The page sizes to choose from for a drawing of the given height, mm.
    ///
    /// # Errors
    /// [`PrintError::Roll`] for a width that cannot be used.
    pub(crate) fn pages(self, height: f64, margin: f64) -> Result<Vec<Size>, PrintError> {
        if let Self::Roll { width_mm } = self {
            if !(NARROWEST..=LONGEST).contains(&width_mm) {
                return Err(PrintError::Roll {
                    asked: Length(width_mm),
                    least: Length(NARROWEST),
                    most: Length(LONGEST),
                });
            }
            let length = (height + 2.0 * margin).ceil().clamp(NARROWEST, LONGEST);
            return Ok(vec![Size { width: width_mm, height: length }]);
        }
        let upright = self.size().unwrap_or(Size { width: 210.0, height: 297.0 });
        Ok(vec![upright, upright.turned()])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_a_size_halves_to_the_next_and_a0_is_a_square_metre() {
        // ISO 216: each size is the one before cut across, rounded down to whole
        // mm; A0 has an area of 1 m² to rounding.
        let (mut w, mut h) = (841.0f64, 1189.0f64);
        assert!((w * h / 1e6 - 1.0).abs() < 1e-3);
        for _ in 0..3 {
            (w, h) = ((h / 2.0).floor(), w);
        }
        assert_eq!(Paper::A3.size(), Some(Size { width: w, height: h }));
        (w, h) = ((h / 2.0).floor(), w);
        assert_eq!(Paper::A4.size(), Some(Size { width: w, height: h }));
    }

    #[test]
    fn papers_are_read_by_name() {
        assert_eq!(Paper::named(" A4"), Some(Paper::A4));
        assert_eq!(Paper::named("roll 914"), Some(Paper::Roll { width_mm: 914.0 }));
        let inches = Paper::named("roll 36 in");
        assert!(
            matches!(inches, Some(Paper::Roll { width_mm }) if (width_mm - 914.4).abs() < 1e-9)
        );
        assert_eq!(Paper::named("A9"), None);
        assert_eq!(Paper::named("roll"), None);
    }

    #[test]
    fn a_roll_must_have_a_usable_width() {
        for width_mm in [f64::NAN, 0.0, -3.0, 150.0, 1e9] {
            let fault = Paper::Roll { width_mm }.pages(100.0, 10.0);
            assert!(matches!(fault, Err(PrintError::Roll { .. })), "{width_mm}");
        }
    }
}
