//! A piece while it is made: its sew lines, and what is known of it besides.

use crate::grown::Growth;
use crate::turn_up::folds_of_turn_up;
use crate::widths::base_name;
use crate::{Cloth, Drill, Quantity, ToCut};
use hangtrue_adjust::CuttingPlan;
use hangtrue_geometry::{Chain, Point, Vec2};
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{End, Grain, InnerLine, Join, Notch, NotchKind, Piece, Seam};

/// A piece being made.
#[derive(Clone)]
pub(crate) struct Making {
    pub piece: Piece,
    pub to_cut: Vec<ToCut>,
    /// Where it is folded.
    pub folds: Vec<InnerLine>,
    /// What is to be known before it is cut.
    pub hints: Vec<Words>,
    /// The body piece it was made from or is; none for one that goes all round.
    pub of: Option<String>,
    /// Allowances of its seams that are not those of the body's seam of that name, mm.
    pub widths: Vec<(String, Wide)>,
    /// Where cloth is left on beyond the allowance.
    pub growths: Vec<Growth>,
    /// Places marked through, besides the ends of darts.
    pub marks: Vec<Drill>,
    /// The piece it is for another cloth; none for a piece that stands for itself.
    pub copy_of: Option<String>,
}

/// Where the allowance of a made seam comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Wide {
    /// None: the edge is folded, or finished as it is cut.
    Nothing,
    /// As the body's seam of that piece and name, at its start or its end.
    AsSeam { piece: String, seam: String, at: hangtrue_pattern::End },
    /// As a part of the body's seam of that piece and name, in shares of it from its start.
    PartOf { piece: String, seam: String, part: (f64, f64) },
    /// So many mm, where the pattern is cut with any allowance.
    Of(f64),
}

/// All that is made, with the joins between.
#[derive(Default)]
pub(crate) struct Makings {
    pub pieces: Vec<Making>,
    pub joins: Vec<Join>,
    pub notes: Vec<Words>,
    /// Pieces of the pattern whose outline is cut away: their lines lie where they did.
    pub cut_away: Vec<String>,
    /// Backs that hang from a yoke.
    pub hung: Vec<crate::yoke::Hung>,
}

impl Makings {
    /// A piece that was made already, to add to it.
    pub fn named(&mut self, name: &str) -> Option<&mut Making> {
        self.pieces.iter_mut().find(|making| making.piece.name == name)
    }
}

impl Making {
    /// A piece of the body as it stands.
    pub fn body(piece: &Piece, plan: &CuttingPlan) -> Self {
        let quantity = if piece.leg().is_some() { Quantity::One } else { Quantity::Pair };
        let mut to_cut = vec![ToCut { quantity, cloth: Cloth::Main }];
        let is_leg = [hangtrue_pattern::names::BACK, hangtrue_pattern::names::FRONT]
            .contains(&base_name(piece));
        if plan.lining && is_leg {
            to_cut.push(ToCut { quantity, cloth: Cloth::Lining });
        }
        Self {
            of: Some(piece.name.clone()),
            piece: piece.clone(),
            to_cut,
            folds: folds_of_turn_up(piece),
            hints: Vec::new(),
            widths: Vec::new(),
            growths: Vec::new(),
            marks: Vec::new(),
            copy_of: None,
        }
    }

    /// A made piece of these seams; interfaced when the plan says so.
    pub fn made(
        name: String,
        seams: Vec<Seam>,
        grain: Grain,
        how: (Quantity, &CuttingPlan),
    ) -> Self {
        let (quantity, plan) = how;
        let mut to_cut = vec![ToCut { quantity, cloth: Cloth::Main }];
        if plan.interfacing {
            // One layer of interfacing, however many of cloth.
            let quantity = if quantity == Quantity::TwoPairs { Quantity::Pair } else { quantity };
            to_cut.push(ToCut { quantity, cloth: Cloth::Interfacing });
        }
        let piece = Piece { name, seams, grain, notches: vec![], inner: vec![], parted: None };
        Self {
            piece,
            to_cut,
            folds: vec![],
            hints: vec![],
            of: None,
            widths: vec![],
            growths: vec![],
            marks: vec![],
            copy_of: None,
        }
    }

    /// A made piece of one cloth.
    pub fn of_cloth(name: String, seams: Vec<Seam>, grain: Grain, how: (Quantity, Cloth)) -> Self {
        let (quantity, cloth) = how;
        let mut making = Self::made(name, seams, grain, (quantity, &CuttingPlan::default()));
        making.to_cut = vec![ToCut { quantity, cloth }];
        making
    }

    /// Marks a place on a seam.
    pub fn notch(&mut self, name: &str, seam: &str, from: End, distance: f64) {
        self.piece.notches.push(Notch {
            name: name.to_owned(),
            seam: seam.to_owned(),
            from,
            distance,
            kind: NotchKind::Single,
        });
    }

    /// Gives a seam its allowance.
    pub fn wide(&mut self, seam: &str, wide: Wide) {
        self.widths.push((seam.to_owned(), wide));
    }
}

/// A seam from point to point, named with the corner it starts at.
pub(crate) fn straight(name: &str, corner: &str, from: Point, to: Point) -> Seam {
    Seam::plain(name, corner, Chain::line(from, to))
}

/// An upright oblong from the origin, its seams counter-clockwise from the lower left.
pub(crate) fn oblong(size: Vec2, names: [&str; 4]) -> Vec<Seam> {
    let corners = [(0.0, 0.0), (size.x, 0.0), (size.x, size.y), (0.0, size.y)].map(Point::from);
    let called = ["lower left", "lower right", "upper right", "upper left"];
    (0..4).map(|i| straight(names[i], called[i], corners[i], corners[(i + 1) % 4])).collect()
}
