//! The cutting list: how many of each piece, of what cloth.

use std::fmt;

/// What a piece is cut of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cloth {
    /// The cloth of the trousers.
    Main,
    /// Interfacing.
    Interfacing,
    /// Lining.
    Lining,
    /// Pocketing.
    Pocketing,
}

impl Cloth {
    /// All, in the order of the list.
    pub const ALL: [Self; 4] = [Self::Main, Self::Interfacing, Self::Lining, Self::Pocketing];

    /// Its word on a piece.
    pub fn word(self) -> &'static str {
        match self {
            Self::Main => "cloth",
            Self::Interfacing => "interfacing",
            Self::Lining => "lining",
            Self::Pocketing => "pocketing",
        }
    }
}

/// How many are cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// One and its mirror image.
    Pair,
    /// Two and their mirror images: outside and inside of a band.
    TwoPairs,
    /// One; turned over it would be another.
    One,
}

impl Quantity {
    /// How many pieces of cloth that gives.
    pub fn count(self) -> usize {
        match self {
            Self::Pair => 2,
            Self::TwoPairs => 4,
            Self::One => 1,
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Pair => "cut 2 (pair)",
            Self::TwoPairs => "cut 4 (two pairs)",
            Self::One => "cut 1, this side up",
        })
    }
}

/// How many are cut of one cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToCut {
    /// How many.
    pub quantity: Quantity,
    /// Of what.
    pub cloth: Cloth,
}

impl fmt::Display for ToCut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} · {}", self.quantity, self.cloth.word())
    }
}
