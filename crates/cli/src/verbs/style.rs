//! The styles: listing them, and giving one.

use super::edit::{leg_of, make};
use crate::args::{JsonArg, LegsArg};
use crate::failure::Failure;
use crate::output;
use crate::project::Opened;
use clap::Args;
use hangtrue_adjust::{Change, STYLES, Style};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct StyleArgs {
    /// The project file.
    pub project: PathBuf,
    /// The leg it is made on, when left and right are apart.
    #[arg(long, value_enum, default_value_t = LegsArg::Both)]
    pub leg: LegsArg,
    /// The style, as the list names it: "wide leg". Without it, the list.
    pub name: Option<String>,
    /// List the styles, what each does, and its amounts.
    #[arg(long)]
    pub list: bool,
    /// How much: 1 1/2, 40 mm (default: the usual).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// The second amount of a style that has one, as the list says: the depth of a yoke at
    /// the side (default: the usual).
    #[arg(long, value_name = "LENGTH", requires = "name")]
    pub second: Option<String>,
    /// Name for the change in the list (default: the style's own).
    #[arg(long)]
    pub called: Option<String>,
    #[command(flatten)]
    pub json: JsonArg,
}

pub fn run(args: &StyleArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_for(&args.project, args.name.is_some() && !args.list)?;
    let (Some(name), false) = (&args.name, args.list) else {
        return list(&opened, args.json.json);
    };
    let about = Style::named(name, 0.0)?.about();
    let amount = match &args.amount {
        Some(said) => opened.length(said)?,
        None => about.usual_in(opened.unit()),
    };
    if amount == 0.0 && !about.without_amount {
        return Err(Failure::Asked(format!("{name} by nothing changes nothing; say how much")));
    }
    let mut style = Style::named(name, 0.0)?.usual_in(opened.unit()).with_amount(amount);
    if let Some(said) = &args.second {
        if about.second.is_none() {
            return Err(Failure::Asked(format!("{name} has no second amount; leave --second out")));
        }
        style = style.with_second(opened.length(said)?);
    }
    let change = Change::Style(style).on_leg(leg_of(args.leg));
    let called = args.called.as_deref().unwrap_or(about.name);
    if make(&mut opened, called, change, args.json.json)? {
        output::line(&format!("Next: hangtrue cut {}", args.project.display()))?;
    }
    Ok(())
}

fn list(opened: &Opened, json: bool) -> Result<(), Failure> {
    if json {
        let abouts: Vec<_> = STYLES.iter().map(|l| l.about).collect();
        return output::json(&abouts);
    }
    for listed in STYLES {
        let about = listed.about;
        let (low, high) = about.usual_range(opened.unit());
        let (low, high) = (opened.show(low), opened.show(high));
        let usual = opened.show(about.usual_in(opened.unit()));
        output::line(&format!("{}: {}", about.name, about.what))?;
        output::line(&format!("    {}", about.effect))?;
        output::line(&format!(
            "    --amount is {}; {low} to {high}, {usual} where not said",
            about.amount
        ))?;
        if let Some(second) = about.second {
            let (low, high) = second.usual_range(opened.unit());
            let (low, high) = (opened.show(low), opened.show(high));
            let usual = opened.show(second.usual_in(opened.unit()));
            output::line(&format!(
                "    --second is {}; {low} to {high}, {usual} where not said",
                second.amount
            ))?;
        }
    }
    Ok(())
}
