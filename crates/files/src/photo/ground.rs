//! The table under one photo: its marks found and its camera solved.

use super::distances::{Distance, lay_out};
use super::job::{Crossing, Known, PhotoJob, PlacedMark, SeenMark, point};
use super::mark::{FoundMark, MarkLook, find_mark};
use super::sheet::{FoundSheet, STRAIGHT, SheetSize, find_sheet};
use super::{PhotoError, Picture, limits};
use crate::median::median;
use hangtrue_geometry::camera::{CameraError, PlaneCamera, PointPair, SolveLimits, StraightSide};
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use std::collections::BTreeMap;

/// A crossing of a bought cutting mat may be this far from its place, standard
/// deviation in mm (common practice, no published source).
pub const BOUGHT_MAT: f64 = 0.15;
/// A mark whose place was measured by hand, mm (common practice, no published
/// source).
pub const MEASURED_MARK: f64 = 0.25;
/// A crossing fainter than this part of those pointed at is none. Lines narrower
/// than a pixel fade with the square of their width, so at the far end of a
/// tilted photo a third is usual.
const FAINT: f64 = 0.15;
/// Grid crossings used at most.
const MOST_CROSSINGS: usize = 600;

/// A mark as used.
#[derive(Debug, Clone, PartialEq)]
pub struct UsedMark {
    /// Its name.
    pub name: String,
    /// Where it was found, pixels.
    pub seen: Point,
    /// Where it lies on the table, mm.
    pub place: Point,
    /// Where the camera puts it minus where it lies, mm.
    pub off: Vec2,
}

/// A photo whose camera is solved.
#[derive(Debug, Clone)]
pub struct Ground {
    /// The camera over the table.
    pub camera: PlaneCamera,
    /// The marks used.
    pub marks: Vec<UsedMark>,
    /// What the maker should know.
    pub notes: Vec<Words>,
}

/// A mark on the way to a pair.
#[derive(Debug, Clone)]
struct Pairing {
    name: String,
    pair: PointPair,
}

fn pairing(name: String, place: Point, found: FoundMark, plane_sigma: f64) -> Pairing {
    let pair =
        PointPair { plane: place, picture: found.at, plane_sigma, picture_sigma: found.sigma };
    Pairing { name, pair }
}

/// Marks of other photos: name to place and standard deviation, mm.
pub(crate) type KnownPlaces = BTreeMap<String, (Point, f64)>;

/// Solves one photo. `known` are places of shared marks from photos solved
/// before; none of them is needed when the photo has marks of its own, and then
/// none is used.
///
/// # Errors
/// [`PhotoError`] naming the mark, or why the marks do not fix the camera.
pub(crate) fn solve_ground(
    picture: &Picture,
    job: &PhotoJob,
    known: &KnownPlaces,
) -> Result<Ground, PhotoError> {
    check_reach(job)?;
    let mut notes = Vec::new();
    let pairings = match &job.known {
        Known::Sheet { sheet, corners, as_pointed } => {
            return sheet_ground(picture, job, *sheet, corners.map(point), *as_pointed);
        }
        Known::Grid { pitch, crossings, only_these } => {
            return grid_ground(picture, job, *pitch, crossings, !*only_these);
        }
        Known::Places(marks) => placed_pairs(picture, job, marks)?,
        Known::Distances { marks, distances } => {
            distance_pairs(picture, job, marks, distances, &mut notes)?
        }
        Known::Shared => shared_pairs(picture, job, known)?,
    };
    let camera = camera(picture, job, &pairings)?;
    Ok(ground(camera, pairings, notes))
}

fn check_reach(job: &PhotoJob) -> Result<(), PhotoError> {
    if !(2.0..=200.0).contains(&job.reach) {
        return Err(PhotoError::Asked(
            format!("{}: a reach of {} pixels cannot be used; give 2 to 200", job.file, job.reach)
                .into(),
        ));
    }
    Ok(())
}

fn camera(
    picture: &Picture,
    job: &PhotoJob,
    pairings: &[Pairing],
) -> Result<PlaneCamera, PhotoError> {
    camera_of(picture, job, pairings, &[])
}

