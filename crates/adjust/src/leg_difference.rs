//! In what the left and the right leg of a parted pattern differ.

use crate::ChangeError;
use hangtrue_geometry::{Chain, Point};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::{End, Leg, Pattern, Piece, Seam};
use serde::Serialize;
use std::fmt;

/// One difference between the legs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LegDifference {
    /// What differs: a seam, a corner, a dart, a line.
    pub what: String,
    /// How, in words, when it is not a length.
    pub how: Option<String>,
    /// Left minus right for a length, the distance for a place, mm; 0 when it is
    /// not a length.
    pub mm: f64,
}

impl fmt::Display for LegDifference {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.how {
            Some(how) => write!(f, "the {} {how}", self.what),
            None => write!(f, "the {} by {}", self.what, Length(self.mm.abs())),
        }
    }
}

/// Everything in which the legs differ by more than `within` mm, the right leg's
/// names; lines and joins that only one leg has.
///
/// # Errors
/// [`ChangeError`] when a seam cannot be measured.
pub fn leg_differences(pattern: &Pattern, within: f64) -> Result<Vec<LegDifference>, ChangeError> {
    let (left, right) = (pattern.one_leg(Leg::Left), pattern.one_leg(Leg::Right));
    let mut found = Vec::new();
    let mut differ = |what: String, mm: f64| {
        if mm.abs() > within {
            found.push(LegDifference { what, how: None, mm });
        }
    };
    for piece in &right.pieces {
        let Ok(other) = left.piece(&piece.name) else { continue };
        pieces_differ(other, piece, &mut differ);
    }
    for join in &right.joins {
        if let Some(other) = left.joins.iter().find(|j| j.name == join.name) {
            differ(format!("ease of the {}", join.name), other.ease - join.ease);
        }
    }
    only_on_one(&left, &right, &mut found);
    Ok(found)
}

fn pieces_differ(left: &Piece, right: &Piece, differ: &mut impl FnMut(String, f64)) {
    let of = |what: &str| format!("{what} of the {}", right.name);
    for seam in &right.seams {
        let Ok(other) = left.seam(&seam.name) else { continue };
        differ(of(&seam.name), other.sewn_length() - seam.sewn_length());
        differ(of(&format!("course of the {}", seam.name)), seams_apart(other, seam));
        for (index, dart) in seam.darts.iter().enumerate() {
            let Some(twin) = other.darts.iter().position(|d| d.name == dart.name) else { continue };
            differ(
                of(&format!("width of the {}", dart.name)),
                other.intake(twin) - seam.intake(index),
            );
            differ(
                of(&format!("point of the {}", dart.name)),
                other.darts[twin].apex.distance(dart.apex),
            );
        }
    }
    for (name, corner) in right.corners() {
        if let Ok(other) = left.corner(name) {
            differ(of(name), other.distance(corner));
        }
    }
    for notch in &right.notches {
        let same = |n: &&hangtrue_pattern::Notch| n.name == notch.name && n.seam == notch.seam;
        let Some(other) = left.notches.iter().find(same) else { continue };
        let at = |piece: &Piece, n: &hangtrue_pattern::Notch| {
            piece.seam(&n.seam).map_or(Point::ORIGIN, |s| s.place(n.from, n.distance).point)
        };
        differ(of(&format!("{} notch", notch.name)), at(left, other).distance(at(right, notch)));
    }
    for (end, p, q) in
        [("lower", left.grain.from, right.grain.from), ("upper", left.grain.to, right.grain.to)]
    {
        differ(of(&format!("{end} end of the grain")), p.distance(q));
    }
    for line in &right.inner {
        let Some(other) = left.inner.iter().find(|l| l.name == line.name) else { continue };
        differ(of(&line.name), chains_apart(&other.chain, &line.chain));
    }
}

