//! DXF as drawing programs read it.

use super::{Export, MEASURE_A_LINE, Sent};
use crate::exchange::{DxfForm, dxf_of};

pub(super) const EXPORT: Export = Export {
    word: "plain",
    name: "DXF for drawing programs: exact curves, named layers",
    title: "Send the pattern out as DXF",
    ending: "dxf",
    begins: "  0\r\nSECTION",
    before_cutting: MEASURE_A_LINE,
    for_projector: false,
    make: |sending| {
        let (bytes, notes) = dxf_of(sending.pattern, &sending.drawing(), DxfForm::Plain)?;
        Ok(Sent { bytes, notes })
    },
};
