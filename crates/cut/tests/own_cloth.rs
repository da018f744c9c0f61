//! What a cloth needs in another shape than the first is a piece of its own: lining is whole
//! where the front is cut away for its pocket, ends where the leg ends and has nothing cut on;
//! a cloth that shrinks otherwise is drawn for its own loss. And what is told of trousers that
//! cannot be put on.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::style::Style;
use hangtrue_adjust::{
    AllowanceSet, BackPocket, Closure, Document, FrontPocket, OwnShrinkage, Shrinkage, WaistFinish,
    walk,
};
use hangtrue_cut::{Cloth, CutPiece, CutSet, SewnAs, names as made, pieces_to_cut, sewing_order};
use hangtrue_pattern::measures::Measure;
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Leg, Pattern, Piece, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::bodies;
use kurbo::Shape;

fn block() -> Pattern {
    draft(&bodies()[0], &Plan::default()).unwrap().pattern
}

fn document() -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.waist = WaistFinish::Straight { width: 40.0, overlap: 40.0 };
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    document.cutting.lining = true;
    document
}

fn is_of(piece: &CutPiece, cloth: Cloth) -> bool {
    piece.to_cut.iter().any(|cut| cut.cloth == cloth)
}

fn named(set: &CutSet, cloth: Cloth) -> Vec<&str> {
    set.pieces.iter().filter(|p| is_of(p, cloth)).map(|p| p.name.as_str()).collect()
}

fn waist(piece: &Piece) -> f64 {
    piece.seam(names::WAIST).unwrap().sewn_length()
}

#[test]
fn what_is_lined_as_it_is_cut_shares_its_paper() {
    let set = pieces_to_cut(&block(), &document()).unwrap();
    assert_eq!(named(&set, Cloth::Lining), [names::BACK, names::FRONT]);
}

/// A lining cut away like the front would be too narrow for the waist by what is cut away.
#[test]
fn lining_is_whole_where_the_front_is_cut_away() {
    let pattern = block();
    for pocket in [FrontPocket::Slant, FrontPocket::Jeans] {
        let mut document = document();
        document.cutting.pockets.front = pocket;
        document.cutting.pockets.back = BackPocket::Welt;
        let set = pieces_to_cut(&pattern, &document).unwrap();
        assert_eq!(named(&set, Cloth::Lining), [names::BACK, "front lining"]);
        let piece = |name: &str| set.pattern.piece(name).unwrap();
        let whole = pattern.piece(names::FRONT).unwrap();
        assert!((waist(piece("front lining")) - waist(whole)).abs() < 1e-9);
        assert!(waist(piece(names::FRONT)) < waist(whole) - 40.0, "the cloth is cut away");
        // Sewn to the lining of the back, whole and between notches.
        let of_lining =
            set.pattern.joins.iter().filter(|join| join.name.ends_with("of the lining"));
        let mut walked = 0;
        for join in of_lining.filter(|join| join.second.is_some()) {
            let found = walk(&set.pattern, join).unwrap();
            assert!(found.difference.abs() < 1e-6, "{}: {}", join.name, found.difference);
            walked += 1;
        }
        assert!(walked >= 2, "side seam and inseam at least");
    }
}

