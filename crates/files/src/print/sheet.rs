//! What every sheet carries beside its part of the pattern: the edge that is
//! trimmed, the line the next sheet is laid on, join marks, its name, a small map.

use super::draw::readable;
use super::room::{Drawn, Lines, Plate};
use super::{Anchor, Grid, Layer, Scene, Tile, Weight, Words, pens};
use hangtrue_geometry::{Affine, BezPath, Point, Rect, Vec2};
use kurbo::Shape;

/// Half the width of a join mark, mm.
const MARK: f64 = 4.0;
/// Where the join marks lie along an edge, as parts of its length: the middle
/// and near both ends.
const MARKS: [f64; 3] = [1.0 / 8.0, 0.5, 7.0 / 8.0];

/// The printed area of a page of the grid in page coordinates, mm.
pub(crate) fn printed_area(grid: &Grid) -> Rect {
    let m = grid.margin;
    Rect::new(m, m + grid.foot, grid.page.width - m, grid.page.height - m)
}

/// Everything on a sheet but the pattern, in page coordinates, mm, y up. Its words keep off
/// the lines and words of the drawing; its name and number are left out where they stand
/// elsewhere.
pub(crate) fn sheet_scene(
    grid: &Grid,
    tile: &Tile,
    named: Option<(&str, (usize, usize))>,
    drawing: &Drawn,
) -> Scene {
    let area = printed_area(grid);
    let mut scene = bones(grid, tile);
    let mut quiet = Quiet::of(grid, tile, &scene, drawing);
    scene.stroke(Layer::Sheet, area.to_path(0.1), pens::EDGE);
    if let Some((title, number)) = named {
        draw_foot(&mut scene, &mut quiet, grid, tile, title, number);
    }
    for edge in edges(grid, tile) {
        edge.words(&mut scene, &mut quiet);
    }
    scene
}

/// The lines a sheet is joined by: broken ones its neighbours are laid on, edges that are
/// trimmed, and their marks.
pub(crate) fn bones(grid: &Grid, tile: &Tile) -> Scene {
    let mut scene = Scene::default();
    for edge in edges(grid, tile) {
        let pen = if edge.is_laid_on { pens::LAY } else { pens::TRIM };
        for f in MARKS {
            mark(&mut scene, printed_area(grid), edge.from.lerp(edge.to, f));
        }
        scene.line(Layer::Sheet, edge.from, edge.to, pen);
    }
    scene
}

/// From the drawing to the page of a sheet.
pub(crate) fn to_page(grid: &Grid, tile: &Tile) -> Affine {
    Affine::translate((grid.margin - tile.window.x0, grid.margin + grid.foot - tile.window.y0))
}

/// An edge a sheet shares with a neighbour.
struct Edge {
    from: Point,
    to: Point,
    /// The side on which its words stand.
    words_at: Vec2,
    /// The neighbour is laid on it; else it is trimmed and laid on the neighbour.
    is_laid_on: bool,
    neighbour: String,
}

fn edges(grid: &Grid, tile: &Tile) -> Vec<Edge> {
    let area = printed_area(grid);
    let (x_lay, y_lay) = (area.x1 - grid.overlap, area.y0 + grid.overlap);
    let (right, left) = (Vec2::new(1.0, 0.0), Vec2::new(-1.0, 0.0));
    let (down, up) = (Vec2::new(0.0, -1.0), Vec2::new(0.0, 1.0));
    let upright = |x: f64| (Point::new(x, area.y0), Point::new(x, area.y1));
    let level = |y: f64| (Point::new(area.x0, y), Point::new(area.x1, y));
    [
        ((0, 1), upright(x_lay), right, true),
        ((1, 0), level(y_lay), down, true),
        ((0, -1), upright(area.x0), -left, false),
        ((-1, 0), level(area.y1), -up, false),
    ]
    .into_iter()
    .filter(|_| !grid.apart)
    .filter_map(|((below, beside), (from, to), words_at, is_laid_on)| {
        let neighbour = grid.neighbour(tile, below, beside)?.name.clone();
        Some(Edge { from, to, words_at, is_laid_on, neighbour })
    })
    .collect()
}

