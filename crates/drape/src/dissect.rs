//! The order in which vertices are eliminated: halves first, the few that part
//! them last (nested dissection, A. George 1973), cut across the longer side of
//! where the vertices lie.

use crate::cloth::Place;

/// Groups this small are taken as they come.
const SMALL: usize = 24;

/// The order of elimination for vertices lying at `places`, `near` telling each
/// vertex those it shares an element with.
pub fn order(places: &[Place], near: &[Vec<usize>]) -> Vec<usize> {
    let mut order = Vec::with_capacity(places.len());
    let mut side = vec![0u8; places.len()];
    dissect((0..places.len()).collect(), places, near, &mut side, &mut order);
    order
}

fn dissect(
    mut group: Vec<usize>,
    places: &[Place],
    near: &[Vec<usize>],
    side: &mut [u8],
    order: &mut Vec<usize>,
) {
    if group.len() <= SMALL {
        order.extend(group);
        return;
    }
    let axis = longest(&group, places);
    group.sort_by(|&a, &b| places[a][axis].total_cmp(&places[b][axis]).then(a.cmp(&b)));
    let half = group.len() / 2;
    group[..half].iter().for_each(|&v| side[v] = 1);
    group[half..].iter().for_each(|&v| side[v] = 2);
    // The parting: those of the lower half that touch the upper.
    let (mut low, mut parting) = (Vec::new(), Vec::new());
    for &v in &group[..half] {
        if near[v].iter().any(|&n| side[n] == 2) { parting.push(v) } else { low.push(v) }
    }
    let high = group.split_off(half);
    low.iter().chain(&parting).chain(&high).for_each(|&v| side[v] = 0);
    if low.is_empty() {
        order.extend(high);
        order.extend(parting);
        return;
    }
    dissect(low, places, near, side, order);
    dissect(high, places, near, side, order);
    order.extend(parting);
}

fn longest(group: &[usize], places: &[Place]) -> usize {
    let mut low = places[group[0]];
    let mut high = low;
    for &v in group {
        low = low.inf(&places[v]);
        high = high.sup(&places[v]);
    }
    (high - low).imax()
}
