//! Fly and zips.
use crate::CutError;
use crate::making::Makings;
use hangtrue_adjust::Document;
use hangtrue_pattern::Pattern;

pub(crate) fn add(
    _makings: &mut Makings,
    _pattern: &Pattern,
    _document: &Document,
) -> Result<(), CutError> {
    Ok(())
}