impl Edge {
    /// What is done there, twice, where it is quiet; once where there is room for one.
    fn words(&self, scene: &mut Scene, quiet: &mut Quiet) {
        let Self { from, to, words_at, neighbour, .. } = self;
        let text = if self.is_laid_on {
            format!("lay {neighbour} on this line")
        } else {
            format!("joins {neighbour} · trim here")
        };
        let angle = readable((*to - *from).atan2());
        let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
        let off = |side: Vec2| side * if up.dot(side) > 0.0 { 1.8 } else { 1.8 + 2.3 };
        let half = super::width_of(&text, Weight::Regular, EDGE_WORDS) / 2.0 + 2.0;
        let ends = half / from.distance(*to);
        let mut first = None;
        for wanted in [0.3125, 0.6875] {
            let words = |(share, side): (f64, Vec2)| Words {
                text: text.clone(),
                at: from.lerp(*to, share) + off(side),
                size: EDGE_WORDS,
                angle,
                anchor: Anchor::Middle,
                weight: Weight::Regular,
                ink: pens::GREY,
            };
            let apart = |share: &f64| first.is_none_or(|f: f64| (f - share).abs() > APART);
            // Where a line of the pattern runs along the edge there is room beyond it.
            let sides =
                [*words_at, -*words_at].into_iter().take(if self.is_laid_on { 2 } else { 1 });
            let places: Vec<(f64, Vec2)> = sides
                .flat_map(|side| {
                    shares_near(wanted, ends).filter(apart).map(move |share| (share, side))
                })
                .collect();
            let written = quiet.write(scene, places.iter().copied().map(words));
            first = first.or(written.map(|index| places[index].0));
        }
    }
}

/// Size of the words along an edge, mm.
const EDGE_WORDS: f64 = 3.2;
/// The same words stand so far apart at least, as a share of their edge.
const APART: f64 = 0.25;

/// Shares of an edge about the one that is wanted, the nearest first, none nearer than
/// `ends` to either end.
fn shares_near(wanted: f64, ends: f64) -> impl Iterator<Item = f64> {
    const STEP: f64 = 1.0 / 128.0;
    (0..=128)
        .flat_map(move |i| [1.0, -1.0].map(|side| wanted + side * STEP * f64::from(i)))
        .filter(move |share| (ends..=1.0 - ends).contains(share))
}

/// What the words of a sheet keep off.
struct Quiet {
    lines: Lines,
    taken: Vec<Plate>,
}

impl Quiet {
    fn of(grid: &Grid, tile: &Tile, bones: &Scene, drawing: &Drawn) -> Self {
        let by = to_page(grid, tile).translation();
        let (lines, taken) = drawing.within(tile.window, by);
        let mut quiet = Self { lines, taken };
        for item in &bones.items {
            quiet.lines.add(&item.mark, Affine::IDENTITY);
        }
        quiet
    }

    fn is_free(&self, plate: &Plate) -> bool {
        !self.lines.under(plate) && !self.taken.iter().any(|t| t.meets(plate))
    }

    /// Writes the words at the first free place and says which; without one they are left
    /// out, for words over a line of the pattern would hide it.
    fn write(&mut self, scene: &mut Scene, places: impl Iterator<Item = Words>) -> Option<usize> {
        let mut places = places.enumerate();
        let (index, words) = places.find(|w| self.is_free(&Plate::of(&w.1)))?;
        self.taken.push(Plate::of(&words));
        scene.words(Layer::Sheet, words);
        Some(index)
    }
}

/// A lozenge centred on the join, cut off at the printed area: its two halves
/// come from two sheets and must make one.
fn mark(scene: &mut Scene, area: Rect, at: Point) {
    let points =
        [Vec2::new(MARK, 0.0), Vec2::new(0.0, MARK), Vec2::new(-MARK, 0.0), Vec2::new(0.0, -MARK)];
    let mut path = BezPath::new();
    for (i, v) in points.iter().enumerate() {
        // The join runs through two tips or along an edge of the area, so
        // holding the others at the area cuts the lozenge exactly in half.
        let p = at + *v;
        let held = Point::new(p.x.clamp(area.x0, area.x1), p.y.clamp(area.y0, area.y1));
        if i == 0 { path.move_to(held) } else { path.line_to(held) }
    }
    path.close_path();
    scene.fill(Layer::Sheet, path.clone(), pens::WASH);
    scene.stroke(Layer::Sheet, path, pens::HAIR);
}

