//! From lines, points and words to pieces.

use super::loops::{closed_exactly, is_closed, linked};
use super::seam_names::{by_note, numbered, trouser};
use super::{ExchangeError, Found, Label, Role, Run, Spot, SpotKind, corners, darts, limits};
use hangtrue_geometry::{Chain, Point, Rect, winding};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use hangtrue_pattern::{
    End, Grain, InnerLine, Join, JoinSide, Notch, NotchKind, Pattern, Piece, Seam, names,
};
use std::collections::{BTreeMap, BTreeSet};

/// Notches nearer to each other than this are one double notch, mm.
const DOUBLE: f64 = 6.5;
/// A notch this far from the sew line belongs to none, mm: the widest allowance
/// that is cut by custom, with room.
const NOTCH_REACH: f64 = 45.0;
/// An outline smaller than this across is a drill hole or a mark, mm.
const SMALLEST: f64 = 20.0;

/// Makes the pieces of all that was found and says what is kept; what cannot be
/// used is added to the list of what is lost.
pub(crate) fn pieces_of(found: &mut Found) -> Result<(Pattern, Vec<Words>), ExchangeError> {
    let most = limits::MOST_LINES;
    if found.runs.len() > most {
        return Err(ExchangeError::TooMany { what: "lines", most });
    }
    if found.spots.len() + found.labels.len() > most {
        return Err(ExchangeError::TooMany { what: "points and words", most });
    }
    let mut pattern = Pattern::default();
    let mut kept = Vec::new();
    let mut read = BTreeSet::new();
    for (group, part) in parts_of(found) {
        let outlines = outlines_of(found, &part)?;
        let alone = outlines.len() == 1;
        let (taken, free) = take(&part, &outlines);
        for (outline, mut taken) in outlines.iter().zip(taken) {
            let label = name_of(&taken.labels, &group, alone, pattern.pieces.len());
            let open = lay_open(found, &mut taken, outline, &label);
            let outline = open.as_ref().unwrap_or(outline);
            read.extend(said_by(&taken.labels, &label));
            let piece = piece_of(found, &mut taken, outline, &label)?;
            let piece = with_free_name(piece, &pattern);
            kept.push(in_words(&piece));
            pattern.pieces.push(piece.into());
        }
        for run in free {
            found.lose(format!("a line that lies in no piece{}", called(&run.name)));
        }
    }
    if pattern.pieces.is_empty() {
        return Err(ExchangeError::NoOutline);
    }
    lose_words(found, &read);
    pattern.joins = joins_of(&pattern).into();
    for join in &pattern.joins {
        kept.push(words!["the seam “", &join.name, "”, proposed by the names of the seams"]);
    }
    pattern.check()?;
    Ok((pattern, kept))
}

/// Different words that are listed one by one; the rest are counted together.
const WORDS_LISTED: usize = 12;

/// Words that gave no piece its name and no drawing its unit are not kept.
fn lose_words(found: &mut Found, read: &BTreeSet<String>) {
    let mut lost: BTreeMap<String, usize> = BTreeMap::new();
    for label in &found.labels {
        let text = label.text.trim();
        if !read.contains(text) && !text.to_uppercase().starts_with("UNITS:") {
            *lost.entry(text.chars().take(60).collect()).or_insert(0) += 1;
        }
    }
    for (index, (text, count)) in lost.into_iter().enumerate() {
        let what = if index < WORDS_LISTED {
            format!("the words “{text}”")
        } else {
            "other words".to_owned()
        };
        *found.lost.entry(what).or_insert(0) += count;
    }
}

/// What lies in one group or block.
#[derive(Default)]
struct GroupPart {
    /// The lines, each with the point halfway along it.
    runs: Vec<(Run, Point)>,
    spots: Vec<Spot>,
    labels: Vec<Label>,
}

fn parts_of(found: &Found) -> BTreeMap<String, GroupPart> {
    let mut parts: BTreeMap<String, GroupPart> = BTreeMap::new();
    for run in &found.runs {
        let middle = run.chain.point_at(run.chain.length() / 2.0);
        parts.entry(run.group.clone()).or_default().runs.push((run.clone(), middle));
    }
    for spot in &found.spots {
        parts.entry(spot.group.clone()).or_default().spots.push(spot.clone());
    }
    for label in &found.labels {
        parts.entry(label.group.clone()).or_default().labels.push(label.clone());
    }
    parts
}

