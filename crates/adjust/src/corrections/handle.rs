//! The place of the paper that a correction moves most: what a maker takes hold of
//! to set its amount by hand.

use crate::Change;
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::{End, Pattern, Piece, Seam};

/// A place of a piece, and how it goes with the amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Handle {
    /// The piece.
    pub piece: String,
    /// Where the place is now, mm.
    pub at: Point,
    /// How far it goes for each mm of the amount.
    pub per_mm: Vec2,
}

/// Each seam is looked at at so many places.
const PLACES: usize = 16;

/// What moves less than this for each mm of the amount cannot be taken hold of.
const LEAST: f64 = 0.05;

/// A corner is taken hold of before a place of a seam, and that before a
/// dart, unless it goes less than so much of the way of what goes farthest.
const ENOUGH: f64 = 0.5;

impl Handle {
    /// The place a correction moves most, from the pattern before it and the pattern
    /// it gives; none when nothing moves or the change is no correction. An amount of
    /// 0 or one that was refused moves nothing, so then the way is found by trying half
    /// of its usual range.
    pub fn of(change: &Change, before: &Pattern, after: &Pattern) -> Option<Self> {
        let Change::Correct(correction) = change.plain() else { return None };
        let amount = correction.amount();
        if amount != 0.0
            && let Some((handle, _)) = most_moved(before, after, amount)
        {
            return Some(handle);
        }
        let range = correction.about().range;
        let tried = 0.5 * if range.1 > 0.0 { range.1 } else { range.0 };
        let trial = Change::Correct(correction.with_amount(tried)).on_leg(change.leg());
        let outcome = trial.apply(before).ok()?;
        let (handle, was) = most_moved(before, &outcome.pattern, tried)?;
        Some(Self { at: was, ..handle })
    }
}

/// The most moved place as it is after, and where it was before.
fn most_moved(before: &Pattern, after: &Pattern, amount: f64) -> Option<(Handle, Point)> {
    let kinds = [corners, places, dart_points];
    let most: Vec<Option<(Handle, Point)>> =
        kinds.iter().map(|pairs| most_of(before, after, amount, *pairs)).collect();
    let far = |m: &Option<(Handle, Point)>| m.as_ref().map_or(0.0, |m| m.0.per_mm.hypot());
    let farthest = most.iter().map(far).fold(0.0, f64::max);
    most.into_iter().find(|m| far(m) >= LEAST.max(ENOUGH * farthest)).flatten()
}

/// Places of a piece that belong together, before and after.
type Pairs = fn(&Piece, &Piece) -> Vec<(Point, Point)>;

fn most_of(
    before: &Pattern,
    after: &Pattern,
    amount: f64,
    pairs: Pairs,
) -> Option<(Handle, Point)> {
    let mut most: Option<(Handle, Point)> = None;
    for piece in &after.pieces {
        let Ok(was) = before.piece(&piece.name) else { continue };
        for (from, to) in pairs(was, piece) {
            let per_mm = (to - from) / amount;
            if most.as_ref().is_none_or(|m| per_mm.hypot() > m.0.per_mm.hypot()) {
                most = Some((Handle { piece: piece.name.clone(), at: to, per_mm }, from));
            }
        }
    }
    most
}

fn corners(before: &Piece, after: &Piece) -> Vec<(Point, Point)> {
    let now = after.corners();
    now.filter_map(|(name, now)| Some((before.corner(name).ok()?, now))).collect()
}

/// The same shares of each seam; a seam with darts has no such places, because the
/// darts move along it.
fn places(before: &Piece, after: &Piece) -> Vec<(Point, Point)> {
    let mut pairs = Vec::new();
    for seam in after.seams.iter().filter(|s| s.darts.is_empty()) {
        let Ok(was) = before.seam(&seam.name) else { continue };
        let at = |seam: &Seam, i: usize| {
            seam.place(End::Start, seam.sewn_length() * i as f64 / PLACES as f64).point
        };
        pairs.extend((0..=PLACES).map(|i| (at(was, i), at(seam, i))));
    }
    pairs
}

/// The points of the darts, and where their legs meet the seam.
fn dart_points(before: &Piece, after: &Piece) -> Vec<(Point, Point)> {
    let mut pairs = Vec::new();
    for (order, (seam, index, dart)) in after.darts().enumerate() {
        let named = before.darts().find(|d| d.2.name == dart.name);
        // A dart that was split has other names.
        let Some((old_seam, old_index, was)) = named.or_else(|| before.darts().nth(order)) else {
            continue;
        };
        let mouth = |seam: &Seam, i: usize| [seam.parts[i].end(), seam.parts[i + 1].start()];
        pairs.push((was.apex, dart.apex));
        pairs.extend(mouth(old_seam, old_index).into_iter().zip(mouth(seam, index)));
    }
    pairs
}
