//! SVG, layers as groups.

use super::{Export, MEASURE_A_LINE, Sent};
use crate::exchange::svg_of;

pub(super) const EXPORT: Export = Export {
    word: "svg",
    name: "SVG: for drawing programs, layers as groups",
    title: "Send the pattern out as SVG",
    ending: "svg",
    begins: "<?xml",
    before_cutting: MEASURE_A_LINE,
    for_projector: false,
    make: |sending| {
        let (text, notes) = svg_of(sending.pattern, &sending.drawing())?;
        Ok(Sent { bytes: text.into_bytes(), notes })
    },
};
