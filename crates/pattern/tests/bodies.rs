//! Every body of the survey sample drafts, and comes out right.

use hangtrue_pattern::{Plan, draft};

mod survey;
use survey::bodies;

#[test]
fn every_body_of_the_sample_drafts() {
    let plan = Plan::default();
    let mut worst = [0.0f64; 5];
    let mut failures = Vec::new();
    let mut st: Vec<Vec<f64>> = vec![Vec::new(); 12];
    for (name, measures) in bodies() {
        let made = match draft(&measures, &plan) {
            Ok(made) => made,
            Err(e) => {
                failures.push(format!("{name}: {e}"));
                continue;
            }
        };
        let r = made.report;
        let errors = [
            r.crotch.error(),
            r.waist.error(),
            r.hip.error(),
            r.inseam_mismatch(),
            r.side_mismatch(),
        ];
        for (w, e) in worst.iter_mut().zip(errors) {
            *w = w.max(e.abs());
        }
        if !(r.back.one_way && r.front.one_way) {
            failures.push(format!("{name}: hook bends both ways"));
        }
        for (v, x) in st.iter_mut().zip([
            r.back.extension,
            r.front.extension,
            r.back.centre_raise,
            r.front.centre_raise,
            r.back.crotch_drop,
            r.back.darts.iter().sum(),
            r.front.darts.iter().sum(),
            r.thigh.error(),
            r.back.centre_lean,
            r.front.centre_lean,
            r.back.crotch - r.back_crotch_wanted.unwrap_or(0.0),
            made.pattern.pieces[0].seams[0].start().y - made.pattern.pieces[1].seams[0].start().y,
        ]) {
            v.push(x);
        }
    }
    for (n, v) in [
        "extb",
        "extf",
        "raiseb",
        "raisef",
        "dropb",
        "dartb",
        "dartf",
        "thighE",
        "leanb",
        "leanf",
        "backdiff",
        "sideapart",
    ]
    .iter()
    .zip(&mut st)
    {
        v.sort_by(f64::total_cmp);
        let n1 = v.len();
        println!(
            "{n}: {:.1} {:.1} {:.1} {:.1} {:.1}",
            v[0],
            v[n1 / 100],
            v[n1 / 2],
            v[n1 - 1 - n1 / 100],
            v[n1 - 1]
        );
    }
    println!("worst {worst:?}");
    println!("{} failures; {:#?}", failures.len(), &failures[..failures.len().min(12)]);
    assert!(failures.is_empty(), "{failures:#?}");
}
