//! Whether causes can be told from how lines hang: least squares with a prior over what
//! may be wrong with the body or the pattern, tried on what was planted.
//!
//! What a cause does to the lines is the mean over all *other* bodies of the trial, so
//! nothing is known of the body that is asked about.

use crate::run::{Row, case_of};
use crate::sums::{Sums, mean_of, median};
use crate::{faults::FAULTS, faults::Remedy, faults::TRIES};
use nalgebra::{DMatrix, DVector};
use std::collections::BTreeMap;

/// What may be wrong, the case that shows it, how much of it that case has, and how much
/// of it is usual (one standard deviation), mm. Ours.
struct Cause {
    name: &'static str,
    case: &'static str,
    planted: f64,
    usual: f64,
}

const fn cause(name: &'static str, fault: usize, planted: f64, usual: f64) -> Cause {
    Cause { name, case: FAULTS[fault].name, planted, usual }
}

const CAUSES: [Cause; 8] = [
    cause("seat", 1, -15.0, 10.0),
    cause("low seat", 2, 25.0, 15.0),
    cause("sway", 3, 15.0, 10.0),
    cause("high hip", 4, 15.0, 10.0),
    cause("tummy", 5, 20.0, 12.0),
    cause("forward pelvis", 7, 30.0, 20.0),
    cause("thigh front", 8, 15.0, 10.0),
    cause("knock knee", 10, -20.0, 12.0),
];

/// Two causes at once: the case, and how much of each is in it.
const MIXED: [(usize, [(&str, f64); 2]); 3] = [
    (22, [("seat", -10.0), ("forward pelvis", 20.0)]),
    (23, [("seat", 10.0), ("sway", 10.0)]),
    (24, [("tummy", 15.0), ("thigh front", 10.0)]),
];

/// Length too much under the seat, mm usual: what the pinch method takes, turned about.
const SURPLUS: f64 = 8.0;

/// A ruler on a worn toile, or a photo, is good to this, mm: what the reading takes for
/// granted (`CLAIMED`).
const RULER: f64 = 3.0;

/// The droops of a quarter, half and three quarters of each line against its own ends, mm.
fn droops(way: &[f64]) -> Vec<f64> {
    let of = |line: &[f64]| -> Vec<f64> {
        let level = |s: usize| line[0] + (line[4] - line[0]) * s as f64 / 4.0;
        (1..4).map(|s| level(s) - line[s]).collect()
    };
    way.chunks(5).flat_map(of).collect()
}

type Cases = BTreeMap<String, Row>;

/// How droops change against home.
fn changed(cases: &Cases, case: &str) -> Option<Vec<f64>> {
    Sums::way(cases, case, [0.0; 3]).map(|way| droops(&way))
}

/// Every cause on a body, for one usual amount of it.
fn columns(cases: &Cases) -> Option<Vec<Vec<f64>>> {
    let mut found = Vec::new();
    for cause in &CAUSES {
        let share = cause.usual / cause.planted;
        found.push(changed(cases, cause.case)?.iter().map(|d| d * share).collect());
    }
    let pinch = TRIES.iter().find(|t| matches!(t.remedy, Remedy::Pinch("top and scoop")))?;
    let (with, without) = (changed(cases, &case_of(pinch))?, changed(cases, pinch.fault)?);
    // Not always by the same amount: the row knows.
    let share = SURPLUS / cases.get(&case_of(pinch)).map(|row| row.amount)?;
    found.push(with.iter().zip(&without).map(|(w, o)| (o - w) * share).collect());
    Some(found)
}

fn names() -> Vec<&'static str> {
    CAUSES.iter().map(|c| c.name).chain(["too long under the seat"]).collect()
}

/// What is left unknown of each cause, as a share of what is usual, and the causes
/// themselves from droops: least squares with the prior.
struct Solver {
    left: Vec<f64>,
    gain: DMatrix<f64>,
}

impl Solver {
    /// From what each cause does, and how far a droop may be off, mm.
    fn new(columns: &[Vec<f64>], error: f64) -> Option<Self> {
        let (n, m) = (columns[0].len(), columns.len());
        let a = DMatrix::from_fn(n, m, |i, j| columns[j][i] / error);
        let unknown = (a.transpose() * &a + DMatrix::identity(m, m)).try_inverse()?;
        let left = (0..m).map(|k| unknown[(k, k)].sqrt()).collect();
        Some(Self { left, gain: unknown * a.transpose() / error })
    }

