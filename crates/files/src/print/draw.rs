//! Drawing the pieces of a pattern as they are cut and sewn.

use super::draw_label::{draw_label, draw_names};
use super::draw_line::draw_lines;
use super::room::{Lines, settle_words};
use super::{Allowance, Anchor, Dash, Layer, Pen, PrintError, Scene, Weight, Words, arrange, pens};
use hangtrue_cut::{CutPiece, CutSet, Snip, cut_line, sew_line};
use hangtrue_geometry::{Affine, BezPath, Point, Vec2, angle_between};
use hangtrue_pattern::markings::{CUT_PAIR, DartMarking, GRAIN_WORD, Markings, darts_of};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::{Fold, Leg, Pattern, Piece, PlacedLine, names};
use kurbo::Shape;

/// What is drawn beside the lines of the pattern itself.
#[derive(Debug, Clone)]
pub struct DrawOptions<'a> {
    /// The maker's unit, for lengths in words.
    pub unit: Unit,
    /// The seam allowance; none draws the sew line as the line to cut or trace. Not asked
    /// for where there is a set of pieces to cut, which brings its own.
    pub allowance: Option<Allowance>,
    /// The pieces to cut; the pattern that is drawn is then the set's.
    pub set: Option<&'a CutSet>,
    /// Lines under the name of each piece: client, version, size, date.
    pub label: Vec<String>,
    /// How many to cut of a piece that serves both legs, in words.
    pub cut: String,
    /// An earlier version drawn thin and broken under this one, and its name.
    pub old: Option<(&'a Pattern, String)>,
    /// Whether pieces carry their names and the lines under them.
    pub piece_names: bool,
    /// Whether seams carry their names.
    pub seam_names: bool,
    /// Whether corners carry their names.
    pub corner_names: bool,
}

impl Default for DrawOptions<'_> {
    fn default() -> Self {
        Self {
            unit: Unit::Mm,
            allowance: None,
            set: None,
            label: Vec::new(),
            cut: CUT_PAIR.into(),
            old: None,
            piece_names: true,
            seam_names: true,
            corner_names: true,
        }
    }
}

/// What stands on a piece, a sheet or a page without any.
pub(crate) const NO_ALLOWANCE: &str = "NO SEAM ALLOWANCE";

impl DrawOptions<'_> {
    /// The allowance that is drawn round a piece; none where it has none at any seam and
    /// nothing is cut on.
    pub(crate) fn allowance_on(&self, piece: &Piece) -> Option<&Allowance> {
        let allowance = self.set.map(|set| &set.allowance).or(self.allowance.as_ref());
        let is_cut_outside = self.cut_piece(piece).is_some_and(CutPiece::is_cut_outside);
        allowance.filter(|a| is_cut_outside || !a.is_none_on(piece))
    }

    /// What is known of a piece to cut.
    pub(crate) fn cut_piece(&self, piece: &Piece) -> Option<&CutPiece> {
        self.set.and_then(|set| set.piece(&piece.name))
    }

    /// Whether a piece has no allowance at any seam, whatever is cut on or folded besides.
    pub(crate) fn is_bare(&self, piece: &Piece) -> bool {
        self.allowance_on(piece).is_none_or(|allowance| allowance.is_none_on(piece))
    }

    /// Whether no piece of the pattern has any allowance.
    pub(crate) fn has_none(&self, pattern: &Pattern) -> bool {
        pattern.pieces.iter().all(|piece| self.is_bare(piece))
    }
}

/// Space between two pieces on the paper, mm.
pub(crate) const GAP: f64 = 12.0;

/// Draws all pieces side by side in one row, the grain upright.
///
/// # Errors
/// As [`piece_scenes`].
pub fn scene_of(pattern: &Pattern, options: &DrawOptions) -> Result<Scene, PrintError> {
    Ok(arrange(&piece_scenes(pattern, options)?, f64::INFINITY, GAP))
}

/// Draws each piece by itself, its grain turned upright, mm; pieces to cut as large as the
/// cloth's loss asks.
///
/// # Errors
/// [`PrintError`] when there is no piece, a place is not a number, a dart cap or
/// an allowance cannot be drawn.
pub fn piece_scenes(pattern: &Pattern, options: &DrawOptions) -> Result<Vec<Scene>, PrintError> {
    if pattern.pieces.is_empty() {
        return Err(PrintError::Nothing);
    }
    if let Some(allowance) = options.set.map(|set| &set.allowance).or(options.allowance.as_ref()) {
        allowance.check()?;
    }
    let placed = pattern.place_lines().0;
    pattern.pieces.iter().map(|piece| piece_scene(pattern, piece, &placed, options)).collect()
}

