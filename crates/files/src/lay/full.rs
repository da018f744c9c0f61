//! A lay at full size: the pieces with all that is drawn on them, where they lie.

use super::OnCloth;
use crate::exchange::{SendOptions, dxf_of_lay, svg_of_scenes};
use crate::exports::SendError;
use crate::print::{
    Anchor, DrawOptions, Layer, Mark, PrintError, Scene, Words, one_page, pens, piece_scenes,
};
use hangtrue_geometry::{Affine, BezPath, PathSeg, Point, Vec2, angle_between};
use hangtrue_lay::AtFold;
use hangtrue_pattern::Piece;
use kurbo::ParamCurve;
use std::f64::consts::PI;

/// As what a lay is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LayFile {
    /// SVG, true mm.
    Svg,
    /// DXF, true mm, named layers and exact splines.
    Dxf,
    /// PDF, one page.
    Pdf,
}

impl LayFile {
    /// The kind of that ending, in large or small letters.
    pub fn of_ending(ending: &str) -> Option<Self> {
        [("svg", Self::Svg), ("dxf", Self::Dxf), ("pdf", Self::Pdf)]
            .into_iter()
            .find(|(known, _)| ending.eq_ignore_ascii_case(known))
            .map(|(_, kind)| kind)
    }
}

/// The lay at full size, and what could not be drawn.
///
/// # Errors
/// [`SendError`] when a piece cannot be drawn, or the page would be too long.
pub fn full_size(on: &OnCloth<'_>, file: LayFile) -> Result<(Vec<u8>, Vec<String>), SendError> {
    let at_fold = if file == LayFile::Dxf { AtFold::Open } else { AtFold::Closed };
    let as_laid = on.lay.as_laid(on.set, on.of, at_fold);
    let on = &OnCloth { set: &as_laid, ..on.clone() };
    if file == LayFile::Dxf {
        return as_dxf(on);
    }
    let mut groups = vec![("cloth".to_owned(), cloth_edges(on))];
    groups.extend(pieces(on)?);
    let title = format!("{}: lay", on.title);
    let notes = groups.iter().flat_map(|g| g.1.notes.clone()).collect();
    if file == LayFile::Svg {
        return Ok((svg_of_scenes(&groups, &title).into_bytes(), notes));
    }
    let mut whole = Scene::default();
    groups.into_iter().for_each(|(_, scene)| whole.append(scene));
    let names = [on.title, on.of.word()];
    let made = one_page(&whole, &names, &title, "Lay of a sewing pattern at true scale")?;
    Ok((made.pdf, made.notes))
}

fn as_dxf(on: &OnCloth<'_>) -> Result<(Vec<u8>, Vec<String>), SendError> {
    let mut laid = Vec::new();
    for (index, piece) in pieces_laid(on)? {
        let to = on.lay.to_cloth(index).unwrap_or_default();
        laid.push((piece, to));
    }
    let options = SendOptions {
        set: Some(on.set),
        title: on.title.to_owned(),
        label: on.label.clone(),
        ..SendOptions::default()
    };
    let edges = edges(on).map(|(a, b, _)| (a, b));
    Ok(dxf_of_lay(&on.set.pattern, &options, &laid, &edges)?)
}

/// Each laid part's index and piece.
fn pieces_laid<'a>(on: &'a OnCloth<'_>) -> Result<Vec<(usize, &'a Piece)>, SendError> {
    let of = |index: usize| {
        let piece = on.set.pattern.piece(&on.lay.parts[index].piece);
        piece.map(|piece| (index, piece)).map_err(|why| PrintError::from(why).into())
    };
    on.lay.laid().map(|(index, ..)| of(index)).collect()
}

