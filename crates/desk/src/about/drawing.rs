//! The small drawing beside what a panel is: the project's own pieces where they say it
//! best, else a few strokes in a box of 100 by 40. Nothing is measured on them.

use super::Topic;
use crate::board::Board;
use crate::board::stage::Stage;
use crate::kit::figure;
use crate::kit::picture::{self, SewnPiece, fitted};
use crate::kit::sheet::{Sheets, on_screen};
use crate::kit::strokes::{Dot, Strokes, bow};
use crate::kit::theme::Palette;
use egui::{Align2, Color32, FontId, Rect, Shape, Stroke, TextStyle, Ui, pos2};
use hangtrue_geometry::Affine;
use hangtrue_pattern::{Measure, Pattern};
use std::sync::Arc;

/// Height of a drawing at letters of 100 %, points of the screen.
const HIGH: f32 = 150.0;

/// Shows the drawing of the panel.
pub(super) fn show(topic: Topic, board: &Board, ui: &mut Ui) {
    let high = HIGH * board.settings.letters.sqrt();
    let (rect, painter) = picture::frame(ui, &board.palette, high, says(topic));
    let inks = board.palette.on_paper();
    painter.rect_filled(rect, 5.0, inks.paper);
    let font = TextStyle::Small.resolve(ui.style());
    let strokes = Strokes { painter, frame: rect.shrink(8.0), size: (100.0, 40.0) };
    let pen = Pen { strokes, inks, font };
    let shown = board.shown().ok().map(|s| s.new);
    match (topic, shown) {
        (Topic::Of(Stage::Body), _) => pen.body(rect),
        (Topic::Of(Stage::Block), Some(pattern)) => pen.pieces(board, &pattern, false),
        (Topic::Of(Stage::Lines), Some(pattern)) => pen.pieces(board, &pattern, true),
        (Topic::Of(Stage::Print), Some(pattern)) => pen.sheets(board, &pattern),
        (Topic::Of(Stage::Block | Stage::Lines | Stage::Print), None) => {}
        (Topic::Of(Stage::AsSewn), _) => pen.as_sewn(),
        (Topic::Of(Stage::Toile), _) => pen.toile(),
        (Topic::Of(Stage::Pinch), _) => pen.pinch(),
        (Topic::Of(Stage::Correct), _) => pen.correction(),
        (Topic::Of(Stage::Walk), _) => pen.walk(),
        (Topic::Begin, _) => pen.way_of_the_work(),
        (Topic::NewClient, _) => pen.body(rect),
        (Topic::KnownSize | Topic::Marks, _) => pen.turned_flat(),
        (Topic::Edge, _) => pen.edge_of_card(),
        (Topic::Grain, _) => pen.grain_of_card(),
        (Topic::BringIn, _) => pen.named_edges(),
    }
}

/// What a screen reader says for the drawing.
fn says(topic: Topic) -> &'static str {
    match topic {
        Topic::Of(Stage::Body) => "A drawing: a figure with tapes round waist and hip",
        Topic::Of(Stage::Block) => "A drawing: the pieces of this project, plain",
        Topic::Of(Stage::Lines) => "A drawing: the pieces of this project with their lines",
        Topic::Of(Stage::AsSewn) => {
            "A drawing: a line straight on two pieces, and peaking once they are sewn"
        }
        Topic::Of(Stage::Print) => "A drawing: pieces over the sheets they are printed on",
        Topic::Of(Stage::Toile) => "A drawing: a worn toile whose thigh line droops below level",
        Topic::Of(Stage::Pinch) => {
            "A drawing: cloth folded up with a pin through the fold, and lying flat with two marks"
        }
        Topic::Of(Stage::Correct) => {
            "A drawing: an old crotch curve dashed, and the new one deeper"
        }
        Topic::Of(Stage::Walk) => {
            "A drawing: two edges that touch at one end, a notch apart at the other"
        }
        Topic::Begin => "A drawing: measures, block, toile, and from toile to pattern and back",
        Topic::NewClient => "A drawing: a figure with tapes round waist and hip",
        Topic::KnownSize | Topic::Marks => {
            "A drawing: a card and a sheet as the camera sees them, and seen from straight above"
        }
        Topic::Edge => "A drawing: a card with its corners as squares, its curves as rounds",
        Topic::Grain => "A drawing: a card with its grainline from the lower to the upper end",
        Topic::BringIn => "A drawing: a piece with the names of its edges",
    }
}

pub(super) struct Pen {
    pub strokes: Strokes,
    pub inks: Palette,
    font: FontId,
}

impl std::ops::Deref for Pen {
    type Target = Strokes;

    fn deref(&self) -> &Strokes {
        &self.strokes
    }
}

impl Pen {
    pub fn word(&self, at: Dot, words: &str, ink: Color32) {
        let place = self.at(at);
        self.painter.text(place, Align2::CENTER_CENTER, words, self.font.clone(), ink);
    }

