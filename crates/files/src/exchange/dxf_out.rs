//! DXF out.
//!
//! Laid out as ASTM D6673 lays out a sewn-products file, from memory: a block
//! for each piece, put in place once; layer 1 the boundary, 2 turn points, 3
//! curve points, 4 notches, 6 mirror line, 7 grain, 8 internal lines, 11 cut
//! lines, 13 drill marks, 14 the sew line; words that name the piece, its size and how many are
//! cut; curves as polylines through points. [`DxfForm::Plain`] writes the same
//! lines as exact splines under layers named in words, without blocks, for
//! drawing programs.

use super::dxf_pen::{DxfForm, DxfLayer, LETTERS, Pen, there};
use super::{ExchangeError, SendOptions};
use crate::print::{NO_ALLOWANCE, PrintError};
use dxf::entities::{Entity, EntityType, Insert};
use dxf::enums::{AcadVersion, DrawingUnits, Units};
use dxf::tables::Layer;
use dxf::{Block, Drawing};
use hangtrue_cut::{CutPiece, Quantity, cut_chain, seam_with_caps};
use hangtrue_geometry::{Affine, Chain, Point, Vec2};
use hangtrue_pattern::{Markings, Pattern, Piece};
use std::collections::BTreeSet;

/// Between two pieces, mm.
const GAP: f64 = 40.0;

/// The pattern as DXF (R2000, text), in mm and saying so. The words are notes
/// of what could not be written.
///
/// # Errors
/// [`ExchangeError`] when a piece cannot be drawn or the file not put together.
pub fn dxf_of(
    pattern: &Pattern,
    options: &SendOptions,
    form: DxfForm,
) -> Result<(Vec<u8>, Vec<String>), ExchangeError> {
    if pattern.pieces.is_empty() {
        return Err(PrintError::Nothing.into());
    }
    let mut writer = Writer { drawing: empty_drawing(), form, notes: Vec::new() };
    let mut x = 0.0;
    for piece in &pattern.pieces {
        let stretch = options.set.map_or(Affine::IDENTITY, |set| set.to_cloth(piece));
        let bounds = stretch.transform_rect_bbox(piece.bounds());
        let to = Vec2::new(x - bounds.x0, -bounds.y0);
        // A block keeps the piece's own places and is put in place as a whole.
        let in_blocks = writer.in_blocks();
        let shift = if in_blocks { stretch } else { Affine::translate(to) * stretch };
        let drawn = writer.piece(pattern, piece, options, shift)?;
        writer.place(piece, drawn, to);
        x += bounds.width() + GAP;
    }
    writer.finished(options)
}

/// Pieces where they lie on the cloth, each moved from where it is drawn, with lines for the
/// edges of the cloth, as plain DXF.
pub(crate) fn dxf_of_lay(
    pattern: &Pattern,
    options: &SendOptions,
    laid: &[(&Piece, Affine)],
    edges: &[(Point, Point)],
) -> Result<(Vec<u8>, Vec<String>), ExchangeError> {
    let form = DxfForm::Plain;
    let mut writer = Writer { drawing: empty_drawing(), form, notes: Vec::new() };
    for (piece, to_cloth) in laid {
        let drawn = writer.piece(pattern, piece, options, *to_cloth)?;
        writer.place(piece, drawn, Vec2::ZERO);
    }
    let mut out = Vec::new();
    let mut pen = Pen { drawing: &mut writer.drawing, form, out: &mut out };
    edges.iter().for_each(|(a, b)| pen.line(*a, *b, DxfLayer::ClothEdge));
    out.into_iter().for_each(|entity| {
        writer.drawing.add_entity(entity);
    });
    writer.finished(options)
}

fn empty_drawing() -> Drawing {
    let mut drawing = Drawing::new();
    let header = &mut drawing.header;
    header.version = AcadVersion::R2000;
    header.default_drawing_units = Units::Millimeters;
    header.drawing_units = DrawingUnits::Metric;
    // The same pattern gives the same file: no clock and no chance numbers.
    header.creation_date = Default::default();
    header.creation_date_universal = Default::default();
    header.update_date = Default::default();
    header.update_date_universal = Default::default();
    header.fingerprint_guid = Default::default();
    header.version_guid = Default::default();
    drawing
}

