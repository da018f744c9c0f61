//! What stands on a piece can be read at the cutting table, however narrow the piece is; what
//! has no allowance says so; and a lay on paper has no words over its lines.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::panic)]

use crate::print_words::Seen;
use hangtrue_adjust::style::Style;
use hangtrue_adjust::{
    AllowanceSet, BackPocket, Closure, ClothLay, Document, FrontPocket, UsualLay, WaistFinish,
};
use hangtrue_cut::{Cloth, CutSet, pieces_to_cut};
use hangtrue_files::lay::{OnCloth, lay_picture};
use hangtrue_files::print::*;
use hangtrue_geometry::Affine;
use hangtrue_lay::{Bed, Effort, find, needed, parts_to_lay};
use hangtrue_pattern::measures::{Measure, Measures};
use hangtrue_pattern::{Leg, Pattern, Plan, draft, units::Unit};
use hangtrue_tests::bodies::ten_blocks;

/// Letters of what is cut are no smaller than this, mm: about six points.
const READABLE: f64 = 2.1;

/// A child and a very large body (invented), and one of the survey.
fn patterns() -> Vec<Pattern> {
    let body = |waist, hip, height, leg, crotch| -> Pattern {
        let measures: Measures = [
            (Measure::WaistGirth, waist),
            (Measure::HipGirth, hip),
            (Measure::WaistHeight, height),
            (Measure::InsideLegHeight, leg),
            (Measure::CrotchLength, crotch),
        ]
        .into_iter()
        .collect();
        draft(&measures, &Plan::default()).unwrap().pattern
    };
    vec![
        body(540.0, 600.0, 660.0, 490.0, 460.0),
        body(1380.0, 1520.0, 1080.0, 760.0, 960.0),
        ten_blocks(0.0).remove(2),
    ]
}

fn plans() -> Vec<Document> {
    let finishes = [
        (WaistFinish::Casing { elastic: 30.0 }, Closure::None),
        (WaistFinish::Straight { width: 30.0, overlap: 40.0 }, Closure::Fly { over: Leg::Left }),
        (WaistFinish::Shaped { width: 35.0, overlap: 40.0 }, Closure::BackZip),
        (WaistFinish::Facing { width: 50.0 }, Closure::SideZip { leg: Leg::Left }),
    ];
    let plan = |(index, (waist, closure))| {
        let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
        document.cutting.set = Some(AllowanceSet::Finished);
        (document.cutting.waist, document.cutting.closure) = (waist, closure);
        document.cutting.pockets.front = FrontPocket::ALL[index];
        document.cutting.pockets.back = BackPocket::ALL[index % 3];
        (document.cutting.lining, document.cutting.interfacing) = (index > 1, index > 0);
        document.cutting.shrinkage.lengthwise = 3.0;
        document
    };
    finishes.into_iter().enumerate().map(plan).collect()
}

fn draw(set: &CutSet) -> DrawOptions<'_> {
    DrawOptions {
        set: Some(set),
        label: vec!["Somebody (invented)".into(), "first toile, 2026-11-25".into()],
        ..DrawOptions::default()
    }
}

/// The words on a piece, with their sizes.
fn words(scene: &Scene) -> Vec<(&str, f64)> {
    let items = scene.items.iter().filter(|item| item.layer == Layer::Label);
    let words = items.filter_map(|item| match &item.mark {
        Mark::Words(words) => Some((words.text.as_str(), words.size)),
        _ => None,
    });
    words.collect()
}

#[test]
fn what_is_cut_can_be_read_on_every_piece() {
    let (mut pieces, mut smallest, mut faults) = (0, f64::INFINITY, Vec::new());
    for pattern in patterns() {
        for document in plans() {
            let set = pieces_to_cut(&pattern, &document).unwrap();
            let scenes = piece_scenes(&set.pattern, &draw(&set)).unwrap();
            for (known, scene) in set.pieces.iter().zip(&scenes) {
                let said = words(scene);
                let all: Vec<&str> = said.iter().map(|(text, _)| *text).collect();
                let all = all.join(" ");
                for needed in ["Somebody (invented)", "cut ", &known.numbered()] {
                    if !all.contains(needed) {
                        faults.push(format!("{}: no “{needed}” in {all}", known.name));
                    }
                }
                if all.contains('…') {
                    faults.push(format!("{}: cut short: {all}", known.name));
                }
                let cut = said
                    .iter()
                    .filter(|(text, _)| text.contains("cut ") && !text.contains("allowance"));
                for (text, size) in cut {
                    smallest = smallest.min(*size);
                    if *size < READABLE {
                        faults.push(format!("{}: “{text}” in {size:.2}", known.name));
                    }
                }
                pieces += 1;
            }
        }
    }
    println!("{pieces} pieces, the smallest letters {smallest:.2}");
    assert!(pieces > 90 && faults.is_empty(), "{pieces}, {}:\n{}", faults.len(), faults.join("\n"));
}