fn called(name: &str) -> String {
    if name.is_empty() { String::new() } else { format!(" (“{name}”)") }
}

/// The outlines of a group: its sew lines if they close, else its boundaries,
/// else every closed line that lies in no other.
fn outlines_of(found: &mut Found, part: &GroupPart) -> Result<Vec<Run>, ExchangeError> {
    let of = |role: Role| -> Vec<Run> {
        part.runs.iter().filter(|r| r.0.role == role).map(|r| r.0.clone()).collect()
    };
    let mut outlines = Vec::new();
    for role in [Role::Sew, Role::Boundary, Role::Unsaid] {
        outlines = closed_runs(&of(role));
        if !outlines.is_empty() {
            break;
        }
    }
    outlines.retain(|r| large(&r.chain));
    if outlines.len() > limits::MOST_OUTLINES {
        let most = limits::MOST_OUTLINES;
        return Err(ExchangeError::TooMany { what: "closed outlines", most });
    }
    let segments: usize = outlines.iter().map(|r| r.chain.segments().len()).sum();
    let things = part.runs.len() + part.spots.len() + part.labels.len();
    if segments.saturating_mul(things) > limits::MOST_COMPARED {
        let most = limits::MOST_COMPARED / segments.max(1);
        return Err(ExchangeError::TooMany {
            what: "lines and points about such long outlines",
            most,
        });
    }
    // A doubled line is one outline.
    let mut single: Vec<Run> = Vec::new();
    for run in outlines {
        let same = |o: &Run| {
            let (a, b) = (o.chain.bounds(), run.chain.bounds());
            (a.x0 - b.x0).abs() + (a.y0 - b.y0).abs() + (a.x1 - b.x1).abs() + (a.y1 - b.y1).abs()
                < 0.1
        };
        if single.iter().any(same) {
            found.lose("an outline drawn twice");
        } else {
            single.push(run);
        }
    }
    let inside = |run: &Run| {
        let p = run.chain.start();
        single.iter().any(|o| {
            !std::ptr::eq(o, run)
                && o.chain.bounds().area() > run.chain.bounds().area()
                && contains(&o.chain, p)
        })
    };
    let out: Vec<Run> = single.iter().filter(|r| !inside(r)).cloned().collect();
    if let Some(long) = out.iter().find(|r| r.chain.segments().len() > limits::MOST_SEGMENTS) {
        return Err(ExchangeError::Outline {
            piece: long.name.clone(),
            why: format!("it has more than {} segments", limits::MOST_SEGMENTS),
        });
    }
    Ok(out)
}

fn large(chain: &Chain) -> bool {
    chain.bounds().width().max(chain.bounds().height()) >= SMALLEST
}

fn closed_runs(runs: &[Run]) -> Vec<Run> {
    let whole = runs.iter().filter(|r| is_closed(&r.chain));
    let mut out: Vec<Run> = whole.cloned().collect();
    let open: Vec<Chain> =
        runs.iter().filter(|r| !is_closed(&r.chain)).map(|r| r.chain.clone()).collect();
    let name = |chain: &Chain| {
        let at = chain.start();
        let on = |r: &&Run| r.chain.start().distance(at).min(r.chain.end().distance(at)) < 1e-6;
        runs.iter().find(on).cloned()
    };
    let closed = linked(&open).into_iter().filter(|c| is_closed(c) && large(c));
    for chain in closed.take(limits::MOST_OUTLINES + 1) {
        if let Some(run) = name(&chain) {
            out.push(Run { chain, seams: None, ..run });
        }
    }
    out.retain_mut(|run| match closed_exactly(&run.chain) {
        Some(chain) => {
            run.chain = chain;
            true
        }
        None => false,
    });
    out
}

fn contains(outline: &Chain, p: Point) -> bool {
    let mut path = outline.to_path();
    path.close_path();
    winding(&path, p) != 0
}

