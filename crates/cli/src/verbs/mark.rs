//! Marking reference lines.

use crate::args::{MarkArgs, RuleArgs};
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, read_share};
use hangtrue_adjust::{Change, EraseLine, MarkLine, UsualDepths, usual_lines};
use hangtrue_pattern::{Purpose, ReferenceLine, Rule};

pub fn run(args: &MarkArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let changes = if args.usual {
        let mut depths = UsualDepths::of(opened.unit());
        if let Some(text) = &args.hip_depth {
            depths.full_hip = opened.length(text)?;
        }
        if let Some(text) = &args.thigh_drop {
            depths.thigh = opened.length(text)?;
        }
        let lines = usual_lines(opened.pattern()?, depths)?;
        lines.into_iter().map(|line| Change::MarkLine(MarkLine { line })).collect()
    } else {
        vec![single(args, &opened)?]
    };
    let mut pattern = (**opened.pattern()?).clone();
    let mut said = Vec::new();
    for change in changes {
        pattern = change.apply(&pattern)?.pattern;
        let words = change.words(opened.unit());
        let name = match &change {
            Change::MarkLine(MarkLine { line }) => {
                said.push(format!("{words}: {}", line.rule.sentence(opened.unit())));
                format!("{} on the {}", line.name, line.piece)
            }
            _ => {
                said.push(words.clone());
                words
            }
        };
        opened.document.push(&name, change);
    }
    opened.save()?;
    said.iter().try_for_each(|line| output::line(line))
}

fn single(args: &MarkArgs, opened: &Opened) -> Result<Change, Failure> {
    let (Some(name), Some(piece)) = (&args.line, &args.piece) else {
        return Err(Failure::Asked(
            "say --usual for the usual lines, or --line NAME --piece PIECE and a rule".into(),
        ));
    };
    if args.erase {
        return Ok(Change::EraseLine(EraseLine { piece: piece.clone(), line: name.clone() }));
    }
    if args.anew {
        let line = opened.pattern()?.line(piece, name)?.clone();
        let line = ReferenceLine { last: None, cloth: None, ..line };
        return Ok(Change::MarkLine(MarkLine { line }));
    }
    let why = args.why.clone();
    let line = ReferenceLine {
        name: name.clone(),
        piece: piece.clone(),
        rule: rule(&args.rule, opened, piece)?,
        purpose: if args.paper { Purpose::Paper(why) } else { Purpose::Cloth(why) },
        last: None,
        cloth: None,
    };
    Ok(Change::MarkLine(MarkLine { line }))
}

fn rule(args: &RuleArgs, opened: &Opened, piece: &str) -> Result<Rule, Failure> {
    let wrong = |text: &str, like: &str| {
        Failure::Asked(format!("“{text}” cannot be read; write it like {like}"))
    };
    if let Some(text) = &args.below {
        let (drop, place) = text
            .split_once(" below ")
            .ok_or_else(|| wrong(text, "“50.8 mm below crotch point”"))?;
        return Ok(Rule::Below { place: opened.place(piece, place)?, drop: opened.length(drop)? });
    }
    if let Some(text) = &args.square_through {
        return Ok(Rule::SquareToGrain { through: opened.place(piece, text)? });
    }
    if let Some(text) = &args.equal_depth {
        let like = "“5 1/2 in on side from waist, crotch from waist”";
        let (depth, seams) = text.split_once(" on ").ok_or_else(|| wrong(text, like))?;
        let (first, second) = seams.split_once(',').ok_or_else(|| wrong(text, like))?;
        let seam = |words: &str| {
            let (seam, end) = words.split_once(" from ").ok_or_else(|| wrong(text, like))?;
            Ok::<_, Failure>((seam.trim().to_owned(), opened.seam_end(piece, seam, end)?))
        };
        return Ok(Rule::EqualDepth {
            first: seam(first)?,
            second: seam(second)?,
            depth: opened.length(depth)?,
        });
    }
    if let Some(text) = &args.parallel {
        let (distance, seam) =
            text.split_once(" inside ").ok_or_else(|| wrong(text, "“40 mm inside hem”"))?;
        return Ok(Rule::ParallelTo {
            seam: seam.trim().to_owned(),
            distance: opened.length(distance)?,
        });
    }
    if let Some(text) = &args.through {
        let like = "“60 mm from waist of side, 80 mm from waist of crotch”";
        let (first, second) = text.split_once(',').ok_or_else(|| wrong(text, like))?;
        return Ok(Rule::Through {
            first: opened.seam_place(piece, first)?,
            second: opened.seam_place(piece, second)?,
        });
    }
    if let Some(text) = &args.between {
        let like = "“50% from thigh to knee”";
        let (share, lines) = text.split_once(" from ").ok_or_else(|| wrong(text, like))?;
        let (first, second) = lines.split_once(" to ").ok_or_else(|| wrong(text, like))?;
        return Ok(Rule::Between {
            first: first.trim().to_owned(),
            second: second.trim().to_owned(),
            fraction: read_share(share).ok_or_else(|| wrong(text, like))?,
        });
    }
    Err(Failure::Asked(
        "say where the line lies: one of --below, --square-through, --equal-depth, --parallel, --through, --between".into(),
    ))
}
