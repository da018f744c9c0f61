//! Sending the pattern out as SVG or DXF.

use crate::args::{FormArg, SendArgs};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, check_outputs};
use hangtrue_files::exchange::{DxfForm, Kind, SendOptions, dxf_of, svg_of};
use hangtrue_files::print::Allowance;
use hangtrue_files::save::write_output;
use hangtrue_pattern::names;

pub fn run(args: &SendArgs) -> Result<(), Failure> {
    let over = args.over.over();
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
    let mut label = vec![format!("pattern: {}", args.of)];
    if args.with_name && !document.client.is_empty() {
        label.push(format!("for: {}", document.client));
    }
    let options = SendOptions {
        allowance,
        title: document.title.clone(),
        // One body's pattern has no size of a table; a girth of that body is as
        // private as its name.
        size: String::new(),
        label,
    };
    let (bytes, notes) = match Kind::of(&args.out) {
        Some(Kind::Svg) => {
            let (text, notes) = svg_of(pattern, &options)?;
            (text.into_bytes(), notes)
        }
        Some(Kind::Dxf) => {
            let form = match args.form {
                FormArg::Sewn => DxfForm::Sewn,
                FormArg::Plain => DxfForm::Plain,
            };
            dxf_of(pattern, &options, form)?
        }
        None => {
            return Err(Failure::Asked(format!(
                "“{}” ends neither in .svg nor in .dxf; give the file one of these endings",
                args.out.display()
            )));
        }
    };
    write_output(&args.out, &bytes, over)?;
    output::line(&format!(
        "Wrote {} in mm. Where it is opened, measure one line you know before cutting.",
        args.out.display()
    ))?;
    for note in &notes {
        output::line(&format!("Note: {note}"))?;
    }
    Ok(())
}
