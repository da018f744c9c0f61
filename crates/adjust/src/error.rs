//! Why a change cannot be made, and what to do instead.

use crate::LegDifference;
use hangtrue_geometry::GeometryError;
use hangtrue_pattern::PatternError;
use hangtrue_pattern::words::Length;

/// A change that cannot be made. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ChangeError {
    /// The pattern does not hold what the change names.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// A pinch needs at least one amount.
    #[error(
        "the pinch “{pinch}” has no amount anywhere; enter what was pinned at one place at least"
    )]
    EmptyPinch {
        /// Name of the pinch.
        pinch: String,
    },
    /// Stations out of order or off the path.
    #[error(
        "in the pinch “{pinch}” the place {asked} along the path is {why}; the path is {length} long"
    )]
    StationOffPath {
        /// Name of the pinch.
        pinch: String,
        /// Where the station would lie, mm from the start of the path.
        asked: Length,
        /// Length of the path, mm.
        length: Length,
        /// What is wrong with it.
        why: String,
    },
    /// Two readings of the same place do not fit the line.
    #[error(
        "in the pinch “{pinch}” {} from the {} and {} from the {} make {}, but the line is {length} long; they may differ by {most}, so measure again, or give one of the two", first.0, first.1, second.0, second.1, Length(first.0.0 + second.0.0)
    )]
    TapesDisagree {
        /// Name of the pinch.
        pinch: String,
        /// Distance from one seam, mm, and the seam.
        first: (Length, String),
        /// Distance from the other, mm, and the seam.
        second: (Length, String),
        /// Length of the line, mm.
        length: Length,
        /// What they may differ by, mm.
        most: Length,
    },
    /// The path does not run across the piece from seam to seam.
    #[error(
        "the pinch “{pinch}” leaves the {piece}: {why}; lay it across the piece from one seam to another"
    )]
    PathLeavesPiece {
        /// Name of the pinch.
        pinch: String,
        /// The piece.
        piece: String,
        /// What is wrong.
        why: String,
    },
    /// An amount too large for the distance it fades over.
    #[error(
        "the pinch “{pinch}” takes {amount} within {distance}, which folds the cloth by {angle:.0}°; take at most {most} there, or spread it over two pinches"
    )]
    AmountTooLarge {
        /// Name of the pinch.
        pinch: String,
        /// The amount, mm.
        amount: Length,
        /// The distance it changes over, mm.
        distance: Length,
        /// The fold it would make, degrees.
        angle: f64,
        /// The most that is accepted there, mm.
        most: Length,
    },
    /// The crotch seam cannot be brought back to its length.
    #[error(
        "the crotch seam of the {piece} cannot keep its {length}: the curve can give between {least:#} and {most} with its ends and the centre line held, and {wanted} is needed; take a smaller amount"
    )]
    CrotchCannotHold {
        /// The piece.
        piece: String,
        /// Length to be kept, mm.
        length: Length,
        /// Length wanted of the curve, mm.
        wanted: Length,
        /// Least the curve can be, mm.
        least: Length,
        /// Most it can be, mm.
        most: Length,
    },
    /// The redrawn crotch curve would turn too tightly.
    #[error(
        "the crotch curve of the {piece} would turn within a radius of {radius}, and {least} is the least; take a smaller amount"
    )]
    CrotchTooTight {
        /// The piece.
        piece: String,
        /// The radius it would have.
        radius: Length,
        /// The least it may have.
        least: Length,
    },
    /// The crotch seam is not a straight centre line running into a hook.
    #[error(
        "the crotch seam of the {piece} {why}; redraw it as a straight centre line that runs smoothly into the crotch curve"
    )]
    NoHook {
        /// The piece.
        piece: String,
        /// What is wrong.
        why: String,
    },
    /// The leg is swung so far that the hem cannot stay square.
    #[error(
        "swung so far the leg of this pattern comes to no square hem with inseams that match; take less, or take it in two fittings"
    )]
    NoSquareHem,
    /// A place that lies outside the seam it is asked on.
    #[error("{what} is {asked}, but {} here; choose another length", possible(*low, *high))]
    OutOfReach {
        /// What is asked, in words.
        what: String,
        /// What was asked, mm.
        asked: Length,
        /// Least possible, mm.
        low: Length,
        /// Most possible, mm.
        high: Length,
    },
    /// A turn-up on a hem that is not straight.
    #[error(
        "the hem of the {piece} is not straight, and a turn-up is folded there; give the turn-up before the hem is bowed, or make the hem straight"
    )]
    HemNotStraight {
        /// The piece.
        piece: String,
    },
    /// A back that cannot be cut with a yoke.
    #[error("the {piece} cannot be cut with a yoke: {why}")]
    NoYoke {
        /// The piece.
        piece: String,
        /// Why, and what to do.
        why: String,
    },
    /// Too much is left of the darts below a yoke.
    #[error(
        "the yoke of the {piece} is too shallow: the {dart} ends {below} below its line and {left} would be left over in all, {most} is the most; make the yoke deeper, or the dart shorter first"
    )]
    YokeTooShallow {
        /// The piece.
        piece: String,
        /// The dart of which most is left.
        dart: String,
        /// How far it goes on below the line, mm.
        below: Length,
        /// What is left of all darts, mm.
        left: Length,
        /// The most, mm.
        most: Length,
    },
    /// A dart ends too far above the line of a yoke.
    #[error(
        "the yoke of the {piece} is too deep: the {dart} ends {above} above its line, and drawn on to it would take in {more} more where it ends, {most} is the most; make the yoke less deep, or the dart longer first"
    )]
    YokeTooDeep {
        /// The piece.
        piece: String,
        /// The dart.
        dart: String,
        /// How far above the line it ends, mm.
        above: Length,
        /// What it would take in besides, mm.
        more: Length,
        /// The most, mm.
        most: Length,
    },
    /// A measure that was to be kept is not kept.
    #[error(
        "{measure} was to stay {before:.2} but became {after:.2}, so the change is not made; take a smaller amount or another method"
    )]
    NotKept {
        /// The measure.
        measure: String,
        /// Before, mm.
        before: Length,
        /// After, mm.
        after: Length,
    },
    /// More stretch than cloth takes.
    #[error(
        "{amount} of ease on {length:.0} is {percent:.1} %; cloth eased or stretched by more than {limit:.0} % will show it, so take a smaller amount or let the piece sewn to it follow"
    )]
    TooMuchEase {
        /// The ease, mm.
        amount: Length,
        /// Over this seam length, mm.
        length: Length,
        /// As a share of the length.
        percent: f64,
        /// The limit, percent.
        limit: f64,
    },
    /// A name that is already used.
    #[error("the name “{name}” is taken; choose another")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// A bringing-in without pieces.
    #[error(
        "nothing was brought in from {from}: it holds no piece; choose a file with closed outlines"
    )]
    NothingBrought {
        /// Where the pieces were to come from.
        from: String,
    },
    /// The path's seams do not both lead to one other piece.
    #[error(
        "the {seam} of the {piece} {why}, so no other piece can follow; choose to ease the difference instead"
    )]
    NoMate {
        /// The piece.
        piece: String,
        /// The seam.
        seam: String,
        /// Why not.
        why: String,
    },
    /// The change would break the outline.
    #[error("the change would break the pattern: {0}")]
    BreaksPattern(#[source] PatternError),
    /// A geometric operation has no answer.
    #[error("{what}: {source}")]
    Geometry {
        /// What was being done.
        what: String,
        /// The geometric reason.
        #[source]
        source: GeometryError,
    },
    /// The pieces serve both legs.
    #[error(
        "{wanted} needs left and right apart, and here each piece serves both legs; part them first"
    )]
    NotApart {
        /// What needs it, in words.
        wanted: String,
    },
    /// A change of the whole pattern is asked of one leg.
    #[error(
        "this is a change of the whole pattern and cannot be made on one leg; make it by itself"
    )]
    NotForOneLeg,
    /// The legs differ and none was chosen.
    #[error(
        "left and right are not the same: they differ in {}; say which leg shall serve both, or allow more than {within}",
        in_words(differences)
    )]
    LegsDiffer {
        /// What still counts as the same, mm.
        within: Length,
        /// Everything that differs by more.
        differences: Vec<LegDifference>,
    },
    /// A piece of one leg is sewn to something else than its twin or its own leg.
    #[error(
        "the {join} sews a piece of one leg to one that is not its mirror image, which one piece for both legs cannot hold; take that seam apart first"
    )]
    SewnAcross {
        /// The join.
        join: String,
    },
    /// There is no join, change or round of that name.
    #[error("there is no {kind} called “{name}”; there are: {known}")]
    Unknown {
        /// join, change or round.
        kind: &'static str,
        /// The name asked for.
        name: String,
        /// What there is.
        known: String,
    },
}

/// The differences with commas; a long list is cut.
fn in_words(differences: &[LegDifference]) -> String {
    const NAMED: usize = 8;
    let named: Vec<String> = differences.iter().take(NAMED).map(ToString::to_string).collect();
    match differences.len().saturating_sub(NAMED) {
        0 => named.join(", "),
        more => format!("{}, and {more} more", named.join(", ")),
    }
}

/// The lengths that are possible, in words; either side may be open.
fn possible(low: Length, high: Length) -> String {
    match (low.0.is_finite(), high.0.is_finite()) {
        (true, true) => format!("only {low:#} to {high} is possible"),
        (false, true) => format!("only up to {high} is possible"),
        (true, false) => format!("only {low} or more is possible"),
        (false, false) => "that is not possible".to_owned(),
    }
}

impl ChangeError {
    /// Wraps a geometric failure with what was being done.
    pub(crate) fn geometry(what: impl Into<String>) -> impl FnOnce(GeometryError) -> Self {
        let what = what.into();
        move |source| Self::Geometry { what, source }
    }
}
