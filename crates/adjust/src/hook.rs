//! The crotch curve: bringing a crotch seam to a length while its ends, its
//! centre line and its smoothness are held.

use crate::ChangeError;
use hangtrue_geometry::{
    Affine, Chain, CubicBez, Line, PathSeg, Point, Vec2, angle_between, bend_between,
    bracketed_root, smallest, tolerance, turned,
};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Angle, Length, Words};
use hangtrue_pattern::{Piece, names};

/// A crotch seam as a straight centre line running smoothly into a hook.
#[derive(Debug, Clone)]
pub(crate) struct Hook {
    /// The waist end of the centre line.
    top: Point,
    /// Where the straight line ends and the hook starts.
    joint: Point,
    /// Where the centre line and the tangent at the crotch point meet.
    knee: Point,
    /// Unit direction down the centre line.
    down: Vec2,
    /// The curved part, from the joint to the crotch point.
    curve: Chain,
}

/// The centre line keeps at least this much straight, mm, so that the waist
/// still starts square to a line.
const LEAST_STRAIGHT: f64 = 10.0;

/// A straight part must be this straight, radians.
const STRAIGHT_WITHIN: f64 = 1e-6;

/// The joint between straight and hook may turn by this much, radians (0.5°).
const SMOOTH_WITHIN: f64 = 0.0087;

/// The hook is never squeezed flatter than this share of its height.
const FLATTEST: f64 = 0.06;

/// A handle stays this far, as a share, from the corner it points at.
const FULLEST: f64 = 0.06;

/// The shortest handle, as a share of the way to the corner.
const SHORTEST_HANDLE: f64 = 0.12;

/// A curve that is redrawn is no tighter than this, mm, unless it was before: no hand
/// sews round less (our choice).
pub(crate) const LEAST_RADIUS: f64 = 6.0;

/// A crotch curve tighter than this is hard to sew, mm (common practice, no
/// published source).
const TIGHT: f64 = 20.0;

/// Radii closer than this are the same, mm: they are looked at in some places only.
const SAME_RADIUS: f64 = 0.2;

/// More than any bending of a hook: the curves that are too tight come last.
const TOO_TIGHT: f64 = 1e6;

/// The place that lies farthest off is found to this, mm.
const FARTHEST_FOUND: f64 = 0.01;

/// Accuracy of a fullness while squeezes are compared, and of the one taken.
const LOOKING: f64 = 1e-4;
const EXACT: f64 = 1e-13;

/// What is left of the handles' way to the knee is multiplied by no less than this.
const LEAST_FILL: f64 = 0.02;

/// … and by no more than this.
const MOST_FILL: f64 = 6.0;

impl Hook {
    /// Reads the crotch seam of a piece.
    ///
    /// # Errors
    /// [`ChangeError::NoHook`] when the seam does not start with a straight line
    /// that runs smoothly into a curve bending one way.
    pub(crate) fn of(piece: &Piece) -> Result<Self, ChangeError> {
        let no = |why: &str| ChangeError::NoHook { piece: piece.name.clone(), why: why.to_owned() };
        let seam = piece.seam(names::CROTCH)?;
        if seam.parts.len() != 1 {
            return Err(no("has a dart in it"));
        }
        let segments = seam.parts[0].segments();
        let down = seam.parts[0].start_direction();
        let straight = segments
            .iter()
            .take_while(|s| match s {
                PathSeg::Line(l) => angle_between(down, l.p1 - l.p0).abs() < STRAIGHT_WITHIN,
                _ => false,
            })
            .count();
        if straight == 0 || straight == segments.len() {
            return Err(no("is not a straight line followed by a curve"));
        }
        let curve = Chain::new(segments[straight..].to_vec())
            .map_err(ChangeError::geometry("reading the crotch curve"))?;
        let turn = angle_between(down, curve.start_direction());
        if turn.abs() > SMOOTH_WITHIN {
            return Err(no(&format!(
                "has a corner of {} where the crotch curve starts",
                Angle(turn.to_degrees())
            )));
        }
        let (joint, point) = (curve.start(), curve.end());
        let into = curve.end_direction();
        let knee = Line::new(joint, joint + down)
            .crossing_point(Line::new(point, point + into))
            .filter(|k| (*k - joint).dot(down) > 1.0 && (point - *k).dot(into) > 1.0)
            .ok_or_else(|| no("does not turn from the centre line into the inseam"))?;
        Ok(Self { top: seam.start(), joint, knee, down, curve })
    }

