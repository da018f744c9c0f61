//! The whole way from photos to a piece.

use super::doubts::{Doubt, doubts as doubts_of};
use super::expect::{CurveOff, expected};
use super::ground::{Ground, KnownPlaces, shared_places, solve_ground};
use super::job::{GrainSeen, Known, TraceJob, point};
use super::join::{OutlinePlace, joined};
use super::outline::stretches;
use super::raised::moved;
use super::view::{CardPhoto, Laying};
use super::whereabouts::whereabouts;
use super::{PhotoError, Picture, SoFar, limits};
use crate::exchange::{Found, Label, Role, Run, Spot, SpotKind, pieces_of};
use hangtrue_adjust::Document;
use hangtrue_geometry::places::{Corner, CornerLook, FitTolerance, curve_through, find_corners};
use hangtrue_geometry::{Affine, Chain, Point, Vec2};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, Piece};
use hangtrue_pattern::{
    words,
    words::{Fine, Length, Words},
};

pub use super::expect::Expected;

/// A card traced. Nothing is changed by it until it is taken into a project.
#[derive(Debug, Clone)]
pub struct Traced {
    /// The piece, grain upright, and no joins: what a project takes in.
    pub pattern: Pattern,
    /// The outline on the table of the first photo, corner to corner, card to the
    /// left, mm.
    pub edges: Vec<Chain>,
    /// From the table of the first photo to the piece, mm.
    pub to_piece: Affine,
    /// The error to expect.
    pub expected: Expected,
    /// Each photo, in the order of the job.
    pub photos: Vec<SolvedPhoto>,
    /// Places that may not be the card's edge: to be looked at before the piece is
    /// taken in.
    pub doubts: Vec<Doubt>,
    /// What the maker should look at.
    pub notes: Vec<Words>,
}

/// One photo of a traced card.
#[derive(Debug, Clone)]
pub struct SolvedPhoto {
    /// The file, as the job names it.
    pub file: String,
    /// Its marks and camera.
    pub ground: Ground,
    /// From its own table to that of the first photo.
    pub to_table: Affine,
}

impl SolvedPhoto {
    /// Where a place of the common table is seen, pixels.
    pub fn sees(&self, table: Point) -> Option<Point> {
        self.ground.camera.to_picture(self.to_table.inverse() * table)
    }
}

impl Traced {
    /// The piece.
    pub fn piece(&self) -> &Piece {
        &self.pattern.pieces[0]
    }

    /// A new project that starts from the piece.
    pub fn document(self, title: &str, client: &str, unit: Unit) -> Document {
        Document::from_pieces(title, client, unit, self.pattern)
    }
}

/// Reads one picture of the job by the name it has there.
pub type ReadPicture<'a> = dyn Fn(&str) -> Result<Picture, PhotoError> + 'a;
/// Is told what is being done, and which part of the whole (0 to 1) is done.
pub type Progress<'a> = dyn Fn(&str, f64) + 'a;

/// Traces the card.
///
/// # Errors
/// [`PhotoError`] for the first photo, mark or stretch of edge that cannot be
/// used, in words.
pub fn trace(
    job: &TraceJob,
    read: &ReadPicture,
    progress: &Progress,
) -> Result<Traced, PhotoError> {
    check_job(job)?;
    let mut notes = Vec::new();
    let mut doubts = Vec::new();
    let views = views(job, read, progress, Some(&mut doubts), &mut notes)?;
    progress("drawing the outline", 0.9);
    let ring = joined(&views, &mut notes)?;
    let placed_corners = placed_corners(&views);
    let drawn = draw(&views, &ring, placed_corners.as_deref(), job.tolerance)
        .map_err(|why| shown(why, job, &views, &ring, None))?;
    let raised = moved(&job.photos, &views, &ring, job.raised);
    let expected = expected(&views, &ring, drawn.off).with(&doubts).and_moved_by(raised);
    if job.raised > 0.0 {
        notes.push(words![
            "A card that stands ",
            (Length(job.raised), 1),
            " above its marks is seen up to ",
            (Length(raised.worst), 1),
            " too large; that is in what is told"
        ]);
    }
    let grain = grain(job, &views)?;
    let to_piece = upright(&drawn.edges, grain);
    let pattern = pattern(job, &drawn.edges, to_piece, grain, &mut notes).map_err(|why| {
        match crossing(&drawn.edges) {
            Some(at) => shown(why, job, &views, &ring, Some(at)),
            None => why,
        }
    })?;
    progress("done", 1.0);
    let photos = solved(job, views);
    Ok(Traced { pattern, edges: drawn.edges, to_piece, expected, photos, doubts, notes })
}

