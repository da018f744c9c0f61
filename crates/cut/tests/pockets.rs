//! Pockets over 217 bodies of the survey sample (ANSUR II, see `tests/data/README.md`):
//! every piece closed and not crossing, each edge as long and as shaped as what it is sewn
//! to, whole and between notches.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops at the first fault

use hangtrue_adjust::{AllowanceSet, BackPocket, Closure, Document, FrontPocket};
use hangtrue_cut::{CutSet, names as made, pieces_to_cut};
use hangtrue_pattern::{End, Leg, Pattern, Piece, Plan, draft, names, units::Unit};
use hangtrue_tests::bodies::{bodies, ten_blocks};

/// Every seventh body that can be drafted.
fn patterns() -> Vec<Pattern> {
    let drafted = bodies().into_iter().step_by(7);
    drafted.filter_map(|body| Some(draft(&body, &Plan::default()).ok()?.pattern)).collect()
}

fn document(set: AllowanceSet, front: FrontPocket, back: BackPocket) -> Document {
    let mut document = Document::from_pieces("t", "", Unit::Mm, Pattern::default());
    document.cutting.set = Some(set);
    (document.cutting.pockets.front, document.cutting.pockets.back) = (front, back);
    document.cutting.closure = Closure::Fly { over: Leg::Left };
    document
}

/// How far a notch of the side seam lies from the waist's end of what is left of it.
fn from_top(piece: &Piece, name: &str) -> f64 {
    let notch = piece.notches.iter().find(|n| n.name == name && n.seam == names::SIDE).unwrap();
    let side = piece.seam(names::SIDE).unwrap();
    // A side seam runs from below to the waist on every piece of a block.
    side.distance_from(End::End, side.place(notch.from, notch.distance).position)
}

fn length(piece: &Piece, seam: &str) -> f64 {
    piece.seam(seam).unwrap().sewn_length()
}

struct Worst(f64);

impl Worst {
    fn equal(&mut self, one: f64, other: f64) {
        self.0 = self.0.max((one - other).abs());
    }
}

/// Slant and jeans: what is cut away of the front is what facing and bag put in its place.
fn cut_away(whole: &Pattern, cut: &CutSet, worst: &mut Worst) {
    let was = whole.piece(names::FRONT).unwrap();
    let piece = |name| cut.pattern.piece(name).unwrap();
    let (front, back) = (piece(names::FRONT), piece(names::BACK));
    let (facing, bag) = (piece(made::POCKET_FACING), piece(made::POCKET_BAG));
    let under = piece(made::POCKET_UNDER_BAG);
    let down = from_top(back, "pocket");
    worst.equal(length(front, names::SIDE), length(back, names::SIDE) - down);
    for piece in [facing, under] {
        worst.equal(from_top(piece, "pocket"), down);
        let along = piece.notches.iter().find(|n| n.seam == names::WAIST).unwrap().distance;
        worst.equal(length(front, names::WAIST) + along, length(was, names::WAIST));
    }
    // The notches that were matched are matched still.
    for name in ["hip", "knee"] {
        let on =
            |piece: &Piece| piece.notches.iter().any(|n| n.name == name && n.seam == names::SIDE);
        if on(front) {
            worst.equal(from_top(front, name) + down, from_top(back, name));
        }
    }
    let (one, other) = (front.seam(made::POCKET_OPENING), bag.seam(made::POCKET_OPENING));
    let (one, other) = (one.unwrap(), other.unwrap());
    worst.equal(one.sewn_length(), other.sewn_length());
    for share in [0.0, 0.3, 0.8, 1.0] {
        let at = |s: &hangtrue_pattern::Seam| s.place(End::Start, share * s.sewn_length()).point;
        worst.equal(at(one).distance(at(other)), 0.0);
    }
    // The two bags are one beyond the opening.
    worst.equal(length(bag, made::FREE_EDGE), length(under, made::FREE_EDGE));
    let missing = under.signed_area().abs() - bag.signed_area().abs();
    let gone = was.signed_area().abs() - front.signed_area().abs();
    assert!((missing - gone).abs() < 1e-3 * gone, "{missing} {gone}");
}

