//! What any window could use: colours and letters, fields, small pictures, looking
//! round, work beside the window. It knows nothing of the project on the desk.

pub(crate) mod choice;
pub(crate) mod drop_down;
pub(crate) mod field;
pub(crate) mod figure;
pub(crate) mod history;
pub(crate) mod job;
pub(crate) mod length_field;
pub(crate) mod look_round;
pub(crate) mod measure_row;
pub(crate) mod menu;
pub(crate) mod modal;
pub(crate) mod number_field;
pub(crate) mod on_its_own;
pub(crate) mod over_photo;
pub(crate) mod panels;
pub(crate) mod picture;
pub(crate) mod pull;
pub(crate) mod remark;
pub(crate) mod running;
pub(crate) mod say;
pub(crate) mod scroll;
pub mod sheet;
pub mod strokes;
pub(crate) mod tag;
pub(crate) mod text_size;
pub(crate) mod theme;
pub(crate) mod unit_choice;
pub(crate) mod view;
pub(crate) mod watch;
pub(crate) mod weave;
