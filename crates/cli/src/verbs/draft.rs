//! Showing the drafted block.

use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use std::path::Path;

/// What is off by less than this is as asked, mm.
const EXACT: f64 = 0.0005;

pub fn run(path: &Path, json: bool) -> Result<(), Failure> {
    let opened = Opened::open(path)?;
    opened.replay.start()?;
    let Some(report) = opened.replay.draft_report() else {
        return Err(Failure::Asked(
            "this project starts from pieces that were brought in, so there is no block to draft"
                .into(),
        ));
    };
    if json {
        return output::json(report);
    }
    output::line("The block, whole garment:")?;
    let mut solved = vec![
        ("crotch seam, front and back", report.crotch),
        ("waist", report.waist),
        ("hip at the hip line", report.hip),
        ("thigh, one leg (at least)", report.thigh),
        ("knee, one leg", report.knee),
        ("hem, one leg", report.hem),
    ];
    if let Some(back) = report.back_crotch {
        solved.insert(1, ("the back’s part of it", back));
    }
    let rows: Vec<Vec<String>> = solved
        .iter()
        .map(|(name, s)| {
            vec![
                (*name).to_owned(),
                opened.show(s.target),
                opened.show(s.drafted),
                opened.show_difference(s.error(), EXACT),
            ]
        })
        .collect();
    output::table(&["", ">asked for", ">drawn", ">off by"], &rows)?;
    output::line(&format!(
        "\nThigh ease: {} at the crotch point. Of the hip, {} lie in the crotch curves at the hip line.",
        opened.show(report.thigh.drafted - report.thigh_girth),
        opened.show(2.0 * (report.back.curve_at_hip + report.front.curve_at_hip)),
    ))?;
    output::line("\nThe pieces:")?;
    let mut rows = Vec::new();
    for (name, p) in [("back", &report.back), ("front", &report.front)] {
        rows.push(vec![
            name.to_owned(),
            opened.show(p.crotch),
            opened.show(p.inseam),
            opened.show(p.side),
            opened.show(p.extension),
            format!("{}°", hangtrue_pattern::units::show_number(p.centre_lean, 1)),
            p.darts.iter().map(|d| opened.show(*d)).collect::<Vec<_>>().join(" + "),
        ]);
    }
    output::table(
        &["", ">crotch seam", ">inseam", ">side seam", ">extension", ">centre lean", "darts"],
        &rows,
    )?;
    for note in &report.notes {
        output::line(&format!("Note: {}", output::words(note)))?;
    }
    Ok(())
}