#[test]
fn lining_ends_where_the_leg_ends_and_has_nothing_cut_on() {
    let pattern = Style::named("turn-up", 40.0).unwrap().apply(&block()).unwrap().pattern;
    let mut document = document();
    document.cutting.opening.cut_on = true;
    let set = pieces_to_cut(&pattern, &document).unwrap();
    assert_eq!(named(&set, Cloth::Lining), ["back lining", "front lining"]);
    let high = |name: &str| set.piece(name).unwrap().cut.to_path().bounding_box().height();
    for body in [names::BACK, names::FRONT] {
        let more = high(body) - high(&format!("{body} lining"));
        // What is cut on at the centre stands a little higher than the waist's allowance.
        assert!((79.5..83.0).contains(&more), "{body}: twice the turn-up, not {more}");
        let known = set.piece(&format!("{body} lining")).unwrap();
        assert!(known.grown.is_empty() && known.folds.is_empty());
        assert!(known.copy_of.as_deref() == Some(body) && is_of(known, Cloth::Lining));
        assert!(!is_of(set.piece(body).unwrap(), Cloth::Lining));
    }
    // The centre front of the lining has the seam's allowance and no facing beyond it.
    let wide = |name: &str| set.piece(name).unwrap().cut.to_path().bounding_box().width();
    assert!(wide("front") >= wide("front lining"));
    for sewn_as in SewnAs::ALL {
        let order = sewing_order(&set, &document, sewn_as);
        let darts = order.steps.iter().find(|s| s.title == "Darts").unwrap();
        assert!(darts.pieces.iter().all(|p| !p.contains("lining")), "{:?}", darts.pieces);
    }
}

#[test]
fn the_lining_of_a_yoked_back_is_yoked_too() {
    let pattern = Style::named("back yoke", 115.0).unwrap().apply(&block()).unwrap().pattern;
    let mut document = document();
    document.cutting.pockets.front = FrontPocket::Slant;
    document.cutting.own_shrinkage.lining = Some(Shrinkage { lengthwise: 3.0, crosswise: 0.0 });
    let set = pieces_to_cut(&pattern, &document).unwrap();
    assert_eq!(named(&set, Cloth::Lining), ["back lining", "back yoke lining", "front lining"]);
    let seam = |name: &str| {
        let piece = set.pattern.piece(name).unwrap();
        piece.seam(names::YOKE_SEAM).unwrap().sewn_length()
    };
    assert!((seam("back lining") - seam("back yoke lining")).abs() < 1e-6);
}

/// Each paper can be cut from: a cloth that loses something else has its own.
#[test]
fn a_cloth_of_another_loss_has_its_own_drawing() {
    let mut document = document();
    document.cutting.interfacing = true;
    document.cutting.shrinkage = Shrinkage { lengthwise: 4.0, crosswise: 2.0 };
    document.cutting.own_shrinkage = OwnShrinkage {
        interfacing: Some(Shrinkage::default()),
        lining: Some(Shrinkage { lengthwise: 1.0, crosswise: 0.0 }),
        pocketing: None,
    };
    let pattern = block();
    let set = pieces_to_cut(&pattern, &document).unwrap();
    let mut copies = 0;
    for known in &set.pieces {
        let losses: Vec<_> = known.to_cut.iter().map(|cut| set.shrinkage_of(cut.cloth)).collect();
        assert!(losses.windows(2).all(|pair| pair[0] == pair[1]), "{}", known.name);
        let (long, wide) = losses[0].times();
        assert_eq!(known.times, (long, wide), "{}", known.name);
        let Some(of) = &known.copy_of else { continue };
        copies += 1;
        // As it is sewn it is the same piece.
        let cut = |name: &str| set.piece(name).unwrap().cut.length();
        assert!((cut(of) - cut(&known.name)).abs() < 1e-9, "{}", known.name);
    }
    let names: Vec<&str> = set.pieces.iter().map(|p| p.name.as_str()).collect();
    assert!(names.contains(&"waistband interfacing") && names.contains(&"back lining"));
    assert_eq!(copies, 5, "band, facing and shield; back and front: {names:?}");
    // The interfacing is pressed on the cloth, not on itself.
    let order = sewing_order(&set, &document, SewnAs::Finished);
    let step = order.steps.iter().find(|s| s.title == "Interfacing").unwrap();
    let said = step.words.in_unit(Unit::Mm);
    assert!(said.contains("wrong side of waistband,") && !said.contains("waistband interfacing"));
    assert!(step.pieces.iter().any(|p| p == "waistband interfacing"), "{:?}", step.pieces);
}

