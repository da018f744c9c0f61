//! The bodies of `tests/data/ansur2_trousers_dev.csv` (ANSUR II, NATICK/TR-15/007).
#![allow(dead_code, clippy::unwrap_used)]

use hangtrue_drape::body::Breadths;
use hangtrue_pattern::{Measure, Measures};

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

/// Number, measures, breadths and depths.
pub fn survey() -> Vec<(String, Measures, Breadths)> {
    let text = include_str!("../../../../tests/data/ansur2_trousers_dev.csv");
    let mut lines = text.lines();
    let header: Vec<&str> = lines.next().unwrap().split(',').collect();
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let get = |name: &str| {
                let at = header.iter().position(|h| *h == name).unwrap();
                cells[at].parse::<f64>().ok()
            };
            let measures = COLUMNS.iter().filter_map(|(n, m)| Some((*m, get(n)?))).collect();
            let breadths = Breadths {
                waist_breadth: get("waistbreadth"),
                waist_depth: get("waistdepth"),
                hip_breadth: get("hipbreadth"),
                hip_depth: get("buttockdepth"),
            };
            (cells[0].to_owned(), measures, breadths)
        })
        .collect()
}
