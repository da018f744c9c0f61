//! The fitting sheet: what is looked at on the worn toile, in the order in which it is
//! typed in afterwards.

use super::page::{SIDE, Written, pdf_of_pages};
use crate::print::{PrintError, Weight, fitting_label};
use hangtrue_adjust::reading::{
    HangLine, Leg, LinePlace, PieceView, SeenFrom, Sign, at_home, droop_words,
};
use hangtrue_adjust::worn::BEST_LENS_HEIGHT;
use hangtrue_adjust::{Document, OPEN_ROUND};
use hangtrue_geometry::Rect;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::show_margin;

/// Height of a row to write in, mm: of lines, and of pins.
const LINE: f64 = 11.5;
const PIN: f64 = 9.0;
/// The places a line is read at, and their names.
const PLACES: [f64; 3] = [0.0, 0.5, 1.0];

/// Common practice, no published source.
const CARE: &str = "Ask before you touch, and before you pin at crotch and inside leg. Count the pins in and count them out; none between the lips. Bend your knees, not over the wearer. The wearer stands easily, looks ahead, and does not look down.";

/// The order of looking; common practice, no published source.
const ORDER: &str = "First where the waist sits. Then the lines from the top down: stand off three paces and hold a level behind each. Then the folds. Pin last, and look again.";

/// Before a photo that is to be read; common practice, no published source.
const PHOTO: &str = "A photo to be read: ask first. The lens about 3 m away, square to the back or the front, a door frame or a plumb line beside the wearer, the feet in the picture.";

/// Makes the sheet for the toile that was cut from `cut`.
///
/// # Errors
/// [`PrintError`] when the PDF cannot be put together.
pub fn fitting_sheet(
    document: &Document,
    cut: &Pattern,
    today: &str,
) -> Result<Vec<u8>, PrintError> {
    let mut first = Written::begin(document.unit);
    first.title("Fitting sheet", &[("Date", 28.0), ("Fitted by", 46.0)]);
    let label = fitting_label(document, OPEN_ROUND, today).join(" · ");
    first.text(&label, SIDE, first.y, 3.8, Weight::Bold);
    first.y -= 6.0;
    first.care(CARE);
    first.y -= 2.5;
    first.paragraph(ORDER);
    first.paragraph(&format!("{PHOTO} {BEST_LENS_HEIGHT}"));
    lines(&mut first, document, cut);
    let mut second = Written::begin(document.unit);
    signs(&mut second);
    pins(&mut second);
    let title = format!("Fitting sheet {}", document.title);
    pdf_of_pages(
        vec![first, second],
        &title,
        &format!("Hangtrue · {label} · typed in at “Toile” and “Pinch”, in this order"),
    )
}

/// The lines on the cloth, from the top: a box a place on each leg, and what the line does
/// on a toile that fits.
fn lines(page: &mut Written, document: &Document, cut: &Pattern) {
    let marked = on_cloth(cut);
    let of_line = |(line, view): &(HangLine, PieceView)| {
        let (line, view) = (*line, *view);
        Leg::BOTH.into_iter().flat_map(move |leg| PLACES.map(|at| (line, view, leg, at)))
    };
    let places: Vec<LinePlace> = marked.iter().flat_map(of_line).collect();
    let home = at_home(cut, &[], &places);
    let widest = home.iter().flatten().fold(0.0, |most: f64, (_, error)| most.max(*error));
    page.heading("How the lines hang");
    page.paragraph(&format!(
        "Write how far each place hangs below a level (+) or above it (−) through the line’s own place at the side seam. The small number is what a toile that fits does there, reckoned from the slope of the seams (predicted, not seen; ± {} at the most).",
        show_margin(widest, document.unit)
    ));
    let (left, wide) = (SIDE + 34.0, page.right() - SIDE - 34.0);
    let cells = Leg::BOTH.len() * PLACES.len();
    let cell = wide / cells as f64;
    for (index, leg) in Leg::BOTH.into_iter().enumerate() {
        let x = left + cell * (PLACES.len() * index) as f64;
        page.text(&format!("{} leg", leg.word()), x, page.y, 3.6, Weight::Bold);
    }
    page.y -= 5.0;
    for ((line, view), home) in marked.into_iter().zip(home.chunks(cells)) {
        let name = format!("{} · {}", view.piece(), line.name());
        page.text(&name, SIDE, page.y - LINE + 3.2, 3.6, Weight::Bold);
        let called = [line.inner_end(), "middle", "side"];
        for (index, (place, hangs)) in called.iter().cycle().zip(home).enumerate() {
            let at = (left + cell * index as f64, page.y - LINE + 0.8);
            page.frame(Rect::from_origin_size(at, (cell - 1.6, LINE - 1.6)));
            let home = hangs.map(|h| format!(" {}", droop_words(h.0, document.unit)));
            let small = format!("{place}{}", home.unwrap_or_default());
            page.text(&small, at.0 + 0.8, at.1 + LINE - 4.2, 2.1, Weight::Regular);
        }
        page.y -= LINE;
    }
}

