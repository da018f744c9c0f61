//! Looking for a short lay: parts are laid one after the other, each on the seat that ends
//! soonest; the order and some wishes of single parts are changed at random, and what is no
//! longer is kept. The same seed and rounds give the same lay.

use crate::seat::{Cloth, Grid, Ready, Seat, Wish, as_lay, in_order};
use crate::{Bed, Lay, LayError, Part};

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effort {
    /// What the random choices begin with.
    pub seed: u64,
    /// How many lays are tried.
    pub rounds: usize,
}

impl Default for Effort {
    fn default() -> Self {
        Self { seed: 1, rounds: 4000 }
    }
}

/// What is told while it looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told {
    /// Lays tried.
    pub rounds: usize,
    /// The shortest so far, mm.
    pub length: f64,
}

/// Rows left out between two that are tried while it looks; the best is seated on every row.
const STRIDE: usize = 3;
/// Rounds without gain after which it begins anew from another order.
const PATIENCE: usize = 250;
/// How much longer a lay may be and still be gone on from, as a part of the length: at the
/// beginning of a descent; at its end nothing.
const LENIENT: f64 = 0.012;
/// How much the ends of all parts count beside the length of the lay.
const ENDS: f64 = 0.02;

/// One order of the parts with their wishes, and what comes of it.
#[derive(Clone)]
struct Tried {
    order: Vec<usize>,
    wishes: Vec<Wish>,
    seats: Vec<(usize, Seat)>,
    length: f64,
    cost: f64,
}

/// Looks for the shortest lay. `go_on` is told how it stands and ends the search by saying no.
///
/// # Errors
/// [`LayError::TooWide`] when a part has no seat at all.
pub fn find(
    bed: Bed,
    parts: Vec<Part>,
    effort: Effort,
    go_on: &mut dyn FnMut(Told) -> bool,
) -> Result<Lay, LayError> {
    let grid = Grid::of(&bed);
    let ready: Vec<Ready> = parts.iter().map(|part| Ready::of(part, &bed, &grid)).collect();
    if let Some(index) = ready.iter().position(|r| r.ways.is_empty()) {
        return Err(too_wide(&parts[index], &bed));
    }
    let mut search =
        Search { cloth: Cloth::new(&bed, &grid), ready: &ready, chance: Chance(effort.seed) };
    let found = search.best(&parts, effort.rounds, go_on);
    let cloth = Cloth::new(&bed, &grid);
    match found {
        Some(best) => Ok(as_lay(bed, parts, &cloth, &ready, &best.seats)),
        None => Err(too_wide(&parts[0], &bed)),
    }
}

fn too_wide(part: &Part, bed: &Bed) -> LayError {
    use hangtrue_geometry::words::Length;
    LayError::TooWide {
        piece: part.piece.clone(),
        wide: Length(part.shape(false, false).size.y),
        free: Length(bed.free()),
        instead: "take a wider cloth",
    }
}

struct Search<'a> {
    cloth: Cloth<'a>,
    ready: &'a [Ready],
    chance: Chance,
}

