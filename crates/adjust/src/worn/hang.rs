//! How far the traced lines hang from level, with how sure that is.

use super::stand::check_level;
use super::{Horizon, LegSeen, Level, Section, Stand, TracedLine, View, WornError, WornPhoto};
use hangtrue_geometry::{Point, bracketed_root};
use hangtrue_pattern::{
    words,
    words::{Length, Words},
};
use nalgebra::{Matrix3, Vector3};
use serde::Serialize;

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

/// What the maker can be wrong by, one standard deviation each. Our own
/// estimates; no published source.
mod sigma {
    /// A click, pixels.
    pub const CLICK: f64 = 2.0;
    /// No edge of a body is surer than this, pixels.
    pub const EDGE: f64 = 0.4;
    /// The camera's own level and its looking straight ahead, radians.
    pub const CAMERA_LEVEL: f64 = 0.0175;
    pub const STRAIGHT_AHEAD: f64 = 0.026;
    /// Distance from the lens to the middle of the body, share.
    pub const DISTANCE: f64 = 0.02;
    /// Height of the lens, mm.
    pub const LENS_HEIGHT: f64 = 15.0;
    /// The heels stand before or behind the middle of the body, mm.
    pub const HEELS: f64 = 25.0;
    /// A length along the grain, worn: share (folds, stretch, slant).
    pub const LENGTH: f64 = 0.015;
    /// The depth of a body that is no true ellipse, share.
    pub const DEPTH: f64 = 0.1;
    /// A drawn line's own width and the cloth's small waves, mm.
    pub const LINE: f64 = 0.4;
}

/// Everything that is not sure, as it is taken.
#[derive(Debug, Clone, Copy)]
struct Taken {
    roll: f64,
    tilt: f64,
    distance: f64,
    lens_height: f64,
    heels: f64,
    upper: f64,
    lower: f64,
    length: f64,
    depth: f64,
}

/// A change of [`Taken`] by one standard deviation.
type Step = Box<dyn Fn(&mut Taken, f64)>;

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
                self::stand(photo, &other).map_or((stand, taken), |s| (s, other))
            })
        })
        .collect();
    let hangs = photo.lines.iter().map(|line| hang(photo, line, (stand, taken), &moved));
    Ok((stand, hangs.collect::<Result<_, _>>()?))
}

/// The things that may be wrong in this photo.
fn steps(photo: &WornPhoto) -> Vec<Step> {
    let click_roll = |a: Point, b: Point| sigma::CLICK * std::f64::consts::SQRT_2 / (b - a).hypot();
    let roll = match photo.level {
        Level::Plumb(a, b) | Level::Floor(a, b) => click_roll(a, b),
        Level::Camera => sigma::CAMERA_LEVEL,
    };
    let sure = |name: &(String, LegSeen)| {
        photo.line(&name.0, name.1).map_or(sigma::CLICK, |l| l.sigma.max(1.0))
    };
    let (upper, lower) = (sure(&photo.known.upper), sure(&photo.known.lower));
    let distance = photo.distance * sigma::DISTANCE;
    let length = photo.known.length * sigma::LENGTH;
    let mut steps: Vec<Step> = vec![
        Box::new(move |t, way| t.roll += way * roll),
        Box::new(move |t, way| t.distance += way * distance),
        Box::new(move |t, way| t.length += way * length),
        Box::new(move |t, way| t.upper += way * upper),
        Box::new(move |t, way| t.lower += way * lower),
        Box::new(|t, way| t.depth += way * sigma::DEPTH),
    ];
    match photo.horizon {
        Horizon::Middle => steps.push(Box::new(|t, way| t.tilt += way * sigma::STRAIGHT_AHEAD)),
        Horizon::Floor { .. } => {
            steps.push(Box::new(|t, way| t.lens_height += way * sigma::LENS_HEIGHT));
            steps.push(Box::new(|t, way| t.heels += way * sigma::HEELS));
        }
    }
    steps
}

/// The photo with what is taken in place of what was marked.
fn as_taken(photo: &WornPhoto, taken: &Taken) -> WornPhoto {
    let mut other = photo.clone();
    other.distance = taken.distance;
    if let Horizon::Floor { lens_height, heels } = photo.horizon {
        // The heels stand off the middle: their sight belongs to another distance.
        let off = taken.distance / (taken.distance + taken.heels);
        let lens_height = (lens_height + taken.lens_height) * off;
        other.horizon = Horizon::Floor { lens_height, heels };
    }
    other.known.length = taken.length;
    other.known.upper_at.y += taken.upper;
    other.known.lower_at.y += taken.lower;
    other
}

/// Focal lengths tried, as shares of what they would be were the body flat and the
/// camera level.
const FOCAL: (f64, f64) = (0.6, 1.6);