/// A map of the sheets, this one filled, skipped ones crossed out.
fn draw_map(scene: &mut Scene, grid: &Grid, tile: &Tile, at: Point, height: f64) {
    let (cell_width, cell_height) = cell_of(grid, height);
    for other in &grid.tiles {
        let x = at.x + other.column as f64 * cell_width;
        let y = at.y + (grid.rows - 1 - other.row) as f64 * cell_height;
        let cell = Rect::new(x, y, x + cell_width, y + cell_height);
        map_cell(scene, cell, other, other.name == tile.name);
    }
}

/// Width and height of a sheet on a map so high, mm.
fn cell_of(grid: &Grid, height: f64) -> (f64, f64) {
    let cell_height = (height / grid.rows as f64).min(3.6);
    (cell_height * grid.page.width / grid.page.height, cell_height)
}

/// One sheet on a map.
pub(crate) fn map_cell(scene: &mut Scene, cell: Rect, tile: &Tile, filled: bool) {
    if filled {
        scene.fill(Layer::Sheet, cell.to_path(0.1), pens::GREY);
    }
    scene.stroke(Layer::Sheet, cell.to_path(0.1), pens::HAIR);
    if tile.blank {
        let (a, b) = (Point::new(cell.x0, cell.y0), Point::new(cell.x1, cell.y1));
        scene.line(Layer::Sheet, a, b, pens::HAIR);
        let (a, b) = (Point::new(cell.x0, cell.y1), Point::new(cell.x1, cell.y0));
        scene.line(Layer::Sheet, a, b, pens::HAIR);
    }
}

/// The map, the sheet's name and what it belongs to, at the foot: where nothing of the
/// pattern lies, the first place from the left; its words in more lines where there is
/// less room.
fn draw_foot(
    scene: &mut Scene,
    quiet: &mut Quiet,
    grid: &Grid,
    tile: &Tile,
    title: &str,
    number: (usize, usize),
) {
    /// Steps in which a place is looked for, mm.
    const STEP: f64 = 1.5;
    /// What large letters reach below the line they stand on, mm.
    const DESCENT: f64 = 2.2;
    let area = printed_area(grid);
    let low = area.y0 + 2.0;
    let all = Foot::all(grid, tile, title, number);
    let bare = all.last().cloned();
    // Where lines run along the whole foot, what is shortest stands higher up.
    let higher = (1..(area.height() / 12.0) as i64)
        .filter_map(|i| Some((bare.clone()?, low + 12.0 * i as f64)));
    for (foot, y) in all.into_iter().map(|f| (f, low)).chain(higher) {
        let (wide, high) = (foot.width(), foot.height());
        let place = |at: Point| {
            Plate::upright(Rect::new(at.x - 0.5, at.y - DESCENT, at.x + wide + 0.5, at.y + high))
        };
        let steps = ((area.width() - wide - 4.0) / STEP).floor().max(-1.0) as i64;
        let mut places = (0..=steps).map(|i| Point::new(area.x0 + 2.5 + STEP * i as f64, y));
        if let Some(at) = places.find(|at| quiet.is_free(&place(*at))) {
            quiet.taken.push(place(at));
            return foot.draw(scene, grid, tile, at);
        }
    }
}

/// What stands at the foot of a sheet: its map, its name, and lines beside the name.
#[derive(Clone)]
struct Foot {
    name: String,
    /// The lines, the lowest first.
    lines: Vec<String>,
    /// Width of the map, mm, and its height.
    map: (f64, f64),
}

impl Foot {
    /// Size of the sheet's name and of the lines beside it, mm.
    const NAME: f64 = 9.0;
    const LINE: f64 = 2.8;
    /// From line to line, mm.
    const PITCH: f64 = 3.2;

    /// All ways to say it, the fullest first.
    fn all(grid: &Grid, tile: &Tile, title: &str, (this, all): (usize, usize)) -> Vec<Self> {
        let map_height = grid.overlap.min(15.0) - 4.0;
        let map = (grid.columns as f64 * cell_of(grid, map_height).0, map_height);
        let full = format!("sheet {this} of {all} · print at 100 %, no “fit to page”");
        let short = format!("{this} of {all} · print at 100 %");
        let with = |lines: Vec<String>, below: &str| Self {
            name: tile.name.clone(),
            lines: [below.to_owned()].into_iter().chain(lines.into_iter().rev()).collect(),
            map,
        };
        vec![
            with(in_lines(title, 1, 90.0), &full),
            with(in_lines(title, 2, 56.0), &full),
            with(in_lines(title, 3, 38.0), &short),
            Self { map: (0.0, 0.0), ..with(in_lines(title, 3, 38.0), &short) },
            Self { map: (0.0, 0.0), ..with(in_lines(title, 5, 30.0), &short) },
        ]
    }

