//! Bringing a file in: read, scaled, made into pieces, reported. Nothing is
//! changed until the maker accepts.

use super::pieces::pieces_of;
use super::{ExchangeError, Found, dxf_in, limits, svg_in};
use crate::read;
use hangtrue_adjust::Document;
use hangtrue_pattern::Pattern;
use hangtrue_pattern::units::{INCH, Unit};
use hangtrue_pattern::words;
use hangtrue_pattern::words::{Length, Words};
use std::path::Path;

/// What the numbers of a file are, when it does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileUnit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    Inch,
    /// 1/96 in, the pixel of CSS.
    Px,
}

impl FileUnit {
    /// Its length, mm. The pixel: CSS Values and Units Module Level 3, § 5.2.
    pub fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            Self::Inch => INCH,
            Self::Px => INCH / 96.0,
        }
    }
}

/// A length the maker knows, to confirm or set the scale by.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownLength {
    /// The true length, mm.
    pub mm: f64,
    /// The line, shape or layer it is of: the straight distance of an open line's
    /// ends, the width of a closed shape. None for the height of the tallest
    /// closed shape.
    pub of: Option<String>,
}

/// How a file is brought in.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BringOptions {
    /// What the numbers are when the file does not say.
    pub unit: Option<FileUnit>,
    /// A length the maker knows.
    pub known: Option<KnownLength>,
}

/// The kinds of file that are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Scalable Vector Graphics.
    Svg,
    /// Drawing exchange format.
    Dxf,
}

impl Kind {
    /// The kind by the ending of the name.
    pub fn of(path: &Path) -> Option<Self> {
        let ending = path.extension()?.to_str()?.to_lowercase();
        match ending.as_str() {
            "svg" => Some(Self::Svg),
            "dxf" => Some(Self::Dxf),
            _ => None,
        }
    }
}

/// Something the file holds that is not kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loss {
    /// What, in words.
    pub what: String,
    /// How often.
    pub count: usize,
}

/// A file as it would be brought in.
#[derive(Debug, Clone, PartialEq)]
pub struct Brought {
    /// The pieces, and the joins proposed between them.
    pub pattern: Pattern,
    /// What is kept, in words.
    pub kept: Vec<Words>,
    /// What is not.
    pub lost: Vec<Loss>,
    /// What the maker should look at.
    pub notes: Vec<Words>,
    /// Length of 1 of the file's numbers, mm, after the known length.
    pub scale: f64,
    /// Lengths the scale can be checked against: the height of the tallest
    /// outline first, then everything that has a name.
    pub lengths: Vec<Measured>,
}

/// A length found in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The line, shape or layer; none for the tallest outline.
    pub of: Option<String>,
    /// Its length, mm: as [`KnownLength::of`] says.
    pub mm: f64,
}

impl Brought {
    /// A new project that starts from the pieces.
    pub fn document(self, title: &str, client: &str, unit: Unit) -> Document {
        Document::from_pieces(title, client, unit, self.pattern)
    }
}

/// Reads a file and says what bringing it in would give.
///
/// # Errors
/// [`ExchangeError`] with what is wrong and what to do.
pub fn bring_file(path: &Path, options: &BringOptions) -> Result<Brought, ExchangeError> {
    let kind =
        Kind::of(path).ok_or_else(|| ExchangeError::UnknownKind { path: path.to_owned() })?;
    let bytes = read::bytes(path, largest(kind))?;
    bring_bytes(kind, &bytes, options)
}

fn largest(kind: Kind) -> u64 {
    match kind {
        Kind::Svg => limits::LARGEST_SVG,
        Kind::Dxf => limits::LARGEST_DXF,
    }
}

fn check_size(kind: Kind, size: u64) -> Result<(), ExchangeError> {
    let most = largest(kind);
    if size > most { Err(ExchangeError::TooLarge { size, most }) } else { Ok(()) }
}

/// [`bring_file`] for bytes already read.
///
/// # Errors
/// [`ExchangeError`].
pub fn bring_bytes(
    kind: Kind,
    bytes: &[u8],
    options: &BringOptions,
) -> Result<Brought, ExchangeError> {
    check_size(kind, bytes.len() as u64)?;
    let bytes = read::without_mark(bytes);
    let mut found = match kind {
        Kind::Svg => svg_in::read(bytes)?,
        Kind::Dxf => dxf_in::read(bytes)?,
    };
    let scale = set_scale(&mut found, options)?;
    let lengths = lengths(&found);
    let (pattern, kept) = pieces_of(&mut found)?;
    let lost = found.lost.into_iter().map(|(what, count)| Loss { what, count }).collect();
    Ok(Brought { pattern, kept, lost, notes: found.notes, scale, lengths })
}

