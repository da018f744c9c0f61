//! From a pattern to a finished PDF.

use super::cover::{self, panel, slip};
use super::draw::{GAP, NO_ALLOWANCE, piece_scenes};
use super::letters::letters_missing;
use super::pack::{pack, pack_whole};
use super::room::{Drawn, Lines, settle_words};
use super::scene::{Footprint, area_touches};
use super::sheet::{bones, printed_area, sheet_scene, to_page};
use super::tile::tile_above;
use super::{
    About, DrawOptions, Grid, Item, Layer, Mark, Page, Paper, Part, PrintError, Scene, Size, Tile,
    TileOptions, arrange, pdf_of, pens,
};
use hangtrue_geometry::{Affine, Point, Rect, Vec2};
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
    /// What stands on each printed sheet beside the drawing, in page coordinates, mm.
    pub sheets: Vec<Scene>,
    /// The sheet of test squares, map and key before them, mm, if there is one.
    pub first_sheet: Option<Scene>,
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
    let scenes = piece_scenes(pattern, draw)?;
    let (mut scene, mut grid) = fewest_sheets(&scenes, paper, options, 0.0)?;
    let mut on_first = None;
    if paper.is_large() {
        let corner = match free_corner(&scene, &grid, &slip(&grid, &scene, title, &draw.label)) {
            Some(corner) => corner,
            None => {
                // No room between the pieces: the slip is laid out like one. A
                // second sheet only adds to it, so it is measured at its longest.
                let mut with_slip = vec![placeholder(&grid, &scene, title, draw)];
                with_slip.extend(scenes);
                (scene, grid) = fewest_sheets(&with_slip, paper, options, 0.0)?;
                // The placeholder has kept the first place, at the origin.
                scene.items.remove(0);
                Point::ORIGIN
            }
        };
        let slip = slip(&grid, &scene, title, &draw.label);
        scene.append(slip.moved(Affine::translate(corner.to_vec2())));
        on_first = Some(corner);
    }
    let bare = draw.has_none(pattern);
    pages_of(scene, grid, (draw, bare), title, on_first)
}

/// A corner at which the slip lies on the first sheet clear of the pieces, the
/// joins and the sheet's name: the highest, then the leftmost.
fn free_corner(scene: &Scene, grid: &Grid, slip: &Scene) -> Option<Point> {
    const STEP: f64 = 4.0;
    let first = grid.printed_tiles().next()?;
    let height = -slip.bounds()?.y0;
    // A little in from the edge of what the printer reaches.
    let mut free = first.window.inflate(-4.0, -4.0);
    free.y0 += grid.overlap.max(15.0);
    free.x1 -= if grid.neighbour(first, 0, 1).is_some() { grid.overlap } else { 0.0 };
    let across = ((free.width() - cover::SLIP_WIDTH) / STEP).floor();
    let down = ((free.height() - height) / STEP).floor();
    if across < 0.0 || down < 0.0 {
        return None;
    }
    let inked: Vec<Footprint> = scene.items.iter().map(|i| i.mark.footprint()).collect();
    let clear = |corner: &Point| {
        let size = Vec2::new(cover::SLIP_WIDTH, -height);
        let place = Rect::from_points(*corner, *corner + size).inflate(GAP, GAP);
        !inked.iter().any(|i| i.touches(place))
            && !scene.areas.iter().any(|a| area_touches(a, place))
    };
    let mut corners = (0..=down as usize).flat_map(|row| {
        (0..=across as usize).map(move |column| {
            Point::new(free.x0 + STEP * column as f64, free.y1 - STEP * row as f64)
        })
    });
    corners.find(clear)
}

/// A frame as large as the slip can become; it keeps the slip's place.
fn placeholder(grid: &Grid, drawing: &Scene, title: &str, draw: &DrawOptions) -> Scene {
    let mut longest = grid.clone();
    longest.tiles.push(Tile { blank: false, ..grid.tiles[0].clone() });
    let mut scene = Scene::default();
    if let Some(bounds) = slip(&longest, drawing, title, &draw.label).bounds() {
        let frame = Rect::new(0.0, bounds.y0, cover::SLIP_WIDTH, 0.0);
        scene.stroke(Layer::Sheet, frame.to_path(0.1), pens::HAIR);
    }
    scene
}

