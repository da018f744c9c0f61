//! The places of a line taken together into spots, and what moves them.

use super::curve::{Spot, Unsure};
use super::on_body::{LineOnBody, lay_on_body};
use super::taken::{Cause, SLANT_LONG, Taken, sigma};
use super::{Moved, Within};
use crate::worn::{Stand, TracedLine};
use nalgebra::DVector;

/// A line is taken together into so many spots.
const SPOTS: usize = 40;

/// So near an edge, in shares, the cloth is seen too slantwise to be read.
const SLANT: f64 = 0.02;

/// With fewer places than this each is a spot of its own, those at the edges too: they were
/// clicked.
const ENOUGH: usize = 20;

/// Places followed next to each other are wrong together over so many.
const TOGETHER: f64 = 4.0;

/// The spots of a line, and the places each was made of.
pub(super) fn spots_of(line: &TracedLine, laid: &LineOnBody) -> (Vec<Spot>, Vec<Vec<usize>>) {
    let inside = |s: f64| (SLANT..=1.0 - SLANT).contains(&s);
    let read: Vec<usize> = (0..laid.shares.len()).filter(|i| inside(laid.shares[*i])).collect();
    let mut members: Vec<Vec<usize>> = Vec::new();
    if read.len() < ENOUGH {
        members.extend((0..laid.shares.len()).map(|i| vec![i]));
    } else {
        members.resize(SPOTS, Vec::new());
        for i in read {
            let at = (laid.shares[i] * SPOTS as f64) as usize;
            members[at.min(SPOTS - 1)].push(i);
        }
        members.retain(|m| !m.is_empty());
    }
    let mistake = line.sigma.max(LEAST) * laid.mm_per_pixel;
    let spot = |m: &Vec<usize>| {
        let mean = |of: &[f64]| m.iter().map(|i| of[*i]).sum::<f64>() / m.len() as f64;
        let (share, height) = (mean(&laid.shares), mean(&laid.heights));
        let from_edge = share.min(1.0 - share);
        let slant = sigma::SLANT * (-from_edge / SLANT_LONG).exp();
        let alone = mistake / (m.len() as f64 / TOGETHER).max(1.0).sqrt();
        Spot {
            share,
            height,
            alone: alone.hypot(slant),
            fold: sigma::LINE.hypot(sigma::FOLD * laid.down),
        }
    };
    let mut spots: Vec<Spot> = members.iter().map(spot).collect();
    beside_clicks(&mut spots, laid);
    // The clicks have a say of their own: little where the line shows, all where it does not.
    for (k, (share, height)) in laid.clicks.iter().enumerate() {
        let steep = near_slope(&spots[..members.len()], *share) / laid.seen.max(1.0);
        let alone = laid.mm_per_pixel * sigma::CLICK.hypot(ACROSS * steep);
        spots.push(Spot { share: *share, height: *height, alone, fold: 0.0 });
        members.push(vec![laid.shares.len() + k]);
    }
    (spots, members)
}

/// A click is wrong by so much across, pixels; what a line rises there is taken for height.
const ACROSS: f64 = 1.5;

/// What was followed is believed less within this share of a click that it passes by.
const BESIDE: f64 = 0.1;

/// Where what was followed passes a click by more than a click is wrong by, it may follow a
/// shadow, a fold or a seam.
fn beside_clicks(spots: &mut [Spot], laid: &LineOnBody) {
    if spots.len() < 4 {
        return;
    }
    let past: Vec<(f64, f64)> = laid
        .clicks
        .iter()
        .map(|(share, height)| {
            let next = spots.partition_point(|s| s.share < *share).clamp(1, spots.len() - 1);
            let (a, b) = match next {
                1 => (spots[0], spots[2]),
                n if n + 1 == spots.len() => (spots[n - 2], spots[n]),
                n => (spots[n - 1], spots[n]),
            };
            let t = (share - a.share) / (b.share - a.share).max(1e-9);
            let off = (a.height + t * (b.height - a.height) - height).abs();
            let steep = (b.height - a.height) / (b.share - a.share).max(1e-9) / laid.seen.max(1.0);
            let click = 2.0 * laid.mm_per_pixel * sigma::CLICK.hypot(ACROSS * steep);
            (*share, (off - click).max(0.0))
        })
        .collect();
    for spot in spots {
        for (share, off) in &past {
            spot.fold = spot.fold.hypot(off * (-(spot.share - share).abs() / BESIDE).exp());
        }
    }
}

