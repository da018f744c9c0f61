//! A back that is cut with a yoke: the yoke as a piece of its own, and the back that hangs
//! from it in the place of the whole one. What is measured on the back's waist, centre and
//! side seam is measured on the two as they are sewn together.

use crate::making::{Making, Makings, Wide};
use crate::waist::grain_between;
use crate::widths::base_name;
use crate::{CutError, Quantity, names as made};
use hangtrue_adjust::{CuttingPlan, Yoke, yoke_of};
use hangtrue_pattern::{End, Join, JoinSide, Leg, Pattern, Piece, Seam, Shared, names, words};
use std::borrow::Cow;

/// The yokes of a pattern, each with the name of its back.
pub(crate) struct Yokes(Vec<(String, Yoke)>);

/// Where a yoke hangs, to find places on its back's seams. Mm.
pub(crate) struct Hung {
    /// The back.
    pub back: String,
    /// The yoke's piece.
    pub yoke: String,
    /// How deep the yoke is at the centre and at the side.
    pub depths: (f64, f64),
}

impl Yokes {
    /// Of every back a yoke's line is drawn on.
    ///
    /// # Errors
    /// [`CutError::Change`] where it cannot be cut so any more.
    pub fn of(pattern: &Pattern) -> Result<Self, CutError> {
        let mut yokes = Vec::new();
        for piece in pattern.pieces.iter().filter(|p| base_name(p) == names::BACK) {
            if let Some(yoke) = yoke_of(piece)? {
                yokes.push((piece.name.clone(), yoke));
            }
        }
        Ok(Self(yokes))
    }

    fn on(&self, back: &str) -> Option<&Yoke> {
        self.0.iter().find(|(name, _)| name == back).map(|(_, yoke)| yoke)
    }

    /// The pattern with each such back as it is when its yoke is sewn to it.
    pub fn as_sewn<'a>(&self, pattern: &'a Pattern) -> Cow<'a, Pattern> {
        if self.0.is_empty() {
            return Cow::Borrowed(pattern);
        }
        let mut sewn = pattern.clone();
        for piece in &mut sewn.pieces {
            if let Some(yoke) = self.on(&piece.name) {
                *piece = Shared::from(yoke.as_sewn.clone());
            }
        }
        Cow::Owned(sewn)
    }

    /// The pieces of the pattern as they are cut, each yoke behind its back.
    pub fn makings(&self, pattern: &Pattern, plan: &CuttingPlan) -> Makings {
        let mut makings = Makings { joins: pattern.joins.to_vec(), ..Makings::default() };
        for piece in &pattern.pieces {
            let Some(yoke) = self.on(&piece.name) else {
                makings.pieces.push(Making::body(piece, plan));
                continue;
            };
            let (mut lower, upper) = (Making::body(&yoke.below, plan), cut(piece, yoke, plan));
            let crotch = piece.seam(names::CROTCH).map_or(1.0, Seam::sewn_length);
            let share = yoke.depths.centre / crotch;
            lower.wide(names::CROTCH, part_of(piece, names::CROTCH, (share, 1.0)));
            for (name, from_side) in &yoke.matched {
                lower.notch(name, names::YOKE_SEAM, End::Start, *from_side);
            }
            makings.hung.push(Hung {
                back: piece.name.clone(),
                yoke: upper.piece.name.clone(),
                depths: (yoke.depths.centre, yoke.depths.side),
            });
            makings.cut_away.push(piece.name.clone());
            makings.notes.extend(yoke.notes.iter().cloned());
            joined(&mut makings, piece, &upper.piece.name);
            makings.pieces.extend([lower, upper]);
        }
        self.matched_on_fronts(&mut makings, pattern);
        makings
    }

    /// The seam of the yoke meets the front's side seam at a notch.
    fn matched_on_fronts(&self, makings: &mut Makings, pattern: &Pattern) {
        for (back, yoke) in &self.0 {
            let leg = pattern.piece(back).ok().and_then(Piece::leg);
            let fronts = makings.pieces.iter_mut().filter(|making| {
                base_name(&making.piece) == names::FRONT && making.piece.leg() == leg
            });
            for front in fronts {
                let Ok(side) = crate::opened::Opened::of(&front.piece, names::SIDE) else {
                    continue;
                };
                front.notch(names::YOKE, names::SIDE, side.waist_end, yoke.depths.side);
            }
        }
    }
}

/// A part of a seam of a back, from its start.
fn part_of(back: &Piece, seam: &str, part: (f64, f64)) -> Wide {
    Wide::PartOf { piece: back.name.clone(), seam: seam.to_owned(), part }
}

/// The name of the yoke of a back.
fn name_of(back: &Piece) -> String {
    match back.leg() {
        Some(leg) => format!("{} {}", made::YOKE, leg.word()),
        None => made::YOKE.to_owned(),
    }
}

