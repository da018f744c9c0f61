//! The work bench of a correction: the pattern with its grain upright, the few
//! moves all corrections are made of, and what is done at the end of each.

use super::shape::{Fade, Stretch, as_cubic, ends_moved};
use crate::FlatMeasure;
use crate::hook::Hook;
use crate::take::sort_measures;
use crate::waist::with_dart_opened;
use crate::{ChangeError, Outcome};
use hangtrue_geometry::{Affine, Chain, Line, Point, Vec2, angle_between, bracketed_root, turned};
use hangtrue_pattern::names::{
    CROTCH, CROTCH_POINT, HEM, HEM_SIDE, INSEAM, SIDE, WAIST, WAIST_CENTRE, WAIST_SIDE,
};
use hangtrue_pattern::words::Length;
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{End, Grain, InnerLine, Pattern, Piece, Place, Rule};

/// The levels of a piece along its grain, mm.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Levels {
    /// The waist at the side seam.
    pub(crate) waist: f64,
    /// The hip notch, or 65 % of the way from waist to crotch.
    pub(crate) hip: f64,
    /// Where a change of the waist's width is whole, coming up from the hip: nine
    /// tenths of the seam's own length above the hip, which stays when the corner
    /// moves, so that the opposite change finds the same place.
    pub(crate) whole: f64,
    /// The crotch point.
    pub(crate) crotch: f64,
    /// The knee notch, or half way from crotch to hem less 5 cm.
    pub(crate) knee: f64,
    /// The hem at the side seam.
    pub(crate) hem: f64,
}

impl Levels {
    /// A level so far down the thigh, 0 at the crotch point, 1 at the knee.
    pub(crate) fn thigh(&self, share: f64) -> f64 {
        self.crotch - share * (self.crotch - self.knee)
    }

    /// A level so far down the outside of the thigh, 0 at the hip, 1 at the knee.
    pub(crate) fn flank(&self, share: f64) -> f64 {
        self.hip - share * (self.hip - self.knee)
    }

    /// A level so far down the lower leg, 0 at the knee, 1 at the hem.
    pub(crate) fn shin(&self, share: f64) -> f64 {
        self.knee - share * (self.knee - self.hem)
    }
}

/// The pattern under a correction.
#[derive(Clone)]
pub(crate) struct Bench<'a> {
    before: &'a Pattern,
    /// The pattern as it came, grain upright.
    start: Pattern,
    /// The pattern as it stands, grain upright.
    now: Pattern,
    /// The turn that made each piece upright.
    turns: Vec<Affine>,
    stretches: Vec<(String, Stretch)>,
    promised: Vec<FlatMeasure>,
    notes: Vec<Words>,
}

impl<'a> Bench<'a> {
    pub(crate) fn new(before: &'a Pattern) -> Self {
        let mut start = before.clone();
        let turns: Vec<Affine> = before
            .pieces
            .iter()
            .map(|p| {
                let turn = angle_between(p.grain.direction(), Vec2::new(0.0, 1.0));
                if turn.abs() < 1e-12 { Affine::IDENTITY } else { Affine::rotate(turn) }
            })
            .collect();
        for (piece, &turn) in start.pieces.iter_mut().zip(&turns) {
            lay(piece, turn);
        }
        Self {
            before,
            now: start.clone(),
            start,
            turns,
            stretches: vec![],
            promised: vec![],
            notes: vec![],
        }
    }

    /// What some work would give; the bench itself is left as it is.
    pub(crate) fn tried<T>(
        &self,
        work: impl FnOnce(&mut Self) -> Result<T, ChangeError>,
    ) -> Result<T, ChangeError> {
        work(&mut self.clone())
    }

    /// The piece as it stands.
    pub(crate) fn piece(&self, name: &str) -> Result<&Piece, ChangeError> {
        Ok(self.now.piece(name)?)
    }

    /// The piece as it stands, to change.
    pub(crate) fn piece_mut(&mut self, name: &str) -> Result<&mut Piece, ChangeError> {
        Ok(self.now.piece_mut(name)?)
    }

