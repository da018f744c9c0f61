//! Naming the seams of an outline that has the shape of a trouser leg.
//!
//! The hem is the lowest edge; the crotch point is the corner that sticks out
//! furthest to one side between the middle and the top; from there one way down
//! runs the inseam and the other way up the crotch seam; the other end of the
//! hem leads up the side seam; the waist lies between the two upper corners
//! (common practice, no published source). The maker can rename what is proposed.

use super::corners::CORNER_ANGLE;
use hangtrue_geometry::{Chain, Point, Rect, angle_between};
use hangtrue_pattern::{Seam, names};

/// The hem lies in this lowest part of the height.
const HEM_IN: f64 = 0.08;
/// The crotch point lies between these parts of the height.
const CROTCH_IN: (f64, f64) = (0.45, 0.9);
/// The upper corners lie in this highest part of the height.
const WAIST_IN: f64 = 0.2;
/// An upper corner turns by at least this, radians (45°): the ends of a dart's
/// cap and the joints of the centre seam turn by less.
const UPPER_TURN: f64 = std::f64::consts::FRAC_PI_4;

/// The seams named, in the order of a drafted block, and whether the centre
/// lies at the left, as it does on a back.
pub(crate) struct Named {
    pub(crate) seams: Vec<Seam>,
    pub(crate) centre_left: bool,
}

/// Names for the edges of a closed outline; none when it is not the shape of a
/// trouser leg.
pub(crate) fn trouser(edges: &[Chain], bounds: Rect) -> Option<Named> {
    let n = edges.len();
    if n < 5 || bounds.height() < 1.2 * bounds.width() {
        return None;
    }
    let level = |p: Point| (p.y - bounds.y0) / bounds.height();
    let hem = (0..n)
        .filter(|&i| level(edges[i].start()) < HEM_IN && level(edges[i].end()) < HEM_IN)
        .max_by(|&a, &b| edges[a].bounds().width().total_cmp(&edges[b].bounds().width()))?;
    let crotch = crotch_corner(edges, bounds, &level)?;
    // Walked so that the crotch seam is followed by the inseam and the hem.
    let distance_to_hem = (hem + n - crotch) % n;
    let forwards = stays_below_crotch(edges, crotch, distance_to_hem, &level);
    let edges: Vec<Chain> = if forwards {
        (0..n).map(|i| edges[(crotch + i) % n].clone()).collect()
    } else {
        (1..=n).map(|i| edges[(crotch + n - i) % n].reversed()).collect()
    };
    name_from_crotch(&edges, &level)
        .map(|seams| Named { centre_left: edges[0].start().x < bounds.center().x, seams })
}

/// The corner furthest to the left or right at the height of a crotch point.
fn crotch_corner(edges: &[Chain], bounds: Rect, level: &impl Fn(Point) -> f64) -> Option<usize> {
    let out = |i: usize| {
        let p = edges[i].start();
        (p.x - bounds.x0).min(bounds.x1 - p.x)
    };
    let n = edges.len();
    let sharp = |i: usize| turn(edges, (i + n - 1) % n, i) > CORNER_ANGLE;
    (0..n)
        .filter(|&i| (CROTCH_IN.0..=CROTCH_IN.1).contains(&level(edges[i].start())) && sharp(i))
        .filter(|&i| out(i) < 0.02 * bounds.width())
        .min_by(|&a, &b| out(a).total_cmp(&out(b)))
}

fn turn(edges: &[Chain], before: usize, after: usize) -> f64 {
    angle_between(edges[before].end_direction(), edges[after].start_direction()).abs()
}

/// Whether the way forwards from the crotch point to the hem stays below it.
fn stays_below_crotch(
    edges: &[Chain],
    crotch: usize,
    count: usize,
    level: &impl Fn(Point) -> f64,
) -> bool {
    let top = level(edges[crotch].start()) + 0.02;
    (0..count).all(|i| level(edges[(crotch + i) % edges.len()].end()) < top)
}

fn name_from_crotch(edges: &[Chain], level: &impl Fn(Point) -> f64) -> Option<Vec<Seam>> {
    let n = edges.len();
    let in_hem = |i: usize| level(edges[i].start()) < HEM_IN && level(edges[i].end()) < HEM_IN;
    let hem_start = (1..n).find(|&i| in_hem(i))?;
    let hem_end = (hem_start..n).find(|&i| !in_hem(i))?;
    let upper = |i: &usize| {
        level(edges[*i].start()) > 1.0 - WAIST_IN && turn(edges, i - 1, *i) > UPPER_TURN
    };
    let side_top = (hem_end + 1..n).find(upper)?;
    let centre_top = (side_top + 1..n).rev().find(upper)?;
    let joined = |range: std::ops::Range<usize>| {
        let mut parts = edges[range].iter();
        let first = parts.next()?.clone();
        parts.try_fold(first, |whole, next| whole.then(next).ok())
    };
    Some(vec![
        Seam::plain(names::WAIST, names::WAIST_SIDE, joined(side_top..centre_top)?),
        Seam::plain(names::CROTCH, names::WAIST_CENTRE, joined(centre_top..n)?),
        Seam::plain(names::INSEAM, names::CROTCH_POINT, joined(0..hem_start)?),
        Seam::plain(names::HEM, names::HEM_INSEAM, joined(hem_start..hem_end)?),
        Seam::plain(names::SIDE, names::HEM_SIDE, joined(hem_end..side_top)?),
    ])
}

/// Names for an outline of any shape: seam 1, seam 2, … from its highest corner.
pub(crate) fn numbered(edges: &[Chain]) -> Vec<Seam> {
    let highest = (0..edges.len())
        .max_by(|&a, &b| edges[a].start().y.total_cmp(&edges[b].start().y))
        .unwrap_or(0);
    let at = |i: usize| &edges[(highest + i) % edges.len()];
    let seam = |i: usize| {
        Seam::plain(&format!("seam {}", i + 1), &format!("corner {}", i + 1), at(i).clone())
    };
    (0..edges.len()).map(seam).collect()
}

/// The note we write beside an outline: each seam's first corner, name and
/// number of segments.
pub(crate) fn note_of(seams: &[(String, String, usize)]) -> String {
    let one = |(corner, name, count): &(String, String, usize)| {
        let plain = |t: &str| t.replace(['|', '>', ':', '"'], " ");
        format!("{}>{}:{count}", plain(corner), plain(name))
    };
    seams.iter().map(one).collect::<Vec<_>>().join("|")
}

/// The seams by our own note, when it fits the outline.
pub(crate) fn by_note(outline: &Chain, note: &str) -> Option<Vec<Seam>> {
    let mut seams = Vec::new();
    let mut from = 0usize;
    for one in note.split('|') {
        let (corner, rest) = one.split_once('>')?;
        let (name, count) = rest.rsplit_once(':')?;
        let count: usize = count.parse().ok()?;
        let segments = outline.segments().get(from..from.checked_add(count)?)?.to_vec();
        from += count;
        seams.push(Seam::plain(name, corner, Chain::new(segments).ok()?));
    }
    (from == outline.segments().len() && seams.len() >= 2).then_some(seams)
}
