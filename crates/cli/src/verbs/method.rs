//! The methods as the command line sets them.

use crate::failure::Failure;
use crate::project::{Opened, read_share};
use clap::{Args, ValueEnum};
use hangtrue_adjust::{
    Distribute, Mates, Method, Pinch, SecondCut, Share, SlashAndLap, TopAndScoop,
};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum MethodArg {
    /// Off the top of the centre seam, and scoop the crotch curve.
    TopAndScoop,
    /// Slash along the pinch and lap.
    SlashAndLap,
    /// A strip as wide everywhere, across the whole piece.
    #[value(name = "even-strip", alias = "distribute")]
    Distribute,
}

/// The methods' own settings; each has its usual value.
#[derive(Debug, Args)]
pub struct MethodArgs {
    /// Top and scoop: how much comes off the centre (default: the pinch).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub amount: Option<String>,
    /// Top and scoop: the waist stays as it is this far from the side seam (default 1 in).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub zero_from_side: Option<String>,
    /// Top and scoop: let the waist change instead of the dart.
    #[arg(long)]
    pub free_waist: bool,
    /// Slash and lap: the dart the second cut goes through.
    #[arg(long, conflicts_with = "cut_to")]
    pub dart: Option<String>,
    /// Slash and lap: the place the second cut goes to: "100 mm from side of waist".
    #[arg(long)]
    pub cut_to: Option<String>,
    /// Slash and lap: how much is taken: "all", "what the dart gives" or a share like "60%".
    #[arg(long, default_value = "all", value_name = "SHARE")]
    pub take: String,
    /// Slash and lap: let the crotch seam change where the cuts change it.
    #[arg(long)]
    pub free_crotch: bool,
    /// Slash and lap: redraw the crotch seam to its old length also where cloth is let out.
    #[arg(long, conflicts_with = "free_crotch")]
    pub hold_crotch: bool,
    /// Even strip: width of the strip (default: the mean of the pinch).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub strip: Option<String>,
    /// Even strip: ease the difference in sewing instead of changing the piece sewn to it.
    #[arg(long)]
    pub ease: bool,
}

/// The method with the settings given, for a pinch on the piece.
pub fn method(
    which: MethodArg,
    args: &MethodArgs,
    opened: &Opened,
    piece: &str,
) -> Result<Method, Failure> {
    let length = |text: &Option<String>| text.as_ref().map(|t| opened.length(t)).transpose();
    Ok(match which {
        MethodArg::TopAndScoop => {
            let usual = TopAndScoop::usual(opened.document.unit);
            Method::TopAndScoop(TopAndScoop {
                amount: length(&args.amount)?,
                zero_from_side: length(&args.zero_from_side)?.unwrap_or(usual.zero_from_side),
                keep_waist: !args.free_waist,
            })
        }
        MethodArg::SlashAndLap => Method::SlashAndLap(SlashAndLap {
            second_cut: match (&args.dart, &args.cut_to) {
                (Some(dart), _) => SecondCut::Dart(dart.clone()),
                (None, Some(place)) => SecondCut::Seam(opened.seam_place(piece, place)?),
                (None, None) => SecondCut::Least,
            },
            share: match args.take.trim() {
                "all" => Share::All,
                "what the dart gives" => Share::WhatTheDartGives,
                other => match read_share(other) {
                    Some(part) if (0.0..=1.0).contains(&part) => Share::Part(part),
                    _ => {
                        return Err(Failure::Asked(format!(
                            "“{other}” is not a share; write all, what the dart gives, or a share from 0% to 100%"
                        )));
                    }
                },
            },
            keep_crotch: !args.free_crotch,
            may_grow: !args.hold_crotch,
        }),
        MethodArg::Distribute => Method::Distribute(Distribute {
            take: length(&args.strip)?,
            mates: if args.ease { Mates::Ease } else { Mates::Follow },
        }),
    })
}

/// The pinch of that name that is not taken up yet.
pub fn pinned<'a>(opened: &'a Opened, name: &str) -> Result<&'a Pinch, Failure> {
    let all = &opened.document.pinned;
    all.iter().find(|p| p.name == name).ok_or_else(|| {
        let known: Vec<&str> = all.iter().map(|p| p.name.as_str()).collect();
        Failure::Asked(if known.is_empty() {
            "no pinch is left to take up; enter one with: hangtrue pin".into()
        } else {
            format!("no pinch called “{name}” is left to take up; there are: {}", known.join(", "))
        })
    })
}