/// Trousers that nothing opens and that do not pass the hips: told, and left open as a toile.
#[test]
fn trousers_that_cannot_be_put_on_are_told() {
    let measures = &bodies()[0];
    let of = |name| measures.get(name).unwrap();
    let pattern = block();
    let body = Document::from_measures("t", "", Unit::Mm, measures.clone(), Plan::default());
    for document in [document(), body] {
        let mut document = document;
        document.cutting.lining = false;
        document.cutting.set = Some(AllowanceSet::Toile);
        document.cutting.waist = WaistFinish::None;
        document.cutting.closure = Closure::None;
        let set = pieces_to_cut(&pattern, &document).unwrap();
        let tight = set.tight.unwrap();
        let halves = [names::BACK, names::FRONT].map(|n| waist(pattern.piece(n).unwrap()));
        let waist = 2.0 * (halves[0] + halves[1]);
        match document.worn_by() {
            Some(_) => assert!((tight - (of(Measure::HipGirth) - waist)).abs() < 1e-6),
            // The pattern is wider there than the body, by its ease.
            None => assert!(tight > of(Measure::HipGirth) - waist),
        }
        assert!(set.notes.iter().any(|n| n.contains("Nothing opens")), "{:?}", set.notes);
        let order = sewing_order(&set, &document, SewnAs::Toile);
        let step = order.steps.iter().find(|s| s.title == "The opening").unwrap();
        assert!(step.words.contains("Leave the centre back open"));
        let crotch = order.steps.iter().find(|s| s.title == "Crotch seam").unwrap();
        assert!(crotch.words.contains("left open") && !crotch.words.contains("waist to waist"));
        for closure in Closure::ALL.into_iter().filter(|c| *c != Closure::None) {
            document.cutting.closure = closure;
            let set = pieces_to_cut(&pattern, &document).unwrap();
            assert!(set.tight.is_none());
        }
    }
}

/// A body whose waist is larger than its hips draws them on.
#[test]
fn a_waist_that_passes_the_hips_is_not_told() {
    let mut measures = bodies()[0].clone();
    let hips = measures.get(Measure::HipGirth).unwrap();
    measures.set(Measure::WaistGirth, hips + 60.0);
    let pattern = draft(&measures, &Plan::default()).unwrap().pattern;
    let mut document = Document::from_measures("t", "", Unit::Mm, measures, Plan::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    let set = pieces_to_cut(&pattern, &document).unwrap();
    assert_eq!(set.tight, None);
    assert!(set.notes.is_empty(), "{:?}", set.notes);
}

/// A shaped band above a waist at the narrowest of the body is smaller at its upper edge than
/// the body there; on a rise that was lowered by its height it is not.
#[test]
fn a_shaped_band_smaller_than_the_waist_is_told() {
    let measures = bodies()[0].clone();
    let pattern = block();
    let lowered = Style::named("rise", -40.0).unwrap().apply(&pattern).unwrap().pattern;
    let mut document =
        Document::from_measures("t", "", Unit::Mm, measures.clone(), Plan::default());
    document.cutting.set = Some(AllowanceSet::Finished);
    document.cutting.closure = Closure::BackZip;
    document.cutting.waist = WaistFinish::Shaped { width: 40.0, overlap: 40.0 };
    let measured = measures.get(Measure::WaistGirth).unwrap();
    for (pattern, is_told) in [(&pattern, true), (&lowered, false)] {
        let set = pieces_to_cut(pattern, &document).unwrap();
        let edge = |body: &str, runs_on: f64| {
            let piece = set.pattern.piece(&format!("{} {body}", made::SHAPED_BAND)).unwrap();
            piece.seam(made::FREE_EDGE).unwrap().sewn_length() - runs_on
        };
        let round = 2.0 * (edge(names::BACK, 40.0) + edge(names::FRONT, 0.0));
        assert_eq!(round < measured - 1.0, is_told, "{round} {measured}");
        let told = set.notes.iter().any(|n| n.contains("upper edge of the shaped waistband"));
        assert_eq!(told, is_told, "{:?}", set.notes);
    }
}
