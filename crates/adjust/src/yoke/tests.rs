use super::*;
use crate::{Change, Style, sample};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::names::{BACK, HIP, YOKE_SEAM};

fn depths(centre: f64, side: f64) -> YokeDepths {
    YokeDepths { centre, side }
}

fn back() -> Piece {
    sample::pattern().piece(BACK).unwrap().clone()
}

/// Everything of the back is in the two, as long as it was.
#[test]
fn yoke_and_back_together_are_as_long_as_the_back() {
    let whole = back();
    let length = |piece: &Piece, seam: &str| piece.seam(seam).unwrap().sewn_length();
    for (centre, side) in [(75.0, 75.0), (100.0, 60.0), (125.0, 75.0)] {
        let yoke = yoke_at(&whole, depths(centre, side)).unwrap();
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-6, "{a} {b}");
        near(yoke.waist.length(), length(&whole, WAIST));
        near(yoke.centre.length() + length(&yoke.below, CROTCH), length(&whole, CROTCH));
        near(yoke.side.length() + length(&yoke.below, SIDE), length(&whole, SIDE));
        near(yoke.seam.length(), length(&yoke.below, YOKE_SEAM));
        near(length(&yoke.as_sewn, SIDE), length(&whole, SIDE));
        // One after the other round the outline.
        for (a, b) in [
            (&yoke.waist, &yoke.centre),
            (&yoke.centre, &yoke.seam),
            (&yoke.seam, &yoke.side),
            (&yoke.side, &yoke.waist),
        ] {
            assert!(a.end().distance(b.start()) < 1e-6);
        }
        // Side and yoke run on smoothly where the seam between meets them.
        let sewn = yoke.as_sewn.seam(SIDE).unwrap();
        let at = sewn.sewn_length() - side;
        let turn = |s: f64| sewn.parts[0].direction_at(s);
        let bend = angle_between(turn(at - 0.01), turn(at + 0.01));
        assert!(bend.abs() < 0.02, "{bend}");
    }
}

/// What hangs below lies where the back lay, all below the hip line and along the centre.
#[test]
fn below_the_hip_nothing_is_moved() {
    let whole = back();
    let yoke = yoke_at(&whole, depths(100.0, 70.0)).unwrap();
    let side = &whole.seam(SIDE).unwrap().parts[0];
    let lower = &yoke.below.seam(SIDE).unwrap().parts[0];
    for share in [0.0, 0.3, 0.6] {
        assert!(side.nearest(lower.point_at(share * lower.length())).distance < 1e-6);
    }
    assert_eq!(yoke.below.seam(CROTCH).unwrap().end(), whole.seam(CROTCH).unwrap().end());
    // The sample has no hip notch; one is carried by its distance from the waist.
    let mut marked = whole.clone();
    marked.notches.push(hangtrue_pattern::Notch {
        name: HIP.into(),
        seam: SIDE.into(),
        from: hangtrue_pattern::End::End,
        distance: 150.0,
        kind: hangtrue_pattern::NotchKind::Double,
    });
    let yoke = yoke_at(&marked, depths(100.0, 70.0)).unwrap();
    assert_eq!(yoke.below.notches[0].distance, 80.0);
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let whole = back();
    let said = |centre, side| yoke_at(&whole, depths(centre, side)).unwrap_err().to_string();
    assert!(said(25.0, 21.0).contains("back dart"), "{}", said(25.0, 21.0));
    assert!(said(500.0, 60.0).contains("centre back"));
    assert!(said(f64::NAN, 60.0).contains("centre back"));
    assert!(said(100.0, 500.0).contains("side"));
    let mut long = whole.clone();
    let dart = &mut long.seam_mut(WAIST).unwrap().darts[0];
    let mouth = dart.apex + Vec2::new(0.0, 105.0);
    dart.apex = dart.apex.lerp(mouth, 0.65);
    let why = yoke_at(&long, depths(110.0, 80.0)).unwrap_err();
    assert!(matches!(why, ChangeError::YokeTooDeep { .. }), "{why}");
    let mut pleated = whole.clone();
    pleated.seam_mut(WAIST).unwrap().darts[0].name = "pleat".into();
    assert!(yoke_at(&pleated, depths(100.0, 70.0)).unwrap_err().to_string().contains("pleat"));
}

/// The style draws the line and moves nothing; the line is read as it was asked for, and a
/// mirrored back has the mirrored yoke.
#[test]
fn the_line_is_read_from_the_back() {
    let was = sample::pattern();
    let style = Style::named("back yoke", 100.0).unwrap().with_second(60.0);
    let now = Change::Style(style).apply(&was).unwrap().pattern;
    for (old, new) in was.pieces.iter().zip(&now.pieces) {
        assert_eq!(old.seams, new.seams);
    }
    let read = YokeDepths::of(now.piece(BACK).unwrap()).unwrap();
    assert!((read.centre - 100.0).abs() < 1e-6 && (read.side - 60.0).abs() < 1e-6, "{read:?}");
    let apart: Pattern = now.apart().unwrap();
    let length = |name: &str| yoke_of(apart.piece(name).unwrap()).unwrap().unwrap().seam.length();
    assert!((length("back left") - length("back right")).abs() < 1e-9);
    assert!(yoke_of(now.piece("front").unwrap()).unwrap().is_none());
}
