//! The one-page report of a round: what was pinned, what was done, what was kept.

use crate::print::{
    Align, Block, Column, Paper, Picture, PrintError, Report, Scene, Table, before_after,
};
use hangtrue_adjust::{
    Bend, ChangeError, Compared, Document, FoldedDart, Method, Outcome, Pinch, SEEN, STEP_SEEN,
    SeamReading, Walked,
};
use hangtrue_geometry::Rect;
use hangtrue_pattern::units::{Unit, show_difference, show_length};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Pattern, Piece, names};

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
        "{} pinned across the {} is taken up by {}.",
        show_length(most, unit),
        round.pinch.piece,
        round.taken
    );
    let blocks = vec![
        Block::Lead(lead),
        pictures(round)?,
        Block::Columns(vec![
            vec![
                Block::Heading(format!("Kept and changed on the {}", round.pinch.piece)),
                measures(round),
                Block::Heading("Seams walked".into()),
                seams(round),
            ],
            vec![
                Block::Heading("Lines on the next toile".into()),
                lines(round),
                Block::Heading("Next".into()),
                round_the_body(round),
                Block::Paragraph(next(round)),
            ],
        ]),
    ];
    Ok(Report {
        paper: Paper::A4,
        title: round.document.title.clone(),
        client: format!("{} · {}", round.document.client, round.date),
        blocks,
        foot: foot(round.document.unit),
    })
}

fn foot(unit: Unit) -> String {
    let lengths = match unit {
        Unit::Mm => "mm",
        Unit::Cm => "cm",
        Unit::Eighths => "inches, to the nearest 1/8",
        Unit::Sixteenths => "inches, to the nearest 1/16",
        Unit::ThirtySeconds => "inches, to the nearest 1/32",
    };
    format!("Tables in {lengths}. Pictures, not to scale: the old pattern dashed, the new one red.")
}

/// A length for a column: the foot of the page says the unit and the rounding.
fn bare(shown: &str) -> String {
    let number = shown.trim_start_matches('≈');
    let ending = [" mm", " cm", " in"].iter().find_map(|unit| number.strip_suffix(unit));
    ending.unwrap_or(number).to_owned()
}

/// How far below the crotch point a picture goes on, mm: past the thigh line.
const BELOW_CROTCH: f64 = 90.0;

/// The upper part of the changed piece under each method, old under new.
fn pictures(round: &Round<'_>) -> Result<Block, PrintError> {
    let only = [round.pinch.piece.as_str()];
    let mut pictures = Vec::new();
    for (method, outcome) in round.weighed {
        let Ok(outcome) = outcome else { continue };
        let mark = if method.name() == round.taken { ", taken" } else { "" };
        let scene = before_after(round.before, &outcome.pattern, &only)?;
        let changed = outcome.pattern.piece(&round.pinch.piece)?;
        pictures.push(Picture {
            part: upper_part(&scene, changed),
            scene,
            caption: format!("{}{mark}", method.name()),
        });
    }
    Ok(Block::Pictures { pictures, height: 40.0 })
}

/// The part of a drawing from the waist to below the crotch point of its piece;
/// none for a piece without that corner.
fn upper_part(scene: &Scene, piece: &Piece) -> Option<Rect> {
    let drawn = scene.bounds()?;
    let crotch = piece.corner(names::CROTCH_POINT).ok()?;
    let depth = piece.bounds().y1 - crotch.y + BELOW_CROTCH;
    Some(Rect::new(drawn.x0, (drawn.y1 - depth).max(drawn.y0), drawn.x1, drawn.y1))
}

/// What the taken method costs round the body: one sentence a place.
fn round_the_body(round: &Round<'_>) -> Block {
    let taken = round.weighed.iter().find(|w| w.0.name() == round.taken);
    let costs = taken.and_then(|w| w.1.as_ref().ok()).map_or(&[][..], |o| &o.costs);
    let words: Vec<String> = costs.iter().map(|c| c.words().in_unit(round.document.unit)).collect();
    Block::Paragraph(words.join(" "))
}

