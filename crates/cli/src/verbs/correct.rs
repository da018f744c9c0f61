//! The catalogue of corrections: listing it, and making one.

use super::edit::{leg_of, make};
use crate::args::{JsonArg, LegsArg};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{AtDart, CATALOGUE, Change, Correction};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct CorrectArgs {
    /// The project file.
    pub project: PathBuf,
    /// The leg it is made on, when left and right are apart.
    #[arg(long, value_enum, default_value_t = LegsArg::Both)]
    pub leg: LegsArg,
    /// The correction, as the list names it: "flat seat". Without it, the list.
    pub name: Option<String>,
    /// List the corrections, what each is for, and the sensible amounts.
    #[arg(long)]
    pub list: bool,
    /// How much: 7/16, 12 mm; a minus takes the other way.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// The dart corrections: the piece (default: the back).
    #[arg(long)]
    pub piece: Option<String>,
    /// The dart corrections: the dart (default: the one nearest the centre).
    #[arg(long)]
    pub dart: Option<String>,
    /// Name for the change in the list (default: the correction's own).
    #[arg(long)]
    pub called: Option<String>,
    #[command(flatten)]
    pub json: JsonArg,
}

pub fn run(args: &CorrectArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_for(&args.project, args.name.is_some() && !args.list)?;
    let (Some(name), false) = (&args.name, args.list) else {
        if args.amount.is_some() && !args.list {
            return Err(Failure::Asked(
                "say which correction: \"full seat\", for example; --list shows them all".into(),
            ));
        }
        return list(&opened, args.json.json);
    };
    let Some(amount) = &args.amount else {
        return Err(Failure::Asked(format!(
            "say how much: hangtrue correct {} \"{name}\" --amount 1/4; a minus takes the other way",
            args.project.display()
        )));
    };
    let correction = chosen(name, opened.length(amount)?, args)?;
    if correction.amount() == 0.0 {
        return Err(Failure::Asked(format!("{name} by nothing changes nothing; say how much")));
    }
    let about = correction.about();
    let change = Change::Correct(correction).on_leg(leg_of(args.leg));
    let called = args.called.as_deref().unwrap_or(about.name);
    if make(&mut opened, called, change, args.json.json)? {
        output::line(&format!("Next: hangtrue walk {}", args.project.display()))?;
    }
    Ok(())
}

/// The correction of that name; the dart corrections on the piece and dart asked
/// for.
fn chosen(name: &str, amount: f64, args: &CorrectArgs) -> Result<Correction, Failure> {
    let mut correction = Correction::named(name, amount)?;
    match correction.dart() {
        Some(AtDart { piece, dart }) => {
            if let Some(asked) = &args.piece {
                piece.clone_from(asked);
            }
            dart.clone_from(&args.dart);
        }
        None if args.piece.is_some() || args.dart.is_some() => {
            return Err(Failure::Asked(format!(
                "“{name}” works on the pieces it needs; --piece and --dart are for the dart corrections"
            )));
        }
        None => {}
    }
    Ok(correction)
}

fn list(opened: &Opened, json: bool) -> Result<(), Failure> {
    if json {
        let abouts: Vec<_> = CATALOGUE.iter().map(|l| l.about).collect();
        return output::json(&abouts);
    }
    for listed in CATALOGUE {
        let about = listed.about;
        let (low, high) = about.usual(opened.document.unit);
        let (low, high) = (opened.show(low), opened.show(high));
        output::line(&format!("{}: {}", about.name, about.what))?;
        output::line(&format!("    {}", about.effect))?;
        output::line(&format!("    --amount is {}; usually {low} to {high}", about.amount))?;
    }
    Ok(())
}
