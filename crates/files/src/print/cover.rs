//! The first sheet: test squares, map, how to join, what the lines mean.

use super::draw::{arrow_head, drill};
use super::letters::{broken_into_lines, cut_short};
use super::room::{Lines, Plate};
use super::sheet::map_cell;
use super::{Anchor, Grid, Layer, Mark, Pen, Scene, Weight, Words, pens};
use hangtrue_geometry::{Affine, BezPath, Point, Rect, Vec2};
use hangtrue_pattern::units::show_length;
use kurbo::Shape;

/// Width of the panel, mm.
pub(crate) const WIDTH: f64 = 178.0;
/// Height of the panel, mm.
pub(crate) const HEIGHT: f64 = 244.0;
/// Where the right-hand column of the panel starts, mm.
const COLUMN: f64 = 94.0;

/// The test squares on the panel, mm from its top left corner, y up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TestSquares {
    /// 50 mm on each side.
    pub fifty: Rect,
    /// 1 in on each side.
    pub inch: Rect,
}

/// Where the test squares lie when the top left corner of the panel is at
/// `corner`, mm.
pub fn test_squares(corner: Point) -> TestSquares {
    let low = corner + Vec2::new(0.0, -88.0);
    let inch = hangtrue_pattern::units::INCH;
    TestSquares {
        fifty: Rect::from_origin_size(low, (50.0, 50.0)),
        inch: Rect::from_origin_size(low + Vec2::new(58.0, 0.0), (inch, inch)),
    }
}

/// The panel, its top left corner at the origin. `drawing` is shown small on
/// the map; `about` stands under the title.
pub(crate) fn panel(grid: &Grid, drawing: &Scene, title: &str, about: &[String]) -> Scene {
    let mut scene = Scene::default();
    draw_title(&mut scene, title, about, 9.5, WIDTH);
    draw_squares(&mut scene);
    let room = WIDTH - COLUMN;
    let y = paragraph(&mut scene, AT_FULL_SIZE, COLUMN, -41.5, 4.6, room);
    paragraph(&mut scene, HOW_TO_MEASURE, COLUMN, y - 2.2, 3.8, room);
    draw_map(&mut scene, grid, drawing);
    draw_steps(&mut scene, grid, COLUMN, -98.0, room);
    draw_key(&mut scene, drawing, -178.0, 2);
    draw_cautions(&mut scene);
    scene
}

fn words(text: &str, x: f64, y: f64, size: f64, weight: Weight) -> Words {
    Words {
        text: text.to_owned(),
        at: Point::new(x, y),
        size,
        angle: 0.0,
        anchor: Anchor::Start,
        weight,
        ink: pens::INK,
    }
}

fn heading(scene: &mut Scene, text: &str, x: f64, y: f64) {
    scene.words(Layer::Sheet, Words { ink: pens::ACCENT, ..words(text, x, y, 4.6, Weight::Bold) });
}

fn paragraph(scene: &mut Scene, text: &str, x: f64, y: f64, size: f64, width: f64) -> f64 {
    let mut y = y;
    for line in broken_into_lines(text, Weight::Regular, size, width) {
        scene.words(Layer::Sheet, words(&line, x, y, size, Weight::Regular));
        y -= 1.36 * size;
    }
    y
}

fn draw_title(scene: &mut Scene, title: &str, about: &[String], size: f64, width: f64) {
    let title = cut_short(title, Weight::Bold, size, width);
    scene.words(Layer::Sheet, words(&title, 0.0, -9.0, size, Weight::Bold));
    let small = 0.44 * size;
    let about = cut_short(&about.join("  ·  "), Weight::Regular, small, width);
    scene.words(
        Layer::Sheet,
        Words { ink: pens::GREY, ..words(&about, 0.0, -16.5, small, Weight::Regular) },
    );
    let rule = Pen { width: 0.8, ..pens::CUT };
    let rule = Pen { ink: pens::ACCENT, ..rule };
    scene.line(Layer::Sheet, Point::new(0.0, -21.0), Point::new(28.0, -21.0), rule);
}

