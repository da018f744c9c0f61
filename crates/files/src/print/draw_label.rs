//! The words on a piece: its name, what to cut, whose it is, its seams and
//! corners.

use super::draw::{NO_ALLOWANCE, readable, side_anchor};
use super::label_block::{LabelLine, height, placed, shapes, stand_free, width};
use super::letters::{cut_short, width_of};
use super::{Anchor, DrawOptions, Layer, Scene, Weight, Words, pens};
use hangtrue_geometry::{Chain, Line, Vec2};
use hangtrue_pattern::markings::{CUT_ONE, CornerMarking, LineMarking, Markings, inward_of};
use hangtrue_pattern::units::show_length;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Piece, Seam, names};

/// Size of the piece's name, mm.
const NAME: f64 = 13.0;
/// Size of the lines under it, mm.
const LINE: f64 = 5.0;
/// Beside the grainline it is made no smaller than this while there is room elsewhere.
const READABLE: f64 = 0.8;
/// A label is made smaller for want of room down to this part of its size.
const SMALLEST: f64 = 0.35;
/// Free space left and right of the label, mm.
const AIR: f64 = 8.0;
/// Not more of it than this part of the room on a narrow piece.
const NARROW_AIR: f64 = 0.15;

/// The piece's name and the lines under it, in the widest free place beside the
/// grainline between two reference lines.
pub(crate) fn draw_label(scene: &mut Scene, markings: &Markings<'_>, options: &DrawOptions) {
    let piece = markings.piece;
    let (along, across) = (piece.grain.direction(), piece.grain.square());
    let middle = label_height(piece, &markings.lines);
    let centre = piece.grain.from + along * middle;
    let (left, right) = room_beside(piece, Line::new(centre, centre + across));
    let mut texts = name_and_leg(piece);
    match options.cut_piece(piece) {
        Some(known) => {
            texts.push((known.numbered(), LINE * 1.1, Weight::Bold));
            let lines = known.to_cut.iter().map(ToString::to_string);
            texts.extend(lines.map(|line| (line, LINE * 1.1, Weight::Bold)));
            let hints = known.hints.iter().map(|hint| hint.in_unit(options.unit));
            texts.extend(hints.map(|hint| (hint, LINE, Weight::Regular)));
        }
        None => {
            let cut = if piece.leg().is_some() { CUT_ONE } else { &options.cut };
            texts.push((cut.to_owned(), LINE * 1.1, Weight::Bold));
        }
    }
    if options.is_bare(piece) {
        texts.push((NO_ALLOWANCE.to_owned(), LINE, Weight::Bold));
    }
    texts.extend(options.label.iter().map(|l| (l.clone(), LINE, Weight::Regular)));
    // A narrow piece has little to give away beside its words.
    let air = AIR.min(NARROW_AIR * left.max(right));
    let room = left.max(right) - 2.0 * air;
    let to_right = right >= left;
    let (start, anchor) = if to_right { (air, Anchor::Start) } else { (-air, Anchor::End) };
    // On a low piece the words are no higher than it is there.
    let beside = centre + across * (if to_right { 0.5 * right } else { -0.5 * left });
    let (below, above) = room_beside(piece, Line::new(beside, beside + along));
    let high = 2.0 * below.min(above);
    let fits = |lines: &[LabelLine]| (room / width(lines)).min(high / height(lines)).min(1.0);
    let shapes = shapes(&texts);
    // The first of those that are as good.
    let better = |a: &&Vec<LabelLine>, b: &&Vec<LabelLine>| fits(a).total_cmp(&fits(b));
    let texts = shapes.iter().rev().max_by(better).unwrap_or(&texts).clone();
    let scale = fits(&texts).max(SMALLEST);
    let mut down = -height(&texts) * scale / 2.0;
    let line = |(text, size, weight): (String, f64, Weight)| {
        // Smaller than this it could not be read, so what is still too long is cut.
        let text =
            if scale > SMALLEST { text } else { cut_short(&text, weight, size * scale, room) };
        down += 1.0 * size * scale;
        let words = Words {
            text,
            at: centre + across * start - along * down,
            size: size * scale,
            angle: across.atan2(),
            anchor,
            weight,
            ink: pens::INK,
        };
        down += 0.35 * size * scale;
        words
    };
    let mut words: Vec<Words> = texts.into_iter().map(line).collect();
    if (scale < READABLE || !stand_free(scene, &words))
        && let Some(elsewhere) = placed(scene, piece, &shapes[0], beside)
    {
        words = elsewhere;
    }
    words.into_iter().for_each(|words| scene.words(Layer::Label, words));
}

/// The name of the piece, and the leg in letters as large when it is for one.
fn name_and_leg(piece: &Piece) -> Vec<(String, f64, Weight)> {
    let line = |text: &str| (text.to_owned(), NAME, Weight::Bold);
    let Some(leg) = piece.leg() else { return vec![line(&piece.name)] };
    let name = piece.name.strip_suffix(leg.word()).unwrap_or(&piece.name);
    vec![line(name.trim_end()), line(&leg.word().to_uppercase())]
}