    /// The hook drawn anew as one cubic between the same ends and directions, when
    /// it has become several segments; cuts leave it so, and one curve is fairer.
    fn in_one_curve(&self) -> Self {
        /// Handles at this share of the way to the knee come nearest to an ellipse's
        /// quarter: 4(√2 − 1)/3.
        const ROUND: f64 = 0.552_284_749_8;
        if self.curve.segments().len() == 1 {
            return self.clone();
        }
        let end = self.curve.end();
        let cubic = CubicBez::new(
            self.joint,
            self.joint.lerp(self.knee, ROUND),
            end.lerp(self.knee, ROUND),
            end,
        );
        Self { curve: Chain::cubic(cubic), ..self.clone() }
    }

    /// The same hook under a centre line that starts `by` mm lower along itself
    /// (higher for negative amounts).
    ///
    /// # Errors
    /// [`ChangeError::OutOfReach`] when less than [`LEAST_STRAIGHT`] would stay.
    pub(crate) fn with_top_lowered(&self, by: f64) -> Result<Self, ChangeError> {
        let straight = (self.joint - self.top).dot(self.down);
        let most = (self.knee - self.top).dot(self.down) - 4.0 * LEAST_STRAIGHT;
        if by > most || !by.is_finite() {
            return Err(ChangeError::OutOfReach {
                what: "lowering the centre".into(),
                asked: Length(by),
                low: Length(f64::NEG_INFINITY),
                high: Length(most),
            });
        }
        let mut lowered = self.clone();
        lowered.top = self.top + self.down * by;
        if straight - by < LEAST_STRAIGHT {
            // The straight part is used up: the joint has to go down with it.
            let squeeze = (most + 4.0 * LEAST_STRAIGHT - by - LEAST_STRAIGHT)
                / (self.knee - self.joint).dot(self.down);
            lowered = lowered.squeezed(squeeze);
        }
        Ok(lowered)
    }

    /// The hook scaled along the centre line about the knee: the crotch point and
    /// both end directions stay, the joint slides along the centre line. An
    /// affine map keeps the way a curve bends, so a hook that bends one way
    /// still does.
    fn squeezed(&self, share: f64) -> Self {
        let into = self.curve.end_direction();
        // Oblique frame: `down` is scaled, `into` is kept.
        let frame =
            Affine::new([self.down.x, self.down.y, into.x, into.y, self.knee.x, self.knee.y]);
        let scale = frame * Affine::new([share, 0.0, 0.0, 1.0, 0.0, 0.0]) * frame.inverse();
        let curve = self.curve.moved(scale);
        Self { joint: curve.start(), curve, ..self.clone() }
    }

    /// The hook with its crotch point moved: the part of the move along the centre
    /// line slides the curve down it, the part along the tangent at the crotch
    /// point widens the curve. Waist end, centre line and both directions stay; the
    /// opposite move undoes it.
    ///
    /// # Errors
    /// [`ChangeError::OutOfReach`] when the hook would become too short, or the
    /// straight part would be used up.
    pub(crate) fn with_point_moved(&self, by: Vec2, piece: &str) -> Result<Self, ChangeError> {
        /// The hook keeps at least this part of its reach from the centre line.
        const LEAST_REACH: f64 = 0.35;
        let into = self.curve.end_direction();
        let turn = self.down.cross(into);
        let (along, out) = (by.cross(into) / turn, self.down.cross(by) / turn);
        let reach = (self.curve.end() - self.knee).dot(into);
        let straight = (self.joint - self.top).dot(self.down);
        let refuse = |asked: f64, low: f64| ChangeError::OutOfReach {
            what: format!("moving the crotch point of the {piece}"),
            asked: Length(asked),
            low: Length(low),
            high: Length(f64::INFINITY),
        };
        if reach + out < LEAST_REACH * reach || !out.is_finite() {
            return Err(refuse(out, (LEAST_REACH - 1.0) * reach));
        }
        if straight + along < LEAST_STRAIGHT || !along.is_finite() {
            return Err(refuse(along, LEAST_STRAIGHT - straight));
        }
        let slide = self.down * along;
        let frame = self.frame();
        let widen = Affine::new([1.0, 0.0, 0.0, (reach + out) / reach, 0.0, 0.0]);
        let curve = self.curve.moved(Affine::translate(slide) * frame * widen * frame.inverse());
        Ok(Self { joint: curve.start(), knee: self.knee + slide, curve, ..self.clone() })
    }

