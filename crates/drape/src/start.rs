//! Where the sewn cloth begins: laid loosely round the body, so that each part is
//! already on its own side of it.

use crate::body::Body;
use crate::cloth::{Flat, Position};
use crate::sew::{Sewn, SewnPiece};
use hangtrue_pattern::{Leg, names};
use std::f64::consts::PI;

/// How the cloth is laid on to begin with.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Start {
    /// How far it stands off the skin, mm.
    pub off: f64,
    /// How much higher than it belongs, mm.
    pub lifted: f64,
}

/// The rays that find the skin reach this far, mm.
const REACH: f64 = 500.0;
/// Below the fork what the crotch seam needs is lost over this way, mm.
const FADES: f64 = 60.0;

/// An edge of a piece as it lies flat, in order.
struct Edge(Vec<Flat>);

impl Edge {
    fn of(piece: &SewnPiece, names: &[&str]) -> Self {
        let points = names.iter().flat_map(|n| piece.seams.iter().filter(move |s| s.0 == *n));
        Self(points.flat_map(|s| s.1.iter().map(|(p, _)| piece.mesh.points[*p])).collect())
    }

    /// Where the edge crosses a level: the crossing that lies furthest towards
    /// `towards`, or the nearer end when it does not reach there.
    fn across(&self, level: f64, towards: f64) -> f64 {
        let mut best: Option<f64> = None;
        for pair in self.0.windows(2) {
            let (a, b) = (pair[0], pair[1]);
            if (a.y > level) != (b.y > level) {
                let x = a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y);
                if best.is_none_or(|best| (x - best) * towards > 0.0) {
                    best = Some(x);
                }
            }
        }
        let nearest = || {
            let near = |p: &&Flat| (p.y - level).abs();
            self.0.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map_or(0.0, |p| p.x)
        };
        best.unwrap_or_else(nearest)
    }
}

/// The places of all vertices to begin with.
pub fn lay_on(sewn: &Sewn, body: &Body, start: Start) -> Vec<Position> {
    let mut sums = vec![(Position::zeros(), 0.0); sewn.cloth.vertices];
    for piece in &sewn.pieces {
        for (v, at) in lay_piece(piece, body, start) {
            sums[v].0 += at;
            sums[v].1 += 1.0;
        }
    }
    let mut places: Vec<Position> = sums.iter().map(|(sum, n)| sum / f64::max(*n, 1.0)).collect();
    for &v in sewn.centre.iter().flatten() {
        places[v].x = 0.0;
    }
    places
}

fn lay_piece(piece: &SewnPiece, body: &Body, start: Start) -> Vec<(usize, Position)> {
    let waist = Edge::of(piece, &[names::WAIST]);
    let top = waist.0.iter().map(|p| p.y).sum::<f64>() / waist.0.len() as f64;
    let inner = Edge::of(piece, &[names::CROTCH, names::INSEAM]);
    let outer = Edge::of(piece, &[names::SIDE]);
    let towards = if piece.back { -1.0 } else { 1.0 };
    let fork =
        Edge::of(piece, &[names::CROTCH]).0.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let lay = Lay { body, start, side: towards };
    let raise = body.waist - top + start.lifted;
    // What the crotch seam needs beyond the plain laying, by level.
    let seam = crotch_seam(piece, body, start);
    let wants: Vec<(f64, Position)> =
        seam.iter().map(|(flat, at)| (flat.y, at - lay.at(0.0, flat.y + raise))).collect();
    let want = |level: f64| -> Position {
        let fade = if level < fork { ((level - fork) / FADES).exp() } else { 1.0 };
        let near = |w: &&(f64, Position)| (w.0 - level).abs();
        let found = wants.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
        found.map_or(Position::zeros(), |w| w.1 * fade)
    };
    let mirror = if piece.leg == Leg::Left { -1.0 } else { 1.0 };
    let crotch: std::collections::BTreeMap<usize, Position> = piece
        .seams
        .iter()
        .filter(|s| s.0 == names::CROTCH)
        .flat_map(|s| s.1.iter().map(|(p, _)| *p))
        .zip(seam.iter().map(|s| s.1))
        .collect();
    let place = |(k, p): (usize, &Flat)| {
        let (a, b) = (inner.across(p.y, towards), outer.across(p.y, -towards));
        let t = ((p.x - a) / (b - a)).clamp(0.0, 1.0);
        let mut at = match crotch.get(&k) {
            Some(at) => *at,
            None => lay.at(t, p.y + raise) + want(p.y) * (1.0 - t).powi(3),
        };
        at.x *= mirror;
        (piece.vertex[k], at)
    };
    piece.mesh.points.iter().enumerate().map(place).collect()
}

