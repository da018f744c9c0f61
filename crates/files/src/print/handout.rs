//! Handouts: the pieces at half or quarter scale, to be read at a table and glued into a
//! book. Each sheet says that it is not for cutting, and has a bar to measure.

use super::letters::{cut_short, width_of};
use super::room::{Drawn, Lines, blocks, moved_free, settle_words_in};
use super::sheet::{printed_area, sheet_scene};
use super::whole::{fewest_sheets, joins, missing_letters, tile_pages};
use super::{
    About, Anchor, DrawOptions, Grid, Item, Layer, Mark, Paper, PrintError, Reduced, Scene, Tile,
    TileOptions, Weight, Words, pdf_of, pens, piece_scenes,
};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};
use hangtrue_pattern::units::Unit;
use hangtrue_pattern::words;
use hangtrue_pattern::words::{InUnit, Length};
use hangtrue_pattern::{Pattern, Piece};
use kurbo::Shape;

/// Height of the strip at the foot of every sheet, mm.
const STRIP: f64 = 15.0;
/// The smallest letters, mm.
const SMALLEST: f64 = 1.9;
/// Words that find no room as they are may be so much smaller.
const SMALLER: [f64; 2] = [1.0, 0.85];
/// The same where sheets are joined.
const LAST: [f64; 3] = [1.0, 0.85, 0.7];
/// Letters of a piece's name, and of the lines under it, mm.
const NAME: f64 = 4.6;
const LINE: f64 = 2.5;
/// Pens of a handout against those of a pattern.
const PENS: f64 = 0.7;

/// Lines that stand with a piece: what is said, how large, how bold.
type Caption = Vec<(String, f64, Weight)>;

/// A handout as it was drawn.
#[derive(Debug, Clone)]
pub struct Handout {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// How much smaller than the pattern it is.
    pub reduced: Reduced,
    /// The drawing, mm on the paper.
    pub scene: Scene,
    /// How it was cut into sheets.
    pub grid: Grid,
    /// What stands on each sheet beside the drawing, in page coordinates, mm.
    pub sheets: Vec<Scene>,
    /// The bar to measure, in page coordinates of every sheet, mm.
    pub bar: Rect,
    /// What could not be drawn, in words for the maker.
    pub notes: Vec<String>,
}

/// Draws the pieces smaller, on as few sheets as they need.
///
/// # Errors
/// [`PrintError`] with what to change.
pub fn handout(
    (pattern, draw): (&Pattern, &DrawOptions),
    reduced: Reduced,
    paper: Paper,
    options: &TileOptions,
    title: &str,
) -> Result<Handout, PrintError> {
    // Names of seams and corners would be too small to be read or hide the lines.
    let bare =
        DrawOptions { seam_names: false, corner_names: false, piece_names: false, ..draw.clone() };
    let mut notes = Vec::new();
    let mut upright = Vec::new();
    for (scene, piece) in piece_scenes(pattern, &bare)?.into_iter().zip(&pattern.pieces) {
        let caption = caption(piece, draw);
        notes.extend(scene.notes.iter().cloned());
        upright.push((smaller(&scene, reduced.times()), caption));
    }
    let mut best: Option<(Scene, Grid)> = None;
    // Upright, and lying along a sheet that is turned: whichever needs fewer.
    for turn in [0.0, -std::f64::consts::FRAC_PI_2] {
        let scenes: Vec<Scene> = upright
            .iter()
            .map(|(scene, caption)| named(scene.moved(Affine::rotate(turn)), caption))
            .collect();
        let (scene, grid) = fewest_sheets(&scenes, paper, options, STRIP)?;
        if best.as_ref().is_none_or(|(_, kept)| grid.sheets() < kept.sheets()) {
            best = Some((scene, grid));
        }
    }
    let (mut scene, grid) = best.ok_or(PrintError::Nothing)?;
    off_the_joins(&mut scene, &grid, &upright);
    let bar = bar_at(&grid, reduced);
    let sheets: Vec<Scene> = sheets(&grid, &scene, (reduced, bar), (title, &draw.label));
    notes.extend(missing_letters(&scene, title));
    let about = About {
        title: format!("{title}, {}", reduced.name()),
        subject: format!("Sewing pattern at {}, not for cutting", reduced.name()),
    };
    let pdf = pdf_of(&tile_pages(&scene, &grid, &sheets), &about)?;
    Ok(Handout { pdf, reduced, scene, grid, sheets, bar, notes })
}

