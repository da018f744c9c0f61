//! Printing at true scale.

use crate::args::PrintArgs;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, refuse_to_write_over};
use hangtrue_files::print::{Allowance, DrawOptions, Paper, TileOptions, print_pattern};
use hangtrue_files::save::write_whole;
use hangtrue_pattern::names;
use std::fs::File;
use std::io::Read;
use std::path::Path;

pub fn run(args: &PrintArgs) -> Result<(), Failure> {
    refuse_to_write_over(&args.out, &[Some(&args.project)])?;
    refuse_other_file(&args.out)?;
    let opened = Opened::open(&args.project)?;
    opened.replay.start()?;
    let pattern = opened.replay.round(&args.of)?;
    let old = match &args.over {
        Some(name) => Some((&**opened.replay.round(name)?, name.clone())),
        None => None,
    };
    let paper = Paper::named(&args.paper).ok_or_else(|| {
        Failure::Asked(format!(
            "“{}” is not a paper; choose A4, A3, A0, Letter, or a roll like “roll 914 mm”",
            args.paper
        ))
    })?;
    let allowance = match &args.allowance {
        None => None,
        Some(text) => {
            let all = Allowance::all_round(opened.length(text)?);
            Some(match &args.hem_allowance {
                Some(hem) => all.with(names::HEM, opened.length(hem)?),
                None => all,
            })
        }
    };
    let document = &opened.document;
    let draw = DrawOptions {
        unit: document.unit,
        allowance,
        label: [document.client.clone(), format!("version: {}", args.of)]
            .into_iter()
            .filter(|l| !l.is_empty())
            .collect(),
        old,
        ..DrawOptions::default()
    };
    let options = TileOptions {
        margin: opened.length(&args.margin)?,
        overlap: opened.length(&args.overlap)?,
    };
    let printed = print_pattern(pattern, &draw, paper, &options, &document.title)?;
    write_whole(&args.out, &printed.pdf)?;
    output::line(&format!(
        "Wrote {} ({} of {}). Print at 100 %, and measure the test squares on the first page before cutting.",
        args.out.display(),
        match printed.pages {
            1 => "1 sheet".to_owned(),
            many => format!("{many} sheets"),
        },
        paper.name()
    ))?;
    for note in &printed.notes {
        output::line(&format!("Note: {note}"))?;
    }
    Ok(())
}

/// Refuses to write over a file that is there and is no PDF: a slip of the hand
/// would cost a project or a letter.
fn refuse_other_file(out: &Path) -> Result<(), Failure> {
    let mut start = [0; 5];
    let read = File::open(out).and_then(|mut file| file.read_exact(&mut start));
    let is_file = std::fs::metadata(out).is_ok_and(|m| m.is_file() && m.len() > 0);
    if is_file && (read.is_err() || start != *b"%PDF-") {
        return Err(Failure::Asked(format!(
            "“{}” is already there and is no PDF; choose another name for the print",
            out.display()
        )));
    }
    Ok(())
}
