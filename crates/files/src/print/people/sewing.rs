//! The sewing sheet: the pieces to cut and the order in which they are sewn, to be ticked
//! off at the cutting table and at the machine.

use super::page::{SIDE, TICK, Written, pdf_of_pages};
use crate::print::letters::broken_into_lines;
use crate::print::{Layer, PrintError, Weight, Words, fitting_label, pens, width_of};
use hangtrue_adjust::{Document, OPEN_ROUND};
use hangtrue_cut::{CutSet, ORDER_SOURCE, SewingStep, SewnAs, sewing_order};
use hangtrue_geometry::{Point, Rect};
use hangtrue_pattern::words::InUnit;
use kurbo::Shape;

/// Letters of a step's title, of how it is done, and of its pieces, mm.
const TITLE: f64 = 4.3;
const HOW: f64 = 3.5;
const PIECES: f64 = 3.0;
/// From the left edge to the words of a step, mm.
const INDENT: f64 = 9.0;
/// Between the lines of a paragraph, against the size of its letters.
const LEADING: f64 = 1.32;
/// Height of a row of the cutting list, mm.
const ROW: f64 = 5.4;

/// Where it is cut; common practice, no published source.
const CARE: &str = "Cut away from the hand that holds; close shears and cover a rotary blade between cuts. Tick a piece when it is cut, a step when it is sewn.";

/// Makes the sheet for the pieces of a set.
///
/// # Errors
/// [`PrintError`] when the PDF cannot be put together.
pub fn sewing_sheet(
    document: &Document,
    set: &CutSet,
    sewn_as: SewnAs,
    today: &str,
) -> Result<Vec<u8>, PrintError> {
    let mut sheet = Sheet { document, pages: vec![Written::begin(document.unit)] };
    let title = format!("Sewing order · {}", sewn_as.name());
    let label = match sewn_as {
        SewnAs::Toile => fitting_label(document, OPEN_ROUND, today),
        SewnAs::Finished => vec![document.client.trim().to_owned(), today.to_owned()],
    };
    let label: Vec<String> = label.into_iter().filter(|line| !line.is_empty()).collect();
    let label = label.join(" · ");
    let page = sheet.page();
    page.title(&title, &[("Sewn by", 46.0), ("Begun", 28.0), ("Done", 28.0)]);
    page.text(&label, SIDE, page.y, 3.8, Weight::Bold);
    page.y -= 5.0;
    page.care(CARE);
    sheet.cutting_list(set);
    let order = sewing_order(set, document, sewn_as);
    sheet.page().heading("Sewn in this order");
    for (index, step) in order.steps.iter().enumerate() {
        sheet.step(index + 1, step);
    }
    let source = format!("{ORDER_SOURCE} Widths are those of the project’s cutting plan.");
    sheet.room_for(10.0);
    let page = sheet.page();
    let at = Point::new(SIDE, page.y - 3.0);
    page.scene.words(Layer::Sheet, Words::level(source, at, 3.0, Weight::Regular, pens::GREY));
    let foot = format!("Hangtrue · {label} · {}", document.title);
    pdf_of_pages(sheet.pages, &title, &foot)
}

/// The pages, the last one being filled.
struct Sheet<'a> {
    document: &'a Document,
    pages: Vec<Written>,
}

impl Sheet<'_> {
    fn page(&mut self) -> &mut Written {
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// Begins a page where there is less room left than that, mm.
    fn room_for(&mut self, high: f64) {
        if self.page().room() < high {
            self.pages.push(Written::begin(self.document.unit));
        }
    }

    /// The pieces in two columns, a box to tick before each.
    fn cutting_list(&mut self, set: &CutSet) {
        let page = self.page();
        page.heading("Cut");
        let wide = (page.right() - SIDE) / 2.0;
        for pair in set.pieces.chunks(2) {
            let rows = pair.iter().map(|piece| piece.to_cut.len()).max().unwrap_or(1);
            self.room_for(ROW * rows as f64);
            let page = self.page();
            for (column, piece) in pair.iter().enumerate() {
                let x = SIDE + wide * column as f64;
                page.frame(Rect::from_origin_size((x, page.y - 0.6), (TICK, TICK)));
                let name = format!("{}  {}", piece.number, piece.name);
                page.text(&name, x + TICK + 2.4, page.y, HOW, Weight::Bold);
                let beside = x + TICK + 2.4 + width_of(&name, Weight::Bold, HOW) + 3.0;
                // Each cloth has a line; a long name leaves them what is over.
                for (line, cut) in piece.to_cut.iter().enumerate() {
                    let y = page.y - 4.2 * line as f64;
                    let room = (x + wide - 2.0 - beside).max(10.0);
                    let text = cut.to_string();
                    let size = PIECES.min(PIECES * room / width_of(&text, Weight::Regular, PIECES));
                    page.text(&text, beside, y, size, Weight::Regular);
                }
            }
            page.y -= ROW + 4.2 * (rows - 1) as f64;
        }
    }

    /// A step: box, number, title with its pieces, how, and what to take care of.
    fn step(&mut self, number: usize, step: &SewingStep) {
        let unit = self.document.unit;
        let page = self.page();
        let (x, wide) = (SIDE + INDENT, page.right() - SIDE - INDENT);
        let title = format!("{number}  {}", step.title);
        let how = broken_into_lines(&step.words.in_unit(unit), Weight::Regular, HOW, wide);
        let pieces = step.pieces.join(", ");
        let title_wide = width_of(&title, Weight::Bold, TITLE) + 4.0;
        let pieces_wide = width_of(&pieces, Weight::Regular, PIECES);
        let beside = title_wide + pieces_wide <= wide;
        let named = if beside {
            Vec::new()
        } else {
            broken_into_lines(&pieces, Weight::Regular, PIECES, wide)
        };
        let care = step.care.as_deref().unwrap_or_default();
        let care = broken_into_lines(care, Weight::Regular, PIECES, wide - 5.0);
        let care: Vec<String> = care.into_iter().filter(|line| !line.is_empty()).collect();
        let lines = |count: usize, size: f64| count as f64 * size * LEADING;
        let care_high = if care.is_empty() { 0.0 } else { lines(care.len(), PIECES) + 2.6 };
        let high = TITLE * 1.4 + lines(named.len(), PIECES) + lines(how.len(), HOW) + care_high;
        self.room_for(high + 3.0);
        let page = self.page();
        let mut y = page.y - TITLE;
        page.frame(Rect::from_origin_size((SIDE, y - 0.6), (TICK, TICK)));
        page.text(&title, x, y, TITLE, Weight::Bold);
        let grey = |text: String, x: f64, y: f64| {
            Words::level(text, Point::new(x, y), PIECES, Weight::Regular, pens::GREY)
        };
        if beside {
            page.scene.words(Layer::Sheet, grey(pieces, x + title_wide, y));
        }
        y -= TITLE * 1.25;
        for line in named {
            page.scene.words(Layer::Sheet, grey(line, x, y));
            y -= PIECES * LEADING;
        }
        for line in how {
            page.text(&line, x, y, HOW, Weight::Regular);
            y -= HOW * LEADING;
        }
        if !care.is_empty() {
            let top = y + HOW - 0.6;
            let frame = Rect::new(x, top - care_high + 0.8, page.right(), top);
            page.scene.fill(Layer::Sheet, frame.to_path(0.1), pens::WASH);
            y -= 1.4;
            for line in care {
                page.text(&line, x + 2.5, y, PIECES, Weight::Regular);
                y -= PIECES * LEADING;
            }
            y -= 0.6;
        }
        page.y = y - 2.4 + 2.0;
    }
}
