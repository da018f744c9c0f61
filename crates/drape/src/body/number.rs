//! Numbers that may carry their slope along x, y and z.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// What the body's level function is computed in: plain numbers, or numbers with
/// their slope.
pub trait Number:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    /// A number that does not change.
    fn of(value: f64) -> Self;
    /// The number itself.
    fn value(self) -> f64;
    /// The square root of a number above nought.
    fn root(self) -> Self;
    /// A number not below nought raised to a power.
    fn power(self, exponent: Self) -> Self;
}

impl Number for f64 {
    fn of(value: f64) -> Self {
        value
    }
    fn value(self) -> f64 {
        self
    }
    fn root(self) -> Self {
        self.max(0.0).sqrt()
    }
    fn power(self, exponent: Self) -> Self {
        if self <= TINY { 0.0 } else { self.powf(exponent) }
    }
}

/// Below this a base is nought.
const TINY: f64 = 1e-12;

/// A number and its slope along x, y, z (forward differentiation).
#[derive(Debug, Clone, Copy)]
pub struct Sloped {
    /// The number.
    pub value: f64,
    /// Its slope.
    pub slope: [f64; 3],
}

impl Sloped {
    /// A coordinate.
    pub fn along(value: f64, axis: usize) -> Self {
        let mut slope = [0.0; 3];
        slope[axis] = 1.0;
        Self { value, slope }
    }

    fn with(self, value: f64, factor: f64) -> Self {
        Self { value, slope: self.slope.map(|s| s * factor) }
    }

    fn mixed(self, other: Self, value: f64, a: f64, b: f64) -> Self {
        let slope = std::array::from_fn(|k| a * self.slope[k] + b * other.slope[k]);
        Self { value, slope }
    }
}

impl Number for Sloped {
    fn of(value: f64) -> Self {
        Self { value, slope: [0.0; 3] }
    }
    fn value(self) -> f64 {
        self.value
    }
    fn root(self) -> Self {
        let root = self.value.max(0.0).sqrt();
        self.with(root, 0.5 / root.max(1e-9))
    }
    fn power(self, exponent: Self) -> Self {
        if self.value <= TINY {
            return Self::of(0.0);
        }
        let value = self.value.powf(exponent.value);
        let by_base = exponent.value * value / self.value;
        self.mixed(exponent, value, by_base, value * self.value.ln())
    }
}

impl Add for Sloped {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        self.mixed(other, self.value + other.value, 1.0, 1.0)
    }
}

impl Sub for Sloped {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        self.mixed(other, self.value - other.value, 1.0, -1.0)
    }
}

impl Mul for Sloped {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        self.mixed(other, self.value * other.value, other.value, self.value)
    }
}

impl Div for Sloped {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        let value = self.value / other.value;
        self.mixed(other, value, 1.0 / other.value, -value / other.value)
    }
}

impl Neg for Sloped {
    type Output = Self;
    fn neg(self) -> Self {
        self.with(-self.value, -1.0)
    }
}
