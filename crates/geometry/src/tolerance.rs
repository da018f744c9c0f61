//! Named tolerances. Every one states its unit.

/// Accuracy asked of an arc length, mm. The quadrature is adaptive, so this is
/// a bound on the error of each segment, not a sampling step.
pub const LENGTH: f64 = 1e-9;

/// Two points closer than this are the same point, mm.
pub const SAME_POINT: f64 = 1e-6;

/// Accuracy of a root found on a length, mm.
pub const ROOT: f64 = 1e-10;

/// Accuracy of an offset curve, mm (the offset of a cubic is not a cubic; it is
/// fitted to within this).
pub const OFFSET: f64 = 1e-3;

/// Two directions closer than this are the same direction, radians.
pub const SAME_DIRECTION: f64 = 1e-9;

/// A curvature smaller than this counts as straight, 1/mm (a circle of 1 km).
pub const STRAIGHT: f64 = 1e-6;
