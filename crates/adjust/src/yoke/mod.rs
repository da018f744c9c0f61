//! A back in two along the line of its yoke: the yoke, whose darts are closed, and the back
//! that hangs from it. The fitted back stays whole; this is made from it whenever it is cut.
//!
//! The seam between them is straight when the darts are closed. What of a dart lies below it
//! goes to the side seam; a dart that ends above it is drawn on to it. Both are told, and
//! refused where they would be too much. Common practice, no published source; the limits
//! are ours.

mod below;

use crate::ChangeError;
use below::{Below, hung_below};
use hangtrue_geometry::words;
use hangtrue_geometry::words::{Length, Words};
use hangtrue_geometry::{Affine, Chain, Line, Point, Vec2, angle_between};
use hangtrue_pattern::names::{CROTCH, SIDE, WAIST, WAIST_CENTRE, YOKE, is_pleat};
use hangtrue_pattern::{InnerLine, Piece, Seam};

/// The seam of a yoke lies so far from waist and crotch point at the least, mm.
const LEAST_DEPTH: f64 = 20.0;
/// A yoke takes no more than this part of the centre seam.
const MOST_OF_CENTRE: f64 = 0.6;
/// And no more than this of the side seam's way to the hip: below it what the side takes of
/// the darts runs out.
const MOST_OF_SIDE: f64 = 0.65;
/// What is left of all darts below a yoke is no more than this, mm: the side seam of the back
/// takes it.
const MOST_LEFT: f64 = 20.0;
/// A dart that is drawn on to the yoke's line takes in no more than this where it ended, mm.
const MOST_MORE: f64 = 6.0;
/// A dart ends on the line where what is left of it is less than this part of it.
const ON_LINE: f64 = 1e-9;
/// So often the darts are drawn on to a line that moves with them.
const ROUNDS: usize = 200;

/// How far below the waist the line of a yoke lies, along the two seams, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YokeDepths {
    /// Along the centre seam.
    pub centre: f64,
    /// Along the side seam.
    pub side: f64,
}

impl YokeDepths {
    /// Of the line that is drawn on a piece; none where there is none.
    pub fn of(piece: &Piece) -> Option<Self> {
        let line = &piece.inner.iter().find(|line| line.name == YOKE)?.chain;
        let (centre, side) = (piece.seam(CROTCH).ok()?, piece.seam(SIDE).ok()?);
        let (a, b) = (line.start(), line.end());
        let starts_at_side = side.nearest(a).1 <= side.nearest(b).1;
        let (at_side, at_centre) = if starts_at_side { (a, b) } else { (b, a) };
        Some(Self {
            centre: centre.nearest(at_centre).0.position,
            side: side.sewn_length() - side.nearest(at_side).0.position,
        })
    }
}

/// A back in two. The yoke lies as its centre lies on the back, its darts closed. Mm.
#[derive(Debug, Clone)]
pub struct Yoke {
    /// How far below the waist it ends.
    pub depths: YokeDepths,
    /// Its waist, from the side to the centre.
    pub waist: Chain,
    /// Its centre, from the waist down.
    pub centre: Chain,
    /// Its lower edge, from the centre to the side.
    pub seam: Chain,
    /// Its side, up to the waist.
    pub side: Chain,
    /// Places matched along the lower edge: name and distance from the side.
    pub matched: Vec<(String, f64)>,
    /// The back that hangs from it; its upper edge runs from the side to the centre.
    pub below: Piece,
    /// The back as the yoke is sewn to it: waist, centre and side seam are whole, in the
    /// place where the yoke lies. It is no piece that lies flat.
    pub as_sewn: Piece,
    /// The line on the whole flat back, from the side to the centre.
    pub on_paper: InnerLine,
    /// What the maker is told.
    pub notes: Vec<Words>,
}

/// The back in two along the line drawn on it; none where none is drawn.
///
/// # Errors
/// As [`yoke_at`].
pub fn yoke_of(piece: &Piece) -> Result<Option<Yoke>, ChangeError> {
    YokeDepths::of(piece).map(|depths| yoke_at(piece, depths)).transpose()
}

