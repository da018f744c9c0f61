//! Drawing the reference lines: those for the cloth bold and long-dashed, those
//! for paper only thin and dotted, and each says which it is.

use super::draw::readable;
use super::{Anchor, Layer, Scene, Weight, Words, pens};
use hangtrue_geometry::Vec2;
use hangtrue_pattern::markings::{LineMarking, Markings};

/// Size of the words along a line, mm.
const WORDS: f64 = 4.2;
/// From the outline to the first word, mm.
const IN_FROM_EDGE: f64 = 14.0;
/// From the line to its words, mm.
const OFF_LINE: f64 = 1.6;

pub(crate) fn draw_lines(scene: &mut Scene, markings: &Markings<'_>) {
    markings.lines.iter().for_each(|line| draw_line(scene, line));
}

fn draw_line(scene: &mut Scene, marking: &LineMarking<'_>) {
    let LineMarking { placed: line, to_cloth } = *marking;
    let (layer, mut pen) =
        if to_cloth { (Layer::Cloth, pens::CLOTH) } else { (Layer::Paper, pens::PAPER) };
    if marking.is_stale() {
        pen = pens::STALE;
    }
    scene.stroke(layer, line.chain.to_path(), pen);
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
            text: marking.words(),
            at: chain.point_at(position) + up * lift,
            size: if to_cloth { WORDS } else { 0.85 * WORDS },
            angle,
            anchor,
            weight: if to_cloth { Weight::Bold } else { Weight::Regular },
            ink: if to_cloth { pens::ACCENT } else { pens::GREY },
        },
    );
    if to_cloth && !marking.is_stale() {
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
