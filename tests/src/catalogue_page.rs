//! The page of the manual about the catalogue of corrections, with a picture of
//! each, made by the program itself so that neither can grow old.

use hangtrue_adjust::{CATALOGUE, Change, MarkLine, Outcome, UsualDepths, usual_lines};
use hangtrue_geometry::{PathSeg, Point, Rect};
use hangtrue_pattern::markings::outline_with_darts;
use hangtrue_pattern::measures::Measures;
use hangtrue_pattern::units::{Unit, show_length};
use hangtrue_pattern::words::capital;
use hangtrue_pattern::{Pattern, Piece, Plan, draft, names};
use std::fmt::Write;

/// A file of the manual and its text.
#[derive(Debug)]
pub struct Page {
    /// Path below `docs`.
    pub path: String,
    /// The whole text.
    pub text: String,
}

/// Why the page cannot be made, in words.
pub type Fault = Box<dyn std::error::Error>;

/// The invented client of the demo; the file says so itself.
const MEASURES: &str = include_str!("../../assets/demo/measures.ron");

const HEAD: &str = "\
# The catalogue of corrections

Each correction is one change of the document: it can be switched off, moved, taken out and
made again. `hangtrue correct PROJECT --list` shows them;
`hangtrue correct PROJECT \"full seat\" --amount 1/2` makes one.

**What all of them do.** Seams that are sewn together match as they did: where one side has
grown, the other follows at the hem. Notches that meet move by the same distance. Lines square
to the grain stay at their level. Lines for the cloth stay on their cloth, and it is said where
their rule would lay them otherwise. What a correction keeps, it keeps to
0.1 mm, or it is refused by name and the pattern stays as it is. Up to three times the usual
amount is accepted as long as the piece can be drawn. A minus takes the other way. Corrections
that change different pieces only give the same pattern in any order.

**Source.** What each correction is for is common practice in the trade, with no published
source. How it is drawn, and the usual amounts, are ours; the amounts are from memory.

**Pictures.** Each shows the largest usual amount on the block of an invented person (Maren
Oleander of the demo), cut to where something changes: the old outline dashed, the new one
drawn; red is taken away, green is added. They and this page are written by the program
(`cargo run -p hangtrue-tests --example catalogue_page`), and a test compares them.
";

/// The page and all pictures.
///
/// # Errors
/// When the demo's block cannot be drafted or a correction cannot be made on it.
pub fn catalogue_pages() -> Result<Vec<Page>, Fault> {
    let block = block()?;
    let mut text = HEAD.to_owned();
    let mut pages = Vec::new();
    for listed in CATALOGUE {
        let about = listed.about;
        let correction = (listed.with)(about.range.1);
        let made = Change::Correct(correction.clone()).apply(&block)?;
        let picture = format!("pictures/corrections/{}.svg", about.name.replace(' ', "-"));
        write!(text, "\n## {}\n\n![before and after]({picture})\n\n", capital(about.name))?;
        writeln!(text, "It {}.\n", about.what)?;
        let (low, high) = (both_units(about.range.0), both_units(about.range.1));
        writeln!(text, "- **Amount:** {}; usually {low} to {high}.", about.amount)?;
        if listed_at_a_dart(about.name) {
            writeln!(
                text,
                "- **Also:** the piece and the dart; else the one nearest the centre back."
            )?;
        }
        writeln!(text, "- **Effect:** {}", about.effect)?;
        writeln!(text, "- **Keeps:** {}.", kept(&made))?;
        writeln!(text, "- **In the picture:** {}; {}.", both_units(about.range.1), changed(&made))?;
        for note in &made.notes {
            writeln!(text, "- **It says:** {note}")?;
        }
        let back = if about.inverse {
            "the opposite amount brings the pattern back."
        } else {
            "take it out of the list; there is no opposite amount."
        };
        writeln!(text, "- **Undoing:** {back}")?;
        pages
            .push(Page { path: picture, text: picture_of(&block, &made.pattern, about.works_on)? });
    }
    pages.push(Page { path: "corrections.md".into(), text });
    Ok(pages)
}

