//! The survey sample as measures. Source: see `tests/data/README.md`.

use hangtrue_pattern::{Measure, Measures};
use std::path::Path;

/// Column of the survey and the measure it stands for. The survey's lower thigh
/// girth stands in for the knee girth: it is taken just above the kneecap.
const COLUMNS: [(&str, Measure); 13] = [
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
    ("heelanklecircumference", Measure::HeelGirth),
];

/// Every body of the sample: its number and its measures.
pub fn bodies() -> Vec<(String, Measures)> {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/ansur2_trousers_dev.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let headers = reader.headers().unwrap().clone();
    let index = |name: &str| headers.iter().position(|h| h == name).unwrap();
    let columns = COLUMNS.map(|(name, measure)| (index(name), measure));
    let number = index("body");
    let body = |row: csv::StringRecord| {
        let values = columns.iter().map(|&(i, m)| (m, row[i].parse::<f64>().unwrap()));
        (row[number].to_owned(), values.collect())
    };
    reader.records().map(|r| body(r.unwrap())).collect()
}
