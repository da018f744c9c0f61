//! PDF, one page thrown on the table.

use super::{Export, Sent};
use crate::print::projector_page;

pub(super) const EXPORT: Export = Export {
    word: "projector",
    name: "PDF, one page for a projector over the table",
    title: "Send the pattern out as PDF",
    ending: "pdf",
    begins: "%PDF-",
    before_cutting: "Lay a tape on the table both ways: the outer frame must measure what is written under it before you cut.",
    for_projector: true,
    make: |sending| {
        let (draw, how) = (sending.paper(), &sending.projector);
        let printed = projector_page(sending.pattern, &draw, how, sending.title)?;
        Ok(Sent { bytes: printed.pdf, notes: printed.notes })
    },
};