fn block() -> Result<Pattern, Fault> {
    let measures: Measures = ron::from_str(MEASURES)?;
    let mut pattern = draft(&measures, &Plan::default())?.pattern;
    for line in usual_lines(&pattern, UsualDepths::default())? {
        pattern = Change::MarkLine(MarkLine { line }).apply(&pattern)?.pattern;
    }
    Ok(pattern)
}

fn listed_at_a_dart(name: &str) -> bool {
    name.starts_with("dart ")
}

fn both_units(mm: f64) -> String {
    format!("{} ({})", show_length(mm, Unit::Mm), show_length(mm, Unit::Sixteenths))
}

/// What was promised, seam by seam in words.
fn kept(made: &Outcome) -> String {
    let mut words: Vec<String> = Vec::new();
    for piece in [names::BACK, names::FRONT] {
        let on_piece = made.kept.iter().filter(|k| k.measure.piece() == Some(piece));
        let seams: Vec<String> = on_piece.map(|k| k.measure.what()).collect();
        if !seams.is_empty() {
            words.push(format!("{} of the {piece}", listed(&seams)));
        }
    }
    let whole = made.kept.iter().filter(|k| k.measure.piece().is_none());
    words.extend(whole.map(|k| k.measure.to_string()));
    words.join("; ")
}

fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// The lengths that changed most.
fn changed(made: &Outcome) -> String {
    /// Lengths named at most.
    const MOST: usize = 4;
    let mut rows: Vec<_> = made.changed.iter().filter(|c| c.measure.is_length()).collect();
    rows.sort_by(|a, b| b.change().abs().total_cmp(&a.change().abs()));
    let worth = |c: &&&hangtrue_adjust::Compared| c.change().abs() >= 0.05;
    let rows = rows.iter().take(MOST).filter(worth);
    let words: Vec<String> =
        rows.map(|c| format!("{} {:+.1} mm", c.measure, c.change()).replace(" -", " −")).collect();
    if words.is_empty() { "no length changes".to_owned() } else { words.join(", ") }
}

/// Height of a panel and the most its width may be, in the picture's pixels.
const PANEL: (f64, f64) = (300.0, 300.0);

/// Margin round what changes, mm.
const MARGIN: f64 = 45.0;

/// A panel shows at least this much, mm.
const LEAST: f64 = 190.0;

/// A point has changed when it moved by this share of what moved most …
const SEEN: f64 = 0.15;

/// … and by at least this, mm.
const LEAST_SEEN: f64 = 0.3;

fn picture_of(before: &Pattern, after: &Pattern, pieces: &[&str]) -> Result<String, Fault> {
    let mut panels = Vec::new();
    for name in pieces {
        panels.push((*name, window(before.piece(name)?, after.piece(name)?)));
    }
    let largest = |f: fn(&Rect) -> f64| panels.iter().map(|(_, r)| f(r)).fold(1.0, f64::max);
    let scale = (PANEL.0 / largest(Rect::height)).min(PANEL.1 / largest(Rect::width));
    let tall = scale * largest(Rect::height);
    let mut x = 8.0;
    let mut body = String::new();
    for (name, shown) in &panels {
        let (width, height) = (scale * shown.width(), scale * shown.height());
        writeln!(
            body,
            "<svg x=\"{x:.0}\" y=\"8\" width=\"{width:.0}\" height=\"{height:.0}\" viewBox=\"0 0 {:.0} {:.0}\">",
            shown.width(),
            shown.height()
        )?;
        body += &panel(before, after, name, shown, 1.0 / scale)?;
        writeln!(body, "</svg>")?;
        writeln!(
            body,
            "<text x=\"{:.0}\" y=\"{:.0}\" text-anchor=\"middle\">{name}</text>",
            x + 0.5 * width,
            tall + 26.0
        )?;
        x += width + 16.0;
    }
    let (width, height) = (x - 8.0, tall + 34.0);
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width:.0}\" height=\"{height:.0}\" viewBox=\"0 0 {width:.0} {height:.0}\" font-family=\"serif\" font-size=\"14\">\n<rect width=\"100%\" height=\"100%\" fill=\"#fffdf8\"/>\n{body}</svg>\n"
    ))
}

