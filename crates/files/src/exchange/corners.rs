//! Where an outline turns: the corners a traced piece has.

use super::loops::Ends;
use hangtrue_geometry::{Chain, PathSeg, Point, angle_between};

/// An outline that turns by more than this at a joint has a corner there,
/// radians (20°). A hem meets a side seam, and a curve drawn in short straight
/// pieces turns by less at each (common practice, no published source).
pub const CORNER_ANGLE: f64 = 20.0 * std::f64::consts::PI / 180.0;

/// A point given as a corner lies on a joint when it is this near, mm.
const ON_JOINT: f64 = 0.05;

/// The turn at the joint before segment `index` of a closed outline, radians.
pub(crate) fn turn_at(segments: &[PathSeg], index: usize) -> f64 {
    let before = segments[(index + segments.len() - 1) % segments.len()];
    let direction = |s: PathSeg| Chain::new(vec![s]).ok();
    match (direction(before), direction(segments[index])) {
        (Some(a), Some(b)) => angle_between(a.end_direction(), b.start_direction()),
        _ => 0.0,
    }
}

/// Joints where the outline turns sharply.
pub(crate) fn breaks(segments: &[PathSeg]) -> Vec<usize> {
    (0..segments.len()).filter(|&i| turn_at(segments, i).abs() > CORNER_ANGLE).collect()
}

/// Joints that lie on the given points.
pub(crate) fn joints_at(segments: &[PathSeg], points: &[Point]) -> Vec<usize> {
    let on = |i: &usize| points.iter().any(|p| p.distance(segments[*i].start_of()) <= ON_JOINT);
    (0..segments.len()).filter(on).collect()
}

/// The closed outline cut at its joints, in order, from the first of them. An
/// outline with fewer than two corners is cut in halves, because a seam runs
/// from one corner to another.
pub(crate) fn cut(outline: &Chain, joints: &[usize]) -> Option<Vec<Chain>> {
    let segments = outline.segments();
    let first = joints.first().copied().unwrap_or(0);
    let turned: Vec<PathSeg> =
        segments[first..].iter().chain(&segments[..first]).copied().collect();
    if joints.len() < 2 {
        let whole = Chain::new(turned).ok()?;
        let (a, b) = whole.split_at(whole.length() / 2.0).ok()?;
        return Some(vec![a, b]);
    }
    let mut starts: Vec<usize> = joints.iter().map(|j| j - first).collect();
    starts.push(turned.len());
    starts.windows(2).map(|w| Chain::new(turned[w[0]..w[1]].to_vec()).ok()).collect()
}
