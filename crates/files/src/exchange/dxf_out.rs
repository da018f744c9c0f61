//! DXF out.
//!
//! Laid out as ASTM D6673 lays out a sewn-products file, from memory: a block
//! for each piece, put in place once; layer 1 the boundary, 2 turn points, 3
//! curve points, 4 notches, 6 mirror line, 7 grain, 8 internal lines, 11 cut
//! lines, 13 drill marks, 14 the sew line; words that name the piece, its size and how many are
//! cut; curves as polylines through points. [`DxfForm::Plain`] writes the same
//! lines as exact splines under layers named in words, without blocks, for
//! drawing programs.

use super::{ExchangeError, SendOptions};
use crate::print::{NO_ALLOWANCE, PrintError};
use dxf::entities::{Entity, EntityType, Insert, Line, ModelPoint, Polyline, Spline, Text, Vertex};
use dxf::enums::{AcadVersion, DrawingUnits, Units};
use dxf::tables::Layer;
use dxf::{Block, Drawing};
use hangtrue_cut::{Quantity, cut_chain, seam_with_caps};
use hangtrue_geometry::{Affine, BezPath, Chain, PathEl, PathSeg, Point, Vec2};
use hangtrue_pattern::{Markings, Pattern, Piece};
use std::collections::BTreeSet;

/// The polylines of the point form lie within this of the curve, mm.
pub const SAMPLED_WITHIN: f64 = 0.002;
/// Between two pieces, mm.
const GAP: f64 = 40.0;
/// Height of letters, mm.
const LETTERS: f64 = 6.0;

/// How curves and pieces are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DxfForm {
    /// As ASTM D6673: blocks, numbered layers, curves as points.
    #[default]
    Sewn,
    /// Named layers, exact splines.
    Plain,
}

/// A line of a piece and its layer.
#[derive(Clone, Copy)]
enum DxfLayer {
    Boundary,
    Turn,
    Curve,
    Notch,
    Grain,
    Internal,
    Drill,
    Sew,
    ClothEdge,
}

impl DxfLayer {
    fn name(self, form: DxfForm) -> &'static str {
        let (number, word) = match self {
            Self::Boundary => ("1", "boundary"),
            Self::Turn => ("2", "turn points"),
            Self::Curve => ("3", "curve points"),
            Self::Notch => ("4", "notches"),
            Self::Grain => ("7", "grain"),
            Self::Internal => ("8", "internal lines"),
            Self::Drill => ("13", "drill marks"),
            Self::Sew => ("14", "sew line"),
            Self::ClothEdge => ("8", "edge of the cloth"),
        };
        if form == DxfForm::Sewn { number } else { word }
    }
}

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
        let moved = |c: &Chain| c.moved(shift);
        let at = |p: Point| shift * p;
        let mut out = Vec::new();
        let allowance = options.allowance_on(piece);
        let known = options.set.and_then(|set| set.piece(&piece.name));
        let outline = if allowance.is_some() { DxfLayer::Sew } else { DxfLayer::Boundary };
        let mut edges = Vec::with_capacity(piece.seams.len());
        for seam in &piece.seams {
            edges.push(moved(&seam_with_caps(seam)?));
        }
        let mut drawing = std::mem::replace(&mut self.drawing, Drawing::new());
        let mut pen = Pen { drawing: &mut drawing, form: self.form, out: &mut out };
        pen.outline(&edges, outline);
        if let Some(allowance) = allowance {
            let cut = match known {
                Some(known) => known.cut.clone(),
                None => cut_chain(piece, allowance).map_err(PrintError::from)?,
            };
            pen.outline(&[moved(&cut)], DxfLayer::Boundary);
        }
        pen.line(at(piece.grain.from), at(piece.grain.to), DxfLayer::Grain);
        let placed = pattern.place_lines().0;
        let markings = Markings::of(pattern, piece, &placed);
        for dart in &markings.darts {
            pen.points(&dart.legs.map(at), false, DxfLayer::Internal);
        }
        let folds = known.map_or(&[][..], |known| &known.folds);
        for line in piece.inner.iter().chain(folds) {
            pen.run(&moved(&line.chain), DxfLayer::Internal);
        }
        for line in &markings.lines {
            let chain = moved(&line.placed.chain);
            pen.run(&chain, DxfLayer::Internal);
            let words = format!("ANNOTATION: {}", line.placed.name);
            pen.text(&words, chain.start(), 0.0, DxfLayer::Internal);
        }
        match known {
            // On the line the shears follow.
            Some(known) => {
                known.snips.iter().for_each(|snip| pen.spot(at(snip.at), DxfLayer::Notch));
                known.drills.iter().for_each(|drill| pen.spot(at(drill.at), DxfLayer::Drill));
            }
            None => {
                for (place, _) in markings.notches.iter().flat_map(|notch| &notch.strokes) {
                    pen.spot(at(*place), DxfLayer::Notch);
                }
            }
        }
        self.notes.extend(markings.faults);
        // The words stand on the middle of the grain, inside any piece we draw.
        let middle = at(piece.grain.from.lerp(piece.grain.to, 0.4));
        let mut words = vec![format!("PIECE NAME: {}", piece.name)];
        words.push(format!("SIZE: {}", options.size));
        // As drawn, and mirrored: a piece for one leg is cut once, as drawn.
        let quantity = if piece.leg().is_some() { "1,0" } else { "1,1" };
        match known {
            None => words.push(format!("QUANTITY: {quantity}")),
            Some(known) => words.extend(known.to_cut.iter().map(|cut| {
                format!("QUANTITY: {} {}", as_drawn_and_mirrored(cut.quantity), cut.cloth.word())
            })),
        }
        if allowance.is_none() {
            words.push(format!("ANNOTATION: {NO_ALLOWANCE}"));
        }
        words.extend(options.label.iter().map(|l| format!("ANNOTATION: {l}")));
        for (index, text) in words.iter().enumerate() {
            pen.text(
                text,
                middle - Vec2::new(0.0, 1.6 * LETTERS * index as f64),
                0.0,
                DxfLayer::Boundary,
            );
        }
        self.drawing = drawing;
        Ok(out)
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

