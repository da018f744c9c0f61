//! What a file is asked for: read or written, and as what.

use hangtrue_cut::SewnAs;
use hangtrue_files::exports::Export;
use hangtrue_files::lay::LayFile;
use hangtrue_files::print::Reduced;

/// What a dialog was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Asked {
    Open,
    SaveAs,
    /// Where a project that is being begun is to lie.
    BeginAs,
    SavePdf,
    SaveMarking,
    /// The sheet that measures are written on.
    SaveMeasuring,
    /// The sheet that is written on at the fitting.
    SaveFitting,
    /// The pieces to cut and the order in which they are sewn.
    SaveSewing(SewnAs),
    /// The pieces at half or quarter scale.
    SaveHandout(Reduced),
    /// The list of a class.
    ClassList,
    /// An empty list to fill in.
    SaveClassList,
    /// The toile as it will hang, a picture.
    SaveHang,
    /// The lay plan, a small picture with its measures.
    SaveLayPlan,
    /// The lay at full size.
    SaveLay(LayFile),
    SaveJournal,
    HandOn,
    Bring,
    TakePhoto,
    Photo,
    AddPhoto,
    SaveJob,
    SaveStraight,
    Send(&'static Export),
}

impl Asked {
    pub fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a project",
            Self::SaveAs => "Save the project as",
            Self::BeginAs => "Save the new project as",
            Self::SavePdf => "Save the sheets as PDF",
            Self::SaveMarking => "Save the marking sheet as PDF",
            Self::SaveMeasuring => "Save the measuring sheet as PDF",
            Self::SaveFitting => "Save the fitting sheet as PDF",
            Self::SaveSewing(_) => "Save the sewing sheet as PDF",
            Self::SaveHandout(_) => "Save the handout as PDF",
            Self::ClassList => "The list of a class (CSV)",
            Self::SaveClassList => "Save an empty class list (CSV)",
            Self::SaveHang => "Save the picture of how it will hang",
            Self::SaveLayPlan => "Save the lay plan as PDF",
            Self::SaveLay(_) => "Save the lay at full size",
            Self::SaveJournal => "Write the fitting journal as PDF",
            Self::HandOn => "Hand the project on without photos",
            Self::Bring => "Bring in a drawing (SVG or DXF)",
            Self::TakePhoto => "Add a photo of the toile (JPEG or PNG)",
            Self::Photo => "A piece from a photo (PNG, JPEG), or saved work on one",
            Self::AddPhoto => "Another photo of the piece (PNG, JPEG)",
            Self::SaveJob => "Save the work on the photo",
            Self::SaveStraight => "Save the picture from straight above",
            Self::Send(export) => export.title,
        }
    }

    /// Whether a file is read that must be there, not written.
    pub fn reads(self) -> bool {
        matches!(
            self,
            Self::Open
                | Self::Bring
                | Self::TakePhoto
                | Self::Photo
                | Self::AddPhoto
                | Self::ClassList
        )
    }

    pub fn ending(self) -> &'static str {
        match self {
            Self::Open | Self::SaveAs | Self::BeginAs | Self::HandOn | Self::SaveJob => "ron",
            Self::Photo | Self::AddPhoto | Self::SaveStraight | Self::SaveHang => "png",
            Self::SavePdf
            | Self::SaveMarking
            | Self::SaveMeasuring
            | Self::SaveFitting
            | Self::SaveSewing(_)
            | Self::SaveHandout(_)
            | Self::SaveLayPlan
            | Self::SaveLay(LayFile::Pdf)
            | Self::SaveJournal => "pdf",
            Self::SaveLay(LayFile::Dxf) => "dxf",
            Self::ClassList | Self::SaveClassList => "csv",
            Self::Bring | Self::SaveLay(LayFile::Svg) => "svg",
            Self::Send(export) => export.ending,
            Self::TakePhoto => "jpg",
        }
    }
}