fn in_side_seam(cut: &CutSet, worst: &mut Worst) {
    for name in ["pocket begins", "pocket ends"] {
        let at = |piece| from_top(cut.pattern.piece(piece).unwrap(), name);
        for piece in [names::FRONT, made::POCKET_FACING, made::POCKET_BAG] {
            worst.equal(at(piece), at(names::BACK));
        }
    }
}

fn on_the_back(cut: &CutSet, back: BackPocket, worst: &mut Worst) {
    let piece = cut.pattern.piece(names::BACK).unwrap();
    let name = if back == BackPocket::Welt { "welt" } else { "patch, top" };
    let runs: Vec<_> = piece.inner.iter().filter(|l| l.name == name).collect();
    let marked: f64 = runs.iter().map(|l| l.chain.length()).sum();
    let sewn_on = match back {
        BackPocket::Welt => length(cut.pattern.piece(made::WELT).unwrap(), made::POCKET_OPENING),
        _ => length(cut.pattern.piece(made::PATCH).unwrap(), names::HEM),
    };
    worst.equal(marked, sewn_on);
    // Its ends lie as far below the waist as asked, as near as a curved waist lets a straight
    // line do.
    let below = back.usual(Unit::Mm).below;
    let waist = piece.seam(names::WAIST).unwrap();
    for end in [runs[0].chain.start(), runs[runs.len() - 1].chain.end()] {
        let off = waist.nearest(end).1;
        assert!((off - below).abs() < 12.0, "{off} below the waist, {below} asked");
        assert!(piece.contains(end), "{end:?} {} runs {:?}", piece.outline().to_svg(), runs);
    }
    // What is sewn shut is not counted: broken at a dart, the pieces end on its legs.
    for pair in runs.windows(2) {
        let gap = pair[0].chain.end().distance(pair[1].chain.start());
        assert!(gap > 0.0 && gap < 40.0, "{gap}");
    }
}

#[test]
fn every_pocket_is_made_and_is_as_what_it_is_sewn_to() {
    let patterns = patterns();
    assert!(patterns.len() > 200, "{} bodies", patterns.len());
    let (mut pieces, mut worst, mut refused) = (0, Worst(0.0), Vec::new());
    for (body, pattern) in patterns.iter().enumerate() {
        let set = AllowanceSet::ALL[body % AllowanceSet::ALL.len()];
        for (index, front) in FrontPocket::ALL.into_iter().enumerate() {
            let back = BackPocket::ALL[(body + index) % BackPocket::ALL.len()];
            let cut = match pieces_to_cut(pattern, &document(set, front, back)) {
                Ok(cut) => cut,
                Err(why) => {
                    refused.push(format!("{body} {set:?} {front:?} {back:?}: {why}"));
                    continue;
                }
            };
            pieces += cut.pieces.len();
            match front {
                FrontPocket::None => {}
                FrontPocket::SideSeam => in_side_seam(&cut, &mut worst),
                FrontPocket::Slant | FrontPocket::Jeans => cut_away(pattern, &cut, &mut worst),
            }
            if back != BackPocket::None {
                on_the_back(&cut, back, &mut worst);
            }
            let marks = |name: &str| cut.piece(name).unwrap().drills.iter();
            let marks = |name| marks(name).filter(|d| d.name.contains("pocket")).count();
            assert_eq!(marks(names::FRONT), if front == FrontPocket::None { 0 } else { 2 });
            assert_eq!(marks(names::BACK), if back == BackPocket::None { 0 } else { 2 });
        }
    }
    println!(
        "{} bodies, {pieces} pieces, mates apart by {:.1e} mm at most",
        patterns.len(),
        worst.0
    );
    println!("{} refused: {:#?}", refused.len(), refused.iter().take(6).collect::<Vec<_>>());
    assert!(refused.is_empty() && pieces > 5000);
    assert!(worst.0 < 1e-5, "{}", worst.0);
}

