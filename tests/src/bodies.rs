//! The bodies of the survey sample, and random trousers for them.

use hangtrue_adjust::{Change, Document, MarkLine, Replay, UsualDepths, usual_lines};
use hangtrue_pattern::{Measure, Measures, Pattern, Plan, draft};

/// The columns of `tests/data/ansur2_trousers_dev.csv` (ANSUR II public release,
/// technical report NATICK/TR-15/007) and the measures they are.
const COLUMNS: [(&str, Measure); 15] = [
    ("stature", Measure::Stature),
    ("waistcircumference", Measure::WaistGirth),
    ("buttockcircumference", Measure::HipGirth),
    ("waistheightomphalion", Measure::WaistHeight),
    ("buttockheight", Measure::HipHeight),
    ("crotchheight", Measure::InsideLegHeight),
    ("crotchlengthomphalion", Measure::CrotchLength),
    ("crotchlengthposterioromphalion", Measure::CrotchLengthBack),
    ("thighcircumference", Measure::ThighGirth),
    ("lowerthighcircumference", Measure::KneeGirth),
    ("kneeheightmidpatella", Measure::KneeHeight),
    ("calfcircumference", Measure::CalfGirth),
    ("anklecircumference", Measure::AnkleGirth),
    ("heelanklecircumference", Measure::HeelGirth),
    ("lateralmalleolusheight", Measure::AnkleHeight),
];

/// The 1,517 bodies of the sample in order: running number and measures.
pub fn named_bodies() -> Vec<(String, Measures)> {
    bodies_with([]).into_iter().map(|(number, measures, [])| (number, measures)).collect()
}

/// The same with what stands in other columns of the sample, mm; none where it is no
/// number or there is no such column.
pub fn bodies_with<const N: usize>(
    columns: [&str; N],
) -> Vec<(String, Measures, [Option<f64>; N])> {
    let text = include_str!("../data/ansur2_trousers_dev.csv");
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let column = |name: &str| header.iter().position(|h| *h == name);
    let places: Vec<(usize, Measure)> =
        COLUMNS.iter().filter_map(|(name, m)| column(name).map(|c| (c, *m))).collect();
    let others = columns.map(column);
    let number = column("body").unwrap_or(0);
    let read = |line: &str| {
        let cells: Vec<&str> = line.split(',').collect();
        let cell = |c: usize| cells.get(c)?.parse().ok();
        let value = |&(c, m): &(usize, Measure)| Some((m, cell(c)?));
        let measures = places.iter().filter_map(value).collect();
        (cells[number].to_owned(), measures, others.map(|c| cell(c?)))
    };
    lines.map(read).collect()
}

/// The measures of the 1,517 bodies, in order.
pub fn bodies() -> Vec<Measures> {
    named_bodies().into_iter().map(|b| b.1).collect()
}

/// The block of a body with the usual lines marked; none when it is refused.
pub fn marked_block(measures: &Measures, plan: &Plan) -> Option<Pattern> {
    let mut pattern = draft(measures, plan).ok()?.pattern;
    for line in usual_lines(&pattern, UsualDepths::default()).ok()? {
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern).ok()?.pattern;
    }
    Some(pattern)
}

/// The blocks of ten bodies spread over the sample, drafted from the measures that are
/// needed alone, with the usual lines; their hips made larger by so many mm.
pub fn ten_blocks(larger: f64) -> Vec<Pattern> {
    let needed = |body: &Measures| -> Measures {
        let more = |m| if m == Measure::HipGirth { larger } else { 0.0 };
        let taken = |m| body.get(m).map(|value| (m, value + more(m)));
        Measure::REQUIRED.into_iter().filter_map(taken).collect()
    };
    let some = bodies().into_iter().step_by(160).take(10);
    some.filter_map(|body| marked_block(&needed(&body), &Plan::default())).collect()
}

/// A project of the first body with the usual lines marked.
pub fn project() -> Document {
    let measures = bodies().swap_remove(0);
    let mut document = Document::from_measures(
        "bench",
        "a body of the survey",
        Default::default(),
        measures,
        Plan::default(),
    );
    let replay = Replay::new(document.clone());
    if let Ok(pattern) = replay.current() {
        for line in usual_lines(pattern, UsualDepths::default()).unwrap_or_default() {
            document.push(&line.name.clone(), Change::MarkLine(MarkLine { line }));
        }
    }
    document
}
