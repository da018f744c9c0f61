//! Words on cards and windows: faults, asides, headings, rows.

use super::theme::{Palette, bold};
use egui::{Color32, Frame, Label, RichText, Sense, Shape, Stroke, TextStyle, Ui, vec2};

/// A fault in words, where it happened.
pub(crate) fn fault(palette: impl Into<Palette>, ui: &mut Ui, why: &str) {
    let palette = palette.into();
    Frame::new().stroke(Stroke::new(1.5, palette.ochre)).inner_margin(8.0).corner_radius(5.0).show(
        ui,
        |ui| {
            ui.colored_label(palette.ochre, bold("Not possible like this"));
            ui.add(Label::new(why).wrap());
        },
    );
}

/// A line that says what must not be overlooked.
pub(crate) fn fault_line(palette: impl Into<Palette>, ui: &mut Ui, words: &str) {
    ui.add(Label::new(bold(words).color(palette.into().madder)).wrap());
}

/// A soft line of words.
pub(crate) fn aside(palette: impl Into<Palette>, ui: &mut Ui, words: impl Into<String>) {
    told(palette, ui, words.into(), false);
}

/// A soft line of words, in the colour of a warning when it is one.
pub(crate) fn told(palette: impl Into<Palette>, ui: &mut Ui, words: String, is_warning: bool) {
    let palette = palette.into();
    let ink = if is_warning { palette.ochre } else { palette.text_soft };
    ui.add(Label::new(RichText::new(words).color(ink).small()).wrap());
}

/// A heading within a card.
pub(crate) fn part(ui: &mut Ui, words: &str) {
    ui.add_space(6.0);
    ui.label(bold(words));
}

/// The same words, none of whose lengths breaks at the end of a line: a number, its
/// fraction and its unit hold together.
pub(crate) fn unbroken(words: &str) -> String {
    let holds = |before: &str, after: &str| {
        let number = before.trim_start_matches(['≈', '+', '−', '(']);
        let number = number.starts_with(|c: char| c.is_ascii_digit());
        let unit = after.trim_end_matches(|c: char| c.is_ascii_punctuation());
        let fraction = after.contains('/') && after.starts_with(|c: char| c.is_ascii_digit());
        number && (fraction || matches!(unit, "mm" | "cm" | "in"))
    };
    let mut whole = String::with_capacity(words.len());
    let mut before = "";
    for (index, word) in words.split(' ').enumerate() {
        if index > 0 {
            whole.push(if holds(before, word) { '\u{a0}' } else { ' ' });
        }
        whole += word;
        before = word;
    }
    whole
}

/// A row of words and, at the right, what they come to.
pub(crate) fn row(ui: &mut Ui, words: &str, value: &str) {
    let wide = ui.available_width();
    ui.horizontal_top(|ui| {
        ui.allocate_ui(vec2(wide * 0.66, 0.0), |ui| {
            ui.set_width(wide * 0.66);
            ui.add(Label::new(RichText::new(unbroken(words)).small()).wrap());
        });
        ui.add(Label::new(RichText::new(value).small()).wrap());
    });
}

/// A stitched tick, or a cross, before a word that says the same.
pub(crate) fn mark(ui: &mut Ui, good: bool, colour: Color32) {
    let size = ui.text_style_height(&TextStyle::Body) * 0.7;
    let (rect, _) = ui.allocate_exact_size(vec2(size, size), Sense::hover());
    let pen = Stroke::new(2.2, colour);
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * size;
    if good {
        let tick = vec![at(0.05, 0.55), at(0.38, 0.9), at(0.95, 0.1)];
        ui.painter().add(Shape::line(tick, pen));
    } else {
        ui.painter().line_segment([at(0.1, 0.1), at(0.9, 0.9)], pen);
        ui.painter().line_segment([at(0.9, 0.1), at(0.1, 0.9)], pen);
    }
}

#[cfg(test)]
mod tests {
    use super::unbroken;

    #[test]
    fn a_length_holds_together_and_other_words_do_not() {
        assert_eq!(
            unbroken("hip to knee: ≈15 5/16 in on 389.1 mm, 2 of 3 (−1/4 in)"),
            "hip to knee: ≈15\u{a0}5/16\u{a0}in on 389.1\u{a0}mm, 2 of 3 (−1/4\u{a0}in)"
        );
        assert_eq!(unbroken(" knee  in 2 "), " knee  in 2 ");
    }
}