/// What a panel shows: where something changes, with a margin, inside the piece.
fn window(before: &Piece, after: &Piece) -> Rect {
    let mut moved: Vec<(Point, f64)> = Vec::new();
    for (one, other) in [(before, after), (after, before)] {
        for part in one.seams.iter().flat_map(|s| &s.parts) {
            for i in 0..=60 {
                let p = part.point_at(part.length() * f64::from(i) / 60.0);
                moved.push((p, other.nearest(p).map_or(0.0, |n| n.2)));
            }
        }
        // A dart whose mouth has moved is shown whole.
        for (seam, i, dart) in one.darts() {
            moved.push((dart.apex, other.nearest(seam.parts[i].end()).map_or(0.0, |n| n.2)));
        }
    }
    let most = moved.iter().map(|m| m.1).fold(0.0, f64::max);
    let seen = (SEEN * most).max(LEAST_SEEN);
    let here = moved.iter().filter(|m| m.1 > seen).map(|m| Rect::from_points(m.0, m.0));
    let whole = before.bounds().union(after.bounds()).inflate(12.0, 12.0);
    let shown = here.reduce(|a, b| a.union(b)).unwrap_or(whole).inflate(MARGIN, MARGIN);
    let grow = |size: f64| (0.5 * (LEAST - size)).max(0.0);
    shown.inflate(grow(shown.width()), grow(shown.height())).intersect(whole)
}

fn panel(
    before: &Pattern,
    after: &Pattern,
    name: &str,
    shown: &Rect,
    px: f64,
) -> Result<String, Fault> {
    let (old, new) = (path(before.piece(name)?, shown), path(after.piece(name)?, shown));
    let mut out = String::new();
    writeln!(out, "<clipPath id=\"{name}\"><path d=\"{old}\"/></clipPath>")?;
    writeln!(out, "<path d=\"{old}\" fill=\"#e7a99a\"/>")?;
    writeln!(out, "<path d=\"{new}\" fill=\"#a9cfae\"/>")?;
    writeln!(out, "<path d=\"{new}\" fill=\"#ffffff\" clip-path=\"url(#{name})\"/>")?;
    for line in after.lines.iter().filter(|l| l.piece == name) {
        let chain = after.place_chain(name, &line.name)?;
        let d = segments_of(chain.segments(), shown);
        writeln!(
            out,
            "<path d=\"{d}\" fill=\"none\" stroke=\"#b9b2a6\" stroke-width=\"{:.2}\"/>",
            0.8 * px
        )?;
    }
    writeln!(
        out,
        "<path d=\"{old}\" fill=\"none\" stroke=\"#7d766b\" stroke-width=\"{:.2}\" stroke-dasharray=\"{:.1} {:.1}\"/>",
        px,
        4.0 * px,
        3.0 * px
    )?;
    writeln!(
        out,
        "<path d=\"{new}\" fill=\"none\" stroke=\"#22303c\" stroke-width=\"{:.2}\"/>",
        1.6 * px
    )?;
    Ok(out)
}

/// The outline with its darts, in the panel's millimetres, y down.
fn path(piece: &Piece, shown: &Rect) -> String {
    let segments: Vec<PathSeg> = outline_with_darts(piece).segments().collect();
    segments_of(&segments, shown) + "Z"
}

fn segments_of(segments: &[PathSeg], shown: &Rect) -> String {
    let first = segments.first().map(|s| command('M', &[s.to_cubic().p0], shown));
    first.unwrap_or_default() + &drawn(segments, shown)
}

fn drawn(segments: &[PathSeg], shown: &Rect) -> String {
    let one = |s: &PathSeg| match s {
        PathSeg::Line(l) => command('L', &[l.p1], shown),
        _ => {
            let c = s.to_cubic();
            command('C', &[c.p1, c.p2, c.p3], shown)
        }
    };
    segments.iter().map(one).collect()
}

fn command(letter: char, points: &[Point], shown: &Rect) -> String {
    let words: Vec<String> =
        points.iter().map(|p| format!("{:.1} {:.1}", p.x - shown.x0, shown.y1 - p.y)).collect();
    format!("{letter}{} ", words.join(" "))
}
