//! DXF in: sewn-products files (ASTM D6673, memory) and plain drawings.

use super::dxf_curves::{SplineFault, bulged, elliptical, spline};
use super::{ExchangeError, Found, Label, Role, Run, Spot, SpotKind, limits};
use dxf::Drawing;
use dxf::entities::{Entity, EntityType, Insert, LwPolyline, Polyline, Spline};
use dxf::enums::Units;
use hangtrue_geometry::{Affine, Chain, Line, PathSeg, Point, Vec2};
use hangtrue_pattern::units::INCH;
use std::collections::{BTreeMap, HashMap};

/// Reads a DXF. Places are in the file's numbers; `unit` is set when the file
/// says what they are.
pub(crate) fn read(bytes: &[u8]) -> Result<Found, ExchangeError> {
    let mut found = Found::default();
    check_count(bytes, &mut found)?;
    let drawing = load(bytes)?;
    found.unit = stated_unit(&drawing);
    let mut reader = Reader {
        blocks: drawing.blocks().map(|b| (b.name.to_lowercase(), b)).collect(),
        found: &mut found,
        count: 0,
        placed: HashMap::new(),
    };
    let mut lone: Vec<&Entity> = Vec::new();
    for entity in drawing.entities() {
        if entity.common.is_in_paper_space {
            reader.found.lose("something on the sheet of a layout");
        } else {
            lone.push(entity);
        }
    }
    let drawn = lone.iter().any(|e| !matches!(e.specific, EntityType::Text(_)));
    for entity in lone {
        reader.entity(entity, Affine::IDENTITY, "", "", 0)?;
    }
    if !drawn {
        // A library of pieces that are never put in place.
        for block in drawing.blocks().filter(|b| !b.name.starts_with('*')) {
            for entity in &block.entities {
                reader.entity(entity, Affine::IDENTITY, &block.name, "", 1)?;
            }
        }
    }
    if found.unit.is_none() {
        found.unit = unit_in_words(&found.labels);
    }
    Ok(found)
}

/// What the reader below knows, what stands between entities, and the windows of
/// a layout, which hold nothing; anything else is passed over by it without a word.
const KNOWN: [&str; 47] = [
    "3DFACE",
    "3DLINE",
    "3DSOLID",
    "ACAD_PROXY_ENTITY",
    "ARC",
    "ARCALIGNEDTEXT",
    "ATTDEF",
    "ATTRIB",
    "BLOCK",
    "BODY",
    "CIRCLE",
    "DGNUNDERLAY",
    "DIMENSION",
    "DWFUNDERLAY",
    "ELLIPSE",
    "ENDBLK",
    "ENDSEC",
    "EOF",
    "HELIX",
    "IMAGE",
    "INSERT",
    "LEADER",
    "LIGHT",
    "LINE",
    "LWPOLYLINE",
    "MLINE",
    "MTEXT",
    "OLE2FRAME",
    "OLEFRAME",
    "PDFUNDERLAY",
    "POINT",
    "POLYLINE",
    "RAY",
    "REGION",
    "RTEXT",
    "SECTION",
    "SEQEND",
    "SHAPE",
    "SOLID",
    "SPLINE",
    "TEXT",
    "TOLERANCE",
    "TRACE",
    "VERTEX",
    "VIEWPORT",
    "WIPEOUT",
    "XLINE",
];

/// Refuses a file with too many entities before it is read into memory, and
/// lists the kinds of entity the reader does not know.
fn check_count(bytes: &[u8], found: &mut Found) -> Result<(), ExchangeError> {
    if bytes.starts_with(b"AutoCAD Binary DXF") {
        let size = bytes.len() as u64;
        let most = limits::LARGEST_BINARY_DXF;
        return if size > most { Err(ExchangeError::TooLarge { size, most }) } else { Ok(()) };
    }
    let mut lines = bytes.split(|&b| b == b'\n');
    let mut count = 0usize;
    let mut drawn = false;
    let mut opening = false;
    while let (Some(code), Some(value)) = (lines.next(), lines.next()) {
        let (code, value) = (code.trim_ascii(), value.trim_ascii());
        if code == b"2" && opening {
            drawn = matches!(value, b"ENTITIES" | b"BLOCKS");
        }
        opening = code == b"0" && value == b"SECTION";
        if code == b"0" {
            count += 1;
            if drawn && !KNOWN.iter().any(|k| k.as_bytes() == value) {
                let kind = String::from_utf8_lossy(value);
                found.lose(format!("an entity of kind {}", short(&kind)));
            }
            if count > limits::MOST_ENTITIES {
                let most = limits::MOST_ENTITIES;
                return Err(ExchangeError::TooMany { what: "entities", most });
            }
        }
    }
    Ok(())
}