    /// The levels of the piece as it stands. Hip and knee are those it came with,
    /// moved with the paper: the notches are hung anew only at the end.
    pub(crate) fn levels(&self, name: &str) -> Result<Levels, ChangeError> {
        let (came, piece) = (self.start.piece(name)?, self.piece(name)?);
        let waist = piece.corner(WAIST_SIDE)?.y;
        let crotch = piece.corner(CROTCH_POINT)?.y;
        let hem = piece.corner(HEM_SIDE)?.y;
        let led = self.lead(name, SIDE).is_some();
        let marked = |notch: &str| -> Result<Option<f64>, ChangeError> {
            Ok(marked_level(came, notch, led)?.map(|level| self.level_now(name, level)))
        };
        let hip = marked("hip")?.unwrap_or(waist - 0.65 * (waist - crotch));
        let at_hip = Line::new((0.0, hip), (1.0, hip));
        let side = came.seam(SIDE)?;
        let above = side
            .crossings_with_line(at_hip)
            .first()
            .map_or(waist - hip, |c| side.distance_from(End::End, c.here));
        Ok(Levels {
            waist,
            hip,
            whole: hip + 0.9 * above,
            crotch,
            knee: marked("knee")?.unwrap_or(0.5 * (crotch + hem) + 50.0),
            hem,
        })
    }

    /// Promises the sewn lengths of seams of a piece.
    pub(crate) fn promise(&mut self, piece: &str, seams: &[&str]) {
        self.promised.extend(seams.iter().map(|s| FlatMeasure::seam(piece, s)));
    }

    /// Promises any other measure.
    pub(crate) fn promise_measure(&mut self, measure: FlatMeasure) {
        self.promised.push(measure);
    }

    /// A remark for the maker.
    pub(crate) fn note(&mut self, words: impl Into<Words>) {
        self.notes.push(words.into());
    }

    /// +1 when the outside of the leg at this seam lies to the right.
    pub(crate) fn outward(&self, piece: &str, seam: &str) -> Result<f64, ChangeError> {
        let piece = self.piece(piece)?;
        let side_right = piece.corner(WAIST_SIDE)?.x > piece.corner(WAIST_CENTRE)?.x;
        Ok(if side_right == (seam == SIDE) { 1.0 } else { -1.0 })
    }

    /// Shifts a seam outwards (the leg grows) by a fade.
    pub(crate) fn widen(
        &mut self,
        piece: &str,
        seam: &str,
        fade: &Fade,
    ) -> Result<(), ChangeError> {
        let sign = self.outward(piece, seam)?;
        self.shift(piece, seam, fade, sign)
    }

    /// Shifts both seams of a leg towards the inseam by a fade.
    pub(crate) fn swing(&mut self, piece: &str, fade: &Fade) -> Result<(), ChangeError> {
        let sign = self.outward(piece, INSEAM)?;
        self.shift(piece, SIDE, fade, sign)?;
        self.shift(piece, INSEAM, fade, sign)
    }

    fn shift(
        &mut self,
        piece: &str,
        seam: &str,
        fade: &Fade,
        sign: f64,
    ) -> Result<(), ChangeError> {
        let piece = self.piece_mut(piece)?;
        for part in &mut piece.seam_mut(seam)?.parts {
            *part = fade.shift(part, sign)?;
        }
        tie(piece)
    }

    /// Lets a band of the leg below the crotch seam grow along the grain.
    pub(crate) fn stretch(&mut self, name: &str, band: Stretch) -> Result<(), ChangeError> {
        let piece = self.piece_mut(name)?;
        for seam in [SIDE, INSEAM, HEM] {
            for part in &mut piece.seam_mut(seam)?.parts {
                *part = band.stretch(part)?;
            }
        }
        for line in &mut piece.inner {
            line.chain = band.stretch(&line.chain)?;
        }
        for p in [&mut piece.grain.from, &mut piece.grain.to] {
            p.y = band.at(p.y).0;
        }
        self.stretches.push((name.to_owned(), band));
        tie(self.piece_mut(name)?)
    }

    /// Moves the crotch point outwards along the hook by `out` mm; the inseam
    /// follows, fading to nothing at the knee, and the crotch point is raised or
    /// lowered until the inseam has its length again.
    pub(crate) fn extend_crotch_point(&mut self, name: &str, out: f64) -> Result<(), ChangeError> {
        let levels = self.levels(name)?;
        let sign = self.outward(name, INSEAM)?;
        let piece = self.piece_mut(name)?;
        let seam = piece.seam(INSEAM)?.clone();
        let wanted = seam.sewn_length();
        let fade = Fade::flat(&[(levels.crotch, out), (levels.knee, 0.0)])?;
        let shifted = fade.shift(&seam.parts[0], sign)?;
        let rest = wanted - seam.parts[0].length();
        let raised = |by: f64| first_knot_moved(&shifted, Vec2::new(0.0, by));
        let miss = |by: f64| raised(by).map_or(f64::NAN, |c| c.length() + rest - wanted);
        let room = 4.0 + 1.5 * out.abs();
        let by = bracketed_root(miss, -room, room, 1e-12)
            .map_err(ChangeError::geometry("keeping the length of the inseam"))?;
        let hook = Hook::of(piece)?.with_point_moved(Vec2::new(sign * out, by), name)?;
        piece.seam_mut(CROTCH)?.parts = vec![hook.chain()?];
        piece.seam_mut(INSEAM)?.parts[0] = raised(by)?;
        tie(piece)
    }