/// Words move off the lines the sheets are joined by; small ones that find no room are left
/// out, captions never.
fn off_the_joins(scene: &mut Scene, grid: &Grid, pieces: &[(Scene, Caption)]) {
    let homeless = settle_words_in(scene, &joins(grid), &LAST);
    let captions: Vec<&String> = pieces.iter().flat_map(|p| &p.1).map(|line| &line.0).collect();
    let is_caption = |index: &usize| match &scene.items[*index].mark {
        Mark::Words(words) => captions.contains(&&words.text),
        _ => true,
    };
    let left_out: Vec<usize> = homeless.into_iter().filter(|i| !is_caption(i)).collect();
    without(scene, &left_out);
}

/// The drawing so many times as large; letters that would be too small to be read are as
/// small as can be read.
fn smaller(scene: &Scene, times: f64) -> Scene {
    let by = Affine::scale(times);
    let mut small = scene.moved(by);
    let mut of_block = vec![1.0; scene.items.len()];
    for block in blocks(scene) {
        let sizes = block.iter().filter_map(|i| match &scene.items[*i].mark {
            Mark::Words(words) => Some(words.size),
            _ => None,
        });
        let least = sizes.fold(f64::INFINITY, f64::min);
        let share = (SMALLEST / least).clamp(times, 1.0);
        let first = small.items[block[0]].mark.clone();
        for index in block {
            of_block[index] = share;
            // Lines of one block stay as far apart as their letters ask.
            if let (Mark::Words(words), Mark::Words(first)) = (&mut small.items[index].mark, &first)
            {
                words.at = first.at + (words.at - first.at) * (share / times);
            }
        }
    }
    for (item, share) in small.items.iter_mut().zip(of_block) {
        match &mut item.mark {
            Mark::Words(words) => words.size *= share,
            Mark::Stroke(_, pen) => *pen = pen.times(PENS),
            Mark::Fill(..) => {}
        }
    }
    small
}

/// The name of a piece, and what is cut of it.
fn caption(piece: &Piece, draw: &DrawOptions) -> Caption {
    let mut lines = vec![(piece.name.clone(), NAME, Weight::Bold)];
    match draw.cut_piece(piece) {
        Some(known) => {
            let cut: Vec<String> = known.to_cut.iter().map(ToString::to_string).collect();
            lines.push((known.numbered(), LINE, Weight::Regular));
            lines.extend(cut.into_iter().map(|text| (text, LINE, Weight::Regular)));
        }
        None => lines.push((draw.cut.clone(), LINE, Weight::Regular)),
    }
    if draw.is_bare(piece) {
        lines.push((super::NO_ALLOWANCE.to_owned(), LINE, Weight::Bold));
    }
    lines
}

