//! Paper, ink and cloth: the colours and letters of the desk, by day and under
//! the evening lamp.

use egui::{Color32, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle, vec2};
use std::sync::Arc;

/// The colours of the desk. Nothing is told by one of them alone: each state has
/// a word and a stitch or dash of its own as well.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Palette {
    /// Whether this is the evening palette.
    pub evening: bool,
    /// The cloth over the table.
    pub table: Color32,
    /// The paper of the pieces.
    pub paper: Color32,
    /// Ink on that paper.
    pub ink: Color32,
    /// Thinner ink on that paper.
    pub ink_soft: Color32,
    /// The cards and lists round the table.
    pub card: Color32,
    /// A field to write in, on a card.
    pub field: Color32,
    /// Lines between things on a card.
    pub rule: Color32,
    /// The edges of fields, buttons and whatever else must be seen to be used.
    pub edge: Color32,
    /// Behind what is chosen, on a card.
    pub chosen: Color32,
    /// Letters on a card.
    pub text: Color32,
    /// Less important letters on a card.
    pub text_soft: Color32,
    /// Madder red: the pinch, and what is to be done next.
    pub madder: Color32,
    /// Indigo: lines that go to the cloth, and the older version.
    pub indigo: Color32,
    /// Sage: done, kept.
    pub sage: Color32,
    /// Ochre: stale, broken, to look at.
    pub ochre: Color32,
}

const fn rgb(r: u8, g: u8, b: u8) -> Color32 {
    Color32::from_rgb(r, g, b)
}

/// By day: an indigo-grey chambray on the table, cream paper, dark brown ink.
pub const DAY: Palette = Palette {
    evening: false,
    table: rgb(0x9f, 0xae, 0xb6),
    paper: rgb(0xfb, 0xf6, 0xe9),
    ink: rgb(0x2a, 0x25, 0x22),
    ink_soft: rgb(0x66, 0x5c, 0x52),
    card: rgb(0xf5, 0xee, 0xdf),
    field: rgb(0xff, 0xfc, 0xf4),
    rule: rgb(0xd6, 0xc9, 0xb2),
    edge: rgb(0x80, 0x72, 0x5d),
    chosen: rgb(0xe7, 0xd3, 0xb4),
    text: rgb(0x2e, 0x28, 0x24),
    text_soft: rgb(0x5f, 0x55, 0x4b),
    madder: rgb(0xa8, 0x32, 0x2d),
    indigo: rgb(0x2c, 0x4a, 0x7c),
    sage: rgb(0x3f, 0x6b, 0x3c),
    ochre: rgb(0x96, 0x5c, 0x06),
};

/// Under the evening lamp: dark cloth, dimmed paper, light letters on the cards.
pub const EVENING: Palette = Palette {
    evening: true,
    table: rgb(0x2b, 0x31, 0x3b),
    paper: rgb(0xdc, 0xd0, 0xb8),
    ink: rgb(0x26, 0x20, 0x1c),
    ink_soft: rgb(0x52, 0x48, 0x3d),
    card: rgb(0x26, 0x22, 0x1f),
    field: rgb(0x33, 0x2d, 0x28),
    rule: rgb(0x4f, 0x46, 0x3d),
    edge: rgb(0xa0, 0x91, 0x7d),
    chosen: rgb(0x55, 0x45, 0x3a),
    text: rgb(0xee, 0xe4, 0xd2),
    text_soft: rgb(0xc8, 0xbb, 0xa8),
    madder: rgb(0xe8, 0x85, 0x76),
    indigo: rgb(0x9c, 0xb8, 0xe6),
    sage: rgb(0x9d, 0xc7, 0x8d),
    ochre: rgb(0xe4, 0xb4, 0x5c),
};

impl Palette {
    /// The palette of the day or of the evening.
    pub fn of(evening: bool) -> Self {
        if evening { EVENING } else { DAY }
    }

    /// Madder, indigo, sage and ochre are chosen for the cards; on the paper of
    /// the pieces, which is light under either lamp, the day's inks are used.
    /// Dimmed paper needs darker ones.
    pub fn on_paper(&self) -> Palette {
        if !self.evening {
            return *self;
        }
        Palette {
            paper: self.paper,
            ink: self.ink,
            ink_soft: self.ink_soft,
            madder: rgb(0x91, 0x27, 0x23),
            sage: rgb(0x31, 0x58, 0x2f),
            ochre: rgb(0x6e, 0x43, 0x02),
            ..DAY
        }
    }
}

/// The family of the headings.
pub fn heading_family() -> FontFamily {
    FontFamily::Name("heading".into())
}

/// The family of bold words.
pub fn bold_family() -> FontFamily {
    FontFamily::Name("bold".into())
}

/// Loads the letters: Lato for reading, Vollkorn for headings.
pub fn load_letters(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::default();
    let mut add = |name: &str, bytes: &'static [u8]| {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    };
    add("lato", include_bytes!("../../../../assets/fonts/Lato-Regular.ttf"));
    add("lato bold", include_bytes!("../../../../assets/fonts/Lato-Bold.ttf"));
    add("vollkorn", include_bytes!("../../../../assets/fonts/Vollkorn-SemiBold.ttf"));
    let fallback = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    let with = |first: &str| {
        let mut all = vec![first.to_owned(), "lato".to_owned()];
        all.extend(fallback.iter().cloned());
        all
    };
    fonts.families.insert(FontFamily::Proportional, with("lato"));
    fonts.families.insert(bold_family(), with("lato bold"));
    fonts.families.insert(heading_family(), with("vollkorn"));
    ctx.set_fonts(fonts);
}

