//! The part of the cloth pieces may lie on.

use crate::LayError;
use crate::outline::CLEAR;
use hangtrue_adjust::{ClothLay, Shrinkage};
use hangtrue_geometry::units::INCH;
use hangtrue_geometry::words::Length;

/// A piece that is not cut on the fold keeps so far from it, mm: what lies across it cannot be
/// cut twice. Our own choice.
pub const FOLD_CLEAR: f64 = 5.0;

/// Narrowest and widest cloth, mm: a ribbon and a wide curtain cloth (memory).
const WIDTHS: (f64, f64) = (100.0, 4000.0);
/// Widest selvedge, mm.
const SELVEDGES: (f64, f64) = (0.0, 100.0);
/// Shortest and longest repeat of a print, mm.
const REPEATS: (f64, f64) = (0.25 * INCH, 1500.0);
/// Farthest apart, mm.
const APART: (f64, f64) = (0.0, 50.0);
/// What washing may take, percent: less than none is not washing.
const WASHED: (f64, f64) = (0.0, 25.0);

/// Where pieces may lie, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bed {
    /// From the fold, or from one selvedge, to the other.
    pub across: f64,
    /// The lowest place of a piece that is not on the fold.
    pub low: f64,
    /// The highest place of any piece.
    pub high: f64,
    /// Whether y = 0 is a fold.
    pub folded: bool,
    /// Whether pieces may lie either way up.
    pub may_turn: bool,
    /// The repeat pieces are matched to.
    pub repeat: Option<f64>,
    /// Least distance of two pieces.
    pub apart: f64,
}

impl Bed {
    /// The bed a cloth gives.
    ///
    /// # Errors
    /// [`LayError`] with the length that cannot be meant.
    pub fn of(cloth: &ClothLay) -> Result<Self, LayError> {
        within("a cloth", cloth.width, WIDTHS)?;
        within("a selvedge", cloth.selvedge, SELVEDGES)?;
        within("a distance between pieces", cloth.apart, APART)?;
        if let Some(repeat) = cloth.repeat {
            within("a repeat", repeat, REPEATS)?;
        }
        washed(cloth.washed)?;
        let across = cloth.width_to_lay() * if cloth.folded { 0.5 } else { 1.0 };
        let low = if cloth.folded { FOLD_CLEAR } else { cloth.selvedge };
        let high = across - cloth.selvedge;
        Ok(Self {
            across,
            low,
            high,
            folded: cloth.folded,
            may_turn: cloth.may_turn(),
            repeat: cloth.repeat,
            apart: cloth.apart.max(CLEAR),
        })
    }

    /// What is free across, mm.
    pub fn free(&self) -> f64 {
        self.high - self.low
    }

    /// How many layers of cloth lie on each other.
    pub fn layers(&self) -> f64 {
        if self.folded { 2.0 } else { 1.0 }
    }
}

fn washed(washed: Shrinkage) -> Result<(), LayError> {
    let (least, most) = WASHED;
    for (of, percent) in [("length", washed.lengthwise), ("width", washed.crosswise)] {
        if !(least..=most).contains(&percent) {
            return Err(LayError::Washed { of, percent, least, most });
        }
    }
    Ok(())
}

fn within(what: &'static str, asked: f64, limits: (f64, f64)) -> Result<(), LayError> {
    let (least, most) = limits;
    if (least..=most).contains(&asked) {
        return Ok(());
    }
    Err(LayError::Amount { what, asked: Length(asked), least: Length(least), most: Length(most) })
}
