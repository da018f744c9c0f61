//! The window: a cutting table that shows what a document computes and edits it.
//!
//! It holds no geometry of its own. What is done at the desk becomes an edit of a
//! [`hangtrue_adjust::Document`]; what is shown is what [`hangtrue_adjust::Replay`]
//! computes from it. Points made for drawing are never measured.

mod canvas;
mod cards;
mod desk;
mod draft;
mod draw_path;
mod exchange;
mod figure;
mod files;
mod give;
mod help;
mod history;
mod hold;
mod keys;
mod lay;
mod length_field;
mod lens;
mod look_round;
mod objects;
mod open;
mod paint;
mod pencil;
mod photo_overlay;
mod photo_pair;
mod photo_table;
mod photos;
mod picture;
mod point_at;
mod print_table;
mod recovery;
mod ribbon;
mod rounds;
pub mod sample;
mod settings;
pub mod sheet;
mod stage;
mod table;
mod tape;
mod theme;
mod view;
mod words;

pub use desk::Desk;
pub use open::{DeskError, open, open_at};
