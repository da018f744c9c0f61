//! Photos: read with limits, turned upright, rid of what the camera noted.

mod error;
pub mod limits;
mod picture;

pub use error::PhotoError;
pub use picture::{Picture, Tone, encoded};