/// Tries one piece in a row, two, and so on, and keeps what needs the fewest
/// sheets; of equals the most compact. So much is kept free at the foot of each, mm.
pub(super) fn fewest_sheets(
    scenes: &[Scene],
    paper: Paper,
    options: &TileOptions,
    foot: f64,
) -> Result<(Scene, Grid), PrintError> {
    let mut best: Option<(f64, Scene, Grid)> = None;
    let rows = row_widths(scenes, paper, options);
    let in_rows = rows.into_iter().map(|width| arrange(scenes, width, GAP));
    let wide = sheet_widths(paper, options);
    let packed = wide.into_iter().filter_map(|width| pack(scenes, width, GAP));
    for scene in in_rows.chain(packed) {
        let grid = tile_above(&scene, paper, options, foot)?;
        let area = scene.bounds().map_or(0.0, |b| b.area());
        let used = grid.sheets() as f64 * grid.page.width * grid.page.height;
        // Paper used decides; the area of the drawing only breaks ties.
        let cost = used + 1e-6 * area;
        if best.as_ref().is_none_or(|(least, ..)| cost < *least) {
            best = Some((cost, scene, grid));
        }
    }
    let (_, scene, grid) = best.ok_or(PrintError::Nothing)?;
    match on_whole_sheets(scenes, paper, options, foot)? {
        Some((whole, apart)) if apart.sheets() <= grid.sheets() => Ok((whole, apart)),
        _ => Ok((scene, grid)),
    }
}

/// The pieces on large sheets, each whole on one of them, so that nothing is taped; none on other
/// papers, and where a piece is too large for that.
fn on_whole_sheets(
    scenes: &[Scene],
    paper: Paper,
    options: &TileOptions,
    foot: f64,
) -> Result<Option<(Scene, Grid)>, PrintError> {
    let (Paper::A0, Some(size)) = (paper, paper.size()) else { return Ok(None) };
    let TileOptions { margin, overlap, .. } = *options;
    let (width, height) = (size.width - 2.0 * margin, size.height - 2.0 * margin - foot);
    // Where sheets lie over each other both would show what is there.
    let room = Size { width: width - 2.0 * overlap, height };
    let packed = pack_whole(scenes, (room, width - overlap), (overlap, GAP));
    let Some((scene, sheets)) = packed else { return Ok(None) };
    let grid = tile_above(&scene, paper, options, foot)?;
    let is_so = grid.sheets() == sheets && grid.rows == 1 && grid.page == size;
    Ok(is_so.then_some((scene, Grid { apart: true, ..grid })))
}

/// The widths of one, two and three large sheets side by side, upright and turned, or of a roll,
/// mm; none on paper so small that most pieces run over several sheets anyway.
fn sheet_widths(paper: Paper, options: &TileOptions) -> Vec<f64> {
    let TileOptions { margin, overlap, .. } = *options;
    match (paper, paper.size()) {
        (Paper::Roll { width_mm }, _) => vec![width_mm - 2.0 * margin],
        (Paper::A0, Some(size)) => [size.width, size.height]
            .into_iter()
            .flat_map(|side| [1.0, 2.0, 3.0].map(|n| n * (side - 2.0 * margin - overlap) + overlap))
            .collect(),
        _ => Vec::new(),
    }
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
    mut scene: Scene,
    grid: Grid,
    (draw, bare): (&DrawOptions, bool),
    title: &str,
    on_first: Option<Point>,
) -> Result<Printed, PrintError> {
    settle_words(&mut scene, &joins(&grid));
    let mut pages = Vec::new();
    let mut first_sheet = None;
    let panel_at = if let Some(corner) = on_first {
        let first = grid.printed_tiles().next().ok_or(PrintError::Nothing)?;
        to_page(&grid, first) * corner
    } else {
        let size = grid.paper.size().unwrap_or(grid.page);
        let at = Point::new((size.width - cover::WIDTH) / 2.0, size.height - panel_top(size));
        let panel = panel(&grid, &scene, title, &draw.label);
        let first = first_sheet.insert(panel.moved(Affine::translate(at.to_vec2())));
        pages.push(Page::plain(size, first));
        at
    };
    let name = name_of_sheets(title, &draw.label, bare);
    let sheets = sheet_scenes(&grid, &name, pages.len(), &scene);
    pages.extend(tile_pages(&scene, &grid, &sheets));
    let about = about(title, &grid);
    let pdf = pdf_of(&pages, &about)?;
    let count = pages.len();
    drop(pages);
    let mut notes = scene.notes.clone();
    notes.extend(missing_letters(&scene, title));
    Ok(Printed { pdf, pages: count, panel_at, notes, scene, grid, sheets, first_sheet })
}