fn piece_scene(
    pattern: &Pattern,
    piece: &Piece,
    placed: &[PlacedLine],
    options: &DrawOptions,
) -> Result<Scene, PrintError> {
    let not_finite = || PrintError::NotFinite { what: format!("the {}", piece.name) };
    let grain = piece.grain.to - piece.grain.from;
    if piece.seams.is_empty() || !grain.is_finite() || grain.hypot() < 1e-6 {
        return Err(not_finite());
    }
    let mut scene = Scene::default();
    let markings = Markings::of(pattern, piece, placed);
    draw_earlier(&mut scene, pattern, piece, options);
    draw_outline(&mut scene, piece, options)?;
    markings.darts.iter().for_each(|dart| draw_dart(&mut scene, dart));
    draw_notches(&mut scene, &markings, options);
    draw_lines(&mut scene, &markings);
    draw_inner(&mut scene, piece, options);
    draw_grain(&mut scene, piece);
    draw_names(&mut scene, &markings, options);
    if options.piece_names {
        draw_label(&mut scene, &markings, options);
    }
    scene.notes.extend(markings.faults);
    if scene.items.iter().any(|i| !i.mark.is_finite()) {
        return Err(not_finite());
    }
    let upright = angle_between(grain, Vec2::new(0.0, 1.0));
    let stretch = options.set.map_or(Affine::IDENTITY, |set| set.to_cloth(piece));
    let mut scene = scene.moved(Affine::rotate(upright) * stretch);
    settle_words(&mut scene, &Lines::default());
    Ok(scene)
}

fn draw_outline(scene: &mut Scene, piece: &Piece, options: &DrawOptions) -> Result<(), PrintError> {
    let sew = sew_line(piece)?;
    let cut = match (options.cut_piece(piece), options.allowance_on(piece)) {
        (_, None) => sew,
        (known, Some(allowance)) => {
            scene.stroke(Layer::Sew, sew, pens::SEW);
            match known {
                Some(known) => {
                    let mut cut = known.cut.to_path();
                    cut.close_path();
                    cut
                }
                None => cut_line(piece, allowance)?,
            }
        }
    };
    scene.areas.push(cut.clone());
    scene.stroke(Layer::Cut, cut, pens::CUT);
    Ok(())
}

fn draw_earlier(scene: &mut Scene, pattern: &Pattern, piece: &Piece, options: &DrawOptions) {
    let Some((old, name)) = &options.old else { return };
    let earlier = earlier(old, pattern, &piece.name);
    // What is made for cutting alone was in no pattern before.
    let is_made = options.cut_piece(piece).is_some_and(|known| !known.is_of_pattern);
    if earlier.is_empty() && !is_made {
        scene.notes.push(format!("{name} has no piece called “{}”", piece.name));
    }
    for before in earlier {
        draw_under(scene, &before, pens::EARLIER);
    }
}

/// What a piece was in an older version: the same piece; when the legs have been
/// parted since, its half for that leg; when they have been put together since,
/// both legs' pieces.
fn earlier(old: &Pattern, new: &Pattern, piece: &str) -> Vec<Piece> {
    if let Ok(same) = old.apart_like(new).piece(piece) {
        return vec![same.clone()];
    }
    let of_leg = |leg| old.one_leg(leg).piece(piece).ok().cloned();
    Leg::BOTH.into_iter().filter_map(of_leg).collect()
}

/// The outline and darts of an older piece, drawn under the new one.
fn draw_under(scene: &mut Scene, before: &Piece, pen: Pen) {
    scene.stroke(Layer::Earlier, before.outline(), pen);
    for dart in darts_of(before) {
        scene.stroke(Layer::Earlier, dart.path(), pen);
    }
}

fn draw_dart(scene: &mut Scene, dart: &DartMarking<'_>) {
    let [_, apex, _] = dart.legs;
    let pleat = names::is_pleat(dart.name);
    scene.stroke(Layer::Dart, dart.path(), if pleat { pens::PLEAT } else { pens::DART });
    scene.line(Layer::Dart, apex, dart.mouth(), pens::FOLD);
    let along = dart.mouth() - apex;
    if along.hypot() < 1.0 {
        return;
    }
    draw_fold_arrow(scene, dart, pleat);
    if pleat {
        draw_pleat_name(scene, dart);
        return;
    }
    let ring = kurbo::Circle::new(apex, 1.6).to_path(1e-3);
    scene.stroke(Layer::Dart, ring, pens::DART);
    // The name stands under the point, where no leg runs.
    let below = apex - along.normalize() * 5.5;
    scene.words(
        Layer::Label,
        Words {
            text: dart.name.to_owned(),
            at: below - Vec2::new(0.0, 1.0),
            size: 3.2,
            angle: 0.0,
            anchor: Anchor::Middle,
            weight: Weight::Regular,
            ink: pens::INK,
        },
    );
}

