//! Every piece to cut, with its cut line, marks and place in the cutting list.

use crate::making::{Makings, Wide};
use crate::own_cloth::Whole;
use crate::shrunk::ClothLoss;
use crate::tight::{self, narrower_than_hips};
use crate::widths::{allowance_of, check_named, of_both_legs};
use crate::yoke::Yokes;
use crate::{
    Allowance, CutError, Drill, Grown, Inlay, SeamAllowance, Snip, ToCut, closure, cut_chain,
    marks, pocket, waist,
};
use hangtrue_adjust::{Document, OwnShrinkage, Shrinkage};
use hangtrue_geometry::Chain;
use hangtrue_pattern::words;
use hangtrue_pattern::words::Words;
use hangtrue_pattern::{End, InnerLine, Lines, Pattern, Piece, Seam, Shared};

/// Everything that is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutSet {
    /// Back, front and what is cut besides them, with the joins between; the reference
    /// lines are those of the pattern.
    pub pattern: Pattern,
    /// The allowance along every seam.
    pub allowance: Allowance,
    /// What is known of each piece besides, in the order of the pattern's pieces.
    pub pieces: Vec<CutPiece>,
    /// What the maker is told of the plan.
    pub notes: Vec<Words>,
    /// What the cloth of the trousers loses after it is cut. The pieces here are as they are
    /// sewn when it is lost; [`CutSet::to_cloth`] makes them as they are cut.
    pub shrinkage: Shrinkage,
    /// The same of the other cloths, where it is another; [`CutSet::shrinkage_of`] knows both.
    pub own_shrinkage: OwnShrinkage,
    /// By how much the sewn waist is narrower than the hips where nothing opens it, mm: it
    /// cannot be drawn on.
    pub tight: Option<f64>,
}

/// One piece to cut. Lengths in mm.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Its name, as in the pattern.
    pub name: String,
    /// Its number, from one.
    pub number: usize,
    /// How many pieces there are.
    pub of: usize,
    /// How many of what cloth.
    pub to_cut: Vec<ToCut>,
    /// The cut line; it ends where it starts.
    pub cut: Chain,
    /// Cuts into the edge.
    pub snips: Vec<Snip>,
    /// Places marked through.
    pub drills: Vec<Drill>,
    /// Where it is folded.
    pub folds: Vec<InnerLine>,
    /// What is to be known before it is cut.
    pub hints: Vec<Words>,
    /// Whether the last of them says what the cloth loses.
    pub(crate) tells_loss: bool,
    /// Cloth left on beyond the allowances.
    pub grown: Vec<Grown>,
    /// How many times as long and as wide it is cut as it is sewn.
    pub times: (f64, f64),
    /// Whether any seam has an allowance.
    pub has_allowance: bool,
    /// Whether it is a piece of the pattern, and not made for cutting alone.
    pub is_of_pattern: bool,
    /// The piece it is in another cloth, where that is cut otherwise.
    pub copy_of: Option<String>,
}

impl CutPiece {
    /// The area within the cut line of one piece as it is cut, mm².
    pub fn area(&self) -> f64 {
        self.cut.area_about_origin().abs() * self.times.0 * self.times.1
    }

    /// Whether its cut line lies outside its sew line anywhere.
    pub fn is_cut_outside(&self) -> bool {
        self.has_allowance || !self.grown.is_empty() || !self.folds.is_empty()
    }

    /// “1 of 7”.
    pub fn numbered(&self) -> String {
        format!("{} of {}", self.number, self.of)
    }
}

impl CutSet {
    /// What is known of the piece of that name.
    pub fn piece(&self, name: &str) -> Option<&CutPiece> {
        self.pieces.iter().find(|p| p.name == name)
    }
}

/// The pieces to cut from the pattern as it stands, by the project's cutting plan.
///
/// # Errors
/// [`CutError`] with what of the plan cannot be carried out on this pattern.
pub fn pieces_to_cut(pattern: &Pattern, document: &Document) -> Result<CutSet, CutError> {
    let plan = &document.cutting;
    let loss = ClothLoss::of_plan(plan)?;
    let pattern = &*pocket::apart_beside_zip(pattern, document)?;
    let yokes = Yokes::of(pattern)?;
    let mut makings = yokes.makings(pattern, plan);
    // Measured on what is sewn together, as one.
    let sewn = yokes.as_sewn(pattern);
    waist::add(&mut makings, &sewn, document)?;
    closure::add(&mut makings, &sewn, document)?;
    let whole = Whole::of(&makings);
    pocket::add(&mut makings, &sewn, document)?;
    whole.part(&mut makings, &loss);
    let tight = narrower_than_hips(&sewn, document);
    makings.notes.extend(tight.and_then(|less| tight::told(less, document)));
    Ok(CutSet { tight, ..finished(makings, pattern, (document, loss))? })
}

