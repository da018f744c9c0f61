//! Marking reference lines.

use super::hang::hung;
use crate::failure::Failure;
use crate::output;
use crate::project::{Opened, read_share};
use clap::Args;
use hangtrue_adjust::{Change, EraseLine, MarkLine, UsualDepths, usual_lines};
use hangtrue_drape::{LABEL, LevelLine, level_when_worn};
use hangtrue_pattern::rule::{About, Listed, PartValue, RULES};
use hangtrue_pattern::{Purpose, ReferenceLine, Rule};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct MarkArgs {
    /// The project file.
    pub project: PathBuf,
    /// Mark the usual set on every piece: hip balance, thigh and
    /// knee lines for the cloth, the hip line for the paper.
    #[arg(long, conflicts_with_all = ["line", "piece"])]
    pub usual: bool,
    /// How deep the hip balance line lies below the waist (with --usual); three quarters of
    /// the way down to the hip line when left out.
    #[arg(long, requires = "usual", value_name = "LENGTH", allow_hyphen_values = true)]
    pub hip_depth: Option<String>,
    /// How far the thigh line lies below the crotch point (with --usual); 0.075 of the inseam
    /// when left out.
    #[arg(long, requires = "usual", value_name = "LENGTH", allow_hyphen_values = true)]
    pub thigh_drop: Option<String>,
    /// Draw the line of this name anew beside the straight one, bowed so that it hangs
    /// level when worn: predicted, not seen (takes some seconds).
    #[arg(long, value_name = "LINE", conflicts_with_all = ["usual", "line", "piece"])]
    pub level_when_worn: Option<String>,
    /// With --level-when-worn: in place of the straight line, under its name.
    #[arg(long, requires = "level_when_worn")]
    pub instead: bool,
    /// Name of a single line.
    #[arg(long, requires = "piece", value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub line: Option<String>,
    /// The piece it lies on.
    #[arg(long)]
    pub piece: Option<String>,
    #[command(flatten)]
    pub rule: RuleArgs,
    /// The line stays on paper and is not traced to the cloth.
    #[arg(long)]
    pub paper: bool,
    /// Why it is drawn.
    #[arg(long, default_value = "marked by the maker")]
    pub why: String,
    /// Take the line away instead.
    #[arg(long)]
    pub erase: bool,
    /// Mark the line anew by its own rule, where it stayed on the cloth of a toile.
    #[arg(long, conflicts_with = "erase")]
    pub anew: bool,
}

