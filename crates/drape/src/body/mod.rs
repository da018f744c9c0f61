//! The body of a person, from measures.

mod curve;
mod fit;
mod number;
mod shape;
pub mod tape;

pub use fit::{Body, BodyError, Breadths, Guessed, Handles, MET, build};
pub use shape::Shape;
