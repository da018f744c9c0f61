//! The letters: Lato by Łukasz Dziedzic, under the SIL Open Font License 1.1
//! (assets/fonts/OFL-Lato.txt), embedded so that a print looks the same everywhere.

use super::Weight;
use rustybuzz::{Face, UnicodeBuffer};
use std::cell::RefCell;
use std::collections::HashMap;
use std::sync::OnceLock;

/// The font file of a weight.
pub(crate) fn font_file(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => include_bytes!("../../../../assets/fonts/Lato-Regular.ttf"),
        Weight::Bold => include_bytes!("../../../../assets/fonts/Lato-Bold.ttf"),
    }
}

fn face(weight: Weight) -> Option<&'static Face<'static>> {
    static REGULAR: OnceLock<Option<Face<'static>>> = OnceLock::new();
    static BOLD: OnceLock<Option<Face<'static>>> = OnceLock::new();
    let cell = match weight {
        Weight::Regular => &REGULAR,
        Weight::Bold => &BOLD,
    };
    cell.get_or_init(|| Face::from_slice(font_file(weight), 0)).as_ref()
}

/// The text as it is set: one line, without control characters.
pub(crate) fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A letter form as it is set, in parts of the letter size (the em).
pub(crate) struct Glyph {
    /// Its number in the font.
    pub(crate) id: u32,
    /// How far the next one stands.
    pub(crate) advance: f32,
    /// Where it stands from its place, to the right.
    pub(crate) right: f32,
    /// Where it stands from its place, up.
    pub(crate) up: f32,
    /// The bytes of the text it shows.
    pub(crate) range: std::ops::Range<usize>,
}

/// The letter forms of a text that is on one line. The font has scripts that run
/// from left to right only.
pub(crate) fn set(text: &str, weight: Weight) -> Vec<Glyph> {
    let Some(face) = face(weight) else { return Vec::new() };
    let mut buffer = UnicodeBuffer::new();
    buffer.push_str(text);
    buffer.guess_segment_properties();
    buffer.set_direction(rustybuzz::Direction::LeftToRight);
    let shaped = rustybuzz::shape(face, &[], buffer);
    let em = face.units_per_em() as f32;
    // Clusters only grow from left to right, so the end of each is the start of the
    // next one that differs: found once, from the right.
    let (mut next, mut end) = (text.len(), text.len());
    let mut glyphs: Vec<Glyph> = Vec::with_capacity(shaped.len());
    for (info, place) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()).rev() {
        let start = info.cluster as usize;
        if start != next {
            (end, next) = (next, start);
        }
        glyphs.push(Glyph {
            id: info.glyph_id,
            advance: place.x_advance as f32 / em,
            right: place.x_offset as f32 / em,
            up: place.y_offset as f32 / em,
            range: start..end,
        });
    }
    glyphs.reverse();
    glyphs
}

/// The letters of a line of words in a picture: `to` says where in it a place of their
/// outlines lies, which are one high, their foot at nought.
pub(crate) fn letters_path(
    words: &str,
    weight: Weight,
    to: impl Fn(kurbo::Point) -> (f32, f32),
) -> Option<tiny_skia::Path> {
    use kurbo::PathEl;
    let mut path = tiny_skia::PathBuilder::new();
    for el in outline_of(words, weight).elements() {
        match *el {
            PathEl::MoveTo(p) => path.move_to(to(p).0, to(p).1),
            PathEl::LineTo(p) => path.line_to(to(p).0, to(p).1),
            PathEl::QuadTo(a, p) => path.quad_to(to(a).0, to(a).1, to(p).0, to(p).1),
            PathEl::CurveTo(a, b, p) => {
                path.cubic_to(to(a).0, to(a).1, to(b).0, to(b).1, to(p).0, to(p).1);
            }
            PathEl::ClosePath => path.close(),
        }
    }
    path.finish()
}

/// The outlines of the letters of a line of text, in parts of the letter size (the
/// em), y up, the foot of the first at the origin.
pub(crate) fn outline_of(text: &str, weight: Weight) -> kurbo::BezPath {
    let mut path = Outlines { path: kurbo::BezPath::new(), at: (0.0, 0.0), em: 1.0 };
    let Some(face) = face(weight) else { return path.path };
    path.em = f64::from(face.units_per_em());
    let mut pen = 0.0;
    for glyph in set(&one_line(text), weight) {
        path.at = (pen + f64::from(glyph.right), f64::from(glyph.up));
        if let Ok(id) = u16::try_from(glyph.id) {
            // A blank has no outline.
            let _ = face.outline_glyph(rustybuzz::ttf_parser::GlyphId(id), &mut path);
        }
        pen += f64::from(glyph.advance);
    }
    path.path
}

/// Takes the outlines of a font, each letter at its place.
struct Outlines {
    path: kurbo::BezPath,
    at: (f64, f64),
    em: f64,
}

impl Outlines {
    fn on(&self, x: f32, y: f32) -> kurbo::Point {
        kurbo::Point::new(self.at.0 + f64::from(x) / self.em, self.at.1 + f64::from(y) / self.em)
    }
}

