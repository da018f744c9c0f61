//! DXF as sewing rooms read it.

use super::{Export, MEASURE_A_LINE, Sent};
use crate::exchange::{DxfForm, dxf_of};

pub(super) const EXPORT: Export = Export {
    word: "sewn",
    name: "DXF for sewing rooms: a block a piece, numbered layers",
    title: "Send the pattern out as DXF",
    ending: "dxf",
    begins: "  0\r\nSECTION",
    before_cutting: MEASURE_A_LINE,
    for_projector: false,
    make: |sending| {
        let (bytes, notes) = dxf_of(sending.pattern, &sending.drawing(), DxfForm::Sewn)?;
        Ok(Sent { bytes, notes })
    },
};