fn camera_of(
    picture: &Picture,
    job: &PhotoJob,
    pairings: &[Pairing],
    sides: &[StraightSide],
) -> Result<PlaneCamera, PhotoError> {
    if pairings.len() > limits::MOST_MARKS {
        return Err(PhotoError::Asked(
            format!("{}: more than {} marks; leave some out", job.file, limits::MOST_MARKS).into(),
        ));
    }
    let pairs: Vec<PointPair> = pairings.iter().map(|p| p.pair).collect();
    let (lens, limits) = (job.lens.into(), SolveLimits::default());
    PlaneCamera::solve_with_sides(picture.frame(), &pairs, sides, lens, limits)
        .map_err(|why| PhotoError::Camera { photo: job.file.clone(), why })
}

fn ground(camera: PlaneCamera, pairings: Vec<Pairing>, notes: Vec<Words>) -> Ground {
    let off = camera.residuals().each.clone();
    let marks = pairings
        .into_iter()
        .zip(off)
        .map(|(p, off)| UsedMark { name: p.name, seen: p.pair.picture, place: p.pair.plane, off })
        .collect();
    Ground { camera, marks, notes }
}

fn found(
    picture: &Picture,
    job: &PhotoJob,
    name: &str,
    look: MarkLook,
    seen: Point,
) -> Result<FoundMark, PhotoError> {
    find_mark(picture, look, seen, job.reach).map_err(|why| PhotoError::Mark {
        photo: job.file.clone(),
        mark: name.to_owned(),
        why: why.into(),
    })
}

/// The corners of a sheet lay the measure, and its straight sides tell the bend of
/// the lens.
fn sheet_ground(
    picture: &Picture,
    job: &PhotoJob,
    sheet: SheetSize,
    corners: [Point; 4],
    as_pointed: bool,
) -> Result<Ground, PhotoError> {
    let (width, height) = sheet.size();
    if !(20.0..=5000.0).contains(&width) || !(20.0..=5000.0).contains(&height) {
        return Err(PhotoError::Asked(words![
            &job.file,
            ": a sheet of ",
            Length(width),
            " × ",
            Length(height),
            " cannot be used; give ",
            Length(20.0),
            " to ",
            (Length(5000.0), 0)
        ]));
    }
    // Round the same way as the plane: counter-clockwise on the screen.
    let twice: f64 =
        (0..4).map(|i| corners[i].to_vec2().cross(corners[(i + 1) % 4].to_vec2())).sum();
    let corners =
        if twice > 0.0 { [corners[1], corners[0], corners[3], corners[2]] } else { corners };
    let found = if as_pointed {
        let pointed = |at| FoundMark { at, sigma: super::mark::POINTED, strength: 0.0 };
        FoundSheet { corners: corners.map(pointed), sides: Vec::new() }
    } else {
        find_sheet(picture, corners, job.reach).map_err(|why| PhotoError::Mark {
            photo: job.file.clone(),
            mark: "sheet".into(),
            why: why.into(),
        })?
    };
    // Width first means the short side; a sheet stands upright in its own plane.
    let places = sheet.corners();
    let side =
        |(i, seen)| StraightSide { from: places[i], to: places[(i + 1) % 4], seen, bow: STRAIGHT };
    let sides: Vec<StraightSide> = found.sides.into_iter().enumerate().map(side).collect();
    let named = |i: usize| format!("corner {}", i + 1);
    let pairings: Vec<Pairing> =
        (0..4).map(|i| pairing(named(i), places[i], found.corners[i], sheet.sigma())).collect();
    let camera = camera_of(picture, job, &pairings, &sides)?;
    Ok(ground(camera, pairings, Vec::new()))
}

fn placed_pairs(
    picture: &Picture,
    job: &PhotoJob,
    marks: &[PlacedMark],
) -> Result<Vec<Pairing>, PhotoError> {
    let one = |(i, m): (usize, &PlacedMark)| {
        let name = if m.name.is_empty() { (i + 1).to_string() } else { m.name.clone() };
        let found = found(picture, job, &name, m.look, point(m.seen))?;
        Ok(pairing(name, point(m.place), found, MEASURED_MARK))
    };
    marks.iter().take(limits::MOST_MARKS + 1).enumerate().map(one).collect()
}