    /// The oblique frame of the hook: the knee, down the centre line, and along the
    /// tangent at the crotch point.
    fn frame(&self) -> Affine {
        let into = self.curve.end_direction();
        Affine::new([self.down.x, self.down.y, into.x, into.y, self.knee.x, self.knee.y])
    }

    /// The hook with its centre line turned about the knee by `angle` radians; the
    /// crotch point and the direction there stay, the curve follows by an affine
    /// map.
    pub(crate) fn leaned(&self, angle: f64) -> Self {
        let down = turned(self.down, angle);
        let into = self.curve.end_direction();
        let lean = Affine::new([down.x, down.y, into.x, into.y, self.knee.x, self.knee.y])
            * self.frame().inverse();
        let curve = self.curve.moved(lean);
        let top = self.knee + turned(self.top - self.knee, angle);
        Self { top, joint: curve.start(), down, curve, ..self.clone() }
    }

    /// The waist end of the centre line.
    pub(crate) fn top(&self) -> Point {
        self.top
    }

    /// Where the centre line and the tangent at the crotch point meet.
    pub(crate) fn knee(&self) -> Point {
        self.knee
    }

    /// From the knee up the centre line to the waist, mm.
    pub(crate) fn height(&self) -> f64 {
        self.knee.distance(self.top)
    }

    /// The hook brought to a length by its fullness alone: the joint stays.
    ///
    /// # Errors
    /// [`ChangeError::CrotchCannotHold`].
    pub(crate) fn filled_to_length(&self, length: f64, piece: &str) -> Result<Self, ChangeError> {
        self.filled_to(1.0, length, EXACT).ok_or_else(|| self.cannot_hold(length, piece))
    }

    /// The hook brought to a length by sliding the joint down or up the centre
    /// line alone: the curve is scooped lower or lifted.
    ///
    /// # Errors
    /// [`ChangeError::CrotchCannotHold`].
    pub(crate) fn scooped_to_length(&self, length: f64, piece: &str) -> Result<Self, ChangeError> {
        self.squeezed_to(length, piece)
    }

    /// How far another crotch seam of that piece lies from this one where that is most, mm.
    ///
    /// # Errors
    /// As [`Self::chain`].
    pub(crate) fn farthest(&self, other: &Self) -> Result<f64, ChangeError> {
        const LOOKS: usize = 32;
        let (mine, its) = (self.chain()?, other.chain()?);
        let off = |at: f64| its.nearest(mine.point_at(at)).distance;
        let step = mine.length() / LOOKS as f64;
        let looks = (0..=LOOKS).map(|k| k as f64 * step);
        let best = looks.max_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or_default();
        // Between the neighbours of the best there is one greatest distance.
        let (mut low, mut high) = ((best - step).max(0.0), (best + step).min(mine.length()));
        while high - low > FARTHEST_FOUND {
            let third = (high - low) / 3.0;
            if off(low + third) < off(high - third) { low += third } else { high -= third }
        }
        Ok(off(0.5 * (low + high)))
    }

    /// The hook with both handles of its one cubic brought nearer to the knee
    /// (`fullness` < 1) or farther: the distances that are left to the knee are
    /// multiplied by it. Hooks of several segments are returned as they are.
    fn filled(&self, fullness: f64) -> Self {
        let [PathSeg::Cubic(c)] = self.curve.segments() else { return self.clone() };
        let towards = |end: Point, handle: Point| {
            let whole = end.distance(self.knee);
            let left = 1.0 - end.distance(handle) / whole;
            let share = (1.0 - left * fullness)
                .clamp(SHORTEST_HANDLE.min(1.0 - left), 1.0 - FULLEST.min(left));
            end.lerp(self.knee, share)
        };
        let filled = CubicBez::new(c.p0, towards(c.p0, c.p1), towards(c.p3, c.p2), c.p3);
        Self { curve: Chain::cubic(filled), ..self.clone() }
    }

    /// The whole length, waist to crotch point, mm.
    pub(crate) fn length(&self) -> f64 {
        (self.joint - self.top).dot(self.down) + self.curve.length()
    }

    /// The radius of the tightest place of the curve, mm.
    pub(crate) fn tightest_radius(&self) -> f64 {
        const LOOKS: u32 = 48;
        self.curve.tightest_radius(LOOKS)
    }

    /// The seam as one chain.
    pub(crate) fn chain(&self) -> Result<Chain, ChangeError> {
        Chain::line(self.top, self.joint)
            .then(&self.curve)
            .map_err(ChangeError::geometry("drawing the crotch seam"))
    }

