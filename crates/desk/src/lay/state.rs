//! What is kept of the lay between two pictures.

use super::work::Work;
use crate::board::Board;
use hangtrue_adjust::{ClothLay, Document, OPEN_ROUND, UsualLay};
use hangtrue_cut::{Cloth, CutSet};
use hangtrue_files::lay::{LayFile, OnCloth, full_size, picture_file};
use hangtrue_files::print::fitting_label;
use hangtrue_files::save::{Over, write_output};
use hangtrue_geometry::Vec2;
use hangtrue_lay::{Faults, Lay, Place, needed};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::words::InUnit;
use std::path::Path;
use std::sync::Arc;

/// The room's own state.
pub(crate) struct LayRoom {
    /// It has the card and the table's place.
    pub open: bool,
    /// Which cloth is laid.
    pub of: Cloth,
    /// For how long a lay is looked for, seconds.
    pub seconds: f64,
    /// As what it is saved at full size.
    pub file: LayFile,
    pub(super) chosen: Option<usize>,
    pub(super) held: Option<Held>,
    pub(super) work: Option<Work>,
    pub(super) fault: Option<String>,
    pub(super) made: Option<Made>,
    pub(super) shown: Option<Shown>,
}

impl Default for LayRoom {
    fn default() -> Self {
        Self {
            open: false,
            of: Cloth::Main,
            seconds: 3.0,
            file: LayFile::Pdf,
            chosen: None,
            held: None,
            work: None,
            fault: None,
            made: None,
            shown: None,
        }
    }
}

/// A part in the hand: where it is pulled to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Held {
    pub part: usize,
    pub place: Place,
    /// From the place the pointer holds it at to its corner, mm.
    pub by: Vec2,
}

/// The pieces that are cut, and what they were made from.
pub(super) struct Made {
    pub pattern: Arc<Pattern>,
    pub plan: Document,
    pub set: Result<Arc<CutSet>, String>,
}

/// The lay as it is shown, and what it was made from.
pub(super) struct Shown {
    pub set: Arc<CutSet>,
    pub of: Cloth,
    pub cloth: ClothLay,
    pub held: Option<Held>,
    pub lay: Result<(Lay, Faults), String>,
}

/// What the pieces to cut are made by, without the rest of the project.
pub(crate) fn plan_of(document: &Document) -> Document {
    let mut plan = Document::from_pieces("", "", document.unit, Pattern::default());
    plan.cutting = document.cutting.clone();
    plan.printing.with_allowance = document.printing.with_allowance;
    plan.printing.allowance = document.printing.allowance;
    plan.printing.hem = document.printing.hem;
    plan
}

impl Shown {
    /// The lay with all that is told of it; none where there is none.
    pub fn on_cloth<'a>(&'a self, board: &'a Board) -> Option<OnCloth<'a>> {
        let (lay, _) = self.lay.as_ref().ok()?;
        let document = board.document();
        let bought_by = UsualLay::of(board.unit()).bought_by;
        Some(OnCloth {
            set: &self.set,
            of: self.of,
            cloth: &self.cloth,
            lay,
            needed: needed(lay, &self.cloth, self.set.shrinkage_of(self.of), bought_by),
            title: &document.title,
            label: fitting_label(document, OPEN_ROUND, &board.today),
            unit: board.unit(),
        })
    }
}

impl LayRoom {
    /// Writes the lay: as a small picture, or at full size; gives what is told of it.
    pub fn save(
        &self,
        board: &Board,
        file: Option<LayFile>,
        path: &Path,
    ) -> Result<String, String> {
        let on = self.shown.as_ref().and_then(|shown| shown.on_cloth(board));
        let on = on.filter(|on| on.lay.laid().next().is_some());
        let on = on.ok_or("nothing is laid yet; find a lay first")?;
        let bytes = match file {
            None => picture_file(&on, LayFile::Pdf).map_err(|why| why.in_unit(on.unit))?,
            Some(file) => full_size(&on, file).map_err(|why| why.in_unit(on.unit))?.0,
        };
        write_output(path, &bytes, Over::Replace).map_err(|why| why.to_string())?;
        let wrong =
            if on.lay.faults().is_empty() { "" } else { " Something is to be put right in it." };
        Ok(format!("written to “{}”.{wrong}", path.display()))
    }
}
