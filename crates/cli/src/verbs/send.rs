//! Sending the pattern out, as one of the list of exports.

use crate::args::OverArg;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::Args;
use clap::builder::{PossibleValue, PossibleValuesParser};
use hangtrue_cut::pieces_to_cut;
use hangtrue_files::exports::{EXPORTS, Export, Sending};
use hangtrue_files::print::{Allowance, ProjectorOptions, sent_label};
use hangtrue_files::save::write_output;
use hangtrue_files::today;
use hangtrue_pattern::names;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct SendArgs {
    /// The project file.
    pub project: PathBuf,
    #[arg(long, help = out_words())]
    pub out: PathBuf,
    /// The pattern to send: a fitting's name, "start" or "today".
    #[arg(long, default_value = "today")]
    pub of: String,
    /// Seam allowance all round (default: none, sew lines only).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// Hem allowance, when it is another.
    #[arg(long, requires = "allowance", value_name = "LENGTH", allow_hyphen_values = true)]
    pub hem_allowance: Option<String>,
    /// All pieces of the cutting plan with its allowances (see `hangtrue cut`).
    #[arg(long, conflicts_with = "allowance")]
    pub all_pieces: bool,
    /// As what it is sent (default: by the ending, the first of them).
    #[arg(long, value_parser = kinds())]
    pub form: Option<String>,
    /// Write the name of the person on the pieces; without it the name stays here.
    #[arg(long)]
    pub with_name: bool,
    #[command(flatten)]
    pub over: OverArg,
}

/// The endings of all kinds, each once, in words.
fn endings() -> String {
    let mut endings: Vec<String> = EXPORTS.iter().map(|e| format!(".{}", e.ending)).collect();
    endings.dedup();
    endings.join(", ")
}

fn out_words() -> String {
    format!("The file to write; its ending, one of {}, says which kind", endings())
}

/// The kinds of file, each with what it is for.
fn kinds() -> PossibleValuesParser {
    let said = |export: &Export| {
        PossibleValue::new(export.word).help(format!("{} (.{})", export.name, export.ending))
    };
    PossibleValuesParser::new(EXPORTS.iter().map(said))
}

/// The kind that was asked for, or the first of those the file's ending names.
fn asked_for(args: &SendArgs) -> Result<&'static Export, Failure> {
    let ending = args.out.extension().and_then(|e| e.to_str()).unwrap_or_default();
    let mut of_ending = Export::of_ending(ending);
    let Some(form) = &args.form else {
        return of_ending.next().ok_or_else(|| {
            Failure::Asked(format!(
                "“{}” ends in none of {}; give the file one of these endings",
                args.out.display(),
                endings()
            ))
        });
    };
    of_ending.find(|e| e.word == form).ok_or_else(|| {
        let ending = Export::named(form).map_or("", |e| e.ending);
        Failure::Asked(format!(
            "with --form {form} the file ends in .{ending}; “{}” does not",
            args.out.display()
        ))
    })
}

pub fn run(args: &SendArgs) -> Result<(), Failure> {
    let (over, export) = (args.over.over(), asked_for(args)?);
    check_outputs(&[Some(&args.out)], &[Some(&args.project)], over)?;
    let opened = Opened::open(&args.project)?;
    opened.replay.start()?;
    let pattern = opened.replay.round(&args.of)?;
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
    let set = match (args.all_pieces, &allowance) {
        (true, None) => Some(pieces_to_cut(pattern, document)?),
        _ => None,
    };
    let pattern = set.as_ref().map_or(&**pattern, |set| &set.pattern);
    let version = document.round_meant(&args.of);
    let label = sent_label(document, version, &today(), args.with_name);
    let sent = export.made(&Sending {
        pattern,
        title: &document.title,
        label,
        allowance,
        set: set.as_ref(),
        unit: opened.unit(),
        projector: ProjectorOptions::usual(opened.unit()),
    })?;
    write_output(&args.out, &sent.bytes, over)?;
    let (out, before) = (args.out.display(), export.before_cutting);
    output::line(&format!("Wrote {out}. {before}"))?;
    for note in &sent.notes {
        output::line(&format!("Note: {note}"))?;
    }
    Ok(())
}
