//! Reading a toile and changing the flat pattern.
//!
//! Every change takes a pattern and gives an [`Outcome`]: the new pattern, the
//! measures it kept and changed, and what flat paper cannot hold. Millimetres
//! throughout.

mod error;
mod hook;
mod outcome;
mod pinch;
#[cfg(test)]
mod sample;
mod take;
mod top_and_scoop;

pub use error::ChangeError;
pub use outcome::{Compared, KEPT, Outcome, Residue};
pub use pinch::{LaidPinch, Pinch, PinchPath, STEEPEST, Station, StationPlace};
pub use take::{Taken, compare_measures, take_measures};
pub use top_and_scoop::TopAndScoop;