    fn body(&self, rect: Rect) {
        for measure in [Measure::WaistGirth, Measure::HipGirth, Measure::InsideLegHeight] {
            figure::draw(&self.painter, rect, &self.inks, Some(measure));
        }
    }

    /// The pieces beside each other, all at one scale.
    fn pieces(&self, board: &Board, pattern: &Arc<Pattern>, with_lines: bool) {
        let sheets = board.sheets(pattern, 0.3);
        let (lines, _) = pattern.place_lines();
        for (sheet, view) in sheets.sheets.iter().zip(beside(&sheets, self.frame)) {
            let goes = |name: &str| {
                let mut all = pattern.lines.iter();
                all.any(|l| l.name == name && l.piece == sheet.piece && l.purpose.to_cloth())
            };
            let of_piece = |l: &&hangtrue_pattern::PlacedLine| {
                with_lines && l.piece == sheet.piece && goes(&l.name)
            };
            let laid = SewnPiece {
                sheet,
                lines: lines.iter().filter(of_piece).collect(),
                by: Affine::IDENTITY,
            };
            picture::as_sewn(&self.painter, view, &self.inks, &[laid], "thigh");
        }
    }

    /// The pieces over a grid of sheets, no paper in particular.
    fn sheets(&self, board: &Board, pattern: &Arc<Pattern>) {
        let sheets = board.sheets(pattern, 0.3);
        let views = beside(&sheets, self.frame);
        for (sheet, view) in sheets.sheets.iter().zip(views) {
            self.painter
                .add(Shape::line(on_screen(&sheet.outline, view), Stroke::new(1.5, self.inks.ink)));
        }
        let soft = Stroke::new(1.0, self.inks.ink_soft);
        let (wide, high) = (self.frame.height() / 4.0 / 1.414, self.frame.height() / 4.0);
        let columns = (self.frame.width() / wide).floor().min(14.0);
        let left = self.frame.center().x - columns * wide / 2.0;
        for column in 0..=columns as usize {
            let x = left + wide * column as f32;
            let ends = [pos2(x, self.frame.top()), pos2(x, self.frame.bottom())];
            self.painter.extend(Shape::dashed_line(&ends, soft, 3.0, 3.0));
        }
        for row in 0..=4 {
            let y = self.frame.top() + high * row as f32;
            let ends = [pos2(left, y), pos2(left + columns * wide, y)];
            self.painter.extend(Shape::dashed_line(&ends, soft, 3.0, 3.0));
        }
    }

    fn as_sewn(&self) {
        let Palette { ink, indigo, madder, ink_soft, .. } = self.inks;
        // Flat: two pieces apart, each with a line square to its own edge.
        self.line(&[(2.0, 4.0), (17.0, 4.0), (14.0, 34.0), (2.0, 34.0)], 1.5, ink);
        self.line(&[(42.0, 4.0), (27.0, 4.0), (30.0, 34.0), (42.0, 34.0)], 1.5, ink);
        self.line(&[(2.0, 20.0), (15.4, 20.0)], 2.4, madder);
        self.line(&[(28.6, 20.0), (42.0, 20.0)], 2.4, madder);
        self.word((22.0, 38.0), "on paper", ink);
        // Sewn: the slanted edges meet, and the line peaks there.
        self.line(&[(77.0, 4.0), (77.0, 34.0)], 1.5, ink_soft);
        self.line(&[(59.0, 22.5), (77.0, 17.0), (95.0, 22.5)], 2.4, madder);
        self.broken(&[(59.0, 22.5), (95.0, 22.5)], 1.4, indigo);
        self.word((77.0, 38.0), "sewn", ink);
        self.line(&[(47.0, 20.0), (53.0, 20.0)], 1.5, ink);
        self.line(&[(51.0, 18.5), (53.0, 20.0), (51.0, 21.5)], 1.5, ink);
    }

    fn toile(&self) {
        let Palette { ink, indigo, madder, .. } = self.inks;
        for side in [-1.0_f32, 1.0] {
            let x = |x: f32| 50.0 + side * x;
            self.line(&[(x(0.0), 1.0), (x(9.0), 1.0)], 1.5, ink);
            self.bow([(x(9.0), 1.0), (x(15.0), 10.0), (x(12.0), 24.0)], 1.5, ink);
            self.line(
                &[(x(12.0), 24.0), (x(10.0), 39.0), (x(3.0), 39.0), (x(1.0), 15.0)],
                1.5,
                ink,
            );
            self.broken(&[(x(1.2), 18.0), (x(26.0), 18.0)], 1.4, indigo);
            self.bow([(x(1.2), 18.0), (x(6.5), 24.0), (x(12.4), 18.0)], 2.4, madder);
        }
        self.line(&[(50.0, 1.0), (50.0, 15.0)], 1.5, ink);
        self.word((84.0, 18.0), "level", indigo);
        self.word((22.0, 26.0), "droop", madder);
        self.line(&[(29.0, 25.0), (42.0, 21.5)], 1.0, madder);
    }

