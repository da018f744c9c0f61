//! The page: `docs/hang_trial.md`.

use crate::faults::{FAULTS, Fault, NOT_TRIED, Remedy};
use crate::reasons::reason;
use crate::run::case_of;
use crate::sums::{Off, Sums, Told, chance, median, off, told};

/// Nearer or further is told where an even coin would do so in fewer than one of so many.
const SURE: f64 = 1.0 / 40.0;
/// An even coin falls the same way so many times in fewer than one of forty.
const FEWEST: usize = 6;

/// What a remedy is found to do to the lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Found {
    Nearer,
    Further,
    NotTold,
}

impl Found {
    fn word(self) -> &'static str {
        match self {
            Self::Nearer => "nearer",
            Self::Further => "further",
            Self::NotTold => "not to be told",
        }
    }
}

pub fn page(sums: &Sums) -> String {
    let bodies: Vec<&String> = sums.of.keys().collect();
    let nothing = sums.nothing();
    let noise = median(nothing.iter().map(|o| o.level));
    let mut text = HEAD
        .replace("{bodies}", &bodies.len().to_string())
        .replace("{names}", &bodies.iter().map(|b| b.as_str()).collect::<Vec<_>>().join(", "))
        .replace("{noise}", &format!("{noise:.1}"))
        .replace("{most}", &format!("{:.1}", most(nothing.iter().map(|o| o.level))))
        .replace("{high}", &format!("{:.1}", median(nothing.iter().map(|o| o.height))));
    if bodies.len() < FEWEST {
        text += "\n**So few bodies bear no verdict**: the settlings take long, and no more were done. The table tells\nwhat was seen on these; *nearer* could not be said of fewer than six.\n";
    }
    let all = told(sums);
    text += "\n## By level\n\n";
    text += "| remedy | mm | fault | out of level, median | after | nearer | the right way | best amount | left then | room round the hip | |\n|---|---|---|---|---|---|---|---|---|---|---|\n";
    let seen = |t: &&Told| !t.bodies.is_empty();
    for t in all.iter().filter(seen).filter(|t| !t.fault.by_height()) {
        text += &level_row(t);
    }
    text += "\n## By height\n\nWhat should move the lines up or down all round: “too high or low” is the root of the mean\nsquare of the means of the three rings against where they belong on the changed body.\n\n";
    text += "| remedy | mm | fault | too high or low, median | after | nearer | out of level | after | room round the hip | |\n|---|---|---|---|---|---|---|---|---|---|\n";
    for t in all.iter().filter(seen).filter(|t| t.fault.by_height()) {
        text += &height_row(t);
    }
    text += "\n## Those that do not help here\n\nLines came nearer on fewer than three bodies of four, or the fault could not be planted.\n\n";
    for t in &all {
        let found = found(t);
        if t.bodies.is_empty() {
            text += &format!(
                "- **{}** ({}): no body with its other measures has this fault.\n",
                name(t),
                t.fault.name
            );
        } else if 4 * nearer(t) < 3 * t.bodies.len() {
            text += &format!(
                "- **{}** ({}): {}. {}\n",
                name(t),
                t.fault.name,
                found.word(),
                reason(&case_of(t.tried))
            );
        }
    }
    for t in all.iter().filter(|t| t.refused.0 > 0) {
        let why = t.refused.1.as_deref().unwrap_or_default();
        text += &format!(
            "- **{}** was refused or could not be settled on {}: {why}.\n",
            name(t),
            t.refused.0
        );
    }
    text += "\n## Not tried\n\n";
    for (name, why) in NOT_TRIED {
        text += &format!("- **{name}**: {why}.\n");
    }
    text += "\n## What the faults do\n\n| fault | bodies | out of level, median | too high or low, median | waist slips on |\n|---|---|---|---|---|\n";
    let settled =
        |f: &&Fault| sums.of.values().any(|c| c.get(f.name).is_some_and(|r| !r.heights.is_empty()));
    for fault in FAULTS.iter().filter(settled) {
        let ways = || sums.of.values().filter_map(|c| Sums::way(c, fault.name, fault.lower));
        let offs: Vec<Off> = ways().map(|w| off(&w)).collect();
        let slips = sums.of.values().filter(|c| c.get(fault.name).is_some_and(|r| r.slipped));
        text += &format!(
            "| {} | {} | {:.1} | {:.1} | {} |\n",
            fault.name,
            offs.len(),
            median(offs.iter().map(|o| o.level)),
            median(offs.iter().map(|o| o.height)),
            slips.count()
        );
    }
    text
}

