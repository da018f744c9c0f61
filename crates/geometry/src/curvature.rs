//! Curvature: which way a curve bends, and how much bending two curves differ by.

use crate::{Chain, tolerance};
use kurbo::{ParamCurve, ParamCurveDeriv, PathSeg};

/// Whether the chain bends one way only (all curvature ≥ 0 or all ≤ 0), joins
/// included.
///
/// Exact within a segment: a cubic's curvature changes sign only at its
/// inflections, which are roots of a quadratic (kurbo's `inflections`); joins
/// count as bends by their turning angle, smaller than `join` radians ignored.
pub fn bends_one_way(chain: &Chain, join: f64) -> bool {
    let mut signs = SignTally::default();
    let segments = chain.segments();
    for (index, segment) in segments.iter().enumerate() {
        if index > 0 {
            let turn = crate::angle_between(
                crate::chain::segment_direction(&segments[index - 1], 1.0),
                crate::chain::segment_direction(segment, 0.0),
            );
            signs.add(turn, join);
        }
        for (t, strength) in curvature_between_inflections(segment) {
            let _ = t;
            signs.add(strength, tolerance::STRAIGHT);
        }
    }
    !(signs.left && signs.right)
}

#[derive(Default)]
struct SignTally {
    left: bool,
    right: bool,
}

impl SignTally {
    fn add(&mut self, value: f64, floor: f64) {
        self.left |= value > floor;
        self.right |= value < -floor;
    }
}

/// The signed curvature (left positive, 1/mm) of a segment at parameter `t`.
pub(crate) fn signed_curvature(segment: &PathSeg, t: f64) -> f64 {
    let cubic = crate::chain::as_cubic(segment);
    let first = cubic.deriv().eval(t).to_vec2();
    let second = cubic.deriv().deriv().eval(t).to_vec2();
    let speed = first.hypot();
    if speed <= tolerance::SAME_POINT { 0.0 } else { first.cross(second) / speed.powi(3) }
}

fn curvature_between_inflections(segment: &PathSeg) -> Vec<(f64, f64)> {
    if matches!(segment, PathSeg::Line(_)) {
        return Vec::new();
    }
    let mut cuts = vec![0.0];
    let inflections = crate::chain::as_cubic(segment).inflections();
    cuts.extend(inflections.iter().copied().filter(|t| (1e-9..=1.0 - 1e-9).contains(t)));
    cuts.push(1.0);
    // Between two inflections the sign is constant; three inner probes guard
    // against a probe that lands where the curve is momentarily straight.
    let probes = cuts.windows(2).flat_map(|w| [0.25, 0.5, 0.75].map(|f| w[0] + f * (w[1] - w[0])));
    probes.map(|t| (t, signed_curvature(segment, t))).collect()
}

/// ∫(κ₁ − κ₂)² ds over two cubics at equal parameter, 1/mm: how much bending was
/// added or taken away when one became the other. Gauss–Legendre quadrature with
/// 16 points on the first curve's speed.
pub fn bend_between(before: &kurbo::CubicBez, after: &kurbo::CubicBez) -> f64 {
    let (a, b) = (PathSeg::Cubic(*before), PathSeg::Cubic(*after));
    let rule = kurbo::common::GAUSS_LEGENDRE_COEFFS_16;
    rule.iter()
        .map(|&(w, x)| {
            let t = 0.5 * (x + 1.0);
            let speed = before.deriv().eval(t).to_vec2().hypot();
            let change = signed_curvature(&b, t) - signed_curvature(&a, t);
            0.5 * w * speed * change * change
        })
        .sum()
}

impl Chain {
    /// The radius of the tightest place, mm, looked at in `looks` places of each
    /// segment, evenly in the parameter: for a warning, not a measure.
    pub fn tightest_radius(&self, looks: u32) -> f64 {
        let mut most = tolerance::STRAIGHT;
        for segment in self.segments() {
            for i in 0..=looks {
                let t = f64::from(i) / f64::from(looks.max(1));
                most = most.max(signed_curvature(segment, t).abs());
            }
        }
        1.0 / most
    }

    /// The signed curvature at arc length `position`, 1/mm, left turns positive.
    pub fn curvature_at(&self, position: f64) -> f64 {
        let (index, t) = self.locate(position);
        signed_curvature(&self.segments()[index], t)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::CubicBez;

    #[test]
    fn an_s_bends_both_ways_and_an_arch_one_way() {
        let s = CubicBez::new((0.0, 0.0), (50.0, 80.0), (50.0, -80.0), (100.0, 0.0));
        let arch = CubicBez::new((0.0, 0.0), (0.0, 55.0), (45.0, 100.0), (100.0, 100.0));
        assert!(!bends_one_way(&Chain::cubic(s), 1e-6));
        assert!(bends_one_way(&Chain::cubic(arch), 1e-6));
    }

    #[test]
    fn a_quarter_circle_has_the_curvature_of_its_radius() {
        // The usual cubic quarter circle is within 0.03 % of the radius, and its
        // end curvature 2(1 − k)/(3k²) = 0.9786 of 1/r (closed form).
        let k = 0.552_284_749_8 * 80.0;
        let c = CubicBez::new((80.0, 0.0), (80.0, k), (k, 80.0), (0.0, 80.0));
        let chain = Chain::cubic(c);
        assert!((chain.curvature_at(0.0) * 80.0 - 0.978_6).abs() < 1e-3);
        let back = chain.reversed();
        assert!(back.curvature_at(10.0) < 0.0);
    }

    #[test]
    fn the_tightest_radius_of_a_quarter_circle_is_its_radius() {
        let k = 0.552_284_749_8 * 80.0;
        let c = CubicBez::new((80.0, 0.0), (80.0, k), (k, 80.0), (0.0, 80.0));
        assert!((Chain::cubic(c).tightest_radius(64) / 80.0 - 1.0).abs() < 0.03);
    }

    #[test]
    fn no_change_no_bending() {
        let c = CubicBez::new((0.0, 0.0), (0.0, 55.0), (45.0, 100.0), (100.0, 100.0));
        assert_eq!(bend_between(&c, &c), 0.0);
        let d = CubicBez::new((0.0, 0.0), (0.0, 65.0), (45.0, 100.0), (100.0, 100.0));
        assert!(bend_between(&c, &d) > 0.0);
    }
}
