//! PDF, each piece on a sheet of its own.

use super::{Export, Sent};
use crate::print::piece_sheets;

pub(super) const EXPORT: Export = Export {
    word: "pieces",
    name: "PDF, a sheet a piece: for a plotter or a print shop",
    title: "Send the pattern out as PDF",
    ending: "pdf",
    begins: "%PDF-",
    before_cutting: "Print at 100 %, and measure the square on each sheet before you cut.",
    for_projector: false,
    make: |sending| {
        let printed = piece_sheets(sending.pattern, &sending.paper(), sending.title)?;
        Ok(Sent { bytes: printed.pdf, notes: printed.notes })
    },
};