/// Scales may differ from 1 by this much before it is worth a word.
const SCALE_SEEN: f64 = 1e-3;
/// A drawing is never scaled by more than this, or by less than its inverse.
const MOST_SCALE: f64 = 1e5;

/// Brings all places to mm and returns the length of 1 in the file, mm.
fn set_scale(found: &mut Found, options: &BringOptions) -> Result<f64, ExchangeError> {
    if !found.within(f64::MAX) {
        return Err(ExchangeError::FarAway { most: limits::FURTHEST });
    }
    let stated = found.unit;
    if stated.is_some() && options.unit.is_some() {
        found.notes.push("the file says its own unit, so the unit given was not used".into());
    }
    let unit = stated.or(options.unit.map(FileUnit::mm));
    let scale = match (&options.known, unit) {
        (None, None) => return Err(ExchangeError::NoUnit),
        (None, Some(unit)) => {
            found.notes.push("check the scale against a length you know before cutting".into());
            unit
        }
        (Some(known), unit) => {
            let measured = measured(found, known)?;
            let scale = known.mm / measured;
            let sound = scale.is_finite() && (1.0 / MOST_SCALE..=MOST_SCALE).contains(&scale);
            if !sound || known.mm <= 0.0 {
                return Err(ExchangeError::Scale { asked: known.mm, found: measured });
            }
            if let Some(unit) = unit
                && (scale / unit - 1.0).abs() > SCALE_SEEN
            {
                found.notes.push(words![
                    "by its own unit the known length measures ",
                    (Length(measured * unit), 2),
                    ", not ",
                    (Length(known.mm), 2),
                    format!("; everything was scaled by {:.5}", scale / unit)
                ]);
            }
            scale
        }
    };
    found.scale(scale);
    if !found.within(limits::FURTHEST) {
        return Err(ExchangeError::FarAway { most: limits::FURTHEST });
    }
    Ok(scale)
}

/// The most lengths that are offered to check the scale by.
const MOST_LENGTHS: usize = 40;

fn lengths(found: &Found) -> Vec<Measured> {
    let closed = found.runs.iter().filter(|r| super::loops::is_closed(&r.chain));
    let tallest = closed.map(|r| r.chain.bounds().height()).reduce(f64::max);
    let mut out: Vec<Measured> = tallest.map(|mm| Measured { of: None, mm }).into_iter().collect();
    let mut seen = std::collections::HashSet::new();
    for run in found.runs.iter().filter(|r| !r.name.is_empty()) {
        if out.len() >= MOST_LENGTHS {
            break;
        }
        if seen.insert(run.name.to_lowercase()) {
            out.push(Measured { of: Some(run.name.clone()), mm: across(run) });
        }
    }
    out.retain(|m| m.mm > 0.0);
    out
}

/// The straight distance of an open line's ends, the width of a closed one.
fn across(run: &super::Run) -> f64 {
    if super::loops::is_closed(&run.chain) {
        run.chain.bounds().width()
    } else {
        run.chain.start().distance(run.chain.end())
    }
}

/// What the known thing measures, in the file's numbers.
fn measured(found: &Found, known: &KnownLength) -> Result<f64, ExchangeError> {
    let closed = |run: &&super::Run| super::loops::is_closed(&run.chain);
    match &known.of {
        None => {
            let heights = found.runs.iter().filter(closed).map(|r| r.chain.bounds().height());
            heights.reduce(f64::max).ok_or(ExchangeError::NoOutline)
        }
        Some(name) => {
            let called = |r: &&super::Run| r.name.eq_ignore_ascii_case(name.trim());
            let run = found.runs.iter().find(called).ok_or_else(|| {
                let mut names: Vec<&str> =
                    found.runs.iter().map(|r| r.name.as_str()).filter(|n| !n.is_empty()).collect();
                names.sort_unstable();
                names.dedup();
                names.truncate(20);
                ExchangeError::NoKnownLine { name: name.clone(), known: names.join(", ") }
            })?;
            Ok(across(run))
        }
    }
}