    fn beside_map(&self) -> f64 {
        if self.map.0 > 0.0 { self.map.0 + 3.0 } else { 0.0 }
    }

    fn name_width(&self) -> f64 {
        super::width_of(&self.name, Weight::Bold, Self::NAME) + 3.0
    }

    fn width(&self) -> f64 {
        let line = |text: &String| super::width_of(text, Weight::Regular, Self::LINE);
        let longest = self.lines.iter().map(line).fold(0.0, f64::max);
        self.beside_map() + self.name_width() + longest
    }

    fn height(&self) -> f64 {
        let lines = Self::PITCH * self.lines.len() as f64 - 1.0;
        lines.max(self.map.1).max(0.8 * Self::NAME)
    }

    fn draw(&self, scene: &mut Scene, grid: &Grid, tile: &Tile, at: Point) {
        let words = |text, at, size, weight| Words::level(text, at, size, weight, pens::GREY);
        if self.map.0 > 0.0 {
            draw_map(scene, grid, tile, at, self.map.1);
        }
        // The name stands in the middle of the lines.
        let lines = Self::PITCH * (self.lines.len() as f64 - 1.0) + 0.7 * Self::LINE;
        let up = ((lines - 0.7 * Self::NAME) / 2.0).max(0.0);
        let name = at + Vec2::new(self.beside_map(), 0.0);
        let large = words(self.name.clone(), name + Vec2::new(0.0, up), Self::NAME, Weight::Bold);
        scene.words(Layer::Sheet, large);
        for (index, line) in self.lines.iter().enumerate() {
            let beside = name + Vec2::new(self.name_width(), Self::PITCH * index as f64);
            scene.words(Layer::Sheet, words(line.clone(), beside, Self::LINE, Weight::Regular));
        }
    }
}

/// The text in so many lines at most, none longer than that, mm; it goes on in the next
/// line rather between its parts than within one. What is too long for all of them is cut
/// short at the end.
fn in_lines(text: &str, most: usize, longest: f64) -> Vec<String> {
    let wide = |text: &str| super::width_of(text, Weight::Regular, Foot::LINE);
    let mut lines: Vec<String> = vec![String::new()];
    let mut add = |piece: &str, before: &str| {
        let last = lines.len() - 1;
        let longer = format!("{}{before}{piece}", lines[last]);
        if lines[last].is_empty() {
            lines[last] = piece.to_owned();
        } else if lines.len() == most || wide(&longer) <= longest {
            lines[last] = longer;
        } else {
            lines.push(piece.to_owned());
        }
    };
    for part in text.split(PARTS) {
        if wide(part) <= longest {
            add(part, PARTS);
            continue;
        }
        for (index, word) in part.split(' ').enumerate() {
            add(word, if index == 0 { PARTS } else { " " });
        }
    }
    let short =
        |line: String| super::letters::cut_short(&line, Weight::Regular, Foot::LINE, longest);
    lines.into_iter().map(short).collect()
}

/// What stands between two parts of a text.
const PARTS: &str = " · ";

#[cfg(test)]
mod tests {
    use super::in_lines;

    #[test]
    fn what_is_too_long_goes_on_in_the_next_line_and_is_cut_in_the_last() {
        let text = "first toile, 2026-11-25 · Somebody (invented), Copper Lane · Trousers";
        let lines = in_lines(text, 5, 45.0);
        assert_eq!(lines[0], "first toile, 2026-11-25", "{lines:?}");
        let every = |word: &str| lines.iter().any(|l| l.contains(word));
        assert!(["Somebody", "Copper Lane", "Trousers"].into_iter().all(every), "{lines:?}");
        let cut = in_lines(text, 2, 34.0);
        assert_eq!((cut.len(), cut[0].as_str()), (2, "first toile, 2026-11-25"));
        assert!(cut[1].ends_with('…'), "{cut:?}");
    }
}
