//! How far the traced lines hang from level, with how sure that is.

mod figures;
mod on_body;
mod shares;
mod taken;

use super::stand::check_level;
use super::{Horizon, LegSeen, Stand, TracedLine, View, WornError, WornPhoto};
use figures::{figures_of, within};
use hangtrue_geometry::Point;
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use on_body::{LineOnBody, lay_on_body};
use serde::Serialize;
use shares::{at, between, share, weights};
use taken::{Taken, section, sigma, stand, steps};

/// A value and how far the truth may lie from it: within ± `error` in about 95 of
/// 100 (two standard deviations).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Within {
    /// The value.
    pub value: f64,
    /// Two standard deviations.
    pub error: f64,
}

/// A place along a line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct HangStation {
    /// How far along the line, 0 at its first edge, 1 at its last.
    pub share: f64,
    /// Where it is in the photo, pixels.
    pub place: Point,
    /// Where the level through the last edge is seen above or below that place.
    pub level: Point,
    /// How many times longer the cloth is than it looks there, because it turns
    /// away: 1 where it faces the lens.
    pub turned: f64,
    /// How far it hangs below the last edge (the side, on one leg), mm.
    pub below_last: Within,
    /// How far it hangs below the straight between the two edges, mm: a droop;
    /// negative for a rise.
    pub sag: Within,
}

/// How a line hangs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hang {
    /// The line.
    pub line: String,
    /// The leg.
    pub leg: LegSeen,
    /// From where it was seen.
    pub view: View,
    /// Places at even shares of the seen length.
    pub stations: Vec<HangStation>,
    /// How far the first edge hangs below the last, mm.
    pub fall: Within,
    /// The slope of the straight between the edges, degrees: positive when the
    /// first edge is the lower.
    pub slope: Within,
    /// How much the line turns at its middle, degrees: positive for a V.
    pub turn: Within,
    /// What a pixel is at the line's middle, mm.
    pub mm_per_pixel: Within,
    /// How much of the bend seen was no droop but the roundness of the body, mm.
    pub roundness: f64,
    /// How much longer the line is than it looks, times, at its most turned-away
    /// place that is read: what foreshortening hides.
    pub foreshortened: f64,
    /// How deep the body is taken to be, as a share of how wide it is seen: what its
    /// girth leaves.
    pub depth: f64,
}

/// A leg or a seat is about so deep as a share of its width (memory, with room).
const LIKELY_DEPTH: std::ops::RangeInclusive<f64> = 0.55..=1.5;

/// A coarser photo cannot show a droop of a few mm, mm a pixel.
const COARSE: f64 = 1.0;

impl Hang {
    /// What is doubtful about how the line was marked or photographed, in words.
    pub fn doubts(&self) -> Vec<Words> {
        let mut doubts = Vec::new();
        if !LIKELY_DEPTH.contains(&self.depth) {
            let way = if self.depth > 1.0 { "narrower" } else { "wider" };
            doubts.push(words![
                "The ",
                &self.line,
                " line is seen ",
                way,
                " than its girth lets expect: look whether its ends lie at the edge of the body, and measure the distance to the lens again."
            ]);
        }
        if self.mm_per_pixel.value > COARSE {
            doubts.push(words![
                "A pixel is ",
                Length(self.mm_per_pixel.value),
                " at the ",
                &self.line,
                " line: take the photo from nearer or with more pixels, under ",
                (Length(COARSE), 0),
                ", to see droops of a few mm."
            ]);
        }
        doubts
    }
}

/// How many places of a line are told.
pub const SHARES: usize = 9;

/// How all the lines of the photo hang.
///
/// The seams hold two lines apart by what the pattern says; in the middle a line
/// that droops comes nearer to the one below it, and the cloth between them falls
/// into folds. The known length is seen in the middle, so it is shortened by the
/// droop found there, and the photo read again until that no longer changes.
///
/// # Errors
/// [`WornError`] when marks are missing or cannot be.
pub fn hangs(photo: &WornPhoto) -> Result<Vec<Hang>, WornError> {
    stand_and_hangs(photo).map(|(_, hangs)| hangs)
}

