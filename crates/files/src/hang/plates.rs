//! Where the words of the lines stand beside the toile: at the margin of the side their
//! place lies on, none over another.

use super::words::{place_words, plus_minus_words};
use hangtrue_drape::picture::{Frame, MarkedRun, Scene};
use hangtrue_pattern::units::Unit;

/// Room for plates, pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Width of the picture.
    pub width: f64,
    /// Its height.
    pub height: f64,
    /// How wide a plate is.
    pub plate: f64,
    /// How high.
    pub high: f64,
}

/// Words that tell of a place of the picture; pixels.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// The line, and the ± of all that is told of it.
    pub name: String,
    /// How it hangs at the places told of, from the inner end to the side.
    pub words: Vec<String>,
    /// How it hangs in its middle, where there is room for no more.
    pub middle: Option<String>,
    /// The places told of, in the same order.
    pub places: Vec<(f64, f64)>,
    /// The place its leader runs to: the middle of the line.
    pub tells_of: (f64, f64),
    /// The left upper corner.
    pub at: (f64, f64),
    /// Whether it stands at the right margin.
    pub right: bool,
}

/// How squarely a side must be faced for its lines to be told of.
const FACED: f64 = 0.35;
/// The places a plate tells of: how far along the line, and what each is called.
pub const TOLD_OF: [(f64, &str); 3] =
    [(0.25, "inner quarter"), (0.5, "middle"), (0.75, "side quarter")];
/// Rows of words on a plate, with its name.
pub const ROWS: usize = TOLD_OF.len() + 1;
/// Between two plates, of their height.
const BETWEEN: f64 = 1.12;

/// The plates of what is seen in a frame. Where both legs have the same pieces one leg is
/// told of, that at the right of the picture.
pub fn plates(scene: &Scene, frame: &Frame, reach: Reach, unit: Unit) -> Vec<Plate> {
    let faced = frame.view.faces_back();
    let seen = |line: &&MarkedRun| if line.back { faced > FACED } else { faced < -FACED };
    let halved = scene.lines.iter().any(|l| l.mirrored);
    let at_right = |line: &MarkedRun| {
        let middle = middle_of(line);
        frame.project(&middle)[0] >= frame.middle.0
    };
    let mut found: Vec<Plate> = scene
        .lines
        .iter()
        .filter(seen)
        .filter(|l| !halved || at_right(l))
        .map(|line| plate(line, frame, reach, at_right(line), unit))
        .collect();
    found.sort_by(|a, b| a.tells_of.1.total_cmp(&b.tells_of.1));
    for right in [false, true] {
        apart(&mut found, right, reach);
    }
    found
}

fn middle_of(line: &MarkedRun) -> hangtrue_drape::Position {
    let half = line.places.iter().find(|p| (p.along - 0.5).abs() < 1e-9);
    half.map(|p| p.place).or_else(|| line.run.get(line.run.len() / 2).copied()).unwrap_or_default()
}

fn plate(line: &MarkedRun, frame: &Frame, reach: Reach, right: bool, unit: Unit) -> Plate {
    let [x, y, _] = frame.project(&middle_of(line));
    let told = TOLD_OF.iter().filter_map(|(along, called)| {
        let found = line.places.iter().find(|p| (p.along - along).abs() < 1e-9)?;
        let [x, y, _] = frame.project(&found.place);
        Some((format!("{called} {}", place_words(found.droop, line.plus_minus, unit)), (x, y)))
    });
    let (words, places) = told.unzip();
    let middle = line.places.iter().find(|p| (p.along - 0.5).abs() < 1e-9);
    let middle = middle.map(|p| place_words(p.droop, line.plus_minus, unit));
    let margin = 0.02 * reach.width;
    let left = if right { reach.width - margin - reach.plate } else { margin };
    Plate {
        name: format!("{} {}", line.line, plus_minus_words(line.plus_minus, unit)),
        words,
        middle,
        places,
        tells_of: (x, y),
        at: (left, y - 0.5 * reach.high),
        right,
    }
}

/// Moves the plates of a margin down and up until none lies over another and all are
/// within the picture.
fn apart(plates: &mut [Plate], right: bool, reach: Reach) {
    let step = reach.high * BETWEEN;
    let mut own: Vec<&mut Plate> = plates.iter_mut().filter(|p| p.right == right).collect();
    let mut least = 0.0;
    for plate in &mut own {
        plate.at.1 = plate.at.1.max(least);
        least = plate.at.1 + step;
    }
    let mut most = reach.height - reach.high;
    for plate in own.iter_mut().rev() {
        plate.at.1 = plate.at.1.min(most);
        most = plate.at.1 - step;
    }
}
