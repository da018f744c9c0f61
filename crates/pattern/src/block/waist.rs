//! The waist: parts that leave the side seam, the dart legs and the centre seam
//! square, in the front's frame (side at the left).

use crate::{Dart, Fold};
use hangtrue_geometry::{Chain, Point, Vec2, angle_between, hermite};

/// A dart to be: where it lies along the waist, how much it takes in, its length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DartPlan {
    pub name: String,
    /// Fraction of the sewn waist from side to centre.
    pub at: f64,
    /// Straight width of the mouth, mm.
    pub intake: f64,
    /// Length along its axis, mm.
    pub length: f64,
}

impl DartPlan {
    fn angle(&self) -> f64 {
        2.0 * (0.5 * self.intake / self.length).atan()
    }
}

/// The two ends of a waist, each with the direction of its seam towards the waist.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ends {
    pub side: Point,
    pub side_up: Vec2,
    pub centre: Point,
    pub centre_up: Vec2,
}

/// Draws the waist.
///
/// In the frame of the straight line from side to centre the waist is a height
/// z(u) over the sewn distance u. Its slope starts square to the side seam, drops
/// by each dart's angle at the dart and ends square to the centre seam; between,
/// its bend is c₀ + c₁·u, the two constants solved so that both ends are met
/// (linear, small slopes). The places and axes of the darts are read off z; the
/// parts are then cubics that are exactly square at their ends.
pub(super) fn draw(ends: &Ends, darts: &[DartPlan]) -> (Vec<Chain>, Vec<Dart>) {
    let chord = ends.centre - ends.side;
    let (width, along) = (chord.hypot(), chord.normalize());
    let normal = Vec2::new(-along.y, along.x);
    let leave = right_of(ends.side_up);
    let arrive = right_of(ends.centre_up);
    let (first, last) = (angle_between(along, leave), angle_between(along, arrive));
    let sewn = width - darts.iter().map(|d| d.intake).sum::<f64>();
    let bend = Bend::solve(first, last, sewn, darts);
    let mut parts = Vec::with_capacity(darts.len() + 1);
    let mut made = Vec::with_capacity(darts.len());
    let (mut from, mut direction) = (ends.side, leave);
    let (mut taken, mut turned, mut height) = (0.0, 0.0, 0.0);
    let mut before = 0.0;
    for plan in darts {
        let u = plan.at * sewn;
        let left = bend.slope(u) - turned;
        let axis_slope = left - 0.5 * plan.angle();
        height += bend.rise(before, u) - turned * (u - before) + 0.5 * plan.intake * axis_slope;
        let x = u + taken + 0.5 * plan.intake;
        let middle = ends.side + along * x + normal * height;
        let across = (along + normal * axis_slope.tan()).normalize();
        let apex = middle - Vec2::new(-across.y, across.x) * plan.length;
        let mouth = [-0.5, 0.5].map(|half| middle + across * (half * plan.intake));
        parts.push(part(from, direction, mouth[0], right_of(mouth[0] - apex)));
        made.push(Dart { name: plan.name.clone(), apex, fold: Fold::ToEnd });
        (from, direction) = (mouth[1], right_of(mouth[1] - apex));
        height += 0.5 * plan.intake * axis_slope;
        taken += plan.intake;
        turned += plan.angle();
        before = u;
    }
    parts.push(part(from, direction, ends.centre, arrive));
    (parts, made)
}

fn part(a: Point, leave: Vec2, b: Point, arrive: Vec2) -> Chain {
    Chain::cubic(hermite(a, leave, b, arrive))
}

fn right_of(up: Vec2) -> Vec2 {
    Vec2::new(up.y, -up.x)
}

/// slope(u) = first + c₀·u + c₁·u²/2, dart drops left out.
struct Bend {
    first: f64,
    c0: f64,
    c1: f64,
}

impl Bend {
    fn solve(first: f64, last: f64, sewn: f64, darts: &[DartPlan]) -> Self {
        let angles: f64 = darts.iter().map(DartPlan::angle).sum();
        let turn = last - first + angles;
        // ∫ slope du + Σ mouth · axis slope = 0, with the axis slopes themselves
        // linear in c₀ and c₁.
        let (mut k0, mut k1, mut rest) = (sewn.powi(2) / 2.0, sewn.powi(3) / 6.0, first * sewn);
        let mut turned = 0.0;
        for dart in darts {
            let u = dart.at * sewn;
            rest -= dart.angle() * (sewn - u);
            k0 += dart.intake * u;
            k1 += dart.intake * u * u / 2.0;
            rest += dart.intake * (first - turned - 0.5 * dart.angle());
            turned += dart.angle();
        }
        // c₀·L + c₁·L²/2 = turn and c₀·k₀ + c₁·k₁ = −rest.
        let (a, b) = (sewn, sewn * sewn / 2.0);
        let det = a * k1 - b * k0;
        let c0 = (turn * k1 + rest * b) / det;
        let c1 = (-rest * a - turn * k0) / det;
        Self { first, c0, c1 }
    }

    fn slope(&self, u: f64) -> f64 {
        self.first + self.c0 * u + 0.5 * self.c1 * u * u
    }

    fn rise(&self, from: f64, to: f64) -> f64 {
        let whole = |u: f64| self.first * u + self.c0 * u * u / 2.0 + self.c1 * u.powi(3) / 6.0;
        whole(to) - whole(from)
    }
}