    /// Lowers the waist by `side` mm along the side seam and by `centre` mm along
    /// the centre seam, faded smoothly between; dart legs slide along themselves.
    /// The side seam becomes shorter by exactly `side`.
    pub(crate) fn lower_waist(
        &mut self,
        name: &str,
        side: f64,
        centre: f64,
    ) -> Result<(), ChangeError> {
        let levels = self.levels(name)?;
        let piece = self.piece_mut(name)?;
        if side != 0.0 {
            let length = piece.seam(SIDE)?.sewn_length() - side;
            slide_end(piece, SIDE, End::End, length)?;
        }
        if centre != 0.0 {
            let hook = Hook::of(piece)?.with_top_lowered(centre)?;
            piece.seam_mut(CROTCH)?.parts = vec![hook.chain()?];
        }
        // A dart keeps its point, and the centre corner slides along its line: the
        // share of the hip's width from there stays what it is.
        let centre_seam = piece.seam(CROTCH)?;
        let (top, down) = (centre_seam.start(), centre_seam.parts[0].start_direction());
        let from_centre = |p: Point| down.cross(p - top).abs();
        let at_hip = Line::new((0.0, levels.hip), (1.0, levels.hip));
        let hip = piece.seam(SIDE)?.crossings_with_line(at_hip).first().map(|c| c.point);
        let width = from_centre(hip.unwrap_or(piece.corner(WAIST_SIDE)?));
        let seam = piece.seam_mut(WAIST)?;
        let was = seam.clone();
        for index in 0..was.darts.len() {
            let apex = was.darts[index].apex;
            let t = (1.0 - from_centre(apex) / width).clamp(0.0, 1.0);
            let fade = t * t * (3.0 - 2.0 * t);
            let by = side + (centre - side) * fade;
            let leg = was.leg_lengths(index).0;
            if leg - by < SHORTEST_DART {
                return Err(ChangeError::OutOfReach {
                    what: format!(
                        "lowering the waist of the {name} over the {}",
                        was.darts[index].name
                    ),
                    asked: Length(by),
                    low: Length(f64::NEG_INFINITY),
                    high: Length(leg - SHORTEST_DART),
                });
            }
            let slid = |p: Point| (apex - p).normalize() * by;
            let first = slid(was.parts[index].end());
            let second = slid(was.parts[index + 1].start());
            seam.parts[index] = ends_moved(&seam.parts[index], Vec2::ZERO, first)?;
            seam.parts[index + 1] = ends_moved(&seam.parts[index + 1], second, Vec2::ZERO)?;
            // Both edges turn at the dart as the fade falls there, so that the waist
            // runs in one line when the dart is closed.
            let falls = (centre - side) * 6.0 * t * (1.0 - t) / width;
            let along = seam.parts[index + 1].start() - seam.parts[index].end();
            let turn = falls.atan() * along.cross(apex - seam.parts[index].end()).signum();
            let arriving = &seam.parts[index];
            seam.parts[index] =
                arriving.aimed(arriving.start_direction(), turned(arriving.end_direction(), turn));
            let leaving = &seam.parts[index + 1];
            seam.parts[index + 1] =
                leaving.aimed(turned(leaving.start_direction(), turn), leaving.end_direction());
        }
        tie(piece)
    }

    /// Brings the waist back to the length it came with by opening or closing all
    /// darts by one angle, and promises it. A waist without darts keeps what the
    /// change made of it, and that is said.
    pub(crate) fn hold_waist(&mut self, name: &str) -> Result<(), ChangeError> {
        let wanted = self.start.piece(name)?.seam(WAIST)?.sewn_length();
        self.waist_by_darts(name, wanted)
    }

