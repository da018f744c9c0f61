//! What the rows come to: how far lines lie from home with a fault, and with a remedy.

use crate::faults::{FAULTS, Fault, TRIES, Try};
use crate::run::{OTHER_MESH, Row, case_of};
use std::collections::BTreeMap;

/// Stations of a line on one piece, and of its ring round the leg.
const ON_PIECE: usize = 5;
const RING: usize = 2 * ON_PIECE;

/// How far lines lie from where they belong, mm.
#[derive(Debug, Clone, Copy)]
pub struct Off {
    /// Root of the mean square of all stations, the mean of each ring of back and front
    /// taken away: what is seen as not level.
    pub level: f64,
    /// Root of the mean square of the means of the three rings: what lies too low or too
    /// high all round.
    pub height: f64,
}

/// How high the stations lie over where they belong, mm.
pub type Way = Vec<f64>;

pub fn off(way: &[f64]) -> Off {
    let means: Vec<f64> = way.chunks(RING).map(mean).collect();
    let about = way.iter().enumerate().map(|(k, w)| w - means[k / RING]);
    let square = about.map(|w| w * w).sum::<f64>() / way.len() as f64;
    Off { level: square.sqrt(), height: (mean_of(means.iter().map(|m| m * m))).sqrt() }
}

/// The same with the mean of each ring taken away.
pub fn levelled(way: &[f64]) -> Way {
    let means: Vec<f64> = way.chunks(RING).map(mean).collect();
    way.iter().enumerate().map(|(k, w)| w - means[k / RING]).collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

pub fn mean_of(values: impl Iterator<Item = f64>) -> f64 {
    mean(&values.collect::<Vec<_>>())
}

pub fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut all: Vec<f64> = values.collect();
    all.sort_by(f64::total_cmp);
    match all.len() {
        0 => f64::NAN,
        n if n % 2 == 1 => all[n / 2],
        n => 0.5 * (all[n / 2 - 1] + all[n / 2]),
    }
}

/// All rows by body, then by case.
pub struct Sums {
    pub of: BTreeMap<String, BTreeMap<String, Row>>,
}

impl Sums {
    pub fn of(rows: Vec<Row>) -> Self {
        let mut of: BTreeMap<String, BTreeMap<String, Row>> = BTreeMap::new();
        for row in rows {
            of.entry(row.body.clone()).or_default().insert(row.case.clone(), row);
        }
        Self { of }
    }

    /// How high the lines lie over home on a body.
    pub fn way(cases: &BTreeMap<String, Row>, case: &str, lower: [f64; 3]) -> Option<Way> {
        let (home, there) = (cases.get("home")?, cases.get(case)?);
        if there.heights.is_empty() {
            return None;
        }
        let pairs = there.heights.iter().zip(&home.heights).enumerate();
        Some(pairs.map(|(k, (t, h))| t - h + lower[k / RING]).collect())
    }

    /// The same settled on a shifted mesh: what nothing at all comes to.
    pub fn nothing(&self) -> Vec<Off> {
        let of = |cases| Self::way(cases, OTHER_MESH, [0.0; 3]);
        self.of.values().filter_map(of).map(|w| off(&w)).collect()
    }
}

/// A remedy over all bodies.
pub struct Told {
    pub tried: &'static Try,
    pub fault: &'static Fault,
    pub bodies: Vec<OnBody>,
    /// Refused on so many, and why on the first.
    pub refused: (usize, Option<String>),
    /// The waist slips with the remedy on so many.
    pub slips: usize,
}

/// A remedy on a body.
pub struct OnBody {
    pub before: Off,
    pub after: Off,
    /// The cosine between what the remedy does and what is wanted, levels only.
    pub right_way: f64,
    /// By how much it was made, mm.
    pub amount: f64,
    /// The amount that would bring lines nearest, mm, were all in proportion.
    pub best: f64,
    /// What would be out of level then, mm.
    pub left: f64,
    pub hip_less: f64,
}

pub fn told(sums: &Sums) -> Vec<Told> {
    TRIES.iter().filter_map(|tried| told_of(sums, tried)).collect()
}

fn told_of(sums: &Sums, tried: &'static Try) -> Option<Told> {
    let fault = FAULTS.iter().find(|f| f.name == tried.fault)?;
    let case = case_of(tried);
    let mut told = Told { tried, fault, bodies: Vec::new(), refused: (0, None), slips: 0 };
    for cases in sums.of.values() {
        let Some(row) = cases.get(&case) else { continue };
        if let Some(why) = &row.refused {
            told.refused.0 += 1;
            told.refused.1.get_or_insert_with(|| why.clone());
            continue;
        }
        told.slips += usize::from(row.slipped);
        let before = Sums::way(cases, fault.name, fault.lower);
        let after = Sums::way(cases, &case, fault.lower);
        if let Some((before, after)) = before.zip(after) {
            told.bodies.push(on_body(&before, &after, row));
        }
    }
    Some(told)
}

fn on_body(before: &[f64], after: &[f64], row: &Row) -> OnBody {
    let (b, a) = (levelled(before), levelled(after));
    let does: Way = a.iter().zip(&b).map(|(a, b)| a - b).collect();
    let dot = |p: &[f64], q: &[f64]| p.iter().zip(q).map(|(p, q)| p * q).sum::<f64>();
    let (dd, bb) = (dot(&does, &does).max(1e-12), dot(&b, &b).max(1e-12));
    let wanted = -dot(&does, &b);
    let best = wanted / dd;
    let left: Way = b.iter().zip(&does).map(|(b, d)| b + best * d).collect();
    OnBody {
        before: off(before),
        after: off(after),
        right_way: wanted / (dd * bb).sqrt(),
        amount: row.amount,
        best: best * row.amount,
        left: off(&left).level,
        hip_less: row.hip_less,
    }
}

/// How sure a share is: the chance that an even coin falls so often or oftener one way.
pub fn chance(of: usize, times: usize) -> f64 {
    let mut choose = 1.0;
    let mut sum = 0.0;
    for k in 0..=of {
        if k >= times {
            sum += choose;
        }
        choose *= (of - k) as f64 / (k + 1) as f64;
    }
    sum / 2.0_f64.powi(of as i32)
}
