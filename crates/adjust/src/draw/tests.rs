//! Drawing by hand on the sample.

use super::*;
use crate::sample;
use hangtrue_geometry::{Point, Vec2};
use hangtrue_pattern::names::*;
use hangtrue_pattern::{End, Fold, Notch, NotchKind, PatternError};

fn draw(pattern: &Pattern, step: Draw) -> Result<Pattern, ChangeError> {
    step.apply(pattern).map(|o| o.pattern)
}

fn at(pattern: &Pattern, seam: &str, distance: f64) -> Point {
    pattern.piece(BACK).unwrap().seam(seam).unwrap().place(End::Start, distance).point
}

fn sewn(pattern: &Pattern, seam: &str) -> f64 {
    pattern.piece(BACK).unwrap().seam(seam).unwrap().sewn_length()
}

#[test]
fn a_moved_corner_takes_both_seams_along() {
    let pattern = sample::pattern();
    let to = pattern.piece(BACK).unwrap().corner(HEM_SIDE).unwrap() + Vec2::new(8.0, -5.0);
    let step = MoveCorner { piece: BACK.into(), corner: HEM_SIDE.into(), to };
    let after = draw(&pattern, Draw::MoveCorner(step)).unwrap();
    let piece = after.piece(BACK).unwrap();
    assert!(piece.corner(HEM_SIDE).unwrap().distance(to) < 1e-9);
    assert!(piece.seam(HEM).unwrap().end().distance(to) < 1e-9);
}

#[test]
fn a_set_point_changes_nothing_and_a_moved_one_does() {
    let pattern = sample::pattern();
    let step = InsertPoint { piece: BACK.into(), seam: SIDE.into(), at: 500.0 };
    let with = draw(&pattern, Draw::InsertPoint(step)).unwrap();
    assert!((sewn(&with, SIDE) - sewn(&pattern, SIDE)).abs() < 1e-6);
    assert!(at(&with, SIDE, 700.0).distance(at(&pattern, SIDE, 700.0)) < 1e-5);
    let to = at(&with, SIDE, 500.0) + Vec2::new(4.0, 0.0);
    let step = MovePoint { piece: BACK.into(), seam: SIDE.into(), part: 0, segment: 1, to };
    let moved = draw(&with, Draw::MovePoint(step)).unwrap();
    let near = moved.piece(BACK).unwrap().seam(SIDE).unwrap().nearest(to).1;
    assert!(near < 1e-9, "{near}");
    let step = RemovePoint { piece: BACK.into(), seam: SIDE.into(), part: 0, segment: 1 };
    let without = draw(&moved, Draw::RemovePoint(step)).unwrap();
    let count = |p: &Pattern| p.piece(BACK).unwrap().seam(SIDE).unwrap().parts[0].segments().len();
    assert_eq!(count(&without) + 1, count(&moved));
}

#[test]
fn a_smooth_handle_keeps_the_joint_smooth() {
    let pattern = sample::pattern();
    let segment = 1;
    let part = &pattern.piece(BACK).unwrap().seam(SIDE).unwrap().parts[0];
    let end = part.segments()[segment].to_cubic();
    let to = end.p2 + Vec2::new(3.0, 2.0);
    let step = MoveHandle {
        piece: BACK.into(),
        seam: SIDE.into(),
        part: 0,
        segment,
        handle: outline::Handle::Second,
        to,
        smooth: true,
    };
    let after = draw(&pattern, Draw::MoveHandle(step)).unwrap();
    let part = &after.piece(BACK).unwrap().seam(SIDE).unwrap().parts[0];
    let (a, b) = (part.segments()[segment].to_cubic(), part.segments()[segment + 1].to_cubic());
    assert!(hangtrue_geometry::angle_between(a.p3 - a.p2, b.p1 - b.p0).abs() < 1e-9);
}

#[test]
fn a_split_seam_is_two_seams_of_the_same_length() {
    let pattern = sample::pattern();
    let step = SplitSeam {
        piece: BACK.into(),
        seam: WAIST.into(),
        at: 150.0,
        corner: "yoke".into(),
        name: "waist, inner".into(),
    };
    let after = draw(&pattern, Draw::SplitSeam(step.clone())).unwrap();
    let sum = sewn(&after, WAIST) + sewn(&after, "waist, inner");
    assert!((sum - sewn(&pattern, WAIST)).abs() < 1e-6);
    assert!(matches!(draw(&after, Draw::SplitSeam(step)), Err(ChangeError::NameTaken { .. })));
}