/// The same, and how the camera stood.
///
/// # Errors
/// As [`hangs`].
pub fn stand_and_hangs(photo: &WornPhoto) -> Result<(Stand, Vec<Hang>), WornError> {
    check(photo)?;
    let mut as_seen = photo.clone();
    let mut found = hangs_once(&as_seen)?;
    for _ in 0..AGAIN {
        let droop = droop_at(&found.1, &photo.known.upper, photo.known.upper_at)
            - droop_at(&found.1, &photo.known.lower, photo.known.lower_at);
        as_seen.known.length = photo.known.length - droop;
        found = hangs_once(&as_seen)?;
    }
    Ok(found)
}

/// Times the photo is read again; each time the error is less by about the droop
/// over the known length.
const AGAIN: usize = 4;

/// How far a line hangs below its ends where the grain crosses it, mm: between the
/// stations beside that place.
fn droop_at(hangs: &[Hang], name: &(String, LegSeen), place: Point) -> f64 {
    let Some(hang) = hangs.iter().find(|h| h.line == name.0 && h.leg == name.1) else {
        return 0.0;
    };
    let between = |p: &&[HangStation]| (p[0].place.x - place.x) * (p[1].place.x - place.x) <= 0.0;
    hang.stations.windows(2).find(between).map_or(0.0, |p| {
        let way = p[1].place.x - p[0].place.x;
        let t = if way == 0.0 { 0.0 } else { (place.x - p[0].place.x) / way };
        p[0].sag.value + t * (p[1].sag.value - p[0].sag.value)
    })
}

/// How they hang with the known length as it stands.
fn hangs_once(photo: &WornPhoto) -> Result<(Stand, Vec<Hang>), WornError> {
    let taken = Taken {
        roll: 0.0,
        tilt: 0.0,
        distance: photo.distance,
        lens_height: 0.0,
        heels: 0.0,
        upper: 0.0,
        lower: 0.0,
        length: photo.known.length,
        depth: 1.0,
    };
    let stand = stand(photo, &taken)?;
    let steps = steps(photo);
    let moved: Vec<[(Stand, Taken); 2]> = steps
        .iter()
        .map(|step| {
            [1.0, -1.0].map(|way| {
                let mut other = taken;
                step(&mut other, way);
                // A step that no camera could have taken says nothing.
                taken::stand(photo, &other).map_or((stand, taken), |s| (s, other))
            })
        })
        .collect();
    let hangs = photo.lines.iter().map(|line| hang(photo, line, (stand, taken), &moved));
    Ok((stand, hangs.collect::<Result<_, _>>()?))
}

fn hang(
    photo: &WornPhoto,
    line: &TracedLine,
    base: (Stand, Taken),
    moved: &[[(Stand, Taken); 2]],
) -> Result<Hang, WornError> {
    let with = |(stand, taken): &(Stand, Taken), edges| lay_on_body(line, (stand, taken), edges);
    let laid = with(&base, [0.0; 2])?;
    let told = figures_of(&laid);
    let mut others = Vec::new();
    for pair in moved {
        others
            .push([figures_of(&with(&pair[0], [0.0; 2])?), figures_of(&with(&pair[1], [0.0; 2])?)]);
    }
    // An edge may lie further out than where it was traced to, or further in.
    let edge = line.edge_sigma.max(sigma::EDGE);
    for edges in [[edge, 0.0], [0.0, edge]] {
        let outward = with(&base, [-edges[0], -edges[1]]).unwrap_or_else(|_| laid.clone());
        let inward = with(&base, edges).unwrap_or_else(|_| laid.clone());
        others.push([figures_of(&outward), figures_of(&inward)]);
    }
    // Each place is traced with its own mistake, and the drawn line has its own.
    let mistake = line.sigma * laid.mm_per_pixel;
    let rows: Vec<Vec<f64>> = (0..SHARES).map(|i| weights(&laid.shares, share(i))).collect();
    let spread = |row: Vec<f64>| {
        let square: f64 = row.iter().map(|w| w * w).sum();
        (square * mistake * mistake + sigma::LINE * sigma::LINE).sqrt()
    };
    let minus = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a - b).collect::<Vec<f64>>();
    let chord = |t: f64| -> Vec<f64> {
        rows[0].iter().zip(&rows[SHARES - 1]).map(|(a, b)| (1.0 - t) * a + t * b).collect()
    };
    let fall_spread = spread(minus(&rows[0], &rows[SHARES - 1]));
    let last_height = at(&rows[SHARES - 1], &laid.heights);
    let on_body = section(&base.0, line, &base.1);
    let level_at = |place: Point| {
        let x = base.0.sight(place).x;
        let z = on_body.as_ref().map_or(base.1.distance, |s| s.near_side(x));
        base.0.seen(x * z, last_height, z)
    };
    let turned_at = |place: Point| {
        let x = base.0.sight(place).x;
        on_body.as_ref().map_or(1.0, |s| s.turned(x))
    };
    let places: Vec<Point> = (0..SHARES).map(|i| place_of(line, &laid.shares, share(i))).collect();
    let stations = (0..SHARES)
        .map(|i| HangStation {
            share: share(i),
            place: places[i],
            level: level_at(places[i]),
            turned: turned_at(places[i]),
            below_last: within(&told, &others, spread(minus(&rows[i], &rows[SHARES - 1])), |t| {
                t.below_last[i]
            }),
            sag: within(&told, &others, spread(minus(&rows[i], &chord(share(i)))), |t| t.sag[i]),
        })
        .collect();
    let turned = fall_spread / (laid.across / 4.0);
    let flat = figures_of(&LineOnBody { heights: laid.flat.clone(), ..laid.clone() });
    let roundness = (0..SHARES).map(|i| (flat.sag[i] - told.sag[i]).abs()).fold(0.0, f64::max);
    Ok(Hang {
        line: line.name.clone(),
        leg: line.leg,
        view: photo.view,
        stations,
        fall: within(&told, &others, fall_spread, |t| t.below_last[0]),
        slope: within(&told, &others, (fall_spread / laid.across).to_degrees(), |t| t.slope),
        turn: within(&told, &others, turned.to_degrees(), |t| t.turn),
        mm_per_pixel: within(&told, &others, 0.0, |t| t.mm_per_pixel),
        roundness,
        foreshortened: laid.foreshortened,
        depth: on_body.map_or(1.0, |s| s.half_depth / s.half_width),
    })
}

