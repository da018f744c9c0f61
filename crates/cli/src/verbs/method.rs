//! The methods as the command line sets them.

use crate::args::{MethodArg, MethodArgs};
use crate::failure::Failure;
use crate::project::{Opened, read_share};
use hangtrue_adjust::{
    Distribute, Mates, Method, Pinch, SecondCut, Share, SlashAndLap, TopAndScoop,
};

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
            let usual = TopAndScoop::default();
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

/// The pinch of that name that waits for an answer.
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
