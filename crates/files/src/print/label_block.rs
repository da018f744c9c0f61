//! The label of a piece as a block of lines: broken shorter, run together or turned along the
//! grain where the piece is too narrow for it, so that it can still be read at the table.

use super::draw::{NO_ALLOWANCE, readable};
use super::letters::broken_into_lines;
use super::room::{Lines, Plate, moved_free};
use super::{Anchor, Mark, Scene, Weight, Words, pens, width_of};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};
use hangtrue_pattern::{Piece, Seam};
use kurbo::Shape;

/// From one base line to the next, in parts of the letters' size.
const LEADING: f64 = 1.35;
/// The sizes it is tried in, the largest first, in parts of its own.
const SIZES: [f64; 6] = [1.0, 0.85, 0.7, 0.6, 0.5, 0.42];
/// How wide its lines may be, mm, where they are broken.
const BROKEN: [f64; 3] = [95.0, 65.0, 45.0];
/// The same where all but the name is run together.
const RUN_ON: [f64; 4] = [280.0, 190.0, 130.0, 95.0];
/// Between lines that are run together.
const RUN_TOGETHER: &str = " · ";

/// A line of a label: its text, size in mm, and weight.
pub(crate) type LabelLine = (String, f64, Weight);

/// How high the lines stand together, mm.
pub(crate) fn height(lines: &[LabelLine]) -> f64 {
    lines.iter().map(|(_, size, _)| LEADING * size).sum()
}

/// How wide the widest of them is, mm.
pub(crate) fn width(lines: &[LabelLine]) -> f64 {
    lines.iter().map(|(text, size, weight)| width_of(text, *weight, *size)).fold(1.0, f64::max)
}

/// The same lines in other shapes: as they are, broken shorter, and all but the name run
/// together.
pub(crate) fn shapes(lines: &[LabelLine]) -> Vec<Vec<LabelLine>> {
    let mut shapes = vec![lines.to_vec()];
    shapes.extend(BROKEN.map(|wide| broken(lines, wide)));
    if let [name, rest @ ..] = lines
        && !rest.is_empty()
    {
        shapes.extend(RUN_ON.map(|wide| run_together(name, rest, wide)));
    }
    shapes.dedup();
    shapes
}

/// The name, and what stands under it in lines that hold as many of its parts as fit.
fn run_together(name: &LabelLine, rest: &[LabelLine], wide: f64) -> Vec<LabelLine> {
    let size = rest.iter().map(|line| line.1).fold(f64::INFINITY, f64::min);
    let mut together: Vec<LabelLine> = Vec::new();
    for (text, ..) in rest {
        if let Some((last, ..)) = together.last_mut() {
            let longer = format!("{last}{RUN_TOGETHER}{text}");
            if width_of(&longer, Weight::Bold, size) <= wide {
                *last = longer;
                continue;
            }
        }
        together.push((text.clone(), size, Weight::Bold));
    }
    let mut lines = vec![name.clone()];
    lines.extend(broken(&together, wide));
    lines
}

fn broken(lines: &[LabelLine], wide: f64) -> Vec<LabelLine> {
    let of = |(text, size, weight): &LabelLine| {
        // What warns is read in one go.
        if text == NO_ALLOWANCE {
            return vec![(text.clone(), *size, *weight)];
        }
        let longest = text.split(' ').map(|word| width_of(word, *weight, *size));
        // No word is broken between its letters.
        let wide = wide.max(longest.fold(0.0, f64::max) + 1e-6);
        let lines = broken_into_lines(text, *weight, *size, wide);
        lines.into_iter().map(|line| (line, *size, *weight)).collect::<Vec<_>>()
    };
    lines.iter().flat_map(of).collect()
}

/// The label in the largest letters for which there is free room on the piece, across the
/// grain or along it; none where there is none. `near` is where it is looked for first.
pub(crate) fn placed(
    scene: &Scene,
    piece: &Piece,
    lines: &[LabelLine],
    near: Point,
) -> Option<Vec<Words>> {
    let (along, across) = (piece.grain.direction(), piece.grain.square());
    let (drawn, taken) = drawn(scene);
    let shapes = shapes(lines);
    // A band that is cut aslant has its room along its own length.
    let ways = [across, along, along_its_length(piece).unwrap_or(across)];
    let rooms = ways.map(|way| extent(scene, way));
    SIZES.into_iter().find_map(|size| {
        ways.into_iter().zip(rooms).find_map(|(way, room)| {
            let fits = |shape: &&Vec<LabelLine>| {
                size * width(shape) < room.width() && size * height(shape) < room.height()
            };
            shapes.iter().filter(fits).find_map(|shape| {
                let words = block(shape, (near, way), size);
                moved_free(&words, &drawn, &taken, &scene.areas, &[1.0])
            })
        })
    })
}

/// From one end of its longest seam to the other, the way it is read; none where that is closed.
fn along_its_length(piece: &Piece) -> Option<Vec2> {
    let chord = |seam: &Seam| seam.end() - seam.start();
    let chords = piece.seams.iter().map(chord);
    let longest = chords.max_by(|a, b| a.hypot().total_cmp(&b.hypot()))?;
    let grain = piece.grain.square().atan2();
    let angle = readable(longest.atan2() - grain) + grain;
    (longest.hypot() > 1.0).then(|| Vec2::from_angle(angle))
}

/// The lines of a drawing, and the plates of its words.
fn drawn(scene: &Scene) -> (Lines, Vec<Plate>) {
    let (mut lines, mut taken) = (Lines::default(), Vec::new());
    for item in &scene.items {
        lines.add(&item.mark, Affine::IDENTITY);
        if let Mark::Words(words) = &item.mark {
            taken.push(Plate::of(words));
        }
    }
    (lines, taken)
}

/// Whether words stand clear of all lines and other words.
pub(crate) fn stand_free(scene: &Scene, words: &[Words]) -> bool {
    let (lines, taken) = drawn(scene);
    let mut plates = words.iter().map(Plate::of);
    plates.all(|plate| !lines.under(&plate) && !taken.iter().any(|t| t.meets(&plate)))
}

/// The box round the piece as it is cut, turned so that `way` runs to the right.
fn extent(scene: &Scene, way: Vec2) -> Rect {
    let turn = Affine::rotate(-way.atan2());
    let boxes = scene.areas.iter().map(|area| (turn * area.clone()).bounding_box());
    boxes.reduce(|a, b| a.union(b)).unwrap_or_default()
}

/// The lines about a place, one under the other, reading along `way`.
fn block(lines: &[LabelLine], (middle, way): (Point, Vec2), size: f64) -> Vec<Words> {
    let down = Vec2::new(way.y, -way.x);
    let start = middle - way * (0.5 * size * width(lines)) - down * (0.5 * size * height(lines));
    let mut at = 0.0;
    let word = |(text, own, weight): &LabelLine| {
        at += own * size;
        let words = Words {
            text: text.clone(),
            at: start + down * at,
            size: own * size,
            angle: way.atan2(),
            anchor: Anchor::Start,
            weight: *weight,
            ink: pens::INK,
        };
        at += (LEADING - 1.0) * own * size;
        words
    };
    lines.iter().map(word).collect()
}
