//! A sewn toile on a body.
#![allow(clippy::unwrap_used)]

use hangtrue_adjust::{Change, MarkLine, UsualDepths, usual_lines};
use hangtrue_drape::body::Handles;
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Options, PredictError, Prediction, SettleError, Start, predict};
use hangtrue_pattern::{Leg, Measures, Pattern, Plan, draft, names};

fn measures() -> Measures {
    ron::from_str(include_str!("../../../assets/demo/measures.ron")).unwrap()
}

fn marked(pattern: &Pattern) -> Pattern {
    let mut pattern = pattern.clone();
    for line in usual_lines(&pattern, UsualDepths::default()).unwrap() {
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).unwrap().pattern;
    }
    pattern
}

fn demo() -> Pattern {
    marked(&draft(&measures(), &Plan::default()).unwrap().pattern)
}

/// One mesh, one start.
fn once(side: f64) -> Options {
    Options {
        grids: vec![Grid { side, shift: (0.0, 0.0) }],
        starts: vec![Start { off: 10.0, lifted: 0.0 }],
        ..Options::default()
    }
}

fn settled(pattern: &Pattern, options: &Options) -> Prediction {
    predict(pattern, &measures(), &Handles::default(), options, &mut |_| true).unwrap()
}

fn middle(told: &Prediction, piece: &str, line: &str) -> f64 {
    let found = told.lines.iter().find(|l| l.piece == piece && l.line == line).unwrap();
    found.stations[2].droop
}

#[test]
fn the_demo_hangs_near_its_home_shape() {
    let pattern = demo();
    let told = settled(&pattern, &once(15.0));
    assert!(!told.waist_slipped);
    for piece in [names::BACK, names::FRONT] {
        let came = middle(&told, piece, names::THIGH);
        let closed = closed_form(&pattern, piece, names::THIGH);
        eprintln!("{piece} thigh: settled {came:.1}, closed form {closed:.1}");
        assert!((came - closed).abs() < 4.0, "{piece}: {came} against {closed}");
    }
}

/// W/2·tan(β/4): W the line's width, β how much the piece's two seams converge there.
fn closed_form(pattern: &Pattern, piece: &str, line: &str) -> f64 {
    let placed = pattern.place_line(piece, line).unwrap();
    let piece = pattern.piece(piece).unwrap();
    let down = |k: usize| {
        let end = &placed.ends[k];
        let seam = piece.seam(&end.seam).unwrap();
        let at = seam.place(hangtrue_pattern::End::Start, end.position).direction;
        if at.y > 0.0 { -at } else { at }
    };
    let (a, b) = (down(0), down(1));
    let beta = a.cross(b).atan2(a.dot(b)).abs();
    0.5 * placed.chain.length() * (beta / 4.0).tan()
}

#[test]
fn the_same_settles_to_the_same_bits() {
    let pattern = demo();
    let (a, b) = (settled(&pattern, &once(35.0)), settled(&pattern, &once(35.0)));
    assert_eq!(a.lines, b.lines);
    assert!(a.places.iter().zip(&b.places).all(|(a, b)| a == b));
}

#[test]
fn parted_legs_on_an_even_body_hang_alike() {
    let told = settled(&demo().apart().unwrap(), &once(35.0));
    let mut worst = 0.0_f64;
    for line in told.lines.iter().filter(|l| l.piece.ends_with(Leg::Left.word())) {
        let twin = line.piece.replace(Leg::Left.word(), Leg::Right.word());
        let other = told.lines.iter().find(|l| l.piece == twin && l.line == line.line).unwrap();
        for (a, b) in line.stations.iter().zip(&other.stations) {
            worst = worst.max((a.height - b.height).abs());
        }
    }
    eprintln!("left and right differ by {worst:.2e} mm");
    assert!(worst < 0.01, "{worst}");
}

#[test]
fn settling_stops_when_asked() {
    let mut steps = 0;
    let told = predict(&demo(), &measures(), &Handles::default(), &once(35.0), &mut |_| {
        steps += 1;
        steps < 5
    });
    assert!(matches!(told, Err(PredictError::Settle(SettleError::Stopped))));
}

#[test]
fn what_cannot_be_sewn_is_refused_by_name() {
    let mut pattern = demo();
    pattern.joins.retain(|j| j.name != "side seam");
    let fault = predict(&pattern, &measures(), &Handles::default(), &once(35.0), &mut |_| true)
        .unwrap_err();
    assert!(fault.to_string().contains("side"), "{fault}");
}
