//! The one-page report of a round: what was pinned, what was done, what was kept.

use crate::print::{Align, Block, Column, Paper, Picture, PrintError, Report, Table, before_after};
use hangtrue_adjust::{
    ChangeError, Document, FoldedDart, Method, Outcome, Pinch, SeamReading, Walked,
};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::show_length;

/// One method and what it would do.
pub type Weighed = (Method, Result<Outcome, ChangeError>);

/// What a round's report is made from.
#[derive(Debug)]
pub struct Round<'a> {
    /// The project.
    pub document: &'a Document,
    /// The pattern the toile was cut from.
    pub before: &'a Pattern,
    /// The pattern after the round.
    pub after: &'a Pattern,
    /// What was pinned.
    pub pinch: &'a Pinch,
    /// The ways to answer it.
    pub weighed: &'a [Weighed],
    /// Name of the method taken.
    pub taken: &'a str,
    /// The lines as sewn, after the round.
    pub readings: &'a [SeamReading],
    /// The seams walked, after the round.
    pub walked: &'a [Walked],
    /// The darts folded, after the round.
    pub darts: &'a [FoldedDart],
    /// Date, year-month-day.
    pub date: &'a str,
}

/// The report of a round.
///
/// # Errors
/// [`PrintError`] when a picture cannot be drawn.
pub fn round_report(round: &Round<'_>) -> Result<Report, PrintError> {
    let unit = round.document.unit;
    let most = round.pinch.stations.iter().map(|s| s.amount);
    let most = most.fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
    let lead = format!(
        "{} pinned across the {} is answered by {}.",
        show_length(most, unit),
        round.pinch.piece,
        round.taken
    );
    let blocks = vec![
        Block::Lead(lead),
        pictures(round)?,
        Block::Heading("Kept and changed".into()),
        measures(round),
        Block::Heading("Lines as sewn, next toile".into()),
        lines(round),
        Block::Heading("Seams walked".into()),
        seams(round),
        Block::Paragraph(next(round)),
    ];
    Ok(Report {
        paper: Paper::A4,
        title: round.document.title.clone(),
        client: format!("{} · {}", round.document.client, round.date),
        blocks,
        foot: "Lengths in mm unless marked. Pictures are not to scale; print the pattern sheets at 100 %.".into(),
    })
}

/// The changed piece under each method, old under new.
fn pictures(round: &Round<'_>) -> Result<Block, PrintError> {
    let only = [round.pinch.piece.as_str()];
    let mut pictures = Vec::new();
    for (method, outcome) in round.weighed {
        let Ok(outcome) = outcome else { continue };
        let mark = if method.name() == round.taken { " — taken" } else { "" };
        pictures.push(Picture {
            scene: before_after(round.before, &outcome.pattern, &only)?,
            caption: format!("{}{mark}", method.name()),
        });
    }
    Ok(Block::Pictures { pictures, height: 50.0 })
}

fn measures(round: &Round<'_>) -> Block {
    let taken = round.weighed.iter().find(|w| w.0.name() == round.taken);
    let mut rows = Vec::new();
    if let Some((_, Ok(outcome))) = taken {
        let kept = outcome.kept.iter().map(|c| (c, "kept"));
        let changed = outcome.changed.iter().map(|c| (c, "changed"));
        // Areas and angles have their own tables; a page has room for lengths.
        let lengths = kept.chain(changed).filter(|(c, _)| !c.measure.contains('('));
        for (c, word) in lengths {
            rows.push(vec![
                c.measure.clone(),
                format!("{:.1}", c.before),
                format!("{:.1}", c.after),
                format!("{:+.2}", c.change()),
                word.to_owned(),
            ]);
        }
    }
    table(
        &[
            ("measure", Align::Left),
            ("before", Align::Right),
            ("after", Align::Right),
            ("change", Align::Right),
            ("", Align::Left),
        ],
        rows,
    )
}

fn lines(round: &Round<'_>) -> Block {
    let rows = round.readings.iter().filter(|r| r.on_cloth).map(|r| {
        vec![r.line.clone(), r.join.clone(), format!("{:.1}", r.step), format!("{:+.1}°", r.kink)]
    });
    table(
        &[
            ("line", Align::Left),
            ("at", Align::Left),
            ("step", Align::Right),
            ("kink", Align::Right),
        ],
        rows.collect(),
    )
}

fn seams(round: &Round<'_>) -> Block {
    let word = |ok: bool| if ok { "true" } else { "to true" }.to_owned();
    let mut rows: Vec<Vec<String>> = round
        .walked
        .iter()
        .map(|w| {
            vec![
                w.join.clone(),
                format!("{:.1}", w.first),
                format!("{:.1}", w.second),
                format!("{:+.2}", w.difference),
                word(w.is_true()),
            ]
        })
        .collect();
    rows.extend(round.darts.iter().map(|d| {
        vec![
            format!("{} of the {}", d.dart, d.piece),
            format!("{:.1}", d.legs.0),
            format!("{:.1}", d.legs.1),
            format!("{:+.2}", d.legs.0 - d.legs.1),
            word(d.is_true),
        ]
    }));
    table(
        &[
            ("seam or dart", Align::Left),
            ("one side", Align::Right),
            ("other side", Align::Right),
            ("differs", Align::Right),
            ("", Align::Left),
        ],
        rows,
    )
}

fn next(round: &Round<'_>) -> String {
    let taken = round.weighed.iter().find(|w| w.0.name() == round.taken);
    let left: Vec<String> = match taken {
        Some((_, Ok(outcome))) => {
            outcome.residue.iter().map(|r| format!("{:.1} mm {}", r.amount, r.words)).collect()
        }
        _ => Vec::new(),
    };
    let left = if left.is_empty() {
        "Nothing of the pinch is left in the paper.".to_owned()
    } else {
        format!("Left: {}.", left.join("; "))
    };
    format!(
        "{left} Mark the lines on the next toile before lifting the paper, on both layers, and look whether they hang level. Some softness below the seat may stay."
    )
}

fn table(columns: &[(&str, Align)], rows: Vec<Vec<String>>) -> Block {
    let columns = columns
        .iter()
        .map(|(heading, align)| Column { heading: (*heading).to_owned(), align: *align })
        .collect();
    Block::Table(Table { columns, rows })
}
