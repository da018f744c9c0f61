//! Sheets to be written on with a pencil.

use super::cut::args::SewnArg;
use crate::args::{OverArg, UnitArg};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use clap::{Args, Subcommand};
use hangtrue_adjust::OPEN_ROUND;
use hangtrue_cut::{SewnAs, pieces_to_cut};
use hangtrue_files::class::blank_list;
use hangtrue_files::print::people::{fitting_sheet, marking_sheet, measuring_sheet, sewing_sheet};
use hangtrue_files::save::write_output;
use hangtrue_files::today;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct SheetArgs {
    #[command(subcommand)]
    sheet: Sheet,
}

/// Which sheet.
#[derive(Debug, Subcommand)]
enum Sheet {
    /// Where each measure is taken, how, and a box for it
    Measuring {
        /// The PDF to write.
        #[arg(long)]
        out: PathBuf,
        /// The unit that is written.
        #[arg(long, value_enum, default_value_t = UnitArg::Cm)]
        unit: UnitArg,
        #[command(flatten)]
        over: OverArg,
    },
    /// A list of names and measures for a class, a CSV to fill in
    Class {
        /// The CSV to write.
        #[arg(long)]
        out: PathBuf,
        /// The unit that is written.
        #[arg(long, value_enum, default_value_t = UnitArg::Cm)]
        unit: UnitArg,
        #[command(flatten)]
        over: OverArg,
    },
    /// Which lines go through to the cloth, how, and in which order
    Marking(OfProject),
    /// The pieces to cut and the order in which they are sewn
    Sewing {
        #[command(flatten)]
        of: OfProject,
        /// For a toile or a finished pair (default: as the allowances are chosen).
        #[arg(long = "as", value_enum)]
        sewn_as: Option<SewnArg>,
    },
    /// What is looked at, pinned and written down on the worn toile
    Fitting(OfProject),
}

#[derive(Debug, Args)]
struct OfProject {
    /// The project file.
    project: PathBuf,
    /// The PDF to write.
    #[arg(long)]
    out: PathBuf,
    #[command(flatten)]
    over: OverArg,
}

pub fn run(args: &SheetArgs) -> Result<(), Failure> {
    let (out, next) = match &args.sheet {
        Sheet::Measuring { out, unit, over } => {
            check_outputs(&[Some(out)], &[], over.over())?;
            write_output(out, &measuring_sheet((*unit).into())?, over.over())?;
            (
                out,
                "Fill it in at the body; then: hangtrue begin PROJECT asks for the same measures.",
            )
        }
        Sheet::Class { out, unit, over } => {
            check_outputs(&[Some(out)], &[], over.over())?;
            write_output(out, blank_list((*unit).into()).as_bytes(), over.over())?;
            (out, "Fill in a line for every pupil; then: hangtrue class LIST --out FOLDER.")
        }
        Sheet::Sewing { of, sewn_as } => {
            let opened = of.opened()?;
            let document = &opened.document;
            let set = pieces_to_cut(opened.pattern()?, document)?;
            let sewn_as = sewn_as.map_or_else(|| SewnAs::of(document), SewnAs::from);
            let pdf = sewing_sheet(document, &set, sewn_as, &today())?;
            write_output(&of.out, &pdf, of.over.over())?;
            (&of.out, "Tick off what is cut and what is sewn.")
        }
        Sheet::Marking(of) => {
            let opened = of.opened()?;
            let pattern = opened.pattern()?;
            let pdf = marking_sheet(&opened.document, pattern, &today())?;
            write_output(&of.out, &pdf, of.over.over())?;
            (&of.out, "Lay it beside the toile while you mark.")
        }
        Sheet::Fitting(of) => {
            let opened = of.opened()?;
            let cut = opened.replay.toile(OPEN_ROUND)?;
            let pdf = fitting_sheet(&opened.document, cut, &today())?;
            write_output(&of.out, &pdf, of.over.over())?;
            (&of.out, "Take it and a pencil to the fitting; count the pins in and out.")
        }
    };
    output::line(&format!("Wrote {}. {next}", out.display()))
}

impl OfProject {
    fn opened(&self) -> Result<Opened, Failure> {
        check_outputs(&[Some(&self.out)], &[Some(&self.project)], self.over.over())?;
        Opened::open(&self.project)
    }
}
