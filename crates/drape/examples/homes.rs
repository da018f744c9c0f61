//! Settles the blocks of survey bodies and compares the thigh lines with their home
//! shape in closed form. `cargo run --release -p hangtrue-drape --example homes 20`
#![allow(clippy::unwrap_used)]

#[path = "../tests/common/survey.rs"]
mod survey;

use hangtrue_adjust::{Change, MarkLine, UsualDepths, usual_lines};
use hangtrue_drape::body::Handles;
use hangtrue_drape::mesh::Grid;
use hangtrue_drape::{Options, Start, read, settle_all};
use hangtrue_pattern::{End, Pattern, Plan, draft, names};

fn main() {
    let number =
        |k: usize, or: usize| std::env::args().nth(k).and_then(|a| a.parse().ok()).unwrap_or(or);
    let (count, side) = (number(1, 20), number(2, 15));
    let all = survey::survey();
    for (name, measures, breadths) in all.iter().step_by(all.len() / count).take(count) {
        let Ok(made) = draft(measures, &Plan::default()) else {
            println!("{name}: no draft");
            continue;
        };
        let mut pattern = made.pattern;
        for line in usual_lines(&pattern, UsualDepths::default()).unwrap() {
            pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).unwrap().pattern;
        }
        let options = Options {
            breadths: *breadths,
            grids: vec![Grid { side: side as f64, shift: (0.0, 0.0) }],
            starts: vec![Start { off: 10.0, lifted: 0.0 }],
            ..Options::default()
        };
        let begun = std::time::Instant::now();
        match settle_all(&pattern, measures, &Handles::default(), &options, &mut |_| true) {
            Err(why) => println!("{name}: {why}"),
            Ok(settled) => {
                let told = read(&pattern, &settled);
                let mut words = String::new();
                for piece in [names::BACK, names::FRONT] {
                    for line in [names::THIGH, names::KNEE] {
                        let found = told.lines.iter().find(|l| l.piece == piece && l.line == line);
                        let Some(found) = found else { continue };
                        let closed = closed_form(&pattern, piece, line);
                        words += &format!(
                            " {piece} {line} {:.1} ({closed:.1})",
                            found.stations[2].droop
                        );
                    }
                }
                let steps = settled.first.ended.steps;
                println!(
                    "{name}:{words}; {steps} steps {:.1?} {}",
                    begun.elapsed(),
                    settled.first.slipped
                );
            }
        }
    }
}

/// W/2·tan(β/4): W the line's width, β how much the piece's two seams converge there.
fn closed_form(pattern: &Pattern, piece: &str, line: &str) -> f64 {
    let placed = pattern.place_line(piece, line).unwrap();
    let piece = pattern.piece(piece).unwrap();
    let down = |k: usize| {
        let end = &placed.ends[k];
        let at = piece.seam(&end.seam).unwrap().place(End::Start, end.position).direction;
        if at.y > 0.0 { -at } else { at }
    };
    let (a, b) = (down(0), down(1));
    0.5 * placed.chain.length() * (a.cross(b).atan2(a.dot(b)).abs() / 4.0).tan()
}