/// What lies in an outline.
#[derive(Default)]
struct Taken {
    runs: Vec<Run>,
    labels: Vec<Label>,
    turns: Vec<Point>,
    notches: Vec<Point>,
}

fn same_line(a: &Run, b: &Run) -> bool {
    a.role == b.role && a.chain.start() == b.chain.start() && a.chain.end() == b.chain.end()
}

/// The outline a place belongs to: the one round it, else the nearest in reach.
fn owner(outlines: &[Run], at: Point) -> Option<usize> {
    if outlines.len() == 1 {
        return Some(0);
    }
    let near = |o: &Run| o.chain.bounds().inflate(NOTCH_REACH, NOTCH_REACH).contains(at);
    let close = || outlines.iter().enumerate().filter(|(_, o)| near(o));
    if let Some((index, _)) = close().find(|(_, o)| contains(&o.chain, at)) {
        return Some(index);
    }
    let off = |o: &Run| o.chain.nearest_within(at, NOTCH_REACH).map(|n| n.distance);
    let distances = close().filter_map(|(i, o)| Some((i, off(o)?)));
    distances.min_by(|a, b| a.1.total_cmp(&b.1)).map(|n| n.0)
}

/// What lies in or by each outline, and the lines that lie by none.
fn take(part: &GroupPart, outlines: &[Run]) -> (Vec<Taken>, Vec<Run>) {
    let mut taken: Vec<Taken> = outlines.iter().map(|_| Taken::default()).collect();
    let mut free = Vec::new();
    for (run, middle) in &part.runs {
        if outlines.iter().any(|o| same_line(o, run)) {
            continue;
        }
        match owner(outlines, *middle).and_then(|i| taken.get_mut(i)) {
            Some(t) => t.runs.push(run.clone()),
            None => free.push(run.clone()),
        }
    }
    for label in &part.labels {
        let holds = |o: &Run| outlines.len() == 1 || contains(&o.chain, label.at);
        if let Some(index) = outlines.iter().position(holds) {
            taken[index].labels.push(label.clone());
        }
    }
    for spot in &part.spots {
        let Some(t) = owner(outlines, spot.at).and_then(|i| taken.get_mut(i)) else { continue };
        match spot.kind {
            SpotKind::Turn => t.turns.push(spot.at),
            SpotKind::Notch => t.notches.push(spot.at),
            SpotKind::Curve => {}
        }
    }
    (taken, free)
}

/// A piece drawn half beside its mirror line, whole; what lies in it is doubled.
fn lay_open(found: &mut Found, taken: &mut Taken, half: &Run, name: &str) -> Option<Run> {
    let at = taken.runs.iter().position(|r| r.role == Role::Mirror)?;
    let (chain, mirror) = super::mirror::laid_open(&half.chain, &taken.runs[at].chain)?;
    taken.runs.remove(at);
    let doubled = |r: &&Run| !matches!(r.role, Role::Grain | Role::Mirror | Role::Boundary);
    let images: Vec<Run> = taken
        .runs
        .iter()
        .filter(doubled)
        .map(|r| Run { chain: r.chain.moved(mirror), ..r.clone() })
        .collect();
    taken.runs.extend(images);
    for places in [&mut taken.turns, &mut taken.notches] {
        let images: Vec<Point> = places.iter().map(|p| mirror * *p).collect();
        let new = |p: &Point| !places.iter().any(|there| there.distance(*p) < 0.1);
        let images: Vec<Point> = images.into_iter().filter(new).collect();
        places.extend(images);
    }
    found
        .notes
        .push(format!("the {name} was drawn half, beside a mirror line; it is laid open").into());
    Some(Run { chain, seams: None, ..half.clone() })
}

/// What stands before the name of a piece in a sewn-products file (ASTM D6673,
/// memory).
const PIECE_NAME: &str = "piece name:";

