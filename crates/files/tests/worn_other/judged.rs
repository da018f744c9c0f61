//! What was read of a photo against what was drawn.

use super::Dice;
use super::marked::marked;
use super::paint::photograph;
use super::scene::{Planted, Scene};
use hangtrue_adjust::reading::{Droop, HangLine, Leg, PieceView, read_toile};
use hangtrue_adjust::{RoundPhoto, worn::Hang};
use hangtrue_files::droops::usual_rules;
use hangtrue_files::photo::Picture;
use hangtrue_files::worn::{droops_of, read_photo};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Pattern, Plan};
use hangtrue_tests::bodies::{bodies, marked_block};

/// A photo with its truth.
pub struct Case {
    pub seed: u64,
    pub pattern: Pattern,
    pub scene: Scene,
    pub picture: Picture,
    pub marks: RoundPhoto,
}

/// What is planted in a photo of that view.
fn planted(view: PieceView, dice: &mut Dice) -> Planted {
    let much = dice.between(14.0, 24.0);
    match (view, dice.count(0, 5)) {
        (_, 0 | 1) => Planted::Nothing,
        (PieceView::Back, 2) => Planted::ThighBow(much),
        (PieceView::Back, 3) => Planted::BothBow(0.6 * much),
        (PieceView::Back, 4) => Planted::HipBow(-0.6 * much),
        (PieceView::Front, 2 | 3) => Planted::ThighBow(-0.8 * much),
        _ => Planted::HipCentre(-0.7 * much),
    }
}

/// Makes the photo of a seed.
pub fn case(seed: u64) -> Option<Case> {
    let mut dice = Dice::new(seed);
    let all = bodies();
    let measures = &all[dice.count(0, all.len() - 1)];
    let pattern = marked_block(measures, &Plan::default())?;
    let view = if dice.chance(0.65) { PieceView::Back } else { PieceView::Front };
    let planted = planted(view, &mut dice);
    let scene = Scene::new(&pattern, view, planted, &mut dice);
    let bytes = kept(seed, || photograph(&scene, &mut Dice::new(seed + 1_000_000)));
    let picture = Picture::from_bytes(&bytes).ok()?;
    let marks = marked(&scene, &mut Dice::new(seed + 2_000_000));
    Some(Case { seed, pattern, scene, picture, marks })
}

/// With a folder in `WORN_KEPT` a photo is painted once only.
fn kept(seed: u64, paint: impl Fn() -> Vec<u8>) -> Vec<u8> {
    let Ok(folder) = std::env::var("WORN_KEPT") else { return paint() };
    let file = std::path::Path::new(&folder).join(format!("{seed}.jpg"));
    std::fs::read(&file).unwrap_or_else(|_| {
        let bytes = paint();
        std::fs::write(&file, &bytes).unwrap();
        bytes
    })
}

/// One place read against its truth, mm.
#[derive(Debug, Clone, Copy)]
pub struct Place {
    pub line: HangLine,
    pub leg: Leg,
    /// From the inner end.
    pub at: f64,
    pub read: f64,
    pub error: f64,
    pub truth: f64,
}

impl Place {
    pub fn off(&self) -> f64 {
        self.read - self.truth
    }
}

/// A photo as it was read.
pub struct Judged {
    pub places: Vec<Place>,
    /// The first of the true droops’ causes, and of those read.
    pub named: (Option<String>, Option<String>),
    pub doubtful: usize,
    pub hangs: Vec<Hang>,
}

/// How far below the level through the photo's last end of the line: what is told of a
/// line over both legs is told from the side at the photo's right.
fn truth(scene: &Scene, d: &Droop) -> f64 {
    scene.drawn(d.line, d.leg).below_side(d.at)
}

fn first_cause(droops: &[Droop], pattern: &Pattern) -> Option<String> {
    let rules = usual_rules().unwrap();
    let read = read_toile(droops, &rules, pattern, pattern, Unit::Mm).unwrap();
    read.meanings.first().map(|m| m.rule.clone())
}

/// Reads the photo as the desk does.
pub fn judged(case: &Case) -> Result<Judged, String> {
    let found =
        read_photo(&case.marks, &case.picture, &case.pattern, None).map_err(|e| e.to_string())?;
    let droops = droops_of(&found.hangs);
    let place = |d: &Droop| Place {
        line: d.line,
        leg: d.leg,
        at: d.at,
        read: d.mm,
        error: d.error,
        truth: truth(&case.scene, d),
    };
    let places: Vec<Place> = droops.iter().map(place).collect();
    let true_droops: Vec<Droop> =
        droops.iter().map(|d| Droop { mm: truth(&case.scene, d), error: 1.0, ..*d }).collect();
    let named = (first_cause(&true_droops, &case.pattern), first_cause(&droops, &case.pattern));
    let doubtful = found.hangs.iter().filter(|h| !h.doubts().is_empty()).count();
    Ok(Judged { places, named, doubtful, hangs: found.hangs })
}
