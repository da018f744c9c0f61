//! The shapes of the drafted block over the survey sample: what no girth tells.

use crate::bodies::bodies;
use hangtrue_geometry::{Affine, Chain, Line, bends_one_way};
use hangtrue_pattern::{Draft, Measure, Measures, Piece, Plan, draft, names};
use std::fmt::Write;

/// A join of an inseam turned less than this is smooth, radians.
const JOIN: f64 = 1e-6;

/// Looks at a curve for its tightest place, in each of its segments.
const LOOKS: u32 = 256;

/// One figure of a draft: its name and how it is measured.
type Figure = (&'static str, fn(&Measures, &Draft) -> f64);

/// What is told of each draft.
const FIGURES: [Figure; 16] = [
    ("least radius of the back crotch curve, mm", |_, d| radius(d, names::BACK)),
    ("least radius of the front crotch curve, mm", |_, d| radius(d, names::FRONT)),
    ("back inseam outside its chord above the knee, mm", |_, d| inseam(d, names::BACK).outside),
    ("front inseam outside its chord above the knee, mm", |_, d| inseam(d, names::FRONT).outside),
    ("back inseam’s hollow, mm", |_, d| inseam(d, names::BACK).hollow),
    ("front inseam’s hollow, mm", |_, d| inseam(d, names::FRONT).hollow),
    ("place of the back hollow, % of the way to the knee", |_, d| inseam(d, names::BACK).place),
    ("place of the front hollow, % of the way to the knee", |_, d| inseam(d, names::FRONT).place),
    ("least radius of the back inseam above the knee, mm", |_, d| turn(d, names::BACK)),
    ("least radius of the front inseam above the knee, mm", |_, d| turn(d, names::FRONT)),
    ("both inseams bend one way to the knee, 1 yes, 0 no", |_, d| one_way(d)),
    ("front waist above its chord, mm", |_, d| hump(d)),
    ("steepest side seam above the hip line, degrees", |_, d| flare(d)),
    ("thigh ease at the crotch point, mm", |m, d| {
        d.report.thigh.drafted - taken(m, Measure::ThighGirth)
    }),
    ("back crotch seam less the back’s part of what was taken, mm", |m, d| split_error(m, d)),
    ("hip as marked less hip as drafted, mm", |_, d| marked(d) - d.report.hip.drafted),
];

/// The table of the figures over the sample, as Markdown.
pub fn table() -> String {
    let plan = Plan::default();
    let drawn: Vec<(Measures, Draft)> = bodies()
        .into_iter()
        .filter_map(|m| {
            let made = draft(&m, &plan).ok()?;
            Some((m, made))
        })
        .collect();
    let mut text = String::from("| | min | median | p95 | max |\n|---|---|---|---|---|\n");
    for (name, of) in FIGURES {
        let mut values: Vec<f64> = drawn.iter().map(|(m, d)| of(m, d)).collect();
        values.sort_by(f64::total_cmp);
        let at = |part: f64| values[((values.len() - 1) as f64 * part).round() as usize];
        let row = [0.0, 0.5, 0.95, 1.0].map(|part| shown(at(part)));
        let _ = writeln!(text, "| {name} | {} |", row.join(" | "));
    }
    let near = |within: f64| {
        let split = |(m, d): &&(Measures, Draft)| split_error(m, d).abs() <= within;
        100.0 * drawn.iter().filter(split).count() as f64 / drawn.len() as f64
    };
    let _ = writeln!(
        text,
        "\nThe back crotch seam within 5 mm of what was taken: {:.1} % of {} bodies.",
        near(5.0),
        drawn.len()
    );
    text
}

/// Rounded, and zero without a sign.
pub(crate) fn shown(value: f64) -> String {
    format!("{:.1}", (value * 10.0).round() / 10.0 + 0.0)
}

/// The page of docs with the table in its place.
///
/// # Errors
/// When the page has lost the marks between which the table stands.
pub fn page(before: &str) -> Result<String, &'static str> {
    let books = crate::handbook::table().map_err(|_| "an example of a book cannot be drafted")?;
    let page = with_between(before, ("<!-- books -->\n", "<!-- end of books -->"), &books)?;
    with_between(&page, ("<!-- figures -->\n", "<!-- end of figures -->"), &table())
}

/// The page with this table between the marks.
pub(crate) fn with_between(
    page: &str,
    marks: (&str, &str),
    table: &str,
) -> Result<String, &'static str> {
    let lost = "the page has lost the marks around a table";
    let (head, rest) = page.split_once(marks.0).ok_or(lost)?;
    let (_, tail) = rest.split_once(marks.1).ok_or(lost)?;
    Ok(format!("{head}{}{table}{}{tail}", marks.0, marks.1))
}

fn taken(measures: &Measures, measure: Measure) -> f64 {
    measures.get_or_derived(measure).unwrap_or(f64::NAN)
}

fn piece<'a>(made: &'a Draft, name: &str) -> Option<&'a Piece> {
    made.pattern.piece(name).ok()
}

fn seam(made: &Draft, name: &str, seam: &str) -> Option<Chain> {
    Some(piece(made, name)?.seam(seam).ok()?.parts.first()?.clone())
}

