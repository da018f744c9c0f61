//! Settling: the place of least energy nearest to a start, found by Newton's
//! method on second derivatives held positive, with a line search.

use crate::cloth::Position;
use crate::sparse::{Blocks, Factor};
use crate::system::System;

/// When to stop, and how far to go at once.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
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
    #[error("the work was stopped")]
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
/// Under this damping, and when no vertex went further than [`NEARING`] mm, the
/// second derivatives are made truer by [`TRUER`].
const CALM: f64 = 1e-7;
const NEARING: f64 = 5.0;
const TRUER: f64 = 0.25;
/// A step that went all its way leaves this share of the damping.
const EASED: f64 = 0.15;
/// Stages before the last end this much sooner.
const LEADING: f64 = 300.0;

/// A step no longer than this with forces still left over leads nowhere, mm.
const STUCK: f64 = 1e-9;

/// One settling at work.
struct Work<'s, 'a> {
    system: &'s mut System<'a>,
    blocks: Blocks,
    factor: Factor,
    limits: Limits,
    steps: usize,
    /// How much of what pressing takes off the second derivatives is taken off:
    /// none far from rest, where they must stay positive, all near it, where the
    /// steps are long enough only with true ones.
    exact: f64,
    damping: f64,
}

/// Settles `x` in place. `easing` is the bending in steps, as multiples of the
/// true one; the last should be 1.
///
/// # Errors
/// [`SettleError`].
pub fn settle(
    system: &mut System,
    x: &mut [Position],
    easing: &[f64],
    limits: Limits,
    watch: &mut Watch,
) -> Result<Progress, SettleError> {
    let blocks = system.blocks();
    let factor = Factor::new(&blocks).map_err(|_| SettleError::NotSolved)?;
    let mut work = Work { system, blocks, factor, limits, steps: 0, exact: 0.0, damping: DAMPED };
    let mut last = Err(SettleError::NotSolved);
    for (stage, ease) in easing.iter().enumerate() {
        work.system.bending.stiffness = work.system.true_bending * ease;
        work.system.contact.look(x);
        work.system.contact.grip(x);
        (work.exact, work.damping) = (0.0, DAMPED);
        last = Ok(work.stage(x, (stage + 1, easing.len()), watch)?);
    }
    last
}

impl Work<'_, '_> {
    /// Settles with the bending as it is.
    fn stage(
        &mut self,
        x: &mut [Position],
        stage: (usize, usize),
        watch: &mut Watch,
    ) -> Result<Progress, SettleError> {
        // All but the last stage only lead the way.
        let loose = if stage.0 < stage.1 { LEADING } else { 1.0 };
        let mut moved = f64::INFINITY;
        loop {
            self.system.contact.look(x);
            let energy = self.system.energy(x);
            let gradient = self.system.differentiate(x, &mut self.blocks, self.exact);
            let left = gradient.iter().map(Position::norm_squared).sum::<f64>().sqrt();
            let residual = left / self.system.weight();
            let told = Progress { steps: self.steps, stage, energy, residual, step: moved };
            if !watch(&told) {
                return Err(SettleError::Stopped);
            }
            if residual < self.limits.residual * loose && moved < self.limits.step * loose {
                return Ok(told);
            }
            if self.steps >= self.limits.steps || moved < STUCK {
                return Err(SettleError::Restless { steps: self.steps, residual });
            }
            moved = self.step(x, energy, &gradient)?;
            self.steps += 1;
        }
    }

    /// One step; the longest way of a vertex, mm.
    fn step(
        &mut self,
        x: &mut [Position],
        energy: f64,
        gradient: &[Position],
    ) -> Result<f64, SettleError> {
        let areas = self.system.areas().to_vec();
        let down: Vec<Position> = gradient.iter().map(|g| -g).collect();
        let mut added = 0.0;
        for _ in 0..40 {
            let wanted = if self.damping > UNDAMPED { self.damping } else { 0.0 };
            for (v, area) in areas.iter().enumerate() {
                (0..3).for_each(|axis| self.blocks.stiffen(v, axis, (wanted - added) * area));
            }
            added = wanted;
            let gone = match self.factor.solve(&self.blocks, &down) {
                Ok(mut way) => {
                    self.system.hold_fixed(&mut way);
                    self.along(x, energy, gradient, &way)
                }
                Err(_) => None,
            };
            if let Some((moved, share)) = gone {
                self.learn(moved, share);
                return Ok(moved);
            }
            if self.exact > 0.0 {
                // The true ones lead nowhere from here: back towards positive ones.
                self.exact = if self.exact > 2.0 * TRUER { 0.5 * self.exact } else { 0.0 };
                self.system.differentiate(x, &mut self.blocks, self.exact);
                added = 0.0;
            } else {
                self.damping = (self.damping * 10.0).max(DAMPED * 1e-3);
            }
        }
        Err(SettleError::NotSolved)
    }

    /// Less damping and truer derivatives where the model held, more where not.
    fn learn(&mut self, moved: f64, share: f64) {
        if share > 0.9 && moved < NEARING && self.damping < CALM {
            self.exact = (self.exact + TRUER).min(1.0);
        }
        if share > 0.9 {
            self.damping *= EASED;
        } else if share < 0.3 {
            self.exact *= 0.5;
            self.damping *= 4.0;
        }
        self.damping = self.damping.clamp(0.1 * UNDAMPED, 1.0);
    }

    /// Goes along a way as far as it lowers the energy enough (Armijo): the longest
    /// way of a vertex and the share of the way gone.
    fn along(
        &self,
        x: &mut [Position],
        energy: f64,
        gradient: &[Position],
        way: &[Position],
    ) -> Option<(f64, f64)> {
        let longest = way.iter().map(Position::norm).fold(0.0, f64::max);
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
