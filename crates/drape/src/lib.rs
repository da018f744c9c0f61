//! The toile settled on a body: predicted, not seen.
//!
//! Millimetres and newtons; x to the wearer's right, y to the front, z up from the
//! floor. What the physics is, where its figures come from and what it cannot know
//! is in `docs/hang.md`.

mod bending;
pub mod body;
mod carry;
mod cloth;
mod compared;
mod contact;
mod hanging;
mod hold;
mod kept;
mod level_line;
mod membrane;
pub mod mesh;
pub mod picture;
mod predict;
mod settle;
mod settled_homes;
mod sew;
mod sparse;
mod start;
mod system;
mod toile;
mod told;
mod weighed;

pub use bending::Bending;
pub use carry::carry;
pub use cloth::{Cloth, Flat, GRAVITY, Material, Position};
pub use compared::{Compared, ComparedPlace, LeftOut, compare};
pub use contact::{Contact, Nothing, Solid, Touch};
pub use hanging::{
    CLAIMED, HangingLine, LineHeights, STATIONS, Station, line_heights, trace_lines,
};
pub use hold::{Height, Holds, Side, Strap};
pub use kept::{Content, Kept};
pub use level_line::{LEVEL_REASON, LevelError, LevelLine, level_name, level_when_worn};
pub use membrane::{Membrane, SLACKENING};
pub use predict::{
    CLAIMED_ON, Options, PredictError, Prediction, Rest, Settled, read, read_on, settle_all,
    settle_on,
};
pub use settle::{Limits, Progress, SettleError, Watch, settle};
pub use settled_homes::settled_homes;
pub use sew::{SewError, Sewn, SewnPiece, sew};
pub use start::{Start, lay_on};
pub use system::System;
pub use toile::{Band, forces, slipped};
pub use told::{LABEL, doubts, is_pleated, pleat_doubt};
pub use weighed::{CLAIMED_WEIGHED, Weighed, WeighedLine, WeighedPlace, differences, weigh};
