//! The body of a person, from measures.

mod curve;
mod fit;
mod number;
mod shape;
pub mod tape;

pub use fit::{Body, BodyError, Guessed, MET, build};
pub use hangtrue_adjust::figure::{Breadths, Handles};
pub use shape::Shape;