fn finished(
    makings: Makings,
    pattern: &Pattern,
    (document, loss): (&Document, ClothLoss),
) -> Result<CutSet, CutError> {
    let mut allowance = allowance_of(pattern, document);
    allowance.check()?;
    let chosen = allowance.clone();
    // What a made seam takes over counts before what the maker gave that very seam.
    let own = allowance.seams.len() - of_both_legs(&document.cutting, pattern).len();
    let made = makings.pieces.iter().flat_map(|making| {
        let entry = |(seam, wide): &(String, Wide)| {
            let (piece, (start, end)) = (Some(making.piece.name.clone()), wide.in_set(&chosen));
            let inlay = (start != end).then_some(Inlay { at: End::Start, width: start });
            SeamAllowance { piece, seam: seam.clone(), width: end, inlay }
        };
        making.widths.iter().map(entry)
    });
    let made: Vec<SeamAllowance> = made.collect();
    allowance.seams.splice(own..own, made);
    let of = makings.pieces.len();
    let mut pieces = Vec::with_capacity(of);
    let mut shown = Vec::with_capacity(of);
    for (index, making) in makings.pieces.into_iter().enumerate() {
        let piece = making.piece;
        piece.check()?;
        let mut cut = cut_chain(&piece, &allowance)?;
        let mut grown = Vec::new();
        for growth in &making.growths {
            if let Some((larger, left_on)) = growth.on(&piece, &cut, &allowance)? {
                cut = larger;
                grown.push(left_on);
            }
        }
        check_simple(&piece, &cut)?;
        let mut known = CutPiece {
            number: index + 1,
            of,
            to_cut: making.to_cut,
            snips: marks::snips(&piece, &cut, &allowance),
            drills: marks::drills(&piece, document.unit).into_iter().chain(making.marks).collect(),
            folds: making.folds,
            hints: making.hints,
            tells_loss: false,
            grown,
            times: (1.0, 1.0),
            has_allowance: !allowance.is_none_on(&piece),
            is_of_pattern: pattern.piece(&piece.name).is_ok(),
            copy_of: making.copy_of,
            name: piece.name.clone(),
            cut,
        };
        known.draw_for(&loss, known.drawn_for());
        pieces.push(known);
        shown.push(piece.into());
    }
    let mut notes: Vec<Words> = Vec::with_capacity(makings.notes.len());
    for note in makings.notes {
        // What is said of both legs is said once.
        if !notes.contains(&note) {
            notes.push(note);
        }
    }
    let lines = lines_on(pattern, (&shown, &makings.cut_away), &mut notes);
    let cut = Pattern { pieces: shown, joins: makings.joins.into(), lines };
    cut.check()?;
    check_named(&document.cutting, [&cut, pattern])?;
    let (shrinkage, own_shrinkage) = (loss.cloth, loss.own);
    Ok(CutSet { pattern: cut, allowance, pieces, notes, shrinkage, own_shrinkage, tight: None })
}

/// The reference lines as they lie on what is cut: on a piece that is cut away they stay where
/// they were, and one that lies on a yoke is left out and told.
fn lines_on(
    pattern: &Pattern,
    (shown, cut_away): (&[Shared<Piece>], &[String]),
    notes: &mut Vec<Words>,
) -> Lines {
    let mut lines = pattern.lines.clone();
    // A rule that hangs from a seam which is cut away would lay its line elsewhere.
    for line in pattern.lines.iter().filter(|line| cut_away.contains(&line.piece)) {
        let lies = pattern.place_chain(&line.piece, &line.name).ok();
        let is_left = lies.as_ref().is_none_or(|chain| {
            let middle = chain.point_at(0.5 * chain.length());
            shown.iter().any(|piece| piece.name == line.piece && piece.contains(middle))
        });
        if is_left {
            lines.lay_on_cloth(&line.piece, &line.name, lies);
        } else {
            lines.remove(&line.piece, &line.name);
            notes.push(words![
                format!("The {} line of the {} lies on its yoke", line.name, line.piece),
                " and is not drawn on what is cut."
            ]);
        }
    }
    lines
}

impl Wide {
    /// The width where the seam starts and where it ends, mm.
    fn in_set(&self, allowance: &Allowance) -> (f64, f64) {
        let even = |width| (width, width);
        match self {
            Self::Nothing => even(0.0),
            Self::Of(width) if allowance.all > 0.0 => even(*width),
            Self::Of(_) => even(0.0),
            Self::AsSeam { piece, seam, at } => {
                let width = allowance.along(piece, seam);
                even(if *at == End::Start { width.start } else { width.end })
            }
            Self::PartOf { piece, seam, part } => {
                let width = allowance.along(piece, seam);
                (width.at(part.0).0, width.at(part.1).0)
            }
        }
    }
}

/// Refuses a cut line that crosses itself.
fn check_simple(piece: &Piece, cut: &Chain) -> Result<(), CutError> {
    let wrong =
        |why: &str| CutError::AllowanceShape { piece: piece.name.clone(), why: why.to_owned() };
    let half = cut.split_at(cut.length() / 2.0);
    let (first, second) = half.map_err(|_| wrong("the line has no length"))?;
    let as_piece = Piece {
        name: piece.name.clone(),
        seams: vec![
            Seam::plain("first half of the cut line", "a", first),
            Seam::plain("second half of the cut line", "b", second),
        ],
        grain: piece.grain,
        notches: vec![],
        inner: vec![],
        parted: None,
    };
    as_piece.check().map_err(|_| wrong("the line would cross itself"))
}
