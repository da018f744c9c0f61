//! Notches: small cuts or marks on a seam by which two pieces are matched.

use crate::End;
use serde::{Deserialize, Serialize};

/// How a notch is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum NotchKind {
    /// One cut.
    Single,
    /// Two cuts side by side: the back, by custom (common practice, no
    /// published source).
    Double,
}

/// A notch hangs from an end of a seam at a sewn distance, so it moves with the
/// seam when the seam changes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notch {
    /// Name; notches that meet in sewing share one.
    pub name: String,
    /// The seam it lies on.
    pub seam: String,
    /// The end it is measured from.
    pub from: End,
    /// Sewn distance from that end, mm.
    pub distance: f64,
    /// How it is drawn.
    pub kind: NotchKind,
}