/// What a pleat is, beside its edge below the waist: it is not sewn to a point like a dart.
fn draw_pleat_name(scene: &mut Scene, dart: &DartMarking<'_>) {
    let [first, apex, _] = dart.legs;
    let (at, along) = (first.lerp(apex, 0.12), (first - apex).normalize());
    let angle = readable(along.atan2());
    let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
    scene.words(
        Layer::Label,
        Words {
            text: format!("{}: lay edge on edge, sew across the top only", dart.name),
            at: at + up * 1.5,
            size: 3.2,
            angle,
            anchor: Anchor::End,
            weight: Weight::Regular,
            ink: pens::INK,
        },
    );
}

/// An arrow from leg to leg, near the mouth, towards the side the cloth is
/// pressed.
fn draw_fold_arrow(scene: &mut Scene, dart: &DartMarking<'_>, pleat: bool) {
    /// The arrow of a pleat lies no farther below the waist, mm.
    const BELOW: f64 = 70.0;
    let [first, apex, second] = dart.legs;
    let (from, to) = match dart.fold {
        Fold::ToStart => (second, first),
        Fold::ToEnd => (first, second),
    };
    let pen = if pleat { Pen { dash: Dash::Solid, ..pens::PLEAT } } else { pens::DART };
    let at = if pleat { (1.0 - BELOW / from.distance(apex)).max(0.62) } else { 0.62 };
    let (a, b) = (apex.lerp(from, at), apex.lerp(to, at));
    let across = (b - a).normalize();
    // The arrow runs on past the leg it is pressed over.
    let tip = b + across * 5.0;
    scene.line(Layer::Dart, a, tip, pen);
    arrow_head(scene, Layer::Dart, tip, across, 2.4);
    scene.words(
        Layer::Label,
        Words {
            text: "press".into(),
            at: tip + across * 1.2 - Vec2::new(0.0, 0.9),
            size: 2.6,
            angle: 0.0,
            anchor: if across.x >= 0.0 { Anchor::Start } else { Anchor::End },
            weight: Weight::Regular,
            ink: pens::INK,
        },
    );
}

/// A filled arrow head, `length` mm long, its tip at `tip`.
pub(crate) fn arrow_head(scene: &mut Scene, layer: Layer, tip: Point, along: Vec2, length: f64) {
    let along = along.normalize();
    let side = Vec2::new(-along.y, along.x) * (0.36 * length);
    let back = tip - along * length;
    let mut head = BezPath::new();
    head.move_to(tip);
    head.line_to(back + side);
    head.line_to(back - side);
    head.close_path();
    scene.fill(layer, head, pens::INK);
}

/// How deep a notch is cut, mm.
const DEPTH: f64 = 5.0;

fn draw_notches(scene: &mut Scene, markings: &Markings<'_>, options: &DrawOptions) {
    let known = options.cut_piece(markings.piece);
    if let Some(known) = known {
        known.snips.iter().for_each(|snip| draw_snip(scene, snip));
        known.drills.iter().for_each(|mark| drill(scene, Layer::Notch, mark.at));
    }
    for notch in &markings.notches {
        let seam = notch.seam;
        let length = seam.sewn_length().max(1.0);
        let wide = |at: Point| {
            let part = seam.nearest(at).0.position / length;
            let allowance = options.allowance_on(markings.piece);
            allowance.map_or(0.0, |a| a.along(&markings.piece.name, &seam.name).at(part).0)
        };
        for (at, inward) in notch.strokes.iter().filter(|_| known.is_none()) {
            // With an allowance the notch runs from the cut edge towards the seam
            // and stops short of it; without, it marks the sew line from inside.
            let allowance = wide(*at);
            let edge = *at - *inward * allowance;
            let depth = if allowance > 0.0 { DEPTH.min(0.8 * allowance) } else { DEPTH };
            scene.line(Layer::Notch, edge, edge + *inward * depth, pens::NOTCH);
        }
        let (middle, inward) = notch.middle;
        let reach = if wide(middle) > 0.0 { 2.5 } else { DEPTH + 1.5 };
        scene.words(
            Layer::Label,
            Words {
                text: notch.name.to_owned(),
                at: middle + inward * reach - Vec2::new(0.0, 0.9),
                size: 2.6,
                angle: 0.0,
                anchor: side_anchor(inward),
                weight: Weight::Regular,
                ink: pens::INK,
            },
        );
    }
}

