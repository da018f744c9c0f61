//! What a maker marks on a photo of the worn toile.

use hangtrue_geometry::Point;
use serde::{Deserialize, Serialize};

/// From where the wearer is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum View {
    /// From behind.
    Back,
    /// From the front.
    Front,
    /// The wearer's left side.
    LeftSide,
    /// The wearer's right side.
    RightSide,
}

/// What tells level, once in a photo.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// A plumb line or the side of a door frame: its upper and lower place.
    Plumb(Point, Point),
    /// Two places on a level floor edge or skirting, square to the view: left and
    /// right.
    Floor(Point, Point),
    /// Nothing: the camera's own level is believed, and said to be unsure.
    Camera,
}

/// What tells how high the lens looks, which decides how bent a level line on a
/// round leg appears.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[serde(rename_all = "snake_case")]
pub enum Horizon {
    /// The lens was so high above the floor, mm, and the wearer's heels stand at
    /// this place.
    Floor {
        /// Height of the lens above the floor, mm.
        lens_height: f64,
        /// A place on the floor under the middle of the body.
        heels: Point,
    },
    /// The camera is believed to have looked straight ahead, and that is unsure.
    Middle,
}

/// A length along the grain known from the pattern, seen in the photo between two
/// traced lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownLength {
    /// The upper traced line: its name and leg.
    pub upper: (String, LegSeen),
    /// Where the grain crosses it.
    pub upper_at: Point,
    /// The lower traced line.
    pub lower: (String, LegSeen),
    /// Where the grain crosses it.
    pub lower_at: Point,
    /// The length between them along the grain, mm.
    pub length: f64,
}

/// Which part of the wearer a traced line runs over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LegSeen {
    /// The wearer's left leg.
    Left,
    /// The wearer's right leg.
    Right,
    /// Both, across the whole body.
    Both,
}

/// A reference line as it hangs in the photo.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TracedLine {
    /// The line's name in the pattern.
    pub name: String,
    /// The leg.
    pub leg: LegSeen,
    /// Round the body or the leg at the line, mm: known from the pattern.
    pub girth: f64,
    /// Places along it from one edge of the body to the other: from the inseam to
    /// the side on one leg, from the left of the photo to its right over both. The
    /// first and the last are where it goes out of sight.
    pub points: Vec<Point>,
    /// Where it was clicked, when the places were then followed in the picture: what was
    /// followed and does not go through the clicks may be a shadow.
    #[serde(default)]
    pub clicks: Vec<Point>,
    /// How sure a place is, pixels (one standard deviation): about 2 for a click,
    /// less where it was drawn to the middle of the dark line.
    pub sigma: f64,
    /// How sure the first and the last place are across the picture, pixels: about
    /// 2 for clicks, less where they were drawn to the edge of the body.
    pub edge_sigma: f64,
    /// Whether its inner end lies against the other leg.
    #[serde(default)]
    pub pressed: bool,
    /// How long it is on its piece from seam to seam, mm, over both legs from side to side;
    /// without that the edges of sight are taken for the seams.
    #[serde(default)]
    pub sewn_length: Option<f64>,
}

/// A photo of the worn toile with what was marked on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WornPhoto {
    /// From where the wearer is seen.
    pub view: View,
    /// Width and height of the picture, pixels.
    pub size: (f64, f64),
    /// Rows of the camera's picture that were cut off above, pixels: the lens looked
    /// at the middle of the whole.
    #[serde(default)]
    pub cut_above: f64,
    /// What tells level.
    pub level: Level,
    /// What tells how high the lens looks.
    pub horizon: Horizon,
    /// From the lens to the middle of the body, mm, as paced or taped.
    pub distance: f64,
    /// What tells the scale.
    pub known: KnownLength,
    /// The lines.
    pub lines: Vec<TracedLine>,
}

impl WornPhoto {
    /// A traced line by name and leg.
    pub fn line(&self, name: &str, leg: LegSeen) -> Option<&TracedLine> {
        self.lines.iter().find(|l| l.name == name && l.leg == leg)
    }
}
