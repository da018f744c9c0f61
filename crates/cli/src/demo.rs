//! A whole round on an invented client, with everything written into a folder.

use crate::failure::Failure;
use crate::output;
use crate::project::check_outputs;
use crate::verbs::weigh_rows;
use hangtrue_adjust::{
    Change, CloseRound, Document, Method, PinchChange, Replay, fold_darts, left_to_true, propose,
    read_as_sewn, walk_all,
};
use hangtrue_files::demo::{self, DATE, PINNED, UNIT};
use hangtrue_files::print::{DrawOptions, Paper, TileOptions, print_pattern, report_pdf};
use hangtrue_files::project;
use hangtrue_files::round_report::{Round, Weighed, round_report};
use hangtrue_files::save::{Over, write_output};
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{show_fine, show_length};
use hangtrue_pattern::words::InUnit;
use std::path::Path;
use std::time::Instant;

/// The project's file in the folder.
const PROJECT: &str = "maren.hangtrue.ron";

/// What the demo writes, in the order it is to be looked at.
const FILES: [(&str, &str); 5] = [
    ("report.pdf", "start here: one page, old under new for each method"),
    ("before.pdf", "the block on A4 sheets at true scale"),
    ("after.pdf", "the changed pattern, the old one thin underneath"),
    (PROJECT, "the project; open it, or read it: hangtrue list"),
    ("walk.json", "the walked seams for another program"),
];

pub fn run(out: &Path, over: Over) -> Result<(), Failure> {
    // Nothing is written when one of the files may not be. The project is asked
    // first: where it lies already no `--replace` helps, another folder does.
    let project = out.join(PROJECT);
    if project.exists() {
        return Err(Failure::Asked(format!(
            "the demo was written to “{}” before, and its project may hold work by now; name another folder",
            out.display()
        )));
    }
    let files = FILES.map(|(file, _)| out.join(file));
    check_outputs(&files.each_ref().map(Some), &[], over)?;
    let begun = Instant::now();
    std::fs::create_dir_all(out)
        .map_err(|source| Failure::NoFolder { path: out.to_owned(), source })?;
    let mut document = document()?;
    let mut replay = Replay::new(document.clone());

    step(1, "Draft the block from Maren Oleander's measures (an invented client)")?;
    replay.start()?;
    if let Some(r) = replay.draft_report() {
        for (name, s) in [("crotch seam", r.crotch), ("waist", r.waist), ("hip", r.hip)] {
            say(&format!(
                "{name:<12} asked {:>12}   drawn {:>12}   off by {}",
                show_length(s.target, UNIT),
                show_length(s.drafted, UNIT),
                show_fine(s.error().abs(), UNIT)
            ))?;
        }
    }

    step(2, "Mark the lines: hip balance, thigh and knee to the cloth, hip on the paper")?;
    mark(&mut document, &mut replay)?;

    step(3, "Read them as sewn")?;
    let before = replay.current()?.clone();
    for reading in read_as_sewn(&before)?.iter().filter(|r| r.on_cloth) {
        say(&reading.words().in_unit(UNIT))?;
    }
    demo::close_first(&mut document);

    step(
        4,
        &format!(
            "The thigh line droops mid-back: {} is pinned there, nothing at the seams",
            show_length(PINNED, UNIT)
        ),
    )?;
    say("Pins: safety pins when she sits, points away from the body.")?;
    let pinch = demo::pinch();
    let laid = pinch.lay(&before)?;
    for p in propose(&before, &pinch.piece, &laid)? {
        let consequence = p.consequence.in_unit(UNIT);
        say(&format!(
            "slash and lap, {}: laps {}; {consequence}",
            p.words,
            show_length(p.lap, UNIT)
        ))?;
    }

    step(5, "Compare the three methods")?;
    let weighed: Vec<Weighed> = Method::all(UNIT)
        .into_iter()
        .map(|method| {
            let change = PinchChange { pinch: pinch.clone(), method: method.clone() };
            (method, Change::Pinch(change).apply_for(&before, document.body()))
        })
        .collect();
    for (method, outcome) in &weighed {
        output::line(&format!("    {}", method.name()))?;
        for row in weigh_rows(outcome, UNIT) {
            output::line(&format!("    {row}"))?;
        }
    }

    step(6, "Accept top and scoop, and true what does not match")?;
    let [taken, ..] = Method::all(UNIT);
    let name = taken.name();
    document.push("seat pinch", Change::Pinch(PinchChange { pinch: pinch.clone(), method: taken }));
    replay.update(document.clone());
    if let Some((_, _, why)) = replay.failures().next() {
        return Err(why.clone().into());
    }
    let trued = true_all(&mut document, &mut replay)?;
    say(&format!("{trued} places had to be trued"))?;

    step(7, "Walk all seams")?;
    let note = "centre back lowered, crotch scooped".into();
    document.push("second toile", Change::CloseRound(CloseRound { date: DATE.into(), note }));
    replay.update(document.clone());
    let after = replay.current()?.clone();
    let (walked, darts) = (walk_all(&after)?, fold_darts(&after));
    for w in &walked {
        say(&format!(
            "{:<12} {:>12} with {:>12}  {}",
            w.join,
            show_length(w.first, UNIT),
            show_length(w.second, UNIT),
            if w.is_true() { "matches" } else { "IS OFF" }
        ))?;
    }

    step(8, "Print before and after, and the report")?;
    let label = |version: &str| vec![document.client.clone(), format!("{version}, {DATE}")];
    let first = DrawOptions { unit: UNIT, label: label("first toile"), ..DrawOptions::default() };
    let second = DrawOptions {
        unit: UNIT,
        label: label("second toile"),
        old: Some((&*before, "first toile".into())),
        ..DrawOptions::default()
    };
    let options = TileOptions::default();
    let sheets = |pattern: &Pattern, draw: &DrawOptions<'_>| {
        print_pattern(pattern, draw, Paper::A4, &options, &document.title)
    };
    let (printed_before, printed_after) = (sheets(&before, &first)?, sheets(&after, &second)?);
    let readings = read_as_sewn(&after)?;
    let report = round_report(&Round {
        document: &document,
        before: &before,
        after: &after,
        pinch: &pinch,
        weighed: &weighed,
        taken: name,
        readings: &readings,
        walked: &walked,
        darts: &darts,
        date: DATE,
    })?;
    let walk = serde_json::to_string_pretty(&serde_json::json!({"seams": walked, "darts": darts}))?;
    let [report_file, before_file, after_file, project_file, walk_file] = files;
    write_output(&report_file, &report_pdf(&report)?, over)?;
    write_output(&before_file, &printed_before.pdf, over)?;
    write_output(&after_file, &printed_after.pdf, over)?;
    project::save_new_over(&project_file, &document, over)?;
    write_output(&walk_file, walk.as_bytes(), over)?;

    output::line(&format!(
        "\nDone in {:.2} s. In {}:",
        begun.elapsed().as_secs_f64(),
        out.display()
    ))?;
    for (file, words) in FILES {
        say(&format!("{file:<20} {words}"))?;
    }
    say(&format!(
        "({} and {} sheets. Measure the test squares on the first page before cutting.)",
        printed_before.pages, printed_after.pages
    ))
}

