//! What every sheet carries beside its part of the pattern: the edge that is
//! trimmed, the line the next sheet is laid on, join marks, its name, a small map.

use super::draw::readable;
use super::{Anchor, Grid, Layer, Scene, Tile, Weight, Words, pens};
use hangtrue_geometry::{BezPath, Point, Rect, Vec2};
use kurbo::Shape;

/// Half the width of a join mark, mm.
const MARK: f64 = 4.0;
/// Where the join marks lie along an edge, as parts of its length: the middle
/// and near both ends.
const MARKS: [f64; 3] = [1.0 / 8.0, 0.5, 7.0 / 8.0];

/// The printed area of a page of the grid in page coordinates, mm.
pub(crate) fn printed_area(grid: &Grid) -> Rect {
    let m = grid.margin;
    Rect::new(m, m, grid.page.width - m, grid.page.height - m)
}

/// Everything on a sheet but the pattern, in page coordinates, mm, y up.
pub(crate) fn sheet_scene(grid: &Grid, tile: &Tile, title: &str, number: (usize, usize)) -> Scene {
    let area = printed_area(grid);
    let mut scene = Scene::default();
    scene.stroke(Layer::Sheet, area.to_path(0.1), pens::EDGE);
    let (left, right) = (grid.neighbour(tile, 0, -1), grid.neighbour(tile, 0, 1));
    let (above, below) = (grid.neighbour(tile, -1, 0), grid.neighbour(tile, 1, 0));
    let (x_lay, y_lay) = (area.x1 - grid.overlap, area.y0 + grid.overlap);
    let corner = |x, y| Point::new(x, y);
    if let Some(next) = right {
        let (a, b) = (corner(x_lay, area.y0), corner(x_lay, area.y1));
        lay_line(&mut scene, area, a, b, Vec2::new(1.0, 0.0), &next.name);
    }
    if let Some(next) = below {
        let (a, b) = (corner(area.x0, y_lay), corner(area.x1, y_lay));
        lay_line(&mut scene, area, a, b, Vec2::new(0.0, -1.0), &next.name);
    }
    if let Some(next) = left {
        let (a, b) = (corner(area.x0, area.y0), corner(area.x0, area.y1));
        trim_line(&mut scene, area, a, b, Vec2::new(1.0, 0.0), &next.name);
    }
    if let Some(next) = above {
        let (a, b) = (corner(area.x0, area.y1), corner(area.x1, area.y1));
        trim_line(&mut scene, area, a, b, Vec2::new(0.0, -1.0), &next.name);
    }
    let foot = grid.overlap.min(15.0);
    let map_width =
        draw_map(&mut scene, grid, tile, Point::new(area.x0 + 2.5, area.y0 + 2.0), foot - 4.0);
    draw_name(
        &mut scene,
        tile,
        title,
        number,
        Point::new(area.x0 + 5.5 + map_width, area.y0 + 3.0),
    );
    scene
}

/// The broken line the next sheet's trimmed edge is laid on, with whole marks.
fn lay_line(scene: &mut Scene, area: Rect, a: Point, b: Point, out: Vec2, next: &str) {
    for f in MARKS {
        mark(scene, area, a.lerp(b, f));
    }
    scene.line(Layer::Sheet, a, b, pens::LAY);
    let angle = readable((b - a).atan2());
    let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
    let off = if up.dot(out) > 0.0 { 1.8 } else { 1.8 + 2.3 };
    for f in [0.3125, 0.6875] {
        edge_words(scene, &format!("lay {next} on this line"), a.lerp(b, f) + out * off, angle);
    }
}

/// The line that is trimmed and laid on the sheet before, with half marks.
fn trim_line(scene: &mut Scene, area: Rect, a: Point, b: Point, inward: Vec2, next: &str) {
    for f in MARKS {
        mark(scene, area, a.lerp(b, f));
    }
    scene.line(Layer::Sheet, a, b, pens::TRIM);
    let angle = readable((b - a).atan2());
    let up = Vec2::from_angle(angle + std::f64::consts::FRAC_PI_2);
    let off = if up.dot(inward) > 0.0 { 1.8 } else { 1.8 + 2.3 };
    for f in [0.3125, 0.6875] {
        edge_words(scene, &format!("joins {next} · trim here"), a.lerp(b, f) + inward * off, angle);
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

fn edge_words(scene: &mut Scene, text: &str, at: Point, angle: f64) {
    scene.words(
        Layer::Sheet,
        Words {
            text: text.to_owned(),
            at,
            size: 3.2,
            angle,
            anchor: Anchor::Middle,
            weight: Weight::Regular,
            ink: pens::GREY,
        },
    );
}

/// A map of the sheets, this one filled, skipped ones crossed out. Returns its
/// width, mm.
fn draw_map(scene: &mut Scene, grid: &Grid, tile: &Tile, at: Point, height: f64) -> f64 {
    let cell_height = (height / grid.rows as f64).min(3.6);
    let cell_width = cell_height * grid.page.width / grid.page.height;
    for other in &grid.tiles {
        let x = at.x + other.column as f64 * cell_width;
        let y = at.y + (grid.rows - 1 - other.row) as f64 * cell_height;
        let cell = Rect::new(x, y, x + cell_width, y + cell_height);
        map_cell(scene, cell, other, other.name == tile.name);
    }
    grid.columns as f64 * cell_width
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

fn draw_name(scene: &mut Scene, tile: &Tile, title: &str, number: (usize, usize), at: Point) {
    let words = |text: String, at, size, weight| Words {
        text,
        at,
        size,
        angle: 0.0,
        anchor: Anchor::Start,
        weight,
        ink: pens::GREY,
    };
    scene.words(Layer::Sheet, words(tile.name.clone(), at, 9.0, Weight::Bold));
    let beside = at + Vec2::new(super::letters::width_of(&tile.name, Weight::Bold, 9.0) + 3.0, 0.0);
    let (this, all) = number;
    let lower = format!("sheet {this} of {all} · print at 100 %, no “fit to page”");
    scene.words(Layer::Sheet, words(lower, beside, 2.8, Weight::Regular));
    let title = super::letters::cut_short(title, Weight::Regular, 2.8, 90.0);
    scene.words(Layer::Sheet, words(title, beside + Vec2::new(0.0, 3.6), 2.8, Weight::Regular));
}