impl Search<'_> {
    fn best(
        &mut self,
        parts: &[Part],
        rounds: usize,
        go_on: &mut dyn FnMut(Told) -> bool,
    ) -> Option<Tried> {
        let mut begun = beginnings(parts);
        let mut best: Option<Tried> = None;
        let mut done = 0;
        // The plain orders first, each on every row.
        for order in &begun {
            let tried = self.laid(order.clone(), vec![Wish::default(); parts.len()], 1);
            keep(&mut best, tried);
            done += 1;
        }
        let mut now = best.clone()?;
        let mut since = 0;
        while done < rounds.max(begun.len()) {
            if !go_on(Told { rounds: done, length: best.as_ref()?.length }) {
                break;
            }
            done += 1;
            let (order, wishes) = self.changed(&now);
            let Some(tried) = self.laid(order, wishes, STRIDE) else { continue };
            let lenient = LENIENT * (1.0 - since as f64 / PATIENCE as f64).max(0.0);
            let is_better = best.as_ref().is_none_or(|b| tried.is_better(b));
            if tried.cost <= now.cost * (1.0 + lenient * self.chance.part()) {
                now = tried.clone();
            }
            since += 1;
            if is_better {
                since = 0;
                // Seated once more, on every row.
                let seated = self.laid(tried.order.clone(), tried.wishes.clone(), 1);
                keep(&mut best, Some(tried));
                keep(&mut best, seated);
            } else if since > PATIENCE {
                since = 0;
                now = self.begin_anew(&mut begun, best.as_ref()?)?;
            }
        }
        best
    }

    /// The best shaken, or the parts in any order.
    fn begin_anew(&mut self, begun: &mut [Vec<usize>], best: &Tried) -> Option<Tried> {
        if self.chance.below(2) == 0 {
            let mut shaken = best.clone();
            for _ in 0..3 {
                let (order, wishes) = self.changed(&shaken);
                (shaken.order, shaken.wishes) = (order, wishes);
            }
            return self.laid(shaken.order, shaken.wishes, STRIDE).or_else(|| Some(best.clone()));
        }
        let mut order = begun.first().cloned()?;
        for last in (1..order.len()).rev() {
            order.swap(last, self.chance.below(last + 1));
        }
        let wishes = vec![Wish::default(); order.len()];
        self.laid(order, wishes, STRIDE).or_else(|| Some(best.clone()))
    }

    fn laid(&mut self, order: Vec<usize>, wishes: Vec<Wish>, stride: usize) -> Option<Tried> {
        let seats = in_order(&mut self.cloth, self.ready, &order, &wishes, stride)?;
        let length = seats.iter().map(|s| s.1.end).fold(0.0, f64::max);
        let mean = seats.iter().map(|s| s.1.end).sum::<f64>() / seats.len().max(1) as f64;
        Some(Tried { order, wishes, seats, length, cost: length + ENDS * mean })
    }

    /// One thing of it changed.
    fn changed(&mut self, of: &Tried) -> (Vec<usize>, Vec<Wish>) {
        let (mut order, mut wishes) = (of.order.clone(), of.wishes.clone());
        let count = order.len();
        let chance = &mut self.chance;
        let one = chance.below(count);
        match chance.below(10) {
            0..3 if count > 1 => order.swap(one, chance.below(count)),
            3..5 if count > 1 => {
                let moved = order.remove(one);
                order.insert(chance.below(count), moved);
            }
            5 => wishes[one].turned = [None, Some(false), Some(true)][chance.below(3)],
            6 => wishes[one].on_fold = [None, Some(false), Some(true)][chance.below(3)],
            7 => wishes[one].high = !wishes[one].high,
            8 => wishes[one].row = None,
            _ => {
                let share = chance.part();
                // The edges are likelier than any place between.
                wishes[one].row = Some([0.0, 1.0, share, share][chance.below(4)]);
            }
        }
        (order, wishes)
    }
}

impl Tried {
    /// Shorter, or as long with its parts ending sooner.
    fn is_better(&self, than: &Self) -> bool {
        let by = than.length - self.length;
        by > 1e-6 || (by >= 0.0 && self.cost < than.cost - 1e-6)
    }
}

fn keep(best: &mut Option<Tried>, tried: Option<Tried>) {
    let Some(tried) = tried else { return };
    if best.as_ref().is_none_or(|b| tried.is_better(b)) {
        *best = Some(tried);
    }
}

/// The orders every search begins with: the largest first, the longest, the widest.
fn beginnings(parts: &[Part]) -> Vec<Vec<usize>> {
    let by = |size: &dyn Fn(&Part) -> f64| {
        let mut order: Vec<usize> = (0..parts.len()).collect();
        order.sort_by(|a, b| size(&parts[*b]).total_cmp(&size(&parts[*a])));
        order
    };
    vec![
        by(&|p| p.area),
        by(&|p| p.shape(false, false).size.x),
        by(&|p| p.shape(false, false).size.y),
    ]
}

/// Random numbers that are the same everywhere (splitmix64: Steele, Lea and Flood, Fast
/// splittable pseudorandom number generators, 2014; constants from memory).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From 0 to below 1.
    fn part(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// One of the first numbers, from 0.
    fn below(&mut self, count: usize) -> usize {
        ((self.part() * count as f64) as usize).min(count.saturating_sub(1))
    }
}