fn draw_squares(scene: &mut Scene) {
    heading(scene, "Measure before you cut", 0.0, -31.0);
    let squares = test_squares(Point::ORIGIN);
    for (square, name) in [(squares.fifty, "50 mm"), (squares.inch, "1 in")] {
        scene.stroke(Layer::Sheet, square.to_path(0.1), pens::TEST);
        let at = square.center();
        let label = words(name, at.x, at.y - 1.8, 5.0, Weight::Bold);
        scene.words(Layer::Sheet, Words { anchor: Anchor::Middle, ..label });
    }
}

const AT_FULL_SIZE: &str = "Print at 100 % (“actual size”), with no “fit to page”.";
const HOW_TO_MEASURE: &str = "Lay a ruler on the squares: every side of the large one is 50 mm, of \
     the small one 1 in. If they are not, change the print setting and print this sheet again \
     before the others: a pattern out of scale cannot be mended.";

fn draw_map(scene: &mut Scene, grid: &Grid, drawing: &Scene) {
    let before = scene.items.len();
    heading(scene, "The sheets", 0.0, -98.0);
    let (left, top) = (0.0, -102.5);
    let (room_x, room_y) = (86.0, 66.0);
    let (step_x, step_y) =
        (grid.printed().width - grid.overlap, grid.printed().height - grid.overlap);
    let whole_x = grid.columns as f64 * step_x + grid.overlap;
    let whole_y = grid.rows as f64 * step_y + grid.overlap;
    let scale = (room_x / whole_x).min(room_y / whole_y);
    let to_map = Affine::translate((left, top))
        * Affine::scale(scale)
        * Affine::translate(-grid.top_left.to_vec2());
    // Cells share the overlaps by halves, so that they tile the map.
    for tile in &grid.tiles {
        map_cell(scene, to_map.transform_rect_bbox(grid.share(tile)), tile, false);
    }
    for item in &drawing.items {
        let ink = match item.layer {
            Layer::Cut => pens::INK,
            Layer::Cloth => pens::ACCENT,
            _ => continue,
        };
        if let Mark::Stroke(path, _) = &item.mark {
            let pen = Pen { width: 0.25, ink, ..pens::HAIR };
            scene.stroke(Layer::Sheet, to_map * path.clone(), pen);
        }
    }
    let mut lines = Lines::default();
    for item in &scene.items[before..] {
        lines.add(&item.mark, Affine::IDENTITY);
    }
    let size = (grid.share(&grid.tiles[0]).height() * scale * 0.3).clamp(1.6, 4.0);
    for tile in &grid.tiles {
        let cell = to_map.transform_rect_bbox(grid.share(tile));
        let ink = if tile.blank { pens::PALE } else { pens::INK };
        let name = Words { ink, ..words(&tile.name, 0.0, 0.0, size, Weight::Bold) };
        if let Some(name) = named_in(&name, cell, &lines) {
            scene.words(Layer::Sheet, name);
        }
    }
}

/// The name of a sheet in its cell of the map: at the first place from the upper left
/// where no line runs under it, smaller where there is none.
fn named_in(name: &Words, cell: Rect, lines: &Lines) -> Option<Words> {
    /// Steps in which a place is looked for, as a share of the size of the letters.
    const STEP: f64 = 0.2;
    [1.0, 0.8, 0.6, 0.45].into_iter().find_map(|smaller| {
        let size = name.size * smaller;
        let wide = super::width_of(&name.text, name.weight, size);
        let across = ((cell.width() - wide) / (STEP * size)).floor().max(-1.0) as i64;
        let down = ((cell.height() - size) / (STEP * size)).floor().max(-1.0) as i64;
        let places = (0..=down).flat_map(|y| (0..=across).map(move |x| (x as f64, y as f64)));
        places
            .map(|(x, y)| {
                let corner = Point::new(cell.x0, cell.y1 - 0.8 * size);
                Words { at: corner + Vec2::new(x, -y) * (STEP * size), size, ..name.clone() }
            })
            .find(|words| !lines.under(&Plate::of(words)))
    })
}

