//! Corners of a line known by many places.

use super::Local;
use crate::{Point, Vec2, angle_between};

/// What counts as a corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerLook {
    /// The least turn, radians.
    pub turn: f64,
    /// How much of the line to each side is looked at, mm.
    pub arm: f64,
    /// What next to the corner is not trusted, mm: a picture rounds it.
    pub gap: f64,
}

/// A corner found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Index of the place next to it.
    pub index: usize,
    /// The corner itself, where the two sides meet, mm.
    pub at: Point,
    /// By how much the line turns, radians, counter-clockwise positive.
    pub turn: f64,
    /// Unit direction in which the line comes to the corner.
    pub arrives: Vec2,
    /// Unit direction in which it leaves.
    pub leaves: Vec2,
}

impl Corner {
    /// Whether a place near the corner lies on the side that leaves it.
    pub fn is_after(&self, p: Point) -> bool {
        let off = |way: Vec2| {
            let v = p - self.at;
            (v - way * v.dot(way).max(0.0)).hypot()
        };
        off(self.leaves) < off(-self.arrives)
    }
}

/// Finds the corners of a line, in order. On each side of a place a parabola is
/// fitted to the arm; the two directions at the place tell a corner from a tight
/// curve, and the corner is where the two parabolas meet.
pub fn find_corners(places: &[Point], closed: bool, look: CornerLook) -> Vec<Corner> {
    let n = places.len();
    if n < 8 || places.iter().any(|p| !p.is_finite()) {
        return Vec::new();
    }
    let along = Along::new(places, closed, look.gap);
    let bends: Vec<Option<Bend>> = (0..n).map(|i| along.bend(i, look)).collect();
    let mut clean: Vec<(f64, Corner)> = Vec::new();
    for cluster in along.clusters(&bends, look) {
        let least = cluster
            .iter()
            .filter_map(|&i| bends[i].as_ref().map(|b| (i, b)))
            .min_by(|a, b| a.1.cost.total_cmp(&b.1.cost));
        let Some((index, bend)) = least else { continue };
        let sides = along.longer(index, bend, look);
        let at = sides.meet(along.room(index, look.gap)).unwrap_or(places[index]);
        let (arrives, leaves) = sides.directions();
        clean.push((bend.cost, Corner { index, at, turn: bend.turn, arrives, leaves }));
    }
    // An arm that reaches over a corner turns too, but its places lie far from
    // it: of places within an arm of each other the cleanest is the corner.
    clean.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<Corner> = Vec::new();
    for (_, corner) in clean {
        if found.iter().all(|f| along.between(f.index, corner.index) >= look.arm) {
            found.push(corner);
        }
    }
    found.sort_by_key(|c| c.index);
    found
}

/// Arms tried for the place of a corner, in arms of the search.
const LONGER: [f64; 3] = [1.5, 2.0, 3.0];
/// One parabola does for an arm when its places lie about it no wider than this
/// against two, one for each half, squared.
const STILL: f64 = 1.25;
/// No places are truer than this, mm.
const TRUEST: f64 = 0.01;

/// The parabola of an arm when two, one for each half, do no better.
fn one_parabola(arm: &[(f64, Point, f64)]) -> Option<Local> {
    let whole = Local::fit(arm.iter().copied())?;
    let (near, far) = arm.split_at(arm.len() / 2);
    let (near, far) = (Local::fit(near.iter().copied())?, Local::fit(far.iter().copied())?);
    // Three numbers are fitted across each.
    let free = |fitted: usize| arm.len().saturating_sub(fitted).max(1) as f64;
    let halves = (near.left + far.left) / free(6);
    (whole.left / free(3) <= STILL * halves.max(TRUEST * TRUEST)).then_some(whole)
}

struct Along<'a> {
    places: &'a [Point],
    gone: Vec<f64>,
    length: f64,
    closed: bool,
}

/// The two arms at a place.
#[derive(Clone, Copy)]
struct Bend {
    before: Local,
    after: Local,
    turn: f64,
    /// Mean square distance of the places from their arms, mm².
    cost: f64,
}

impl<'a> Along<'a> {
    /// A hole in the line counts for no more than `most`, mm: places are often
    /// missing round a corner, and its arms begin where they are there again.
    fn new(places: &'a [Point], closed: bool, most: f64) -> Self {
        let mut gone = Vec::with_capacity(places.len());
        let mut sum = 0.0;
        for (i, p) in places.iter().enumerate() {
            if i > 0 {
                sum += p.distance(places[i - 1]).min(most);
            }
            gone.push(sum);
        }
        let back = places[places.len() - 1].distance(places[0]).min(most);
        Self { places, gone, length: sum + if closed { back } else { 0.0 }, closed }
    }