    /// Brings the waist to a length, as [`Self::hold_waist`] does.
    pub(crate) fn waist_by_darts(&mut self, name: &str, wanted: f64) -> Result<(), ChangeError> {
        let held = self.start.piece(name)?.seam(WAIST)?.sewn_length() == wanted;
        let piece = self.piece_mut(name)?;
        let seam = piece.seam(WAIST)?.clone();
        if seam.darts.is_empty() {
            self.note(format!(
                "The waist of the {name} has no dart that could keep its length; ease or stretch the difference to the waistband."
            ));
            return Ok(());
        }
        let count = seam.darts.len();
        let opened =
            |by: f64| (0..count).fold(seam.clone(), |s, dart| with_dart_opened(&s, dart, 0.0, by));
        let room = |dart: usize| {
            let leg = seam.leg_lengths(dart).0;
            (LEAST_INTAKE / leg - seam.dart_angle(dart), MOST_GROWTH / leg)
        };
        let limits = (0..count).map(room);
        let (low, high) =
            limits.fold((f64::NEG_INFINITY, f64::INFINITY), |a, b| (a.0.max(b.0), a.1.min(b.1)));
        let miss = |by: f64| opened(by).sewn_length() - wanted;
        let out_of_reach = || ChangeError::OutOfReach {
            what: format!("the waist of the {name} held by what its darts take"),
            asked: Length(wanted),
            low: Length(opened(high).sewn_length()),
            high: Length(opened(low.min(high)).sewn_length()),
        };
        if low >= high {
            return Err(out_of_reach());
        }
        let by = bracketed_root(miss, low, high, 1e-14).map_err(|_| out_of_reach())?;
        *piece.seam_mut(WAIST)? = opened(by);
        tie(piece)?;
        if held {
            self.promise(name, &[WAIST]);
        }
        Ok(())
    }

    /// Slides the waist corner along the side seam until that has the length it
    /// came with.
    pub(crate) fn hold_side_at_waist(&mut self, name: &str) -> Result<(), ChangeError> {
        let wanted = self.start.piece(name)?.seam(SIDE)?.sewn_length();
        slide_end(self.piece_mut(name)?, SIDE, End::End, wanted)
    }

    /// Lets the mating seams match as they did, hangs notches and level lines
    /// anew, turns the pieces back, checks them, and takes the measures.
    pub(crate) fn finish(mut self) -> Result<Outcome, ChangeError> {
        self.match_joins()?;
        self.hang_notches()?;
        self.hang_lines()?;
        for (piece, turn) in self.now.pieces.iter_mut().zip(&self.turns) {
            if *turn != Affine::IDENTITY {
                lay(piece, turn.inverse());
            }
        }
        self.now.check().map_err(ChangeError::BreaksPattern)?;
        let (kept, changed) = sort_measures(self.before, &self.now, &self.promised);
        let outcome = Outcome { kept, changed, notes: self.notes, ..Outcome::plain(self.now) };
        outcome.hold_to_promise()
    }

    /// Where two seams that are sewn together have grown apart, the second is let
    /// out or taken in at its far end, which is the hem.
    fn match_joins(&mut self) -> Result<(), ChangeError> {
        for join in &self.before.joins {
            let Some(second) = &join.second else { continue };
            let length = |p: &Pattern, piece: &str, seam: &str| -> Result<f64, ChangeError> {
                Ok(p.piece(piece)?.seam(seam)?.sewn_length())
            };
            let first = &join.first;
            let grown = length(&self.now, &first.piece, &first.seam)?
                - length(&self.start, &first.piece, &first.seam)?;
            let wanted = length(&self.start, &second.piece, &second.seam)? + grown;
            let piece = self.now.piece_mut(&second.piece)?;
            slide_end(piece, &second.seam, second.from.other(), wanted)?;
        }
        Ok(())
    }

    /// The level at which something that lay at `level` lies now.
    fn level_now(&self, piece: &str, level: f64) -> f64 {
        let mine = self.stretches.iter().filter(|(p, _)| p == piece);
        mine.fold(level, |level, (_, band)| band.at(level).0)
    }

    /// The sewn distance at which a place of a seam lies now: at its level, unless
    /// the seam does not pass there any more.
    fn hung(&self, piece: &str, seam: &str, from: End, distance: f64) -> Result<f64, ChangeError> {
        let was = self.start.piece(piece)?.seam(seam)?.place(from, distance).point;
        let level = self.level_now(piece, was.y);
        let seam = self.now.piece(piece)?.seam(seam)?;
        let line = Line::new((0.0, level), (1.0, level));
        let places = seam.crossings_with_line(line).into_iter();
        let mut places: Vec<f64> = places.map(|c| seam.distance_from(from, c.here)).collect();
        places.sort_by(|a, b| (a - distance).abs().total_cmp(&(b - distance).abs()));
        Ok(places.first().copied().unwrap_or(distance))
    }

