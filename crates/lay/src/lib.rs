//! The pieces laid on the cloth.
//!
//! [`parts_to_lay`] says what is cut from a cloth, how often and which way up; [`find`] looks
//! for places at which it takes little length; [`Lay`] is the parts with their places, found
//! or put there by hand, and tells what is wrong with them. Lengths in mm; x runs along the
//! cloth from its cut end, y across it from one selvedge, or from the fold of a folded cloth.
//! The grain of every piece runs along x.

mod bed;
mod buying;
mod chosen;
mod error;
mod fault;
mod half;
mod laid;
mod outline;
mod part;
mod search;
mod seat;
mod shelves;
mod strips;

pub use bed::{Bed, FOLD_CLEAR};
pub use buying::{Needed, needed};
pub use chosen::{choose, chosen, kept_lay};
pub use error::LayError;
pub use fault::{Fault, Faults};
pub use half::{AtFold, FOLD_EDGE};
pub use laid::{Lay, Place};
pub use outline::{CLEAR, FOLLOWED_WITHIN};
pub use part::{Layers, Part, Shape, parts_to_lay};
pub use search::{Effort, Told, find};
pub use shelves::on_shelves;
pub use strips::STRIP;