/// The camera that sees the known length as long as it is.
fn stand(photo: &WornPhoto, taken: &Taken) -> Result<Stand, WornError> {
    let photo = as_taken(photo, taken);
    let ends =
        [(&photo.known.upper, photo.known.upper_at), (&photo.known.lower, photo.known.lower_at)];
    let ends: Vec<(&TracedLine, Point)> = ends
        .into_iter()
        .map(|(name, at)| {
            let line = photo.line(&name.0, name.1);
            line.map(|l| (l, at)).ok_or_else(|| WornError::LineNotTraced { line: name.0.clone() })
        })
        .collect::<Result<_, _>>()?;
    let with = |focal: f64| Stand::new(&photo, focal, taken.roll, taken.tilt);
    let apart = |focal: f64| {
        let stand = with(focal);
        let heights: Vec<f64> = ends
            .iter()
            .map(|(line, at)| {
                height(&stand, section(&stand, line, taken).as_ref(), photo.distance, *at)
            })
            .collect();
        heights[0] - heights[1] - photo.known.length
    };
    let seen = photo.known.lower_at.y - photo.known.upper_at.y;
    let flat = seen * photo.distance / photo.known.length;
    let no_scale = || WornError::NoScale {
        distance: Length(photo.distance),
        length: Length(photo.known.length),
    };
    if flat <= 0.0 {
        return Err(no_scale());
    }
    let (low, high) = (FOCAL.0 * flat, FOCAL.1 * flat);
    bracketed_root(apart, low, high, 1e-6).map(with).map_err(|_| no_scale())
}

/// The body at a line; None when no ellipse is that wide and that little round.
fn section(stand: &Stand, line: &TracedLine, taken: &Taken) -> Option<Section> {
    let (first, last) = (line.points.first()?, line.points.last()?);
    let (a, b) = (stand.sight(*first).x, stand.sight(*last).x);
    let mut section = Section::seen_between(a.min(b), a.max(b), taken.distance, line.girth)?;
    section.half_depth *= taken.depth;
    Some(section)
}

/// The height of a place on a section, mm above the lens. Without a section (the
/// search for the scale is still far off) it is taken at the body's middle.
fn height(stand: &Stand, section: Option<&Section>, distance: f64, place: Point) -> f64 {
    let sight = stand.sight(place);
    sight.y * section.map_or(distance, |s| s.near_side(sight.x))
}

/// What is told of a line, in one row, so that it can be told again with
/// something else taken.
struct Told {
    below_last: [f64; SHARES],
    sag: [f64; SHARES],
    slope: f64,
    turn: f64,
    mm_per_pixel: f64,
}

/// A line laid on the body.
#[derive(Clone)]
struct Laid {
    /// Share of the seen length of each place, from 0 to 1.
    shares: Vec<f64>,
    /// Their heights, mm.
    heights: Vec<f64>,
    /// The same if the body were flat, mm.
    flat: Vec<f64>,
    /// The straight way between the edges, level, mm.
    across: f64,
    mm_per_pixel: f64,
    foreshortened: f64,
}

fn lay(
    line: &TracedLine,
    (stand, taken): (&Stand, &Taken),
    edges: [f64; 2],
) -> Result<Laid, WornError> {
    let mut line = line.clone();
    let last = line.points.len() - 1;
    // The edges are moved along the line, so that only what they say of the
    // body's width changes.
    for (end, next, by) in [(0, 1, edges[0]), (last, last - 1, edges[1])] {
        let along = line.points[next] - line.points[end];
        let along = along / along.hypot().max(1e-9);
        line.points[end] += along * by;
    }
    let section = section(stand, &line, taken).ok_or_else(|| {
        let sights = [0, last].map(|i| stand.sight(line.points[i]).x);
        let width = (sights[1] - sights[0]).abs() * taken.distance;
        WornError::WiderThanRound {
            line: line.name.clone(),
            width: Length(width),
            girth: Length(line.girth),
        }
    })?;
    let near = section.away - section.half_depth;
    let sights: Vec<_> = line.points.iter().map(|p| stand.sight(*p)).collect();
    let away: Vec<f64> = sights.iter().map(|s| section.near_side(s.x)).collect();
    let level: Vec<(f64, f64)> = sights.iter().zip(&away).map(|(s, z)| (s.x * z, *z)).collect();
    let mut run = vec![0.0];
    let mut foreshortened: f64 = 1.0;
    for pair in level.windows(2) {
        let (dx, dz) = (pair[1].0 - pair[0].0, pair[1].1 - pair[0].1);
        run.push(run[run.len() - 1] + dx.hypot(dz));
        foreshortened = foreshortened.max(dx.hypot(dz) / dx.abs().max(1e-9));
    }
    let whole = run[last];
    let mut shares: Vec<f64> = run.iter().map(|r| r / whole).collect();
    shares[last] = 1.0;
    Ok(Laid {
        shares,
        heights: sights.iter().zip(&away).map(|(s, z)| s.y * z).collect(),
        flat: sights.iter().map(|s| s.y * near).collect(),
        across: (level[last].0 - level[0].0).hypot(level[last].1 - level[0].1),
        mm_per_pixel: near / stand.focal,
        foreshortened,
    })
}

