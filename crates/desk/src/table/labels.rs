//! Where the words on a piece stand: each tries its places in turn and takes the first
//! where it lies over no other, no dart and no notch. What finds no place is left out;
//! whoever points at the thing is told its name.

use super::paint::Pens;
use crate::kit::sheet::DrawnPiece;
use crate::kit::view::pos;
use egui::{Color32, FontId, Pos2, Vec2, vec2};
use hangtrue_geometry::Affine;
use hangtrue_pattern::markings::{
    CUT_ONE_SHORT, CUT_PAIR, GRAIN_WORD, LineMarking, Markings, inward_of,
};
use hangtrue_pattern::{End, Piece};

/// Words and the place they were given.
#[derive(Debug, Clone)]
pub(crate) struct Label {
    /// The lines of the words, from the top.
    pub lines: Vec<(String, FontId, Color32)>,
    pub plate: Plate,
    /// Whether the paper under it is left free of other ink.
    pub backed: bool,
}

/// An upright or turned rectangle on the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Plate {
    pub centre: Pos2,
    /// Half its size along and across the words.
    pub half: Vec2,
    /// The way the words run, of length 1.
    pub along: Vec2,
}

/// Between two words so much is left free, points of the screen.
const FREE: f32 = 1.5;

impl Plate {
    pub(super) fn upright(centre: Pos2, size: Vec2) -> Self {
        Self { centre, half: size / 2.0, along: vec2(1.0, 0.0) }
    }

    /// The plate of a stroke.
    fn of_stroke(a: Pos2, b: Pos2) -> Self {
        let along = if a.distance(b) > 1e-3 { (b - a).normalized() } else { vec2(1.0, 0.0) };
        Self { centre: a + (b - a) / 2.0, half: vec2(a.distance(b) / 2.0, 1.0), along }
    }

    /// The way from line to line of the words.
    pub fn down(&self) -> Vec2 {
        vec2(-self.along.y, self.along.x)
    }

    /// The corner where the words begin.
    pub fn begin(&self) -> Pos2 {
        self.centre - self.along * self.half.x - self.down() * self.half.y
    }

    /// Half of its shadow on a direction of length 1.
    fn shadow(&self, on: Vec2) -> f32 {
        self.half.x * self.along.dot(on).abs() + self.half.y * self.down().dot(on).abs()
    }

    /// Whether two plates come nearer than so much: two rectangles are apart when their
    /// shadows are on one of their four sides (the separating axis theorem).
    fn is_near(&self, other: &Self, free: f32) -> bool {
        let between = other.centre - self.centre;
        [self.along, self.down(), other.along, other.down()]
            .into_iter()
            .all(|on| between.dot(on).abs() < self.shadow(on) + other.shadow(on) + free)
    }
}

/// What the words must keep off.
struct Ground {
    /// Darts, notches, and words that have their place.
    taken: Vec<Plate>,
    /// Reference lines: kept off while there is another place.
    lines: Vec<Plate>,
    /// The edge of the piece: the paper under the name of a line is left free of ink, and
    /// the edge would be gone there.
    edge: Vec<Plate>,
}

/// How words stand to the edge of their piece.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Edge {
    /// They have a plate under them and may lie over it.
    Over,
    /// They have one, and lie rather within.
    RatherOff,
    /// They have none: over the edge neither they nor the edge could be read.
    Off,
}

impl Ground {
    fn of(markings: &Markings<'_>, sheet: &DrawnPiece, place: Affine) -> Self {
        let stroke = |a, b| Plate::of_stroke(pos(place * a), pos(place * b));
        let darts = markings.darts.iter().flat_map(|dart| {
            let [a, apex, b] = dart.legs;
            [stroke(a, apex), stroke(apex, b)]
        });
        let notches = markings.notches.iter().map(|notch| {
            let (at, inward) = notch.middle;
            let foot = pos(place * at);
            let way = (pos(place * (at + inward)) - foot).normalized();
            let mut plate = Plate::of_stroke(foot, foot + way * super::paint::NOTCH as f32);
            if let [(one, _), (other, _)] = notch.strokes[..] {
                plate.half.y += 0.5 * pos(place * one).distance(pos(place * other));
            }
            plate
        });
        let lines = markings.lines.iter().map(|l| &l.placed.chain);
        let lines = lines.map(|chain| stroke(chain.start(), chain.end()));
        let ends = sheet.outline.iter().zip(sheet.outline.iter().cycle().skip(1));
        let edge = ends.map(|(a, b)| stroke(*a, *b));
        Self { taken: darts.chain(notches).collect(), lines: lines.collect(), edge: edge.collect() }
    }

