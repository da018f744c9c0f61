//! A table of many bodies, good and bad.

#![allow(clippy::unwrap_used, clippy::panic)]

use hangtrue_files::batch::{
    BatchError, BatchRow, ColumnMap, Status, run_batch, write_csv, write_json_lines,
};
use hangtrue_pattern::Plan;
use std::path::PathBuf;

fn shipped(path: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../..").join(path)
}

fn survey_map() -> ColumnMap {
    ColumnMap::read(&std::fs::read_to_string(shipped("assets/columns/ansur2.ron")).unwrap())
        .unwrap()
}

fn rows(table: &[u8], map: &ColumnMap) -> Vec<BatchRow> {
    run_batch(table, map, &Plan::default()).unwrap().collect()
}

/// Source of the bodies: `tests/data/README.md`.
fn survey() -> Vec<u8> {
    std::fs::read(shipped("tests/data/ansur2_trousers_dev.csv")).unwrap()
}

#[test]
fn the_shipped_map_drafts_every_row_of_the_survey_sample() {
    let rows = rows(&survey(), &survey_map());
    assert_eq!(rows.len(), 1517);
    for row in &rows {
        assert_eq!(row.status, Status::Ok, "{row:?}");
        let near = |a: Option<f64>, b: Option<f64>| (a.unwrap() - b.unwrap()).abs() < 0.5;
        assert!(near(row.crotch, row.crotch_target), "{row:?}");
        assert!(near(row.waist, row.waist_target), "{row:?}");
        assert!(near(row.hip, row.hip_target), "{row:?}");
        assert!(near(row.inseam_back, row.inseam_front), "{row:?}");
        assert!(near(row.side_back, row.side_front), "{row:?}");
        assert_eq!((row.self_crossing, row.one_way), (Some(false), Some(true)), "{row:?}");
    }
    // The targets are the table's own cells plus the plan's ease: body 0 of the
    // table is 850 round the waist, 1011 round the seat, 557 through the crotch.
    let plan = Plan::default();
    assert_eq!((rows[0].line, rows[0].name.as_str()), (2, "0"));
    assert_eq!(rows[0].waist_target, Some(850.0 + plan.waist_ease));
    assert_eq!(rows[0].hip_target, Some(1011.0 + plan.hip_ease));
    assert_eq!(rows[0].crotch_target, Some(557.0 + plan.crotch_ease));
}

#[test]
fn capitals_more_columns_another_order_and_foreign_bytes_do_not_matter() {
    let survey = survey();
    let mut reader = csv::Reader::from_reader(&survey[..]);
    let header: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    let mut table = b"Rank,".to_vec();
    let shown: Vec<String> = header.iter().rev().map(|h| h.to_uppercase()).collect();
    table.extend(shown.join(",").replace("BODY", "SubjectId").bytes());
    for record in reader.records().take(5) {
        table.extend(b"\nCaf\xe9,");
        let cells: Vec<String> = record.unwrap().iter().rev().map(str::to_owned).collect();
        table.extend(cells.join(",").bytes());
    }
    let strip = |mut row: BatchRow| {
        row.seconds = 0.0;
        row
    };
    let turned: Vec<BatchRow> = rows(&table, &survey_map()).into_iter().map(strip).collect();
    let plain: Vec<BatchRow> =
        rows(&survey, &survey_map()).into_iter().take(5).map(strip).collect();
    assert_eq!(turned, plain);
}

const SMALL_MAP: &str = r#"(
    name: ["client"],
    unit: Cm,
    units: {"leg": Mm},
    measures: {
        waist_girth: Column("waist"),
        hip_girth: Column("hip"),
        waist_height: Sum("leg", "rise"),
        inside_leg_height: Column("leg"),
        crotch_length: Column("crotch"),
        heel_girth: Constant(330),
        thigh_girth: Column("thigh"),
    },
)"#;

/// Invented clients.
const SMALL_TABLE: &str = "client,waist,hip,leg,rise,crotch
Ada,72,98,800,21,62
Bo,,98,800,21,62
Cy,72,wide,800,21,62
Di,72,98,800,21,30
Ed,\"28 1/2 in\",98,800,21,62
Fay,720,98,800,21,62
Gus,72,NaN,800,21,62
Hal,72
Ivo,72,98,800,21,62
";

#[test]
fn bad_rows_are_refused_by_name_and_the_batch_goes_on() {
    let rows = rows(SMALL_TABLE.as_bytes(), &ColumnMap::read(SMALL_MAP).unwrap());
    let seen: Vec<_> = rows.iter().map(|r| (r.name.as_str(), r.kind, r.measure)).collect();
    assert_eq!(
        seen,
        [
            ("Ada", None, None),
            ("Bo", Some("missing"), Some("waist_girth")),
            ("Cy", Some("cell"), Some("hip_girth")),
            ("Di", Some("contradiction"), Some("crotch_length")),
            ("Ed", None, None),
            ("Fay", Some("out_of_range"), Some("waist_girth")),
            ("Gus", Some("cell"), Some("hip_girth")),
            ("Hal", Some("missing"), Some("hip_girth")),
            ("Ivo", None, None),
        ]
    );
    assert_eq!(rows[4].waist_target, Some(28.5 * 25.4 + Plan::default().waist_ease));
    assert!(rows[2].reason.as_ref().unwrap().contains("wide"));
    assert_eq!(rows[3].line, 5);
}

#[test]
fn results_are_one_line_a_row_in_csv_and_in_json() {
    let map = ColumnMap::read(SMALL_MAP).unwrap();
    let rows = rows(SMALL_TABLE.as_bytes(), &map);
    let (mut table, mut lines) = (Vec::new(), Vec::new());
    assert_eq!(write_csv(rows.clone(), &mut table).unwrap(), (3, 6));
    assert_eq!(write_json_lines(rows.clone(), &mut lines).unwrap(), (3, 6));
    let mut reader = csv::Reader::from_reader(&table[..]);
    let crotch = reader.headers().unwrap().iter().position(|h| h == "crotch").unwrap();
    let read: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let objects: Vec<serde_json::Value> = String::from_utf8(lines)
        .unwrap()
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    assert_eq!((read.len(), objects.len()), (9, 9));
    for ((record, object), row) in read.iter().zip(&objects).zip(&rows) {
        assert_eq!(record[crotch].parse::<f64>().ok(), row.crotch);
        assert_eq!(object["crotch"].as_f64(), row.crotch);
        assert_eq!(object["measure"].as_str(), row.measure);
    }
}

#[test]
fn a_map_that_does_not_fit_the_table_says_which_column() {
    let plan = Plan::default();
    let map = ColumnMap::read(SMALL_MAP).unwrap();
    let refused = run_batch(&b"client,waist,leg,rise,crotch\n"[..], &map, &plan);
    let Err(BatchError::NoColumn { column, measure, .. }) = refused else { panic!("not refused") };
    assert_eq!((column.as_str(), measure.key()), ("hip", "hip_girth"));
    assert!(matches!(ColumnMap::read("(measures: {"), Err(BatchError::Map(_))));
    let bare = ColumnMap::read(r#"(measures: {hip_girth: Column("hip")})"#).unwrap();
    let refused = run_batch(&b"hip\n"[..], &bare, &plan);
    assert!(matches!(refused, Err(BatchError::NotMapped { .. })));
}
