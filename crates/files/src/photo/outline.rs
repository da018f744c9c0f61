//! The card's edge in one photo, laid on the table.

use super::card::find_card;
use super::edge::{EdgePlace, Look, Way, even_steps, follow, outward, softened};
use super::job::{OutlinePoint, OutlineSeen, PhotoJob, point};
use super::whereabouts::whereabouts;
use super::{PhotoError, Picture, SoFar, Tone};
use crate::median::median;
use hangtrue_geometry::camera::PlaneCamera;
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::words::Words;

/// From place to place along the edge, pixels.
const STEP: f64 = 1.2;
/// The smoothing across the edge, pixels.
const BLUR: f64 = 1.2;
/// Nearer than this to the picture's border the edge is not followed, pixels.
pub(crate) const BORDER: f64 = 12.0;
/// A hole of more than this between places is told, pixels.
const HOLE: f64 = 40.0;

/// A place of the card's edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct OnEdge {
    /// In the picture, pixels.
    pub(crate) seen: Point,
    /// On the table, mm.
    pub(crate) at: Point,
    /// Unit direction outward on the table.
    pub(crate) out: Vec2,
}

/// A stretch of the card's edge, card to the left.
#[derive(Debug, Clone)]
pub(crate) struct Stretch {
    pub(crate) places: Vec<OnEdge>,
    pub(crate) closed: bool,
    /// Corners placed by hand, mm.
    pub(crate) corners: Option<Vec<Point>>,
    /// How sharply the edge is seen.
    pub(crate) sharp: Sharpness,
}

/// How sharply an edge is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Sharpness {
    /// In full colours.
    Full,
    /// In brightness, of a picture whose colours are coarse.
    Grey,
    /// In coarse colours: in brightness it cannot be told from the ground.
    Coarse,
}

/// The card's edge as followed.
struct Followed {
    places: Vec<EdgePlace>,
    /// The longest way without an edge, pixels.
    holed: f64,
    sharp: Sharpness,
}

/// The stretches of the card's edge in a photo.
pub(crate) fn stretches(
    picture: &Picture,
    job: &PhotoJob,
    camera: &PlaneCamera,
    alone: bool,
    notes: &mut Vec<Words>,
) -> Result<Vec<Stretch>, PhotoError> {
    match &job.outline {
        OutlineSeen::Nothing => Ok(Vec::new()),
        OutlineSeen::Card(inside) => {
            let inside = inside.map_or(picture.frame().centre(), point);
            let followed = found_edge(picture, job, inside)?;
            let holed = followed.holed;
            if holed > HOLE {
                notes.push(format!(
                    "{}: the card's edge cannot be seen for {holed:.0} pixels; look at the outline there",
                    job.file
                ).into());
            }
            split_at_border(picture, job, &followed, camera, alone)
        }
        OutlineSeen::Placed { points, snap } => {
            placed(picture, job, points, *snap, camera, alone).map(|s| vec![s])
        }
    }
}

/// The edge found by itself: coarse, then fine twice.
fn found_edge(picture: &Picture, job: &PhotoJob, inside: Point) -> Result<Followed, PhotoError> {
    let none =
        |why: &str, line: &[Point], fault: Option<Point>| no_card(picture, job, why, line, fault);
    let rough = find_card(picture, inside).map_err(|(why, ring)| none(why, &ring, Some(inside)))?;
    let grey = picture.has_coarse_colours().then(|| picture.grey());
    let in_grey =
        grey.as_ref().and_then(|g| Some((g, lighter_inside(g, &rough.ring, rough.within)?)));
    let (seen_in, tone, lighter, sharp) = match in_grey {
        Some((grey, lighter)) => (grey, Tone::BRIGHTNESS, lighter, Sharpness::Grey),
        None if grey.is_some() => (picture, rough.tone, rough.lighter, Sharpness::Coarse),
        None => (picture, rough.tone, rough.lighter, Sharpness::Full),
    };
    let way = if lighter { Way::Falls } else { Way::Rises };
    let look = |reach: f64, blur: f64| Look { tone, reach, blur, way };
    let coarse = even_steps(&rough.ring, true, STEP.max(rough.within / 4.0));
    let unseen = |asked: &[Point], seen: &[Point]| {
        none(
            "the card's edge is too faint to follow; light it evenly, or place the points by hand",
            asked,
            farthest(asked, seen),
        )
    };
    let first = look(rough.within + 4.0, BLUR.max(rough.within / 8.0));
    let seen = follow(seen_in, &first, &coarse, true, false, rough.within);
    let mut line: Vec<Point> = seen.iter().map(|p| p.at).collect();
    if seen.len() * 2 < coarse.len() {
        return Err(unseen(&coarse, &line));
    }
    let mut fine = Vec::new();
    // Corners come nearer pass by pass; only the last is strict with strays.
    for (reach, jump) in [(5.0, 3.0), (4.0, 2.0), (3.5, 0.35)] {
        let steps = softened(&even_steps(&line, true, STEP), true, 1);
        fine = follow(seen_in, &look(reach, BLUR), &steps, true, false, jump);
        line = fine.iter().map(|p| p.at).collect();
        if fine.len() * 3 < steps.len() * 2 {
            return Err(unseen(&steps, &line));
        }
    }
    let n = line.len();
    // Where the card runs out of the picture no edge is missing.
    let within = |p: Point| picture.holds(p, 3.0 * BORDER);
    let holed = (0..n)
        .map(|i| (line[i], line[(i + 1) % n]))
        .filter(|(a, b)| within(*a) && within(*b))
        .map(|(a, b)| a.distance(b))
        .fold(0.0, f64::max);
    Ok(Followed { places: fine, holed, sharp })
}