/// Sizes of the letters at 100 %, points: large enough for arm's length.
const BODY: f32 = 16.0;

/// Points that the bar of what is scrolled is wide while nobody points at it.
const SCROLL_BAR: f32 = 6.0;

/// Sets colours and sizes; `scale` is the size of the letters, 1.0 to 2.0.
pub fn dress(ctx: &egui::Context, palette: &Palette, scale: f32) {
    let mut visuals = if palette.evening { egui::Visuals::dark() } else { egui::Visuals::light() };
    visuals.override_text_color = None;
    visuals.panel_fill = palette.card;
    visuals.window_fill = palette.card;
    visuals.window_stroke = Stroke::new(1.0, palette.rule);
    visuals.extreme_bg_color = palette.field;
    visuals.text_edit_bg_color = Some(palette.field);
    visuals.faint_bg_color = palette.field;
    visuals.hyperlink_color = palette.indigo;
    visuals.warn_fg_color = palette.ochre;
    visuals.error_fg_color = palette.ochre;
    visuals.weak_text_color = Some(palette.text_soft);
    visuals.selection.bg_fill = palette.chosen;
    visuals.selection.stroke = Stroke::new(1.5, palette.text);
    let w = &mut visuals.widgets;
    for (state, fill, edge, width) in [
        (&mut w.noninteractive, palette.card, palette.rule, 1.0),
        (&mut w.inactive, palette.field, palette.edge, 1.0),
        (&mut w.hovered, palette.field, palette.text_soft, 1.5),
        (&mut w.active, palette.rule, palette.text, 2.0),
        (&mut w.open, palette.field, palette.text_soft, 1.0),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(width, edge);
        state.fg_stroke = Stroke::new(1.4, palette.text);
        state.corner_radius = 5.into();
        state.expansion = 0.0;
    }
    ctx.set_theme(if palette.evening { egui::Theme::Dark } else { egui::Theme::Light });
    ctx.set_visuals(visuals);
    let size = |points: f32| points * scale;
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Heading, FontId::new(size(23.0), heading_family())),
            (TextStyle::Body, FontId::new(size(BODY), FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(size(BODY), FontFamily::Proportional)),
            (TextStyle::Small, FontId::new(size(13.5), FontFamily::Proportional)),
            (TextStyle::Monospace, FontId::new(size(BODY), FontFamily::Proportional)),
        ]
        .into();
        style.spacing.item_spacing = vec2(8.0, 7.0);
        style.spacing.button_padding = vec2(10.0, 5.0);
        style.spacing.interact_size.y = size(28.0);
        style.spacing.icon_width = size(19.0);
        style.spacing.icon_width_inner = size(12.0);
        style.spacing.text_edit_width = size(120.0);
        style.spacing.combo_width = size(120.0);
        // What goes on below is seen without pointing at it.
        let scroll = &mut style.spacing.scroll;
        scroll.foreground_color = true;
        scroll.floating_width = SCROLL_BAR;
        // It lies over nothing.
        scroll.floating_allocated_width = SCROLL_BAR + 2.0;
        // Whether the pointer is over what is scrolled changes nothing: only over the bar.
        (scroll.dormant_handle_opacity, scroll.active_handle_opacity) = (0.55, 0.55);
        (scroll.dormant_background_opacity, scroll.active_background_opacity) = (0.25, 0.25);
        style.animation_time = 0.0;
    });
}

/// The frame of a note that lies over the desk until it is answered.
pub fn note_frame(ctx: &egui::Context) -> egui::Frame {
    egui::Frame::popup(&ctx.global_style()).inner_margin(20.0).corner_radius(8.0)
}

/// Bold words.
pub fn bold(text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(text).family(bold_family())
}

#[cfg(test)]
mod tests {
    use super::*;
    use hangtrue_tests::contrast::contrast;

    /// WCAG 2.2, 1.4.3 (AA): letters.
    const LETTERS: f64 = 4.5;
    /// WCAG 2.2, 1.4.11 (AA): what must be seen to be used.
    const EDGES: f64 = 3.0;

    #[test]
    fn letters_and_edges_stand_out_in_both_looks() {
        for p in [DAY, EVENING] {
            let mut least = (f64::MAX, f64::MAX);
            let mut check = |fore: Color32, ground: Color32, wanted: f64, what: &str| {
                let [fore, ground] = [fore, ground].map(|c| [c.r(), c.g(), c.b()]);
                let found = contrast(fore, ground);
                assert!(found >= wanted, "dark {}: {what} {found:.2}", p.evening);
                let kept = if wanted == LETTERS { &mut least.0 } else { &mut least.1 };
                *kept = kept.min(found);
            };
            for (name, ground) in [("card", p.card), ("field", p.field)] {
                for ink in [p.text, p.text_soft, p.madder, p.indigo, p.sage, p.ochre] {
                    check(ink, ground, LETTERS, name);
                }
                check(p.edge, ground, EDGES, name);
            }
            check(p.text, p.chosen, LETTERS, "chosen");
            check(p.text, p.rule, LETTERS, "pressed");
            check(p.text_soft, p.chosen, LETTERS, "soft on chosen");
            let inks = p.on_paper();
            for ink in [p.ink, p.ink_soft, inks.madder, inks.indigo, inks.sage, inks.ochre] {
                check(ink, p.paper, LETTERS, "paper");
            }
            println!("dark {}: letters from {:.2}, edges from {:.2}", p.evening, least.0, least.1);
        }
    }
}