/// How to join, numbered. Returns the height below it.
fn draw_steps(scene: &mut Scene, grid: &Grid, x: f64, top: f64, width: f64) -> f64 {
    heading(scene, if grid.apart { "The sheets" } else { "Joining" }, x, top);
    let skipped = grid.tiles.len() - grid.sheets();
    let mut steps = vec![format!(
        "{} of {}, each {} by {}{}.",
        match grid.sheets() {
            1 => "One sheet".to_owned(),
            n => format!("{n} sheets"),
        },
        grid.paper.name_in(grid.unit),
        show_length(grid.page.width, grid.unit),
        show_length(grid.page.height, grid.unit),
        match skipped {
            0 => String::new(),
            1 => "; one that would be empty is left out (crossed on the map)".to_owned(),
            n => format!("; {n} that would be empty are left out (crossed on the map)"),
        }
    )];
    if grid.apart {
        steps.push("Every piece lies whole on one sheet: nothing is joined.".into());
    } else if grid.sheets() > 1 {
        steps.push("Trim the left and the upper edge of a sheet where it says “trim here”.".into());
        steps.push(
            "Lay the trimmed edge on the broken line of the sheet before it. The lozenges must \
             close; the words on the edge name the neighbour."
                .into(),
        );
        steps.push("Tape each row from the left, then the rows from the top. Tape flat.".into());
    }
    let mut y = top - 6.5;
    for (index, step) in steps.iter().enumerate() {
        scene.words(Layer::Sheet, words(&format!("{}", index + 1), x, y, 3.8, Weight::Bold));
        y = paragraph(scene, step, x + 5.5, y, 3.8, width - 5.5) - 1.8;
    }
    y
}

/// A kind of line on the key.
enum Sample {
    Line(Pen),
    Grain,
    Notch,
    Dart,
    Drill,
}

const KEY: [(&str, Sample); 13] = [
    ("cut here (without allowance: the sew line)", Sample::Line(pens::CUT)),
    ("sew here", Sample::Line(pens::SEW)),
    ("trace through to the cloth, both layers", Sample::Line(pens::CLOTH)),
    ("stays on paper", Sample::Line(pens::PAPER)),
    ("notch; two side by side on the back", Sample::Notch),
    ("old place: its rule cannot be met", Sample::Line(pens::STALE)),
    ("the pattern before", Sample::Line(pens::EARLIER)),
    ("inner line", Sample::Line(pens::INNER)),
    ("grain", Sample::Grain),
    ("dart: press the way the arrow points", Sample::Dart),
    ("pleat: sewn across the top only", Sample::Line(pens::PLEAT)),
    ("fold", Sample::Line(pens::FOLD)),
    ("mark through to the cloth", Sample::Drill),
];
const KEY_ROW: f64 = 6.4;
/// Room for the rows where what follows has its own place, mm.
const KEY_ROOM: f64 = 35.8;

impl Sample {
    /// Whether the drawing has such a line.
    fn is_in(&self, drawing: &Scene) -> bool {
        let has = |layer: Option<Layer>, wanted: Pen| {
            drawing.items.iter().any(|item| {
                let is_there = layer.map_or(item.layer != Layer::Sheet, |l| l == item.layer);
                is_there && matches!(item.mark, Mark::Stroke(_, pen) if pen == wanted)
            })
        };
        match self {
            Self::Line(pen) => has(None, *pen),
            Self::Grain => has(None, pens::GRAIN),
            Self::Notch => has(None, pens::NOTCH),
            Self::Dart => has(Some(Layer::Dart), pens::DART),
            Self::Drill => has(Some(Layer::Notch), pens::DART),
        }
    }
}