fn most(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, f64::max)
}

fn name(told: &Told) -> String {
    match told.tried.remedy {
        Remedy::Correction(name) => name.to_owned(),
        Remedy::Pinch(method) => format!("pinch under the seat, {method}"),
    }
}

/// On how many bodies lines came nearer.
fn nearer(told: &Told) -> usize {
    let by = |o: &Off| if told.fault.by_height() { o.height } else { o.level };
    told.bodies.iter().filter(|b| by(&b.after) < by(&b.before)).count()
}

pub fn found(told: &Told) -> Found {
    let (of, near) = (told.bodies.len(), nearer(told));
    if of > 0 && chance(of, near) < SURE {
        Found::Nearer
    } else if of > 0 && chance(of, of - near) < SURE {
        Found::Further
    } else {
        Found::NotTold
    }
}

/// The amounts it was tried with, mm.
fn amounts(told: &Told) -> String {
    let mut all: Vec<f64> = told.bodies.iter().map(|b| b.amount).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all.iter().map(|a| format!("{a:.0}")).collect::<Vec<_>>().join(", ")
}

fn level_row(t: &Told) -> String {
    let b = &t.bodies;
    format!(
        "| {} | {} | {} | {:.1} | {:.1} | {} of {} | {:.2} | {:.0} | {:.1} | {:+.0} | {} |\n",
        name(t),
        amounts(t),
        t.fault.name,
        median(b.iter().map(|b| b.before.level)),
        median(b.iter().map(|b| b.after.level)),
        nearer(t),
        b.len(),
        median(b.iter().map(|b| b.right_way)),
        median(b.iter().map(|b| b.best)),
        median(b.iter().map(|b| b.left)),
        0.0 - median(b.iter().map(|b| b.hip_less)),
        found(t).word(),
    )
}

fn height_row(t: &Told) -> String {
    let b = &t.bodies;
    format!(
        "| {} | {} | {} | {:.1} | {:.1} | {} of {} | {:.1} | {:.1} | {:+.0} | {} |\n",
        name(t),
        amounts(t),
        t.fault.name,
        median(b.iter().map(|b| b.before.height)),
        median(b.iter().map(|b| b.after.height)),
        nearer(t),
        b.len(),
        median(b.iter().map(|b| b.before.level)),
        median(b.iter().map(|b| b.after.level)),
        0.0 - median(b.iter().map(|b| b.hip_less)),
        found(t).word(),
    )
}

const HEAD: &str = "# The catalogue tried on the model

*Predicted, not seen.* Written by the program from settled toiles
(`cargo run -p hangtrue-drape --example trial page`); no real toile is in it. It tells how
`docs/hang.md`’s cloth and bodies answer a correction, and whoever cuts should trust a worn toile before it.

**How.** {bodies} bodies of the survey sample ({names}) whose waist holds at home. On each, the block
drafted for it is settled: *home*. Then a fault is planted on the body, the block stays, and it is settled
again; then the remedy, by an amount of ours, is made on the block and settled on the same faulty body. All
afresh on a 25 mm mesh from the same start. Read are five stations each of hip balance, thigh and knee line, back and
front. *Out of level*: the root of the mean square by which they lie over or under home, the mean of each
ring of back and front taken away. The column *nearer*: on so many bodies that became less. *The right way*: the cosine
between what the remedy does and what is wanted (1: the very thing; 0: nothing to do with it; minus: the
contrary), median. *Best amount*: the amount that would bring the lines nearest, mm, were all in
proportion, median, and what would be left out of level then. *Room round the hip*: how much the remedy gives or
takes round the whole garment at the hip, mm.

**How fine.** The same block on the same body on a shifted mesh, nothing else changed, lies {noise} mm out of
level in the median ({most} at the most; {high} mm too high or low in the median): what is smaller than
that is the mesh’s. The words *nearer* and *further* are said where an even coin would fall so in fewer than one case of forty.

**What it cannot tell.** Ease, strain and wrinkles are not read, only lines. The amounts were chosen on two other bodies (120 and 252): about what would
have been best on them. The body’s shape beyond its measures is ours. On about two bodies of five the
waist slips at home, so they are not here.

**Settled** on 2026-11-28, before *hip on the back alone* was trued at the waist: its row tells of it as it was.
";