/// Solves the cameras only: what a preview of the marks shows.
///
/// # Errors
/// [`PhotoError`] as [`trace`].
pub fn solve_photos(
    job: &TraceJob,
    read: &ReadPicture,
    progress: &Progress,
) -> Result<Vec<SolvedPhoto>, PhotoError> {
    check_job(job)?;
    let views = views(job, read, progress, None, &mut Vec::new())?;
    Ok(solved(job, views))
}

fn solved(job: &TraceJob, views: Vec<CardPhoto>) -> Vec<SolvedPhoto> {
    let one = |(photo, view): (&super::PhotoJob, CardPhoto)| SolvedPhoto {
        file: photo.file.clone(),
        ground: view.ground,
        to_table: view.laying.to_table,
    };
    job.photos.iter().zip(views).map(one).collect()
}

fn check_job(job: &TraceJob) -> Result<(), PhotoError> {
    if job.photos.is_empty() {
        return Err(PhotoError::Asked("the job names no photo".into()));
    }
    if job.photos.len() > limits::MOST_PHOTOS {
        return Err(PhotoError::Asked(
            format!(
                "the job names {} photos and at most {} are used",
                job.photos.len(),
                limits::MOST_PHOTOS
            )
            .into(),
        ));
    }
    if !(0.0..=limits::MOST_RAISED).contains(&job.raised) {
        return Err(PhotoError::Asked(words![
            "a card that stands ",
            (Length(job.raised), 1),
            " above its marks cannot be used; lay it flat, or give 0 to ",
            (Length(limits::MOST_RAISED), 0)
        ]));
    }
    if !(0.02..=5.0).contains(&job.tolerance) {
        return Err(PhotoError::Asked(words![
            "a tolerance of ",
            Fine(job.tolerance),
            " cannot be used; give ",
            Fine(0.02),
            " to ",
            Fine(5.0)
        ]));
    }
    Ok(())
}

/// All photos on the table of the first, in the order of the job. A photo is
/// solved when it has marks of its own or shares enough with one solved before.
fn views(
    job: &TraceJob,
    read: &ReadPicture,
    progress: &Progress,
    mut doubts: Option<&mut Vec<Doubt>>,
    notes: &mut Vec<Words>,
) -> Result<Vec<CardPhoto>, PhotoError> {
    let alone = job.photos.iter().filter(|p| p.outline != super::OutlineSeen::Nothing).count() == 1;
    let mut known = KnownPlaces::new();
    let mut done: Vec<Option<CardPhoto>> = vec![None; job.photos.len()];
    for count in 0..job.photos.len() {
        let next = next_photo(job, &done, &known)?;
        let photo = &job.photos[next];
        let part = count as f64 / job.photos.len() as f64 * 0.9;
        progress(&format!("reading {}", photo.file), part);
        let picture = read(&photo.file)?;
        progress(&format!("finding the marks of {}", photo.file), part + 0.1);
        let ground = solve_ground(&picture, photo, &known)?;
        let own = shared_places(&picture, photo, &ground.camera)?;
        let laying = laying(job, next, &own, &known, count == 0, notes)?;
        for (name, (place, sigma)) in own {
            known.entry(name).or_insert((laying.to_table * place, sigma));
        }
        notes.extend(ground.notes.iter().map(|n| words![&photo.file, ": ", n.clone()]));
        let edges = if let Some(doubts) = doubts.as_deref_mut() {
            progress(&format!("following the card's edge in {}", photo.file), part + 0.2);
            let edges = stretches(&picture, photo, &ground.camera, alone, notes)?;
            if by_eye(&photo.outline) {
                doubts.extend(doubts_of(&picture, (next, &photo.known), &ground, &edges));
            }
            edges
        } else {
            Vec::new()
        };
        done[next] = Some(CardPhoto::new(ground, laying, edges));
    }
    Ok(done.into_iter().flatten().collect())
}

/// The first photo first, then whichever can be laid on those solved.
fn next_photo(
    job: &TraceJob,
    done: &[Option<CardPhoto>],
    known: &KnownPlaces,
) -> Result<usize, PhotoError> {
    let open = || (0..done.len()).filter(|&i| done[i].is_none());
    if known.is_empty() && done.iter().all(Option::is_none) {
        return Ok(0);
    }
    let shares =
        |i: usize| job.photos[i].shared.iter().filter(|m| known.contains_key(&m.name)).count();
    let needs = |i: usize| if job.photos[i].known == Known::Shared { 4 } else { 2 };
    open().filter(|&i| shares(i) >= needs(i)).max_by_key(|&i| shares(i)).ok_or_else(|| {
        let first = open().next().unwrap_or(0);
        PhotoError::NotJoined {
            why: format!(
                "{} shares {} marks with the other photos and needs {}; mark more that both show",
                job.photos[first].file,
                shares(first),
                needs(first)
            )
            .into(),
        }
    })
}