/// A fold, a turn-up or a facing that is cut on is no allowance.
#[test]
fn what_has_no_allowance_says_so_whatever_is_cut_on() {
    const BARE: &str = "NO SEAM ALLOWANCE";
    let block = ten_blocks(0.0).remove(0);
    let pattern = Style::named("turn-up", 40.0).unwrap().apply(&block).unwrap().pattern;
    for (set, is_bare) in [(AllowanceSet::None, true), (AllowanceSet::Finished, false)] {
        let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
        document.cutting.set = Some(set);
        document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
        document.cutting.closure = Closure::Fly { over: Leg::Left };
        document.cutting.opening.cut_on = true;
        let set = pieces_to_cut(&pattern, &document).unwrap();
        let draw = draw(&set);
        for (known, scene) in set.pieces.iter().zip(piece_scenes(&set.pattern, &draw).unwrap()) {
            let says = words(&scene).iter().any(|(text, _)| text.contains(BARE));
            assert_eq!(says, is_bare, "{}", known.name);
        }
        // At the foot of a narrow sheet it may stand in two lines.
        let has = |scene: &Scene| {
            let says = |what: &str| {
                scene.items.iter().any(|item| match &item.mark {
                    Mark::Words(words) => words.text.contains(what),
                    _ => false,
                })
            };
            says("NO SEAM") && says("ALLOWANCE")
        };
        let tiles = TileOptions::default();
        let printed = print_pattern(&set.pattern, &draw, Paper::A4, &tiles, "t").unwrap();
        let said = printed.sheets.iter().filter(|sheet| has(sheet)).count();
        let all = printed.sheets.len();
        assert_eq!(said, if is_bare { all } else { 0 }, "every one of {all} sheets says it");
        let page = projector_page(&set.pattern, &draw, &ProjectorOptions::default(), "t").unwrap();
        assert_eq!(has(&page.pages[0].scene), is_bare, "the projector page says it");
    }
}

#[test]
fn no_words_lie_over_a_line_on_a_lay() {
    let (mut faults, mut lays, mut seen_words) = (Vec::new(), 0, 0);
    for pattern in patterns().into_iter().take(2) {
        for document in plans() {
            let set = pieces_to_cut(&pattern, &document).unwrap();
            for (width, folded) in [(1500.0, false), (1800.0, true)] {
                let cloth = ClothLay { folded, ..UsualLay::of(Unit::Mm).lay(width) };
                let bed = Bed::of(&cloth).unwrap();
                let Ok(parts) = parts_to_lay(&set, Cloth::Main, &bed) else { continue };
                let lay = find(bed, parts, Effort { seed: 1, rounds: 1 }, &mut |_| true).unwrap();
                let on = OnCloth {
                    set: &set,
                    of: Cloth::Main,
                    cloth: &cloth,
                    lay: &lay,
                    needed: needed(&lay, &cloth, set.shrinkage, 50.0),
                    title: "Trousers",
                    label: vec!["Somebody (invented)".into(), "first toile, 2026-11-25".into()],
                    unit: Unit::Mm,
                };
                let mut seen = Seen::default();
                seen.take(&lay_picture(&on), Affine::IDENTITY, None);
                lays += 1;
                seen_words += seen.plates.len();
                faults.extend(seen.faults(&format!("{width} {folded}")));
            }
        }
    }
    println!("{lays} lays, {seen_words} words, {} faults", faults.len());
    assert!(lays >= 14, "{lays}");
    assert!(faults.is_empty(), "{}:\n{}", faults.len(), faults.join("\n"));
}