/// Each piece with all that is drawn on it, moved to its place.
fn pieces(on: &OnCloth<'_>) -> Result<Vec<(String, Scene)>, SendError> {
    let draw = DrawOptions {
        unit: on.unit,
        set: Some(on.set),
        label: on.label.clone(),
        ..DrawOptions::default()
    };
    let drawn = piece_scenes(&on.set.pattern, &draw)?;
    let mut found = Vec::new();
    for (index, piece) in pieces_laid(on)? {
        let at = on.set.pattern.pieces.iter().position(|p| p.name == piece.name).unwrap_or(0);
        // A scene is drawn upright and as large as it is cut: taken back to the piece first.
        let grain = piece.grain.to - piece.grain.from;
        let upright = Affine::rotate(angle_between(grain, Vec2::new(0.0, 1.0)));
        let from_scene = (upright * on.set.to_cloth(piece)).inverse();
        let to = on.lay.to_cloth(index).unwrap_or_default() * from_scene;
        let part = &on.lay.parts[index];
        let mut laid = laid_scene(&drawn[at], to, part.face_down);
        if on.lay.places[index].is_some_and(|place| place.on_fold) {
            open_at_fold(&mut laid);
        }
        found.push((part.name(), laid));
    }
    Ok(found)
}

/// A line that lies so near the fold lies on it, mm.
const ON_FOLD: f64 = 1e-4;

/// Takes out what is drawn along the fold: nothing is cut or sewn there.
fn open_at_fold(scene: &mut Scene) {
    for item in &mut scene.items {
        if let (Layer::Cut | Layer::Sew, Mark::Stroke(path, _)) = (item.layer, &mut item.mark) {
            *path = without_fold(path);
        }
    }
}

fn without_fold(path: &BezPath) -> BezPath {
    let on_fold = |p: Point| p.y.abs() < ON_FOLD;
    let mut open = BezPath::new();
    let mut at = None;
    for segment in path.segments() {
        if let PathSeg::Line(line) = segment
            && on_fold(line.p0)
            && on_fold(line.p1)
        {
            continue;
        }
        if at.is_none_or(|at: Point| at.distance(segment.start()) > ON_FOLD) {
            open.move_to(segment.start());
        }
        open.push(segment.as_path_el());
        at = Some(segment.end());
    }
    open
}

/// The scene at its place. On the back of the cloth lines are mirrored and words are not:
/// they run the other way, from the other end.
fn laid_scene(scene: &Scene, to: Affine, face_down: bool) -> Scene {
    let mut laid = scene.moved(to);
    if face_down {
        for item in &mut laid.items {
            if let Mark::Words(words) = &mut item.mark {
                *words = other_way(words);
            }
        }
    }
    laid
}

fn other_way(words: &Words) -> Words {
    let anchor = match words.anchor {
        Anchor::Start => Anchor::End,
        Anchor::Middle => Anchor::Middle,
        Anchor::End => Anchor::Start,
    };
    Words { angle: words.angle + PI, anchor, ..words.clone() }
}

/// The edges of the cloth: from where to where, and whether it is an edge pieces keep inside
/// of and not the cloth's own.
pub(super) fn edges(on: &OnCloth<'_>) -> [(Point, Point, bool); 6] {
    let (bed, long) = (&on.lay.bed, on.lay.length());
    let level = |y: f64, inner| (Point::new(0.0, y), Point::new(long, y), inner);
    let upright = |x: f64| (Point::new(x, 0.0), Point::new(x, bed.across), false);
    [
        level(0.0, false),
        level(bed.across, false),
        upright(0.0),
        upright(long),
        level(bed.high, true),
        level(if bed.folded { 0.0 } else { bed.low }, true),
    ]
}

fn cloth_edges(on: &OnCloth<'_>) -> Scene {
    let mut scene = Scene::default();
    for (a, b, inner) in edges(on) {
        scene.line(Layer::Sheet, a, b, if inner { pens::LAY } else { pens::TRIM });
    }
    if on.lay.bed.folded {
        let (a, b) = (Point::ORIGIN, Point::new(on.lay.length(), 0.0));
        scene.line(Layer::Sheet, a, b, pens::FOLD.times(2.0));
    }
    scene
}
