//! On no sheet do words lie over a line or over other words: looked at point by point,
//! over ten bodies of the survey sample, with and without allowance and old outline, on
//! small and large sheets.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::panic)]

use hangtrue_adjust::{AllowanceSet, BackPocket, Closure, Document, FrontPocket, WaistFinish};
use hangtrue_cut::pieces_to_cut;
use hangtrue_files::print::*;
use hangtrue_geometry::{Affine, BezPath, PathSeg, Point, Rect, Vec2};
use hangtrue_pattern::{Leg, Pattern, units::Unit};
use hangtrue_tests::bodies::ten_blocks;
use kurbo::{ParamCurve, ParamCurveArclen};

/// Words where they lie on a page: their box in their own place, and the way there.
pub(crate) struct Plate {
    text: String,
    to_own: Affine,
    own: Rect,
}

/// Ink of letters lies from a fifth below to three quarters above their foot.
const INK: (f64, f64) = (-0.2, 0.75);

impl Plate {
    fn of(words: &Words, by: Affine) -> Self {
        let words = match Mark::Words(words.clone()).moved(by) {
            Mark::Words(words) => words,
            _ => panic!("words stay words"),
        };
        let wide = width_of(&words.text, words.weight, words.size);
        let left = match words.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -wide / 2.0,
            Anchor::End => -wide,
        };
        let to_own = Affine::rotate(-words.angle) * Affine::translate(-words.at.to_vec2());
        let own = Rect::new(left, INK.0 * words.size, left + wide, INK.1 * words.size);
        Self { text: words.text, to_own, own }
    }

    fn holds(&self, at: Point) -> bool {
        self.own.contains(self.to_own * at)
    }

    fn points(&self) -> impl Iterator<Item = Point> {
        let (back, own) = (self.to_own.inverse(), self.own);
        let share = |i: i32| f64::from(i) / 12.0;
        (0..=12).flat_map(move |i| {
            (0..=12).map(move |j| {
                back * Point::new(own.x0 + own.width() * share(i), own.y0 + own.height() * share(j))
            })
        })
    }
}

/// Points of a line, not farther apart than a quarter of a mm.
fn points_of(path: &BezPath) -> Vec<Point> {
    let of = |segment: PathSeg| {
        let steps = (segment.arclen(0.1) / 0.25).ceil().max(1.0) as usize;
        (0..=steps).map(move |i| segment.eval(i as f64 / steps as f64)).collect::<Vec<_>>()
    };
    path.segments().flat_map(of).collect()
}

/// What is drawn on a page, words and lines apart.
#[derive(Default)]
pub(crate) struct Seen {
    pub(crate) plates: Vec<Plate>,
    lines: Vec<(Layer, Point)>,
}

impl Seen {
    pub(crate) fn take(&mut self, scene: &Scene, by: Affine, within: Option<Rect>) {
        let inside = |p: &Point| within.is_none_or(|w| w.contains(*p));
        for item in &scene.items {
            match &item.mark {
                Mark::Words(words) => {
                    let plate = Plate::of(words, by);
                    if plate.points().any(|p| inside(&p)) {
                        self.plates.push(plate);
                    }
                }
                Mark::Stroke(path, _) | Mark::Fill(path, _) => {
                    let points = points_of(&(by * path.clone())).into_iter();
                    self.lines.extend(points.filter(inside).map(|p| (item.layer, p)));
                }
            }
        }
    }

    /// What is wrong with it, in words.
    pub(crate) fn faults(&self, whose: &str) -> Vec<String> {
        let mut faults = Vec::new();
        for (index, plate) in self.plates.iter().enumerate() {
            if let Some((layer, at)) = self.lines.iter().find(|l| plate.holds(l.1)) {
                faults.push(format!("{whose}: “{}” over {layer:?} at {at:?}", plate.text));
            }
            for other in &self.plates[index + 1..] {
                let over = plate.points().any(|p| other.holds(p))
                    || other.points().any(|p| plate.holds(p));
                if over {
                    faults.push(format!("{whose}: “{}” over “{}”", plate.text, other.text));
                }
            }
        }
        faults
    }
}

fn options<'a>(old: Option<&'a Pattern>, allowance: bool) -> DrawOptions<'a> {
    DrawOptions {
        allowance: allowance
            .then(|| Allowance::all_round(15.0).with("hem", 40.0).with("waist", 10.0)),
        label: vec![
            "Somebody (invented), Copper Lane workroom".into(),
            "first toile, 2026-11-25".into(),
        ],
        old: old.map(|p| (p, "the first".into())),
        ..DrawOptions::default()
    }
}