    /// The piece and seam that leads another in a join: the first side.
    fn lead(&self, piece: &str, seam: &str) -> Option<(String, String)> {
        let second = |j: &&hangtrue_pattern::Join| {
            j.second.as_ref().is_some_and(|s| s.piece == piece && s.seam == seam)
        };
        let join = self.before.joins.iter().find(second)?;
        Some((join.first.piece.clone(), join.first.seam.clone()))
    }

    fn hang_notches(&mut self) -> Result<(), ChangeError> {
        for piece in self.start.pieces.clone() {
            for (index, notch) in piece.notches.iter().enumerate() {
                let mate = self.lead(&piece.name, &notch.seam).and_then(|(lead, seam)| {
                    let notches = &self.start.piece(&lead).ok()?.notches;
                    let same = notches
                        .iter()
                        .find(|n| n.name == notch.name && n.seam == seam && n.from == notch.from)?;
                    Some((lead, same.clone()))
                });
                // What meets in sewing moves by the same distance.
                let distance = match mate {
                    Some((lead, led)) => {
                        let now = self.hung(&lead, &led.seam, led.from, led.distance)?;
                        notch.distance + now - led.distance
                    }
                    None => self.hung(&piece.name, &notch.seam, notch.from, notch.distance)?,
                };
                self.now.piece_mut(&piece.name)?.notches[index].distance = distance;
            }
        }
        Ok(())
    }

    /// Lines square to the grain through a place of a seam stay at their level.
    fn hang_lines(&mut self) -> Result<(), ChangeError> {
        // Where each line of `start` hangs now; none for one that stays.
        let mut hung: Vec<Option<f64>> = Vec::with_capacity(self.start.lines.len());
        for line in &self.start.lines {
            let Rule::SquareToGrain { through: Place::Seam(place) } = &line.rule else {
                hung.push(None);
                continue;
            };
            let mate = self.lead(&line.piece, &place.seam).and_then(|(lead, seam)| {
                let same = self.start.line(&lead, &line.name).ok()?;
                let Rule::SquareToGrain { through: Place::Seam(led) } = &same.rule else {
                    return None;
                };
                (led.seam == seam && led.from == place.from).then(|| (lead, led.clone()))
            });
            let distance = match mate {
                Some((lead, led)) => {
                    place.distance + self.hung(&lead, &led.seam, led.from, led.distance)?
                        - led.distance
                }
                None => self.hung(&line.piece, &place.seam, place.from, place.distance)?,
            };
            hung.push((distance != place.distance).then_some(distance));
        }
        let (mut asked, mut moved) = (hung.iter(), hung.iter().flatten());
        self.now.lines.change_where(
            |_| asked.next().is_some_and(Option::is_some),
            |line| {
                if let Rule::SquareToGrain { through: Place::Seam(place) } = &mut line.rule
                    && let Some(distance) = moved.next()
                {
                    place.distance = *distance;
                }
            },
        );
        Ok(())
    }
}

/// A notch this near to a joint of its seam, mm, marks the joint, on a piece whose
/// notches follow those of another: they may lie a little beside the level.
const MARKS_JOINT: f64 = 4.0;

/// The level of a notch of the side seam, or of the joint it marks on a piece that
/// is led.
fn marked_level(piece: &Piece, notch: &str, led: bool) -> Result<Option<f64>, ChangeError> {
    let Some(found) = piece.notches.iter().find(|n| n.name == notch && n.seam == SIDE) else {
        return Ok(None);
    };
    let place = piece.seam(SIDE)?.place(found.from, found.distance);
    let part = &piece.seam(SIDE)?.parts[place.part];
    let mut nearest = (if led { MARKS_JOINT } else { 0.0 }, place.point.y);
    let mut joint = 0.0;
    for (segment, length) in part.segments().iter().zip(part.lengths()) {
        joint += length;
        let off = (joint - place.within).abs();
        if off < nearest.0 {
            nearest = (off, as_cubic(segment).p3.y);
        }
    }
    Ok(Some(nearest.1))
}

