//! Drawing the reference lines: those for the cloth bold and long-dashed, those
//! for paper only thin and dotted, and each says which it is.

use super::draw::readable;
use super::{Anchor, Layer, Scene, Weight, Words, pens};
use hangtrue_geometry::Vec2;
use hangtrue_pattern::{Pattern, Piece, PlacedLine};

/// Size of the words along a line, mm.
const WORDS: f64 = 4.2;
/// From the outline to the first word, mm.
const IN_FROM_EDGE: f64 = 14.0;
/// From the line to its words, mm.
const OFF_LINE: f64 = 1.6;

pub(crate) fn draw_lines(
    scene: &mut Scene,
    pattern: &Pattern,
    piece: &Piece,
    lines: &[&PlacedLine],
) {
    for line in lines {
        let reference = pattern.line(&line.piece, &line.name);
        draw_line(scene, line, reference.is_ok_and(|r| r.purpose.to_cloth()));
    }
    // A line that lies nowhere is not on the list; its reason is passed on.
    for line in pattern.lines.iter().filter(|l| l.piece == piece.name && l.last.is_none()) {
        if let Err(why) = pattern.place_line(&line.piece, &line.name) {
            let text = format!("“{}” of the {} is not drawn: {why}", line.name, piece.name);
            scene.notes.push(text);
        }
    }
}

fn draw_line(scene: &mut Scene, line: &PlacedLine, to_cloth: bool) {
    let (layer, mut pen) =
        if to_cloth { (Layer::Cloth, pens::CLOTH) } else { (Layer::Paper, pens::PAPER) };
    if line.stale.is_some() {
        pen = pens::STALE;
    }
    scene.stroke(layer, line.chain.to_path(), pen);
    let mut text = line.name.clone();
    text += if to_cloth { " · to the cloth" } else { " · paper only" };
    if line.stale.is_some() {
        text += " · OLD PLACE, its rule cannot be met";
    }
    // Words for the cloth stand above the left end, words for paper below the
    // right end, so that two lines close together do not write over each other.
    let leftmost_first = line.chain.start().x <= line.chain.end().x;
    let chain = if leftmost_first { line.chain.clone() } else { line.chain.reversed() };
    let length = chain.length();
    let (position, anchor, lift) = if to_cloth {
        (IN_FROM_EDGE.min(length / 2.0), Anchor::Start, OFF_LINE)
    } else {
        (length - IN_FROM_EDGE.min(length / 2.0), Anchor::End, -OFF_LINE - 0.75 * WORDS)
    };
    let angle = readable(chain.direction_at(position).atan2());
    let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
    scene.words(
        Layer::Label,
        Words {
            text,
            at: chain.point_at(position) + up * lift,
            size: if to_cloth { WORDS } else { 0.85 * WORDS },
            angle,
            anchor,
            weight: if to_cloth { Weight::Bold } else { Weight::Regular },
            ink: if to_cloth { pens::ACCENT } else { pens::GREY },
        },
    );
    if to_cloth && line.stale.is_none() {
        // Short bars at the ends: where the tracing wheel starts and stops.
        for (at, along) in
            [(chain.start(), chain.start_direction()), (chain.end(), -chain.end_direction())]
        {
            let side = Vec2::new(-along.y, along.x) * 2.5;
            let bar = at + along * 0.4;
            scene.line(Layer::Cloth, bar - side, bar + side, pens::NOTCH);
        }
    }
}
