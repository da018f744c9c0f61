//! One outline from the stretches of several photos.

use super::PhotoError;
use super::outline::{BORDER, OnEdge, Stretch};
use super::view::CardPhoto;
use hangtrue_geometry::Point;
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};

/// Stretches whose ends lie further apart than this are not joined, mm.
const JOIN_GAP: f64 = 40.0;
/// A gap of more than this is told, mm.
const TOLD_GAP: f64 = 6.0;
/// Another photo shows the same edge when it has a place this near, mm.
const SAME_EDGE: f64 = 6.0;
/// A stretch shorter than this is left out, mm.
const SCRAP: f64 = 15.0;

/// A place of the outline and the photo it was read from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OutlinePlace {
    pub(crate) photo: usize,
    pub(crate) on: OnEdge,
}

/// The closed outline: of stretches that show the same edge the one with the
/// smaller error is taken.
pub(crate) fn joined(
    views: &[CardPhoto],
    notes: &mut Vec<Words>,
) -> Result<Vec<OutlinePlace>, PhotoError> {
    let mut pieces: Vec<Vec<OutlinePlace>> = Vec::new();
    for (photo, view) in views.iter().enumerate() {
        for stretch in &view.stretches {
            pieces.extend(best_parts(views, photo, stretch));
        }
    }
    if let [only] = pieces.as_slice()
        && views.iter().flat_map(|v| &v.stretches).any(|s| s.closed && s.places.len() == only.len())
    {
        return Ok(only.clone());
    }
    pieces.retain(|p| length(p) >= SCRAP);
    let longest = (0..pieces.len())
        .max_by(|&a, &b| length(&pieces[a]).total_cmp(&length(&pieces[b])))
        .ok_or_else(|| PhotoError::NotJoined { why: "no photo shows the card's edge".into() })?;
    let mut ring = pieces.swap_remove(longest);
    loop {
        let end = last(&ring);
        let home = end.distance(ring[0].on.at);
        let next = (0..pieces.len())
            .map(|i| (end.distance(pieces[i][0].on.at), i))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        match next {
            Some((gap, i)) if gap <= JOIN_GAP && gap <= home => {
                tell(gap, notes);
                ring.extend(pieces.swap_remove(i));
            }
            _ if home <= JOIN_GAP => {
                tell(home, notes);
                break;
            }
            _ => {
                let nearest = next.map_or(home, |n| n.0.min(home));
                return Err(PhotoError::NotJoined {
                    why: words![
                        "the outline is open: ",
                        (Length(nearest), 0),
                        " of the card's edge lie on no photo; take one more that shows it and shares marks with the others"
                    ],
                });
            }
        }
    }
    let left: f64 = pieces.iter().map(|p| length(p)).sum();
    if left > 2.0 * JOIN_GAP {
        notes.push(words![
            (Length(left), 0),
            " of edge belong to no closed outline and are left out"
        ]);
    }
    Ok(ring)
}

fn tell(gap: f64, notes: &mut Vec<Words>) {
    if gap > TOLD_GAP {
        notes.push(words![(Length(gap), 0), " of the edge between two photos are drawn straight"]);
    }
}

fn last(piece: &[OutlinePlace]) -> Point {
    piece[piece.len() - 1].on.at
}

fn length(piece: &[OutlinePlace]) -> f64 {
    piece.windows(2).map(|w| w[0].on.at.distance(w[1].on.at)).sum()
}

/// The parts of a stretch that no other photo shows better.
fn best_parts(views: &[CardPhoto], photo: usize, stretch: &Stretch) -> Vec<Vec<OutlinePlace>> {
    let others: Vec<usize> =
        (0..views.len()).filter(|&o| o != photo && !views[o].stretches.is_empty()).collect();
    let keep: Vec<bool> = stretch
        .places
        .iter()
        .map(|place| {
            let own = views[photo].error_of(place.seen);
            !others.iter().any(|&other| {
                let Some(seen) = views[other].sees(place.at, BORDER) else { return false };
                let theirs = views[other].error_of(seen);
                let better = theirs < own || (theirs == own && other < photo);
                better && views[other].has_edge_near(place.at, SAME_EDGE)
            })
        })
        .collect();
    let n = keep.len();
    let whole = |i: usize| OutlinePlace { photo, on: stretch.places[i] };
    // A closed stretch is begun where something is left out.
    let first = if stretch.closed { keep.iter().position(|k| !k).unwrap_or(0) } else { 0 };
    let mut parts: Vec<Vec<OutlinePlace>> = Vec::new();
    let mut open = Vec::new();
    for i in (0..n).map(|k| (first + k) % n) {
        if keep[i] {
            open.push(whole(i));
        } else if !open.is_empty() {
            parts.push(std::mem::take(&mut open));
        }
    }
    if !open.is_empty() {
        parts.push(open);
    }
    parts
}