#[test]
fn a_dart_goes_in_fair_and_comes_out() {
    let pattern = sample::pattern();
    let step = AddDart {
        piece: BACK.into(),
        seam: WAIST.into(),
        name: "second dart".into(),
        at: 45.0,
        intake: 14.0,
        length: 90.0,
        fold: Fold::ToEnd,
    };
    let with = draw(&pattern, Draw::AddDart(step)).unwrap();
    let folded = crate::fold_darts(&with);
    let dart = folded.iter().find(|d| d.dart == "second dart").unwrap();
    assert!((dart.intake - 14.0).abs() < 0.2 && dart.is_true, "{dart:?}");
    assert!(with.piece(BACK).unwrap().contains(
        with.piece(BACK).unwrap().dart("second dart").map(|(s, i)| s.darts[i].apex).unwrap()
    ));
    let step = RemoveDart { piece: BACK.into(), dart: "second dart".into() };
    let without = draw(&with, Draw::RemoveDart(step)).unwrap();
    assert!((sewn(&without, WAIST) - sewn(&pattern, WAIST)).abs() < 1.0);
    assert!(sewn(&without, WAIST) > sewn(&with, WAIST));
}

#[test]
fn names_are_followed_by_what_refers_to_them() {
    let mut pattern = sample::pattern();
    let rename = |seam: &str, name: &str| {
        Draw::RenameSeam(RenameSeam { piece: BACK.into(), seam: seam.into(), name: name.into() })
    };
    pattern = draw(&pattern, rename(SIDE, "outside")).unwrap();
    let step = RenamePiece { piece: BACK.into(), name: "hinder part".into() };
    pattern = draw(&pattern, Draw::RenamePiece(step)).unwrap();
    let step = RenameCorner {
        piece: "hinder part".into(),
        corner: CROTCH_POINT.into(),
        name: "fork".into(),
    };
    pattern = draw(&pattern, Draw::RenameCorner(step)).unwrap();
    let (placed, unplaced) = pattern.place_lines();
    assert!(unplaced.is_empty() && placed.iter().all(|p| p.stale.is_none()));
    assert!(crate::walk_all(&pattern).is_ok());
    assert!(matches!(draw(&pattern, rename("x", "y")), Err(ChangeError::Pattern(_))));
}

#[test]
fn notches_grain_and_joins() {
    let pattern = sample::pattern();
    let notch = |distance| Notch {
        name: "balance".into(),
        seam: SIDE.into(),
        from: End::End,
        distance,
        kind: NotchKind::Single,
    };
    let set = |distance| Draw::SetNotch(SetNotch { piece: BACK.into(), notch: notch(distance) });
    let once = draw(&draw(&pattern, set(90.0)).unwrap(), set(120.0)).unwrap();
    assert_eq!(once.piece(BACK).unwrap().notches, [notch(120.0)]);
    let past = draw(&pattern, set(5000.0)).unwrap_err();
    assert!(matches!(past, ChangeError::Pattern(PatternError::PastSeamEnd { .. })));
    let gone = RemoveNotch { piece: BACK.into(), seam: SIDE.into(), notch: "balance".into() };
    let bare = draw(&once, Draw::RemoveNotch(gone.clone())).unwrap();
    assert!(bare.piece(BACK).unwrap().notches.is_empty());
    assert!(draw(&bare, Draw::RemoveNotch(gone)).is_err());
    let short = SetGrain { piece: BACK.into(), from: Point::ORIGIN, to: Point::new(1.0, 1.0) };
    assert!(draw(&pattern, Draw::SetGrain(short)).is_err());
    let sewn_twice =
        Sew { join: hangtrue_pattern::Join { name: "new".into(), ..pattern.joins[0].clone() } };
    assert!(matches!(
        draw(&pattern, Draw::Sew(sewn_twice.clone())),
        Err(ChangeError::NoMate { .. })
    ));
    let apart = draw(&pattern, Draw::Unsew(Unsew { join: "side seam".into() })).unwrap();
    assert!(draw(&apart, Draw::Sew(sewn_twice)).is_ok());
}

#[test]
fn an_edit_that_crosses_the_outline_is_refused() {
    let pattern = sample::pattern();
    let step =
        MoveCorner { piece: BACK.into(), corner: HEM_SIDE.into(), to: Point::new(-400.0, -300.0) };
    assert!(matches!(draw(&pattern, Draw::MoveCorner(step)), Err(ChangeError::BreaksPattern(_))));
}