struct Writer {
    drawing: Drawing,
    form: DxfForm,
    notes: Vec<String>,
}

impl Writer {
    /// Draws a piece, moved.
    fn piece(
        &mut self,
        pattern: &Pattern,
        piece: &Piece,
        options: &SendOptions,
        shift: Affine,
    ) -> Result<Vec<Entity>, ExchangeError> {
        let mut out = Vec::new();
        let known = options.set.and_then(|set| set.piece(&piece.name));
        let mut drawing = std::mem::replace(&mut self.drawing, Drawing::new());
        let pen = Pen { drawing: &mut drawing, form: self.form, out: &mut out };
        let mut drawn = Drawn { pen, piece, known, shift };
        let outlined = drawn.outlines(options);
        let placed = pattern.place_lines().0;
        let markings = Markings::of(pattern, piece, &placed);
        drawn.lines(&markings);
        drawn.spots(&markings);
        drawn.words(options);
        self.drawing = drawing;
        self.notes.extend(markings.faults);
        outlined.map(|()| out)
    }

    /// The file, and what could not be written.
    fn finished(mut self, options: &SendOptions) -> Result<(Vec<u8>, Vec<String>), ExchangeError> {
        self.style(options);
        self.layers();
        let mut bytes = Vec::new();
        self.drawing
            .save(&mut bytes)
            .map_err(|e| ExchangeError::Unwritable { why: e.to_string() })?;
        Ok((super::dxf_tidy::tidied(bytes), self.notes))
    }

    fn in_blocks(&self) -> bool {
        self.form == DxfForm::Sewn
    }

    fn place(&mut self, piece: &Piece, entities: Vec<Entity>, to: Vec2) {
        let before = self.drawing.entities().count();
        let count = entities.len();
        for entity in entities {
            self.drawing.add_entity(entity);
        }
        if !self.in_blocks() {
            return;
        }
        // Passing through the drawing gave every entity its handle, which a block
        // does not do for what is put in it.
        let mut entities: Vec<Entity> = (before..before + count)
            .rev()
            .filter_map(|index| self.drawing.remove_entity(index))
            .collect();
        entities.reverse();
        let name = self.block_name(&piece.name);
        let block = Block { name: name.clone(), layer: "0".into(), entities, ..Block::default() };
        self.drawing.add_block(block);
        let insert = Insert { name, location: there(Point::ORIGIN + to), ..Insert::default() };
        let mut entity = Entity::new(EntityType::Insert(insert));
        entity.common.layer = DxfLayer::Boundary.name(self.form).into();
        self.drawing.add_entity(entity);
    }

    /// The name of the piece in letters every reader takes, made unique.
    fn block_name(&self, piece: &str) -> String {
        let plain: String =
            piece.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '_' }).collect();
        let base = if plain.is_empty() { "piece".to_owned() } else { plain };
        let taken = |n: &str| self.drawing.blocks().any(|b| b.name.eq_ignore_ascii_case(n));
        let mut name = base.clone();
        let mut number = 2;
        while taken(&name) {
            name = format!("{base}_{number}");
            number += 1;
        }
        name
    }

    fn style(&mut self, options: &SendOptions) {
        let lines = [format!("STYLE NAME: {}", options.title), "UNITS: METRIC".to_owned()];
        let mut out = Vec::new();
        let mut drawing = std::mem::replace(&mut self.drawing, Drawing::new());
        let mut pen = Pen { drawing: &mut drawing, form: self.form, out: &mut out };
        for (index, text) in lines.iter().enumerate() {
            let below = Point::new(0.0, -20.0 - 1.6 * LETTERS * index as f64);
            pen.text(text, below, 0.0, DxfLayer::Boundary);
        }
        self.drawing = drawing;
        for entity in out {
            self.drawing.add_entity(entity);
        }
    }

    /// Every layer used stands in the table of layers.
    fn layers(&mut self) {
        let blocks = self.drawing.blocks().flat_map(|b| &b.entities);
        let used: BTreeSet<String> =
            self.drawing.entities().chain(blocks).map(|e| e.common.layer.clone()).collect();
        for name in used {
            if !self.drawing.layers().any(|l| l.name == name) {
                self.drawing.add_layer(Layer { name, ..Layer::default() });
            }
        }
    }
}

