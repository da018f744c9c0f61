//! What each sign looks like on the worn toile, in a few strokes: trousers from behind, in
//! front or from the side in a box of 40 by 48. Nothing is measured on them.

use crate::kit::strokes::{Dot, Strokes, bow};
use crate::kit::theme::Palette;
use egui::{Sense, Ui, vec2};
use hangtrue_adjust::reading::{SeenFrom, Sign};

/// Width and height of a drawing at letters of 100 %, points.
const SIZE: Dot = (66.0, 79.0);

/// Shows it.
pub(super) fn show(ui: &mut Ui, palette: &Palette, letters: f32, sign: Sign) {
    let size = vec2(SIZE.0, SIZE.1) * letters.sqrt();
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let words = format!("A drawing: {}", sign.name());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &words));
    let inks = palette.on_paper();
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 5.0, inks.paper);
    let pen =
        Pen { strokes: Strokes { painter, frame: rect.shrink(4.0), size: (40.0, 48.0) }, inks };
    match sign.from() {
        SeenFrom::Back => pen.two_legs(true),
        SeenFrom::Front => pen.two_legs(false),
        SeenFrom::Side => pen.side_view(sign),
    }
    pen.sign(sign);
}

struct Pen {
    strokes: Strokes,
    inks: Palette,
}

/// The other side of a drawing that is the same left and right.
fn mirrored(places: &[Dot]) -> Vec<Dot> {
    places.iter().map(|(x, y)| (40.0 - x, *y)).collect()
}

impl Pen {
    fn twice(&self, places: &[Dot], width: f32) {
        self.strokes.line(places, width, self.inks.madder);
        self.strokes.line(&mirrored(places), width, self.inks.madder);
    }

    fn two_legs(&self, back: bool) {
        let ink = self.inks.ink;
        let side =
            [(20.0, 3.0), (30.0, 3.0), (33.0, 10.0), (34.0, 18.0), (32.0, 34.0), (31.0, 46.0)];
        let inner = [(31.0, 46.0), (23.0, 46.0), (21.5, 32.0), (20.0, 20.0), (20.0, 3.0)];
        for half in [&side[..], &inner[..]] {
            self.strokes.line(half, 1.2, ink);
            self.strokes.line(&mirrored(half), 1.2, ink);
        }
        let dart = [(25.0, 3.0), (25.5, 8.0), (26.0, 3.0)];
        let fly = bow((20.0, 13.0), (23.0, 12.0), (23.0, 3.0));
        if back {
            self.strokes.line(&dart, 1.0, ink);
            self.strokes.line(&mirrored(&dart), 1.0, ink);
        } else {
            self.strokes.line(&fly, 1.0, ink);
        }
    }

    /// A leg from the side, its front to the right; the body's plumb line broken.
    fn side_view(&self, sign: Sign) {
        let (ink, soft) = (self.inks.ink, self.inks.ink_soft);
        let shift = match sign {
            Sign::PelvisForward => 4.0,
            Sign::PelvisBackward => -4.0,
            _ => 0.0,
        };
        let back =
            [(13.0, 3.0), (9.0 + shift, 12.0), (12.0 + shift, 20.0), (14.0, 33.0), (14.0, 45.0)];
        let front =
            [(25.0, 3.0), (27.0 + shift, 12.0), (26.0 + shift, 20.0), (24.0, 33.0), (24.0, 45.0)];
        let [.., back_hem] = back;
        self.strokes.line(&back, 1.2, ink);
        self.strokes.line(&front, 1.2, ink);
        self.strokes.line(&[back[0], front[0]], 1.2, ink);
        self.strokes.line(&[back_hem, (24.0, 45.0)], 1.2, ink);
        self.strokes.line(&[(15.0, 46.5), (30.0, 46.5)], 1.6, soft);
        self.strokes.broken(&[(19.0, 3.0), (19.0, 46.0)], 1.0, self.inks.indigo);
    }

