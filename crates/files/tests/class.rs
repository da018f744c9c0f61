//! A class over a list with broken rows: what is wrong with one hurts no other, and the
//! sheets that are told are the pages that PDFium finds.

// Helpers of the tests stop at the first fault.
#![allow(clippy::unwrap_used, clippy::panic)]

use crate::common::python::{out_folder, python, run};
use hangtrue_adjust::{AllowanceSet, CuttingPlan};
use hangtrue_files::class::{ClassError, ClassList, ClassWork, blank_list, run_class};
use hangtrue_files::print::{Paper, Reduced, TileOptions};
use hangtrue_files::save::Over;
use hangtrue_files::{class::ClassDone, project};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Measure, Plan};
use std::path::{Path, PathBuf};
use std::process::Command;

/// Invented pupils: three can be drafted, the others not, each for another reason.
const LIST: &str = "\u{feff}Name;Waist girth (cm);hip_girth (cm);Waist height [cm];inside leg height (cm);total crotch length (cm);seated rise (cm);shoe\n\
Anna K.;76;100;104;78;70;26,5;39\n\
Ben;81,5;101;106;80;72;;44\n\
;;;;;;;\n\
Cem;wide;101;106;80;72;;42\n\
Dora;76;;104;78;70;;38\n\
Emil;76;100;104;110;70;;41\n\
Anna K.;30 1/4 in;40 in;41 in;31 in;28 in;;40\n";

fn work(reduced: Option<Reduced>) -> ClassWork {
    ClassWork {
        plan: Plan::default(),
        unit: Unit::Cm,
        cutting: CuttingPlan { set: Some(AllowanceSet::Finished), ..CuttingPlan::default() },
        paper: Paper::A4,
        tiles: TileOptions::default(),
        reduced,
        title: "Trousers".into(),
        today: "2026-11-28".into(),
        projects: true,
        over: Over::Never,
    }
}

fn folder(name: &str) -> PathBuf {
    let folder = out_folder("class").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

fn list() -> ClassList {
    ClassList::read(LIST.as_bytes(), None, Unit::Mm).unwrap()
}

fn pages(pdf: &Path) -> usize {
    let script = hangtrue_tests::workspace_root().join("crates/files/tests/print_objects.py");
    let said = run(Command::new(python()).arg(script).arg(pdf));
    serde_json::from_str::<Vec<serde_json::Value>>(&said).unwrap().len()
}

fn made(done: &ClassDone) -> Vec<Option<usize>> {
    done.pupils.iter().map(|p| p.made.as_ref().ok().map(|m| m.sheets)).collect()
}

#[test]
fn broken_rows_hurt_no_other_and_the_sheets_told_are_the_pages() {
    for (reduced, name) in [(None, "full"), (Some(Reduced::Quarter), "quarter")] {
        let folder = folder(name);
        let mut told = Vec::new();
        let mut heard = |pupil: &hangtrue_files::class::Pupil, done: usize, of: usize| {
            told.push((pupil.name.clone(), done, of));
            true
        };
        let done = run_class(list(), &work(reduced), &folder, &mut heard).unwrap();
        assert_eq!(told.len(), 6, "the empty line is nobody: {told:?}");
        assert_eq!(told[5], ("Anna K.".to_owned(), 6, 6));
        let which: Vec<bool> = made(&done).iter().map(Option::is_some).collect();
        assert_eq!(which, [true, true, false, false, false, true], "{:?}", done.pupils);
        let why = |index: usize| done.pupils[index].made.clone().unwrap_err();
        assert!(why(2).contains("“wide” is not a length"), "{}", why(2));
        assert!(why(3).contains("hip girth"), "{}", why(3));
        assert!(why(4).contains("inside leg height"), "{}", why(4));
        let mut all = 0;
        for pupil in &done.pupils {
            let Ok(made) = &pupil.made else { continue };
            assert_eq!(pages(&made.pdf), made.sheets, "{}", pupil.name);
            all += made.sheets;
            let document = project::load(made.project.as_ref().unwrap()).unwrap();
            assert_eq!(document.client, pupil.name);
        }
        println!("{name}: {:?}, {}", made(&done), done.told());
        assert_eq!(done.tally(), (3, all));
        assert!(done.told().contains(&format!("3 of 6 pupils printed, 3 refused: {all} sheets")));
        // A decimal comma, a unit in the cell, one behind the name of the column.
        let first = project::load(&folder.join("01 Anna K.ron")).unwrap();
        let measures = first.body().unwrap();
        assert_eq!(measures.get(Measure::SeatedRise), Some(265.0));
        assert_eq!(measures.get(Measure::WaistGirth), Some(760.0));
        assert!(folder.join("06 Anna K.pdf").is_file(), "two of one name have a file each");
        let table = std::fs::read_to_string(folder.join("class list.csv")).unwrap();
        assert_eq!(table.lines().count(), 7, "{table}");
        assert!(table.contains("5,Cem,refused") && table.contains("2,Anna K.,printed"), "{table}");
        assert!(pages(&folder.join("class list.pdf")) >= 1);
    }
}

#[test]
fn a_class_that_is_stopped_keeps_what_was_made() {
    let folder = folder("stopped");
    let mut heard = |_: &hangtrue_files::class::Pupil, done: usize, _: usize| done < 2;
    let done = run_class(list(), &work(Some(Reduced::Quarter)), &folder, &mut heard).unwrap();
    assert_eq!((done.pupils.len(), done.of, done.tally().0), (2, 6, 2));
    assert!(done.told().contains("4 not come to"), "{}", done.told());
    assert!(folder.join("02 Ben.pdf").is_file() && folder.join("class list.csv").is_file());
    // Nothing is written over a class that was printed, and it is told before the first.
    let mut count = 0;
    let mut heard = |_: &hangtrue_files::class::Pupil, _: usize, _: usize| {
        count += 1;
        true
    };
    let again = run_class(list(), &work(Some(Reduced::Quarter)), &folder, &mut heard);
    assert!(matches!(again, Err(ClassError::Save(_))), "{again:?}");
    assert_eq!(count, 0);
}

#[test]
fn a_list_that_is_none_is_told_with_what_it_lacks() {
    let read = |text: &str| ClassList::read(text.as_bytes(), None, Unit::Cm);
    assert!(matches!(read(""), Err(ClassError::Table(_))));
    let lacks = read("name,waist girth\nAnna,76\n").unwrap_err().to_string();
    assert!(lacks.contains("hip girth") && lacks.contains("name, waist girth"), "{lacks}");
    assert!(matches!(read(&blank_list(Unit::Cm)), Err(ClassError::Nobody)));
    let many = blank_list(Unit::Cm) + &"Anna,76,100,104,78,70\n".repeat(401);
    assert!(matches!(read(&many), Err(ClassError::TooMany { count: 401 })));
    // The empty list asks for every measure.
    let blank = blank_list(Unit::Cm);
    for measure in Measure::ALL {
        assert!(blank.contains(&format!("{} (cm)", measure.name())), "{measure}");
    }
    assert_eq!(read(&(blank + "Anna,76,100,104,78,70\n")).unwrap().len(), 1);
}