/// The piece with its name on it, or above it where there is no room; small words that find
/// no room are left out, for over a line neither could be read.
fn named(mut scene: Scene, caption: &[(String, f64, Weight)]) -> Scene {
    for item in &mut scene.items {
        if let Mark::Words(words) = &mut item.mark {
            stand_up(words);
        }
    }
    let bounds = scene.areas.iter().map(Shape::bounding_box).reduce(|a, b| a.union(b));
    let Some(bounds) = bounds.or_else(|| scene.bounds()) else { return scene };
    let block = block_at(caption, bounds.center() + Vec2::new(0.0, NAME), Anchor::Middle);
    let mut lines = Lines::default();
    scene.items.iter().for_each(|item| lines.add(&item.mark, Affine::IDENTITY));
    // The name goes first to where it has room.
    let inside = moved_free(&block, &lines, &[], &scene.areas, &SMALLER);
    let outside = inside.is_none();
    let block = inside.unwrap_or_else(|| {
        let high: f64 = caption.iter().map(|(_, size, _)| 1.3 * size).sum();
        let ink = scene.bounds().unwrap_or(bounds);
        block_at(caption, Point::new(ink.x0, ink.y1 + high + 1.0), Anchor::Start)
    });
    let own: Vec<Item> = block
        .into_iter()
        .map(|words| Item { layer: Layer::Label, mark: Mark::Words(words) })
        .collect();
    if outside {
        let left_out = settle_words_in(&mut scene, &Lines::default(), &SMALLER);
        without(&mut scene, &left_out);
        // It may move about above its piece, and is a part of what is printed.
        let of_own = own.iter().map(|item| item.mark.bounds()).reduce(|a, b| a.union(b));
        scene.areas.extend(of_own.map(|own| own.inflate(6.0, 0.6).to_path(0.1)));
        scene.items.extend(own);
    } else {
        let count = own.len();
        let mut with = Scene { items: own, areas: scene.areas.clone(), notes: scene.notes.clone() };
        with.items.append(&mut scene.items);
        let left_out = settle_words_in(&mut with, &Lines::default(), &SMALLER);
        let left_out: Vec<usize> = left_out.into_iter().filter(|i| *i >= count).collect();
        without(&mut with, &left_out);
        return with;
    }
    scene
}

fn without(scene: &mut Scene, left_out: &[usize]) {
    let mut index = 0;
    scene.items.retain(|_| {
        index += 1;
        !left_out.contains(&(index - 1))
    });
}

/// Words of a drawing that was turned do not stand on their heads.
fn stand_up(words: &mut Words) {
    let angle = super::draw::readable(words.angle);
    if (angle - words.angle).cos() < 0.0 {
        // Turned by half about the middle of their ink.
        let up = Vec2::from_angle(words.angle + std::f64::consts::FRAC_PI_2);
        let along = Vec2::from_angle(words.angle);
        let wide = width_of(&words.text, words.weight, words.size);
        let far = match words.anchor {
            Anchor::Start => wide,
            Anchor::Middle => 0.0,
            Anchor::End => -wide,
        };
        words.at += up * (0.55 * words.size) + along * far;
    }
    words.angle = angle;
}

/// The lines below each other, the first on the base line of that place.
fn block_at(caption: &[(String, f64, Weight)], at: Point, anchor: Anchor) -> Vec<Words> {
    let mut down = 0.0;
    let line = |(text, size, weight): &(String, f64, Weight)| {
        if down > 0.0 {
            down += 0.35 * size;
        }
        let at = at - Vec2::new(0.0, down + size);
        down += size;
        Words {
            text: text.clone(),
            at,
            size: *size,
            angle: 0.0,
            anchor,
            weight: *weight,
            ink: pens::INK,
        }
    };
    caption.iter().map(line).collect()
}

/// Where the bar lies on every sheet, mm.
fn bar_at(grid: &Grid, reduced: Reduced) -> Rect {
    let area = printed_area(grid);
    let (long, _) = Reduced::bar(grid.unit);
    let long = long * reduced.times();
    let foot = area.y0 - STRIP;
    Rect::new(area.x1 - 8.0 - long, foot + 5.0, area.x1 - 8.0, foot + 7.4)
}

fn sheets(
    grid: &Grid,
    drawing: &Scene,
    (reduced, bar): (Reduced, Rect),
    (title, label): (&str, &[String]),
) -> Vec<Scene> {
    let all = grid.sheets();
    let drawn = Drawn::of(drawing);
    let sheet = |(index, tile): (usize, &Tile)| {
        let mut scene =
            if all > 1 { sheet_scene(grid, tile, None, &drawn) } else { Scene::default() };
        let number = (all > 1).then(|| format!("sheet {} of {all} ({})", index + 1, tile.name));
        strip(&mut scene, grid, (reduced, bar), (title, label, number));
        scene
    };
    grid.printed_tiles().enumerate().map(sheet).collect()
}