fn name_of(labels: &[Label], group: &str, alone: bool, before: usize) -> String {
    let said = labels.iter().find_map(|l| {
        let text = l.text.trim();
        let head = text.get(..PIECE_NAME.len())?;
        head.eq_ignore_ascii_case(PIECE_NAME).then(|| text[PIECE_NAME.len()..].trim().to_owned())
    });
    let known = || {
        let is = |w: &&str| labels.iter().any(|l| l.text.trim().eq_ignore_ascii_case(w));
        [names::BACK, names::FRONT].into_iter().find(is).map(str::to_owned)
    };
    let grouped = (alone && !group.is_empty()).then(|| group.to_owned());
    said.filter(|s| !s.is_empty())
        .or(grouped)
        .or_else(known)
        .unwrap_or_else(|| format!("piece {}", before + 1))
}

/// The words that gave the name.
fn said_by(labels: &[Label], name: &str) -> Option<String> {
    let gives = |l: &&Label| {
        let text = l.text.trim();
        let rest = text.get(PIECE_NAME.len()..).unwrap_or_default().trim();
        text.eq_ignore_ascii_case(name)
            || text.get(..PIECE_NAME.len()).is_some_and(|h| h.eq_ignore_ascii_case(PIECE_NAME))
                && rest == name
    };
    labels.iter().find(gives).map(|l| l.text.trim().to_owned())
}

fn with_free_name(mut piece: Piece, pattern: &Pattern) -> Piece {
    let base = piece.name.clone();
    let mut number = 2;
    while pattern.pieces.iter().any(|p| p.name == piece.name) {
        piece.name = format!("{base} {number}");
        number += 1;
    }
    piece
}

fn piece_of(
    found: &mut Found,
    taken: &mut Taken,
    outline: &Run,
    name: &str,
) -> Result<Piece, ExchangeError> {
    let (mut seams, named) = seams_of(taken, outline, name)?;
    let mut name = name.to_owned();
    if name.starts_with("piece ")
        && let Some(left) = named
    {
        name = if left { names::BACK } else { names::FRONT }.to_owned();
        found.notes.push(format!(
            "a piece without a name has the shape of a trouser leg and is called “{name}” because its centre lies at the {}",
            if left { "left" } else { "right" }
        ).into());
    }
    let mut grain = None;
    let mut inner = Vec::new();
    let mut number = 0;
    for run in std::mem::take(&mut taken.runs) {
        match run.role {
            Role::Grain if grain.is_none() => grain = Some(run.chain),
            Role::Notch => taken.notches.push(nearer_end(&seams, &run.chain)),
            Role::Dart => {
                let dart = format!("dart {}", number + 1);
                if darts::set_dart(&mut seams, &run.chain, &dart) {
                    number += 1;
                } else {
                    found.lose("a line of a dart that is no pair of legs");
                }
            }
            Role::Boundary => {
                found.lose("a cut line outside a sew line (set the allowance when printing)")
            }
            Role::Sew => found.lose("a second sew line"),
            Role::Mirror => found.lose("a mirror line that is no edge of its piece"),
            Role::Grain => found.lose("a second grainline"),
            Role::Inner | Role::Unsaid => {
                // Two equal legs from one seam to a point are a dart, whatever
                // layer they lie on.
                let dart = format!("dart {}", number + 1);
                if darts::set_dart(&mut seams, &run.chain, &dart) {
                    number += 1;
                } else {
                    let name = if run.name.is_empty() { "line".into() } else { run.name };
                    inner.push(InnerLine { name, chain: run.chain });
                }
            }
        }
    }
    let grain = grain.map(|chain| grain_of(&chain)).unwrap_or_else(|| {
        found.notes.push(format!("the {name} has no grainline; it is taken to run upright").into());
        upright(outline.chain.bounds())
    });
    let mut piece = Piece { name, seams, grain, notches: Vec::new(), inner, parted: None };
    set_notches(found, &mut piece, &taken.notches);
    piece.check().map_err(|why| ExchangeError::Outline {
        piece: piece.name.clone(),
        why: why.to_string(),
    })?;
    Ok(piece)
}

