//! The error to expect of a whole outline.
//!
//! The errors of an outline's points belong together: one wrong corner of the
//! sheet turns all of it. So the marks' other possible cameras are tried and the
//! outline's distance is taken for each; what 95 in 100 of them stay under is
//! what is expected. What the edge itself may be off is added.

use super::doubts::Doubt;
use super::join::OutlinePlace;
use super::outline::Sharpness;
use super::view::CardPhoto;

/// The error to expect of a traced outline, mm, against the marks as given: 95
/// in 100 traced outlines are nearer to the card than this.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expected {
    /// Root mean square round the outline.
    pub rms: f64,
    /// The worst place.
    pub worst: f64,
}

/// Cameras tried.
const TRIED: usize = 240;
/// Places of the outline looked at.
const LOOKED_AT: usize = 200;
/// How far the middle of a blurred edge may be from the edge all along it,
/// pixels: found by the trials of the tests, not from a source.
const EDGE_OFF: f64 = 0.11;
/// The same at the worst place.
const EDGE_WORST: f64 = 0.6;
/// Both where the edge is looked for in the grey of a picture with coarse colours:
/// what a file leaves out of it moves the edge too.
const EDGE_IN_GREY: (f64, f64) = (0.2, 1.2);
/// Both in coarse colours: half a pixel of theirs is one of the picture.
const EDGE_IN_COARSE: (f64, f64) = (0.7, 2.6);

/// What the curves add.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct CurveOff {
    /// The farthest the curves lie from the smoothed edge, mm.
    pub(crate) off: f64,
    /// What is left of the spread of single places in the smoothed edge, mm.
    pub(crate) left: f64,
}

pub(crate) fn expected(views: &[CardPhoto], outline: &[OutlinePlace], curve: CurveOff) -> Expected {
    let step = (outline.len() / LOOKED_AT).max(1);
    let looked: Vec<&OutlinePlace> = outline.iter().step_by(step).collect();
    let tried: Vec<Vec<_>> = views.iter().map(|v| v.ground.camera.maybe(TRIED)).collect();
    let mut pixel: f64 = 0.0;
    for place in &looked {
        let camera = &views[place.photo].ground.camera;
        let scale = camera.to_plane(place.on.seen).and_then(|p| camera.scale_at(p));
        pixel = pixel.max(scale.map_or(0.0, |s| 1.0 / s));
    }
    let mut sums = vec![(0.0, 0.0f64); TRIED];
    for place in &looked {
        let view = &views[place.photo];
        let laying = &view.laying;
        let laid = laying.shift.hypot(laying.turn * place.on.at.distance(laying.middle));
        // Outward on the photo's own table.
        let out = laying.to_table.inverse();
        let out = out * place.on.out.to_point() - out * hangtrue_geometry::Point::ORIGIN;
        let drifts = view.ground.camera.drifts(place.on.seen, &tried[place.photo]);
        for (sum, drift) in sums.iter_mut().zip(drifts.unwrap_or_default()) {
            let off = drift.dot(out).abs() + laid;
            sum.0 += off * off;
            sum.1 = sum.1.max(off);
        }
    }
    let mut means: Vec<f64> =
        sums.iter().map(|s| (s.0 / looked.len().max(1) as f64).sqrt()).collect();
    let mut worsts: Vec<f64> = sums.iter().map(|s| s.1).collect();
    let sharp = views.iter().flat_map(|v| &v.stretches).map(|s| s.sharp).max();
    let (all_along, at_worst) = match sharp {
        Some(Sharpness::Grey) => EDGE_IN_GREY,
        Some(Sharpness::Coarse) => EDGE_IN_COARSE,
        _ => (EDGE_OFF, EDGE_WORST),
    };
    let edge = (curve.off / 2.0).hypot(2.0 * curve.left).hypot(all_along * pixel);
    let edge_worst = curve.off + 3.0 * curve.left + at_worst * pixel;
    Expected {
        rms: at_share(&mut means, 0.95).hypot(edge),
        worst: at_share(&mut worsts, 0.95) + edge_worst,
    }
}

impl Expected {
    /// With what moves the whole outline besides.
    pub(crate) fn and_moved_by(self, moved: Self) -> Self {
        Self { rms: self.rms.hypot(moved.rms), worst: self.worst + moved.worst }
    }

    /// With what the doubtful places may be off.
    pub(crate) fn with(self, doubts: &[Doubt]) -> Self {
        doubts.iter().fold(self, |told, d| Self {
            rms: told.rms.hypot(d.off * d.share.sqrt()),
            worst: told.worst.max(d.off),
        })
    }
}

/// The value that so large a share of all stay under.
fn at_share(values: &mut [f64], share: f64) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let at = ((values.len() as f64 * share) as usize).min(values.len() - 1);
    *values.select_nth_unstable_by(at, f64::total_cmp).1
}
