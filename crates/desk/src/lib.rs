//! The window: a cutting table that shows what a document computes and edits it.
//!
//! It holds no geometry of its own. What is done at the desk becomes an edit of a
//! [`hangtrue_adjust::Document`]; what is shown is what [`hangtrue_adjust::Replay`]
//! computes from it. Points made for drawing are never measured.
//!
//! Its rooms, each of which imports only those before it: `kit` (what any window
//! could use), `sample`, `board` (what is shared and read by all, and the requests
//! that change it), `about` (what a panel is for), `table` (the cutting table and its
//! tools), `toile`, `hang`, `lay` (the pieces on the cloth), `exchange` and `tracing` (a feature each), `welcome` (how a project is
//! begun), `cards`, `edges` (row of stages, list of the fitting, small windows), `desk`
//! (applies the requests).

mod about;
mod board;
mod cards;
mod desk;
mod edges;
mod exchange;
mod hang;
mod kit;
mod lay;
pub mod sample;
mod table;
mod toile;
mod tracing;
mod welcome;

pub use desk::open::{DeskError, open, open_at};
pub use desk::state::Desk;
pub use kit::sheet;