fn laying(
    job: &TraceJob,
    photo: usize,
    own: &KnownPlaces,
    known: &KnownPlaces,
    first: bool,
    notes: &mut Vec<Words>,
) -> Result<Laying, PhotoError> {
    /// Shared marks further apart than this do not belong together, mm.
    const APART: f64 = 5.0;
    if first || job.photos[photo].known == Known::Shared {
        return Ok(Laying::EXACT);
    }
    let file = &job.photos[photo].file;
    let (laying, worst) = Laying::by_marks(own, known).ok_or_else(|| PhotoError::NotJoined {
        why: words![file, ": the marks it shares with the other photos lie in one place"],
    })?;
    if worst > APART {
        return Err(PhotoError::NotJoined {
            why: words![
                file,
                ": a shared mark lies ",
                Length(worst),
                " from where the other photos have it; check which mark is which, and that nothing was moved between the photos"
            ],
        });
    }
    notes.push(words![
        file,
        ": its shared marks fit those of the other photos within ",
        (Length(worst), 2)
    ]);
    Ok(laying)
}

/// Whether the outline was looked for in the picture: a line placed by hand and
/// taken as it is was looked at already.
fn by_eye(outline: &super::OutlineSeen) -> bool {
    !matches!(outline, super::OutlineSeen::Placed { snap, .. } if *snap == 0.0)
}

/// A refused outline with what was found of it, and where in the photo the fault is.
fn shown(
    why: PhotoError,
    job: &TraceJob,
    views: &[CardPhoto],
    ring: &[OutlinePlace],
    at: Option<Point>,
) -> PhotoError {
    let seen = at.and_then(|at| (0..views.len()).find_map(|i| Some((i, views[i].sees(at, 0.0)?))));
    let photo = seen.map_or_else(|| ring.first().map_or(0, |p| p.photo), |s| s.0);
    let Some(file) = job.photos.get(photo).map(|p| p.file.clone()) else { return why };
    let line = ring.iter().filter(|p| p.photo == photo).map(|p| (p.on.seen.x, p.on.seen.y));
    let found = SoFar { line: line.collect(), fault: seen.map(|s| (s.1.x, s.1.y)) };
    let why = match seen {
        Some((i, at)) => {
            let frame = views[i].ground.camera.frame();
            words![
                "it crosses itself ",
                whereabouts(at, (frame.width, frame.height)),
                "; see whether something lies over the card's edge there or touches it, or place the points by hand"
            ]
        }
        None => Words::why(why),
    };
    PhotoError::Outline { photo: file, why, found: Box::new(found) }
}

/// Where an outline crosses itself, mm; looked for in short steps.
fn crossing(edges: &[Chain]) -> Option<Point> {
    const STEP: f64 = 1.5;
    let line: Vec<Point> = edges
        .iter()
        .flat_map(|e| {
            let count = (e.length() / STEP).ceil().clamp(1.0, 4000.0) as usize;
            (0..count).map(move |i| e.point_at(e.length() * i as f64 / count as f64))
        })
        .collect();
    let n = line.len();
    let side = |a: Point, b: Point, p: Point| (b - a).cross(p - a);
    for i in 0..n {
        let (a, b) = (line[i], line[(i + 1) % n]);
        for k in i + 2..n {
            let (c, d) = (line[k], line[(k + 1) % n]);
            let apart = a.x.max(b.x) < c.x.min(d.x) || c.x.max(d.x) < a.x.min(b.x);
            if apart || (k + 1) % n == i {
                continue;
            }
            let (p, q) = (side(a, b, c), side(a, b, d));
            if p * q < 0.0 && side(c, d, a) * side(c, d, b) < 0.0 {
                return Some(c.lerp(d, p / (p - q)));
            }
        }
    }
    None
}

fn placed_corners(views: &[CardPhoto]) -> Option<Vec<Point>> {
    let all: Vec<Point> = views
        .iter()
        .flat_map(|v| &v.stretches)
        .filter_map(|s| s.corners.clone())
        .flatten()
        .collect();
    (!all.is_empty()).then_some(all)
}

/// The least turn that is taken for a corner without being placed by hand,
/// radians (20°).
const SHARP: f64 = 20.0 * std::f64::consts::PI / 180.0;
/// The same near a corner placed by hand (12°).
const SHARP_BY_HAND: f64 = 12.0 * std::f64::consts::PI / 180.0;