    fn causes(&self, droops: &[f64]) -> Vec<f64> {
        (&self.gain * DVector::from_column_slice(droops)).iter().copied().collect()
    }
}

/// Reproducible errors of a ruler: a linear congruence (Knuth's constants, memory) and the
/// sum of twelve.
struct Ruler(u64);

impl Ruler {
    fn next(&mut self) -> f64 {
        let mut even = || {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / (1_u64 << 53) as f64
        };
        RULER * ((0..12).map(|_| even()).sum::<f64>() - 6.0)
    }
}

/// What came of it, in words for `docs/hang.md`.
pub fn tell(sums: &Sums) {
    let all: Vec<(&Cases, Vec<Vec<f64>>)> =
        sums.of.values().filter_map(|c| Some((c, columns(c)?))).collect();
    println!("{} bodies", all.len());
    let names = names();
    let others = |skip: usize| -> Vec<Vec<f64>> {
        let rest = || all.iter().enumerate().filter(move |(k, _)| *k != skip);
        let mean = |j: usize, i: usize| mean_of(rest().map(|(_, (_, c))| c[j][i]));
        (0..names.len()).map(|j| (0..18).map(|i| mean(j, i)).collect()).collect()
    };
    let square = |v: &[f64]| (v.iter().map(|x| x * x).sum::<f64>() / v.len() as f64).sqrt();
    for (j, name) in names.iter().enumerate() {
        let own = median(all.iter().map(|(_, c)| square(&c[j])));
        let off = median((0..all.len()).map(|b| {
            let mean = others(b);
            let d: Vec<f64> = all[b].1[j].iter().zip(&mean[j]).map(|(a, m)| a - m).collect();
            square(&d)
        }));
        println!(
            "{name}: usual amount moves droops by {own:.2} mm rms; the other bodies' mean is {off:.2} off"
        );
    }
    for error in [RULER, 1.0] {
        let left: Vec<Vec<f64>> =
            all.iter().filter_map(|(_, own)| Some(Solver::new(own, error)?.left)).collect();
        let of = |j: usize| median(left.iter().map(|l| l[j]));
        let told: Vec<String> =
            names.iter().enumerate().map(|(j, n)| format!("{n} {:.2}", of(j))).collect();
        println!("own body known, droops good to {error} mm, left unknown: {}", told.join(", "));
    }
    for ruler in [false, true] {
        for error in [RULER, 1.0] {
            planted(&all, &names, &others, ruler, error);
        }
    }
}

/// How often the planted cause comes out the largest.
fn planted(
    all: &[(&Cases, Vec<Vec<f64>>)],
    names: &[&str],
    others: &dyn Fn(usize) -> Vec<Vec<f64>>,
    ruler: bool,
    error: f64,
) {
    let mut errors = Ruler(12);
    let (mut right, mut asked, mut both, mut pairs) = (0, 0, 0, 0);
    let mut each = vec![(0, 0); names.len()];
    for (body, (cases, own)) in all.iter().enumerate() {
        let Some(solver) = Solver::new(&others(body), error) else { continue };
        let mut find = |seen: &[f64]| -> Vec<usize> {
            let seen: Vec<f64> =
                seen.iter().map(|d| d + if ruler { errors.next() } else { 0.0 }).collect();
            let causes = solver.causes(&seen);
            let mut order: Vec<usize> = (0..causes.len()).collect();
            order.sort_by(|a, b| causes[*b].abs().total_cmp(&causes[*a].abs()));
            order
        };
        for j in 0..names.len() {
            let first = find(&own[j])[0];
            each[j].1 += 1;
            each[j].0 += usize::from(first == j);
            asked += 1;
            right += usize::from(first == j);
        }
        for (fault, parts) in MIXED {
            let Some(seen) = changed(cases, FAULTS[fault].name) else { continue };
            let order = find(&seen);
            pairs += 1;
            let among = |part: &(&str, f64)| order[..2].iter().any(|k| names[*k] == part.0);
            both += usize::from(parts.iter().all(among));
        }
    }
    let each: Vec<String> =
        names.iter().zip(&each).map(|(n, (r, of))| format!("{n} {r}/{of}")).collect();
    println!(
        "ruler's error {ruler}, taken as {error} mm: one cause found {right} of {asked} ({}); both of two {both} of {pairs}",
        each.join(", ")
    );
}
