//! From a pattern to a finished PDF.

use super::arrange::places;
use super::cover::{self, panel};
use super::draw::{GAP, piece_scenes};
use super::sheet::{printed_area, sheet_scene};
use super::{
    About, DrawOptions, Grid, Layer, Page, Paper, Part, PrintError, Scene, TileOptions, arrange,
    pdf_of, pens, tile,
};
use hangtrue_geometry::{Affine, Point, Rect};
use hangtrue_pattern::Pattern;
use kurbo::Shape;

/// A pattern as it was printed.
#[derive(Debug, Clone)]
pub struct Printed {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// The whole drawing, mm.
    pub scene: Scene,
    /// How it was cut into sheets.
    pub grid: Grid,
    /// Pages of the PDF.
    pub pages: usize,
    /// The top left corner of the panel with the test squares on the first page,
    /// mm from the page's lower left corner, y up.
    pub panel_at: Point,
    /// What could not be drawn, in words for the maker.
    pub notes: Vec<String>,
}

/// Draws a pattern, lays its pieces out in whichever rows need the fewest
/// sheets, and writes the sheets as PDF at true scale. Sheet papers start with a
/// sheet of test squares, map and key; on A0 and rolls these stand beside the
/// pieces on the first sheet.
///
/// # Errors
/// [`PrintError`] with what to change.
pub fn print_pattern(
    pattern: &Pattern,
    draw: &DrawOptions,
    paper: Paper,
    options: &TileOptions,
    title: &str,
) -> Result<Printed, PrintError> {
    let mut scenes = piece_scenes(pattern, draw)?;
    if paper.is_large() {
        scenes.insert(0, blank_panel());
    }
    let (laid, grid) = fewest_sheets(&scenes, paper, options)?;
    let mut scene = laid.scene;
    let mut on_first = None;
    if paper.is_large() {
        // The blank that kept the place is replaced by the panel itself.
        let map = panel(&grid, &scene, title, &draw.label);
        scene.items.remove(laid.panel_items);
        scene.append(map.moved(Affine::translate(laid.panel.to_vec2())));
        on_first = Some(laid.panel);
    }
    let notes = scene.notes.clone();
    pages_of(scene, grid, draw, title, on_first, notes)
}

struct Laid {
    scene: Scene,
    /// The panel's top left corner in the drawing, if it has one.
    panel: Point,
    /// The index of the panel's blank among the items.
    panel_items: usize,
}

/// A frame as large as the panel; it keeps the panel's place.
fn blank_panel() -> Scene {
    let mut scene = Scene::default();
    let frame = Rect::new(0.0, -cover::HEIGHT, cover::WIDTH, 0.0);
    scene.stroke(Layer::Sheet, frame.to_path(0.1), pens::HAIR);
    scene
}

/// Tries one piece in a row, two, and so on, and keeps what needs the fewest
/// sheets; of equals the most compact.
fn fewest_sheets(
    scenes: &[Scene],
    paper: Paper,
    options: &TileOptions,
) -> Result<(Laid, Grid), PrintError> {
    let mut best: Option<(f64, Laid, Grid)> = None;
    for width in row_widths(scenes, paper, options) {
        let scene = arrange(scenes, width, GAP);
        let grid = tile(&scene, paper, options)?;
        let area = scene.bounds().map_or(0.0, |b| b.area());
        let used = grid.sheets() as f64 * grid.page.width * grid.page.height;
        // Paper used decides; the area of the drawing only breaks ties.
        let cost = used + 1e-6 * area;
        if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
            let to = places(scenes, width, GAP).first().copied().unwrap_or_default();
            let panel = Point::ORIGIN + to;
            best = Some((cost, Laid { scene, panel, panel_items: 0 }, grid));
        }
    }
    best.map(|(_, laid, grid)| (laid, grid)).ok_or(PrintError::Nothing)
}

/// The row widths worth trying, mm. On a roll rows are as wide as the roll, or
/// narrower.
fn row_widths(scenes: &[Scene], paper: Paper, options: &TileOptions) -> Vec<f64> {
    let widths: Vec<f64> = scenes.iter().filter_map(Scene::bounds).map(|b| b.width()).collect();
    let rolled = match paper {
        Paper::Roll { width_mm } => Some(width_mm - 2.0 * options.margin),
        _ => None,
    };
    let mut tried: Vec<f64> = (1..=widths.len())
        .filter_map(|in_row| {
            let rows = widths.chunks(in_row);
            let row = |r: &[f64]| r.iter().sum::<f64>() + GAP * (r.len() - 1) as f64;
            rows.map(row).reduce(f64::max).map(|w| w + 1e-6)
        })
        .filter(|w| rolled.is_none_or(|most| *w <= most))
        .collect();
    tried.extend(rolled);
    tried
}

fn pages_of(
    scene: Scene,
    grid: Grid,
    draw: &DrawOptions,
    title: &str,
    on_first: Option<Point>,
    notes: Vec<String>,
) -> Result<Printed, PrintError> {
    let area = printed_area(&grid);
    let mut pages = Vec::new();
    let cover_scene;
    let panel_at;
    let covers = usize::from(on_first.is_none());
    let all = grid.sheets() + covers;
    if let Some(at) = on_first {
        let first = grid.printed_tiles().next().ok_or(PrintError::Nothing)?;
        panel_at = at + to_page(&grid, first.window).translation();
    } else {
        let size = grid.paper.size().unwrap_or(grid.page);
        panel_at = Point::new((size.width - cover::WIDTH) / 2.0, size.height - options_top(size));
        let panel = panel(&grid, &scene, title, &draw.label);
        cover_scene = panel.moved(Affine::translate(panel_at.to_vec2()));
        pages.push(Page {
            width: size.width,
            height: size.height,
            parts: vec![Part::plain(&cover_scene)],
        });
    }
    let sheets: Vec<Scene> = grid
        .printed_tiles()
        .enumerate()
        .map(|(i, t)| sheet_scene(&grid, t, title, (i + 1 + covers, all)))
        .collect();
    for (t, sheet) in grid.printed_tiles().zip(&sheets) {
        pages.push(Page {
            width: grid.page.width,
            height: grid.page.height,
            parts: vec![
                Part { clip: Some(area), ..Part::plain(sheet) },
                Part {
                    scene: &scene,
                    to_page: to_page(&grid, t.window),
                    clip: Some(area),
                    words: true,
                },
            ],
        });
    }
    let about = About {
        title: title.to_owned(),
        subject: format!("Sewing pattern at true scale on {}", grid.paper.name()),
    };
    let pdf = pdf_of(&pages, &about)?;
    let count = pages.len();
    drop(pages);
    Ok(Printed { pdf, pages: count, panel_at, notes, scene, grid })
}

/// From the top of the first sheet to its panel, mm: centred, a little high.
fn options_top(size: super::Size) -> f64 {
    ((size.height - cover::HEIGHT) * 0.4).min(22.0)
}

/// From the drawing to the page of a window.
fn to_page(grid: &Grid, window: Rect) -> Affine {
    Affine::translate((grid.margin - window.x0, grid.margin - window.y0))
}