/// The place of a share in the photo.
fn place_of(line: &TracedLine, shares: &[f64], share: f64) -> Point {
    let weights = between(shares, share);
    let sum =
        |of: fn(&Point) -> f64| weights.iter().zip(&line.points).map(|(w, p)| w * of(p)).sum();
    Point::new(sum(|p| p.x), sum(|p| p.y))
}

/// Refuses marks that cannot be.
fn check(photo: &WornPhoto) -> Result<(), WornError> {
    let reason = |what, value: f64, low, high| {
        let fits = value.is_finite() && (low..=high).contains(&value);
        if fits { Ok(()) } else { Err(WornError::OutOfReason { what, value, low, high }) }
    };
    reason("width of the picture, pixels,", photo.size.0, 50.0, 1e5)?;
    reason("height of the picture, pixels,", photo.size.1, 50.0, 1e5)?;
    reason("rows cut off above, pixels,", photo.cut_above, 0.0, 1e5)?;
    reason("distance to the lens, mm,", photo.distance, 700.0, 20_000.0)?;
    reason("known length, mm,", photo.known.length, 30.0, 2000.0)?;
    check_level(&photo.level)?;
    if let Horizon::Floor { lens_height, heels } = photo.horizon {
        reason("height of the lens, mm,", lens_height, 0.0, 3000.0)?;
        reason("place of the heels, pixels,", heels.x + heels.y, -1e6, 1e6)?;
    }
    if (photo.known.upper_at - photo.known.lower_at).hypot() < 20.0 {
        return Err(WornError::TooNear { what: "the known length" });
    }
    for line in &photo.lines {
        reason("girth at a line, mm,", line.girth, 100.0, 3000.0)?;
        reason("sureness of a line, pixels,", line.sigma, 0.0, 50.0)?;
        reason("sureness of its edges, pixels,", line.edge_sigma, 0.0, 50.0)?;
        if line.points.len() < 3 {
            let count = line.points.len();
            return Err(WornError::TooFewPlaces { line: line.name.clone(), count });
        }
        for p in &line.points {
            reason("place on a line, pixels,", p.x, -1e6, 1e6)?;
            reason("place on a line, pixels,", p.y, -1e6, 1e6)?;
        }
        let way = line.points[line.points.len() - 1].x - line.points[0].x;
        let on = line.points.windows(2).all(|p| (p[1].x - p[0].x) * way > 0.0);
        if !on {
            return Err(WornError::NotAlong { line: line.name.clone() });
        }
    }
    Ok(())
}