/// How steep what was followed is near a share, mm for the whole line.
fn near_slope(spots: &[Spot], share: f64) -> f64 {
    let near = spots.partition_point(|s| s.share < share).clamp(1, spots.len() - 1);
    let (from, to) = (near.saturating_sub(2), (near + 1).min(spots.len() - 1));
    let (a, b) = (spots[from], spots[to]);
    (b.height - a.height) / (b.share - a.share).max(1e-9)
}

/// No place is followed truer than this, pixels.
const LEAST: f64 = 0.3;

/// A line laid on the body with something one standard deviation more, and less.
pub(super) struct Unsures(Vec<(Cause, [LineOnBody; 2])>);

/// What is unsure of a line: all that is of the photo, and where its two edges are.
pub(super) fn unsure_of(
    line: &TracedLine,
    base: &(Stand, Taken),
    laid: &LineOnBody,
    moved: &[Moved],
) -> Unsures {
    let with = |(stand, taken): &(Stand, Taken), edges| {
        // What cannot be laid says nothing.
        lay_on_body(line, (stand, taken), edges).unwrap_or_else(|_| laid.clone())
    };
    let mut all: Vec<_> = moved
        .iter()
        .map(|(cause, both)| (*cause, both.each_ref().map(|other| with(other, [0.0; 2]))))
        .collect();
    if !moved.is_empty() {
        let edge = line.edge_sigma.max(sigma::EDGE);
        for edges in [[edge, 0.0], [0.0, edge]] {
            let both = [with(base, edges), with(base, edges.map(|e: f64| -e))];
            all.push((Cause::Edges, both));
        }
    }
    Unsures(all)
}

impl Unsures {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What each does to the spots: it moves places up or down, and along the line, which
    /// counts by how steep that is.
    pub(super) fn moves(
        &self,
        laid: &LineOnBody,
        members: &[Vec<usize>],
        slope: &dyn Fn(f64) -> f64,
    ) -> Vec<Unsure> {
        let slopes: Vec<f64> = laid.shares.iter().map(|s| slope(*s)).collect();
        let of = |[more, less]: &[LineOnBody; 2]| {
            let place = |i: usize| match i.checked_sub(laid.shares.len()) {
                None => {
                    let up = more.heights[i] - less.heights[i];
                    0.5 * (up - slopes[i] * (more.shares[i] - less.shares[i]))
                }
                Some(k) => {
                    let (more, less) = (more.clicks[k], less.clicks[k]);
                    0.5 * (more.1 - less.1 - slope(laid.clicks[k].0) * (more.0 - less.0))
                }
            };
            let spot = |m: &Vec<usize>| m.iter().map(|i| place(*i)).sum::<f64>() / m.len() as f64;
            DVector::from_iterator(members.len(), members.iter().map(spot))
        };
        self.0.iter().map(|(cause, both)| Unsure { cause: *cause, moves: of(both) }).collect()
    }
}

/// How long a pixel is at a line.
pub(super) fn pixel(laid: &LineOnBody, line: &TracedLine, moved: &[Moved]) -> Within {
    let long = |(stand, taken): &(Stand, Taken)| {
        lay_on_body(line, (stand, taken), [0.0; 2]).map_or(laid.mm_per_pixel, |l| l.mm_per_pixel)
    };
    let square = |(_, [more, less]): &Moved| ((long(more) - long(less)) / 2.0).powi(2);
    let error = 2.0 * moved.iter().map(square).sum::<f64>().sqrt();
    Within { value: laid.mm_per_pixel, error }
}
