//! What can go wrong on the way to paper.

use hangtrue_cut::CutError;
use hangtrue_geometry::words::Length;
use hangtrue_pattern::PatternError;

/// A pattern that cannot be printed as asked. Lengths in mm.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PrintError {
    /// There is nothing to print.
    #[error("there is nothing to print: the pattern has no piece; draft or bring in one first")]
    Nothing,
    /// A coordinate is not a finite number.
    #[error("{what} has a place that is not a number; check the pattern before printing")]
    NotFinite {
        /// What was to be drawn.
        what: String,
    },
    /// A margin outside what the sheets can take.
    #[error("a margin of {asked} cannot be used; choose one from 0 to {most}")]
    Margin {
        /// The margin asked for, mm.
        asked: Length,
        /// The largest that leaves room for the first sheet, mm.
        most: Length,
    },
    /// An overlap outside what the join marks need.
    #[error("an overlap of {asked} cannot be used; choose one from {least:#} to {most}")]
    Overlap {
        /// The overlap asked for, mm.
        asked: Length,
        /// The least that holds the join marks, mm.
        least: Length,
        /// The most, mm.
        most: Length,
    },
    /// A roll too narrow or too wide to print on.
    #[error("a roll {asked} wide cannot be used; choose a width from {least:#} to {most}")]
    Roll {
        /// The width asked for, mm.
        asked: Length,
        /// The narrowest, mm.
        least: Length,
        /// The widest, mm.
        most: Length,
    },
    /// A page larger than a PDF can hold.
    #[error(
        "a page of {width} by {height} is larger than the {most} a PDF can hold; print on sheets instead"
    )]
    Page {
        /// Width asked for, mm.
        width: Length,
        /// Height asked for, mm.
        height: Length,
        /// The most, mm.
        most: Length,
    },
    /// Lines or squares that a projector cannot show.
    #[error("{what} of {asked} cannot be used for a projector; choose from {least} to {most}")]
    Projector {
        /// Lines, or squares of the grid.
        what: &'static str,
        /// What was asked, mm.
        asked: Length,
        /// The least, mm.
        least: Length,
        /// The most, mm.
        most: Length,
    },
    /// The pattern would need an absurd number of sheets.
    #[error("the pattern is {width} by {height} and would need {sheets} sheets; check its units")]
    TooLarge {
        /// Width of the whole drawing, mm.
        width: Length,
        /// Height of the whole drawing, mm.
        height: Length,
        /// Sheets it would take.
        sheets: usize,
    },
    /// The cutting plan cannot be carried out.
    #[error(transparent)]
    Cut(#[from] CutError),
    /// The pattern itself is at fault.
    #[error(transparent)]
    Pattern(#[from] PatternError),
    /// The PDF could not be put together.
    #[error("the PDF could not be put together: {why}")]
    Pdf {
        /// What the PDF library said.
        why: String,
    },
}
