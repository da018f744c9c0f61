//! What the maker says about their photos: the job of tracing, as a file a
//! person can write. Places in a picture are pixels from its upper left corner
//! as it is shown; places on the table are mm, y up.

use super::mark::MarkLook;
use super::sheet::SheetSize;
use hangtrue_geometry::Point;
use hangtrue_geometry::camera::Lens;
use serde::{Deserialize, Serialize};

/// A place in a picture, pixels, or on the table, mm.
pub type Place = (f64, f64);
/// A crossing of a grid, column and row, and where it is seen, pixels.
pub type Crossing = ((i32, i32), Place);

/// Tracing one piece from one photo or several.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TraceJob {
    /// The photos. The first one's marks lay the measure for all.
    pub photos: Vec<PhotoJob>,
    /// The name of the piece; when empty it is proposed by its shape.
    #[serde(default)]
    pub piece: String,
    /// The two ends of the grainline, lower end first.
    #[serde(default)]
    pub grain: Option<GrainSeen>,
    /// How far the curves may lie from the card's edge as seen, mm.
    #[serde(default = "usual_tolerance")]
    pub tolerance: f64,
    /// How high the card's edge may stand above the plane of the marks, mm: what it is
    /// thick, and what it curls.
    #[serde(default, skip_serializing_if = "lies_flat")]
    pub raised: f64,
    /// The names of the seams in the order round the piece from its first
    /// corner, when the proposed ones are not right.
    #[serde(default)]
    pub seams: Vec<String>,
}

fn lies_flat(raised: &f64) -> bool {
    *raised == 0.0
}

fn usual_tolerance() -> f64 {
    USUAL_TOLERANCE
}

/// The usual tolerance of the curves, mm: the breadth of a pencil line.
pub const USUAL_TOLERANCE: f64 = 0.2;

/// The grainline as drawn over a photo.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GrainSeen {
    /// Which photo, from 0.
    #[serde(default)]
    pub photo: usize,
    /// Lower end, pixels.
    pub from: Place,
    /// Upper end, pixels.
    pub to: Place,
}

/// One photo.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PhotoJob {
    /// The file, beside the job or with its own folder.
    pub file: String,
    /// What took it.
    #[serde(default)]
    pub lens: LensKind,
    /// What of known size lies in the plane of the card.
    #[serde(default)]
    pub known: Known,
    /// Marks that other photos show too.
    #[serde(default)]
    pub shared: Vec<SeenMark>,
    /// How far a mark may be from where it was pointed at, pixels.
    #[serde(default = "usual_reach")]
    pub reach: f64,
    /// Where the outline is to be taken from.
    #[serde(default)]
    pub outline: OutlineSeen,
}

fn usual_reach() -> f64 {
    USUAL_REACH
}

/// How far a mark is looked for around the place pointed at, pixels.
pub const USUAL_REACH: f64 = 8.0;

/// What took the photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LensKind {
    /// A flatbed scanner.
    Scanner,
    /// A telephone or a camera that straightens its pictures.
    #[default]
    Camera,
    /// A wide lens that bends straight lines visibly.
    Wide,
}

impl From<LensKind> for Lens {
    fn from(kind: LensKind) -> Self {
        match kind {
            LensKind::Scanner => Self::Flat,
            LensKind::Camera => Self::Usual,
            LensKind::Wide => Self::Wide,
        }
    }
}

/// What of known size lies in the plane.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub enum Known {
    /// A sheet of paper: its corners in order round it, the first two at the
    /// ends of a short side.
    Sheet {
        /// Which.
        sheet: SheetSize,
        /// The corners, pixels.
        corners: [Place; 4],
        /// Use the corners as pointed at, without looking for the paper's edge.
        #[serde(default)]
        as_pointed: bool,
    },
    /// The grid of a cutting mat: at least four of its crossings; the others are
    /// found by themselves.
    Grid {
        /// From line to line, mm.
        pitch: f64,
        /// Some of the crossings: column and row counted from any one of them,
        /// rows upward, and the place, pixels.
        crossings: Vec<Crossing>,
        /// Use only those crossings.
        #[serde(default)]
        only_these: bool,
    },
    /// Marks at known places of the table.
    Places(Vec<PlacedMark>),
    /// Marks with measured distances between them.
    Distances {
        /// The marks.
        marks: Vec<SeenMark>,
        /// From, to, mm.
        distances: Vec<(String, String, f64)>,
    },
    /// Nothing of its own: only marks that other photos show too.
    #[default]
    Shared,
}

/// A mark seen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeenMark {
    /// Its name.
    pub name: String,
    /// Where it is seen, pixels.
    pub seen: Place,
    /// What it looks like.
    #[serde(default)]
    pub look: MarkLook,
}

/// A mark at a known place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlacedMark {
    /// Its name.
    #[serde(default)]
    pub name: String,
    /// Where it is seen, pixels.
    pub seen: Place,
    /// Where it lies on the table, mm.
    pub place: Place,
    /// What it looks like.
    #[serde(default)]
    pub look: MarkLook,
}

/// Where the outline comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum OutlineSeen {
    /// Found by itself round a place on the card, pixels; the middle of the
    /// picture when none is given.
    Card(Option<Place>),
    /// Placed by hand, in order round the piece.
    Placed {
        /// The points.
        points: Vec<OutlinePoint>,
        /// How far the card's edge is looked for from the line through the
        /// points, pixels; 0 takes the line as it is.
        #[serde(default = "usual_reach")]
        snap: f64,
    },
    /// This photo only carries marks from one photo to another.
    Nothing,
}

impl Default for OutlineSeen {
    fn default() -> Self {
        Self::Card(None)
    }
}

/// A point of an outline placed by hand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OutlinePoint {
    /// Where, pixels.
    pub at: Place,
    /// Whether the outline turns sharply here.
    #[serde(default)]
    pub corner: bool,
}

pub(crate) fn point(place: Place) -> Point {
    Point::new(place.0, place.1)
}