#[test]
fn no_words_lie_over_a_line_or_over_words() {
    let (now, before) = (ten_blocks(24.0), ten_blocks(0.0));
    let (mut faults, mut words, mut sheets) = (Vec::new(), 0, 0);
    let (mut edges, mut untold, mut bare) = (0, 0, Vec::new());
    for (body, (now, before)) in now.iter().zip(&before).enumerate() {
        for (allowance, old) in [(false, false), (true, false), (false, true), (true, true)] {
            let draw = options(old.then_some(before), allowance);
            let papers = [Paper::A4, Paper::Letter, Paper::A0];
            for paper in papers.into_iter().take(if allowance && old { 3 } else { 1 }) {
                let printed =
                    print_pattern(now, &draw, paper, &TileOptions::default(), "Trousers").unwrap();
                let mut cover = Seen::default();
                if let Some(first) = &printed.first_sheet {
                    cover.take(first, Affine::IDENTITY, None);
                }
                let named = |tile: &Tile| cover.plates.iter().any(|p| p.text == tile.name);
                let whose = format!("body {body}, {}, the first sheet", paper.name());
                if printed.first_sheet.is_some() && !printed.grid.printed_tiles().all(named) {
                    faults.push(format!("{whose}: a sheet has no name on the map"));
                }
                words += cover.plates.len();
                faults.extend(cover.faults(&whose));
                for (tile, sheet) in printed.grid.printed_tiles().zip(&printed.sheets) {
                    let margin = printed.grid.margin;
                    let page = printed.grid.printed();
                    let area = Rect::new(margin, margin, margin + page.width, margin + page.height);
                    let to_page =
                        Affine::translate((margin - tile.window.x0, margin - tile.window.y0));
                    let mut seen = Seen::default();
                    seen.take(sheet, Affine::IDENTITY, Some(area.inflate(-0.3, -0.3)));
                    seen.take(&printed.scene, to_page, Some(area));
                    (words, sheets) = (words + seen.plates.len(), sheets + 1);
                    let whose = format!(
                        "body {body}, {}, allowance {allowance}, old {old}, {}",
                        paper.name(),
                        tile.name
                    );
                    let says = |what: &str| seen.plates.iter().any(|p| p.text == what);
                    for plate in seen
                        .plates
                        .iter()
                        .filter(|p| p.text.contains("n this line") || p.text.contains("trim here"))
                    {
                        if !plate.points().all(|p| area.contains(p)) {
                            faults.push(format!("{whose}: “{}” is cut off", plate.text));
                        }
                    }
                    if !seen.plates.iter().any(|p| p.text.contains("first toile, 2026-11-25")) {
                        faults.push(format!("{whose}: fitting and day are not on it"));
                    }
                    if !says(&tile.name) {
                        faults.push(format!("{whose}: its name is not on it"));
                    }
                    let sides = [(0, 1), (1, 0), (0, -1), (-1, 0)];
                    let grid = &printed.grid;
                    let joined = sides.iter().filter(|_| !grid.apart);
                    for next in joined.filter_map(|s| grid.neighbour(tile, s.0, s.1)) {
                        let told = [
                            format!("lay {} on this line", next.name),
                            format!("joins {} · trim here", next.name),
                        ];
                        edges += 1;
                        if !told.iter().any(|t| says(t)) {
                            untold += 1;
                            bare.push((whose.clone(), tile.name.clone(), next.name.clone()));
                        }
                    }
                    faults.extend(seen.faults(&whose));
                }
            }
        }
    }
    println!("{words} words on {sheets} sheets, {} faults", faults.len());
    println!("{edges} joined edges, {untold} without room for their words");
    // What is joined there is told by one of the two sheets at least.
    let print = |of: &str| of.rsplit_once(", ").unwrap().0.to_owned();
    for (whose, here, there) in &bare {
        let back = bare.iter().any(|(w, h, t)| print(w) == print(whose) && h == there && t == here);
        assert!(!back, "{whose}: neither {here} nor {there} says that they are joined");
    }
    for fault in faults.iter().take(40) {
        println!("{fault}");
    }
    assert!(words > 4000, "{words}");
    assert!(faults.is_empty(), "{} faults, the first: {}", faults.len(), faults[0]);
}