/// What it is, whose it is, and the bar.
fn strip(
    scene: &mut Scene,
    grid: &Grid,
    (reduced, bar): (Reduced, Rect),
    (title, label, number): (&str, &[String], Option<String>),
) {
    let area = printed_area(grid);
    let foot = area.y0 - STRIP;
    let (left, right) = (Point::new(area.x0, area.y0 - 1.2), Point::new(area.x1, area.y0 - 1.2));
    scene.line(Layer::Sheet, left, right, pens::HAIR);
    let room = bar.x0 - 6.0 - area.x0;
    let banner = reduced.banner();
    let size = (5.0 * room / width_of(banner, Weight::Bold, 5.0)).min(5.0);
    let at = Point::new(area.x0, foot + 8.0);
    let words = Words::level(banner.to_owned(), at, size, Weight::Bold, pens::ACCENT);
    scene.words(Layer::Sheet, words);
    let own = [title].into_iter().chain(label.iter().map(String::as_str));
    let whose = own.filter(|line| !line.is_empty()).collect::<Vec<_>>().join(" · ");
    let print = "print at 100 %, no “fit to page”".to_owned();
    let below = number.into_iter().chain([print]).collect::<Vec<_>>().join(" · ");
    for (text, y) in [(whose, 4.2), (below, 0.8)] {
        let text = cut_short(&text, Weight::Regular, 2.6, room);
        let at = Point::new(area.x0, foot + y);
        scene.words(Layer::Sheet, Words::level(text, at, 2.6, Weight::Regular, pens::GREY));
    }
    draw_bar(scene, grid.unit, reduced, bar);
}

/// A length that is round in the unit, without decimals of mm.
fn whole(mm: f64, unit: Unit) -> String {
    words![(Length(mm), 0)].in_unit(unit)
}

/// The bar in four steps, by turns filled, with what it is on the pattern over it and what
/// it is on this paper under it.
fn draw_bar(scene: &mut Scene, unit: Unit, reduced: Reduced, bar: Rect) {
    let (long, step) = Reduced::bar(unit);
    let steps = (long / step).round() as usize;
    let wide = bar.width() / steps as f64;
    for index in (0..steps).step_by(2) {
        let x = bar.x0 + wide * index as f64;
        let cell = Rect::new(x, bar.y0, x + wide, bar.y1);
        scene.fill(Layer::Sheet, cell.to_path(0.01), pens::INK);
    }
    scene.stroke(Layer::Sheet, bar.to_path(0.01), pens::TEST);
    let small = |text: String, at: Point| Words {
        anchor: Anchor::Middle,
        ..Words::level(text, at, 2.3, Weight::Regular, pens::INK)
    };
    // The ends of the steps, in the unit and without its name but at the last.
    for index in [0, steps / 2, steps] {
        let at = Point::new(bar.x0 + wide * index as f64, bar.y1 + 1.0);
        let mm = step * index as f64;
        let text = if index == 0 { "0".to_owned() } else { whole(mm, unit) };
        scene.words(Layer::Sheet, small(text, at));
    }
    let [pattern, paper] = [long, long * reduced.times()].map(|mm| whole(mm, unit));
    let said = format!("{pattern} of the pattern: {paper} on this paper");
    let at = Point::new(bar.center().x, bar.y0 - 3.4);
    let least = width_of(&said, Weight::Regular, 2.3);
    let mut words = small(said, at);
    if least > bar.width() {
        // A short bar: the words end where it ends.
        (words.anchor, words.at.x) = (Anchor::End, bar.x1 + 7.0);
    }
    scene.words(Layer::Sheet, words);
}

#[cfg(test)]
mod tests {
    use super::super::room::Plate;
    use super::*;

    #[test]
    fn words_that_were_turned_over_stand_where_they_stood() {
        let words = Words {
            text: "hip".into(),
            at: Point::new(3.0, 4.0),
            size: 4.0,
            angle: 3.0,
            anchor: Anchor::Start,
            weight: Weight::Regular,
            ink: pens::INK,
        };
        let mut turned = words.clone();
        stand_up(&mut turned);
        assert!(turned.angle.cos() > 0.0);
        let (was, is) = (words.outline().bounding_box(), turned.outline().bounding_box());
        assert!(was.center().distance(is.center()) < 1.0, "{was:?} {is:?}");
        assert!(Plate::of(&words).meets(&Plate::of(&turned)));
    }
}