    fn pinch(&self) {
        let Palette { ink, indigo, madder, .. } = self.inks;
        // From the side: the cloth rises into a fold, and a pin goes through it.
        self.line(&[(2.0, 28.0), (20.0, 28.0)], 2.0, ink);
        self.bow([(20.0, 28.0), (24.0, 28.0), (24.5, 14.0)], 2.0, ink);
        self.bow([(24.5, 14.0), (25.5, 8.0), (26.5, 14.0)], 2.0, ink);
        self.bow([(26.5, 14.0), (27.0, 28.0), (31.0, 28.0)], 2.0, ink);
        self.line(&[(31.0, 28.0), (47.0, 28.0)], 2.0, ink);
        self.line(&[(16.0, 22.0), (35.0, 22.0)], 1.5, madder);
        self.dot((16.0, 22.0), 3.0, madder);
        self.word((24.0, 37.0), "pinned on the body", ink);
        // Flat again: what lies between the marks was taken.
        self.line(&[(55.0, 28.0), (98.0, 28.0)], 2.0, ink);
        for x in [68.0, 86.0] {
            self.line(&[(x, 24.0), (x, 32.0)], 2.0, madder);
        }
        self.line(&[(68.0, 18.0), (86.0, 18.0)], 1.2, indigo);
        for (x, inward) in [(68.0, 1.5), (86.0, -1.5)] {
            self.line(&[(x + inward, 16.5), (x, 18.0), (x + inward, 19.5)], 1.2, indigo);
        }
        self.word((77.0, 12.0), "the amount", indigo);
        self.word((77.0, 37.0), "mark to mark, flat", ink);
    }

    fn correction(&self) {
        let Palette { ink, indigo, .. } = self.inks;
        self.line(&[(48.0, 2.0), (72.0, 2.0)], 1.5, ink);
        self.bow([(72.0, 2.0), (78.0, 14.0), (75.0, 38.0)], 1.5, ink);
        let old = bow((46.0, 12.0), (44.0, 25.0), (32.0, 26.0));
        self.broken(&[&[(48.0, 2.0)], old.as_slice()].concat(), 1.4, indigo);
        let new = bow((43.5, 12.0), (42.0, 26.0), (28.0, 27.0));
        self.line(&[&[(47.0, 1.0), (48.0, 2.0), (47.0, 1.0)], new.as_slice()].concat(), 2.0, ink);
        self.line(&[(28.0, 27.0), (35.0, 38.0)], 2.0, ink);
        self.broken(&[(32.0, 26.0), (37.0, 38.0)], 1.4, indigo);
        self.word((18.0, 14.0), "new", ink);
        self.word((60.0, 20.0), "old, dashed", indigo);
    }

    fn walk(&self) {
        let Palette { ink, indigo, madder, .. } = self.inks;
        self.line(&[(6.0, 26.0), (94.0, 26.0), (94.0, 38.0)], 1.8, ink);
        self.line(&[(6.0, 26.0), (6.0, 38.0)], 1.8, ink);
        self.bow([(14.0, 25.4), (50.0, 25.4), (90.0, 6.0)], 1.8, indigo);
        self.bow([(6.0, 24.0), (9.0, 25.4), (14.0, 25.4)], 1.8, indigo);
        self.line(&[(62.0, 23.0), (62.0, 29.0)], 2.0, ink);
        self.line(&[(65.5, 17.0), (67.0, 22.5)], 2.0, indigo);
        self.word((66.0, 34.0), "notch", ink);
        self.word((44.0, 10.0), "rolled along it", indigo);
        self.dot((14.0, 25.8), 3.5, madder);
        self.word((20.0, 18.0), "here they touch", madder);
    }
}

/// Where each sheet lies when all stand beside each other at one scale.
fn beside(sheets: &Sheets, into: Rect) -> Vec<Affine> {
    let boxes: Vec<_> = sheets.sheets.iter().map(|s| s.bounds).collect();
    let gap = boxes.iter().map(|b| b.width()).fold(0.0, f64::max) * 0.25;
    let wide: f64 = boxes.iter().map(|b| b.width() + gap).sum::<f64>() - gap;
    let high = boxes.iter().map(|b| b.height()).fold(0.0, f64::max);
    let all = hangtrue_geometry::Rect::new(0.0, -high, wide.max(1.0), 0.0);
    let view = fitted(all, into);
    let mut left = 0.0;
    boxes
        .iter()
        .map(|b| {
            let to = Affine::translate((left - b.min_x(), -b.max_y()));
            left += b.width() + gap;
            view * to
        })
        .collect()
}