/// A cut into the edge, short of the seam where there is an allowance.
fn draw_snip(scene: &mut Scene, snip: &Snip) {
    let room = snip.room();
    let depth = if room > 1e-3 { DEPTH.min(0.8 * room) } else { DEPTH };
    scene.line(Layer::Notch, snip.at, snip.at + snip.inward * depth, pens::NOTCH);
}

/// A place marked through to the cloth: a cross in a ring.
pub(crate) fn drill(scene: &mut Scene, layer: Layer, at: Point) {
    const REACH: f64 = 2.0;
    for way in [Vec2::new(REACH, 0.0), Vec2::new(0.0, REACH)] {
        scene.line(layer, at - way, at + way, pens::DART);
    }
    scene.stroke(layer, kurbo::Circle::new(at, 1.2).to_path(1e-3), pens::DART);
}

/// Words that stand to the side of a place start or end there.
pub(crate) fn side_anchor(towards: Vec2) -> Anchor {
    let x = towards.normalize().x;
    if x > 0.35 {
        Anchor::Start
    } else if x < -0.35 {
        Anchor::End
    } else {
        Anchor::Middle
    }
}

fn draw_inner(scene: &mut Scene, piece: &Piece, options: &DrawOptions) {
    let folds = options.cut_piece(piece).map_or(&[][..], |known| &known.folds);
    let inner = piece.inner.iter().map(|line| (line, pens::INNER));
    for (line, pen) in inner.chain(folds.iter().map(|line| (line, pens::FOLD))) {
        scene.stroke(Layer::Inner, line.chain.to_path(), pen);
        // The name stands at the left end, clear of what crosses the middle.
        let rightwards = line.chain.start().x <= line.chain.end().x;
        let chain = if rightwards { line.chain.clone() } else { line.chain.reversed() };
        let in_from_end = 4.0;
        let (at, along) = chain.place_at(in_from_end);
        let angle = readable(along.atan2());
        let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
        scene.words(
            Layer::Label,
            Words {
                text: line.name.clone(),
                at: at + up * 1.2,
                size: 3.0,
                angle,
                anchor: Anchor::Start,
                weight: Weight::Regular,
                ink: pens::INK,
            },
        );
    }
}

/// The angle, turned by half if words along it would stand on their heads.
pub(crate) fn readable(angle: f64) -> f64 {
    use std::f64::consts::{FRAC_PI_2, PI};
    let turned = angle.rem_euclid(2.0 * PI);
    // A hair past upright still counts as upright, so that a line that runs
    // straight down reads the same way as one that runs straight up.
    if turned > FRAC_PI_2 + 1e-6 && turned < 3.0 * FRAC_PI_2 + 1e-6 { turned - PI } else { turned }
}

fn draw_grain(scene: &mut Scene, piece: &Piece) {
    let (from, to) = (piece.grain.from, piece.grain.to);
    let along = piece.grain.direction();
    scene.line(Layer::Grain, from, to, pens::GRAIN);
    arrow_head(scene, Layer::Grain, to, along, 6.0);
    arrow_head(scene, Layer::Grain, from, -along, 6.0);
    let at = from.lerp(to, 0.08) - piece.grain.square() * 1.6;
    scene.words(
        Layer::Label,
        Words {
            text: GRAIN_WORD.into(),
            at,
            size: 4.0,
            angle: along.atan2(),
            anchor: Anchor::Start,
            weight: Weight::Regular,
            ink: pens::INK,
        },
    );
}

/// A small picture of a change: the old pieces thin and broken under the new,
/// side by side, without words. Meant to be scaled into a report. `only` names
/// the pieces to show; none named shows all.
///
/// # Errors
/// [`PrintError`] when an outline cannot be drawn.
pub fn before_after(old: &Pattern, new: &Pattern, only: &[&str]) -> Result<Scene, PrintError> {
    let mut scenes = Vec::with_capacity(new.pieces.len());
    let shown = |p: &Piece| only.is_empty() || only.contains(&p.name.as_str());
    for piece in new.pieces.iter().filter(|p| shown(p)) {
        let mut scene = Scene::default();
        for before in earlier(old, new, &piece.name) {
            draw_under(&mut scene, &before, pens::UNDER);
        }
        let outline = sew_line(piece)?;
        scene.stroke(Layer::Cut, outline, Pen { ink: pens::ACCENT, ..pens::CUT });
        for dart in darts_of(piece) {
            let pen = Pen { ink: pens::ACCENT, ..pens::DART };
            scene.stroke(Layer::Dart, dart.path(), pen);
        }
        scenes.push(scene);
    }
    Ok(arrange(&scenes, f64::INFINITY, 60.0))
}