/// The word of the rule by which the line is placed, and what was said of it: one of
/// the list of rules.
#[derive(Debug, Default)]
pub struct RuleArgs(Option<(&'static Listed, String)>);

impl Args for RuleArgs {
    fn augment_args(command: clap::Command) -> clap::Command {
        let option = |listed: &Listed| {
            let About { word, help, example, .. } = listed.about;
            clap::Arg::new(word)
                .long(word)
                .value_name("WHERE")
                .allow_hyphen_values(true)
                .help(format!("{help}: \"{example}\""))
        };
        let words = RULES.iter().map(|listed| listed.about.word);
        command.args(RULES.iter().map(option)).group(clap::ArgGroup::new("rule").args(words))
    }

    fn augment_args_for_update(command: clap::Command) -> clap::Command {
        Self::augment_args(command)
    }
}

impl clap::FromArgMatches for RuleArgs {
    fn from_arg_matches(matches: &clap::ArgMatches) -> Result<Self, clap::Error> {
        let mut said = RULES.iter().filter_map(|listed| {
            Some((listed, matches.get_one::<String>(listed.about.word)?.clone()))
        });
        Ok(Self(said.next()))
    }

    fn update_from_arg_matches(&mut self, matches: &clap::ArgMatches) -> Result<(), clap::Error> {
        *self = Self::from_arg_matches(matches)?;
        Ok(())
    }
}

pub fn run(args: &MarkArgs) -> Result<(), Failure> {
    let mut opened = Opened::open_to_write(&args.project)?;
    let changes = if let Some(line) = &args.level_when_worn {
        level(&opened, line, args.instead)?
    } else if args.usual {
        let mut depths = UsualDepths::of(opened.unit());
        if let Some(text) = &args.hip_depth {
            depths.hip_balance = Some(opened.length(text)?);
        }
        if let Some(text) = &args.thigh_drop {
            depths.thigh = Some(opened.length(text)?);
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
                let sentence = line.rule.sentence(opened.unit());
                let why = match &line.rule {
                    Rule::Bowed(_) => format!(" It is {}.", line.purpose.reason()),
                    _ => String::new(),
                };
                said.push(format!("{words}: {sentence}{why}"));
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

/// Lines that hang level, beside the straight ones or in place of them.
fn level(opened: &Opened, line: &str, instead: bool) -> Result<Vec<Change>, Failure> {
    let hung = hung(opened, &opened.document.figure, false)?;
    if hung.settled.first.slipped {
        return Err(Failure::Asked(
            "the waist does not stay at its level on this body, so no line can be drawn level: mend the waist first (hangtrue hang shows it)".into(),
        ));
    }
    let drawn = level_when_worn(&hung.pattern, &hung.settled, line)
        .map_err(|why| Failure::Asked(why.to_string()))?;
    output::line(LABEL)?;
    for level in &drawn {
        output::line(&format!(
            "On the {} it hangs {} above the floor, level within ± {}.",
            level.line.piece,
            opened.show(level.height),
            opened.show(level.plus_minus)
        ))?;
    }
    let named = |level: LevelLine| {
        let name = if instead { line.to_owned() } else { level.line.name.clone() };
        Change::MarkLine(MarkLine { line: ReferenceLine { name, ..level.line } })
    };
    Ok(drawn.into_iter().map(named).collect())
}

fn single(args: &MarkArgs, opened: &Opened) -> Result<Change, Failure> {
    let (Some(name), Some(piece)) = (&args.line, &args.piece) else {
        return Err(Failure::Asked(
            "say --usual for the usual lines, --level-when-worn LINE for one that hangs level, or --line NAME --piece PIECE and a rule".into(),
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
    let Some((listed, text)) = &args.0 else {
        let words: Vec<String> = RULES.iter().map(|l| format!("--{}", l.about.word)).collect();
        let words = words.join(", ");
        return Err(Failure::Asked(format!("say where the line lies: one of {words}")));
    };
    let wrong = || {
        let like = listed.about.example;
        Failure::Asked(format!("“{text}” cannot be read; write it like “{like}”"))
    };
    let said = filled_in(listed.about.form, text).ok_or_else(wrong)?;
    let mut rule = (listed.blank)();
    for (index, part) in rule.parts().into_iter().enumerate() {
        let said = said.iter().find(|s| s.0 == index).ok_or_else(wrong)?.1.trim();
        match part.value {
            PartValue::Length(length) => *length = opened.length(said)?,
            PartValue::Share(share) => *share = read_share(said).ok_or_else(wrong)?,
            PartValue::Place(place) => *place = opened.place(piece, said)?,
            PartValue::SeamPlace(place) => *place = opened.seam_place(piece, said)?,
            PartValue::Seam(name) | PartValue::Line(name) => said.clone_into(name),
            PartValue::SeamFrom(at) => {
                let (seam, end) = said.split_once(" from ").ok_or_else(wrong)?;
                *at = (seam.trim().to_owned(), opened.seam_end(piece, seam, end)?);
            }
        }
    }
    Ok(rule)
}

/// What stands in a text at the numbered places of a form: `{0} below {1}`.
fn filled_in<'a>(form: &str, text: &'a str) -> Option<Vec<(usize, &'a str)>> {
    let mut places = form.split('{');
    let mut rest = text.strip_prefix(places.next()?)?;
    let mut found = Vec::new();
    for place in places {
        let (index, after) = place.split_once('}')?;
        let (said, left) = match after.trim_end() {
            "" => (rest, ""),
            _ => rest.split_once(after).or_else(|| rest.split_once(after.trim_end()))?,
        };
        found.push((index.parse().ok()?, said));
        rest = left;
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_example_fills_its_form() {
        for listed in RULES {
            let found = filled_in(listed.about.form, listed.about.example).unwrap();
            assert_eq!(found.len(), (listed.blank)().parts().len(), "{}", listed.about.word);
        }
        assert_eq!(filled_in("{1} of {0}", "a of b"), Some(vec![(1, "a"), (0, "b")]));
        assert_eq!(filled_in("{0}, {1}", "a,b"), Some(vec![(0, "a"), (1, "b")]));
        assert_eq!(filled_in("{0} below {1}", "50 mm"), None);
    }
}