/// The yoke as a piece.
fn cut(back: &Piece, yoke: &Yoke, plan: &CuttingPlan) -> Making {
    let seams = vec![
        Seam::plain(names::WAIST, names::WAIST_SIDE, yoke.waist.clone()),
        Seam::plain(made::CENTRE, names::WAIST_CENTRE, yoke.centre.clone()),
        Seam::plain(names::YOKE_SEAM, "yoke at centre", yoke.seam.clone()),
        Seam::plain(names::SIDE, "yoke at side", yoke.side.clone()),
    ];
    let grain =
        grain_between(&yoke.waist, &yoke.seam, (back.grain.direction(), yoke.side.length()));
    let own = if back.leg().is_some() { Quantity::One } else { Quantity::Pair };
    let mut making = Making::of_cloth(name_of(back), seams, grain, (own, crate::Cloth::Main));
    if plan.lining {
        making.to_cut.push(crate::ToCut { quantity: own, cloth: crate::Cloth::Lining });
    }
    let crotch = back.seam(names::CROTCH).map_or(1.0, Seam::sewn_length);
    making.wide(names::WAIST, part_of(back, names::WAIST, (0.0, 0.0)));
    making.wide(names::SIDE, part_of(back, names::SIDE, (1.0, 1.0)));
    making.wide(made::CENTRE, part_of(back, names::CROTCH, (0.0, yoke.depths.centre / crotch)));
    let whole = yoke.seam.length();
    for (name, from_side) in &yoke.matched {
        making.notch(name, names::YOKE_SEAM, End::Start, whole - from_side);
    }
    if back.seam(names::WAIST).is_ok_and(|waist| !waist.darts.is_empty()) {
        making.hints.push(words!["the darts are closed in it"]);
    }
    making.of = Some(back.name.clone());
    making
}

/// The joins of a back that is cut in two: its seam to the yoke, and none along the side,
/// where two pieces meet one.
fn joined(makings: &mut Makings, back: &Piece, yoke: &str) {
    let cut = |seam: &str| [names::SIDE, names::WAIST].contains(&seam);
    makings.joins.retain(|join| !join.sides().any(|s| s.piece == back.name && cut(&s.seam)));
    makings.joins.push(Join {
        name: format!("{} of the {}", names::YOKE_SEAM, back.name),
        first: JoinSide::new(&back.name, names::YOKE_SEAM, End::Start),
        second: Some(JoinSide::new(yoke, names::YOKE_SEAM, End::End)),
        ease: 0.0,
    });
}

impl Makings {
    /// The piece that has the waist of a piece of the pattern: its yoke, or itself.
    pub fn waisted(&self, piece: &str) -> String {
        let hung = self.hung.iter().find(|hung| hung.back == piece);
        hung.map_or_else(|| piece.to_owned(), |hung| hung.yoke.clone())
    }

    /// The backs of a leg that hang from a yoke.
    pub fn backs_hung(&self, leg: Option<Leg>) -> Vec<String> {
        let of = |name: &str| self.pieces.iter().find(|making| making.piece.name == name);
        let hung = self.hung.iter().map(|hung| hung.back.clone());
        hung.filter(|back| of(back).is_some_and(|making| making.piece.leg() == leg)).collect()
    }

    /// Whether a piece of the pattern hangs from a yoke.
    pub fn is_hung(&self, piece: &str) -> bool {
        self.hung.iter().any(|hung| hung.back == piece)
    }

    /// Marks a place so far below the waist on the centre or side seam of a back, on its yoke
    /// or below it. Gives false for a piece that has no yoke.
    pub fn notch_on_hung(&mut self, name: &str, (piece, seam): (&str, &str), at: f64) -> bool {
        let Some((piece, seam, end, at)) = self.place_on_hung(piece, seam, at) else {
            return false;
        };
        if let Some(making) = self.named(&piece) {
            making.notch(name, &seam, end, at);
        }
        true
    }

    /// The piece, its seam, the end and the distance from there of such a place.
    pub fn place_on_hung(
        &self,
        piece: &str,
        seam: &str,
        at: f64,
    ) -> Option<(String, String, End, f64)> {
        let hung = self.hung.iter().find(|hung| hung.back == piece)?;
        let at_centre = seam == names::CROTCH;
        let (depth, end) =
            if at_centre { (hung.depths.0, End::Start) } else { (hung.depths.1, End::End) };
        Some(if at <= depth {
            let seam = if at_centre { made::CENTRE } else { seam };
            (hung.yoke.clone(), seam.to_owned(), end, at)
        } else {
            (piece.to_owned(), seam.to_owned(), end, at - depth)
        })
    }
}

/// The back below a yoke with its upper edge called the waist: what lies on it is placed from
/// there.
pub(crate) fn hanging(making: &Making) -> Option<Piece> {
    let mut piece = making.piece.clone();
    let seam = piece.seam_mut(names::YOKE_SEAM).ok()?;
    seam.name = names::WAIST.to_owned();
    Some(piece)
}
