//! The order of sewing follows the pieces that are made: over every kind of waist, opening
//! and pocket each piece of the set is named, and no piece that is not.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::glossary::GLOSSARY;
use hangtrue_adjust::style::Style;
use hangtrue_adjust::{
    AllowanceSet, BackPocket, Change, Closure, Document, FrontPocket, PartLegs, Replay, WaistFinish,
};
use hangtrue_cut::{
    Cloth, CutSet, SewingOrder, SewnAs, names as made, pieces_to_cut, sewing_order,
};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Pattern, Plan, draft, units::Unit};
use hangtrue_tests::bodies::bodies;

/// Every kind of piece that can be made.
const KINDS: [&str; 16] = [
    made::YOKE,
    made::WAISTBAND,
    made::CASING,
    made::SHAPED_BAND,
    made::FACING,
    made::FLY_FACING,
    made::FLY_SHIELD,
    made::ZIP_SHIELD,
    made::POCKET_FACING,
    made::POCKET_BAG,
    made::POCKET_UNDER_BAG,
    made::WELT,
    made::WELT_FACING,
    made::WELT_BAG,
    made::PATCH,
    "lining",
];

const WAISTS: [WaistFinish; 5] = [
    WaistFinish::None,
    WaistFinish::Straight { width: 40.0, overlap: 40.0 },
    WaistFinish::Shaped { width: 40.0, overlap: 40.0 },
    WaistFinish::Facing { width: 60.0 },
    WaistFinish::Casing { elastic: 30.0 },
];

/// Every kind of piece is called by a word of the list: “elastic casing” by “casing”.
#[test]
fn the_words_list_has_every_kind_of_piece() {
    for kind in KINDS {
        let is_known = GLOSSARY.iter().any(|term| {
            kind.strip_suffix(term.word).is_some_and(|more| more.is_empty() || more.ends_with(' '))
        });
        assert!(is_known, "{kind}");
    }
    for cloth in Cloth::ALL.into_iter().filter(|cloth| *cloth != Cloth::Main) {
        assert!(GLOSSARY.iter().any(|term| term.word == cloth.word()), "{}", cloth.word());
    }
}

fn block() -> Pattern {
    let mut drafted =
        bodies().into_iter().filter_map(|b| Some(draft(&b, &Plan::default()).ok()?.pattern));
    drafted.next().unwrap()
}

fn document() -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    document
}

/// All that is printed of it.
fn text(order: &SewingOrder) -> String {
    let mut all = String::new();
    for step in &order.steps {
        let words = step.words.in_unit(Unit::Mm);
        let care = step.care.clone().unwrap_or_default();
        all += &format!("{} | {} | {words} | {care}\n", step.title, step.pieces.join(", "));
    }
    all
}

fn titles(order: &SewingOrder) -> Vec<&str> {
    order.steps.iter().map(|s| s.title.as_str()).collect()
}

/// Whether that kind of piece is made; lining is a cloth.
fn is_made(set: &CutSet, document: &Document, kind: &str) -> bool {
    if kind == "lining" {
        return document.cutting.lining;
    }
    set.pieces.iter().any(|p| p.name == kind || p.name.starts_with(&format!("{kind} ")))
}

fn look(set: &CutSet, document: &Document, whose: &str) -> usize {
    for sewn_as in SewnAs::ALL {
        let order = sewing_order(set, document, sewn_as);
        let said = text(&order);
        for piece in &set.pieces {
            let named = order.steps.iter().any(|s| s.pieces.contains(&piece.name));
            assert!(named, "{whose}, {sewn_as:?}: {} is nowhere\n{said}", piece.name);
        }
        for piece in order.steps.iter().flat_map(|s| &s.pieces) {
            assert!(set.piece(piece).is_some(), "{whose}, {sewn_as:?}: {piece} is not cut");
        }
        for kind in KINDS {
            // A shaped waistband is another piece than the straight one.
            let said = if kind == made::WAISTBAND {
                said.replace(made::SHAPED_BAND, "")
            } else {
                said.clone()
            };
            assert_eq!(
                said.to_lowercase().contains(kind),
                is_made(set, document, kind),
                "{whose}, {sewn_as:?}: {kind}\n{said}"
            );
        }
        let cares: Vec<&String> = order.steps.iter().filter_map(|s| s.care.as_ref()).collect();
        let needle = cares.iter().filter(|c| c.contains("needle")).count();
        let iron = cares.iter().filter(|c| c.contains("iron up")).count();
        assert_eq!((needle, iron), (1, 1), "{whose}: each caution stands there once\n{said}");
        for step in &order.steps {
            let words = step.words.in_unit(Unit::Mm);
            assert!(
                !words.contains("  ") && !words.contains(" ,") && words.ends_with('.'),
                "{words}"
            );
        }
    }
    SewnAs::ALL.len()
}

#[test]
fn every_piece_that_is_made_is_named_and_no_other() {
    let pattern = block();
    let (mut looked, mut refused) = (0, 0);
    for waist in WAISTS {
        for closure in Closure::ALL {
            for front in FrontPocket::ALL {
                for back in BackPocket::ALL {
                    for more in [false, true] {
                        let mut document = document();
                        document.cutting.waist = waist;
                        document.cutting.closure = closure;
                        document.cutting.pockets.front = front;
                        document.cutting.pockets.back = back;
                        document.cutting.opening.cut_on = more;
                        document.cutting.interfacing = more;
                        document.cutting.lining = more;
                        let whose = format!("{waist:?} {closure:?} {front:?} {back:?} {more}");
                        match pieces_to_cut(&pattern, &document) {
                            Ok(set) => looked += look(&set, &document, &whose),
                            Err(_) => refused += 1,
                        }
                    }
                }
            }
        }
    }
    println!("{looked} orders looked at, {refused} plans that cannot be cut");
    assert!(looked >= 900 && refused == 0, "{looked} {refused}");
}