/// A dart takes in at least this, mm.
pub(crate) const LEAST_INTAKE: f64 = 0.5;

/// A dart grows by at most this, mm.
pub(crate) const MOST_GROWTH: f64 = 15.0;

/// A dart is at least this long, mm.
const SHORTEST_DART: f64 = 12.0;

fn lay(piece: &mut Piece, turn: Affine) {
    if turn == Affine::IDENTITY {
        return;
    }
    for seam in &mut piece.seams {
        *seam = seam.moved(turn);
    }
    piece.grain = Grain { from: turn * piece.grain.from, to: turn * piece.grain.to };
    let lines = piece.inner.iter();
    piece.inner = lines.map(|l| InnerLine { chain: l.chain.moved(turn), ..l.clone() }).collect();
}

/// The chain with its first knot moved, and that knot's handle with it.
fn first_knot_moved(chain: &Chain, by: Vec2) -> Result<Chain, ChangeError> {
    let what = || ChangeError::geometry("moving the end of a seam");
    let (first, rest) = chain.segments().split_at(1);
    let first = Chain::new(first.to_vec()).map_err(what())?;
    let moved = ends_moved(&first, by, Vec2::ZERO)?;
    if rest.is_empty() {
        return Ok(moved);
    }
    moved.then(&Chain::new(rest.to_vec()).map_err(what())?).map_err(what())
}

fn last_knot_moved(chain: &Chain, by: Vec2) -> Result<Chain, ChangeError> {
    Ok(first_knot_moved(&chain.reversed(), by)?.reversed())
}

/// Slides one end of a seam along its own direction until the seam has the sewn
/// length; the edge beside it follows.
pub(crate) fn slide_end(
    piece: &mut Piece,
    name: &str,
    end: End,
    wanted: f64,
) -> Result<(), ChangeError> {
    let seam = piece.seam(name)?;
    let missing = wanted - seam.sewn_length();
    if missing.abs() < 1e-9 {
        return Ok(());
    }
    let index = if end == End::Start { 0 } else { seam.parts.len() - 1 };
    let part = seam.parts[index].clone();
    let slid = |by: f64| match end {
        End::Start => first_knot_moved(&part, -part.start_direction() * by),
        End::End => last_knot_moved(&part, part.end_direction() * by),
    };
    let target = part.length() + missing;
    let miss = |by: f64| slid(by).map_or(f64::NAN, |c| c.length() - target);
    let (a, b) = (missing * 0.3, missing * 3.0);
    let by = bracketed_root(miss, a.min(b), a.max(b), 1e-12)
        .map_err(ChangeError::geometry(format!("bringing the {name} to its length")))?;
    piece.seam_mut(name)?.parts[index] = slid(by)?;
    tie(piece)
}

/// Lets waist, inseam and hem follow the corners that the side seam and the
/// crotch seam give: the waist and the inseam keep their directions, the hem is
/// drawn anew from corner to corner.
pub(crate) fn tie(piece: &mut Piece) -> Result<(), ChangeError> {
    let (hem_side, waist_side) = (piece.seam(SIDE)?.start(), piece.seam(SIDE)?.end());
    let (centre, point) = (piece.seam(CROTCH)?.start(), piece.seam(CROTCH)?.end());
    let inseam = piece.seam_mut(INSEAM)?;
    let off = point - inseam.start();
    if off != Vec2::ZERO {
        inseam.parts[0] = first_knot_moved(&inseam.parts[0], off)?;
    }
    let hem_inseam = inseam.end();
    let waist = piece.seam_mut(WAIST)?;
    let off = waist_side - waist.start();
    if off != Vec2::ZERO {
        waist.parts[0] = ends_moved(&waist.parts[0], off, Vec2::ZERO)?;
    }
    let last = waist.parts.len() - 1;
    let off = centre - waist.end();
    if off != Vec2::ZERO {
        waist.parts[last] = ends_moved(&waist.parts[last], Vec2::ZERO, off)?;
    }
    let hem = piece.seam_mut(HEM)?;
    let last = hem.parts.len() - 1;
    if last == 0 {
        hem.parts[0] = hem.parts[0].with_ends(hem_inseam, hem_side);
    } else {
        let (a, b) = (hem.parts[0].end(), hem.parts[last].start());
        hem.parts[0] = hem.parts[0].with_ends(hem_inseam, a);
        hem.parts[last] = hem.parts[last].with_ends(b, hem_side);
    }
    Ok(())
}