    /// The first of the places that is free of all there is: words, lines and the edge.
    fn take_clear(&mut self, places: &[Plate]) -> Option<Plate> {
        let lies_over =
            |ground: &[Plate], p: &Plate, free| ground.iter().any(|t| t.is_near(p, free));
        let found = places.iter().copied().find(|p| {
            !lies_over(&self.taken, p, FREE)
                && !lies_over(&self.lines, p, 0.0)
                && !lies_over(&self.edge, p, 0.0)
        })?;
        self.taken.push(found);
        Some(found)
    }

    /// The first of the places that is free, rather off other lines.
    fn take(&mut self, places: &[Plate], edge: Edge) -> Option<Plate> {
        let free = |p: &&Plate| !self.taken.iter().any(|t| t.is_near(p, FREE));
        let off_lines = |p: &&Plate| !self.lines.iter().any(|t| t.is_near(p, 0.0));
        let clear = |p: &&Plate| !self.edge.iter().any(|t| t.is_near(p, 0.0));
        let within = |p: &&Plate| edge == Edge::Over || clear(p);
        let best = places.iter().find(|p| free(p) && off_lines(p) && within(p));
        let found = best
            .or_else(|| places.iter().find(|p| free(p) && within(p)))
            .or_else(|| places.iter().find(|p| free(p) && off_lines(p) && edge != Edge::Off))
            .or_else(|| places.iter().find(|p| free(p) && edge != Edge::Off))
            .copied()?;
        self.taken.push(found);
        Some(found)
    }
}

/// How large words are.
pub(crate) type Measure<'a> = dyn Fn(&str, &FontId) -> Vec2 + 'a;