fn measures(round: &Round<'_>) -> Block {
    let taken = round.weighed.iter().find(|w| w.0.name() == round.taken);
    let mut rows = Vec::new();
    if let Some((_, Ok(outcome))) = taken {
        // A page has room for lengths that can be seen, not for areas and angles.
        let seen = |c: &&Compared| c.change().abs() >= SEEN;
        let changed = outcome.changed.iter().filter(seen);
        let lengths = outcome.kept.iter().chain(changed).filter(|c| c.measure.is_length());
        for c in lengths {
            let shown = c.shown(round.document.unit, SEEN);
            let kept = c.change().abs() < SEEN;
            let change = if kept { "kept".to_owned() } else { bare(&shown.change) };
            let of_piece = c.measure.piece() == Some(round.pinch.piece.as_str());
            let measure = if of_piece { c.measure.what() } else { shown.measure };
            rows.push(vec![measure, bare(&shown.before), bare(&shown.after), change]);
        }
    }
    table(
        &[
            ("measure", Align::Left),
            ("before", Align::Right),
            ("after", Align::Right),
            ("change", Align::Right),
        ],
        rows,
    )
}

fn lines(round: &Round<'_>) -> Block {
    let rows = round.readings.iter().filter(|r| r.on_cloth).map(|r| {
        vec![
            r.line.clone(),
            r.join.clone(),
            step(r.step, round.document.unit),
            bend(r, round.document.unit),
        ]
    });
    table(
        &[
            ("line", Align::Left),
            ("at", Align::Left),
            ("meets", Align::Right),
            ("bends", Align::Right),
        ],
        rows.collect(),
    )
}

/// Whether a line meets its other half.
pub(crate) fn step(step: f64, unit: Unit) -> String {
    match step {
        s if s.abs() < STEP_SEEN => "level".to_owned(),
        s if s > 0.0 => format!("{} lower", bare(&show_length(s, unit))),
        s => format!("{} higher", bare(&show_length(-s, unit))),
    }
}

/// How a line bends where it crosses a seam.
pub(crate) fn bend(reading: &SeamReading, unit: Unit) -> String {
    let off = |mm| bare(&show_length(mm, unit));
    match reading.bend() {
        Bend::Straight => "straight".to_owned(),
        Bend::AtHome => "as usual".to_owned(),
        Bend::Dips(mm) => format!("dips {}", off(mm)),
        Bend::Peaks(mm) => format!("peaks {}", off(mm)),
    }
}

fn seams(round: &Round<'_>) -> Block {
    let unit = round.document.unit;
    let walked = |ok: bool, difference: f64| match ok {
        true => "matches".to_owned(),
        false => format!("off by {}", show_difference(difference, unit, SEEN)),
    };
    let mut rows: Vec<Vec<String>> = round
        .walked
        .iter()
        .map(|w| {
            vec![
                w.join.clone(),
                bare(&show_length(w.first, unit)),
                bare(&show_length(w.second, unit)),
                match w.is_mirror && w.is_true() {
                    true => "ends meet".to_owned(),
                    false => walked(w.is_true(), w.difference),
                },
            ]
        })
        .collect();
    rows.extend(round.darts.iter().map(|d| {
        vec![
            dart_name(&d.dart, &d.piece),
            bare(&show_length(d.legs.0, unit)),
            bare(&show_length(d.legs.1, unit)),
            walked(d.is_true, d.legs.0 - d.legs.1),
        ]
    }));
    table(
        &[
            ("seam, dart", Align::Left),
            ("one", Align::Right),
            ("other", Align::Right),
            ("walked", Align::Right),
        ],
        rows,
    )
}

/// The dart and its piece, which a dart's own name often says.
fn dart_name(dart: &str, piece: &str) -> String {
    if dart.contains(piece) { dart.to_owned() } else { format!("{dart} of the {piece}") }
}

fn next(round: &Round<'_>) -> String {
    let unit = round.document.unit;
    let taken = round.weighed.iter().find(|w| w.0.name() == round.taken);
    let left: Vec<String> = match taken {
        Some((_, Ok(outcome))) => {
            outcome.residue.iter().map(|r| r.sentence().in_unit(unit) + ".").collect()
        }
        _ => Vec::new(),
    };
    let left = if left.is_empty() {
        "Nothing of the pinch is left in the paper.".to_owned()
    } else {
        left.join(" ")
    };
    format!(
        "{left} Mark the lines on the next toile before lifting the paper, on both layers, and look whether they hang level. Some softness below the seat may stay."
    )
}

pub(crate) fn table(columns: &[(&str, Align)], rows: Vec<Vec<String>>) -> Block {
    let columns = columns
        .iter()
        .map(|(heading, align)| Column { heading: (*heading).to_owned(), align: *align })
        .collect();
    Block::Table(Table { columns, rows })
}