/// Reference lines of a front that is cut away lie where they lay, as far as it still goes.
#[test]
fn lines_stay_where_they_lay_on_a_front_that_is_cut_away() {
    let mut seen = 0;
    for pattern in ten_blocks(0.0) {
        let plan = document(AllowanceSet::Finished, FrontPocket::Slant, BackPocket::None);
        let cut = pieces_to_cut(&pattern, &plan).unwrap();
        for line in pattern.lines.iter().filter(|l| l.piece == names::FRONT) {
            let was = pattern.place_line(&line.piece, &line.name).unwrap().chain;
            let is = cut.pattern.place_line(&line.piece, &line.name).unwrap().chain;
            for share in [0.0, 0.5, 1.0] {
                let off = was.nearest(is.point_at(share * is.length())).distance;
                assert!(off < 1e-3, "{} lies {off} away", line.name);
            }
            seen += 1;
        }
    }
    assert!(seen > 30, "{seen}");
}

/// A side zip and a front pocket want the same seam: the pocket is on the other leg alone,
/// and the front beside the zip is whole.
#[test]
fn beside_a_side_zip_the_front_pocket_is_on_the_other_leg() {
    let pattern = patterns().swap_remove(0);
    let whole = pattern.piece(names::FRONT).unwrap();
    for leg in Leg::BOTH {
        for front in FrontPocket::ALL.into_iter().skip(1) {
            let mut plan = document(AllowanceSet::Finished, front, BackPocket::Patch);
            plan.cutting.closure = Closure::SideZip { leg };
            let width = |piece: Option<&str>| hangtrue_adjust::SeamWidth {
                piece: piece.map(str::to_owned),
                seam: names::HEM.to_owned(),
                width: 33.0,
            };
            plan.cutting.widths = vec![width(Some(names::FRONT))];
            let cut = pieces_to_cut(&pattern, &plan).unwrap();
            let front_of = |leg: Leg| {
                let name = format!("{} {}", names::FRONT, leg.word());
                assert_eq!(cut.allowance.along(&name, names::HEM).most(), 33.0);
                cut.pattern.piece(&name).unwrap()
            };
            let (opened, other) = (front_of(leg), front_of(leg.other()));
            assert!((opened.signed_area().abs() - whole.signed_area().abs()).abs() < 1e-6);
            let is_cut_away = front != FrontPocket::SideSeam;
            assert_eq!(other.signed_area().abs() < whole.signed_area().abs() - 1.0, is_cut_away);
            assert!(opened.notches.iter().any(|n| n.name == "zip"));
            assert!(!other.notches.iter().any(|n| n.name == "zip"));
            for piece in cut.pieces.iter().filter(|p| p.name.starts_with("pocket")) {
                assert!(piece.name.ends_with(leg.other().word()), "{}", piece.name);
            }
            assert!(cut.notes.iter().any(|note| note.contains("front pocket")));
        }
    }
}

/// Parted legs have pocket pieces of their own, cut once each.
#[test]
fn parted_legs_have_pockets_of_their_own() {
    use hangtrue_adjust::{Change, PartLegs};
    let whole = patterns().swap_remove(0);
    let parted = Change::PartLegs(PartLegs).apply(&whole).unwrap().pattern;
    for (front, back) in [
        (FrontPocket::Slant, BackPocket::Welt),
        (FrontPocket::Jeans, BackPocket::Patch),
        (FrontPocket::SideSeam, BackPocket::Welt),
    ] {
        let plan = document(AllowanceSet::Finished, front, back);
        let (one, two) =
            (pieces_to_cut(&whole, &plan).unwrap(), pieces_to_cut(&parted, &plan).unwrap());
        for piece in
            one.pieces.iter().filter(|p| p.name.contains("pocket") || p.name.contains("welt"))
        {
            for leg in Leg::BOTH {
                let of_leg = two.piece(&format!("{} {}", piece.name, leg.word())).unwrap();
                assert!((of_leg.area() - piece.area()).abs() < 1e-6 * piece.area());
                let (all, each) =
                    (piece.to_cut[0].quantity.count(), of_leg.to_cut[0].quantity.count());
                assert_eq!(all, 2 * each, "{}", piece.name);
            }
        }
    }
}