/// The crotch seam laid along the body's own line, length for length: flat points
/// and places.
fn crotch_seam(piece: &SewnPiece, body: &Body, start: Start) -> Vec<(Flat, Position)> {
    let line = &body.crotch.points;
    let lowest = (0..line.len()).min_by(|&a, &b| line[a].y.total_cmp(&line[b].y)).unwrap_or(0);
    let half: Vec<_> = if piece.back {
        line[lowest..].iter().rev().copied().collect()
    } else {
        line[..=lowest].to_vec()
    };
    let mut along = vec![0.0];
    half.windows(2).for_each(|w| along.push(along[along.len() - 1] + (w[1] - w[0]).norm()));
    let whole = along[along.len() - 1];
    let Some((_, seam)) = piece.seams.iter().find(|s| s.0 == names::CROTCH) else {
        return Vec::new();
    };
    let long = seam.last().map_or(1.0, |s| s.1);
    let middle = body.shape.torso.y.at(body.shape.base);
    seam.iter()
        .map(|(p, position)| {
            let way = position / long * whole;
            let k = along.iter().position(|a| *a >= way - 1e-9).unwrap_or(along.len() - 1).max(1);
            let t = (way - along[k - 1]) / (along[k] - along[k - 1]).max(1e-9);
            let at = half[k - 1] + (half[k] - half[k - 1]) * t;
            // Off the skin, away from the middle of the seat.
            let out = nalgebra::Vector2::new(at.x - middle, (at.y - body.shape.base).min(0.0));
            let at = at + out.normalize() * start.off;
            (piece.mesh.points[*p], Position::new(0.0, at.x, at.y + start.lifted))
        })
        .collect()
}

struct Lay<'a> {
    body: &'a Body,
    start: Start,
    /// −1 for the back, 1 for the front.
    side: f64,
}

impl Lay<'_> {
    /// The place a share `t` of the way from the inner edge to the side, at a height.
    fn at(&self, t: f64, z: f64) -> Position {
        let shape = &self.body.shape;
        let level = z - self.start.lifted;
        let (x, y) = (shape.leg.x.at(level), shape.leg.y.at(level));
        let inner = self.inner(level);
        let from = (inner.1 - y).atan2(inner.0 - x).abs().min(PI);
        let turn = self.side * from * (1.0 - t);
        let (sine, cosine) = turn.sin_cos();
        let skin = self.skin(x, y, cosine, sine, level) + self.start.off;
        Position::new((x + skin * cosine).max(1.0), y + skin * sine, z)
    }

    /// Where the inner edge of the cloth lies at a level.
    fn inner(&self, z: f64) -> (f64, f64) {
        let shape = &self.body.shape;
        let fork = shape.base - shape.depth;
        let y = shape.torso.y.at(z.max(shape.base));
        let deep = if self.side > 0.0 { &shape.torso.front } else { &shape.torso.back };
        let share = ((z - fork) / shape.depth).clamp(0.0, 1.0);
        let leg = shape.leg.y.at(z);
        let end = y + self.side * deep.at(z.max(shape.base));
        let part = (1.0 - (1.0 - share).powi(2)).sqrt();
        (0.0, leg + (end - leg) * part)
    }

    /// How far the skin lies along a ray, mm: the last crossing, found from outside.
    fn skin(&self, x: f64, y: f64, cosine: f64, sine: f64, z: f64) -> f64 {
        let level = |t: f64| self.body.shape.level(x + t * cosine, y + t * sine, z);
        let (mut low, mut high) = (0.0, 40.0);
        while level(high) < 0.0 && high < REACH {
            low = high;
            high += 40.0;
        }
        for _ in 0..12 {
            let middle = 0.5 * (low + high);
            if level(middle) < 0.0 { low = middle } else { high = middle }
        }
        high
    }
}
