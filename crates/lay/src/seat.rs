//! The cloth in strips while parts are laid on it, and the first free seat for the next.

use crate::strips::{STRIP, Span, strips};
use crate::{Bed, Lay, Part, Place};

/// A part ready to be laid: its strips in each way it may lie.
pub(crate) struct Ready {
    /// Turned or not, on the fold or not; the strips, the length, the print's mark.
    pub ways: Vec<Way>,
}

/// One way a part may lie.
pub(crate) struct Way {
    pub turned: bool,
    pub on_fold: bool,
    pub strips: Vec<Vec<Span>>,
    pub long: f64,
    pub mark: Option<f64>,
    /// First and last strip its lower edge may lie on.
    pub rows: (usize, usize),
}

/// The strips a bed has, and where the first begins across the cloth, mm.
pub(crate) struct Grid {
    pub count: usize,
    pub first: f64,
}

impl Grid {
    pub fn of(bed: &Bed) -> Self {
        let first = if bed.folded { 0.0 } else { bed.low };
        // A last part of a strip is one more.
        let count = ((bed.high - first + bed.apart) / STRIP).ceil().max(0.0) as usize + 1;
        Self { count, first }
    }

    /// Where a part lies across the cloth whose lower edge is on that strip, mm.
    pub fn y(&self, row: usize) -> f64 {
        self.first + row as f64 * STRIP
    }
}

impl Ready {
    pub fn of(part: &Part, bed: &Bed, grid: &Grid) -> Self {
        let mut ways = Vec::new();
        for on_fold in [false, true] {
            if on_fold && !part.may_lie_on_fold() {
                continue;
            }
            for turned in [false, true] {
                if turned && !bed.may_turn {
                    continue;
                }
                let shape = part.shape(turned, on_fold);
                let low = ((bed.low - grid.first) / STRIP).ceil() as usize;
                let room = bed.high - grid.first - shape.size.y;
                let rows = match (on_fold, room < 0.0) {
                    (_, true) => continue,
                    (true, _) => (0, 0),
                    (false, _) => (low, (room / STRIP + 1e-9).floor() as usize),
                };
                if rows.0 > rows.1 {
                    continue;
                }
                ways.push(Way {
                    turned,
                    on_fold,
                    strips: strips(&shape.corners, bed.apart),
                    long: shape.size.x,
                    mark: shape.mark,
                    rows,
                });
            }
        }
        Self { ways }
    }
}

/// What is laid so far.
pub(crate) struct Cloth<'a> {
    bed: &'a Bed,
    grid: &'a Grid,
    rows: Vec<Vec<Span>>,
    /// Where on the repeat the first leg's mark lies, mm.
    phase: Option<f64>,
}

/// What is asked of a seat: some of the ways, and some of the rows.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Wish {
    /// Turned, not turned, or either.
    pub turned: Option<bool>,
    /// On the fold, beside it, or either.
    pub on_fold: Option<bool>,
    /// How far up the free width, 0 to 1; none where it is free.
    pub row: Option<f64>,
    /// Of seats equally far along the highest, not the lowest.
    pub high: bool,
}

/// A seat found.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Seat {
    pub way: usize,
    pub row: usize,
    pub x: f64,
    pub end: f64,
}

/// Seats count as equally far along within this, mm.
const EQUAL: f64 = 0.5;

impl<'a> Cloth<'a> {
    pub fn new(bed: &'a Bed, grid: &'a Grid) -> Self {
        Self { bed, grid, rows: vec![Vec::new(); grid.count], phase: None }
    }

    /// Everything taken off again.
    pub fn clear(&mut self) {
        self.rows.iter_mut().for_each(Vec::clear);
        self.phase = None;
    }

    /// The seat that ends soonest along the cloth, of those that are wished; where the wish
    /// leaves none, of all.
    pub fn seat(&self, ready: &Ready, wish: Wish, stride: usize) -> Option<Seat> {
        let allowed = |way: &Way| {
            wish.turned.is_none_or(|t| t == way.turned)
                && wish.on_fold.is_none_or(|f| f == way.on_fold)
        };
        let any = ready.ways.iter().any(allowed);
        let mut best: Option<Seat> = None;
        for (index, way) in ready.ways.iter().enumerate() {
            if any && !allowed(way) {
                continue;
            }
            let rows = rows_tried(way.rows, wish, stride);
            for row in rows {
                let most = best.map_or(f64::INFINITY, |b| b.end - way.long);
                let Some(x) = self.first_free(way, row, most) else { continue };
                let end = x + way.long;
                if best.is_none_or(|b| end < b.end - EQUAL) {
                    best = Some(Seat { way: index, row, x, end });
                }
            }
        }
        best
    }

