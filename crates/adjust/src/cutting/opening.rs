//! What opens the trousers, and its sizes where they are not the usual ones.

use crate::usual::is_usual;
use hangtrue_pattern::Leg;
use serde::{Deserialize, Serialize};

/// How the trousers are opened.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub enum Closure {
    /// Not at all: they are pulled on.
    #[default]
    None,
    /// A fly at the centre front.
    Fly {
        /// The leg that lies on top.
        over: Leg,
    },
    /// A zip in a side seam.
    SideZip {
        /// The leg.
        leg: Leg,
    },
    /// A zip in the centre back.
    BackZip,
}

impl Closure {
    /// Every closure: pulled on, front fly with the left leg on top, zip in the left side,
    /// zip at the back (common practice, no published source).
    pub const ALL: [Self; 4] = [
        Self::None,
        Self::Fly { over: Leg::Left },
        Self::SideZip { leg: Leg::Left },
        Self::BackZip,
    ];

    /// Its name for the maker.
    pub fn name(self) -> &'static str {
        match self {
            Self::None => "pull-on",
            Self::Fly { .. } => "front fly",
            Self::SideZip { .. } => "side zip",
            Self::BackZip => "back zip",
        }
    }
}

/// How what opens the trousers is cut. Lengths in mm; none is the usual.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Opening {
    /// The facing of a fly is cut in one with the front; a zip's seam has a wide allowance
    /// as far as it is open.
    #[serde(skip_serializing_if = "is_usual")]
    pub cut_on: bool,
    /// How far it opens below the waist, along the seam.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<f64>,
    /// Width of a fly's facing, or of a zip's wide allowance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<f64>,
}
