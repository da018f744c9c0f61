//! Paper for people: sheets that are written on with a pencil, at the body and in the
//! fitting room, and typed in afterwards in the same order.

pub mod figure;
mod fitting;
mod marking;
mod measuring;
mod page;
mod sewing;

pub use fitting::fitting_sheet;
pub use marking::{HOW_TO_MARK, marking_sheet, marks_to_carry};
pub use measuring::measuring_sheet;
pub(crate) use page::paper_of;
pub use sewing::sewing_sheet;