    /// How far from a place its corner may lie, mm: the widest hole near it is where
    /// the places of the corner are missing.
    fn room(&self, i: usize, gap: f64) -> f64 {
        let n = self.places.len();
        let hole = |k: usize| self.places[k].distance(self.places[(k + 1) % n]);
        let near = (0..n).filter(|k| self.between(i, *k) <= 2.0 * gap);
        4.0 * gap + near.map(hole).fold(0.0, f64::max)
    }

    /// The arc length between two places, the shorter way round, mm.
    fn between(&self, a: usize, b: usize) -> f64 {
        let d = (self.gone[a] - self.gone[b]).abs();
        if self.closed { d.min(self.length - d) } else { d }
    }

    /// Places whose arc length from place `i` lies in `from..to` (negative is
    /// before it).
    fn arm(&self, i: usize, from: f64, to: f64) -> Vec<(f64, Point, f64)> {
        let n = self.places.len() as i64;
        let step: i64 = if to > 0.0 { 1 } else { -1 };
        let mut arm = Vec::new();
        let mut k = i as i64;
        for _ in 0..n {
            k += step;
            let Some(at) = (if self.closed {
                Some(k.rem_euclid(n) as usize)
            } else {
                usize::try_from(k).ok().filter(|k| *k < self.places.len())
            }) else {
                break;
            };
            let mut d = self.gone[at] - self.gone[i];
            if self.closed && d * (step as f64) < 0.0 {
                d += self.length * step as f64;
            }
            if d < from && step < 0 || d > to && step > 0 {
                break;
            }
            if d >= from && d <= to {
                arm.push((d, self.places[at], 1.0));
            }
        }
        arm
    }

    fn bend(&self, i: usize, look: CornerLook) -> Option<Bend> {
        let before = self.arm(i, -look.arm, -look.gap);
        let after = self.arm(i, look.gap, look.arm);
        let before = Local::fit(before.iter().copied())?;
        let after = Local::fit(after.iter().copied())?;
        let (u, v) = (before.slope(0.0), after.slope(0.0));
        if u.hypot() == 0.0 || v.hypot() == 0.0 {
            return None;
        }
        // A dent turns where it begins and turns back; a corner turns its arms.
        let chord = |l: &Local| l.at(look.arm) - l.at(look.gap);
        let whole = angle_between(before.at(-look.gap) - before.at(-look.arm), chord(&after));
        let turn = angle_between(u, v);
        let turn = if whole * turn > 0.0 && whole.abs() >= 0.75 * look.turn { turn } else { 0.0 };
        let cost = (before.left + after.left) / (before.count + after.count) as f64;
        Some(Bend { before, after, turn, cost })
    }

    /// The two sides of a corner, each the longest arm that is still one parabola:
    /// the corner lies beyond the places that are trusted, and what a short arm
    /// says of it is mostly noise. Not trusted are those within the gap of the
    /// corner itself, which lies near place `i` and not at it.
    fn longer(&self, i: usize, bend: &Bend, look: CornerLook) -> Bend {
        let corner = bend.meet(self.room(i, look.gap)).unwrap_or(self.places[i]);
        let near = (0..self.places.len()).filter(|k| self.between(i, *k) <= look.arm);
        let away = |k: &usize| self.places[*k].distance_squared(corner);
        let middle = near.min_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or(i);
        let arm = |side: f64, times: f64| {
            let far = look.gap + (look.arm - look.gap) * times;
            let (from, to) = if side > 0.0 { (0.0, far) } else { (-far, 0.0) };
            let mut arm = self.arm(middle, from, to);
            arm.retain(|p| p.1.distance(corner) >= look.gap);
            arm
        };
        let grown = |short: Local, side: f64| {
            let near = Local::fit(arm(side, 1.0).into_iter()).unwrap_or(short);
            let longer = LONGER.iter().map_while(|t| one_parabola(&arm(side, *t)));
            longer.last().unwrap_or(near)
        };
        Bend { before: grown(bend.before, -1.0), after: grown(bend.after, 1.0), ..*bend }
    }

    /// Runs of places that turn enough and lie within an arm of each other.
    fn clusters(&self, bends: &[Option<Bend>], look: CornerLook) -> Vec<Vec<usize>> {
        let turns = |i: &usize| bends[*i].as_ref().is_some_and(|b| b.turn.abs() >= look.turn);
        let mut clusters: Vec<Vec<usize>> = Vec::new();
        for i in (0..bends.len()).filter(turns) {
            let near = |c: &Vec<usize>| {
                c.last()
                    .is_some_and(|&l| self.gone[i] - self.gone[l] < look.gap.max(look.arm / 4.0))
            };
            match clusters.last_mut().filter(|c| near(c)) {
                Some(cluster) => cluster.push(i),
                None => clusters.push(vec![i]),
            }
        }
        // The first and the last of a closed line may be one.
        if self.closed && clusters.len() > 1 {
            let first = self.gone[clusters[0][0]] + self.length;
            let last = clusters.last().and_then(|c| c.last()).map_or(0.0, |&l| self.gone[l]);
            if first - last < look.gap.max(look.arm / 4.0)
                && let Some(tail) = clusters.pop()
            {
                clusters[0].extend(tail);
            }
        }
        clusters
    }
}

