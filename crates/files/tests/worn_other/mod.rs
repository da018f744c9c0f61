//! Photos of a worn toile by a second generator that shares nothing with the reader:
//! no ellipses, no stand of a camera, no code of `hangtrue_adjust::worn` but the names
//! of what is marked. Bodies, cloth and clicks are invented.

#![allow(dead_code, clippy::expect_used, clippy::unwrap_used)] // each test uses a part

pub mod cloth;
pub mod judged;
pub mod lens;
pub mod marked;
pub mod paint;
pub mod scene;

/// Photos on which constants of the reader may be chosen, and photos that are only reported
/// on: nothing is chosen on them.
pub const TO_CHOOSE_ON: std::ops::Range<u64> = 1000..1120;
pub const TO_REPORT: std::ops::Range<u64> = 7000..7120;

/// Dice of its own (splitmix64, Vigna 2015, memory), the same on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0xD134_2543_DE82_EF95) ^ 0x5851_F42D_4C95_7F2D)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A whole number from `low` to `high`, both included.
    pub fn count(&mut self, low: usize, high: usize) -> usize {
        low + (self.bits() % (high - low + 1) as u64) as usize
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    /// Normal, by the polar way.
    pub fn normal(&mut self, sigma: f64) -> f64 {
        loop {
            let (a, b) = (self.between(-1.0, 1.0), self.between(-1.0, 1.0));
            let s = a * a + b * b;
            if s > 0.0 && s < 1.0 {
                return sigma * a * (-2.0 * s.ln() / s).sqrt();
            }
        }
    }
}
