//! Moves at the waist.

use super::super::shape::ends_moved;
use super::Bench;
use super::ends::{slide_end, tie};
use crate::ChangeError;
use crate::hook::Hook;
use crate::waist::with_dart_opened;
use hangtrue_geometry::{Line, Point, Vec2, bracketed_root, turned};
use hangtrue_pattern::End;
use hangtrue_pattern::names::{CROTCH, SIDE, WAIST, WAIST_SIDE};
use hangtrue_pattern::words::Length;

impl Bench<'_> {
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
}

/// A dart takes in at least this, mm.
pub(crate) const LEAST_INTAKE: f64 = 0.5;

/// A dart grows by at most this, mm.
pub(crate) const MOST_GROWTH: f64 = 15.0;

/// A dart is at least this long, mm.
const SHORTEST_DART: f64 = 12.0;