impl Bend {
    fn directions(&self) -> (Vec2, Vec2) {
        (self.before.slope(0.0).normalize(), self.after.slope(0.0).normalize())
    }

    /// Where the two arms meet: Newton's method on their parabolas.
    fn meet(&self, room: f64) -> Option<Point> {
        let (mut s, mut t) = (0.0, 0.0);
        for _ in 0..20 {
            let away: Vec2 = self.after.at(t) - self.before.at(s);
            let (u, v) = (self.before.slope(s), self.after.slope(t));
            let turn = u.cross(v);
            if turn.abs() < 0.1 * u.hypot() * v.hypot() {
                return None;
            }
            let (ds, dt) = (away.cross(v) / turn, away.cross(u) / turn);
            s += ds;
            t += dt;
            if ds.abs() + dt.abs() < 1e-12 {
                break;
            }
        }
        (s.abs() < room && t.abs() < room).then(|| self.before.at(s))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOOK: CornerLook = CornerLook { turn: 0.35, arm: 14.0, gap: 2.0 };

    /// A rectangle with one quarter of it rounded, its sharp corners cut by `cut`.
    fn plate(radius: f64, cut: f64) -> Vec<Point> {
        let mut all = Vec::new();
        let mut side = |a: Point, b: Point| {
            let n = (a.distance(b) / 0.6) as usize;
            all.extend((0..n).map(|i| a.lerp(b, i as f64 / n as f64)));
        };
        side(Point::new(0.0, 0.0), Point::new(200.0, 0.0));
        side(Point::new(200.0, 0.0), Point::new(200.0, 100.0 - radius));
        all.extend((0..(radius * 1.6 / 0.6) as usize).map(|i| {
            let a = i as f64 * 0.6 / 1.6 / radius * std::f64::consts::FRAC_PI_2;
            Point::new(200.0 - radius + radius * a.cos(), 100.0 - radius + radius * a.sin())
        }));
        let mut side = |a: Point, b: Point| {
            let n = (a.distance(b) / 0.6) as usize;
            all.extend((0..n).map(|i| a.lerp(b, i as f64 / n as f64)));
        };
        side(Point::new(200.0 - radius, 100.0), Point::new(0.0, 100.0));
        side(Point::new(0.0, 100.0), Point::new(0.0, 0.0));
        let sharp = [(0.0, 0.0), (200.0, 0.0), (0.0, 100.0)].map(Point::from);
        all.retain(|p| sharp.iter().all(|s| s.distance(*p) >= cut));
        all
    }

    #[test]
    fn sharp_corners_are_found_and_a_round_one_is_not() {
        for cut in [0.0, 1.5, 9.0] {
            let corners = find_corners(&plate(30.0, cut), true, LOOK);
            assert_eq!(corners.len(), 3, "{corners:?}");
            for corner in &corners {
                let sharp = [(0.0, 0.0), (200.0, 0.0), (0.0, 100.0)].map(Point::from);
                let off = sharp.iter().map(|s| s.distance(corner.at)).fold(9e9, f64::min);
                assert!(off < 1e-6, "{corner:?}");
                assert!((corner.turn - std::f64::consts::FRAC_PI_2).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn a_flat_corner_is_found_through_noise_and_lies_where_it_is() {
        // 26° between two arcs of 400 mm radius, noise of 0.15 mm.
        let (turn, radius) = (26f64.to_radians(), 400.0);
        let noise = |k: i32| 0.15 * f64::from(k.rem_euclid(997) * 7919 % 13 - 6) / 3.74;
        let places: Vec<Point> = (-120..=120)
            .filter(|k| i32::abs(*k) > 1)
            .map(|k| {
                let s = f64::from(k) * 1.5;
                let bend = s * s / (2.0 * radius);
                let straight = Point::new(s, noise(k) + bend);
                if k < 0 { straight } else { (crate::turned(straight.to_vec2(), turn)).to_point() }
            })
            .collect();
        let corners = find_corners(&places, false, CornerLook { arm: 25.0, gap: 4.5, ..LOOK });
        assert_eq!(corners.len(), 1, "{corners:?}");
        assert!((corners[0].turn - turn).abs() < 0.09, "{corners:?}");
        assert!(corners[0].at.to_vec2().hypot() < 0.8, "{corners:?}");
    }

    #[test]
    fn few_places_or_none_have_no_corners() {
        assert!(find_corners(&[], true, LOOK).is_empty());
        assert!(find_corners(&[Point::ORIGIN; 50], true, LOOK).is_empty());
    }
}