fn distance_pairs(
    picture: &Picture,
    job: &PhotoJob,
    marks: &[SeenMark],
    distances: &[(String, String, f64)],
    notes: &mut Vec<Words>,
) -> Result<Vec<Pairing>, PhotoError> {
    if marks.len() < 4 {
        let why = CameraError::TooFew { found: marks.len() };
        return Err(PhotoError::Camera { photo: job.file.clone(), why });
    }
    if marks.len() > 60 {
        return Err(PhotoError::Asked(
            format!("{}: more than 60 marks with distances", job.file).into(),
        ));
    }
    let names: Vec<String> = marks.iter().map(|m| m.name.clone()).collect();
    let index = |name: &String| {
        names.iter().position(|n| n == name).ok_or_else(|| PhotoError::Mark {
            photo: job.file.clone(),
            mark: name.clone(),
            why: format!("a distance names it, but only these are seen: {}", names.join(", "))
                .into(),
        })
    };
    let mut measured: Vec<Distance> = Vec::with_capacity(distances.len());
    for (from, to, mm) in distances {
        let (a, b) = (index(from)?, index(to)?);
        if a == b || !(1.0..1e5).contains(mm) {
            return Err(PhotoError::Asked(words![
                &job.file,
                ": ",
                from,
                " to ",
                to,
                " cannot be ",
                Length(*mm),
                " apart; measure it again"
            ]));
        }
        measured.push((a, b, *mm));
    }
    let found: Result<Vec<FoundMark>, PhotoError> =
        marks.iter().map(|m| found(picture, job, &m.name, m.look, point(m.seen))).collect();
    let found = found?;
    let seen: Vec<Point> = found.iter().map(|f| f.at).collect();
    let laid = lay_out(&job.file, &names, &seen, &measured)?;
    let spare = measured.len() + 3 - 2 * marks.len();
    if spare == 0 {
        notes.push("no distance more than needed was measured, so none of them is checked".into());
    }
    let places = laid.places.iter().zip(found).zip(names);
    Ok(places.map(|((place, found), name)| pairing(name, *place, found, laid.sigma)).collect())
}

fn shared_pairs(
    picture: &Picture,
    job: &PhotoJob,
    known: &KnownPlaces,
) -> Result<Vec<Pairing>, PhotoError> {
    let mut pairs = Vec::new();
    for mark in &job.shared {
        if let Some((place, sigma)) = known.get(&mark.name) {
            let found = found(picture, job, &mark.name, mark.look, point(mark.seen))?;
            pairs.push(pairing(mark.name.clone(), *place, found, *sigma));
        }
    }
    Ok(pairs)
}

/// The places of a photo's shared marks by its own camera.
pub(crate) fn shared_places(
    picture: &Picture,
    job: &PhotoJob,
    camera: &PlaneCamera,
) -> Result<KnownPlaces, PhotoError> {
    let mut places = KnownPlaces::new();
    for mark in &job.shared {
        let found = found(picture, job, &mark.name, mark.look, point(mark.seen))?;
        let off = camera.mistake_at(found.at, found.sigma);
        if let (Some(place), Some(off)) = (camera.to_plane(found.at), off) {
            places.insert(mark.name.clone(), (place, off.sigma()));
        }
    }
    Ok(places)
}

/// The crossings pointed at, then the rest of the grid, ring by ring outward.
fn grid_ground(
    picture: &Picture,
    job: &PhotoJob,
    pitch: f64,
    crossings: &[Crossing],
    spread: bool,
) -> Result<Ground, PhotoError> {
    if !(1.0..=500.0).contains(&pitch) {
        return Err(PhotoError::Asked(words![
            &job.file,
            ": a grid of ",
            Length(pitch),
            " cannot be used; give ",
            Length(1.0),
            " to ",
            (Length(500.0), 0),
            " from line to line"
        ]));
    }
    let place = |at: (i32, i32)| Point::new(f64::from(at.0) * pitch, f64::from(at.1) * pitch);
    let mut used: BTreeMap<(i32, i32), Pairing> = BTreeMap::new();
    let mut strengths = Vec::new();
    for &(at, seen) in crossings.iter().take(limits::MOST_MARKS) {
        let name = format!("crossing {}, {}", at.0, at.1);
        let mark = found(picture, job, &name, MarkLook::Crossing, point(seen))?;
        strengths.push(mark.strength);
        used.insert(at, pairing(name, place(at), mark, BOUGHT_MAT));
    }
    let list = |used: &BTreeMap<(i32, i32), Pairing>| used.values().cloned().collect::<Vec<_>>();
    let mut camera = camera(picture, job, &list(&used))?;
    let pointed = used.len();
    if spread {
        let usual = median(&mut strengths).unwrap_or(0.0);
        let mut tried: std::collections::BTreeSet<(i32, i32)> = used.keys().copied().collect();
        for _ in 0..200 {
            let next = beside(&used, &tried);
            if next.is_empty() || used.len() >= MOST_CROSSINGS {
                break;
            }
            tried.extend(next.iter().copied());
            let mut more = false;
            for at in next {
                if let Some(mark) = crossing(picture, job, &camera, place(at), pitch, usual) {
                    let name = format!("crossing {}, {}", at.0, at.1);
                    used.insert(at, pairing(name, place(at), mark, BOUGHT_MAT));
                    more = true;
                }
            }
            if more {
                camera = without_strays(picture, job, &mut used)?;
            }
        }
    }
    let mut notes = Vec::new();
    if spread {
        notes.push(
            format!(
                "{} crossings of the grid are used, {} of them found by themselves",
                used.len(),
                used.len().saturating_sub(pointed)
            )
            .into(),
        );
    }
    Ok(ground(camera, list(&used), notes))
}