/// A pinch and a correction made after the pockets were chosen move them with the pattern.
#[test]
fn pockets_and_fly_follow_a_pinch_and_a_correction() {
    use hangtrue_adjust::{Change, Correction, Method, Pinch, PinchChange, Replay};
    let mut project = hangtrue_tests::bodies::project();
    project.cutting =
        document(AllowanceSet::Finished, FrontPocket::Slant, BackPocket::Welt).cutting;
    let made = |project: &Document| {
        let replay = Replay::new(project.clone());
        assert_eq!(replay.failures().count(), 0);
        let whole = replay.current().unwrap().clone();
        let cut = pieces_to_cut(&whole, project).unwrap();
        (whole, cut)
    };
    let (_, before) = made(&project);
    let [_, slash, _] = Method::all(Unit::Mm);
    let pinch = Pinch::in_the_middle("seat", names::BACK, names::THIGH, 8.0);
    project.push("pinch", Change::Pinch(PinchChange { pinch, method: slash }));
    let wider = Correction::named("waist at the sides", 20.0).unwrap();
    project.push("wider", Change::Correct(wider));
    let (whole, after) = made(&project);
    let mut worst = Worst(0.0);
    cut_away(&whole, &after, &mut worst);
    on_the_back(&after, BackPocket::Welt, &mut worst);
    assert!(worst.0 < 1e-5, "{}", worst.0);
    for name in [names::BACK, names::FRONT, made::POCKET_BAG, made::POCKET_UNDER_BAG] {
        assert_ne!(before.piece(name).unwrap().cut, after.piece(name).unwrap().cut, "{name}");
    }
}

/// Depth and welt of a back pocket are as they are chosen, and refused by name where they
/// cannot be.
#[test]
fn a_back_pocket_is_as_deep_and_its_edge_as_high_as_chosen() {
    let pattern = &ten_blocks(24.0)[0];
    let of = |kind: BackPocket, deep: Option<f64>, edge: Option<f64>| {
        let mut document = document(AllowanceSet::Finished, FrontPocket::None, kind);
        document.cutting.pockets.back_deep = deep;
        document.cutting.pockets.back_edge = edge;
        pieces_to_cut(pattern, &document)
    };
    let high = |set: &CutSet, name: &str| {
        let bounds = kurbo::Shape::bounding_box(&set.pattern.piece(name).unwrap().outline());
        bounds.height()
    };
    let plain = of(BackPocket::Welt, None, None).unwrap();
    let other = of(BackPocket::Welt, Some(180.0), Some(15.0)).unwrap();
    let usual = BackPocket::Welt.usual(Unit::Mm);
    let deeper = high(&other, made::WELT_BAG) - high(&plain, made::WELT_BAG);
    assert!((deeper - (180.0 - usual.deep)).abs() < 1e-9, "{deeper}");
    assert!((high(&other, made::WELT) - 30.0).abs() < 1e-9, "a welt is folded along its middle");
    let patch = of(BackPocket::Patch, Some(130.0), Some(30.0)).unwrap();
    assert!((high(&patch, made::PATCH) - 130.0).abs() < 1e-9);
    let hem = patch.allowance.along(made::PATCH, names::HEM);
    assert!((hem.most() - 30.0).abs() < 1e-9, "{hem:?}");
    for (kind, deep, edge, named) in [
        (BackPocket::Welt, Some(20.0), None, "depth of a back pocket"),
        (BackPocket::Welt, None, Some(60.0), "height of a welt"),
        (BackPocket::Patch, None, Some(2.0), "hem of a patch pocket"),
    ] {
        let refused = of(kind, deep, edge).unwrap_err().to_string();
        assert!(refused.contains(named), "{refused}");
    }
}