fn load(bytes: &[u8]) -> Result<Drawing, ExchangeError> {
    if bytes.is_empty() {
        return Err(ExchangeError::NotDxf { why: "it is empty".into() });
    }
    Drawing::load(&mut &bytes[..]).map_err(|e| ExchangeError::NotDxf { why: e.to_string() })
}

/// The length of 1 in the file, mm ($INSUNITS). $MEASUREMENT tells only which
/// hatches a program offers and is no unit.
fn stated_unit(drawing: &Drawing) -> Option<f64> {
    match drawing.header.default_drawing_units {
        Units::Inches | Units::USSurveyInch => Some(INCH),
        Units::Feet => Some(12.0 * INCH),
        Units::Yards => Some(36.0 * INCH),
        Units::Mils => Some(INCH / 1000.0),
        Units::Microns => Some(1e-3),
        Units::Millimeters => Some(1.0),
        Units::Centimeters => Some(10.0),
        Units::Decimeters => Some(100.0),
        Units::Meters => Some(1000.0),
        _ => None,
    }
}

/// A sewn-products file says METRIC (mm) or ENGLISH (inches) in words (ASTM
/// D6673, memory).
fn unit_in_words(labels: &[Label]) -> Option<f64> {
    labels.iter().find_map(|l| {
        let text = l.text.trim().to_uppercase();
        match text.strip_prefix("UNITS:")?.trim() {
            "METRIC" => Some(1.0),
            "ENGLISH" => Some(INCH),
            _ => None,
        }
    })
}

struct Reader<'a> {
    blocks: BTreeMap<String, &'a dxf::Block>,
    found: &'a mut Found,
    count: usize,
    /// How often a block has been put in place as a piece.
    placed: HashMap<String, usize>,
}

/// The plane an entity is drawn in: seen from above, or from below (mirrored).
/// Others are not flat on the table.
fn plane(normal: &dxf::Vector) -> Option<Affine> {
    let flat = normal.x.abs() < 1e-9 && normal.y.abs() < 1e-9;
    if flat && normal.z > 0.0 {
        Some(Affine::IDENTITY)
    } else if flat && normal.z < 0.0 {
        Some(Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]))
    } else {
        None
    }
}

fn flat(p: &dxf::Point) -> Point {
    Point::new(p.x, p.y)
}

/// What a layer holds, by number (ASTM D6673, memory) or by our own words.
fn role_of(layer: &str) -> Role {
    match layer.trim().to_lowercase().as_str() {
        "1" | "boundary" => Role::Boundary,
        "14" | "sew line" => Role::Sew,
        "4" | "notches" => Role::Notch,
        "6" | "mirror line" => Role::Mirror,
        "7" | "grain" => Role::Grain,
        "8" | "11" | "internal lines" => Role::Inner,
        _ => Role::Unsaid,
    }
}

fn spot_of(layer: &str) -> Option<SpotKind> {
    match layer.trim().to_lowercase().as_str() {
        "2" | "turn points" => Some(SpotKind::Turn),
        "3" | "curve points" => Some(SpotKind::Curve),
        "4" | "notches" => Some(SpotKind::Notch),
        _ => None,
    }
}

