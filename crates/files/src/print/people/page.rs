//! A page that is written on: words, boxes to tick and to write in, from the top down.

use crate::print::letters::broken_into_lines;
use crate::print::{
    About, Layer, Page, Paper, Pen, PrintError, Scene, Size, Weight, Words, pdf_of, pens,
};
use hangtrue_geometry::{Affine, Point, Rect};
use hangtrue_pattern::units::Unit;
use kurbo::Shape;

/// White at the sides, at the top and at the foot, mm.
pub(super) const SIDE: f64 = 15.0;
const TOP: f64 = 16.0;
const FOOT: f64 = 13.0;
/// Between the lines of a paragraph, against the size of its letters.
const LEADING: f64 = 1.3;
/// The side of a box to tick, mm.
pub(super) const TICK: f64 = 3.6;

/// A page being filled.
pub(super) struct Written {
    pub scene: Scene,
    pub size: Size,
    /// How far down it is filled, mm from its lower edge.
    pub y: f64,
}

/// The paper people of the unit have: Letter where they work in inches, else A4.
pub(crate) fn paper_of(unit: Unit) -> Paper {
    if unit.denominator().is_some() { Paper::Letter } else { Paper::A4 }
}

impl Written {
    pub fn begin(unit: Unit) -> Self {
        let size = paper_of(unit).size().unwrap_or(Size { width: 210.0, height: 297.0 });
        Self { scene: Scene::default(), size, y: size.height - TOP }
    }

    pub fn right(&self) -> f64 {
        self.size.width - SIDE
    }

    /// Room left above the foot, mm.
    pub fn room(&self) -> f64 {
        self.y - FOOT
    }

    pub fn text(&mut self, text: &str, x: f64, y: f64, size: f64, weight: Weight) {
        let words = Words::level(text.to_owned(), Point::new(x, y), size, weight, pens::INK);
        self.scene.words(Layer::Sheet, words);
    }

    /// Words in lines below each other from a base line; gives the base line after them.
    pub fn lines(&mut self, text: &str, (x, y): (f64, f64), size: f64, wide: f64) -> f64 {
        let mut y = y;
        for line in broken_into_lines(text, Weight::Regular, size, wide) {
            self.text(&line, x, y, size, Weight::Regular);
            y -= size * LEADING;
        }
        y
    }

    /// The title and what is written beside it: a word and how much room, mm.
    pub fn title(&mut self, title: &str, ask: &[(&str, f64)]) {
        self.text(title, SIDE, self.y - 5.0, 8.0, Weight::Bold);
        self.y -= 15.0;
        let mut x = SIDE;
        for (words, wide) in ask {
            self.text(words, x, self.y, 3.6, Weight::Regular);
            let from = x + crate::print::width_of(words, Weight::Regular, 3.6) + 2.0;
            let to = (from + wide).min(self.right());
            self.rule(from, to, self.y - 1.0);
            x = to + 5.0;
        }
        self.y -= 7.0;
    }

    pub fn heading(&mut self, text: &str) {
        self.y -= 5.0;
        self.text(text, SIDE, self.y, 4.8, Weight::Bold);
        self.y -= 6.0;
    }

    /// A paragraph over the whole width.
    pub fn paragraph(&mut self, text: &str) {
        let wide = self.right() - SIDE;
        self.y = self.lines(text, (SIDE, self.y), 3.5, wide) - 1.2;
    }

    /// What to take care of, on a tinted ground.
    pub fn care(&mut self, text: &str) {
        let wide = self.right() - SIDE;
        let count = broken_into_lines(text, Weight::Regular, 3.6, wide - 6.0).len() as f64;
        let high = count * 3.6 * LEADING + 4.0;
        let frame = Rect::new(SIDE, self.y - high, self.right(), self.y);
        self.scene.fill(Layer::Sheet, frame.to_path(0.1), pens::WASH);
        self.lines(text, (SIDE + 3.0, self.y - 5.0), 3.6, wide - 6.0);
        self.y -= high + 3.0;
    }

    pub fn rule(&mut self, from: f64, to: f64, y: f64) {
        self.scene.line(Layer::Sheet, Point::new(from, y), Point::new(to, y), pens::HAIR);
    }

    /// A box to write in.
    pub fn frame(&mut self, frame: Rect) {
        self.scene.stroke(Layer::Sheet, frame.to_path(0.1), pens::TEST);
    }

    /// Two boxes to tick so far apart, and what they are for; `y` is the base line.
    pub fn two_ticks(&mut self, text: &str, (x, y): (f64, f64), apart: f64) {
        for x in [x, x + apart] {
            self.frame(Rect::from_origin_size((x, y - 0.6), (TICK, TICK)));
        }
        self.text(text, x + apart + TICK + 2.0, y, 3.5, Weight::Regular);
    }

    /// Adds strokes of a drawing in shares of a height, standing at a place.
    pub fn strokes(
        &mut self,
        strokes: &[super::figure::FigureStroke],
        (foot, high): (Point, f64),
        pen: Pen,
        behind: Pen,
    ) {
        let place = Affine::translate(foot.to_vec2()) * Affine::scale(high);
        for stroke in strokes {
            let mut path = hangtrue_geometry::BezPath::new();
            for (index, at) in stroke.places.iter().enumerate() {
                if index == 0 { path.move_to(place * *at) } else { path.line_to(place * *at) }
            }
            self.scene.stroke(Layer::Sheet, path, if stroke.broken { behind } else { pen });
        }
    }

    /// The line at the foot.
    fn foot(&mut self, text: &str) {
        let words = Words::level(
            text.to_owned(),
            Point::new(SIDE, FOOT - 5.0),
            3.0,
            Weight::Regular,
            pens::GREY,
        );
        self.scene.words(Layer::Sheet, words);
    }
}

/// Writes the pages as PDF, each with its line at the foot.
pub(super) fn pdf_of_pages(
    mut pages: Vec<Written>,
    title: &str,
    foot: &str,
) -> Result<Vec<u8>, PrintError> {
    let count = pages.len();
    for (index, page) in pages.iter_mut().enumerate() {
        let of = if count > 1 { format!("{} of {count} · ", index + 1) } else { String::new() };
        page.foot(&format!("{of}{foot}"));
    }
    let pages: Vec<Page> = pages.iter().map(|p| Page::plain(p.size, &p.scene)).collect();
    let about = About { title: title.to_owned(), subject: "A sheet to be written on".into() };
    pdf_of(&pages, &about)
}
