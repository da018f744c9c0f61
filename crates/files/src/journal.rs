//! The fitting journal as a report: a page for the body and the rounds, then each
//! round with what was changed for its toile, how its lines should hang, how it
//! was worn, and what was seen, pinned and decided.

use crate::album::{self, AlbumError};
use crate::print::{
    Align, Block, DrawOptions, Paper, Photo, Picture, PrintError, Report, arrange, before_after,
    piece_scenes,
};
use crate::round_report::{bend, step, table};
use crate::worn::{FOR_PRINT, gathered, hang_words, overlaid, read_photo, round_droops};
use hangtrue_adjust::reading::{self, Droop, HangLine, Looked, PieceView};
use hangtrue_adjust::{
    Applied, Change, ChangeError, CloseRound, Compared, Document, Entry, NoteKind, OPEN_ROUND,
    Pinch, PinchPath, Replay, RoundPhoto, SEEN, Start, StartError, compare_measures, costs,
    legs_named, read_as_sewn, seams_apart,
};
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::words::InUnit;
use hangtrue_pattern::{Leg, Pattern};
use std::path::Path;

/// A journal that could not be made.
#[derive(Debug, thiserror::Error)]
pub enum JournalError {
    /// The project has no pattern to start with.
    #[error(transparent)]
    Start(#[from] StartError),
    /// A photo.
    #[error(transparent)]
    Album(#[from] AlbumError),
    /// A picture or the PDF.
    #[error(transparent)]
    Print(#[from] PrintError),
    /// The pattern cannot be read.
    #[error(transparent)]
    Change(#[from] ChangeError),
}

/// A photo in the journal is at most so many pixels long: enough for print at its
/// size there, and the file stays small enough to send.
const LONGEST_PHOTO: usize = 1600;

/// Height of a row of photos, mm.
const PHOTO_HEIGHT: f64 = 92.0;

/// Between two pieces of the picture on the first page, mm of the pattern.
const BETWEEN_PIECES: f64 = 60.0;

/// One round as the journal tells it.
struct Section<'a> {
    /// The round's name; none for what is not closed yet.
    round: Option<&'a str>,
    close: Option<&'a CloseRound>,
    /// The changes that led to its pattern: index and entry.
    changes: Vec<(usize, &'a Entry)>,
    before: &'a Pattern,
    after: &'a Pattern,
}

/// The journal of a project. Photos are put in only when `photos` names the
/// project's file, and of those only the ones that are ticked.
///
/// # Errors
/// [`JournalError`] when the pattern cannot be computed or a ticked photo cannot
/// be read.
pub fn journal(replay: &Replay, photos: Option<&Path>) -> Result<Report, JournalError> {
    let document = replay.document();
    let mut blocks = cover(replay)?;
    let mut read = LastRead::default();
    for section in sections(replay)? {
        blocks.extend(round(replay, &section, photos, &mut read)?);
    }
    Ok(Report {
        paper: Paper::A4,
        title: document.title.clone(),
        client: match document.client.is_empty() {
            true => "Fitting journal".to_owned(),
            false => format!("Fitting journal of {}", document.client),
        },
        blocks,
        foot: "Drawings are not to scale: the old pattern dashed, the new one red.".into(),
    })
}

fn sections(replay: &Replay) -> Result<Vec<Section<'_>>, JournalError> {
    let document = replay.document();
    let mut sections = Vec::new();
    let mut changes = Vec::new();
    let mut before: &Pattern = replay.start()?;
    for (index, entry) in document.changes.iter().enumerate() {
        let Change::CloseRound(close) = &entry.change else {
            changes.push((index, entry));
            continue;
        };
        let after: &Pattern = replay.after(index + 1)?;
        let changes = std::mem::take(&mut changes);
        let round = Some(entry.name.as_str());
        sections.push(Section { round, close: Some(close), changes, before, after });
        before = after;
    }
    let journal = &document.journal;
    let open = !changes.is_empty()
        || !document.pinned.is_empty()
        || journal.notes.iter().any(|n| n.round == OPEN_ROUND)
        || journal.photos.iter().any(|p| p.round == OPEN_ROUND)
        || journal.droops.iter().any(|d| d.round == OPEN_ROUND)
        || journal.signs.iter().any(|s| s.round == OPEN_ROUND);
    if open || sections.is_empty() {
        let after: &Pattern = replay.current()?;
        sections.push(Section { round: None, close: None, changes, before, after });
    }
    Ok(sections)
}

/// The first page: the rounds, the body, the pattern as it stands.
fn cover(replay: &Replay) -> Result<Vec<Block>, JournalError> {
    let document = replay.document();
    let rounds: Vec<(&str, &CloseRound)> = document
        .changes
        .iter()
        .filter_map(|e| match &e.change {
            Change::CloseRound(close) => Some((e.name.as_str(), close)),
            _ => None,
        })
        .collect();
    let lead = match (rounds.first(), rounds.last()) {
        (Some((_, first)), Some((_, last))) if first.date != last.date => format!(
            "{}, from {} to {}.",
            counted(rounds.len(), "fitting"),
            date(&first.date),
            date(&last.date)
        ),
        (Some((_, only)), _) => {
            format!("{}, {}.", counted(rounds.len(), "fitting"), date(&only.date))
        }
        _ => "No fitting is closed yet.".to_owned(),
    };
    let mut blocks = vec![Block::Lead(lead)];
    let drawing = Picture {
        scene: arrange(
            &piece_scenes(replay.current()?, &DrawOptions::default())?,
            f64::INFINITY,
            BETWEEN_PIECES,
        ),
        part: None,
        caption: "the pattern as it stands now, not to scale".into(),
    };
    blocks.push(Block::Pictures { pictures: vec![drawing], height: 78.0 });
    if !rounds.is_empty() {
        blocks.push(Block::Heading("The fittings".into()));
        let rows = rounds
            .iter()
            .map(|(name, close)| vec![(*name).to_owned(), date(&close.date), close.note.clone()]);
        let columns = [("fitting", Align::Left), ("closed", Align::Left), ("note", Align::Left)];
        blocks.push(table(&columns, rows.collect()));
    }
    blocks.extend(body(document));
    Ok(blocks)
}

/// The measures the block was drafted from, in two columns.
fn body(document: &Document) -> Vec<Block> {
    let Start::Block { measures, .. } = &document.start else {
        return vec![Block::Paragraph(
            "The pattern was brought in; no measures of a body were entered.".into(),
        )];
    };
    let rows: Vec<Vec<String>> = measures
        .iter()
        .map(|(measure, mm)| vec![measure.name().to_owned(), show_length(mm, document.unit)])
        .collect();
    let half = rows.len().div_ceil(2);
    let column = |rows: &[Vec<String>]| {
        vec![table(&[("measure", Align::Left), ("of the body", Align::Right)], rows.to_vec())]
    };
    vec![
        Block::Heading("The body".into()),
        Block::Columns(vec![column(&rows[..half]), column(&rows[half..])]),
    ]
}

fn round<'a>(
    replay: &Replay,
    section: &Section<'a>,
    photos: Option<&Path>,
    read: &mut LastRead<'a>,
) -> Result<Vec<Block>, JournalError> {
    let document = replay.document();
    let title = section.round.map_or_else(|| "Since then".to_owned(), sentence_case);
    let under = section.close.map_or_else(
        || "not closed yet".to_owned(),
        |close| format!("closed {}", date(&close.date)),
    );
    let mut blocks = vec![Block::NewPage, Block::Title { title, under }];
    if let Some(close) = section.close
        && !close.note.trim().is_empty()
    {
        blocks.push(Block::Lead(sentence_case(close.note.trim())));
    }
    blocks.extend(changed(replay, section)?);
    let name = section.round.unwrap_or(OPEN_ROUND);
    // Nothing is measured anew where nothing was changed.
    let told = section.round.is_some() || !section.changes.is_empty();
    // States share what did not change: the same pattern has the same measures.
    let same = std::ptr::eq(section.before, section.after);
    let measured = if told && !same {
        let body = document.body();
        [measures(section, document.unit), round_the_body(section, body, document.unit)].concat()
    } else {
        Vec::new()
    };
    let lines = if told { read.lines(section.after, document.unit)? } else { Vec::new() };
    blocks.extend(side_by_side(vec![[measured, notes(document, name)].concat(), lines]));
    if section.round.is_none() {
        let waiting = document.pinned.iter().map(|pinch| {
            let heading = Block::Heading(format!("Pinned, not taken up yet: {}", pinch.name));
            let pins = pins(pinch, section.after, None, document.unit);
            std::iter::once(heading).chain(pins).collect()
        });
        blocks.extend(side_by_side(waiting.collect()));
    }
    blocks.extend(worn(replay, name, photos)?);
    Ok(blocks)
}

/// Groups of blocks two by two beside each other; empty ones take no place.
fn side_by_side(groups: Vec<Vec<Block>>) -> Vec<Block> {
    let groups: Vec<Vec<Block>> = groups.into_iter().filter(|g| !g.is_empty()).collect();
    groups
        .chunks(2)
        .map(|pair| {
            let second = pair.get(1).cloned().unwrap_or_default();
            Block::Columns(vec![pair[0].clone(), second])
        })
        .collect()
}

/// What was changed for this toile: each pinch with its pins and a picture, the
/// rest as a list.
fn changed(replay: &Replay, section: &Section<'_>) -> Result<Vec<Block>, JournalError> {
    let unit = replay.document().unit;
    let mut groups: Vec<Vec<Block>> = Vec::new();
    let mut rest: Vec<Vec<String>> = Vec::new();
    let mut lines: Vec<&str> = Vec::new();
    let mut trued = 0;
    for (index, entry) in &section.changes {
        let applied = &replay.states()[*index].applied;
        let (leg, change) = match &entry.change {
            Change::OneLeg(one) => (Some(one.leg), &*one.change),
            change => (None, change),
        };
        match (change, applied) {
            (Change::Pinch(pinched), Applied::Done(effect)) => {
                let before = replay.after(*index)?;
                let mut group = vec![Block::Heading(format!(
                    "{}, by {}",
                    sentence_case(&entry.name),
                    pinched.method.name()
                ))];
                group.extend(pins(&pinched.pinch, before, leg, unit));
                let left: Vec<String> =
                    effect.residue.iter().map(|r| r.sentence().in_unit(unit) + ".").collect();
                if !left.is_empty() {
                    group.push(Block::Paragraph(left.join(" ")));
                }
                groups.push(group);
            }
            (Change::MarkLine(mark), Applied::Done(_)) => {
                if !lines.contains(&mark.line.name.as_str()) {
                    lines.push(&mark.line.name);
                }
            }
            (
                Change::TrueCorner(_) | Change::TrueLength(_) | Change::TrueDart(_),
                Applied::Done(_),
            ) => trued += 1,
            (_, applied) => {
                let words = entry.change.words(unit);
                rest.push(vec![match applied {
                    Applied::Done(_) => words,
                    Applied::Off => format!("{words} (switched off)"),
                    Applied::Failed(why) => format!("{words} (not made: {why})"),
                }]);
            }
        }
    }
    if !lines.is_empty() {
        rest.insert(0, vec![format!("Lines marked: {}", lines.join(", "))]);
    }
    if trued > 0 {
        rest.push(vec![format!("{} trued", counted(trued, "seam or corner"))]);
    }
    if !rest.is_empty() {
        let heading = if groups.is_empty() { "Done" } else { "Besides" };
        groups.push(vec![table(&[(heading, Align::Left)], rest)]);
    }
    let mut blocks = side_by_side(groups);
    let pictures = pictures(section)?;
    if !pictures.is_empty() {
        blocks.push(Block::Pictures { pictures, height: 62.0 });
    }
    Ok(blocks)
}

/// A piece whose seams all run within this of where they ran is not pictured, mm.
const PICTURED: f64 = 0.5;

/// Every piece whose outline changed, old under new.
fn pictures(section: &Section<'_>) -> Result<Vec<Picture>, PrintError> {
    if std::ptr::eq(section.before, section.after) {
        return Ok(Vec::new());
    }
    let old = section.before.apart_like(section.after);
    let mut pictures = Vec::new();
    for piece in &section.after.pieces {
        let same = old.piece(&piece.name).is_ok_and(|was| {
            was.seams.len() == piece.seams.len()
                && was.seams.iter().zip(&piece.seams).all(|(a, b)| seams_apart(a, b) < PICTURED)
        });
        if !same {
            pictures.push(Picture {
                scene: before_after(&old, section.after, &[piece.name.as_str()])?,
                part: None,
                caption: piece.name.clone(),
            });
        }
    }
    Ok(pictures)
}

/// The pins of a pinch as they lay on the pattern it was measured on.
fn pins(pinch: &Pinch, pattern: &Pattern, leg: Option<Leg>, unit: Unit) -> Vec<Block> {
    let on = match leg {
        Some(leg) => vec![(Some(leg), std::borrow::Cow::Owned(pattern.one_leg(leg)))],
        None => legs_named(pattern, &pinch.piece),
    };
    let legs = match on.as_slice() {
        [(None, _)] => String::new(),
        [(Some(leg), _)] => format!(" of the {} leg", leg.word()),
        _ => " of both legs".to_owned(),
    };
    let along = match &pinch.path {
        PinchPath::Line(line) => format!("along the {line} line"),
        PinchPath::Across { .. } => "straight across".to_owned(),
    };
    let mut blocks =
        vec![Block::Paragraph(format!("Pinned {along} on the {}{legs}.", pinch.piece))];
    // Both legs were pinned alike; the table is of the first.
    if let Some((_, pattern)) = on.first()
        && let Ok(laid) = pinch.lay(pattern)
    {
        let whole = laid.path.length();
        let rows = laid.stations.iter().map(|&(at, amount)| {
            vec![show_length(at, unit), show_length(whole - at, unit), show_length(amount, unit)]
        });
        let [first, second] = [0, 1].map(|i| format!("from the {}", laid.ends[i].seam));
        let columns = [
            (first.as_str(), Align::Right),
            (second.as_str(), Align::Right),
            ("taken", Align::Right),
        ];
        blocks.push(table(&columns, rows.collect()));
    }
    blocks
}

/// What the changes did to the measures.
fn measures(section: &Section<'_>, unit: Unit) -> Vec<Block> {
    // A page has room for lengths, not for areas and angles.
    let seen = |c: &Compared| c.change().abs() >= SEEN && c.measure.is_length();
    let rows: Vec<Vec<String>> = compare_measures(section.before, section.after)
        .into_iter()
        .filter(seen)
        .map(|c| {
            let shown = c.shown(unit, SEEN);
            vec![shown.measure, shown.before, shown.after, shown.change]
        })
        .collect();
    if rows.is_empty() {
        return Vec::new();
    }
    let heads = [
        ("measure", Align::Left),
        ("before", Align::Right),
        ("after", Align::Right),
        ("change", Align::Right),
    ];
    vec![Block::Heading("Changed measures".into()), table(&heads, rows)]
}

/// What the changes cost round the body, and the ease left.
fn round_the_body(section: &Section<'_>, body: Option<&Measures>, unit: Unit) -> Vec<Block> {
    let costs = costs(section.before, section.after, body);
    if costs.is_empty() {
        return Vec::new();
    }
    let rows = costs.iter().map(|cost| cost.row(unit).to_vec());
    let heads = [
        ("place", Align::Left),
        ("before", Align::Right),
        ("after", Align::Right),
        ("ease left", Align::Right),
    ];
    let mut blocks = vec![Block::Heading("Round the body".into()), table(&heads, rows.collect())];
    for cost in costs.iter().filter(|c| c.takes_much()) {
        blocks.push(Block::Paragraph(cost.words().in_unit(unit)));
    }
    blocks
}

/// The lines of the pattern read last: rounds that changed nothing share it.
#[derive(Default)]
struct LastRead<'a> {
    last: Option<(&'a Pattern, Vec<Block>)>,
}

impl<'a> LastRead<'a> {
    fn lines(&mut self, pattern: &'a Pattern, unit: Unit) -> Result<Vec<Block>, ChangeError> {
        if let Some((last, blocks)) = &self.last
            && std::ptr::eq(*last, pattern)
        {
            return Ok(blocks.clone());
        }
        let blocks = lines(pattern, unit)?;
        self.last = Some((pattern, blocks.clone()));
        Ok(blocks)
    }
}

/// How the lines on the cloth hang as sewn.
fn lines(pattern: &Pattern, unit: Unit) -> Result<Vec<Block>, ChangeError> {
    let rows: Vec<Vec<String>> = read_as_sewn(pattern)?
        .into_iter()
        .filter(|r| r.on_cloth)
        .map(|r| vec![r.line.clone(), r.join.clone(), step(r.step, unit), bend(&r, unit)])
        .collect();
    if rows.is_empty() {
        return Ok(Vec::new());
    }
    let heads = [
        ("line", Align::Left),
        ("at", Align::Left),
        ("meets", Align::Right),
        ("bends", Align::Right),
    ];
    Ok(vec![Block::Heading("The lines as sewn".into()), table(&heads, rows)])
}

/// What was seen, and what was decided.
fn notes(document: &Document, round: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (kind, heading) in [(NoteKind::Seen, "Seen"), (NoteKind::Decided, "Decided")] {
        let notes: Vec<&str> = document.journal.notes_of(round, kind).collect();
        if !notes.is_empty() {
            blocks.push(Block::Heading(heading.into()));
            blocks.extend(notes.into_iter().map(|n| Block::Paragraph(sentence_case(n))));
        }
    }
    blocks
}

/// How the toile was worn: how far its lines hung from level, and the ticked
/// photos with that drawn over them.
fn worn(replay: &Replay, round: &str, project: Option<&Path>) -> Result<Vec<Block>, JournalError> {
    let document = replay.document();
    let journal = &document.journal;
    let signs = journal.signs_of(round);
    let hung =
        journal.photos_of(round).next().is_some() || journal.droops_of(round).next().is_some();
    if !hung && signs.is_empty() {
        return Ok(Vec::new());
    }
    let toile = replay.toile(round).ok();
    let mut blocks = droops(document, toile.map(|t| &**t), round, project);
    blocks.extend(looked_for(&signs));
    if let Some(project) = project {
        let ticked = document.journal.photos_of(round).filter(|p| p.in_journal);
        let photos: Result<Vec<Photo>, JournalError> =
            ticked.map(|p| photo(project, p, toile.map(|t| &**t), document.unit)).collect();
        let photos = photos?;
        if !photos.is_empty() {
            blocks.push(Block::Heading("As worn".into()));
            blocks.push(Block::Photos { photos, height: PHOTO_HEIGHT });
        }
    }
    Ok(blocks)
}

/// Which signs were looked for, and which were there.
fn looked_for(signs: &[Looked]) -> Vec<Block> {
    if signs.is_empty() {
        return Vec::new();
    }
    let said = |seen: bool, head: &str, words: fn(&Looked) -> String| {
        let all: Vec<String> = signs.iter().filter(|l| l.seen == seen).map(words).collect();
        (!all.is_empty()).then(|| Block::Paragraph(format!("{head}: {}.", all.join(", "))))
    };
    let seen = said(true, "Seen", Looked::words);
    let absent = said(false, "Looked for and not there", |l| l.sign.name().to_owned());
    let heading = Block::Heading("Folds, drag lines, seams from the side".into());
    std::iter::once(heading).chain(seen).chain(absent).collect()
}

/// How far the lines hung from level, line by line: as typed, and as read from the
/// marked photos when these are at hand.
fn droops(
    document: &Document,
    toile: Option<&Pattern>,
    round: &str,
    project: Option<&Path>,
) -> Vec<Block> {
    let all = match (toile, project) {
        (Some(toile), Some(project)) => round_droops(document, Some(project), toile, round),
        _ => gathered(document.journal.droops_of(round), &[]),
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    for line in HangLine::ALL {
        for (view, leg) in
            PieceView::ALL.into_iter().flat_map(|v| reading::Leg::BOTH.map(|l| (v, l)))
        {
            let of_line = |d: &&Droop| (d.line, d.view, d.leg) == (line, view, leg);
            let told: Vec<&Droop> = all.droops.iter().filter(of_line).collect();
            if !told.is_empty() {
                let name = format!("{}, {} of the {} leg", line.name(), view.piece(), leg.word());
                rows.push(
                    std::iter::once(name).chain(ends_and_between(&told, document.unit)).collect(),
                );
            }
        }
    }
    if rows.is_empty() {
        return Vec::new();
    }
    let heads = [
        ("line", Align::Left),
        ("at the inner end", Align::Right),
        ("most between", Align::Right),
        ("at the side", Align::Right),
    ];
    let mut blocks = vec![Block::Heading("How the lines hung".into()), table(&heads, rows)];
    let notes = all.notes.iter().map(|n| sentence_case(&n.in_unit(document.unit)));
    blocks.extend(notes.map(|n| Block::Paragraph(format!("{n}."))));
    blocks
}

/// A station this near an end of its line is that end (share of the line).
const AT_END: f64 = 0.06;

/// What a line does at its ends, and where it hangs farthest off between them.
fn ends_and_between(told: &[&Droop], unit: Unit) -> [String; 3] {
    let words = |d: &Droop| hang_words(d.mm, d.error, unit);
    let at = |end: f64| told.iter().find(|d| (d.at - end).abs() <= AT_END).map(|d| words(d));
    let inner = |d: &&&Droop| d.at > AT_END && d.at < 1.0 - AT_END;
    let most = told.iter().filter(inner).max_by(|a, b| a.mm.abs().total_cmp(&b.mm.abs()));
    let between = most.map(|d| format!("{}, at {:.0} %", words(d), 100.0 * d.at));
    [at(0.0), between, at(1.0)].map(Option::unwrap_or_default)
}

/// A kept photo, small enough for the page and encoded anew, so that not even a
/// file somebody put in the folder by hand brings anything but pixels along. What
/// its marks tell is drawn over it; marks that are not whole yet are left out.
fn photo(
    project: &Path,
    photo: &RoundPhoto,
    toile: Option<&Pattern>,
    unit: Unit,
) -> Result<Photo, JournalError> {
    let whole = album::kept(project, &photo.file, usize::MAX)?;
    let read = toile.filter(|_| photo.marks.is_some()).map(|t| read_photo(photo, &whole, t));
    let picture = match read {
        Some(Ok(read)) => overlaid(&whole, &read, unit, LONGEST_PHOTO, FOR_PRINT)
            .map_err(|source| AlbumError::Photo { path: photo.file.clone().into(), source })?,
        _ => whole.reduced(LONGEST_PHOTO).0,
    };
    let caption = match photo.caption.trim() {
        "" => photo.view.word().to_owned(),
        caption => format!("{}: {caption}", photo.view.word()),
    };
    Ok(Photo {
        jpeg: album::as_jpeg(&picture)?,
        width: picture.width(),
        height: picture.height(),
        caption,
    })
}

fn counted(count: usize, what: &str) -> String {
    match (count, what) {
        (1, _) => format!("1 {what}"),
        (_, "seam or corner") => format!("{count} seams and corners"),
        _ => format!("{count} {what}s"),
    }
}

/// The words with their first letter large.
fn sentence_case(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A date year-month-day as a person writes it; anything else as it stands.
fn date(text: &str) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let parts: Vec<&str> = text.split('-').collect();
    let written = || {
        let [year, month, day] = parts[..] else { return None };
        let month = MONTHS.get(month.parse::<usize>().ok()?.checked_sub(1)?)?;
        Some(format!("{} {month} {year}", day.parse::<u32>().ok()?))
    };
    written().unwrap_or_else(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::{counted, date, sentence_case};

    #[test]
    fn dates_and_words_read_as_people_write_them() {
        assert_eq!(date("2026-11-05"), "5 November 2026");
        assert_eq!(date("some day"), "some day");
        assert_eq!(date("2026-13-05"), "2026-13-05");
        assert_eq!(sentence_case("élan vital"), "Élan vital");
        assert_eq!(counted(3, "seam or corner"), "3 seams and corners");
    }
}