/// A refusal with what was found, and its place in words.
fn no_card(
    picture: &Picture,
    job: &PhotoJob,
    why: &str,
    line: &[Point],
    fault: Option<Point>,
) -> PhotoError {
    let size = (picture.width() as f64, picture.height() as f64);
    let why =
        fault.map_or_else(|| why.to_owned(), |at| format!("{}: {why}", whereabouts(at, size)));
    let place = |p: Point| (p.x, p.y);
    let found = SoFar { line: line.iter().copied().map(place).collect(), fault: fault.map(place) };
    PhotoError::NoCard { photo: job.file.clone(), why, found: Box::new(found) }
}

/// The place of a line farthest from all that was seen of it.
fn farthest(asked: &[Point], seen: &[Point]) -> Option<Point> {
    let off = |p: Point| seen.iter().map(|s| s.distance_squared(p)).fold(f64::INFINITY, f64::min);
    let all = asked.iter().step_by((asked.len() / 400).max(1)).map(|p| (off(*p), *p));
    all.max_by(|a, b| a.0.total_cmp(&b.0)).map(|p| p.1)
}

/// Whether the card is lighter than the ground in a grey picture; none when the two
/// are too alike in it.
fn lighter_inside(grey: &Picture, ring: &[Point], within: f64) -> Option<bool> {
    /// The least difference (natural logarithm of the light).
    const CLEAR: f64 = 0.3;
    let out = outward(ring, true);
    let middle = |way: f64| {
        let light = |i: usize| {
            let at = ring[i] + out[i] * (way * (within + 3.0));
            (f64::from(grey.light_at(Tone::BRIGHTNESS, at)) + 0.01).ln()
        };
        median(&mut (0..ring.len()).step_by(3).map(light).collect::<Vec<f64>>())
    };
    let (inner, outer) = (middle(-1.0)?, middle(1.0)?);
    ((inner - outer).abs() > CLEAR).then_some(inner > outer)
}

/// The edge as stretches that keep off the picture's border.
fn split_at_border(
    picture: &Picture,
    job: &PhotoJob,
    followed: &Followed,
    camera: &PlaneCamera,
    alone: bool,
) -> Result<Vec<Stretch>, PhotoError> {
    let (places, sharp) = (&followed.places, followed.sharp);
    let line: Vec<Point> = places.iter().map(|p| p.at).collect();
    let laid: Vec<Option<OnEdge>> = places
        .iter()
        .map(|p| picture.holds(p.at, BORDER).then(|| lay(camera, p)).flatten())
        .collect();
    if laid.iter().all(Option::is_some) {
        let places = laid.into_iter().flatten().collect();
        return Ok(vec![Stretch { places, closed: true, corners: None, sharp }]);
    }
    if alone {
        let at_border = line.iter().zip(&laid).find(|(_, laid)| laid.is_none());
        return Err(no_card(
            picture,
            job,
            "the line found reaches the border of the photo there; when the card does, take it from further away, or take several photos that share marks; when it does not, the line goes round something else: lay the card on a ground of another colour, and nothing beside it",
            &line,
            at_border.map(|p| *p.0),
        ));
    }
    // Begin at a border, so that no stretch is cut by the end of the list.
    let first = laid.iter().position(Option::is_none).unwrap_or(0);
    let turned = laid[first..].iter().chain(&laid[..first]);
    let mut all: Vec<Stretch> = Vec::new();
    let mut open: Vec<OnEdge> = Vec::new();
    for place in turned.chain([&None]) {
        match place {
            Some(place) => open.push(*place),
            None if open.len() >= 12 => {
                let places = std::mem::take(&mut open);
                all.push(Stretch { places, closed: false, corners: None, sharp });
            }
            None => open.clear(),
        }
    }
    if all.is_empty() {
        let why = "no stretch of the card's edge lies inside the photo";
        return Err(no_card(picture, job, why, &line, None));
    }
    Ok(all)
}