struct Drawn {
    edges: Vec<Chain>,
    off: CurveOff,
}

/// The outline as curves from corner to corner.
fn draw(
    views: &[CardPhoto],
    ring: &[OutlinePlace],
    corners: Option<&[Point]>,
    tolerance: f64,
) -> Result<Drawn, PhotoError> {
    let places: Vec<Point> = ring.iter().map(|p| p.on.at).collect();
    if places.len() < 40 {
        return Err(PhotoError::Asked(
            "the outline is too short to be a piece; point at the card, or place more points"
                .into(),
        ));
    }
    let pixel = millimetres_per_pixel(views, ring);
    let gap = (3.3 * pixel).clamp(1.0, 8.0);
    let look = CornerLook { turn: SHARP, arm: gap + 20.0, gap };
    let corners = match corners {
        None => find_corners(&places, true, look),
        Some(asked) => nearest_corners(&places, asked, look),
    };
    let window = (14.0 * pixel).clamp(6.0, 20.0);
    let fit = FitTolerance { within: tolerance, window };
    let mut drawn = Drawn { edges: Vec::new(), off: CurveOff::default() };
    let mut scatter: f64 = 0.0;
    for run in runs(&places, &corners, gap) {
        let fitted = curve_through(&run, fit)?;
        drawn.off.off = drawn.off.off.max(fitted.off);
        let left = fitted.scatter.powi(2) / fitted.together.max(1.0);
        scatter += left * run.len() as f64;
        drawn.edges.push(fitted.chain);
    }
    drawn.off.left = (scatter / places.len() as f64).sqrt();
    Ok(drawn)
}

fn millimetres_per_pixel(views: &[CardPhoto], ring: &[OutlinePlace]) -> f64 {
    let of = |p: &OutlinePlace| {
        let camera = &views[p.photo].ground.camera;
        Some(1.0 / camera.scale_at(camera.to_plane(p.on.seen)?)?)
    };
    let mut all: Vec<f64> = ring.iter().step_by(20).filter_map(of).collect();
    crate::median::median(&mut all).unwrap_or(1.0)
}

/// Corners placed by hand: where the edge turns near them, else as placed.
fn nearest_corners(places: &[Point], asked: &[Point], look: CornerLook) -> Vec<Corner> {
    let keen = CornerLook { turn: SHARP_BY_HAND, ..look };
    let turns = find_corners(places, true, keen);
    let mut corners: Vec<Corner> = asked
        .iter()
        .filter_map(|a| {
            let near = turns.iter().filter(|c| c.at.distance(*a) <= 2.0 * look.arm);
            let turning = near.min_by(|x, y| x.at.distance(*a).total_cmp(&y.at.distance(*a)));
            turning.copied().or_else(|| {
                let index = (0..places.len())
                    .min_by(|&i, &k| places[i].distance(*a).total_cmp(&places[k].distance(*a)))?;
                let n = places.len();
                let way = places[(index + 4) % n] - places[(index + n - 4) % n];
                let way = if way.hypot() > 0.0 { way.normalize() } else { Vec2::new(1.0, 0.0) };
                Some(Corner { index, at: places[index], turn: 0.0, arrives: way, leaves: way })
            })
        })
        .collect();
    corners.sort_by_key(|c| c.index);
    corners.dedup_by_key(|c| c.index);
    corners
}

/// The places from corner to corner, the corners themselves at the ends and what
/// the picture rounds next to them left out.
fn runs(places: &[Point], corners: &[Corner], gap: f64) -> Vec<Vec<Point>> {
    let n = places.len();
    if corners.is_empty() {
        // Smooth all round: one run that ends where it starts is cut in two.
        let half = |from: usize, to: usize| (from..=to).map(|i| places[i % n]).collect();
        return vec![half(0, n / 2), half(n / 2, n)];
    }
    let count = corners.len();
    (0..count)
        .map(|k| {
            let (a, b) = (corners[k], corners[(k + 1) % count]);
            let last = if k + 1 == count { b.index + n } else { b.index };
            let mut run = vec![a.at];
            let mine = |p: &Point| {
                let clear = |c: &Corner| p.distance(c.at) > gap;
                let near = |c: &Corner| p.distance(c.at) < 6.0 * gap;
                clear(&a)
                    && clear(&b)
                    && (!near(&a) || a.is_after(*p) || near(&b))
                    && (!near(&b) || !b.is_after(*p) || near(&a))
            };
            // A corner's index may be a few places off where places are missing.
            let first = (a.index + n).saturating_sub(4);
            run.extend((first..=last + n + 4).map(|i| places[i % n]).filter(mine));
            run.push(b.at);
            run
        })
        .collect()
}

