//! Printing at true scale.
//!
//! The way of a pattern to paper: each piece is drawn as a [`Scene`] in mm
//! ([`piece_scenes`]), the scenes are laid side by side ([`arrange`]), the whole
//! is cut into sheets that overlap ([`tile`]), every sheet gets its frame, join
//! marks and name, and the pages are written as PDF ([`pdf_of`]).
//! [`print_pattern`] does all of it; [`piece_sheets`] and [`projector_page`] use
//! pages as large as they need be. [`handout`] draws the pieces smaller, to be read and not
//! cut. [`report_pdf`] sets a short report.
//!
//! Nothing here knows the PDF library but `pdf.rs`; nothing is scaled but
//! handouts, and the small pictures of a report and of the page map.

mod arrange;
mod cover;
mod draw;
mod draw_label;
mod draw_line;
mod error;
mod fitting_label;
mod handout;
mod label_block;
mod large;
mod letters;
mod mark;
mod pack;
mod paper;
mod pdf;
pub(crate) mod pens;
pub mod people;
mod report;
mod room;
mod scale;
mod scene;
mod sheet;
mod tile;
mod whole;

pub use arrange::arrange;
pub use cover::{TestSquares, test_squares};
pub use draw::{DrawOptions, before_after, piece_scenes, scene_of};
pub(crate) use draw::{NO_ALLOWANCE, arrow_head};
pub use error::PrintError;
pub use fitting_label::{fitting_label, sent_label};
pub use handout::{Handout, handout};
pub use hangtrue_cut::{Allowance, SeamAllowance};
pub use large::{LargePage, LargePrint, ProjectorOptions, one_page, piece_sheets, projector_page};
pub(crate) use letters::letters_path;
pub use letters::{letters_missing, width_of};
pub use mark::print_mark;
pub use paper::{Paper, Size};
pub use pdf::{About, Page, Part, PlacedPhoto, pdf_of};
pub use pens::{ACCENT, GREY, INK, PALE};
pub use report::{Align, Block, Column, Photo, Picture, Report, Table, report_pdf};
pub(crate) use room::{Lines, settle_words};
pub use scale::Reduced;
pub use scene::{Anchor, Dash, Ink, Item, Layer, Mark, Pen, Scene, Weight, Words};
pub use tile::{Grid, Tile, TileOptions, tile};
pub use whole::{Printed, print_pattern, tiled_pdf};