/// A piece while it is drawn.
struct Drawn<'a> {
    pen: Pen<'a>,
    piece: &'a Piece,
    /// The same piece in the set that is cut, where there is one.
    known: Option<&'a CutPiece>,
    shift: Affine,
}

impl Drawn<'_> {
    fn moved(&self, chain: &Chain) -> Chain {
        chain.moved(self.shift)
    }

    /// The sew line, and the cut line where there is an allowance.
    fn outlines(&mut self, options: &SendOptions) -> Result<(), ExchangeError> {
        let allowance = options.allowance_on(self.piece);
        let outline = if allowance.is_some() { DxfLayer::Sew } else { DxfLayer::Boundary };
        let mut edges = Vec::with_capacity(self.piece.seams.len());
        for seam in &self.piece.seams {
            edges.push(self.moved(&seam_with_caps(seam)?));
        }
        self.pen.outline(&edges, outline);
        if let Some(allowance) = allowance {
            let cut = match self.known {
                Some(known) => known.cut.clone(),
                None => cut_chain(self.piece, allowance).map_err(PrintError::from)?,
            };
            let cut = self.moved(&cut);
            self.pen.outline(&[cut], DxfLayer::Boundary);
        }
        Ok(())
    }

    /// Grain, darts, lines of the piece, folds, reference lines.
    fn lines(&mut self, markings: &Markings) {
        let grain = self.piece.grain;
        self.pen.line(self.shift * grain.from, self.shift * grain.to, DxfLayer::Grain);
        for dart in &markings.darts {
            self.pen.points(&dart.legs.map(|p| self.shift * p), false, DxfLayer::Internal);
        }
        let folds = self.known.map_or(&[][..], |known| &known.folds);
        for line in self.piece.inner.iter().chain(folds) {
            let chain = self.moved(&line.chain);
            self.pen.run(&chain, DxfLayer::Internal);
        }
        for line in &markings.lines {
            let chain = self.moved(&line.placed.chain);
            self.pen.run(&chain, DxfLayer::Internal);
            let words = format!("ANNOTATION: {}", line.placed.name);
            self.pen.text(&words, chain.start(), 0.0, DxfLayer::Internal);
        }
    }

    /// Notches and drill marks; of a piece that is cut, on the line the shears follow.
    fn spots(&mut self, markings: &Markings) {
        let shift = self.shift;
        let mut spot = |p: Point, layer| self.pen.spot(shift * p, layer);
        match self.known {
            Some(known) => {
                known.snips.iter().for_each(|snip| spot(snip.at, DxfLayer::Notch));
                known.drills.iter().for_each(|drill| spot(drill.at, DxfLayer::Drill));
            }
            None => {
                let strokes = markings.notches.iter().flat_map(|notch| &notch.strokes);
                strokes.for_each(|(place, _)| spot(*place, DxfLayer::Notch));
            }
        }
    }

    /// What the piece is and how often it is cut, on the middle of its grain: inside any
    /// piece we draw.
    fn words(&mut self, options: &SendOptions) {
        let grain = self.piece.grain;
        let middle = self.shift * grain.from.lerp(grain.to, 0.4);
        let mut words = vec![format!("PIECE NAME: {}", self.piece.name)];
        words.push(format!("SIZE: {}", options.size));
        // As drawn, and mirrored: a piece for one leg is cut once, as drawn.
        let quantity = if self.piece.leg().is_some() { "1,0" } else { "1,1" };
        match self.known {
            None => words.push(format!("QUANTITY: {quantity}")),
            Some(known) => words.extend(known.to_cut.iter().map(|cut| {
                format!("QUANTITY: {} {}", as_drawn_and_mirrored(cut.quantity), cut.cloth.word())
            })),
        }
        if options.allowance_on(self.piece).is_none_or(|a| a.is_none_on(self.piece)) {
            words.push(format!("ANNOTATION: {NO_ALLOWANCE}"));
        }
        words.extend(options.label.iter().map(|l| format!("ANNOTATION: {l}")));
        for (index, text) in words.iter().enumerate() {
            let below = middle - Vec2::new(0.0, 1.6 * LETTERS * index as f64);
            self.pen.text(text, below, 0.0, DxfLayer::Boundary);
        }
    }
}

fn as_drawn_and_mirrored(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Pair => "1,1",
        Quantity::TwoPairs => "2,2",
        Quantity::One => "1,0",
    }
}