/// The seams, and for the shape of a trouser leg whether its centre lies left.
fn seams_of(
    taken: &Taken,
    outline: &Run,
    name: &str,
) -> Result<(Vec<Seam>, Option<bool>), ExchangeError> {
    if let Some(seams) = outline.seams.as_deref().and_then(|n| by_note(&outline.chain, n)) {
        return Ok((seams, None));
    }
    let segments = outline.chain.segments();
    let mut joints = corners::joints_at(segments, &taken.turns);
    if joints.len() < 2 {
        joints = corners::breaks(segments);
    }
    let edges = corners::cut(&outline.chain, &joints).ok_or_else(|| ExchangeError::Outline {
        piece: name.to_owned(),
        why: "it cannot be cut at its corners".into(),
    })?;
    Ok(match trouser(&edges, outline.chain.bounds()) {
        Some(named) => (named.seams, Some(named.centre_left)),
        None => (numbered(&edges), None),
    })
}

/// The end of a notch's line that lies nearer to the outline.
fn nearer_end(seams: &[Seam], line: &Chain) -> Point {
    let off = |p: Point| seams.iter().map(|s| s.nearest(p).1).fold(f64::INFINITY, f64::min);
    if off(line.start()) <= off(line.end()) { line.start() } else { line.end() }
}

fn grain_of(chain: &Chain) -> Grain {
    let (a, b) = (chain.start(), chain.end());
    if b.y >= a.y { Grain { from: a, to: b } } else { Grain { from: b, to: a } }
}

fn upright(bounds: Rect) -> Grain {
    let (x, low, high) = (bounds.center().x, bounds.y0, bounds.height());
    Grain { from: Point::new(x, low + 0.1 * high), to: Point::new(x, low + 0.8 * high) }
}

fn set_notches(found: &mut Found, piece: &mut Piece, places: &[Point]) {
    let mut on: Vec<(usize, f64)> = Vec::new();
    for &place in places {
        match piece.nearest_within(place, NOTCH_REACH) {
            Some((seam, at, _)) => on.push((seam, at.position)),
            None => found.lose("a notch far from every seam"),
        }
    }
    on.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut index = 0;
    while let Some(&(seam, first)) = on.get(index) {
        let second = on.get(index + 1).filter(|n| n.0 == seam && n.1 - first <= DOUBLE);
        let (kind, at) = match second {
            Some(second) => (NotchKind::Double, (first + second.1) / 2.0),
            None => (NotchKind::Single, first),
        };
        index += if second.is_some() { 2 } else { 1 };
        let number = piece.notches.len() + 1;
        piece.notches.push(Notch {
            name: format!("notch {number}"),
            seam: piece.seams[seam].name.clone(),
            from: End::Start,
            distance: at,
            kind,
        });
    }
}

/// The joins of a front and a back whose seams carry the usual names.
pub(crate) fn joins_of(pattern: &Pattern) -> Vec<Join> {
    let has = |piece: &str, seam: &str| pattern.piece(piece).is_ok_and(|p| p.seam(seam).is_ok());
    let both = |seam: &str| has(names::BACK, seam) && has(names::FRONT, seam);
    let mut joins = Vec::new();
    let mut add = |name: &str, first, second| {
        joins.push(Join { name: name.to_owned(), first, second, ease: 0.0 });
    };
    for (name, seam, from) in
        [("side seam", names::SIDE, End::End), ("inseam", names::INSEAM, End::Start)]
    {
        if both(seam) {
            let side = |piece| JoinSide::new(piece, seam, from);
            add(name, side(names::BACK), Some(side(names::FRONT)));
        }
    }
    for (name, piece) in [("centre back", names::BACK), ("centre front", names::FRONT)] {
        if has(piece, names::CROTCH) {
            add(name, JoinSide::new(piece, names::CROTCH, End::Start), None);
        }
    }
    joins
}

/// A number and the thing counted.
fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

fn in_words(piece: &Piece) -> Words {
    let seams: Vec<&str> = piece.seams.iter().map(|s| s.name.as_str()).collect();
    let bounds = piece.bounds();
    let darts = piece.darts().count();
    let counts = [
        counted(darts, "dart", "darts"),
        counted(piece.notches.len(), "notch", "notches"),
        counted(piece.inner.len(), "inner line", "inner lines"),
    ];
    words![
        &piece.name,
        ": ",
        (Length(bounds.width()), 0),
        " by ",
        (Length(bounds.height()), 0),
        "; seams: ",
        seams.join(", "),
        "; ",
        counts.join(", ")
    ]
}
