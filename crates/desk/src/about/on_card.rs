//! The drawings of what is done before there are pieces: the way of the work, and a
//! card in a photo.

use super::drawing::Pen;
use crate::kit::theme::Palette;
use egui::{Rect, vec2};

/// A piece of card, from its waist round: corners and, between some, a place of a curve.
const CARD: [(f32, f32); 7] =
    [(6.0, 2.0), (17.0, 3.0), (20.0, 14.0), (18.0, 38.0), (8.0, 38.0), (5.0, 18.0), (1.0, 14.0)];

/// The card with its crotch curve and hip, its lower left corner moved so far.
fn card(right: f32) -> Vec<(f32, f32)> {
    let [waist, top, hip, hem, heel, knee, crotch] = CARD;
    let mut all = vec![waist, top];
    all.extend(through(top, hip, hem, 0.35));
    all.extend([heel]);
    all.extend(through(heel, knee, crotch, 0.8));
    all.extend(through(crotch, (5.5, 12.5), waist, 0.5));
    all.into_iter().map(|(x, y)| (x + right, y)).collect()
}

/// Places of a curve that is at the middle place at that share of the way (a parabola
/// through three places, for the eye only).
fn through(a: (f32, f32), b: (f32, f32), c: (f32, f32), at: f32) -> Vec<(f32, f32)> {
    const STEPS: u16 = 10;
    let bent = |a: f32, b: f32, c: f32, t: f32| {
        a * (t - at) * (t - 1.0) / at
            + b * t * (t - 1.0) / (at * (at - 1.0))
            + c * t * (t - at) / (1.0 - at)
    };
    (1..=STEPS)
        .map(|i| f32::from(i) / f32::from(STEPS))
        .map(|t| (bent(a.0, b.0, c.0, t), bent(a.1, b.1, c.1, t)))
        .collect()
}

/// Where the camera sees a place of the table: it leans over its nearer edge.
fn leaning((x, y): (f32, f32)) -> (f32, f32) {
    let far = 0.62 + 0.38 * y / 40.0;
    (22.0 + (x - 18.0) * far, 6.0 + y * 0.76 * (0.5 + 0.5 * far))
}

impl Pen {
    /// From measures to block and toile; then from toile to paper and back.
    pub fn way_of_the_work(&self) {
        let Palette { ink, madder, .. } = self.inks;
        for (at, words) in [
            ((18.0, 5.0), "measures"),
            ((82.0, 5.0), "block"),
            ((82.0, 32.0), "toile"),
            ((18.0, 32.0), "pattern"),
        ] {
            self.word(at, words, ink);
        }
        self.arrow((34.0, 5.0), (70.0, 5.0), ink);
        self.arrow((82.0, 10.0), (82.0, 26.0), ink);
        self.arrow((70.0, 29.0), (34.0, 29.0), ink);
        self.arrow((34.0, 33.5), (70.0, 33.5), madder);
        self.word((52.0, 22.0), "look, pin, change", ink);
        self.word((52.0, 40.0), "print and try again", madder);
    }

    /// A card and a sheet as the camera sees them, and from straight above.
    pub fn turned_flat(&self) {
        let Palette { ink, indigo, ink_soft, .. } = self.inks;
        let table = [(-6.0, 0.0), (42.0, 0.0), (42.0, 40.0), (-6.0, 40.0)];
        let sheet = [(27.0, 12.0), (37.0, 12.0), (37.0, 26.0), (27.0, 26.0)];
        self.closed(&table.map(leaning), 1.0, ink_soft);
        self.closed(&sheet.map(leaning), 2.0, indigo);
        self.closed(&card(0.0).into_iter().map(leaning).collect::<Vec<_>>(), 1.6, ink);
        self.arrow((46.0, 20.0), (53.0, 20.0), ink);
        self.closed(&card(57.0), 1.6, ink);
        self.closed(&sheet.map(|(x, y)| (x + 55.0, y)), 2.0, indigo);
        self.word((92.0, 33.0), "known size", indigo);
    }

    /// The corners of a card as squares, the places of its curves as rounds.
    pub fn edge_of_card(&self) {
        let Palette { ink, madder, indigo, .. } = self.inks;
        self.closed(&card(38.0), 1.6, ink);
        for (index, (x, y)) in CARD.into_iter().enumerate() {
            let place = self.at((x + 38.0, y));
            if [2, 5].contains(&index) {
                self.painter.circle_filled(place, 4.5, indigo);
            } else {
                let square = Rect::from_center_size(place, vec2(8.0, 8.0));
                self.painter.rect_filled(square, 0.0, madder);
            }
        }
        self.word((24.0, 30.0), "corner", madder);
        self.line(&[(30.0, 31.5), (44.0, 37.0)], 1.0, madder);
        self.word((76.0, 20.0), "place of a curve", indigo);
        self.line(&[(63.0, 18.5), (60.0, 15.5)], 1.0, indigo);
    }

    /// The grainline from its lower to its upper end.
    pub fn grain_of_card(&self) {
        let Palette { ink, madder, .. } = self.inks;
        self.closed(&card(38.0), 1.6, ink);
        self.arrow((51.0, 34.0), (51.0, 8.0), madder);
        self.dot((51.0, 34.0), 4.0, madder);
        self.word((70.0, 33.0), "1 lower end", madder);
        self.word((70.0, 8.0), "2 upper end", madder);
    }

    /// A piece with the names of its edges.
    pub fn named_edges(&self) {
        let Palette { ink, indigo, .. } = self.inks;
        self.closed(&card(38.0), 1.6, ink);
        let names = [
            ((50.0, 7.0), "waist"),
            ((72.0, 22.0), "side seam"),
            ((32.0, 28.0), "inseam"),
            ((29.0, 8.0), "crotch seam"),
        ];
        for (at, words) in names {
            self.word(at, words, indigo);
        }
    }
}
