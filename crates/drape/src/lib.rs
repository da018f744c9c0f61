//! The toile settled on a body: predicted, not seen.
//!
//! Millimetres and newtons; x to the wearer's right, y to the front, z up from the
//! floor. What the physics is, where its figures come from and what it cannot know
//! is in `docs/hang.md`.

mod bending;
pub mod body;
mod cloth;
mod contact;
mod dissect;
mod hold;
mod membrane;
pub mod mesh;
mod sew;
mod settle;
mod predict;
mod sparse;
mod start;
mod toile;
mod system;

pub use bending::Bending;
pub use membrane::Membrane;
pub use cloth::{Cloth, Flat, GRAVITY, Material, Place};
pub use contact::{Contact, Nothing, Solid, Touch};
pub use hold::{Height, Holds, Side, Strap};
pub use predict::{CLAIMED, HangingLine, Options, PredictError, Prediction, STATIONS, Station, predict, trace_lines};
pub use start::{Start, lay_on};
pub use toile::{Band, forces, slipped};
pub use sew::{SewError, Sewn, SewnPiece, sew};
pub use settle::{Limits, Progress, SettleError, Watch, settle};
pub use system::System;