/// The lines of the toile that the reading knows, from the top, back before front; the
/// edges of waist and hem are read without a mark.
fn on_cloth(cut: &Pattern) -> Vec<(HangLine, PieceView)> {
    let mut found = Vec::new();
    for line in HangLine::ALL {
        for view in PieceView::ALL {
            let edge = matches!(line, HangLine::Waist | HangLine::Hem);
            let mut marked = cut.lines.iter().filter(|l| l.purpose.to_cloth());
            if edge || marked.any(|l| l.name == line.name() && l.piece.starts_with(view.piece())) {
                found.push((line, view));
            }
        }
    }
    found
}

/// The signs, a box to tick where it is seen and one where it was looked for and is not.
fn signs(page: &mut Written) {
    page.heading("Folds and how the toile stands");
    page.paragraph("Tick the left box when you see it, the right one when you looked and it is not there. What is ticked in neither was not looked for.");
    let half = (page.right() - SIDE) / 2.0;
    for from in [SeenFrom::Back, SeenFrom::Front, SeenFrom::Side] {
        let title = match from {
            SeenFrom::Back => "From behind",
            SeenFrom::Front => "From in front",
            SeenFrom::Side => "From the side",
        };
        page.text(title, SIDE, page.y, 3.7, Weight::Bold);
        page.y -= 6.0;
        let of: Vec<Sign> = Sign::ALL.iter().copied().filter(|s| s.from() == from).collect();
        for pair in of.chunks(2) {
            for (index, sign) in pair.iter().enumerate() {
                let x = SIDE + half * index as f64;
                page.two_ticks(sign.name(), (x, page.y), 6.0);
            }
            page.y -= 6.0;
        }
        page.y -= 1.5;
    }
}

/// What was pinned, in rows to write in.
fn pins(page: &mut Written) {
    page.heading("What you pinned");
    page.paragraph("Measure from mark to mark on the flat cloth, at each pin place, before the pins come out. Length is folded across, width down.");
    let columns = [
        ("line or place", 0.30),
        ("length or width", 0.16),
        ("side", 0.135),
        ("middle", 0.135),
        ("centre or inseam", 0.135),
        ("pins in / out", 0.135),
    ];
    let whole = page.right() - SIDE;
    let mut x = SIDE;
    for (name, share) in columns {
        page.text(name, x + 0.8, page.y, 3.0, Weight::Regular);
        x += whole * share;
    }
    page.y -= 2.0;
    while page.room() > PIN + 22.0 && page.y > 60.0 {
        let mut x = SIDE;
        for (_, share) in columns {
            let wide = whole * share;
            page.frame(Rect::from_origin_size((x, page.y - PIN + 1.0), (wide, PIN)));
            x += wide;
        }
        page.y -= PIN;
    }
    page.y -= 3.0;
    page.text(
        "What else you saw, and what the wearer says",
        SIDE,
        page.y - 3.0,
        3.6,
        Weight::Regular,
    );
    page.y -= 11.0;
    while page.room() > 6.0 {
        page.rule(SIDE, page.right(), page.y);
        page.y -= 8.0;
    }
}