impl Reader<'_> {
    fn entity(
        &mut self,
        entity: &Entity,
        to: Affine,
        group: &str,
        layer: &str,
        depth: usize,
    ) -> Result<(), ExchangeError> {
        self.count += 1;
        if self.count > limits::MOST_ENTITIES {
            return Err(ExchangeError::TooMany { what: "entities", most: limits::MOST_ENTITIES });
        }
        // What is drawn on layer 0 of a block lies on the layer of the block.
        let own = entity.common.layer.as_str();
        let layer = if own == "0" && !layer.is_empty() { layer } else { own };
        if !entity.common.is_visible {
            self.found.lose("something hidden");
            return Ok(());
        }
        match &entity.specific {
            EntityType::Line(l) => {
                let line = PathSeg::Line(Line::new(flat(&l.p1), flat(&l.p2)));
                self.run(vec![line], to, group, layer);
            }
            EntityType::LwPolyline(p) => self.light(p, to, group, layer),
            EntityType::Polyline(p) => self.polyline(p, to, group, layer),
            EntityType::Arc(a) => {
                let (from, till) = (a.start_angle.to_radians(), a.end_angle.to_radians());
                let (x, y) = (Vec2::new(a.radius, 0.0), Vec2::new(0.0, a.radius));
                let segments = elliptical(flat(&a.center), x, y, from, till);
                self.planar(segments, &a.normal, to, group, layer);
            }
            EntityType::Circle(c) => {
                let (x, y) = (Vec2::new(c.radius, 0.0), Vec2::new(0.0, c.radius));
                let segments = elliptical(flat(&c.center), x, y, 0.0, std::f64::consts::TAU);
                self.planar(segments, &c.normal, to, group, layer);
            }
            EntityType::Ellipse(e) => match plane(&e.normal) {
                Some(seen) => {
                    let first = Vec2::new(e.major_axis.x, e.major_axis.y);
                    let side = if seen == Affine::IDENTITY { 1.0 } else { -1.0 };
                    let second = Vec2::new(-first.y, first.x) * (side * e.minor_axis_ratio);
                    let (a, b) = (e.start_parameter, e.end_parameter);
                    self.run(elliptical(flat(&e.center), first, second, a, b), to, group, layer);
                }
                None => self.found.lose("an ellipse that does not lie flat"),
            },
            EntityType::Spline(s) => self.spline(s, to, group, layer),
            EntityType::Insert(i) => self.insert(i, to, group, layer, depth)?,
            EntityType::ModelPoint(p) => match spot_of(layer) {
                Some(kind) => {
                    let at = to * flat(&p.location);
                    if at.is_finite() {
                        self.found.spots.push(Spot { at, kind, group: group.to_owned() });
                    }
                }
                None => self.found.lose(format!("a point on layer “{}”", short(layer))),
            },
            EntityType::Text(t) => {
                let seen = plane(&t.normal).unwrap_or(Affine::IDENTITY);
                self.label(&t.value, to * seen * flat(&t.location), group);
            }
            EntityType::MText(t) => {
                let text = t.extended_text.concat() + &t.text;
                self.label(&text.replace("\\P", " "), to * flat(&t.insertion_point), group);
            }
            other => self.found.lose(format!("{} on layer “{}”", kind_of(other), short(layer))),
        }
        Ok(())
    }

    fn label(&mut self, text: &str, at: Point, group: &str) {
        if !text.trim().is_empty() && at.is_finite() {
            let (text, group) = (text.to_owned(), group.to_owned());
            self.found.labels.push(Label { text, at, group });
        }
    }

    fn run(&mut self, segments: Vec<PathSeg>, to: Affine, group: &str, layer: &str) {
        let segments: Vec<PathSeg> = segments.into_iter().map(|s| to * s).collect();
        let long = |s: &PathSeg| !matches!(s, PathSeg::Line(l) if l.p0.distance(l.p1) < 1e-9);
        let segments: Vec<PathSeg> = segments.into_iter().filter(long).collect();
        match Chain::new(segments) {
            Ok(chain) => self.found.runs.push(Run {
                chain,
                role: role_of(layer),
                name: if layer == "0" { String::new() } else { layer.to_owned() },
                group: group.to_owned(),
                seams: None,
            }),
            Err(_) => self.found.lose(format!("a line without length on layer “{}”", short(layer))),
        }
    }

    fn planar(
        &mut self,
        segments: Vec<PathSeg>,
        normal: &dxf::Vector,
        to: Affine,
        group: &str,
        layer: &str,
    ) {
        match plane(normal) {
            Some(seen) => self.run(segments, to * seen, group, layer),
            None => self.found.lose("a line that does not lie flat"),
        }
    }

    fn light(&mut self, p: &LwPolyline, to: Affine, group: &str, layer: &str) {
        let points: Vec<(Point, f64)> =
            p.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge)).collect();
        let segments = through(&points, p.is_closed());
        self.planar(segments, &p.extrusion_direction, to, group, layer);
    }

    fn polyline(&mut self, p: &Polyline, to: Affine, group: &str, layer: &str) {
        if p.is_3d_polygon_mesh() || p.is_polyface_mesh() {
            self.found.lose("a mesh");
            return;
        }
        let frame = |v: &&dxf::entities::Vertex| !v.is_spline_frame_control_point();
        let points: Vec<(Point, f64)> =
            p.vertices().filter(frame).map(|v| (flat(&v.location), v.bulge)).collect();
        self.count += points.len();
        let segments = through(&points, p.is_closed());
        self.planar(segments, &p.normal, to, group, layer);
    }

    fn spline(&mut self, s: &Spline, to: Affine, group: &str, layer: &str) {
        let points: Vec<Point> = s.control_points.iter().map(flat).collect();
        let degree = usize::try_from(s.degree_of_curve).unwrap_or(0);
        match spline(degree, &points, &s.weight_values, &s.knot_values) {
            Ok(segments) => self.run(segments, to, group, layer),
            Err(SplineFault::OnlyPoints) => {
                self.found
                    .lose("a spline given only by points it passes (save it with control points)");
            }
            Err(SplineFault::Broken) => {
                self.found.lose("a spline whose numbers do not fit together")
            }
        }
    }

    fn insert(
        &mut self,
        insert: &Insert,
        to: Affine,
        group: &str,
        layer: &str,
        depth: usize,
    ) -> Result<(), ExchangeError> {
        if depth >= limits::DEEPEST_BLOCKS {
            return Err(ExchangeError::TooDeep { what: "blocks", most: limits::DEEPEST_BLOCKS });
        }
        let Some(block) = self.blocks.get(&insert.name.to_lowercase()).copied() else {
            self.found.lose(format!("a block “{}” that is not in the file", short(&insert.name)));
            return Ok(());
        };
        if block.is_xref() || block.is_xref_overlay() {
            self.found.lose("a reference to another file (never opened)");
            return Ok(());
        }
        let Some(seen) = plane(&insert.extrusion_direction) else {
            self.found.lose("a block that does not lie flat");
            return Ok(());
        };
        for _ in insert.attributes() {
            self.found.lose("an attribute of a block");
        }
        let placed = to
            * seen
            * Affine::translate(flat(&insert.location).to_vec2())
            * Affine::rotate(insert.rotation.to_radians());
        let scaled = Affine::scale_non_uniform(insert.x_scale_factor, insert.y_scale_factor)
            * Affine::translate(-flat(&block.base_point).to_vec2());
        let (columns, rows) = (insert.column_count.max(1), insert.row_count.max(1));
        for (column, row) in (0..columns).flat_map(|c| (0..rows).map(move |r| (c, r))) {
            let step = Vec2::new(
                f64::from(column) * insert.column_spacing,
                f64::from(row) * insert.row_spacing,
            );
            let group =
                if group.is_empty() { self.next_name(&block.name) } else { group.to_owned() };
            let map = placed * Affine::translate(step) * scaled;
            for entity in &block.entities {
                self.entity(entity, map, &group, layer, depth + 1)?;
            }
        }
        Ok(())
    }

    /// The block's name, numbered when it is put in place again.
    fn next_name(&mut self, block: &str) -> String {
        let times = self.placed.entry(block.to_owned()).or_insert(0);
        *times += 1;
        if *times == 1 { block.to_owned() } else { format!("{block} {times}") }
    }
}

fn through(points: &[(Point, f64)], closed: bool) -> Vec<PathSeg> {
    let mut segments = Vec::with_capacity(points.len());
    for pair in points.windows(2) {
        bulged(&mut segments, pair[0].0, pair[1].0, pair[0].1);
    }
    if closed && let (Some(last), Some(first)) = (points.last(), points.first()) {
        bulged(&mut segments, last.0, first.0, last.1);
    }
    segments
}

fn short(name: &str) -> String {
    name.chars().take(40).collect()
}

/// The name of a kind of entity that is not read.
fn kind_of(entity: &EntityType) -> String {
    let told = format!("{entity:?}");
    let name: String = told.chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
    format!("an entity of kind {name}")
}