/// The key under its heading, in so many columns: the lines that are in the drawing and
/// no other. Returns the height below it.
fn draw_key(scene: &mut Scene, drawing: &Scene, y: f64, columns: usize) -> f64 {
    heading(scene, "The lines", 0.0, y);
    let key: Vec<_> = KEY.iter().filter(|(_, sample)| sample.is_in(drawing)).collect();
    let rows = key.len().div_ceil(columns);
    // On the panel the cautions have their place below.
    let high = if columns > 1 { KEY_ROW.min(KEY_ROOM / rows as f64) } else { KEY_ROW };
    for (index, (text, sample)) in key.into_iter().enumerate() {
        let (column, row) = (index / rows, index % rows);
        let (x, y) = (column as f64 * COLUMN, y - 7.2 - row as f64 * high);
        let (a, b) = (Point::new(x, y + 1.2), Point::new(x + 22.0, y + 1.2));
        // A sample is no part of the pattern: it is on the sheet's own layer.
        match sample {
            Sample::Line(pen) => scene.line(Layer::Sheet, a, b, *pen),
            Sample::Grain => {
                scene.line(Layer::Sheet, a, b, pens::GRAIN);
                arrow_head(scene, Layer::Sheet, b, Vec2::new(1.0, 0.0), 3.5);
                arrow_head(scene, Layer::Sheet, a, Vec2::new(-1.0, 0.0), 3.5);
            }
            Sample::Notch => notch_sample(scene, x, y),
            Sample::Dart => dart_sample(scene, x, y),
            Sample::Drill => drill(scene, Layer::Sheet, Point::new(x + 11.0, y + 1.2)),
        }
        scene.words(Layer::Sheet, words(text, x + 26.0, y, 3.6, Weight::Regular));
    }
    y - 7.2 - rows as f64 * high
}

fn notch_sample(scene: &mut Scene, x: f64, y: f64) {
    let edge = y + 2.8;
    scene.line(Layer::Sheet, Point::new(x, edge), Point::new(x + 22.0, edge), pens::CUT);
    for at in [5.0, 14.5, 17.5] {
        let (a, b) = (Point::new(x + at, edge), Point::new(x + at, edge - 3.4));
        scene.line(Layer::Sheet, a, b, pens::NOTCH);
    }
}

fn dart_sample(scene: &mut Scene, x: f64, y: f64) {
    let mut legs = BezPath::new();
    legs.move_to((x, y + 3.2));
    legs.line_to((x + 20.0, y + 1.0));
    legs.line_to((x, y - 1.2));
    scene.stroke(Layer::Sheet, legs, pens::DART);
    let tip = Point::new(x + 5.0, y - 1.9);
    scene.line(Layer::Sheet, Point::new(x + 5.0, y + 2.6), tip, pens::DART);
    arrow_head(scene, Layer::Sheet, tip, Vec2::new(0.0, -1.0), 2.2);
}

const CARE: &str = "Rotary blade or shears: cut away from the hand that holds, keep fingers off \
     the ruler’s edge, close the blade when you put it down. Paper edges cut too.";

fn draw_cautions(scene: &mut Scene) {
    let top = -221.0;
    let frame = Rect::new(0.0, -HEIGHT, WIDTH, top);
    scene.fill(Layer::Sheet, frame.to_path(0.1), pens::WASH);
    scene.words(
        Layer::Sheet,
        Words { ink: pens::ACCENT, ..words("With care", 4.0, top - 7.2, 4.2, Weight::Bold) },
    );
    paragraph(scene, CARE, 28.0, top - 7.0, 3.8, WIDTH - 33.0);
}

/// Width of the slip, mm: narrow enough for the gap beside a leg.
pub(crate) const SLIP_WIDTH: f64 = 112.0;

/// The slip printed between the pieces on large paper: the test squares, what
/// the lines mean, and how to join if there is more than one sheet. Its top left
/// corner is at the origin; every sheet has its own small map.
pub(crate) fn slip(grid: &Grid, drawing: &Scene, title: &str, about: &[String]) -> Scene {
    let mut scene = Scene::default();
    draw_title(&mut scene, title, about, 7.0, SLIP_WIDTH);
    draw_squares(&mut scene);
    let mut y = paragraph(&mut scene, AT_FULL_SIZE, 0.0, -95.5, 4.4, SLIP_WIDTH) - 1.6;
    y = paragraph(&mut scene, HOW_TO_MEASURE, 0.0, y, 3.8, SLIP_WIDTH) - 5.0;
    if grid.sheets() > 1 {
        y = draw_steps(&mut scene, grid, 0.0, y, SLIP_WIDTH) - 5.0;
    }
    y = draw_key(&mut scene, drawing, y, 1) - 2.0;
    heading(&mut scene, "With care", 0.0, y - 2.0);
    paragraph(&mut scene, CARE, 0.0, y - 8.5, 3.8, SLIP_WIDTH);
    scene
}