/// The demo's project with nothing done yet.
fn document() -> Result<Document, Failure> {
    demo::bare().map_err(|e| Failure::NotAFile {
        path: "assets/demo/measures.ron".into(),
        kind: "file of measures",
        why: e.to_string(),
        like: "this is a fault of the program",
    })
}

fn mark(document: &mut Document, replay: &mut Replay) -> Result<(), Failure> {
    demo::mark(document, replay.current()?);
    replay.update(document.clone());
    for line in &replay.current()?.lines {
        say(&format!("{:<13} {:<6} {}", line.name, line.piece, line.rule.sentence(UNIT)))?;
    }
    Ok(())
}

fn true_all(document: &mut Document, replay: &mut Replay) -> Result<usize, Failure> {
    let mut count = 0;
    let (lengths, _) = left_to_true(replay.current()?)?;
    for change in lengths.into_iter().map(Change::TrueLength) {
        document.push(&change.words(UNIT), change);
        count += 1;
    }
    replay.update(document.clone());
    let (_, corners) = left_to_true(replay.current()?)?;
    for change in corners.into_iter().map(Change::TrueCorner) {
        document.push(&change.words(UNIT), change);
        count += 1;
    }
    replay.update(document.clone());
    Ok(count)
}

fn step(number: usize, what: &str) -> Result<(), Failure> {
    output::line(&format!("\n{number}  {what}"))
}

fn say(what: &str) -> Result<(), Failure> {
    output::line(&format!("     {what}"))
}
