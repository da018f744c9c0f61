//! What stands before the camera: a toile of a pattern on an invented body, its lines
//! hanging as on a toile that fits and by a planted fault besides.

use super::Dice;
use super::cloth::Cloth;
use super::lens::Lens;
use hangtrue_adjust::reading::{HangLine, Leg, PieceView};
use hangtrue_adjust::worn::{LegSeen, girth_at, length_along_grain};
use hangtrue_adjust::{HomeShape, home_shapes};
use hangtrue_pattern::{Pattern, names};
use std::f64::consts::{FRAC_PI_2, PI};

/// A fault planted on both legs: how much lower a line hangs, by its share from the
/// inner end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Planted {
    Nothing,
    /// A bow of the thigh line.
    ThighBow(f64),
    /// The same bow of hip balance and thigh line.
    BothBow(f64),
    /// A bow of the hip balance line.
    HipBow(f64),
    /// The hip balance line hangs so much lower at the centre, fading to the side.
    HipCentre(f64),
}

impl Planted {
    fn below(self, line: HangLine, share: f64) -> f64 {
        // Surplus fades to the seams: between an arc and a bell.
        let bow = 0.5 * (4.0 * share * (1.0 - share) + (PI * share).sin().powi(2));
        match (self, line) {
            (Self::ThighBow(mm), HangLine::Thigh) => mm * bow,
            (Self::BothBow(mm), HangLine::Thigh | HangLine::Hip) => mm * bow,
            (Self::HipBow(mm), HangLine::Hip) => mm * bow,
            (Self::HipCentre(mm), HangLine::Hip) => mm * (1.0 - share).powi(2),
            _ => 0.0,
        }
    }
}

/// A line on one leg's half of a part of the body.
pub struct Drawn {
    pub line: HangLine,
    pub leg: Leg,
    /// Which part it is drawn on.
    pub part: usize,
    /// Its height at the side seam, mm above the floor.
    pub side: f64,
    /// Angles at the inner end and at the side seam.
    pub ends: (f64, f64),
    home: HomeShape,
    planted: Planted,
    /// The pen goes a little beside its way.
    wander: (f64, f64),
    /// Angles from the inner end on, and the share of the way there.
    table: Vec<(f64, f64)>,
}

impl Drawn {
    /// How far below its place at the side seam it hangs: the truth.
    pub fn below_side(&self, share: f64) -> f64 {
        let at = |s: f64| self.home.below_side(s) + self.planted.below(self.line, s);
        at(share) - at(1.0)
    }

    pub fn height(&self, share: f64) -> f64 {
        let s = share.clamp(0.0, 1.0);
        // Beyond the seams it runs on as it came.
        let on = if share < 0.0 {
            (self.below_side(0.02) - self.below_side(0.0)) / 0.02 * share
        } else if share > 1.0 {
            (self.below_side(1.0) - self.below_side(0.98)) / 0.02 * (share - 1.0)
        } else {
            0.0
        };
        self.side - self.below_side(s) - on + self.wander.0 * (9.0 * share + self.wander.1).sin()
    }

    /// The share of the way at an angle; beyond the ends it runs on.
    pub fn share(&self, angle: f64) -> f64 {
        let t = &self.table;
        let rising = t[0].0 < t[t.len() - 1].0;
        let after = t.partition_point(|p| if rising { p.0 < angle } else { p.0 > angle });
        let i = after.clamp(1, t.len() - 1);
        let (a, b) = (t[i - 1], t[i]);
        a.1 + (b.1 - a.1) * (angle - a.0) / (b.0 - a.0)
    }

    pub fn angle(&self, share: f64) -> f64 {
        let t = &self.table;
        let i = t.partition_point(|p| p.1 < share).clamp(1, t.len() - 1);
        let (a, b) = (t[i - 1], t[i]);
        a.0 + (b.0 - a.0) * (share - a.1) / (b.1 - a.1).max(1e-9)
    }

    fn lay_table(&mut self, cloth: &Cloth) {
        const STEPS: usize = 240;
        let angle = |k: usize| self.ends.0 + (self.ends.1 - self.ends.0) * k as f64 / STEPS as f64;
        let place = |k: usize| cloth.place(angle(k), self.side, false);
        let mut run = vec![(angle(0), 0.0)];
        for k in 1..=STEPS {
            let (a, b) = (place(k - 1), place(k));
            run.push((angle(k), run[k - 1].1 + (a[0] - b[0]).hypot(a[2] - b[2]).max(1e-6)));
        }
        let whole = run[STEPS].1;
        self.table = run.into_iter().map(|(a, r)| (a, r / whole)).collect();
    }
}

