//! A line laid on the body.

use super::taken::{Taken, section};
use crate::worn::{Stand, TracedLine, WornError};
use hangtrue_pattern::words::Length;

/// A line laid on the body.
#[derive(Clone)]
pub(super) struct LineOnBody {
    /// Share of the seen length of each place, from 0 to 1.
    pub(super) shares: Vec<f64>,
    /// Their heights, mm.
    pub(super) heights: Vec<f64>,
    /// Shares and heights of the clicks by which it was followed.
    pub(super) clicks: Vec<(f64, f64)>,
    /// The same if the body were flat, mm.
    pub(super) flat: Vec<f64>,
    /// The straight way between the edges, level, mm.
    pub(super) across: f64,
    pub(super) mm_per_pixel: f64,
    pub(super) foreshortened: f64,
    /// How long it is along the cloth from edge to edge, mm.
    pub(super) seen: f64,
    /// How far the body lies below or above the lens for each mm it lies away.
    pub(super) down: f64,
}

pub(super) fn lay_on_body(
    line: &TracedLine,
    (stand, taken): (&Stand, &Taken),
    edges: [f64; 2],
) -> Result<LineOnBody, WornError> {
    let mut line = line.clone();
    let last = line.points.len() - 1;
    // The edges are moved along the line, so that only what they say of the
    // body's width changes.
    for (end, next, by) in [(0, 1, edges[0]), (last, last - 1, edges[1])] {
        let along = line.points[next] - line.points[end];
        let along = along / along.hypot().max(1e-9);
        line.points[end] += along * by;
    }
    let section = section(stand, &line, taken).ok_or_else(|| {
        let sights = [0, last].map(|i| stand.sight(line.points[i]).x);
        let width = (sights[1] - sights[0]).abs() * taken.distance;
        WornError::WiderThanRound {
            line: line.name.clone(),
            width: Length(width),
            girth: Length(line.girth),
        }
    })?;
    let near = section.away - section.half_depth;
    let sights: Vec<_> = line.points.iter().map(|p| stand.sight(*p)).collect();
    let away: Vec<f64> = sights.iter().map(|s| section.near_side(s.x)).collect();
    let level: Vec<(f64, f64)> = sights.iter().zip(&away).map(|(s, z)| (s.x * z, *z)).collect();
    let mut run = vec![0.0];
    let mut foreshortened: f64 = 1.0;
    for pair in level.windows(2) {
        let (dx, dz) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        run.push(run[run.len() - 1] + dx.hypot(dz));
        foreshortened = foreshortened.max(dx.hypot(dz) / dx.abs().max(1e-9));
    }
    let whole = run[last];
    let mut shares: Vec<f64> = run.iter().map(|r| r / whole).collect();
    shares[last] = 1.0;
    let click = |p: &hangtrue_geometry::Point| {
        let sight = stand.sight(*p);
        (share_at(&sights, &shares, sight.x), sight.y * section.near_side(sight.x))
    };
    Ok(LineOnBody {
        clicks: line.clicks.iter().map(click).collect(),
        shares,
        heights: sights.iter().zip(&away).map(|(s, z)| s.y * z).collect(),
        flat: sights.iter().map(|s| s.y * near).collect(),
        across: (level[last].0 - level[0].0).hypot(level[last].1 - level[0].1),
        mm_per_pixel: near / stand.focal,
        foreshortened,
        seen: whole,
        down: (sights.iter().map(|s| s.y).sum::<f64>() / sights.len() as f64).abs(),
    })
}

/// The share of a sight across, between those of the places.
fn share_at(sights: &[hangtrue_geometry::Vec2], shares: &[f64], x: f64) -> f64 {
    let last = sights.len() - 1;
    let way = (sights[last].x - sights[0].x).signum();
    let after = sights.partition_point(|s| (s.x - x) * way < 0.0).clamp(1, last);
    let (a, b) = (sights[after - 1].x, sights[after].x);
    let t = if b == a { 0.0 } else { ((x - a) / (b - a)).clamp(0.0, 1.0) };
    shares[after - 1] + t * (shares[after] - shares[after - 1])
}
