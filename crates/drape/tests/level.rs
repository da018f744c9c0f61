//! A line drawn so that it settles level: marked, settled again on another mesh from
//! another start, and read at forty places along it.
#![allow(clippy::unwrap_used)]

use crate::common::survey::survey;
use hangtrue_adjust::{Change, MarkLine};
use hangtrue_drape::body::{Breadths, Handles};
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{
    CLAIMED, LevelError, Options, Settled, Start, level_name, level_when_worn, read, settle_all,
    trace_lines,
};
use hangtrue_pattern::{Measures, Pattern, names};

fn options(breadths: Breadths, side: f64, shift: (f64, f64), start: Start) -> Options {
    let grids = vec![Grid { side, shift }];
    Options { breadths, grids, starts: vec![start], ..Options::default() }
}

fn settled(pattern: &Pattern, measures: &Measures, options: &Options) -> Option<Settled> {
    settle_all(pattern, measures, &Handles::default(), options, &mut |_| true).ok()
}

/// The most a line leaves the line between its own ends, anywhere along it, mm.
fn most_off(pattern: &Pattern, settled: &Settled, piece: &str, line: &str) -> f64 {
    let all = trace_lines(pattern, &settled.first.sewn, &settled.first.places);
    let run = &all.iter().find(|l| l.0 == format!("{piece}: {line}")).unwrap().1;
    let (first, last) = (run[0].z, run[run.len() - 1].z);
    let level = |k: usize| first + (last - first) * k as f64 / (run.len() - 1) as f64;
    run.iter().enumerate().map(|(k, p)| (level(k) - p.z).abs()).fold(0.0, f64::max)
}

/// Straight and level, on the cloth it was drawn from and on another: mm.
fn tried(name: &str, measures: &Measures, breadths: Breadths, side: f64) -> Option<()> {
    let mut pattern = crate::common::survey::marked_block(measures)?;
    let start = |off| Start { off, lifted: 0.0 };
    let first = settled(&pattern, measures, &options(breadths, side, (0.0, 0.0), start(10.0)))?;
    if first.first.slipped {
        eprintln!("{name}: the waist slipped");
        return None;
    }
    let straight = most_off(&pattern, &first, names::BACK, names::THIGH);
    let drawn = level_when_worn(&pattern, &first, names::THIGH).unwrap();
    assert_eq!(drawn.len(), 2);
    assert!((drawn[0].height - drawn[1].height).abs() < 1e-9, "one height all round");
    for level in &drawn {
        let line = level.line.clone();
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).unwrap().pattern;
    }
    // Marking changes no cloth: settled on the same mesh it is the same to the last bit.
    let other = options(breadths, side, (0.4, 0.3), start(18.0));
    let again = settled(&pattern, measures, &other)?;
    let line = level_name(names::THIGH);
    for level in &drawn {
        let piece = &level.line.piece;
        let own = most_off(&pattern, &first, piece, &line);
        let there = most_off(&pattern, &again, piece, &line);
        let seen = most_off(&pattern, &again, piece, names::THIGH);
        eprintln!(
            "{name} {piece}: off {:.1}, own cloth {own:.1}, other {there:.1} (straight {seen:.1}), claimed {:.1}",
            level.off, level.plus_minus
        );
        // An end may lie a mesh's corner off its height.
        assert!(own <= level.plus_minus.max(CLAIMED) + 0.5, "{name} {piece}: {own}");
        assert!(there < 8.0, "{name} {piece}: {there}");
    }
    let there = most_off(&pattern, &again, names::BACK, &line);
    assert!(there < 0.5 * straight, "{name}: {there} against {straight}");
    let told = read(&pattern, &again);
    assert!(told.lines.iter().any(|l| l.line == line));
    Some(())
}

#[test]
fn a_line_drawn_level_settles_level_on_the_demo() {
    let measures = ron::from_str(include_str!("../../../assets/demo/measures.ron")).unwrap();
    tried("demo", &measures, Breadths::default(), 15.0).unwrap();
    let pattern = crate::common::survey::marked_block(&measures).unwrap();
    let options = options(Breadths::default(), 35.0, (0.0, 0.0), Start { off: 10.0, lifted: 0.0 });
    let settled = settled(&pattern, &measures, &options).unwrap();
    let fault = level_when_worn(&pattern, &settled, "calf").unwrap_err();
    assert!(matches!(fault, LevelError::NoLine { .. }) && fault.to_string().contains("calf"));
}

#[test]
fn and_on_bodies_of_the_survey() {
    let all = survey();
    let count: usize = std::env::var("LEVEL_BODIES").ok().and_then(|n| n.parse().ok()).unwrap_or(4);
    let side = if count > 4 { 15.0 } else { 20.0 };
    let mut done = 0;
    for (name, measures, breadths) in all.iter().step_by(all.len() / count) {
        done += usize::from(tried(name, measures, *breadths, side).is_some());
    }
    assert!(done * 2 >= count, "{done} of {count}");
}