/// How far apart two seams run at most, mm: the most met at 64 places each way.
pub fn seams_apart(a: &Seam, b: &Seam) -> f64 {
    if a.parts.len() == b.parts.len() {
        let parts = a.parts.iter().zip(&b.parts);
        return parts.map(|(p, q)| chains_apart(p, q)).fold(0.0, f64::max);
    }
    let far = |a: &Seam, b: &Seam| {
        let length = a.sewn_length();
        let at = |i: usize| a.place(End::Start, length * i as f64 / PLACES as f64).point;
        (0..=PLACES).map(|i| b.nearest(at(i)).1).fold(0.0, f64::max)
    };
    far(a, b).max(far(b, a))
}

/// Curves are compared at so many places.
const PLACES: usize = 64;

/// Control points nearer than this are the same, mm.
const SAME_POINTS: f64 = 1e-6;

/// How far apart two curves run at most, mm: 0 for curves of the same control
/// points (no point of two Bézier curves lies farther apart than these do),
/// otherwise the largest distance met at [`PLACES`] places each way.
fn chains_apart(a: &Chain, b: &Chain) -> f64 {
    use hangtrue_geometry::PathSeg::{Cubic, Line, Quad};
    let built_alike = a.segments().len() == b.segments().len();
    let mut most = 0.0f64;
    let pairs = a.segments().iter().zip(b.segments());
    let mut alike = built_alike;
    for pair in pairs {
        let far = match pair {
            (Line(p), Line(q)) => [p.p0.distance(q.p0), p.p1.distance(q.p1), 0.0, 0.0],
            (Quad(p), Quad(q)) => {
                [p.p0.distance(q.p0), p.p1.distance(q.p1), p.p2.distance(q.p2), 0.0]
            }
            (Cubic(p), Cubic(q)) => {
                [p.p0.distance(q.p0), p.p1.distance(q.p1), p.p2.distance(q.p2), p.p3.distance(q.p3)]
            }
            _ => {
                alike = false;
                break;
            }
        };
        most = far.into_iter().fold(most, f64::max);
    }
    if alike && most <= SAME_POINTS {
        return most;
    }
    let far = |a: &Chain, b: &Chain| {
        let at = |i: usize| a.point_at(a.length() * i as f64 / PLACES as f64);
        (0..=PLACES).map(|i| b.nearest(at(i)).distance).fold(0.0, f64::max)
    };
    far(a, b).max(far(b, a))
}

/// What stands on one leg alone, and lines placed by different rules.
fn only_on_one(left: &Pattern, right: &Pattern, found: &mut Vec<LegDifference>) {
    let mut say = |what: String, how: String| {
        found.push(LegDifference { what, how: Some(how), mm: 0.0 });
    };
    for (here, there, leg) in [(left, right, Leg::Left), (right, left, Leg::Right)] {
        let only = || format!("is on the {} leg only", leg.word());
        for piece in &here.pieces {
            let Ok(other) = there.piece(&piece.name) else {
                say(piece.name.clone(), only());
                continue;
            };
            for name in marks_of(piece) {
                if !marks_of(other).contains(&name) {
                    say(format!("{name} of the {}", piece.name), only());
                }
            }
        }
        for line in &here.lines {
            if there.line(&line.piece, &line.name).is_err() {
                say(format!("{} line of the {}", line.name, line.piece), only());
            }
        }
        for join in here.joins.iter().filter(|j| there.joins.iter().all(|k| k.name != j.name)) {
            say(format!("sewing of the {}", join.name), only());
        }
    }
    for line in &right.lines {
        if let Ok(other) = left.line(&line.piece, &line.name)
            && other.rule != line.rule
        {
            let what = format!("{} line of the {}", line.name, line.piece);
            say(what, "is placed by another rule on each leg".into());
        }
    }
}

/// Names of what a piece has: seams, darts, notches, inner lines.
fn marks_of(piece: &Piece) -> Vec<String> {
    let seams = piece.seams.iter().map(|s| s.name.clone());
    let darts = piece.darts().map(|(_, _, d)| d.name.clone());
    let notches = piece.notches.iter().map(|n| format!("{} notch on the {}", n.name, n.seam));
    let inner = piece.inner.iter().map(|l| l.name.clone());
    seams.chain(darts).chain(notches).chain(inner).collect()
}
