//! From what is found on the card to what is offered, and from what was said yes to
//! to an outline that takes it.

use super::cut_notch::CutNotch;
use super::doubts::Doubt;
use super::drawn::drawn;
use super::flat::Flat;
use super::job::{OutlineSeen, TraceJob, point};
use super::offer::{Offer, OfferKind};
use super::stroke::strokes;
use super::trace::ReadPicture;
use super::view::{CardPhoto, Laying};
use super::whereabouts::whereabouts;
use super::{PhotoError, Picture};
use hangtrue_geometry::camera::PlaneCamera;
use hangtrue_geometry::{Chain, Point};
use hangtrue_pattern::words;
use hangtrue_pattern::words::Length;

/// Whether a doubt is about nothing but a notch.
pub(super) fn explained(camera: &PlaneCamera, cut: &[CutNotch], doubt: &Doubt) -> bool {
    /// The colours beside an edge are blurred over so much, mm.
    const ROUND: f64 = 3.0;
    let own = |notch: &CutNotch| {
        doubt.seen.len() > 1
            && doubt.seen.iter().all(|p| {
                let at = camera.to_plane(point(*p));
                at.is_some_and(|at| at.distance(notch.at) <= notch.width / 2.0 + ROUND)
            })
    };
    cut.iter().any(own)
}

/// What runs in from the edge and is not surely a notch, as doubts.
pub(super) fn unsure(
    places: &[Point],
    (photo, camera): (usize, &PlaneCamera),
    size: (f64, f64),
) -> Vec<Doubt> {
    /// The edge may be as far from the line beside such a place, mm.
    const OFF: f64 = 1.5;
    let one = |at: &Point| {
        let seen = camera.to_picture(*at)?;
        let why = words![
            whereabouts(seen, size),
            ": something as broad as a notch runs into the card from its edge and is not surely one; the card's edge may be ",
            Length(OFF),
            " from the line there"
        ];
        Some(Doubt { photo, seen: vec![(seen.x, seen.y)], why, off: OFF, share: 0.005 })
    };
    places.iter().filter_map(one).collect()
}

/// The notches of one photo as offers on the common table.
pub(super) fn notch_offers(
    cut: &[CutNotch],
    (photo, camera, laying): (usize, &PlaneCamera, &Laying),
    offers: &mut Vec<Offer>,
) {
    for notch in cut {
        let places = [notch.at, notch.end];
        let seen: Option<Vec<_>> =
            places.iter().map(|p| camera.to_picture(*p).map(|p| (p.x, p.y))).collect();
        let Some(seen) = seen else { continue };
        let kind = OfferKind::Notch { width: notch.width, depth: notch.depth };
        let places = places.iter().map(|p| laying.to_table * *p).collect();
        add(offers, Offer { kind, photo, seen, places, within: notch.within });
    }
}

/// One more offer, unless another photo shows it better.
fn add(offers: &mut Vec<Offer>, offer: Offer) {
    match offers.iter_mut().find(|o| o.photo != offer.photo && o.is_same(&offer)) {
        Some(there) if there.within <= offer.within => {}
        Some(there) => *there = offer,
        None => offers.push(offer),
    }
}

/// Offers the lines drawn on the card; gives how many parts of curves were left out.
///
/// # Errors
/// [`PhotoError`] when a photo cannot be read again.
pub(super) fn lines_on_card(
    job: &TraceJob,
    (views, mut kept): (&[CardPhoto], Option<Picture>),
    read: &ReadPicture,
    edges: &[Chain],
    offers: &mut Vec<Offer>,
) -> Result<usize, PhotoError> {
    /// From place to place of the outline, mm.
    const STEP: f64 = 1.0;
    let outline: Vec<Point> = edges
        .iter()
        .flat_map(|e| {
            let count = (e.length() / STEP).ceil().max(1.0) as usize;
            (0..count).map(move |i| e.point_at(e.length() * i as f64 / count as f64))
        })
        .collect();
    let mut curved = 0;
    for (index, (photo, view)) in job.photos.iter().zip(views).enumerate() {
        if photo.outline == OutlineSeen::Nothing {
            continue;
        }
        let picture = match kept.take() {
            Some(picture) => picture,
            None => read(&photo.file)?,
        };
        let Some(flat) = Flat::of(&picture, view, &outline) else { continue };
        let strokes = strokes(&flat);
        let (lines, left_out) = drawn(&flat, &strokes, edges);
        curved += left_out;
        let sees = |p: Point| view.sees(p, 0.0);
        for line in lines {
            let Some(mut offer) = Offer::drawn(&line, (index, 0.0), &sees) else { continue };
            offer.within = within(view, &flat, &offer);
            add(offers, offer);
        }
    }
    Ok(curved)
}

/// How far a drawn line may lie from where it was found, mm (95 in 100).
fn within(view: &CardPhoto, flat: &Flat, offer: &Offer) -> f64 {
    let camera = &view.ground.camera;
    let at =
        |p: &(f64, f64)| camera.mistake_at(point(*p), 0.1).map_or(f64::INFINITY, |m| m.within());
    let marks = offer.seen.iter().map(at).fold(0.0, f64::max);
    // Found by the trials of the tests, not from a source.
    marks.hypot(0.15 + 0.3 * flat.cell)
}

/// The edges of an outline with the mouths of the darts taken, and the legs of each,
/// made equal: the mouths are moved along the legs by half of what these differ, and
/// the edges follow.
pub(super) fn with_mouths(
    edges: &[Chain],
    chosen: &[Offer],
) -> Result<(Vec<Chain>, Vec<[Point; 3]>), PhotoError> {
    let mut cuts: Vec<Vec<(f64, Point)>> = vec![Vec::new(); edges.len()];
    let mut darts = Vec::new();
    for offer in chosen.iter().filter(|o| matches!(o.kind, OfferKind::Dart { .. })) {
        let [a, apex, b] = offer.places[..] else { continue };
        let long = (a.distance(apex) + b.distance(apex)) / 2.0;
        let mouth = |p: Point| apex + (p - apex).normalize() * long;
        let off = |e: &Chain| e.nearest(a).distance + e.nearest(b).distance;
        let nearest = (0..edges.len()).min_by(|i, k| off(&edges[*i]).total_cmp(&off(&edges[*k])));
        let Some(edge) = nearest else { continue };
        for p in [a, b] {
            cuts[edge].push((edges[edge].nearest(p).position, mouth(p)));
        }
        darts.push([mouth(a), apex, mouth(b)]);
    }
    let one = |(edge, cuts): (&Chain, Vec<(f64, Point)>)| cut_at(edge, cuts);
    let edges = edges.iter().zip(cuts).map(one).collect::<Result<_, _>>()?;
    Ok((edges, darts))
}

/// An edge drawn through places beside some of its own.
fn cut_at(edge: &Chain, mut cuts: Vec<(f64, Point)>) -> Result<Chain, PhotoError> {
    if cuts.is_empty() {
        return Ok(edge.clone());
    }
    cuts.sort_by(|a, b| a.0.total_cmp(&b.0));
    cuts.push((edge.length(), edge.end()));
    let mut whole: Option<Chain> = None;
    let (mut from, mut start) = (0.0, edge.start());
    for (position, to) in cuts {
        let part = edge.part(from, position)?.with_ends(start, to);
        whole = Some(match whole {
            Some(before) => before.then(&part)?,
            None => part,
        });
        (from, start) = (position, to);
    }
    whole.ok_or_else(|| PhotoError::Asked("a dart has no place on the edge".into()))
}