fn as_drawn_and_mirrored(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Pair => "1,1",
        Quantity::TwoPairs => "2,2",
        Quantity::One => "1,0",
    }
}

fn there(p: Point) -> dxf::Point {
    dxf::Point::new(p.x, p.y, 0.0)
}

struct Pen<'a> {
    drawing: &'a mut Drawing,
    form: DxfForm,
    out: &'a mut Vec<Entity>,
}

impl Pen<'_> {
    fn push(&mut self, specific: EntityType, sheet: DxfLayer) {
        let mut entity = Entity::new(specific);
        entity.common.layer = sheet.name(self.form).into();
        self.out.push(entity);
    }

    /// A closed outline of edges, with its turn and curve points.
    fn outline(&mut self, edges: &[Chain], sheet: DxfLayer) {
        let mut points: Vec<Point> = Vec::new();
        for edge in edges {
            if self.form == DxfForm::Plain {
                self.run(edge, sheet);
            }
            let through = sampled(edge);
            if let Some((first, rest)) = through.split_first() {
                self.spot(*first, DxfLayer::Turn);
                if self.form == DxfForm::Sewn {
                    for p in rest.iter().take(rest.len().saturating_sub(1)) {
                        self.spot(*p, DxfLayer::Curve);
                    }
                }
            }
            points.extend(through.iter().take(through.len().saturating_sub(1)));
        }
        if self.form == DxfForm::Sewn {
            self.points(&points, true, sheet);
        }
    }

    /// An open line.
    fn run(&mut self, chain: &Chain, sheet: DxfLayer) {
        match (self.form, chain.segments()) {
            (_, [PathSeg::Line(line)]) => self.line(line.p0, line.p1, sheet),
            (DxfForm::Sewn, _) => self.points(&sampled(chain), false, sheet),
            (DxfForm::Plain, _) => self.spline(chain, sheet),
        }
    }

    fn line(&mut self, a: Point, b: Point, sheet: DxfLayer) {
        self.push(EntityType::Line(Line::new(there(a), there(b))), sheet);
    }

    fn points(&mut self, points: &[Point], closed: bool, sheet: DxfLayer) {
        let mut polyline = Polyline::default();
        polyline.set_is_closed(closed);
        for &p in points {
            polyline.add_vertex(self.drawing, Vertex::new(there(p)));
        }
        self.push(EntityType::Polyline(polyline), sheet);
    }

    /// The chain as one cubic spline: every segment a Bézier arc, so knots are
    /// threefold where segments meet.
    fn spline(&mut self, chain: &Chain, sheet: DxfLayer) {
        let mut control = vec![there(chain.start())];
        let mut knots = vec![0.0; 4];
        for (index, segment) in chain.segments().iter().enumerate() {
            let cubic = segment.to_cubic();
            control.extend([cubic.p1, cubic.p2, cubic.p3].map(there));
            knots.extend([(index + 1) as f64; 3]);
        }
        knots.push(chain.segments().len() as f64);
        let mut spline = Spline {
            degree_of_curve: 3,
            knot_values: knots,
            control_points: control,
            ..Spline::default()
        };
        spline.set_is_planar(true);
        self.push(EntityType::Spline(spline), sheet);
    }

    fn spot(&mut self, p: Point, sheet: DxfLayer) {
        self.push(EntityType::ModelPoint(ModelPoint::new(there(p))), sheet);
    }

    fn text(&mut self, text: &str, at: Point, angle: f64, sheet: DxfLayer) {
        let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let text = Text {
            location: there(at),
            text_height: LETTERS,
            value: plain,
            rotation: angle.to_degrees(),
            ..Text::default()
        };
        self.push(EntityType::Text(text), sheet);
    }
}

/// Points along a chain, both ends too, that stay within [`SAMPLED_WITHIN`] of it.
fn sampled(chain: &Chain) -> Vec<Point> {
    let path: BezPath = chain.to_path();
    let mut points = Vec::new();
    kurbo::flatten(path, SAMPLED_WITHIN, |element| match element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => points.push(p),
        _ => {}
    });
    points
}