/// The ends of the grainline on the common table.
fn grain(job: &TraceJob, views: &[CardPhoto]) -> Result<Option<(Point, Point)>, PhotoError> {
    let Some(GrainSeen { photo, from, to }) = job.grain else { return Ok(None) };
    let lost = || {
        PhotoError::Asked(
            "the grainline cannot be used: give two places at least 20 mm apart on a photo of the job, the lower end first".into(),
        )
    };
    let view = views.get(photo).ok_or_else(lost)?;
    let lay = |p| view.ground.camera.to_plane(point(p)).map(|p| view.laying.to_table * p);
    let (a, b) = (lay(from).ok_or_else(lost)?, lay(to).ok_or_else(lost)?);
    if a.distance(b) < 20.0 { Err(lost()) } else { Ok(Some((a, b))) }
}

/// The move that lays the outline with its grain upright, its lower left at 0, 0.
fn upright(edges: &[Chain], grain: Option<(Point, Point)>) -> Affine {
    let turn = grain.map_or(0.0, |(a, b)| {
        let v: Vec2 = b - a;
        std::f64::consts::FRAC_PI_2 - v.atan2()
    });
    let upright = Affine::rotate(turn);
    let turned = edges.iter().map(|e| e.moved(upright).bounds());
    let bounds = turned.reduce(|a, b| a.union(b)).unwrap_or_default();
    Affine::translate((-bounds.x0, -bounds.y0)) * upright
}

/// The piece as a pattern, laid upright.
fn pattern(
    job: &TraceJob,
    edges: &[Chain],
    lay: Affine,
    grain: Option<(Point, Point)>,
    notes: &mut Vec<Words>,
) -> Result<Pattern, PhotoError> {
    let mut segments = Vec::new();
    let mut turns = Vec::new();
    for edge in edges.iter().map(|e| e.moved(lay)) {
        turns.push(edge.start());
        segments.extend_from_slice(edge.segments());
    }
    let run =
        |chain, role| Run { chain, role, name: String::new(), group: String::new(), seams: None };
    let spot = |at| Spot { at, kind: SpotKind::Turn, group: String::new() };
    let mut found = Found {
        runs: vec![run(Chain::new(segments)?, Role::Sew)],
        spots: turns.into_iter().map(spot).collect(),
        unit: Some(1.0),
        ..Found::default()
    };
    if let Some((a, b)) = grain {
        found.runs.push(run(Chain::line(lay * a, lay * b), Role::Grain));
    }
    if !job.piece.trim().is_empty() {
        let text = format!("piece name: {}", job.piece.trim());
        let at = found.runs[0].chain.bounds().center();
        found.labels.push(Label { text, at, group: String::new() });
    }
    let (mut pattern, _) =
        pieces_of(&mut found).map_err(|why| PhotoError::Asked(why.to_string().into()))?;
    notes.append(&mut found.notes);
    if let Some(piece) = pattern.pieces.first_mut() {
        rename(piece, &job.seams)?;
    }
    if !job.seams.is_empty() {
        pattern.joins.clear();
    }
    pattern.check()?;
    Ok(pattern)
}

pub(super) fn rename(piece: &mut Piece, names: &[String]) -> Result<(), PhotoError> {
    if names.is_empty() {
        return Ok(());
    }
    if names.len() != piece.seams.len() {
        let there: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
        return Err(PhotoError::Asked(
            format!(
                "{} names for {} seams; the piece has, in this order: {}",
                names.len(),
                there.len(),
                there.join(", ")
            )
            .into(),
        ));
    }
    for (seam, name) in piece.seams.iter_mut().zip(names) {
        seam.name = name.trim().to_owned();
    }
    Ok(())
}

/// Reads a picture from bytes and looks for a card in its middle and a mark in a
/// corner: all a stranger's file can reach. For the fuzzer and for tests.
///
/// # Errors
/// [`PhotoError`] when the bytes are no picture that is read.
pub fn read_and_look(bytes: &[u8]) -> Result<(usize, usize), PhotoError> {
    let picture = Picture::from_bytes(bytes)?;
    let middle = picture.frame().centre();
    let look = super::MarkLook::Crossing;
    // Whether anything is found does not matter here.
    let _ = super::find_mark(&picture, look, Point::new(20.0, 20.0), 8.0);
    let _ = super::card::find_card(&picture, middle);
    Ok((picture.width(), picture.height()))
}
