//! Fly and zips: no piece is made for them, and the maker is told.

use hangtrue_adjust::Closure;
use hangtrue_geometry::words::Words;
use hangtrue_pattern::words;

/// What is not made for it; none where nothing is opened.
pub(crate) fn not_made(closure: Closure) -> Option<Words> {
    (closure != Closure::None).then(|| {
        words![
            "No facing or shield is made for the ",
            closure.name(),
            ", and the seam it opens has its plain allowance: add what your way of sewing it needs before you cut."
        ]
    })
}
