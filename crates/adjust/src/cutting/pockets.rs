//! Pockets that are cut, and their sizes where they are not the usual ones.

use hangtrue_geometry::units::{Unit, round_in};
use serde::{Deserialize, Serialize};

/// A pocket at the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FrontPocket {
    /// None.
    #[default]
    None,
    /// Its opening slants from the waist to the side seam.
    Slant,
    /// It opens in the side seam.
    SideSeam,
    /// Its opening is curved, from the waist to the side seam.
    Jeans,
}

impl FrontPocket {
    /// Every one.
    pub const ALL: [Self; 4] = [Self::None, Self::Slant, Self::SideSeam, Self::Jeans];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Slant => "slant",
            Self::SideSeam => "in the side seam",
            Self::Jeans => "jeans, curved",
        }
    }

    /// The usual sizes, round in the unit. Common practice, no published source.
    pub fn usual(self, unit: Unit) -> FrontSizes {
        let round = |mm, inches| round_in(unit, (mm, inches));
        match self {
            Self::None | Self::Slant => FrontSizes {
                along: round(50.0, 2.0),
                down: round(170.0, 6.75),
                bag_wide: round(160.0, 6.25),
                bag_deep: round(290.0, 11.5),
            },
            Self::SideSeam => FrontSizes {
                along: round(40.0, 1.5),
                down: round(160.0, 6.25),
                bag_wide: round(160.0, 6.25),
                bag_deep: round(300.0, 12.0),
            },
            Self::Jeans => FrontSizes {
                along: round(100.0, 4.0),
                down: round(75.0, 3.0),
                bag_wide: round(150.0, 6.0),
                bag_deep: round(240.0, 9.5),
            },
        }
    }
}

/// Sizes of a front pocket, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrontSizes {
    /// Along the waist from the side seam to the opening; for one in the side seam, down from
    /// the waist to it.
    pub along: f64,
    /// Down the side seam from the waist to the opening's end; for one in the side seam, how
    /// long it is open.
    pub down: f64,
    /// Width of the bag at the waist.
    pub bag_wide: f64,
    /// Depth of the bag below the waist.
    pub bag_deep: f64,
}

/// A pocket on the back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BackPocket {
    /// None.
    #[default]
    None,
    /// Cut in, with a welt.
    Welt,
    /// Sewn on.
    Patch,
}

impl BackPocket {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::None, Self::Welt, Self::Patch];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Welt => "welt",
            Self::Patch => "patch",
        }
    }

    /// The usual sizes, round in the unit. Common practice, no published source.
    pub fn usual(self, unit: Unit) -> BackSizes {
        let round = |mm, inches| round_in(unit, (mm, inches));
        match self {
            Self::None | Self::Welt => BackSizes {
                wide: round(130.0, 5.0),
                below: round(70.0, 2.75),
                deep: round(140.0, 5.5),
                edge: round(10.0, 0.375),
            },
            Self::Patch => BackSizes {
                wide: round(140.0, 5.5),
                below: round(75.0, 3.0),
                deep: round(150.0, 6.0),
                edge: round(25.0, 1.0),
            },
        }
    }
}

/// Sizes of a back pocket, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BackSizes {
    /// Width of the opening.
    pub wide: f64,
    /// How far it lies below the waist.
    pub below: f64,
    /// Depth below the opening.
    pub deep: f64,
    /// Height of the welt, or of the patch's hem.
    pub edge: f64,
}

/// The pockets that are cut. Lengths in mm; none is the usual.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Pockets {
    /// At the front.
    pub front: FrontPocket,
    /// On the back.
    pub back: BackPocket,
    /// See [`FrontSizes::along`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_along: Option<f64>,
    /// See [`FrontSizes::down`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front_down: Option<f64>,
    /// See [`BackSizes::wide`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_wide: Option<f64>,
    /// See [`BackSizes::below`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_below: Option<f64>,
    /// See [`BackSizes::deep`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_deep: Option<f64>,
    /// See [`BackSizes::edge`].
    #[serde(skip_serializing_if = "Option::is_none")]
    pub back_edge: Option<f64>,
}

impl Pockets {
    /// Whether none is cut.
    pub fn is_none(&self) -> bool {
        self.front == FrontPocket::None && self.back == BackPocket::None
    }

    /// Chooses the pocket at the front; another one has its own usual sizes.
    pub fn choose_front(&mut self, front: FrontPocket) {
        if front != self.front {
            (self.front_along, self.front_down) = (None, None);
        }
        self.front = front;
    }

    /// Chooses the pocket on the back; another one has its own usual sizes.
    pub fn choose_back(&mut self, back: BackPocket) {
        if back != self.back {
            (self.back_wide, self.back_below) = (None, None);
            (self.back_deep, self.back_edge) = (None, None);
        }
        self.back = back;
    }
}