/// The distance along the grain of the middle of the tallest stretch that no
/// reference line crosses, mm from its lower end.
fn label_height(piece: &Piece, lines: &[LineMarking<'_>]) -> f64 {
    let length = piece.grain.from.distance(piece.grain.to);
    let grain = Line::new(piece.grain.from, piece.grain.to);
    let mut stops: Vec<f64> = lines
        .iter()
        .flat_map(|l| l.placed.chain.crossings_with_line(grain))
        .map(|c| c.there)
        .collect();
    stops.retain(|s| (0.0..=length).contains(s));
    stops.extend([0.0, length]);
    stops.sort_by(f64::total_cmp);
    let width_at = |middle: f64| {
        let p = piece.grain.from + piece.grain.direction() * middle;
        let (left, right) = room_beside(piece, Line::new(p, p + piece.grain.square()));
        left.max(right)
    };
    // Height is worth having up to that of a full label; after that, width is.
    let worth =
        |low: f64, high: f64| (high - low).min(110.0) * width_at((low + high) / 2.0).max(1.0);
    let best = stops.windows(2).max_by(|a, b| worth(a[0], a[1]).total_cmp(&worth(b[0], b[1])));
    best.map_or(length / 2.0, |w| (w[0] + w[1]) / 2.0)
}

/// The room from the start of the line to the outline on its left and right, mm.
fn room_beside(piece: &Piece, across: Line) -> (f64, f64) {
    let crossings = piece.crossings_with_line(across);
    let right = crossings.iter().map(|c| c.2).filter(|d| *d > 0.0).fold(f64::INFINITY, f64::min);
    let left = crossings.iter().map(|c| -c.2).filter(|d| *d > 0.0).fold(f64::INFINITY, f64::min);
    let known = |d: f64| if d.is_finite() { d } else { 0.0 };
    (known(left), known(right))
}

/// The names of seams along them, and of corners in them.
pub(crate) fn draw_names(scene: &mut Scene, markings: &Markings<'_>, options: &DrawOptions) {
    for (seam, corner) in markings.piece.seams.iter().zip(&markings.corners) {
        if options.seam_names {
            draw_seam_name(scene, markings, seam, options);
        }
        if options.corner_names {
            draw_corner_name(scene, corner);
        }
    }
}

fn draw_corner_name(scene: &mut Scene, corner: &CornerMarking<'_>) {
    let (arriving, leaving) = corner.inward;
    let inward = arriving + leaving;
    if inward.hypot() < 1e-6 {
        return;
    }
    let inward = inward.normalize();
    // In a sharp corner the words move in until the seams leave room.
    let reach = 4.5 / inward.dot(leaving).clamp(0.25, 1.0);
    scene.words(
        Layer::Label,
        Words {
            text: corner.name.to_owned(),
            at: corner.at + inward * reach - Vec2::new(0.0, 0.8),
            size: 2.5,
            angle: 0.0,
            anchor: side_anchor(inward),
            weight: Weight::Regular,
            ink: pens::GREY,
        },
    );
}

fn draw_seam_name(scene: &mut Scene, markings: &Markings<'_>, seam: &Seam, options: &DrawOptions) {
    let piece = markings.piece;
    const SIZE: f64 = 3.4;
    let mut text = seam.name.clone();
    if let Some(allowance) = options.allowance_on(piece) {
        let width = allowance.along(&piece.name, &seam.name);
        let shown = |mm| show_length(mm, options.unit);
        if seam.name == names::HEM && width.start > 0.0 {
            text += " · fold here";
        }
        text += &match (width.most() > 0.0, width.start == width.end) {
            (false, _) => " · no allowance".to_owned(),
            (true, true) => format!(" · allowance {}", shown(width.start)),
            (true, false) => {
                format!(
                    " · allowance {} running out to {}",
                    shown(width.most()),
                    shown(width.start.min(width.end))
                )
            }
        };
    }
    let longest = (0..seam.parts.len())
        .max_by(|a, b| seam.parts[*a].length().total_cmp(&seam.parts[*b].length()));
    let Some(part) = longest else { return };
    let before: f64 = seam.parts[..part].iter().map(Chain::length).sum();
    let marks: Vec<f64> = marks_on(markings, seam).iter().map(|m| m - before).collect();
    let half = width_of(&text, Weight::Regular, SIZE) / 2.0;
    let part = &seam.parts[part];
    let at = quiet_place(part, &marks, half);
    let (point, direction) = part.place_at(at);
    let inward = inward_of(direction, piece);
    let angle = readable(direction.atan2());
    let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
    // Words hang below a line or stand above it, whichever is inside the piece.
    let off = if up.dot(inward) >= 0.0 { 2.2 } else { 2.2 + 0.72 * SIZE };
    scene.words(
        Layer::Label,
        Words {
            text,
            at: point + inward * off,
            size: SIZE,
            angle,
            anchor: Anchor::Middle,
            weight: Weight::Regular,
            ink: pens::GREY,
        },
    );
}

/// Where notches and reference lines meet a seam, mm from its start.
fn marks_on(markings: &Markings<'_>, seam: &Seam) -> Vec<f64> {
    let notches = markings.piece.notches.iter().filter(|n| n.seam == seam.name);
    let mut marks: Vec<f64> = notches.map(|n| seam.distance_from(n.from, n.distance)).collect();
    let ends = markings.lines.iter().flat_map(|l| &l.placed.ends);
    marks.extend(ends.filter(|e| e.seam == seam.name).map(|e| e.position));
    marks
}

/// The place along a part where words `2 × half` mm long do best: clear of the
/// marks first, then where the part is straight, then near its middle.
fn quiet_place(part: &Chain, marks: &[f64], half: f64) -> f64 {
    const AIR: f64 = 10.0;
    const PLACES: [f64; 9] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82];
    let length = part.length();
    let cost = |place: f64| {
        let a = part.direction_at(place - half);
        let b = part.direction_at(place + half);
        let turn = a.cross(b).abs().atan2(a.dot(b));
        let crowded = marks.iter().filter(|m| (**m - place).abs() < half + AIR).count();
        10.0 * crowded as f64 + 2.0 * turn + (place / length - 0.5).abs()
    };
    let places = PLACES.into_iter().map(|f| f * length);
    places.min_by(|a, b| cost(*a).total_cmp(&cost(*b))).unwrap_or(length / 2.0)
}
