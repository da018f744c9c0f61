//! The pens: every kind of line differs in width and break, not only in colour,
//! so that a print in black tells them apart.

use super::{Dash, Ink, Pen};

/// The ink of lines and words: a warm near-black.
pub const INK: Ink = Ink(43, 35, 31);
/// The one accent: madder red.
pub const ACCENT: Ink = Ink(158, 52, 38);
/// For what is said in passing.
pub const GREY: Ink = Ink(122, 114, 107);
/// For what must not be mistaken for a line of the pattern.
pub const PALE: Ink = Ink(205, 199, 192);
/// Bare paper.
pub(crate) const BLANK: Ink = Ink(255, 255, 255);
/// The fill of join marks and map cells.
pub(crate) const WASH: Ink = Ink(233, 228, 221);

/// The cut line.
pub(crate) const CUT: Pen = Pen { width: 0.5, dash: Dash::Solid, ink: INK };
/// The sew line, when an allowance lies outside it. Stitching lines are broken
/// by custom (common practice, no published source).
pub(crate) const SEW: Pen = Pen { width: 0.3, dash: Dash::Dashed { on: 4.0, off: 1.6 }, ink: INK };
/// The legs of a dart.
pub(crate) const DART: Pen = Pen { width: 0.35, dash: Dash::Solid, ink: INK };
/// The edges of a pleat: laid on each other at the waist, and sewn nowhere below it.
pub(crate) const PLEAT: Pen =
    Pen { width: 0.3, dash: Dash::Dashed { on: 10.0, off: 5.0 }, ink: INK };
/// The middle of a dart, where it folds.
pub(crate) const FOLD: Pen =
    Pen { width: 0.25, dash: Dash::DashDot { on: 5.0, off: 1.4 }, ink: INK };
/// A line traced to the cloth.
pub(crate) const CLOTH: Pen =
    Pen { width: 0.8, dash: Dash::Dashed { on: 14.0, off: 4.0 }, ink: ACCENT };
/// A line that stays on paper.
pub(crate) const PAPER: Pen = Pen { width: 0.45, dash: Dash::Dotted { every: 1.7 }, ink: GREY };
/// A line whose rule could not be met.
pub(crate) const STALE: Pen =
    Pen { width: 0.35, dash: Dash::DashDot { on: 7.0, off: 2.5 }, ink: ACCENT };
/// Where a tape lies on the figure of the measuring sheet, in front and behind.
pub(crate) const ACCENTED: Pen = Pen { width: 0.5, dash: Dash::Solid, ink: ACCENT };
pub(crate) const ACCENTED_BEHIND: Pen =
    Pen { width: 0.35, dash: Dash::Dashed { on: 1.4, off: 1.0 }, ink: ACCENT };
/// The grainline.
pub(crate) const GRAIN: Pen = Pen { width: 0.35, dash: Dash::Solid, ink: INK };
/// A notch.
pub(crate) const NOTCH: Pen = Pen { width: 0.6, dash: Dash::Solid, ink: INK };
/// Another line inside the piece.
pub(crate) const INNER: Pen =
    Pen { width: 0.25, dash: Dash::Dashed { on: 2.2, off: 1.2 }, ink: INK };
/// The earlier version.
pub(crate) const EARLIER: Pen =
    Pen { width: 0.25, dash: Dash::Dashed { on: 3.0, off: 2.2 }, ink: GREY };
/// The earlier version in a small picture, under the new one: finer broken, and
/// dark enough to be told beside the accent.
pub(crate) const UNDER: Pen =
    Pen { width: 0.4, dash: Dash::Dashed { on: 2.0, off: 1.3 }, ink: INK };
/// The edge of a sheet that is trimmed.
pub(crate) const TRIM: Pen = Pen { width: 0.3, dash: Dash::Solid, ink: GREY };
/// The line the next sheet is laid on.
pub(crate) const LAY: Pen =
    Pen { width: 0.25, dash: Dash::Dashed { on: 6.0, off: 3.0 }, ink: GREY };
/// The edge of a sheet that stays.
pub(crate) const EDGE: Pen = Pen { width: 0.2, dash: Dash::Solid, ink: PALE };
/// Thin rules and small frames.
pub(crate) const HAIR: Pen = Pen { width: 0.2, dash: Dash::Solid, ink: GREY };
/// The test squares.
pub(crate) const TEST: Pen = Pen { width: 0.25, dash: Dash::Solid, ink: INK };