/// The pieces to cut with all that is said on them: every finish of the waist.
#[test]
fn no_words_lie_over_a_line_on_pieces_to_cut() {
    let (mut faults, mut words) = (Vec::new(), 0);
    let finishes = [
        WaistFinish::Straight { width: 40.0, overlap: 40.0 },
        WaistFinish::Shaped { width: 40.0, overlap: 40.0 },
        WaistFinish::Facing { width: 60.0 },
        WaistFinish::Casing { elastic: 30.0 },
    ];
    for (body, now) in ten_blocks(24.0).iter().step_by(3).enumerate() {
        for (set, waist) in AllowanceSet::ALL.into_iter().zip(finishes) {
            let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
            (document.cutting.set, document.cutting.waist) = (Some(set), waist);
            document.cutting.closure = Closure::Fly { over: Leg::Left };
            document.cutting.pockets.front = FrontPocket::ALL[body % 4];
            document.cutting.pockets.back = BackPocket::ALL[body % 3];
            let set = pieces_to_cut(now, &document).unwrap();
            let draw = DrawOptions { set: Some(&set), ..options(None, false) };
            let printed =
                print_pattern(&set.pattern, &draw, Paper::A0, &TileOptions::default(), "Trousers");
            let mut seen = Seen::default();
            seen.take(&printed.unwrap().scene, Affine::IDENTITY, None);
            words += seen.plates.len();
            faults.extend(seen.faults(&format!("body {body}, {waist:?}")));
        }
    }
    println!("{words} words, {} faults", faults.len());
    for fault in faults.iter().take(40) {
        println!("{fault}");
    }
    assert!(words > 400, "{words}");
    assert!(faults.is_empty(), "{} faults, the first: {}", faults.len(), faults[0]);
}

/// Handouts: captions, small letters, the strip with the bar, joins.
#[test]
fn no_words_lie_over_a_line_on_handouts() {
    let (mut faults, mut words, mut sheets) = (Vec::new(), 0, 0);
    for (body, now) in ten_blocks(24.0).iter().step_by(3).enumerate() {
        let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
        document.cutting.set = Some(AllowanceSet::Finished);
        document.cutting.waist = WaistFinish::Facing { width: 60.0 };
        document.cutting.closure = Closure::Fly { over: Leg::Left };
        document.cutting.pockets.front = FrontPocket::ALL[body % 4];
        document.cutting.pockets.back = BackPocket::ALL[body % 3];
        let set = pieces_to_cut(now, &document).unwrap();
        let draw = DrawOptions { set: Some(&set), ..options(None, false) };
        for (reduced, paper) in
            Reduced::ALL.into_iter().flat_map(|r| [(r, Paper::A4), (r, Paper::Letter)])
        {
            let tiles = TileOptions::default();
            let made = handout((&set.pattern, &draw), reduced, paper, &tiles, "Trousers").unwrap();
            for (tile, sheet) in made.grid.printed_tiles().zip(&made.sheets) {
                let (margin, page) = (made.grid.margin, made.grid.printed());
                let low = margin + made.grid.foot;
                let area = Rect::new(margin, low, margin + page.width, low + page.height);
                let to_page = Affine::translate((margin - tile.window.x0, low - tile.window.y0));
                let mut seen = Seen::default();
                seen.take(sheet, Affine::IDENTITY, Some(area.inflate(-0.3, -0.3)));
                seen.take(&made.scene, to_page, Some(area));
                let mut strip = Seen::default();
                let below = Rect::new(0.0, 0.0, made.grid.page.width, low - 0.4);
                strip.take(sheet, Affine::IDENTITY, Some(below));
                (words, sheets) = (words + seen.plates.len(), sheets + 1);
                let whose = format!("body {body}, {}, {}", reduced.name(), paper.name());
                let says = |what: &str| strip.plates.iter().any(|p| p.text.contains(what));
                assert!(says("NOT FOR CUTTING") && says("of the pattern"), "{whose}");
                faults.extend(seen.faults(&whose));
                faults.extend(strip.faults(&format!("{whose}, the strip")));
            }
        }
    }
    println!("{words} words on {sheets} handout sheets, {} faults", faults.len());
    for fault in faults.iter().take(40) {
        println!("{fault}");
    }
    assert!(words > 400, "{words}");
    assert!(faults.is_empty(), "{} faults, the first: {}", faults.len(), faults[0]);
}

/// The look itself: words over a line are seen, words beside one are not.
#[test]
fn words_over_a_line_are_seen() {
    let mut scene = Scene::default();
    let words = |y: f64| Words {
        text: "hip".into(),
        at: Point::new(0.0, y),
        size: 4.0,
        angle: 0.3,
        anchor: Anchor::Middle,
        weight: Weight::Regular,
        ink: Ink(0, 0, 0),
    };
    let mut line = BezPath::new();
    line.move_to((-20.0, 1.0));
    line.line_to((20.0, 1.0));
    let pen = Pen { width: 0.3, dash: Dash::Solid, ink: Ink(0, 0, 0) };
    scene.stroke(Layer::Grain, line, pen);
    scene.words(Layer::Label, words(0.0));
    let faults = |scene: &Scene| {
        let mut seen = Seen::default();
        seen.take(scene, Affine::translate(Vec2::new(3.0, 7.0)), None);
        seen.faults("")
    };
    assert_eq!(faults(&scene).len(), 1);
    scene.items.pop();
    scene.words(Layer::Label, words(9.0));
    assert!(faults(&scene).is_empty());
    scene.words(Layer::Label, words(10.0));
    assert_eq!(faults(&scene).len(), 1, "words over words");
}
