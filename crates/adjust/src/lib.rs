//! Reading a toile and changing the flat pattern.
//!
//! Every change takes a pattern and gives an [`Outcome`]: the new pattern, the
//! measures it kept and changed, and what flat paper cannot hold. Millimetres
//! throughout.

mod as_sewn;
mod distribute;
mod error;
mod hook;
mod lap;
mod outcome;
mod pinch;
#[cfg(test)]
mod sample;
mod slash_and_lap;
mod take;
mod top_and_scoop;
mod truing;
mod waist;
mod walk;

pub use as_sewn::{KINK_SEEN, STEP_SEEN, SeamReading, laid_across, read_as_sewn};
pub use distribute::{Distribute, EASE_LIMIT, EASE_SHOWS, Mates};
pub use error::ChangeError;
pub use outcome::{Compared, KEPT, Outcome, Residue};
pub use pinch::{LaidPinch, Pinch, PinchPath, STEEPEST, Station, StationPlace};
pub use slash_and_lap::{Proposal, SecondCut, Share, SlashAndLap, propose};
pub use take::{Taken, compare_measures, take_measures};
pub use top_and_scoop::TopAndScoop;
pub use truing::{Side, TrueCorner, TrueLength, left_to_true};
pub use walk::{CORNER_TRUE, LENGTH_TRUE, SewnCorner, Stretch, Walked, walk, walk_all};
