//! Worked examples of published books drafted with our block, and what the two say of the
//! same trousers.
//!
//! *Hertzer*: G. F. Hertzer, Garment Cutting in the Twentieth Century (1892), the articles
//! “Pants”, “General Remarks about Pants” and the description of Dia. XXVI. *Vincent*:
//! W. D. F. Vincent, Vincent's Systems of Cutting all kinds of Tailor-made Garments, the page
//! “Measures for trousers” (leaf 12 of the stored scan). Both read in stored copies; facts and
//! figures only.

use crate::bodies::bodies;
use hangtrue_pattern::units::INCH;
use hangtrue_pattern::{Draft, DraftError, Measure, Measures, Plan, draft};
use std::fmt::Write;

/// Trousers as a book gives them, inches.
#[derive(Debug, Clone, Copy)]
pub struct Example {
    /// The book and the place in it.
    pub place: &'static str,
    /// Seat, taken close.
    pub seat: f64,
    /// Waist of the body.
    pub waist: f64,
    /// Waist of the trousers.
    pub made_up: f64,
    /// Round a leg at the knee and at the bottom; none where the book says nothing.
    pub leg: Option<(f64, f64)>,
    /// Inside leg to the floor; 32 in where the book says nothing.
    pub inside_leg: f64,
    /// From the top of the trousers down to the fork.
    pub rise: f64,
}

/// Hertzer's scale: half the seat and 2 1/2 in, divided into twenty numbers (“Pants”).
fn number(seat: f64) -> f64 {
    (0.5 * seat + 2.5) / 20.0
}

/// Hertzer's top lies ten numbers above the fork (“Pants”).
const fn hertzer(
    place: &'static str,
    seat: f64,
    waist: (f64, f64),
    leg: Option<(f64, f64)>,
) -> Example {
    let rise = 10.0 * (0.5 * seat + 2.5) / 20.0;
    Example { place, seat, waist: waist.0, made_up: waist.1, leg, inside_leg: 32.0, rise }
}

/// The examples.
pub const EXAMPLES: [Example; 5] = [
    hertzer("Hertzer, Dia. XIX", 38.0, (33.0, 34.5), Some((19.5, 18.0))),
    hertzer("Hertzer, Dia. XX", 46.0, (47.0, 50.0), Some((22.5, 20.5))),
    hertzer("Hertzer, Dia. XXI", 39.0, (36.0, 37.0), None),
    hertzer("Hertzer, Dia. XXVI", 35.0, (33.0, 33.0), Some((17.0, 17.0))),
    // Side 44, leg 32: the top lies 12 in above the fork.
    Example {
        place: "Vincent, measures",
        seat: 36.0,
        waist: 30.0,
        made_up: 30.0,
        leg: Some((18.0, 17.0)),
        inside_leg: 32.0,
        rise: 12.0,
    },
];

/// The crotch length over waist, hip and rise (waist height less inside leg height), by least
/// squares over the survey: no book takes it.
struct CrotchLength([f64; 4]);

impl CrotchLength {
    fn over_the_survey() -> Self {
        let mut rows = Vec::new();
        for body in bodies() {
            let get = |m| body.get(m);
            let taken = (|| {
                let rise = get(Measure::WaistHeight)? - get(Measure::InsideLegHeight)?;
                let x = [1.0, get(Measure::WaistGirth)?, get(Measure::HipGirth)?, rise];
                Some((x, get(Measure::CrotchLength)?))
            })();
            rows.extend(taken);
        }
        // The normal equations, by elimination.
        let mut m = [[0.0; 5]; 4];
        for (x, y) in &rows {
            for i in 0..4 {
                for j in 0..4 {
                    m[i][j] += x[i] * x[j];
                }
                m[i][4] += x[i] * y;
            }
        }
        for i in 0..4 {
            let row = m[i].map(|v| v / m[i][i]);
            m[i] = row;
            for (j, other) in m.iter_mut().enumerate() {
                if j != i {
                    let by = other[i];
                    for (o, r) in other.iter_mut().zip(row) {
                        *o -= by * r;
                    }
                }
            }
        }
        Self(m.map(|row| row[4]))
    }

    fn of(&self, waist: f64, hip: f64, rise: f64) -> f64 {
        let [a, b, c, d] = self.0;
        a + b * waist + c * hip + d * rise
    }
}

/// The books' trousers drafted with our block: their waist, knee and bottom chosen, the rest
/// as usual.
///
/// # Errors
/// [`DraftError`] when one cannot be drafted.
pub fn drafted() -> Result<Vec<(Example, Draft)>, DraftError> {
    let crotch = CrotchLength::over_the_survey();
    EXAMPLES.into_iter().map(|e| Ok((e, draft_one(&e, &crotch)?))).collect()
}