    /// The share the hook may be squeezed to at most: the joint stops short of
    /// the waist.
    fn tallest(&self) -> f64 {
        let room = (self.knee - self.top).dot(self.down) - LEAST_STRAIGHT;
        (room / (self.knee - self.joint).dot(self.down)).max(1.0)
    }

    /// The hook whose seam has exactly `length`, mm, with the waist end, the
    /// centre line, the crotch point and the direction there held.
    ///
    /// Two things may move: the joint along the centre line (squeeze) and the
    /// fullness of the curve. For each squeeze the fullness that gives the length
    /// is found by a bracketed root on exact arc lengths; of these the one that
    /// changes the curvature least (∫Δκ² ds) is taken. Hooks of several segments
    /// have the squeeze only.
    ///
    /// # Errors
    /// [`ChangeError::CrotchCannotHold`] with the lengths that are possible.
    pub(crate) fn with_length(&self, length: f64, piece: &str) -> Result<Self, ChangeError> {
        if (self.length() - length).abs() <= tolerance::LENGTH {
            return Ok(self.clone());
        }
        let original = match self.curve.segments() {
            [PathSeg::Cubic(c)] => *c,
            _ => return self.squeezed_to(length, piece),
        };
        // A curve that would be too tight is taken only when there is no other.
        let floor = LEAST_RADIUS.min(self.tightest_radius());
        let cost = |share: f64| match self.filled_to(share, length, LOOKING) {
            Some(hook) => match hook.curve.segments() {
                [PathSeg::Cubic(c)] if hook.tightest_radius() >= floor => {
                    bend_between(&original, c)
                }
                [PathSeg::Cubic(c)] => TOO_TIGHT + bend_between(&original, c),
                _ => f64::INFINITY,
            },
            None => f64::INFINITY,
        };
        const TRIES: u32 = 6;
        const REFINE: usize = 10;
        let Some((low, high)) = self.squeezes_that_reach(length) else {
            return Err(self.cannot_hold(length, piece));
        };
        let step = (high - low) / f64::from(TRIES);
        let grid = (0..=TRIES).map(|i| low + step * f64::from(i));
        let best = grid.map(|s| (s, cost(s))).min_by(|a, b| a.1.total_cmp(&b.1));
        let Some((best, _)) = best.filter(|b| b.1.is_finite()) else {
            return Err(self.cannot_hold(length, piece));
        };
        let (from, to) = ((best - step).max(low), (best + step).min(high));
        let refined = smallest(cost, from, to, REFINE);
        self.filled_to(refined, length, EXACT)
            .or_else(|| self.filled_to(best, length, EXACT))
            .ok_or_else(|| self.cannot_hold(length, piece))
    }

    /// The squeezes between which some fullness gives the length. The fullest and
    /// the flattest curve both grow longer the more the hook is squeezed, so the
    /// squeezes that reach a length are one interval, and its ends are roots.
    fn squeezes_that_reach(&self, length: f64) -> Option<(f64, f64)> {
        let (least, most) = (FLATTEST, self.tallest());
        let miss = |fullness: f64| {
            move |share: f64| self.squeezed(share).filled(fullness).length() - length
        };
        let (shortest, longest) = (miss(MOST_FILL), miss(LEAST_FILL));
        if longest(least) < 0.0 || shortest(most) > 0.0 {
            return None;
        }
        // A hair inside, so that the fullness is still bracketed at the ends.
        const HAIR: f64 = 1e-9;
        let low = bracketed_root(shortest, least, most, 1e-14).map_or(least, |s| s + HAIR);
        let high = bracketed_root(longest, least, most, 1e-14).map_or(most, |s| s - HAIR);
        (low <= high).then_some((low, high))
    }

    /// The hook squeezed by `share` and filled to the length, if it can be.
    /// `accuracy` is that of the fullness (as a logarithm).
    fn filled_to(&self, share: f64, length: f64, accuracy: f64) -> Option<Self> {
        let squeezed = self.squeezed(share);
        let miss = |log: f64| squeezed.filled(log.exp()).length() - length;
        let fullness = bracketed_root(miss, LEAST_FILL.ln(), MOST_FILL.ln(), accuracy).ok()?;
        let hook = squeezed.filled(fullness.exp());
        (accuracy > EXACT || (hook.length() - length).abs() < 1e-6).then_some(hook)
    }

    fn squeezed_to(&self, length: f64, piece: &str) -> Result<Self, ChangeError> {
        let miss = |share: f64| self.squeezed(share).length() - length;
        let share = bracketed_root(miss, FLATTEST, self.tallest(), 1e-13)
            .map_err(|_| self.cannot_hold(length, piece))?;
        Ok(self.squeezed(share))
    }