/// The back in two so far below its waist.
///
/// # Errors
/// [`ChangeError`] where it has no waist between side and centre seam, the depths are out of
/// reach, or too much of a dart is left below the line or wanting above it.
pub fn yoke_at(piece: &Piece, depths: YokeDepths) -> Result<Yoke, ChangeError> {
    let waist = runs_from_side(piece)?;
    check_depths(piece, depths)?;
    let (laid, notes_drawn_on) = drawn_on(piece, waist.clone(), depths)?;
    laid.check_left(piece)?;
    let parts = laid.edges_below()?;
    let Below { piece: below, left } = hung_below(piece, depths, &laid, parts.clone())?;
    let mut notes = notes_drawn_on;
    if left > TOLD {
        notes.push(words![
            "Of the darts ",
            Length(left),
            " is left below the yoke: the side seam of the back takes it, from there to nothing at the hip line."
        ]);
    }
    let wrong = |what: &str| ChangeError::geometry(format!("{what} of the yoke"));
    let side = piece.seam(SIDE)?.edge().map_err(wrong("drawing the side"))?;
    let whole = side.length();
    let centre = piece.seam(CROTCH)?.edge().map_err(wrong("drawing the centre"))?;
    let centre = centre.part(0.0, depths.centre).map_err(wrong("drawing the centre"))?;
    let side = side.part(whole - depths.side, whole).map_err(wrong("drawing the side"))?;
    let upper = laid.waist_closed()?;
    let side = side.moved(laid.moves[0]).with_ends(laid.from, upper.start());
    let yoke = (upper, centre.with_ends(centre.start(), laid.to), laid.seam(), side);
    let as_sewn = as_sewn(piece, &yoke, &below)?;
    Ok(Yoke {
        depths,
        matched: laid.matched(),
        on_paper: on_paper(&parts)?,
        waist: yoke.0,
        centre: yoke.1,
        seam: yoke.2,
        side: yoke.3,
        below,
        as_sewn,
        notes,
    })
}

/// Less than this that is left of darts is not told, mm.
const TOLD: f64 = 0.5;

/// The waist of a back whose outline runs from the side over the waist to the centre.
fn runs_from_side(piece: &Piece) -> Result<&Seam, ChangeError> {
    let no_yoke = |why: &str| ChangeError::NoYoke { piece: piece.name.clone(), why: why.into() };
    let index = piece.seam_index(WAIST)?;
    let (waist, count) = (&piece.seams[index], piece.seams.len());
    let beside = |by: usize| piece.seams[(index + by) % count].name.as_str();
    if waist.starts_at == WAIST_CENTRE || beside(1) != CROTCH || beside(count - 1) != SIDE {
        return Err(no_yoke(
            "its outline does not run from the side seam over the waist to the crotch seam; turn the piece over where it was brought in",
        ));
    }
    if waist.darts.iter().any(|dart| is_pleat(&dart.name)) {
        return Err(no_yoke("a pleat in its waist is not sewn down; take the pleat out"));
    }
    Ok(waist)
}

fn check_depths(piece: &Piece, depths: YokeDepths) -> Result<(), ChangeError> {
    let (centre, side) = (piece.seam(CROTCH)?, piece.seam(SIDE)?);
    let hip =
        piece.notches.iter().find(|n| n.name == hangtrue_pattern::names::HIP && n.seam == SIDE);
    let to_hip = hip.map_or(0.3 * side.sewn_length(), |hip| {
        side.sewn_length() - side.place(hip.from, hip.distance).position
    });
    for (asked, most, where_) in [
        (depths.centre, MOST_OF_CENTRE * centre.sewn_length(), "centre back"),
        (depths.side, MOST_OF_SIDE * to_hip, "side"),
    ] {
        if !(LEAST_DEPTH..=most).contains(&asked) {
            return Err(ChangeError::OutOfReach {
                what: format!("the depth of the yoke at the {where_} of the {}", piece.name),
                asked: Length(asked),
                low: Length(LEAST_DEPTH),
                high: Length(most),
            });
        }
    }
    Ok(())
}

/// A waist with its darts closed, in the place where the centre lies flat, and the line of
/// the yoke across it.
struct ClosedWaist {
    waist: Seam,
    /// The moves that close the darts, the centre held.
    moves: Vec<Affine>,
    /// The line's ends at the side and at the centre.
    from: Point,
    to: Point,
    /// Where the line meets each dart's fold, and how far down the dart that is: 1 its point.
    met: Vec<(Point, f64)>,
}