/// Crossings not tried yet, at most two steps from one in use: the card and its
/// edge may hide one between.
fn beside(
    used: &BTreeMap<(i32, i32), Pairing>,
    tried: &std::collections::BTreeSet<(i32, i32)>,
) -> Vec<(i32, i32)> {
    let mut next = std::collections::BTreeSet::new();
    for &(c, r) in used.keys() {
        for dc in -2..=2 {
            for dr in -2..=2 {
                let at = (c.saturating_add(dc), r.saturating_add(dr));
                if !tried.contains(&at) {
                    next.insert(at);
                }
            }
        }
    }
    next.into_iter().collect()
}

/// A crossing where the camera expects one, if it is there and clear.
fn crossing(
    picture: &Picture,
    job: &PhotoJob,
    camera: &PlaneCamera,
    place: Point,
    pitch: f64,
    usual: f64,
) -> Option<FoundMark> {
    let seen = camera.to_picture(place)?;
    let reach = job.reach.min(0.3 * pitch * camera.scale_at(place)?);
    if reach < 2.0 || !picture.holds(seen, reach + 2.0) {
        return None;
    }
    let mark = find_mark(picture, MarkLook::Crossing, seen, reach);
    let mark = mark.ok()?;
    let clear = mark.strength >= FAINT * usual && mark.sigma < 0.5;
    (clear && mark.at.distance(seen) < 0.5 * reach).then_some(mark)
}

/// A crossing this many times stranger than the middle one is none: 3.4 middle
/// values of a two-way normal spread are 4 standard deviations.
const STRAY: f64 = 3.4;
/// The middle one is not taken for better than this.
const USUAL_STRANGENESS: f64 = 0.3;

/// How far a mark lies from where the camera puts it, against what is expected of
/// it in the picture and on the table.
fn strangeness(camera: &PlaneCamera, pair: &PointPair) -> f64 {
    let (Some(seen), Some(scale)) = (camera.to_picture(pair.plane), camera.scale_at(pair.plane))
    else {
        return f64::INFINITY;
    };
    seen.distance(pair.picture) / pair.picture_sigma.hypot(pair.plane_sigma * scale)
}

/// Solves anew and leaves out crossings that lie far from where the others put
/// them: those of the card's edge with a line.
fn without_strays(
    picture: &Picture,
    job: &PhotoJob,
    used: &mut BTreeMap<(i32, i32), Pairing>,
) -> Result<PlaneCamera, PhotoError> {
    loop {
        let pairings: Vec<Pairing> = used.values().cloned().collect();
        let camera = match camera(picture, job, &pairings) {
            Ok(camera) => camera,
            Err(PhotoError::Camera {
                why: CameraError::ResidualTooLarge { worst, .. }, ..
            }) if used.len() > 8 => {
                let stray = used.keys().nth(worst).copied();
                if let Some(stray) = stray {
                    used.remove(&stray);
                    continue;
                }
                return camera(picture, job, &pairings);
            }
            Err(why) => return Err(why),
        };
        let off: Vec<f64> = pairings.iter().map(|p| strangeness(&camera, &p.pair)).collect();
        let limit = STRAY * median(&mut off.clone()).unwrap_or(0.0).max(USUAL_STRANGENESS);
        let strays: Vec<(i32, i32)> =
            used.keys().copied().zip(off).filter(|(_, o)| *o > limit).map(|(k, _)| k).collect();
        if strays.is_empty() || used.len() - strays.len() < 6 {
            return Ok(camera);
        }
        for stray in strays {
            used.remove(&stray);
        }
    }
}
