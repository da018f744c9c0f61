//! A sewn toile on a body, ready to settle.

use crate::body::Body;
use crate::cloth::{Material, Position};
use crate::contact::Touch;
use crate::hold::{Height, Side, Strap};
use crate::sew::Sewn;
use crate::system::System;
use hangtrue_pattern::{Leg, names};

/// How the waist is held.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Band {
    /// Force that doubles the band's length, N. Memory: a woven tape hardly gives.
    pub stiffness: f64,
    /// Its friction: the force at which it slips, N for each mm. Ours.
    pub slips: f64,
}

impl Band {
    /// Tight enough that a toile's own weight never moves it.
    pub const USUAL: Self = Self { stiffness: 200.0, slips: 0.02 };
}

/// The band gives this much up or down before it slips, mm.
const GIVES: f64 = 0.5;

/// The forces on a sewn toile.
pub fn forces<'a>(
    sewn: &Sewn,
    body: &'a Body,
    material: Material,
    touch: Touch,
    band: Band,
) -> System<'a> {
    let mut system = System::new(&sewn.cloth, material, &body.shape, touch);
    let centre = sewn.centre.as_deref().unwrap_or(&[]);
    for &v in centre {
        system.fixed[v][0] = true;
    }
    keep_sides(sewn, body, centre, touch, &mut system);
    hold_waist(sewn, body, band, &mut system);
    system
}

/// The cloth of either leg stays on its own side: it meets its fellow half way, and
/// the seam between the legs is pressed from both.
fn keep_sides(sewn: &Sewn, body: &Body, centre: &[usize], touch: Touch, system: &mut System) {
    let mut sign = vec![0.0_f64; sewn.cloth.vertices];
    let mut both = vec![false; sewn.cloth.vertices];
    for piece in &sewn.pieces {
        let own = if piece.leg == Leg::Left { -1.0 } else { 1.0 };
        for &v in &piece.vertex {
            both[v] |= sign[v] * own < 0.0;
            sign[v] = own;
        }
    }
    let free = |v: &usize| !both[*v] && centre.binary_search(v).is_err();
    for v in (0..sewn.cloth.vertices).filter(free) {
        let stiffness = touch.stiffness * system.areas()[v];
        system.holds.sides.push(Side { vertex: v, sign: sign[v], offset: 0.5, stiffness });
    }
    for vertex in between_legs(sewn, body).into_iter().filter(|&v| both[v]) {
        let stiffness = touch.stiffness * system.areas()[vertex];
        let side = |sign| Side { vertex, sign, offset: 0.0, stiffness };
        system.holds.sides.extend([side(1.0), side(-1.0)]);
    }
}

/// The vertices of the crotch seam that lie under the body.
fn between_legs(sewn: &Sewn, body: &Body) -> Vec<usize> {
    let under = |w: &&[nalgebra::Vector2<f64>]| w[1].y < body.shape.base;
    let way = body.crotch.points.windows(2).filter(under).map(|w| (w[1] - w[0]).norm());
    let half = 0.5 * way.sum::<f64>();
    let mut found = Vec::new();
    for piece in &sewn.pieces {
        for (_, points) in piece.seams.iter().filter(|s| s.0 == names::CROTCH) {
            let long = points.last().map_or(0.0, |p| p.1);
            let low = points.iter().filter(|(_, position)| long - position < half);
            found.extend(low.map(|(point, _)| piece.vertex[*point]));
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

fn hold_waist(sewn: &Sewn, body: &Body, band: Band, system: &mut System) {
    let mut links: Vec<[usize; 2]> = Vec::new();
    let mut long: Vec<f64> = Vec::new();
    for piece in &sewn.pieces {
        for (_, points) in piece.seams.iter().filter(|s| s.0 == names::WAIST) {
            for pair in points.windows(2) {
                let link = [piece.vertex[pair[0].0], piece.vertex[pair[1].0]];
                if link[0] != link[1] {
                    links.push(link);
                    long.push(pair[1].1 - pair[0].1);
                }
            }
        }
    }
    let whole = if sewn.centre.is_some() { 0.5 } else { 1.0 };
    // The body's own girth: a band let out to where the cloth's middle lies would stand
    // off in one place, by far more than it is too long.
    let round = body.read.first().map_or(0.0, |r| r.2);
    let scale = whole * round / long.iter().sum::<f64>();
    let mut share = std::collections::BTreeMap::<usize, f64>::new();
    for (link, l) in links.iter().zip(&long) {
        link.iter().for_each(|v| *share.entry(*v).or_default() += 0.5 * l);
    }
    let lean = body.shape.lean.at(body.waist);
    for (vertex, l) in share {
        let slips = band.slips * l;
        system.holds.heights.push(Height { vertex, at: body.waist, lean, slips, gives: GIVES });
    }
    long.iter_mut().for_each(|l| *l *= scale);
    system.strap = Strap::new(links, long, band.stiffness);
}

/// Whether the band slipped anywhere.
pub fn slipped(system: &System, x: &[Position]) -> bool {
    system.holds.heights.iter().any(|h| h.slipped(x))
}