/// The words of one piece, each at its place.
pub(crate) fn labels_of(
    (markings, sheet): (&Markings<'_>, &DrawnPiece),
    (place, scale): (Affine, f64),
    (kept_free, pens): (&[Plate], &Pens),
    size_of: &Measure,
) -> Vec<Label> {
    let piece = markings.piece;
    let mut ground = Ground::of(markings, sheet, place);
    ground.taken.extend(kept_free);
    let mut labels = Vec::new();
    labels.extend(name(&mut ground, piece, sheet, place, pens, size_of));
    for line in &markings.lines {
        labels.extend(line_name(&mut ground, line, place, pens, size_of));
    }
    if scale > 0.42 {
        for seam in &piece.seams {
            labels.extend(seam_name(&mut ground, piece, seam, place, pens, size_of));
        }
    }
    if scale > 0.3 {
        labels.extend(grain_word(&mut ground, piece, place, pens, size_of));
    }
    labels
}

/// A name may be so many letter heights long for each letter of it, as a share of the
/// width of its piece.
const NAME_ROOM: f32 = 1.0;

/// The name stands on the grain like a printed label.
fn name(
    ground: &mut Ground,
    piece: &Piece,
    sheet: &DrawnPiece,
    place: Affine,
    pens: &Pens,
    size_of: &Measure,
) -> Option<Label> {
    let width = (sheet.bounds.width() * place.as_coeffs()[0]) as f32;
    if width < 60.0 {
        return None;
    }
    // Letters of 200 % still leave the piece to be seen.
    let room = (width * 0.25).min(NAME_ROOM * width / piece.name.chars().count().max(1) as f32);
    let cut = if piece.leg().is_some() { CUT_ONE_SHORT } else { CUT_PAIR };
    let at = |share: f64| pos(place * piece.grain.from.lerp(piece.grain.to, share));
    let shares = [0.36, 0.42, 0.3, 0.48, 0.24, 0.54, 0.18, 0.6, 0.66];
    let sized = |by: f32| {
        let large = (pens.name.size.min(room) * by).max(SMALLEST);
        let small = (pens.small.size.min(width * 0.2) * by).max(SMALLEST);
        let lines = vec![
            (
                hangtrue_pattern::words::capital(&piece.name),
                FontId::new(large, pens.name.family.clone()),
                pens.palette.ink,
            ),
            (cut.to_owned(), FontId::new(small, pens.small.family.clone()), pens.palette.ink_soft),
        ];
        let sizes = lines.iter().map(|l| size_of(&l.0, &l.1));
        let size = sizes.fold(Vec2::ZERO, |all, s| vec2(all.x.max(s.x), all.y + s.y));
        (lines, shares.map(|s| Plate::upright(at(s), size + vec2(12.0, 6.0))))
    };
    // Rather smaller letters than a line that is covered.
    const SIZES: [f32; 4] = [1.0, 0.85, 0.7, 0.55];
    for by in SIZES {
        let (lines, places) = sized(by);
        if let Some(plate) = ground.take_clear(&places) {
            return Some(Label { lines, plate, backed: true });
        }
    }
    // The leg is seen beside its name: rather smaller letters than an edge that is covered.
    for by in SIZES {
        let (lines, places) = sized(by);
        if let Some(plate) = ground.take(&places, Edge::Off) {
            return Some(Label { lines, plate, backed: true });
        }
    }
    let (lines, places) = sized(0.55);
    Some(Label { lines, plate: ground.take(&places, Edge::Over)?, backed: true })
}

/// Letters of a name are no smaller, points.
const SMALLEST: f32 = 9.0;

/// The name of a line stands above it, or below where there is no room.
fn line_name(
    ground: &mut Ground,
    line: &LineMarking<'_>,
    place: Affine,
    pens: &Pens,
    size_of: &Measure,
) -> Option<Label> {
    let chain = &line.placed.chain;
    let (first, last) = (pos(place * chain.start()), pos(place * chain.end()));
    let words = line.short_words();
    let size = size_of(&words, &pens.small);
    if size.x > first.distance(last) * 0.8 {
        return None;
    }
    let mut places = Vec::new();
    for side in [-1.0, 1.0] {
        for share in [0.62, 0.5, 0.7, 0.4, 0.78, 0.3, 0.22] {
            let lift = vec2(0.0, side * (size.y / 2.0 + 3.0));
            let centre = first + (last - first) * share + lift;
            places.push(Plate::upright(centre, size + vec2(6.0, 0.0)));
        }
    }
    let lines = vec![(words, pens.small.clone(), pens.line_colour(line))];
    // Its own line is no other that it would lie over.
    let own = Plate::of_stroke(first, last);
    ground.lines.retain(|l| *l != own);
    let plate = ground.take(&places, Edge::RatherOff);
    ground.lines.push(own);
    Some(Label { lines, plate: plate?, backed: true })
}

/// The name of a seam stands along it, on its inner side.
fn seam_name(
    ground: &mut Ground,
    piece: &Piece,
    seam: &hangtrue_pattern::Seam,
    place: Affine,
    pens: &Pens,
    size_of: &Measure,
) -> Option<Label> {
    let size = size_of(&seam.name, &pens.small);
    let length = seam.sewn_length();
    let places = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82].map(|share| {
        let at = seam.place(End::Start, length * share);
        let inward = inward_of(at.direction, piece);
        let foot = pos(place * at.point);
        let way = |v: hangtrue_geometry::Vec2| (pos(place * (at.point + v)) - foot).normalized();
        let mut along = way(at.direction);
        // Words are read from left to right, and upwards on an upright seam.
        if along.x < -0.05 || (along.x.abs() <= 0.05 && along.y > 0.0) {
            along = -along;
        }
        Plate { centre: foot + way(inward) * (5.0 + size.y / 2.0), half: size / 2.0, along }
    });
    let lines = vec![(seam.name.clone(), pens.small.clone(), pens.palette.ink)];
    Some(Label { lines, plate: ground.take(&places, Edge::Off)?, backed: false })
}

