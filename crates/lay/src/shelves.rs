//! The plain lay others are compared with: boxes on shelves across the cloth.

use crate::{Bed, Lay, Part, Place};

/// The parts laid by their boxes on shelves, the longest first, each on the first shelf that
/// has room: what is done with paper pieces and no patience. A print is not matched. None
/// when a part does not fit at all.
pub fn on_shelves(bed: Bed, parts: Vec<Part>) -> Option<Lay> {
    struct Shelf {
        from: f64,
        long: f64,
        used: f64,
        fold: f64,
    }
    let mut order: Vec<usize> = (0..parts.len()).collect();
    let long = |i: usize| parts[i].shape(false, false).size.x;
    order.sort_by(|a, b| long(*b).total_cmp(&long(*a)));
    let mut shelves: Vec<Shelf> = Vec::new();
    let mut places = vec![None; parts.len()];
    for index in order {
        let on_fold = bed.folded && parts[index].may_lie_on_fold();
        let size = parts[index].shape(false, on_fold).size;
        let room = |s: &Shelf| bed.high - s.used - if on_fold { 0.0 } else { bed.low.max(s.fold) };
        let takes = |s: &Shelf| room(s) >= size.y && !(on_fold && s.fold > 0.0);
        if !shelves.iter().any(takes) {
            let from = shelves.last().map_or(0.0, |s| s.from + s.long + bed.apart);
            shelves.push(Shelf { from, long: size.x, used: 0.0, fold: 0.0 });
        }
        let shelf = shelves.iter_mut().find(|s| takes(s))?;
        let y = if on_fold { 0.0 } else { bed.high - shelf.used - size.y };
        places[index] = Some(Place { x: shelf.from, y, turned: false, on_fold });
        if on_fold {
            shelf.fold = size.y + bed.apart;
        } else {
            shelf.used += size.y + bed.apart;
        }
    }
    Some(Lay { bed, parts, places })
}