impl ClosedWaist {
    fn of(piece: &Piece, waist: Seam, depths: YokeDepths) -> Result<Self, ChangeError> {
        let (centre, side) = (piece.seam(CROTCH)?, piece.seam(SIDE)?);
        let moves = waist.closing_moves();
        let hold = moves[moves.len() - 1].inverse();
        let moves: Vec<Affine> = moves.into_iter().map(|closing| hold * closing).collect();
        let at_side = side.place(hangtrue_pattern::End::End, depths.side).point;
        let from = moves[0] * at_side;
        let to = centre.place(hangtrue_pattern::End::Start, depths.centre).point;
        let line = Line::new(from, to);
        let mut met = Vec::with_capacity(waist.darts.len());
        for (index, dart) in waist.darts.iter().enumerate() {
            let mouth = moves[index] * waist.parts[index].end();
            let fold = Line::new(mouth, moves[index] * dart.apex);
            let at = line.crossing_point(fold).ok_or_else(|| ChangeError::NoYoke {
                piece: piece.name.clone(),
                why: format!("its line does not meet the {}; change its depths", dart.name),
            })?;
            let along = fold.p1 - fold.p0;
            met.push((at, (at - mouth).dot(along) / along.hypot2()));
        }
        Ok(Self { waist, moves, from, to, met })
    }

    /// What is left of a dart at the line, mm.
    fn left(&self, index: usize) -> f64 {
        (self.waist.intake(index) * (1.0 - self.met[index].1)).max(0.0)
    }

    /// Refuses a line that misses a dart between waist and point, or leaves too much of all.
    fn check_left(&self, piece: &Piece) -> Result<(), ChangeError> {
        let whole = self.to - self.from;
        let mut before = 0.0;
        for (index, dart) in self.waist.darts.iter().enumerate() {
            let (at, down) = self.met[index];
            let along = (at - self.from).dot(whole) / whole.hypot2();
            if down <= 0.0 || along <= before || along >= 1.0 {
                return Err(ChangeError::NoYoke {
                    piece: piece.name.clone(),
                    why: format!("its line does not cross the {}; change its depths", dart.name),
                });
            }
            before = along;
        }
        let count = self.waist.darts.len();
        let left: f64 = (0..count).map(|index| self.left(index)).sum();
        if left <= MOST_LEFT {
            return Ok(());
        }
        let most = (0..count).max_by(|a, b| self.left(*a).total_cmp(&self.left(*b)));
        let Some(index) = most else { return Ok(()) };
        let leg = self.waist.leg_lengths(index).0;
        Err(ChangeError::YokeTooShallow {
            piece: piece.name.clone(),
            dart: self.waist.darts[index].name.clone(),
            below: Length(leg * (1.0 - self.met[index].1)),
            left: Length(left),
            most: Length(MOST_LEFT),
        })
    }

    /// The waist with its darts closed.
    fn waist_closed(&self) -> Result<Chain, ChangeError> {
        let mut parts = self.waist.parts.iter().zip(&self.moves).map(|(p, m)| p.moved(*m));
        let mut closed = parts.next().ok_or_else(|| ChangeError::NoYoke {
            piece: self.waist.name.clone(),
            why: "its waist has no part that is sewn".to_owned(),
        })?;
        for part in parts {
            let part = part.with_ends(closed.end(), part.end());
            closed = closed.then(&part).map_err(ChangeError::geometry("closing the darts"))?;
        }
        Ok(closed)
    }

    /// The lower edge of the yoke.
    fn seam(&self) -> Chain {
        Chain::line(self.to, self.from)
    }

    /// The line as it lies on the flat back: between the side, the legs of each dart and the
    /// centre.
    fn edges_below(&self) -> Result<Vec<Chain>, ChangeError> {
        let mut from = self.from;
        let mut edges = Vec::with_capacity(self.moves.len());
        for (index, closing) in self.moves.iter().enumerate() {
            let to = self.met.get(index).map_or(self.to, |met| met.0);
            edges.push(Chain::line(from, to).moved(closing.inverse()));
            from = to;
        }
        Ok(edges)
    }