/// What stands on every sheet: the label of the pieces, its last line first, because
/// what is too long is cut at its end; then the title. Before all of it, that nothing on
/// the sheet has any seam allowance, where that is so.
fn name_of_sheets(title: &str, label: &[String], bare: bool) -> String {
    let lines = label.iter().rev().map(String::as_str).filter(|l| !l.is_empty());
    let bare = bare.then_some(NO_ALLOWANCE);
    bare.into_iter().chain(lines).chain([title]).collect::<Vec<_>>().join(" · ")
}

/// Writes a drawing that is already cut into sheets as PDF, without a first
/// sheet of test squares: one page a printed sheet, in reading order.
///
/// # Errors
/// [`PrintError::Pdf`] when the library refuses.
pub fn tiled_pdf(scene: &Scene, grid: &Grid, title: &str) -> Result<Vec<u8>, PrintError> {
    let sheets = sheet_scenes(grid, title, 0, scene);
    pdf_of(&tile_pages(scene, grid, &sheets), &about(title, grid))
}

/// A note on letters the bundled font does not have, if there are any.
pub(super) fn missing_letters(scene: &Scene, title: &str) -> Option<String> {
    let texts = scene.items.iter().filter_map(|i| match &i.mark {
        Mark::Words(words) => Some(words.text.as_str()),
        _ => None,
    });
    let all: String = texts.chain([title]).collect();
    let missing: String = letters_missing(&all).into_iter().collect();
    let note = || format!("“{missing}” cannot be printed: the font has no such letters");
    (!missing.is_empty()).then(note)
}

fn about(title: &str, grid: &Grid) -> About {
    let subject = format!("Sewing pattern at true scale on {}", grid.paper.name_in(grid.unit));
    About { title: title.to_owned(), subject }
}

/// What stands on each printed sheet beside the drawing; `before` pages come
/// first.
fn sheet_scenes(grid: &Grid, title: &str, before: usize, drawing: &Scene) -> Vec<Scene> {
    let all = grid.sheets() + before;
    let numbered = grid.printed_tiles().enumerate();
    let drawn = Drawn::of(drawing);
    numbered
        .map(|(i, t)| sheet_scene(grid, t, Some((title, (i + 1 + before, all))), &drawn))
        .collect()
}

/// The lines all sheets are joined by, in the drawing.
pub(super) fn joins(grid: &Grid) -> Lines {
    let mut lines = Lines::default();
    for tile in grid.printed_tiles() {
        for item in bones(grid, tile).items {
            lines.add(&item.mark, to_page(grid, tile).inverse());
        }
    }
    lines
}

pub(super) fn tile_pages<'a>(scene: &'a Scene, grid: &Grid, sheets: &'a [Scene]) -> Vec<Page<'a>> {
    let clip = Some(printed_area(grid));
    // What is kept free at the foot is the sheet’s own.
    let whole = |c: Rect| Rect { y0: c.y0 - grid.foot, ..c }.inflate(0.5, 0.5);
    let bounds: Vec<Option<Rect>> = scene.items.iter().map(words_on_one(grid)).collect();
    let left_out = |tile: &Tile| -> Vec<usize> {
        let cut = bounds.iter().enumerate().filter(|(_, b)| b.is_some_and(|b| !holds(tile, b)));
        cut.map(|(index, _)| index).collect()
    };
    let page = |(tile, sheet): (&Tile, &'a Scene)| Page {
        width: grid.page.width,
        height: grid.page.height,
        parts: vec![
            // The lines on the very edge keep their full width.
            Part { clip: clip.map(whole), ..Part::plain(sheet) },
            Part {
                to_page: to_page(grid, tile),
                clip,
                left_out: left_out(tile),
                ..Part::plain(scene)
            },
        ],
        photos: vec![],
    };
    grid.printed_tiles().zip(sheets).map(page).collect()
}

/// Whether the box lies on the sheet whole.
fn holds(tile: &Tile, bounds: Rect) -> bool {
    tile.window.union(bounds) == tile.window
}

/// The box of words that stand whole on one sheet at least: on a neighbour that would cut
/// them, where the sheets lie over each other, they are left out.
fn words_on_one(grid: &Grid) -> impl Fn(&Item) -> Option<Rect> {
    |item| {
        let Mark::Words(words) = &item.mark else { return None };
        let bounds = words.outline().bounding_box();
        grid.printed_tiles().any(|tile| holds(tile, bounds)).then_some(bounds)
    }
}

/// From the top of the first sheet to its panel, mm: centred, a little high.
fn panel_top(size: Size) -> f64 {
    ((size.height - cover::HEIGHT) * 0.4).min(22.0)
}
