//! The lines, points and words of a DXF drawing, each on its layer.

use dxf::Drawing;
use dxf::entities::{Entity, EntityType, Line, ModelPoint, Polyline, Spline, Text, Vertex};
use hangtrue_geometry::{BezPath, Chain, PathEl, PathSeg, Point};

/// The polylines of the point form lie within this of the curve, mm.
pub const SAMPLED_WITHIN: f64 = 0.002;
/// Height of letters, mm.
pub(super) const LETTERS: f64 = 6.0;

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
pub(super) enum DxfLayer {
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
    /// Its name in that form.
    pub(super) fn name(self, form: DxfForm) -> &'static str {
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

/// A place of the plane in DXF.
pub(super) fn there(p: Point) -> dxf::Point {
    dxf::Point::new(p.x, p.y, 0.0)
}

/// Draws into a list of entities that belong to the drawing.
pub(super) struct Pen<'a> {
    pub(super) drawing: &'a mut Drawing,
    pub(super) form: DxfForm,
    pub(super) out: &'a mut Vec<Entity>,
}

impl Pen<'_> {
    fn push(&mut self, specific: EntityType, sheet: DxfLayer) {
        let mut entity = Entity::new(specific);
        entity.common.layer = sheet.name(self.form).into();
        self.out.push(entity);
    }

    /// A closed outline of edges, with its turn and curve points.
    pub(super) fn outline(&mut self, edges: &[Chain], sheet: DxfLayer) {
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
    pub(super) fn run(&mut self, chain: &Chain, sheet: DxfLayer) {
        match (self.form, chain.segments()) {
            (_, [PathSeg::Line(line)]) => self.line(line.p0, line.p1, sheet),
            (DxfForm::Sewn, _) => self.points(&sampled(chain), false, sheet),
            (DxfForm::Plain, _) => self.spline(chain, sheet),
        }
    }

    pub(super) fn line(&mut self, a: Point, b: Point, sheet: DxfLayer) {
        self.push(EntityType::Line(Line::new(there(a), there(b))), sheet);
    }

    pub(super) fn points(&mut self, points: &[Point], closed: bool, sheet: DxfLayer) {
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

    pub(super) fn spot(&mut self, p: Point, sheet: DxfLayer) {
        self.push(EntityType::ModelPoint(ModelPoint::new(there(p))), sheet);
    }

    pub(super) fn text(&mut self, text: &str, at: Point, angle: f64, sheet: DxfLayer) {
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
