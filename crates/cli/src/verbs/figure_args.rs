//! What is known of a body beyond its taped measures, as options.

use super::begin::read_ron;
use crate::failure::Failure;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::Figure;
use hangtrue_adjust::figure::{BREADTHS, HANDLES};
use std::path::PathBuf;

/// The options said, by their words.
#[derive(Debug, Default)]
pub struct FigureArgs(Vec<(&'static str, String)>);

/// The option by which measures are given beside a pattern that was brought in.
const MEASURES: &str = "measures";

impl Args for FigureArgs {
    fn augment_args(command: clap::Command) -> clap::Command {
        let option = |word: &'static str, help: String| {
            clap::Arg::new(word)
                .long(word)
                .value_name("LENGTH")
                .allow_hyphen_values(true)
                .help_heading("The body")
                .help(help)
        };
        let handles = HANDLES.map(|h| option(h.word, format!("{}: {}", h.name, h.means)));
        let breadths = BREADTHS.map(|b| option(b.word, format!("{}, where it was taken", b.name)));
        let measures = clap::Arg::new(MEASURES)
            .long(MEASURES)
            .value_name("FILE")
            .value_parser(clap::value_parser!(PathBuf))
            .help_heading("The body")
            .help("The file of measures, for a pattern that was brought in and has none");
        command.args(handles).args(breadths).arg(measures)
    }

    fn augment_args_for_update(command: clap::Command) -> clap::Command {
        Self::augment_args(command)
    }
}

impl clap::FromArgMatches for FigureArgs {
    fn from_arg_matches(matches: &clap::ArgMatches) -> Result<Self, clap::Error> {
        let words = HANDLES.iter().map(|h| h.word).chain(BREADTHS.iter().map(|b| b.word));
        let mut said: Vec<(&'static str, String)> = words
            .filter_map(|word| Some((word, matches.get_one::<String>(word)?.clone())))
            .collect();
        if let Some(file) = matches.get_one::<PathBuf>(MEASURES) {
            said.push((MEASURES, file.display().to_string()));
        }
        Ok(Self(said))
    }

    fn update_from_arg_matches(&mut self, matches: &clap::ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

impl FigureArgs {
    /// The figure of the project with what was said here in place of what is kept.
    pub fn figure(&self, opened: &Opened) -> Result<Figure, Failure> {
        let mut figure = opened.document.figure.clone();
        for (word, text) in &self.0 {
            if let Some(handle) = HANDLES.iter().find(|h| h.word == *word) {
                *(handle.of)(&mut figure.handles) = opened.length(text)?;
            } else if let Some(breadth) = BREADTHS.iter().find(|b| b.word == *word) {
                *(breadth.of)(&mut figure.breadths) = Some(opened.length(text)?);
            } else if opened.document.body().is_some() {
                return Err(Failure::Asked(
                    "this project was drafted from measures of its own, so --measures is not for it: change the body with the desk, or begin another project".into(),
                ));
            } else {
                figure.measures = read_ron(
                    std::path::Path::new(text),
                    "file of measures",
                    "write it like {waist_girth: \"30 in\", hip_girth: 1000, …}, a measure a line",
                )?;
            }
        }
        Ok(figure)
    }
}
