//! Fly and zips: no piece is made for them, and the maker is told.

use crate::CutError;
use crate::making::Makings;
use hangtrue_adjust::{Closure, Document};
use hangtrue_geometry::words;
use hangtrue_pattern::Pattern;

pub(crate) fn add(
    makings: &mut Makings,
    _pattern: &Pattern,
    document: &Document,
) -> Result<(), CutError> {
    let closure = document.cutting.closure;
    if closure != Closure::None {
        let named = closure.name();
        makings.notes.push(words![
            "No facing or shield is made for the ",
            named,
            ", and the seam it opens has its plain allowance: add what your way of sewing it needs before you cut."
        ]);
    }
    Ok(())
}