    fn cannot_hold(&self, length: f64, piece: &str) -> ChangeError {
        let most = self.squeezed(FLATTEST).filled(LEAST_FILL).length();
        let least = self.squeezed(self.tallest()).filled(MOST_FILL).length();
        ChangeError::CrotchCannotHold {
            piece: piece.to_owned(),
            length: Length(length),
            wanted: Length(length),
            least: Length(least),
            most: Length(most),
        }
    }
}

/// Redraws the crotch seam of a piece so that it has `length`, mm; what is to be known
/// of the new curve, if anything.
///
/// # Errors
/// As [`Hook::of`], [`Hook::with_length`] and [`redraw`].
pub(crate) fn restore_crotch_length(
    piece: &mut Piece,
    length: f64,
) -> Result<Option<Words>, ChangeError> {
    let hook = Hook::of(piece)?.in_one_curve().with_length(length, &piece.name)?;
    redraw(piece, &hook)
}

/// Puts a redrawn hook into its piece; what is to be known of it, if anything.
///
/// # Errors
/// [`ChangeError::CrotchTooTight`] when the curve turns tighter than
/// [`LEAST_RADIUS`] and tighter than it did.
pub(crate) fn redraw(piece: &mut Piece, hook: &Hook) -> Result<Option<Words>, ChangeError> {
    let before = Hook::of(piece).map_or(f64::INFINITY, |h| h.tightest_radius());
    let radius = hook.tightest_radius();
    if radius < LEAST_RADIUS.min(before) - SAME_RADIUS {
        return Err(ChangeError::CrotchTooTight {
            piece: piece.name.clone(),
            radius: Length(radius),
            least: Length(LEAST_RADIUS),
        });
    }
    piece.seam_mut(names::CROTCH)?.parts = vec![hook.chain()?];
    Ok((radius < TIGHT && radius < before - SAME_RADIUS).then(|| {
        words![
            "The crotch curve now turns within a radius of ",
            (Length(radius), 0),
            ", which is hard to sew; a smaller amount would be kinder."
        ]
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use hangtrue_geometry::bends_one_way;

    fn back() -> Piece {
        sample::pattern().piece(names::BACK).unwrap().clone()
    }

    #[test]
    fn reads_and_redraws_the_same_seam() {
        let piece = back();
        let hook = Hook::of(&piece).unwrap();
        let seam = piece.seam(names::CROTCH).unwrap();
        assert!((hook.length() - seam.sewn_length()).abs() < 1e-9);
        assert_eq!(hook.chain().unwrap(), seam.parts[0]);
    }

    #[test]
    fn brings_the_seam_to_a_length_and_keeps_what_it_promises() {
        let mut piece = back();
        let before = piece.seam(names::CROTCH).unwrap().clone();
        for by in [-12.0, -3.0, 0.5, 9.525, 18.0] {
            let wanted = before.sewn_length() + by;
            restore_crotch_length(&mut piece, wanted).unwrap();
            let after = piece.seam(names::CROTCH).unwrap();
            assert!((after.sewn_length() - wanted).abs() < 1e-6, "{by}");
            assert!(after.start().distance(before.start()) < 1e-9);
            assert!(after.end().distance(before.end()) < 1e-9);
            let turn = |a: Vec2, b: Vec2| angle_between(a, b).abs();
            assert!(
                turn(after.parts[0].start_direction(), before.parts[0].start_direction()) < 1e-9
            );
            assert!(turn(after.parts[0].end_direction(), before.parts[0].end_direction()) < 1e-9);
            assert!(bends_one_way(&after.parts[0], 1e-6));
        }
    }

    #[test]
    fn says_what_is_possible_when_asked_for_too_much() {
        let mut piece = back();
        let long = piece.seam(names::CROTCH).unwrap().sewn_length() + 200.0;
        let fault = restore_crotch_length(&mut piece, long).unwrap_err();
        let ChangeError::CrotchCannotHold { most, .. } = fault else { panic!("{fault}") };
        assert!(most.0 < long);
    }

    #[test]
    fn a_seam_without_a_straight_line_is_refused() {
        let mut piece = back();
        let seam = piece.seam_mut(names::CROTCH).unwrap();
        let (a, b) = (seam.start(), seam.end());
        seam.parts = vec![Chain::line(a, b)];
        assert!(matches!(Hook::of(&piece), Err(ChangeError::NoHook { .. })));
    }
}