fn lay(camera: &PlaneCamera, place: &EdgePlace) -> Option<OnEdge> {
    let at = camera.to_plane(place.at)?;
    let outer = camera.to_plane(place.at + place.out)?;
    let out = outer - at;
    (out.hypot() > 0.0).then(|| OnEdge { seen: place.at, at, out: out.normalize() })
}

/// The outline through points placed by hand, drawn to the edge near it.
fn placed(
    picture: &Picture,
    job: &PhotoJob,
    points: &[OutlinePoint],
    snap: f64,
    camera: &PlaneCamera,
    closed: bool,
) -> Result<Stretch, PhotoError> {
    let asked = |why: String| PhotoError::Asked(format!("{}: {why}", job.file).into());
    if points.len() < 3 || points.len() > 2000 {
        return Err(asked(format!(
            "{} outline points; place at least 3 and at most 2000, in order round the piece",
            points.len()
        )));
    }
    if !(0.0..=200.0).contains(&snap) {
        return Err(asked(format!("a snap of {snap} pixels cannot be used; give 0 to 200")));
    }
    if let Some(out) = points.iter().find(|p| !picture.holds(point(p.at), 0.0)) {
        return Err(asked(format!(
            "the outline point {:.0}, {:.0} lies outside the picture",
            out.at.0, out.at.1
        )));
    }
    let mut points = points.to_vec();
    let twice: f64 = (0..points.len())
        .map(|i| {
            let next = points[(i + 1) % points.len()];
            point(points[i].at).to_vec2().cross(point(next.at).to_vec2())
        })
        .sum();
    if closed && twice > 0.0 {
        points.reverse();
    }
    let line = through(&points, closed);
    let mut places: Vec<EdgePlace> = unsnapped(&line, closed);
    let grey = (snap > 0.0 && picture.has_coarse_colours()).then(|| picture.grey());
    if snap > 0.0 {
        for reach in [snap, snap.min(4.0)] {
            let look = Look { tone: Tone::BRIGHTNESS, reach, blur: BLUR, way: Way::Either };
            let line: Vec<Point> = places.iter().map(|p| p.at).collect();
            let steps = even_steps(&line, closed, STEP);
            let found = follow(grey.as_ref().unwrap_or(picture), &look, &steps, closed, true, 0.75);
            if found.len() * 2 < steps.len() {
                return Err(asked(
                    "the card's edge cannot be seen near the points; place them nearer to it, or give a snap of 0".into(),
                ));
            }
            places = found;
        }
    }
    let on: Option<Vec<OnEdge>> = places.iter().map(|p| lay(camera, p)).collect();
    let places = on.ok_or_else(|| asked("a point lies beyond the horizon of the table".into()))?;
    let corners: Option<Vec<Point>> =
        points.iter().filter(|p| p.corner).map(|p| camera.to_plane(point(p.at))).collect();
    let sharp = if grey.is_some() { Sharpness::Grey } else { Sharpness::Full };
    Ok(Stretch { places, closed, corners: corners.filter(|c| !c.is_empty()), sharp })
}

fn unsnapped(line: &[Point], closed: bool) -> Vec<EdgePlace> {
    let out = outward(line, closed);
    line.iter().zip(out).map(|(&at, out)| EdgePlace { at, out }).collect()
}

/// A line through placed points: round at plain points (Catmull and Rom 1974,
/// memory), sharp at corners.
pub(super) fn through(points: &[OutlinePoint], closed: bool) -> Vec<Point> {
    let n = points.len() as i64;
    let at = |k: i64| {
        point(points[if closed { k.rem_euclid(n) } else { k.clamp(0, n - 1) } as usize].at)
    };
    let corner = |k: i64| {
        let i = if closed { k.rem_euclid(n) } else { k.clamp(0, n - 1) } as usize;
        points[i].corner || (!closed && (k <= 0 || k >= n - 1))
    };
    let last = if closed { n } else { n - 1 };
    let mut line = Vec::new();
    for k in 0..last {
        let (a, b) = (at(k), at(k + 1));
        let chord = b - a;
        // The direction at a plain point is that from neighbour to neighbour.
        let lead = |i: i64| {
            let v = at(i + 1) - at(i - 1);
            if v.hypot() > 0.0 { v.normalize() * chord.hypot() } else { chord }
        };
        let u = if corner(k) { chord } else { lead(k) };
        let v = if corner(k + 1) { chord } else { lead(k + 1) };
        let count = ((chord.hypot() / STEP).ceil() as usize).clamp(1, 20_000);
        for i in 0..count {
            let t = i as f64 / count as f64;
            let (t2, t3) = (t * t, t * t * t);
            let p = a.to_vec2() * (2.0 * t3 - 3.0 * t2 + 1.0)
                + u * (t3 - 2.0 * t2 + t)
                + b.to_vec2() * (3.0 * t2 - 2.0 * t3)
                + v * (t3 - t2);
            line.push(p.to_point());
        }
    }
    if !closed {
        line.push(at(n - 1));
    }
    line
}
