//! The body at a line: an upright cylinder whose section is an ellipse or squarer.

use hangtrue_geometry::bracketed_root;

/// A level section of the body, seen from the lens at the origin: an ellipse with
/// its axes across the view and along it, or squarer. Millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Its middle, across.
    pub across: f64,
    /// Its middle, away from the lens.
    pub away: f64,
    /// Half its width across the view.
    pub half_width: f64,
    /// Half its depth along the view.
    pub half_depth: f64,
    /// Its squareness, the exponent of a superellipse: 2 is an ellipse, more is squarer.
    pub square: f64,
}

/// The squareness of an ellipse.
pub const ELLIPSE: f64 = 2.0;

/// No section is sharper than this.
const SHARPEST: f64 = 1.5;

/// The near side of a squarer section is found in so many turns: each is nearer by about
/// the slope of the sight, a tenth.
const TURNS: usize = 6;

/// The half depth is found to this, mm.
const DEPTH: f64 = 1e-6;

/// A body is at most this many times as deep as it is wide.
const DEEPEST: f64 = 4.0;

impl Section {
    /// The section at `away` mm that is seen between two sights (x/z of the left
    /// and the right edge) and measures `girth` mm round. The edges are tangents:
    /// a body hides its own half. None when it is wider than round.
    ///
    /// With A and B the distances from the middle to the two sights along x, and b
    /// the half depth: A + B = (t₂ − t₁)·away, A² − B² = (t₁² − t₂²)·b² and
    /// a² = A² − t₁²b², from the condition that x = t·z touches the ellipse.
    pub fn seen_between(left: f64, right: f64, away: f64, girth: f64) -> Option<Self> {
        let width = (right - left) * away;
        let with_depth = |b: f64| {
            let uneven = (left * left - right * right) * b * b / width;
            let to_left = (width + uneven) / 2.0;
            let a2 = to_left * to_left - left * left * b * b;
            Self {
                across: left * away + to_left,
                away,
                half_width: a2.max(0.0).sqrt(),
                half_depth: b,
                square: ELLIPSE,
            }
        };
        let most = (width / 2.0 * DEEPEST).min(girth / 4.0);
        if !(width > 0.0 && girth.is_finite() && most > 0.0) {
            return None;
        }
        let round = |b: f64| with_depth(b).girth() - girth;
        let depth = bracketed_root(round, most * 1e-3, most, DEPTH).ok()?;
        Some(with_depth(depth))
    }

    /// As wide as it is, but so deep and so square.
    pub fn shaped(self, half_depth: f64, square: f64) -> Self {
        Self { half_depth, square: square.max(SHARPEST), ..self }
    }

    /// Round the section, were it an ellipse, mm: the perimeter of an ellipse by the
    /// arithmetic-geometric mean (Abramowitz and Stegun 17.6, from memory).
    pub fn girth(&self) -> f64 {
        let (long, short) = match self.half_width > self.half_depth {
            true => (self.half_width, self.half_depth),
            false => (self.half_depth, self.half_width),
        };
        if short <= 0.0 {
            return 4.0 * long;
        }
        let (mut a, mut b) = (1.0, short / long);
        let mut sum = (1.0 - b * b) / 2.0;
        let mut power = 1.0;
        while (a - b) > 1e-15 {
            let c = (a - b) / 2.0;
            (a, b) = ((a + b) / 2.0, (a * b).sqrt());
            sum += power * c * c;
            power *= 2.0;
        }
        // E = K (1 − Σ 2ⁿ⁻¹ cₙ²), K = π / 2a.
        4.0 * long * std::f64::consts::FRAC_PI_2 / a * (1.0 - sum)
    }