    fn matched(&self) -> Vec<(String, f64)> {
        let places = self.waist.darts.iter().zip(&self.met);
        let mut matched: Vec<(String, f64)> =
            places.map(|(dart, (at, _))| (dart.name.clone(), at.distance(self.from))).collect();
        if matched.is_empty() {
            matched.push((YOKE.to_owned(), 0.5 * self.to.distance(self.from)));
        }
        matched
    }
}

/// The waist with the darts that end above the line drawn on to it, and what is said of it.
fn drawn_on(
    piece: &Piece,
    waist: Seam,
    depths: YokeDepths,
) -> Result<(ClosedWaist, Vec<Words>), ChangeError> {
    let was = waist.clone();
    let mut laid = ClosedWaist::of(piece, waist, depths)?;
    let mut short: Vec<usize> = Vec::new();
    for _ in 0..ROUNDS {
        for index in 0..laid.met.len() {
            if laid.met[index].1 > 1.0 + ON_LINE && !short.contains(&index) {
                short.push(index);
            }
        }
        if short.iter().all(|index| (laid.met[*index].1 - 1.0).abs() <= ON_LINE) {
            break;
        }
        let mut longer = laid.waist.clone();
        for index in &short {
            let mouth = longer.parts[*index].end().midpoint(longer.parts[*index + 1].start());
            let dart = &mut longer.darts[*index];
            dart.apex = mouth + (dart.apex - mouth) * laid.met[*index].1;
        }
        laid = ClosedWaist::of(piece, longer, depths)?;
    }
    let mut notes = Vec::new();
    for index in short {
        let (old, new) = (was.leg_lengths(index).0, laid.waist.leg_lengths(index).0);
        let more = was.intake(index) * (1.0 - old / new);
        let dart = &was.darts[index].name;
        if more.is_nan() || more > MOST_MORE {
            return Err(ChangeError::YokeTooDeep {
                piece: piece.name.clone(),
                dart: dart.clone(),
                above: Length(new - old),
                more: Length(more),
                most: Length(MOST_MORE),
            });
        }
        laid.met[index].1 = 1.0;
        notes.push(words![
            format!("The {dart} ends "),
            Length(new - old),
            " above the yoke’s line and is drawn on to it: it takes in ",
            Length(more),
            " more where it ended."
        ]);
    }
    Ok((laid, notes))
}

/// The line drawn on the whole back, straight across what is open of the darts.
fn on_paper(parts: &[Chain]) -> Result<InnerLine, ChangeError> {
    let mut chain = parts[0].clone();
    for part in &parts[1..] {
        if chain.end().distance(part.start()) > hangtrue_geometry::tolerance::SAME_POINT {
            let across = Chain::line(chain.end(), part.start());
            chain = chain.then(&across).map_err(ChangeError::geometry("drawing the yoke"))?;
        }
        let part = part.with_ends(chain.end(), part.end());
        chain = chain.then(&part).map_err(ChangeError::geometry("drawing the yoke"))?;
    }
    Ok(InnerLine { name: YOKE.to_owned(), chain })
}

/// The back with its yoke sewn on: the side of the yoke runs on down the side of what hangs
/// below it.
fn as_sewn(
    piece: &Piece,
    (waist, _, seam, side): &(Chain, Chain, Chain, Chain),
    below: &Piece,
) -> Result<Piece, ChangeError> {
    let mut sewn = piece.clone();
    let lower = below.seam(SIDE)?.edge().map_err(ChangeError::geometry("sewing the yoke on"))?;
    let edge = &below.seam(hangtrue_pattern::names::YOKE_SEAM)?.parts[0];
    let turn = angle_between(edge.start_direction(), -seam.end_direction());
    let home = Affine::translate(seam.end().to_vec2());
    let lower = lower
        .moved(home * Affine::rotate(turn) * Affine::translate(Vec2::ZERO - lower.end().to_vec2()));
    let lower = lower.with_ends(lower.start(), side.start());
    let whole = lower.then(side).map_err(ChangeError::geometry("sewing the yoke on"))?;
    let waist_seam = sewn.seam_mut(WAIST)?;
    *waist_seam = Seam::plain(WAIST, &waist_seam.starts_at.clone(), waist.clone());
    sewn.seam_mut(SIDE)?.parts = vec![whole];
    sewn.inner.retain(|line| line.name != YOKE);
    Ok(sewn)
}

#[cfg(test)]
mod tests;