fn radius(made: &Draft, name: &str) -> f64 {
    seam(made, name, names::CROTCH).map_or(f64::NAN, |s| s.tightest_radius(LOOKS))
}

/// How an inseam runs from the crotch point to the knee, against its chord.
struct Inseam {
    /// Farthest outside the chord, mm.
    outside: f64,
    /// Farthest inside, mm.
    hollow: f64,
    /// Where it is farthest inside, percent of the way to the knee.
    place: f64,
}

fn inseam(made: &Draft, name: &str) -> Inseam {
    let none = Inseam { outside: f64::NAN, hollow: f64::NAN, place: f64::NAN };
    let measured = || {
        let laid = on_chord(&thigh_seam(made, name)?, piece(made, name)?.orientation());
        let bounds = laid.bounds();
        // The deepest place lies midway between the two places a hair above it.
        const HAIR: f64 = 1e-3;
        let level = bounds.y1 - HAIR;
        let near = laid.crossings_with_line(Line::new((0.0, level), (1.0, level)));
        let (first, last) = (near.first()?.here, near.last()?.here);
        let place = 50.0 * (first + last) / laid.length();
        Some(Inseam { outside: -bounds.y0, hollow: bounds.y1, place })
    };
    measured().unwrap_or(none)
}

/// The inseam between the crotch point and the knee.
fn thigh_seam(made: &Draft, name: &str) -> Option<Chain> {
    let piece = piece(made, name)?;
    let knee = piece.notches.iter().find(|n| n.name == "knee" && n.seam == names::INSEAM)?;
    seam(made, name, names::INSEAM)?.part(0.0, knee.distance).ok()
}

/// The least radius of the inseam above the knee: small where it looks like a corner.
fn turn(made: &Draft, name: &str) -> f64 {
    thigh_seam(made, name).map_or(f64::NAN, |s| s.tightest_radius(LOOKS))
}

/// Whether both inseams bend one way between the crotch point and the knee.
fn one_way(made: &Draft) -> f64 {
    let bends = |name| Some(bends_one_way(&thigh_seam(made, name)?, JOIN));
    f64::from(u8::from([names::BACK, names::FRONT].into_iter().all(|n| bends(n) == Some(true))))
}

/// The chain turned so that its chord lies along x and the inside of its piece
/// above it.
fn on_chord(chain: &Chain, orientation: f64) -> Chain {
    let chord = chain.end() - chain.start();
    let turn = Affine::rotate(-chord.atan2()) * Affine::translate(-chain.start().to_vec2());
    let up = Affine::scale_non_uniform(1.0, orientation.signum());
    chain.moved(up * turn)
}

/// The highest the front waist lies above the straight between its ends.
fn hump(made: &Draft) -> f64 {
    let highest = || {
        let piece = piece(made, names::FRONT)?;
        let waist = piece.seam(names::WAIST).ok()?;
        let sewn = waist.sewn_parts();
        let (start, end) = (sewn.first()?.start(), sewn.last()?.end());
        let turn = Affine::rotate(-(end - start).atan2()) * Affine::translate(-start.to_vec2());
        let up = Affine::scale_non_uniform(1.0, -piece.orientation().signum());
        Some(sewn.iter().map(|p| p.moved(up * turn).bounds().y1).fold(0.0, f64::max))
    };
    highest().unwrap_or(f64::NAN)
}

/// How far the side seam leans from the upright above the hip line, degrees.
fn flare(made: &Draft) -> f64 {
    [names::BACK, names::FRONT]
        .into_iter()
        .map(|name| {
            let steepest = || {
                let piece = piece(made, name)?;
                let hip = piece.notches.iter().find(|n| n.name == "hip")?;
                let side = seam(made, name, names::SIDE)?;
                let seat = side.part(side.length() - hip.distance, side.length()).ok()?;
                let places = (0..=64).map(|i| f64::from(i) / 64.0 * seat.length());
                let slant = |at: f64| {
                    let direction = seat.direction_at(at);
                    direction.x.abs().atan2(direction.y).to_degrees()
                };
                Some(places.map(slant).fold(0.0, f64::max))
            };
            steepest().unwrap_or(f64::NAN)
        })
        .fold(0.0, f64::max)
}

fn split_error(measures: &Measures, made: &Draft) -> f64 {
    let Some(back) = measures.get(Measure::CrotchLengthBack) else { return 0.0 };
    let share = back / taken(measures, Measure::CrotchLength);
    made.report.back.crotch - share * made.report.crotch.target
}

/// Hip girth along the lines that run level through the hip notches, as a maker
/// marks it.
fn marked(made: &Draft) -> f64 {
    let width = |name| {
        let piece = piece(made, name)?;
        let notch = piece.notches.iter().find(|n| n.name == "hip" && n.seam == names::SIDE)?;
        let y = piece.seam(names::SIDE).ok()?.place(notch.from, notch.distance).point.y;
        piece.width_along(Line::new((0.0, y), (1.0, y)))
    };
    let both = width(names::BACK).zip(width(names::FRONT));
    both.map_or(f64::NAN, |(back, front)| 2.0 * (back + front))
}