impl rustybuzz::ttf_parser::OutlineBuilder for Outlines {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.on(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.on(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.path.quad_to(self.on(x1, y1), self.on(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.path.curve_to(self.on(x1, y1), self.on(x2, y2), self.on(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}

/// The width of a line of text, mm, for letters of `size` mm.
pub fn width_of(text: &str, weight: Weight, size: f64) -> f64 {
    width_of_em(text, weight) * size
}

/// Texts whose widths are kept: those of a few prints.
const KEPT: usize = 1000;

thread_local! {
    /// Widths that were worked out, for letters of 1 mm: setting letters takes long, and a
    /// place for the same words is looked for many times.
    static WIDTHS: RefCell<HashMap<(Weight, String), f64>> = RefCell::default();
}

fn width_of_em(text: &str, weight: Weight) -> f64 {
    let key = (weight, text.to_owned());
    if let Some(known) = WIDTHS.with_borrow(|w| w.get(&key).copied()) {
        return known;
    }
    let glyphs = set(&one_line(text), weight);
    let width = glyphs.iter().map(|g| f64::from(g.advance)).sum();
    WIDTHS.with_borrow_mut(|widths| {
        if widths.len() >= KEPT {
            widths.clear();
        }
        widths.insert(key, width);
    });
    width
}

/// The letters of a text that the font does not have, each once; they would be
/// printed as empty boxes.
pub fn letters_missing(text: &str) -> Vec<char> {
    let Some(face) = face(Weight::Regular) else { return Vec::new() };
    let mut missing: Vec<char> = Vec::new();
    for c in one_line(text).chars() {
        if face.glyph_index(c).is_none() && !missing.contains(&c) {
            missing.push(c);
        }
    }
    missing
}

/// The text broken into lines no wider than `width` mm. A word that is wider
/// by itself is broken between letters.
pub(crate) fn broken_into_lines(text: &str, weight: Weight, size: f64, width: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in one_line(text).split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width_of(&longer, weight, size) <= width {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for c in word.chars() {
            line.push(c);
            if width_of(&line, weight, size) > width && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(c);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// A text cut short is looked at from so many letter sizes beyond its room: more than
/// the letters at the cut can move closer to each other.
const KERNED: f64 = 2.0;

/// The text cut short with “…” so that it is no wider than `width` mm.
pub(crate) fn cut_short(text: &str, weight: Weight, size: f64, width: f64) -> String {
    let text = one_line(text);
    // Laid out once; only cuts near the room's end are laid out again, because two
    // letters may stand closer or wider than each by itself.
    let mut end = 0.0;
    let mut room_ends_at = None;
    for glyph in set(&text, weight) {
        end += f64::from(glyph.advance) * size;
        if end > width + KERNED * size && room_ends_at.is_none() {
            room_ends_at = Some(glyph.range.end);
        }
    }
    if end <= width {
        return text;
    }
    let mut kept = &text[..room_ends_at.unwrap_or(text.len())];
    while let Some((last, _)) = kept.char_indices().next_back() {
        kept = &kept[..last];
        let short = kept.trim_end().to_owned() + "…";
        if width_of(&short, weight, size) <= width {
            return short;
        }
    }
    "…".into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn letters_of_european_names_are_all_there() {
        for name in ["Zoë Łukasiewicz-Ødegård", "Çağla Şimşek", "Ngọc Ánh Đặng", "Ελένη", "Юлия"]
        {
            assert_eq!(letters_missing(name), Vec::<char>::new(), "{name}");
        }
        assert_eq!(letters_missing("漢漢"), vec!['漢']);
    }

    #[test]
    fn what_the_sheets_say_can_be_set() {
        let signs = "“”…–—·×½¼¾⅜≈−°%→±";
        let missing = letters_missing(signs);
        assert!(missing.is_empty(), "{missing:?}");
    }

    #[test]
    fn every_letter_form_shows_its_own_bytes() {
        let text = "Zoë Łuk ffi e\u{301}é – x";
        let glyphs = set(text, Weight::Regular);
        let mut at = 0;
        for glyph in &glyphs {
            assert!(glyph.range.start == at || glyph.range.end == at, "{:?}", glyph.range);
            at = glyph.range.end;
            assert!(text.get(glyph.range.clone()).is_some_and(|t| !t.is_empty()));
        }
        assert_eq!(at, text.len());
    }

    /// The old way: letter after letter taken away and all laid out again.
    fn cut_letter_by_letter(text: &str, weight: Weight, size: f64, width: f64) -> String {
        if width_of(text, weight, size) <= width {
            return text.to_owned();
        }
        let mut kept: Vec<char> = text.chars().collect();
        while kept.pop().is_some() {
            let short: String = kept.iter().collect::<String>().trim_end().to_owned() + "…";
            if width_of(&short, weight, size) <= width {
                return short;
            }
        }
        "…".into()
    }

    #[test]
    fn a_very_long_title_is_cut_to_its_room() {
        let title = "Trousers for a very long name ".repeat(50_000);
        let cut = cut_short(&title, Weight::Bold, 9.5, 178.0);
        assert!(cut.ends_with('…') && cut.len() < 100, "{cut}");
        assert!(width_of(&cut, Weight::Bold, 9.5) <= 178.0);
    }

    proptest! {
        #[test]
        fn cutting_once_is_cutting_letter_by_letter(
            text in "[A-Za-zé.,ŁVWT ]{0,60}", width in 0.0f64..120.0,
        ) {
            let whole = cut_letter_by_letter(&text, Weight::Bold, 5.0, width);
            prop_assert_eq!(cut_short(&text, Weight::Bold, 5.0, width), whole);
        }

        #[test]
        fn broken_lines_fit_and_keep_every_letter(text in "[a-zé ]{0,120}", width in 15.0f64..90.0) {
            let lines = broken_into_lines(&text, Weight::Regular, 4.0, width);
            for line in &lines {
                prop_assert!(width_of(line, Weight::Regular, 4.0) <= width + 1e-9);
            }
            let squeezed = |s: &str| s.split_whitespace().collect::<String>();
            prop_assert_eq!(squeezed(&lines.concat()), squeezed(&text));
        }

        #[test]
        fn measuring_never_panics(text in ".*") {
            prop_assert!(width_of(&text, Weight::Bold, 3.0).is_finite());
        }
    }
}