    /// How far away the near side is in the direction of a sight (x/z), mm. A
    /// sight that passes the section is taken at its edge.
    pub fn near_side(&self, sight: f64) -> f64 {
        let (a2, b2) = (self.half_width.powi(2), self.half_depth.powi(2));
        // ((t z − x₀)/a)² + ((z − z₀)/b)² = 1
        let p = sight * sight / a2 + 1.0 / b2;
        let q = sight * self.across / a2 + self.away / b2;
        let r = self.across.powi(2) / a2 + self.away.powi(2) / b2 - 1.0;
        let of_ellipse = (q - (q * q - p * r).max(0.0).sqrt()) / p;
        if (self.square - ELLIPSE).abs() < 1e-9 {
            return of_ellipse;
        }
        let mut z = of_ellipse;
        for _ in 0..TURNS {
            let across = ((sight * z - self.across) / self.half_width).abs().min(1.0);
            let deep = (1.0 - across.powf(self.square)).powf(1.0 / self.square);
            z = self.away - self.half_depth * deep;
        }
        z
    }

    /// How many times longer the near side is than it looks in the direction of a
    /// sight (x/z): 1 where it is square to the view, without end at the edges.
    pub fn turned(&self, sight: f64) -> f64 {
        const STEP: f64 = 1e-5;
        let place = |t: f64| {
            let z = self.near_side(t);
            (t * z, z)
        };
        let ((x0, z0), (x1, z1)) = (place(sight - STEP), place(sight + STEP));
        let (dx, dz) = (x1 - x0, z1 - z0);
        (dx.hypot(dz) / dx.abs().max(1e-9)).min(MOST_TURNED)
    }
}

/// Cloth that turns away more than this is not seen at all, times.
const MOST_TURNED: f64 = 100.0;

#[cfg(test)]
mod tests {
    use super::*;

    fn section(half_width: f64, half_depth: f64) -> Section {
        Section { across: 40.0, away: 3000.0, half_width, half_depth, square: ELLIPSE }
    }

    #[test]
    fn the_girth_of_known_ellipses() {
        let tau = std::f64::consts::TAU;
        assert!((section(90.0, 90.0).girth() - 90.0 * tau).abs() < 1e-10);
        // E(e² = 3/4) = 1.2110560275684594 (Abramowitz and Stegun table 17.1, memory).
        assert!((section(2.0, 1.0).girth() - 8.0 * 1.211_056_027_568_459_4).abs() < 1e-12);
        assert!((section(1.0, 2.0).girth() - section(2.0, 1.0).girth()).abs() < 1e-12);
    }

    #[test]
    fn the_section_is_found_from_its_edges_and_girth() {
        for (a, b) in [(90.0, 90.0), (95.0, 80.0), (170.0, 110.0), (80.0, 105.0)] {
            let truth = section(a, b);
            // Tangents of the ellipse through the origin: t²(z₀² − b²) − 2 x₀z₀ t + x₀² − a² = 0.
            let (p, q) = (truth.away.powi(2) - b * b, truth.across * truth.away);
            let root = (q * q - p * (truth.across.powi(2) - a * a)).sqrt();
            let (left, right) = ((q - root) / p, (q + root) / p);
            let found = Section::seen_between(left, right, 3000.0, truth.girth()).unwrap();
            assert!((found.half_width - a).abs() < 1e-4, "{found:?}");
            assert!((found.half_depth - b).abs() < 1e-4, "{found:?}");
            assert!((found.across - 40.0).abs() < 1e-4, "{found:?}");
            assert!((found.turned(40.0 / 3000.0) - 1.0).abs() < 1e-3);
            assert!(found.turned(left + 1e-4) > 3.0);
            let z = found.near_side(40.0 / 3000.0);
            assert!((z - (3000.0 - b)).abs() < 0.1, "{z}");
            // A squarer one comes nearer beside its middle and not there.
            let square = found.shaped(b, 2.6);
            let beside = (40.0 + 0.7 * a) / 3000.0;
            assert!((square.near_side(40.0 / 3000.0) - z).abs() < 0.1);
            assert!(square.near_side(beside) < found.near_side(beside) - 3.0);
            let (x, y) = (beside * square.near_side(beside), square.near_side(beside));
            let out = ((x - found.across) / a).abs().powf(2.6) + ((3000.0 - y) / b).abs().powf(2.6);
            assert!((out - 1.0).abs() < 1e-3, "{out}");
        }
        assert!(Section::seen_between(-0.1, 0.1, 3000.0, 500.0).is_none());
        assert!(Section::seen_between(0.1, -0.1, 3000.0, 500.0).is_none());
    }
}
