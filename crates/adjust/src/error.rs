//! Why a change cannot be made, and what to do instead.

use hangtrue_geometry::GeometryError;
use hangtrue_pattern::PatternError;

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
        "in the pinch “{pinch}” the place {asked:.1} mm along the path is {why}; the path is {length:.1} mm long"
    )]
    StationOffPath {
        /// Name of the pinch.
        pinch: String,
        /// Where the station would lie, mm from the start of the path.
        asked: f64,
        /// Length of the path, mm.
        length: f64,
        /// What is wrong with it.
        why: String,
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
        "the pinch “{pinch}” takes {amount:.1} mm within {distance:.1} mm, which folds the cloth by {angle:.0}°; take at most {most:.1} mm there, or spread it over two pinches"
    )]
    AmountTooLarge {
        /// Name of the pinch.
        pinch: String,
        /// The amount, mm.
        amount: f64,
        /// The distance it changes over, mm.
        distance: f64,
        /// The fold it would make, degrees.
        angle: f64,
        /// The most that is accepted there, mm.
        most: f64,
    },
    /// The crotch seam cannot be brought back to its length.
    #[error(
        "the crotch seam of the {piece} cannot keep its {length:.1} mm: the curve can give between {least:.1} and {most:.1} mm with its ends and the centre line held, and {wanted:.1} mm is needed; take a smaller amount"
    )]
    CrotchCannotHold {
        /// The piece.
        piece: String,
        /// Length to be kept, mm.
        length: f64,
        /// Length wanted of the curve, mm.
        wanted: f64,
        /// Least the curve can be, mm.
        least: f64,
        /// Most it can be, mm.
        most: f64,
    },
    /// The crotch seam is not a straight centre line running into a hook.
    #[error(
        "the crotch seam of the {piece} {why}; redraw it as a straight centre line that runs smoothly into the hook"
    )]
    NoHook {
        /// The piece.
        piece: String,
        /// What is wrong.
        why: String,
    },
    /// A place that lies outside the seam it is asked on.
    #[error("{what} is {asked:.1} mm, but {} here; choose another length", possible(*low, *high))]
    OutOfReach {
        /// What is asked, in words.
        what: String,
        /// What was asked, mm.
        asked: f64,
        /// Least possible, mm.
        low: f64,
        /// Most possible, mm.
        high: f64,
    },
    /// A measure that was to be kept is not kept.
    #[error(
        "{measure} was to stay {before:.2} mm but became {after:.2} mm, so the change is not made; take a smaller amount or another method"
    )]
    NotKept {
        /// The measure.
        measure: String,
        /// Before, mm.
        before: f64,
        /// After, mm.
        after: f64,
    },
    /// More stretch than cloth takes.
    #[error(
        "{amount:.1} mm of ease on {length:.0} mm is {percent:.1} %; cloth eased or stretched by more than {limit:.0} % will show it, so take a smaller amount or let the mating piece follow"
    )]
    TooMuchEase {
        /// The ease, mm.
        amount: f64,
        /// Over this seam length, mm.
        length: f64,
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

/// The lengths that are possible, in words; either side may be open.
fn possible(low: f64, high: f64) -> String {
    match (low.is_finite(), high.is_finite()) {
        (true, true) => format!("only {low:.1} to {high:.1} mm is possible"),
        (false, true) => format!("only up to {high:.1} mm is possible"),
        (true, false) => format!("only {low:.1} mm or more is possible"),
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
