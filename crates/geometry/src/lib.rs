//! Plane geometry of curves, in millimetres, y up, x to the right.
//!
//! This crate knows nothing of trousers: it has chains of line, quadratic and
//! cubic segments, their exact lengths, splits, crossings, offsets and rigid
//! moves, and the fairing tools the trade's geometry is built from. No curve is
//! ever flattened to be measured.

mod blend;
pub mod camera;
mod chain;
mod crossing;
mod curvature;
mod error;
mod line_roots;
mod offset;
pub mod places;
mod profile;
mod rigid;
mod root;
pub mod tolerance;
pub mod units;
mod winding;
pub mod words;

pub use blend::{blend_corner, hermite};
pub use chain::{Chain, Nearest};
pub use crossing::Crossing;
pub use curvature::{bend_between, bends_one_way};
pub use error::GeometryError;
pub use kurbo::{Affine, BezPath, CubicBez, Line, PathEl, PathSeg, Point, QuadBez, Rect, Vec2};
pub use profile::Profile;
pub use rigid::{angle_between, lay_along, lay_segment, turn_about, turned};
pub use root::{bracketed_root, smallest};
pub use winding::{winding, winding_of};