    /// The first place along a row that is free for the part, before `most`.
    fn first_free(&self, way: &Way, row: usize, most: f64) -> Option<f64> {
        let count = way.strips.len();
        let mut x = self.in_phase(way, 0.0);
        let (mut at, mut clean) = (0, 0);
        while clean < count {
            if x >= most {
                return None;
            }
            let mut moved = false;
            if let Some(taken) = self.rows.get(row + at) {
                while let Some(next) = blocked(&way.strips[at], taken, x) {
                    x = self.in_phase(way, next);
                    moved = true;
                    if x >= most {
                        return None;
                    }
                }
            }
            clean = if moved { 1 } else { clean + 1 };
            at = if at + 1 == count { 0 } else { at + 1 };
        }
        Some(x)
    }

    /// The next place at which the print meets the legs that are laid.
    fn in_phase(&self, way: &Way, x: f64) -> f64 {
        let (Some(repeat), Some(mark), Some(phase)) = (self.bed.repeat, way.mark, self.phase)
        else {
            return x;
        };
        let more = (phase - (x + mark)).rem_euclid(repeat);
        // A hair before the place is the place.
        if repeat - more < 1e-6 { x } else { x + more }
    }

    /// Lays the part on the seat.
    pub fn lay(&mut self, ready: &Ready, seat: Seat) {
        let way = &ready.ways[seat.way];
        let apart = self.bed.apart;
        for (at, spans) in way.strips.iter().enumerate() {
            let Some(row) = self.rows.get_mut(seat.row + at) else { continue };
            row.extend(spans.iter().map(|s| (s.0 + seat.x - apart, s.1 + seat.x + apart)));
        }
        if let (Some(repeat), Some(mark), None) = (self.bed.repeat, way.mark, self.phase) {
            self.phase = Some((seat.x + mark).rem_euclid(repeat));
        }
    }

    /// The place of a seat on the cloth.
    pub fn place(&self, ready: &Ready, seat: Seat) -> Place {
        let way = &ready.ways[seat.way];
        let y = self.grid.y(seat.row);
        Place { x: seat.x, y, turned: way.turned, on_fold: way.on_fold }
    }
}

/// The first place behind what blocks a part at `x` in one strip; none where nothing does.
fn blocked(spans: &[Span], taken: &[Span], x: f64) -> Option<f64> {
    for span in spans {
        for other in taken {
            if span.0 + x + 1e-9 < other.1 && other.0 + 1e-9 < span.1 + x {
                return Some(other.1 - span.0);
            }
        }
    }
    None
}

/// The rows to try, the likeliest first.
fn rows_tried((low, high): (usize, usize), wish: Wish, stride: usize) -> Vec<usize> {
    if let Some(share) = wish.row {
        let row = low + (share.clamp(0.0, 1.0) * (high - low) as f64).round() as usize;
        return vec![row];
    }
    let mut rows: Vec<usize> = (low..=high).step_by(stride.max(1)).collect();
    if rows.last() != Some(&high) {
        rows.push(high);
    }
    if wish.high {
        rows.reverse();
    }
    rows
}

/// The lay of parts laid one after the other by their wishes; none when one has no seat.
pub(crate) fn in_order(
    cloth: &mut Cloth<'_>,
    ready: &[Ready],
    order: &[usize],
    wishes: &[Wish],
    stride: usize,
) -> Option<Vec<(usize, Seat)>> {
    cloth.clear();
    let mut seats = Vec::with_capacity(order.len());
    for &index in order {
        let seat = cloth.seat(&ready[index], wishes[index], stride)?;
        cloth.lay(&ready[index], seat);
        seats.push((index, seat));
    }
    Some(seats)
}

/// The seats as a lay.
pub(crate) fn as_lay(
    bed: Bed,
    parts: Vec<Part>,
    cloth: &Cloth<'_>,
    ready: &[Ready],
    seats: &[(usize, Seat)],
) -> Lay {
    let mut places = vec![None; parts.len()];
    for &(index, seat) in seats {
        places[index] = Some(cloth.place(&ready[index], seat));
    }
    Lay { bed, parts, places }
}