    fn sign(&self, sign: Sign) {
        let ink = self.inks.madder;
        let twice = |places: &[Dot]| self.twice(places, 1.8);
        match sign {
            Sign::WaistOnTape => {
                let tape = self.inks.indigo;
                self.strokes.line(&[(8.5, 3.2), (31.5, 3.2)], 2.6, tape);
                self.strokes.line(&[(21.0, 3.2), (23.5, 10.0)], 1.8, tape);
                self.strokes.line(&[(20.0, 3.2), (18.0, 9.0)], 1.8, tape);
            }
            Sign::FoldUnderWaist => {
                self.strokes.bow([(11.0, 7.0), (20.0, 9.0), (29.0, 7.0)], 2.0, ink);
                self.strokes.bow([(13.0, 9.5), (20.0, 11.5), (27.0, 9.5)], 1.4, ink);
            }
            Sign::PullAcrossSeat => {
                for (y, inner) in [(12.0, 9.0), (14.5, 8.0), (17.0, 9.0)] {
                    self.strokes.line(&[(inner, y), (40.0 - inner, y)], 1.6, ink);
                }
            }
            Sign::FoldUnderSeat => {
                twice(&bow((22.5, 22.0), (27.0, 27.0), (32.0, 21.0)));
                twice(&bow((22.5, 25.5), (27.0, 30.5), (32.0, 24.5)));
            }
            Sign::BackSmile | Sign::FrontSmile => {
                twice(&bow((21.0, 20.0), (28.0, 19.0), (33.0, 11.5)));
                twice(&bow((21.0, 17.0), (27.0, 16.0), (32.0, 9.0)));
            }
            Sign::BackFrown | Sign::FrontFrown => {
                twice(&bow((21.0, 19.5), (27.0, 20.0), (31.0, 29.0)));
                twice(&bow((22.0, 23.5), (26.0, 25.0), (29.0, 33.0)));
            }
            Sign::CrotchToKnee => twice(&bow((21.5, 21.0), (26.0, 25.0), (31.5, 35.0))),
            Sign::SeamDrawnUp => {
                self.strokes.line(&[(20.0, 6.0), (20.0, 18.0)], 2.2, ink);
                twice(&bow((22.0, 8.0), (24.5, 13.0), (22.0, 18.5)));
            }
            Sign::BackSlack => {
                for y in [8.0, 13.0, 18.0, 23.0] {
                    twice(&bow((22.0, y), (26.0, y + 4.0), (31.0, y)));
                }
            }
            Sign::InseamSlack => {
                twice(&bow((21.0, 22.0), (25.0, 24.0), (24.5, 30.0)));
                twice(&bow((21.3, 25.0), (24.0, 27.0), (23.0, 32.0)));
                twice(&[(23.6, 39.0), (24.2, 45.5)]);
            }
            Sign::FrontWhiskers => {
                for to in [(27.0, 13.0), (28.5, 16.5), (28.5, 20.0)] {
                    twice(&[(21.0, 18.5), to]);
                }
            }
            Sign::LapFull => {
                twice(&bow((21.5, 18.0), (26.0, 12.0), (24.0, 6.5)));
                twice(&bow((23.5, 19.0), (29.5, 13.0), (26.5, 7.0)));
            }
            Sign::FootToKnee => twice(&bow((23.4, 45.0), (25.0, 38.0), (30.5, 32.5))),
            Sign::SideForward => {
                self.strokes.bow([(19.0, 12.0), (19.5, 28.0), (22.5, 45.0)], 2.2, ink);
                self.strokes.line(&[(19.0, 3.0), (19.0, 12.0)], 2.2, ink);
            }
            Sign::SideBackward => {
                self.strokes.bow([(19.0, 12.0), (18.5, 28.0), (15.5, 45.0)], 2.2, ink);
                self.strokes.line(&[(19.0, 3.0), (19.0, 12.0)], 2.2, ink);
            }
            Sign::HemKicksForward => {
                self.strokes.bow([(24.0, 33.0), (24.5, 40.0), (28.5, 45.0)], 2.2, ink);
            }
            Sign::HemKicksBackward => {
                self.strokes.bow([(14.0, 33.0), (13.5, 40.0), (9.5, 45.0)], 2.2, ink);
            }
            Sign::PelvisForward => self.strokes.arrow((20.0, 15.0), (29.0, 15.0), ink),
            Sign::PelvisBackward => self.strokes.arrow((18.0, 15.0), (6.5, 15.0), ink),
        }
    }
}