/// Places taken together for one share lie within this share of it; more at the
/// edges, which are read from the places beside them.
const TOGETHER: f64 = 0.08;
const AT_EDGES: f64 = 0.16;

/// So near an edge, in shares, the cloth is seen too slantwise to be read.
const SLANT: f64 = 0.03;

/// With fewer places than this a share is taken between its neighbours.
const ENOUGH: usize = 8;

/// The value at a share as weights of the places: of the parabola through the near
/// places (least squares) when there are enough, else between the two neighbours.
fn weights(shares: &[f64], at: f64) -> Vec<f64> {
    let mut weights = vec![0.0; shares.len()];
    let reach = if at <= SLANT || at >= 1.0 - SLANT { AT_EDGES } else { TOGETHER };
    let seen = |s: f64| (s - at).abs() <= reach && s > SLANT && s < 1.0 - SLANT;
    let near: Vec<usize> = (0..shares.len()).filter(|i| seen(shares[*i])).collect();
    let row = |i: usize| {
        let x = (shares[i] - at) / reach;
        Vector3::new(1.0, x, x * x)
    };
    let square: Matrix3<f64> = near.iter().map(|i| row(*i) * row(*i).transpose()).sum();
    match square.try_inverse() {
        Some(inverse) if near.len() >= ENOUGH => {
            for i in near {
                weights[i] = (inverse * row(i)).x;
            }
            weights
        }
        _ => between(shares, at),
    }
}

/// The value at a share as weights of its two neighbours.
fn between(shares: &[f64], at: f64) -> Vec<f64> {
    let mut weights = vec![0.0; shares.len()];
    let after = shares.partition_point(|s| *s < at).clamp(1, shares.len() - 1);
    let (a, b) = (shares[after - 1], shares[after]);
    let t = ((at - a) / (b - a).max(1e-12)).clamp(0.0, 1.0);
    weights[after - 1] = 1.0 - t;
    weights[after] += t;
    weights
}

fn share(i: usize) -> f64 {
    i as f64 / (SHARES as f64 - 1.0)
}

fn at(weights: &[f64], values: &[f64]) -> f64 {
    weights.iter().zip(values).map(|(w, v)| w * v).sum()
}

/// Shares between which the slopes on both sides of the middle are taken.
const HALVES: [(usize, usize); 2] = [(1, SHARES / 2), (SHARES / 2, SHARES - 2)];

fn tell(laid: &Laid) -> Told {
    let told: Vec<f64> =
        (0..SHARES).map(|i| at(&weights(&laid.shares, share(i)), &laid.heights)).collect();
    let (first, last) = (told[0], told[SHARES - 1]);
    let mut below_last = [0.0; SHARES];
    let mut sag = [0.0; SHARES];
    for i in 0..SHARES {
        below_last[i] = last - told[i];
        sag[i] = first + share(i) * (last - first) - told[i];
    }
    // The slope is told against the way along the line, as far as it goes across.
    let slopes = HALVES.map(|(a, b)| (told[b] - told[a]) / ((share(b) - share(a)) * laid.across));
    Told {
        below_last,
        sag,
        slope: (last - first).atan2(laid.across).to_degrees(),
        turn: (slopes[1].atan() - slopes[0].atan()).to_degrees(),
        mm_per_pixel: laid.mm_per_pixel,
    }
}

/// Adds up what each unsure thing does to one told value: two standard deviations.
fn within(base: &Told, others: &[[Told; 2]], traced: f64, of: impl Fn(&Told) -> f64) -> Within {
    let squares: f64 = others.iter().map(|[up, down]| ((of(up) - of(down)) / 2.0).powi(2)).sum();
    Within { value: of(base), error: 2.0 * (squares + traced * traced).sqrt() }
}

fn hang(
    photo: &WornPhoto,
    line: &TracedLine,
    base: (Stand, Taken),
    moved: &[[(Stand, Taken); 2]],
) -> Result<Hang, WornError> {
    let with = |(stand, taken): &(Stand, Taken), edges| lay(line, (stand, taken), edges);
    let laid = with(&base, [0.0; 2])?;
    let told = tell(&laid);
    let mut others = Vec::new();
    for pair in moved {
        others.push([tell(&with(&pair[0], [0.0; 2])?), tell(&with(&pair[1], [0.0; 2])?)]);
    }
    // An edge may lie further out than where it was traced to, or further in.
    let edge = line.edge_sigma.max(sigma::EDGE);
    for edges in [[edge, 0.0], [0.0, edge]] {
        let outward = with(&base, [-edges[0], -edges[1]]).unwrap_or_else(|_| laid.clone());
        let inward = with(&base, edges).unwrap_or_else(|_| laid.clone());
        others.push([tell(&outward), tell(&inward)]);
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
    let flat = tell(&Laid { heights: laid.flat.clone(), ..laid.clone() });
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