/// A photo to be: parts, lines, camera, light, wall.
pub struct Scene {
    pub view: PieceView,
    pub parts: Vec<Cloth>,
    pub lines: Vec<Drawn>,
    pub lens: Lens,
    pub distance: f64,
    pub touching: bool,
    /// How far folds stand out at the most, mm.
    pub folds: f64,
    pub planted: Planted,
}

/// How long a line is on its piece.
pub fn length_of(pattern: &Pattern, piece: &str, line: HangLine) -> f64 {
    let (placed, _) = pattern.place_lines();
    let of_line = placed.iter().filter(|l| l.name == name(line) && l.piece == piece);
    of_line.map(|l| l.chain.length()).sum()
}

/// The angle so far along the cloth from the widest place at the side `out`, away from
/// the camera; less than nought towards it.
fn beyond_widest(cloth: &Cloth, y: f64, out: f64, far: f64) -> f64 {
    const STEP: f64 = 0.004;
    let way = STEP * out * far.signum();
    let (mut angle, mut run) = (out * FRAC_PI_2, 0.0);
    while run < far.abs() {
        let (a, b) = (cloth.place(angle, y, false), cloth.place(angle + way, y, false));
        run += (a[0] - b[0]).hypot(a[2] - b[2]);
        angle += way;
    }
    angle
}

/// Where the seams lie round the cloth: what the piece is longer than the near half goes
/// out of sight, more of it at one seam or the other, a little off.
fn seams(cloth: &Cloth, y: f64, out: f64, long: f64, seat: bool, dice: &mut Dice) -> (f64, f64) {
    let half = |from: f64, to: f64| {
        let place = |k: i32| cloth.place(from + (to - from) * f64::from(k) / 400.0, y, false);
        let way = |a: [f64; 3], b: [f64; 3]| (a[0] - b[0]).hypot(a[2] - b[2]);
        (0..400).map(|k| way(place(k), place(k + 1))).sum::<f64>()
    };
    let smooth = half(0.0, std::f64::consts::TAU) / cloth.girth(y);
    if seat {
        let beyond = long * smooth - half(0.0, FRAC_PI_2) + dice.normal(5.0);
        return (0.0, beyond_widest(cloth, y, out, beyond));
    }
    let beyond = long * smooth - half(-FRAC_PI_2, FRAC_PI_2);
    let at_side = dice.between(0.3, 0.6) * beyond + dice.normal(4.0);
    let inner = beyond_widest(cloth, y, -out, beyond - at_side);
    (inner, beyond_widest(cloth, y, out, at_side))
}

/// The line's name in the pattern.
pub fn name(line: HangLine) -> &'static str {
    match line {
        HangLine::Hip => names::HIP_BALANCE,
        HangLine::Thigh => names::THIGH,
        _ => names::KNEE,
    }
}

/// Which leg is at the photo's left.
pub fn leg_at(view: PieceView, left_in_photo: bool) -> Leg {
    if left_in_photo == (view == PieceView::Back) { Leg::Left } else { Leg::Right }
}

impl Scene {
    /// A scene; the lens so high above the floor, or as the dice fall.
    pub fn new(
        pattern: &Pattern,
        view: PieceView,
        planted: Planted,
        lens_height: Option<f64>,
        dice: &mut Dice,
    ) -> Self {
        let piece = view.piece();
        let apart = |a, b| length_along_grain(pattern, piece, a, b).expect("both are marked");
        let worn = 1.0 - dice.normal(0.006).abs();
        let thigh = dice.between(660.0, 740.0);
        let knee = thigh - worn * apart(names::THIGH, names::KNEE);
        let hip = thigh + worn * apart(names::HIP_BALANCE, names::THIGH);
        let crumpled = dice.between(0.5, 5.0);
        let touching = dice.chance(0.5);
        let mut parts = legs(pattern, (thigh, knee), touching, crumpled, dice);
        parts.push(seat(pattern, hip, view, crumpled, dice));
        let homes = home_shapes(pattern);
        let wander = dice.between(0.0, 0.3);
        let mut lines = Vec::new();
        for (line, side) in [(HangLine::Hip, hip), (HangLine::Thigh, thigh), (HangLine::Knee, knee)]
        {
            for left in [true, false] {
                let out = if left { -1.0 } else { 1.0 };
                let part = if line == HangLine::Hip { 2 } else { usize::from(!left) };
                let long = length_of(pattern, piece, line);
                let ends = seams(&parts[part], side, out, long, line == HangLine::Hip, dice);
                let home = homes.iter().find(|h| h.piece == piece && h.line == name(line));
                let mut drawn = Drawn {
                    line,
                    leg: leg_at(view, left),
                    part,
                    side,
                    ends,
                    home: home.expect("a marked line has a home").clone(),
                    planted,
                    wander: (wander, dice.between(0.0, 6.0)),
                    table: Vec::new(),
                };
                drawn.lay_table(&parts[part]);
                lines.push(drawn);
            }
        }
        let distance = dice.between(2000.0, 4000.0);
        let size = (1350, 1800);
        let high = dice.between(1300.0, 1500.0);
        let (beside, height) = (dice.between(-150.0, 150.0), dice.between(700.0, 1400.0));
        let eye = [beside, lens_height.unwrap_or(height), distance];
        let aim = [eye[0] * 0.7 + dice.normal(20.0), 0.5 * high - 50.0, 0.0];
        let focal = size.1 as f64 * distance / high;
        let lens =
            Lens::new(eye, aim, dice.between(-0.03, 0.03), focal, dice.between(-0.02, 0.02), size);
        Self { view, parts, lines, lens, distance, touching, folds: crumpled, planted }
    }