fn draft_one(e: &Example, crotch: &CrotchLength) -> Result<Draft, DraftError> {
    let mut plan = Plan { waist_ease: (e.made_up - e.waist) * INCH, ..Plan::default() };
    if let Some((knee, bottom)) = e.leg {
        plan.knee_width = Some(knee * INCH);
        plan.hem_width = Some(bottom * INCH);
    }
    // The books' rise is the trousers': ours hang lower than the body by the rise ease.
    let rise = e.rise * INCH - plan.rise_ease;
    let inside = e.inside_leg * INCH;
    let (waist, hip) = (e.waist * INCH, e.seat * INCH);
    let body: Measures = [
        (Measure::WaistGirth, waist),
        (Measure::HipGirth, hip),
        (Measure::InsideLegHeight, inside),
        (Measure::WaistHeight, inside + rise),
        (Measure::CrotchLength, crotch.of(waist, hip, rise)),
    ]
    .into_iter()
    .collect();
    draft(&body, &plan)
}

/// What one example and our block of it say, inches and degrees: book first.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Waist of the trousers.
    pub waist: (f64, f64),
    /// Round a leg at the knee.
    pub knee: Option<(f64, f64)>,
    /// Round a leg at the bottom.
    pub bottom: Option<(f64, f64)>,
    /// The seat line above the fork: Hertzer's 3 1/4 numbers, our hip line.
    pub seat_line: (f64, f64),
    /// Lean of the centre back: Hertzer's 15° from his base line, ours from the crease.
    pub slope: (f64, f64),
    /// Our darts of each back; Hertzer's are 1 to 1 1/2 in.
    pub darts: f64,
    /// How far knee and bottom of the front lie to one side of the crease.
    pub beside_crease: f64,
}

/// The comparison of one example.
pub fn row(e: &Example, made: &Draft) -> Row {
    let r = &made.report;
    let inch = |mm: f64| mm / INCH;
    Row {
        waist: (e.made_up, inch(r.waist.drafted)),
        knee: e.leg.map(|leg| (leg.0, inch(r.knee.drafted))),
        bottom: e.leg.map(|leg| (leg.1, inch(r.hem.drafted))),
        seat_line: (3.25 * number(e.seat), inch(r.hip_level)),
        slope: (15.0, r.back.centre_lean),
        // A sum of nothing is a minus nought.
        darts: inch(r.back.darts.iter().sum::<f64>() + 0.0),
        beside_crease: inch(beside_crease(made)),
    }
}

/// The middle of the hem less the crease, the farther of both pieces, mm.
fn beside_crease(made: &Draft) -> f64 {
    let off = |piece: &hangtrue_pattern::Piece| {
        use hangtrue_pattern::names::{HEM_INSEAM, HEM_SIDE};
        let corners = piece.corner(HEM_INSEAM).ok().zip(piece.corner(HEM_SIDE).ok());
        corners
            .map_or(f64::NAN, |(a, b)| (a.midpoint(b) - piece.grain.from).dot(piece.grain.square()))
    };
    made.pattern.pieces.iter().map(|p| off(p).abs()).fold(0.0, f64::max)
}

/// The comparison as a table of Markdown, book / ours in inches.
///
/// # Errors
/// [`DraftError`] when one cannot be drafted.
pub fn table() -> Result<String, DraftError> {
    let mut text = String::from(
        "| trousers | waist, given | knee, given | bottom, given | seat line above fork | back slope | darts of a back |\n|---|---|---|---|---|---|---|\n",
    );
    let pair = |(book, ours): (f64, f64)| format!("{book:.2} / {ours:.2}");
    for (e, made) in drafted()? {
        let r = row(&e, &made);
        let or_none = |p: Option<(f64, f64)>| p.map_or("–".to_owned(), pair);
        let is_hertzer = e.place.starts_with("Hertzer");
        let seat_line =
            if is_hertzer { pair(r.seat_line) } else { format!("– / {:.2}", r.seat_line.1) };
        let slope = if is_hertzer {
            format!("15° / {:.1}°", r.slope.1)
        } else {
            format!("– / {:.1}°", r.slope.1)
        };
        let darts = if is_hertzer {
            format!("1 to 1.5 / {:.2}", r.darts)
        } else {
            format!("– / {:.2}", r.darts)
        };
        let _ = writeln!(
            text,
            "| {} | {} | {} | {} | {seat_line} | {slope} | {darts} |",
            e.place,
            pair(r.waist),
            or_none(r.knee),
            or_none(r.bottom),
        );
    }
    Ok(text)
}
