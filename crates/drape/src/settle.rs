//! Settling: the place of least energy nearest to a start, found by Newton's
//! method on second derivatives held positive, with a line search.

use crate::cloth::Place;
use crate::dissect;
use crate::sparse::{Blocks, Factor};
use crate::system::System;

/// When to stop, and how far to go at once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// The forces left over, as one length, against the cloth's weight.
    pub residual: f64,
    /// The longest way a vertex still goes in a step, mm.
    pub step: f64,
    /// The longest way a vertex may go in a step, mm.
    pub stride: f64,
    /// Steps in all.
    pub steps: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Self { residual: 1e-3, step: 0.005, stride: 25.0, steps: 600 }
    }
}

/// How far it has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Progress {
    /// Steps taken.
    pub steps: usize,
    /// Which part of the easing down of the bending, and of how many.
    pub stage: (usize, usize),
    /// The energy, N·mm.
    pub energy: f64,
    /// Forces left over against the weight.
    pub residual: f64,
    /// The longest way of a vertex in the last step, mm.
    pub step: f64,
}

/// Told after each step; says whether to go on.
pub type Watch<'w> = dyn FnMut(&Progress) -> bool + 'w;

/// Why nothing was settled.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SettleError {
    /// The watcher asked to stop.
    #[error("the settling was stopped")]
    Stopped,
    /// It did not come to rest in the steps allowed.
    #[error(
        "the cloth did not come to rest in {steps} steps (forces left over {residual:.1e} of its weight)"
    )]
    Restless {
        /// Steps taken.
        steps: usize,
        /// Forces left over against the weight.
        residual: f64,
    },
    /// The equations could not be solved.
    #[error(
        "the cloth's equations could not be solved; a piece may be folded over or have no size"
    )]
    NotSolved,
}

/// Least damping, N/mm for each mm²; below it none is used.
const UNDAMPED: f64 = 1e-12;
/// Damping to begin with, N/mm for each mm².
const DAMPED: f64 = 1e-5;

/// One settling at work.
struct Work<'s, 'a> {
    system: &'s mut System<'a>,
    blocks: Blocks,
    factor: Factor,
    limits: Limits,
    steps: usize,
}

/// Settles `x` in place. `easing` is the bending in steps, as multiples of the
/// true one; the last should be 1.
///
/// # Errors
/// [`SettleError`].
pub fn settle(
    system: &mut System,
    x: &mut [Place],
    easing: &[f64],
    limits: Limits,
    watch: &mut Watch,
) -> Result<Progress, SettleError> {
    let blocks = system.blocks();
    let mut near = vec![Vec::new(); x.len()];
    for group in system.groups() {
        for &v in group {
            near[v].extend(group.iter().copied().filter(|&n| n != v));
        }
    }
    let order = dissect::order(x, &near);
    let factor = Factor::new(&blocks, &order).map_err(|_| SettleError::NotSolved)?;
    if std::env::var_os("HANG_WATCH").is_some() {
        eprintln!("{} vertices, {} numbers in the factor", x.len(), factor.entries());
    }
    let mut work = Work { system, blocks, factor, limits, steps: 0 };
    let mut last = Err(SettleError::NotSolved);
    for (stage, ease) in easing.iter().enumerate() {
        work.system.bending.stiffness = work.system.true_bending * ease;
        work.system.contact.look(x);
        work.system.contact.grip(x);
        last = Ok(work.stage(x, (stage + 1, easing.len()), watch)?);
    }
    last
}

impl Work<'_, '_> {
    /// Settles with the bending as it is.
    fn stage(
        &mut self,
        x: &mut [Place],
        stage: (usize, usize),
        watch: &mut Watch,
    ) -> Result<Progress, SettleError> {
        // All but the last stage only lead the way.
        let loose = if stage.0 < stage.1 { 100.0 } else { 1.0 };
        let mut damping = DAMPED;
        let mut moved = f64::INFINITY;
        loop {
            self.system.contact.look(x);
            let energy = self.system.energy(x);
            let gradient = self.system.differentiate(x, &mut self.blocks);
            let left = gradient.iter().map(Place::norm_squared).sum::<f64>().sqrt();
            let residual = left / self.system.weight();
            let told = Progress { steps: self.steps, stage, energy, residual, step: moved };
            if !watch(&told) {
                return Err(SettleError::Stopped);
            }
            if residual < self.limits.residual * loose && moved < self.limits.step * loose {
                return Ok(told);
            }
            if self.steps >= self.limits.steps {
                return Err(SettleError::Restless { steps: self.steps, residual });
            }
            moved = self.step(x, energy, &gradient, &mut damping)?;
            self.steps += 1;
        }
    }

    /// One step; the longest way of a vertex, mm.
    fn step(
        &mut self,
        x: &mut [Place],
        energy: f64,
        gradient: &[Place],
        damping: &mut f64,
    ) -> Result<f64, SettleError> {
        let areas = self.system.areas().to_vec();
        let down: Vec<Place> = gradient.iter().map(|g| -g).collect();
        let mut added = 0.0;
        for _ in 0..40 {
            let wanted = if *damping > UNDAMPED { *damping } else { 0.0 };
            for (v, area) in areas.iter().enumerate() {
                (0..3).for_each(|axis| self.blocks.stiffen(v, axis, (wanted - added) * area));
            }
            added = wanted;
            let Ok(mut way) = self.factor.solve(&self.blocks, &down) else {
                *damping = (*damping * 10.0).max(DAMPED * 1e-3);
                continue;
            };
            self.system.hold_fixed(&mut way);
            if let Some((moved, share)) = self.along(x, energy, gradient, &way) {
                *damping *= if share > 0.9 {
                    0.3
                } else if share < 0.3 {
                    4.0
                } else {
                    1.0
                };
                *damping = damping.clamp(0.1 * UNDAMPED, 1.0);
                return Ok(moved);
            }
            *damping = (*damping * 10.0).max(DAMPED * 1e-3);
        }
        Err(SettleError::NotSolved)
    }

    /// Goes along a way as far as it lowers the energy enough (Armijo): the longest
    /// way of a vertex and the share of the way gone.
    fn along(
        &self,
        x: &mut [Place],
        energy: f64,
        gradient: &[Place],
        way: &[Place],
    ) -> Option<(f64, f64)> {
        let longest = way.iter().map(Place::norm).fold(0.0, f64::max);
        let slope: f64 = gradient.iter().zip(way).map(|(g, w)| g.dot(w)).sum();
        if slope >= 0.0 {
            return (longest == 0.0).then_some((0.0, 1.0));
        }
        let mut share = (self.limits.stride / longest).min(1.0);
        let before = x.to_vec();
        // What rounding may hide when energies are subtracted.
        let grain = 1e-13 * energy.abs();
        for _ in 0..16 {
            x.iter_mut().zip(&before).zip(way).for_each(|((x, b), w)| *x = b + w * share);
            let after = self.system.energy(x);
            if after <= energy + 1e-4 * share * slope + grain {
                assert!(after <= energy + grain, "the energy rose in an accepted step");
                return Some((longest * share, share));
            }
            share *= 0.5;
        }
        x.copy_from_slice(&before);
        None
    }
}