/// A back with a yoke over every back pocket and opening: the yoke is sewn on before the side
/// seams, behind the pockets that hang from its seam.
#[test]
fn a_yoke_is_sewn_to_its_back_before_the_side_seams() {
    let style = Style::named("back yoke", 115.0).unwrap();
    let yoked = style.apply(&block()).unwrap().pattern;
    for closure in Closure::ALL {
        for back in BackPocket::ALL {
            let mut document = document();
            document.cutting.waist = WaistFinish::Facing { width: 60.0 };
            document.cutting.closure = closure;
            document.cutting.pockets.back = back;
            document.cutting.pockets.front = FrontPocket::SideSeam;
            document.cutting.lining = back == BackPocket::Welt;
            let set = pieces_to_cut(&yoked, &document).unwrap();
            look(&set, &document, &format!("yoke {closure:?} {back:?}"));
            let order = sewing_order(&set, &document, SewnAs::Finished);
            let at = |title: &str| titles(&order).iter().position(|t| *t == title);
            assert!(at("Back yoke") < at("Side seams") && at("Back pockets") < at("Back yoke"));
        }
    }
}

#[test]
fn each_leg_s_own_pieces_are_named() {
    let mut document = document();
    document.start = Document::from_pieces("t", "", Unit::Mm, block()).start;
    document.push("parted", Change::PartLegs(PartLegs));
    document.cutting.waist = WaistFinish::Facing { width: 60.0 };
    document.cutting.pockets.front = FrontPocket::Slant;
    document.cutting.pockets.back = BackPocket::Patch;
    document.cutting.closure = Closure::ALL[1];
    let replay = Replay::new(document.clone());
    let set = pieces_to_cut(replay.current().unwrap(), &document).unwrap();
    assert!(set.pieces.iter().any(|p| p.name.ends_with("left")));
    look(&set, &document, "parted");
}

#[test]
fn the_order_changes_with_what_is_chosen() {
    let pattern = block();
    let order = |change: &dyn Fn(&mut Document), sewn_as| {
        let mut document = document();
        change(&mut document);
        let set = pieces_to_cut(&pattern, &document).unwrap();
        sewing_order(&set, &document, sewn_as)
    };
    let plain = order(&|_| {}, SewnAs::Finished);
    assert_eq!(
        titles(&plain),
        [
            "Before it is sewn",
            "Mark and neaten",
            "Darts",
            "Side seams",
            "Inseams",
            "Crotch seam",
            "Waist",
            "Hem",
            "Last pressing"
        ]
    );
    let fly = order(&|d| d.cutting.closure = Closure::ALL[1], SewnAs::Finished);
    let at = |order: &SewingOrder, title: &str| {
        titles(order).iter().position(|t| *t == title).unwrap_or_else(|| panic!("{title}"))
    };
    assert!(at(&fly, "Zip and shield of the fly") < at(&fly, "Side seams"));
    let side = order(&|d| d.cutting.closure = Closure::ALL[2], SewnAs::Finished);
    assert_eq!(at(&side, "Zip in the side seam"), at(&side, "Side seams") + 1);
    let back = order(&|d| d.cutting.closure = Closure::BackZip, SewnAs::Finished);
    assert_eq!(at(&back, "Zip in the centre back"), at(&back, "Crotch seam") + 1);
    let pockets = order(
        &|d| {
            d.cutting.pockets.front = FrontPocket::Jeans;
            d.cutting.pockets.back = BackPocket::Welt;
        },
        SewnAs::Finished,
    );
    assert!(at(&pockets, "Darts") < at(&pockets, "Back pockets"));
    assert!(at(&pockets, "Front pockets") < at(&pockets, "Side seams"));
    // A toile has neither bags nor zip.
    let toile = order(
        &|d| {
            d.cutting.pockets.front = FrontPocket::Jeans;
            d.cutting.closure = Closure::ALL[1];
        },
        SewnAs::Toile,
    );
    assert!(!titles(&toile).contains(&"Front pockets"));
    let kept = &toile.steps.last().unwrap().pieces;
    assert!(
        kept.iter().any(|p| p == made::POCKET_BAG) && kept.iter().any(|p| p == made::FLY_SHIELD)
    );
    assert!(!kept.iter().any(|p| p == made::POCKET_FACING), "it fills the opening");
}

#[test]
fn pleats_and_turn_ups_are_sewn_where_there_are_some() {
    let block = block();
    let styled = |name: &str| Style::named(name, 40.0).unwrap().apply(&block).unwrap().pattern;
    for (name, title) in [("front pleat", "Pleats"), ("turn-up", "Turn-ups")] {
        for (pattern, is_there) in [(&styled(name), true), (&block, false)] {
            let document = document();
            let set = pieces_to_cut(pattern, &document).unwrap();
            for sewn_as in SewnAs::ALL {
                let order = sewing_order(&set, &document, sewn_as);
                assert_eq!(titles(&order).contains(&title), is_there, "{name} {sewn_as:?}");
                assert_eq!(text(&order).to_lowercase().contains(&title.to_lowercase()), is_there);
            }
        }
    }
}