    pub fn drawn(&self, line: HangLine, leg: Leg) -> &Drawn {
        self.lines.iter().find(|d| (d.line, d.leg) == (line, leg)).expect("all are drawn")
    }
}

/// Both legs, left in the photo first. As large round at both lines as the pattern says.
fn legs(
    pattern: &Pattern,
    (thigh, knee): (f64, f64),
    touching: bool,
    crumpled: f64,
    dice: &mut Dice,
) -> Vec<Cloth> {
    let round = |line| girth_at(pattern, line, LegSeen::Left).expect("both are marked");
    let (wide, narrow) = (round(names::THIGH), round(names::KNEE));
    // Shape: half depths as a share of the half width, squareness, an inner side that is
    // fuller or flatter than the outer.
    let near = dice.between(0.78, 1.12);
    let far = dice.between(0.85, 1.15);
    let square = dice.between(2.0, 2.7);
    let inner = dice.between(0.9, 1.1);
    let press = if touching { dice.between(2.0, 16.0) } else { -dice.between(4.0, 35.0) };
    [-1.0, 1.0]
        .map(|side: f64| {
            let half = wide / std::f64::consts::TAU;
            let make = |half: f64| {
                let (left, right) = if side < 0.0 { (1.0, inner) } else { (inner, 1.0) };
                let at = (side * (half * inner - press), 0.0);
                let sizes = [half * left, half * right, half * near, half * far];
                let wall = touching.then_some((side * 1.0, side));
                Cloth::new(at, sizes, square, thigh, wall)
            };
            let mut cloth = make(half);
            let mut seed = dice.count(0, 1_000_000) as u64;
            for _ in 0..6 {
                let grown = cloth.left.max(cloth.right) * wide / cloth.girth(thigh);
                let folds = (cloth.folds.clone(), cloth.ripples.clone());
                cloth = make(grown / 1.0_f64.max(inner));
                (cloth.folds, cloth.ripples) = folds;
                if cloth.ripples.is_empty() {
                    seed += 1;
                    cloth.crumple(crumpled, &[thigh, knee], &mut Dice::new(seed));
                }
            }
            cloth.shift = side * dice.between(0.02, 0.08);
            for _ in 0..6 {
                let now = cloth.girth(knee) / cloth.girth(thigh);
                cloth.taper += (now - narrow / wide) / (thigh - knee);
            }
            cloth
        })
        .to_vec()
}

/// The seat, or the front over the hips.
fn seat(pattern: &Pattern, hip: f64, view: PieceView, crumpled: f64, dice: &mut Dice) -> Cloth {
    let round = girth_at(pattern, names::HIP_BALANCE, LegSeen::Both).expect("it is marked");
    let deep = dice.between(0.58, 0.78);
    // The seat stands out further than the front.
    let behind = dice.between(1.0, 1.25);
    let (near, far) =
        if view == PieceView::Back { (behind, 2.0 - behind) } else { (2.0 - behind, behind) };
    let square = dice.between(2.05, 2.8);
    let mut cloth = Cloth::new((0.0, 0.0), [1.0, 1.0, deep * near, deep * far], square, hip, None);
    cloth.grow(round / 5.4);
    cloth.crumple(crumpled * 0.7, &[hip, hip], dice);
    for _ in 0..6 {
        cloth.grow(round / cloth.girth(hip));
    }
    cloth.taper = dice.between(-0.0008, 0.0003);
    cloth
}