fn grain_word(
    ground: &mut Ground,
    piece: &Piece,
    place: Affine,
    pens: &Pens,
    size_of: &Measure,
) -> Option<Label> {
    let (low, high) = (pos(place * piece.grain.from), pos(place * piece.grain.to));
    let size = size_of(GRAIN_WORD, &pens.small);
    let along = (high - low).normalized();
    let beside = vec2(along.y, -along.x) * (size.y / 2.0 + 6.0);
    let mut places = Vec::new();
    for share in [0.16, 0.22, 0.1, 0.28, 0.7, 0.8] {
        let on = low + (high - low) * share;
        for side in [1.0, -1.0] {
            places.push(Plate { centre: on + beside * side, half: size / 2.0, along });
        }
    }
    let lines = vec![(GRAIN_WORD.to_owned(), pens.small.clone(), pens.palette.ink)];
    Some(Label { lines, plate: ground.take(&places, Edge::Off)?, backed: false })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kit::panels::Panels;
    use crate::kit::theme::{self, DAY};
    use hangtrue_tests::bodies::ten_blocks;

    /// Points over the plate, its edge a little within.
    fn points(plate: &Plate) -> Vec<Pos2> {
        let share = |i: i32| (i as f32 / 20.0 * 2.0 - 1.0) * 0.99;
        let at = |i: i32, j: i32| {
            let (x, y) = (plate.half.x * share(i), plate.half.y * share(j));
            plate.centre + plate.along * x + plate.down() * y
        };
        (0..=20).flat_map(|i| (0..=20).map(move |j| (i, j))).map(|(i, j)| at(i, j)).collect()
    }

    fn holds(plate: &Plate, p: Pos2) -> bool {
        let d = p - plate.centre;
        d.dot(plate.along).abs() < plate.half.x && d.dot(plate.down()).abs() < plate.half.y
    }

    /// Over ten bodies, three windows and letters of 100 and 200 %: no label lies over
    /// another, over a leg of a dart or over a notch, looked at point by point.
    #[test]
    fn no_label_lies_over_another_a_dart_or_a_notch() {
        let ctx = egui::Context::default();
        theme::load_letters(&ctx);
        let (mut seen, mut left_out) = (0, 0);
        for letters in [1.0_f32, 2.0] {
            theme::dress(&ctx, &DAY, letters);
            let mut pens = None;
            let drawn = ctx.run_ui(egui::RawInput::default(), |ui| {
                pens = Some(Pens::new(&DAY, letters, ui));
            });
            // Nothing is shown, so its letters are not needed.
            { drawn }.textures_delta.clear();
            let pens = pens.unwrap();
            let size_of = |words: &str, font: &FontId| {
                let layout = |f: &mut egui::epaint::FontsView<'_>| {
                    f.layout_no_wrap(words.to_owned(), font.clone(), Color32::BLACK).size()
                };
                ctx.fonts_mut(layout)
            };
            for pattern in ten_blocks(0.0) {
                let high = pattern.pieces.iter().map(|p| p.bounds().height()).fold(1.0, f64::max);
                for screen in [vec2(1024.0, 700.0), vec2(1440.0, 900.0), vec2(1920.0, 1080.0)] {
                    let Panels { low, .. } = Panels::of(screen, letters);
                    let free = screen.y - 230.0 * letters.sqrt() - if low { 0.0 } else { 60.0 };
                    // As all is shown, and looked at three times nearer.
                    for nearer in [1.0, 3.0] {
                        let scale = f64::from(free) / high * nearer;
                        let (placed, _) = pattern.place_lines();
                        for piece in &pattern.pieces {
                            let sheet = DrawnPiece::of(piece, 0.3);
                            let place = Affine::new([scale, 0.0, 0.0, -scale, 0.0, 0.0]);
                            let markings = Markings::of(&pattern, piece, &placed);
                            let labels = labels_of(
                                (&markings, &sheet),
                                (place, scale),
                                (&[], &pens),
                                &size_of,
                            );
                            seen += labels.len();
                            left_out += 2 + markings.lines.len() + piece.seams.len() - labels.len();
                            check(&labels, piece, &sheet, place);
                        }
                    }
                }
            }
        }
        println!("{seen} labels have a place, {left_out} none");
        assert!(seen > 600 && left_out * 3 < seen, "{seen} placed, {left_out} left out");
    }

    fn check(labels: &[Label], piece: &Piece, sheet: &DrawnPiece, place: Affine) {
        for (i, a) in labels.iter().enumerate() {
            let over = points(&a.plate);
            for b in &labels[i + 1..] {
                let clash = over.iter().any(|p| holds(&b.plate, *p))
                    || points(&b.plate).iter().any(|p| holds(&a.plate, *p));
                assert!(!clash, "{:?} over {:?} on the {}", a.lines, b.lines, sheet.piece);
            }
            for notch in &piece.notches {
                let at = piece.seam(&notch.seam).unwrap().place(notch.from, notch.distance);
                let foot = pos(place * at.point);
                let clash = holds(&a.plate, foot);
                assert!(!clash, "{:?} over a notch of the {}", a.lines, sheet.piece);
            }
            for p in sheet.outline.iter().filter(|_| !a.backed) {
                let clash = holds(&a.plate, pos(place * *p));
                assert!(!clash, "{:?} over the edge of the {}", a.lines, sheet.piece);
            }
            for [from, apex, to] in &sheet.darts {
                for end in [from, to] {
                    let (p, q) = (pos(place * *end), pos(place * *apex));
                    let on = (0..=60).map(|k| p + (q - p) * (k as f32 / 60.0));
                    let clash = on.into_iter().any(|p| holds(&a.plate, p));
                    assert!(!clash, "{:?} over a dart of the {}", a.lines, sheet.piece);
                }
            }
        }
    }
}
