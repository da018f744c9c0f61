//! Bowed between two places on seams: the curve that settles level when worn.

use super::written::rule;
use super::{About, Fresh, LineRule, Part, PartValue, Site};
use crate::units::{Unit, show_length};
use crate::{PatternError, SeamPlace};
use hangtrue_geometry::{Chain, CubicBez, PathSeg, Point, Vec2};

rule! {
    /// A smooth curve between two places on seams, bowed out of the straight by so much
    /// at each quarter of the way, square to it and up the grain.
    pub struct Bowed {
        /// One place.
        pub first: SeamPlace,
        /// The other.
        pub second: SeamPlace,
        /// How far up it lies a quarter of the way from the first place, mm.
        pub first_quarter: f64,
        /// How far up it lies half way, mm.
        pub middle: f64,
        /// How far up it lies three quarters of the way, mm.
        pub last_quarter: f64,
    }
}

/// Ends nearer to each other than this leave nothing to bow, mm.
const LEAST: f64 = 1.0;

impl Bowed {
    /// How far out of the straight the curve lies at a share of the way, and how that
    /// changes with the share, mm: the polynomial of fourth degree through the five.
    pub fn out(&self, share: f64) -> (f64, f64) {
        let values = [0.0, self.first_quarter, self.middle, self.last_quarter, 0.0];
        let (mut sum, mut slope) = (0.0, 0.0);
        let knot = |k: usize| k as f64 / 4.0;
        for (k, value) in values.iter().enumerate() {
            let others = || (0..values.len()).filter(move |j| *j != k);
            let over: f64 = others().map(|j| knot(k) - knot(j)).product();
            let product = |left_out: Option<usize>| -> f64 {
                let kept = others().filter(|j| Some(*j) != left_out);
                kept.map(|j| share - knot(j)).product()
            };
            sum += value * product(None) / over;
            slope += value * others().map(|j| product(Some(j))).sum::<f64>() / over;
        }
        (sum, slope)
    }
}

impl LineRule for Bowed {
    const ABOUT: About = About {
        name: "Bowed between two places",
        help: "A curve between two places, so far up at each quarter of the way",
        word: "bowed",
        form: "{0}, {1}, up {2}, {3}, {4}",
        example: "60 mm from waist of side, 80 mm from waist of crotch, up 6 mm, 8 mm, 6 mm",
    };

    fn placed(&self, site: &Site<'_>) -> Result<Chain, PatternError> {
        let at = |place: &SeamPlace| site.on_seam(&place.seam, place.from, place.distance);
        let (a, b) = (at(&self.first)?, at(&self.second)?);
        let along = b - a;
        if along.hypot() < LEAST {
            return Err(site.cannot("its two places lie on each other"));
        }
        let square = Vec2::new(-along.y, along.x) / along.hypot();
        let up = if square.dot(site.piece.grain.direction()) < 0.0 { -square } else { square };
        let place = |share: f64| -> (Point, Vec2) {
            let (out, slope) = self.out(share);
            (a + along * share + up * out, along + up * slope)
        };
        let quarter = |k: u32| {
            let (from, to) = (f64::from(k) / 4.0, f64::from(k + 1) / 4.0);
            let ((p, leaves), (q, arrives)) = (place(from), place(to));
            let third = (to - from) / 3.0;
            PathSeg::Cubic(CubicBez::new(p, p + leaves * third, q - arrives * third, q))
        };
        Chain::new((0..4).map(quarter).collect()).map_err(|why| site.said(why))
    }

    fn sentence(&self, unit: Unit) -> String {
        let (first, second) = (self.first.words(unit), self.second.words(unit));
        let way = |mm: f64| if mm < 0.0 { "down" } else { "up" };
        let far = |mm: f64| show_length(mm.abs(), unit);
        format!(
            "From {first} to {second}, bowed {} by {} in the middle ({} {} and {} {} at the quarters).",
            way(self.middle),
            far(self.middle),
            far(self.first_quarter),
            way(self.first_quarter),
            far(self.last_quarter),
            way(self.last_quarter),
        )
    }

    fn parts(&mut self) -> Vec<Part<'_>> {
        vec![
            Part::new("first place", PartValue::SeamPlace(&mut self.first)),
            Part::new("second place", PartValue::SeamPlace(&mut self.second)),
            Part::new("Up at the first quarter", PartValue::Length(&mut self.first_quarter)),
            Part::new("Up in the middle", PartValue::Length(&mut self.middle)),
            Part::new("Up at the last quarter", PartValue::Length(&mut self.last_quarter)),
        ]
    }

    fn fresh(from: &Fresh<'_>) -> Option<Self> {
        let (first, second) = (from.seam_place(1)?, from.seam_place(4)?);
        let middle = 0.2 * from.near;
        let side = 0.75 * middle;
        Some(Self { first, second, first_quarter: side, middle, last_quarter: side })
    }

    fn seams_alone(&self) -> Option<Vec<&str>> {
        Some(vec![&self.first.seam, &self.second.seam])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_goes_through_its_five_places_and_its_slope_is_its_own() {
        let bow =
            Bowed { first_quarter: 11.0, middle: 17.0, last_quarter: 9.0, ..Bowed::default() };
        for (share, mm) in [(0.0, 0.0), (0.25, 11.0), (0.5, 17.0), (0.75, 9.0), (1.0, 0.0)] {
            assert!((bow.out(share).0 - mm).abs() < 1e-9);
        }
        for share in [0.1, 0.4, 0.9] {
            let step = 1e-5;
            let slope = (bow.out(share + step).0 - bow.out(share - step).0) / (2.0 * step);
            assert!((slope - bow.out(share).1).abs() < 1e-5, "{slope}");
        }
    }
}
