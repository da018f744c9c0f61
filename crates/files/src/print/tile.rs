//! Cutting a drawing into sheets that overlap.

use super::paper::Size;
use super::scene::{Footprint, area_touches};
use super::{Paper, PrintError, Scene};
use hangtrue_geometry::units::{Unit, round_range};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{BezPath, Point, Rect};

/// How the sheets are cut and joined. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TileOptions {
    /// The edge of the paper a printer cannot reach, mm.
    pub margin: f64,
    /// How far neighbours lie over each other, mm.
    pub overlap: f64,
    /// The maker's unit, for lengths in words.
    pub unit: Unit,
}

impl Default for TileOptions {
    fn default() -> Self {
        Self { margin: 10.0, overlap: 15.0, unit: Unit::Mm }
    }
}

/// The widest margin, mm: the first sheet's text still fits A4 and Letter.
const WIDEST_MARGIN: f64 = 15.0;
/// The overlaps that hold the join marks and leave the sheet its use, mm.
const OVERLAPS: (f64, f64) = (8.0, 50.0);
/// More sheets than this are a mistake in the units, not a pair of trousers.
const MOST_SHEETS: usize = 600;
/// A drawing may stick out of its sheets by this much, mm, before another row
/// or column is begun: rounding, far below what a printer can show.
const ROUNDING: f64 = 1e-6;

/// The rows and columns of sheets over a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// The paper.
    pub paper: Paper,
    /// The page as it is laid, mm.
    pub page: Size,
    /// The edge left free, mm.
    pub margin: f64,
    /// How far neighbours overlap, mm.
    pub overlap: f64,
    /// Height kept free above the margin at the foot of every page, mm.
    pub foot: f64,
    /// The maker's unit, for lengths in words.
    pub unit: Unit,
    /// The top left corner of the first sheet's printed area in the drawing, mm.
    pub top_left: Point,
    /// Number of rows.
    pub rows: usize,
    /// Number of columns.
    pub columns: usize,
    /// The sheets, row by row.
    pub tiles: Vec<Tile>,
    /// Every piece lies whole on one sheet: nothing is joined.
    pub apart: bool,
}

/// One sheet of the grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Tile {
    /// Row letter and column number: A1, A2, B1.
    pub name: String,
    /// Row from the top, 0 first.
    pub row: usize,
    /// Column from the left, 0 first.
    pub column: usize,
    /// What of the drawing is printed on it, mm.
    pub window: Rect,
    /// Nothing lies on it: it is not printed.
    pub blank: bool,
}

impl Grid {
    /// The printed area of a page, mm.
    pub fn printed(&self) -> Size {
        Size {
            width: self.page.width - 2.0 * self.margin,
            height: self.page.height - 2.0 * self.margin - self.foot,
        }
    }

    /// The sheet of a row and column, if the grid has it.
    pub fn tile(&self, row: usize, column: usize) -> Option<&Tile> {
        if row < self.rows && column < self.columns {
            self.tiles.get(row * self.columns + column)
        } else {
            None
        }
    }

    /// The sheet a step away, if it is there and printed.
    pub fn neighbour(&self, tile: &Tile, down: isize, right: isize) -> Option<&Tile> {
        let row = tile.row.checked_add_signed(down)?;
        let column = tile.column.checked_add_signed(right)?;
        self.tile(row, column).filter(|t| !t.blank)
    }

    /// The sheets that are printed, in reading order.
    pub fn printed_tiles(&self) -> impl Iterator<Item = &Tile> {
        self.tiles.iter().filter(|t| !t.blank)
    }

    /// How many sheets are printed.
    pub fn sheets(&self) -> usize {
        self.printed_tiles().count()
    }

    /// The part of the drawing a sheet has to itself when the overlaps are
    /// shared out by halves; the parts of all sheets cover the drawing once.
    pub(crate) fn share(&self, tile: &Tile) -> Rect {
        let half = self.overlap / 2.0;
        let cut = |there: bool| if there { half } else { 0.0 };
        Rect::new(
            tile.window.x0 + cut(tile.column > 0),
            tile.window.y0 + cut(tile.row + 1 < self.rows),
            tile.window.x1 - cut(tile.column + 1 < self.columns),
            tile.window.y1 - cut(tile.row > 0),
        )
    }
}

/// Cuts a drawing into sheets, upright or lying, whichever needs fewer; upright
/// when both need the same. Sheets on which nothing lies are marked blank.
///
/// # Errors
/// [`PrintError`] for a margin, overlap or roll that cannot be used, an empty
/// drawing, or one that would take an absurd number of sheets.
pub fn tile(scene: &Scene, paper: Paper, options: &TileOptions) -> Result<Grid, PrintError> {
    tile_above(scene, paper, options, 0.0)
}

/// The same with so much kept free at the foot of every page, mm.
pub(crate) fn tile_above(
    scene: &Scene,
    paper: Paper,
    options: &TileOptions,
    foot: f64,
) -> Result<Grid, PrintError> {
    let TileOptions { margin, overlap, unit } = *options;
    if !(0.0..=WIDEST_MARGIN).contains(&margin) {
        let (_, most) = round_range((0.0, WIDEST_MARGIN), unit);
        return Err(PrintError::Margin { asked: Length(margin), most: Length(most) });
    }
    if !(OVERLAPS.0..=OVERLAPS.1).contains(&overlap) {
        let (least, most) = round_range(OVERLAPS, unit);
        return Err(PrintError::Overlap {
            asked: Length(overlap),
            least: Length(least),
            most: Length(most),
        });
    }
    if let Some(item) = scene.items.iter().find(|i| !i.mark.is_finite()) {
        return Err(PrintError::NotFinite { what: format!("a mark of the {}", item.layer.name()) });
    }
    let bounds = scene.bounds().ok_or(PrintError::Nothing)?;
    let inked: Vec<Footprint> = scene.items.iter().map(|i| i.mark.footprint()).collect();
    let mut best: Option<Grid> = None;
    for page in paper.pages(bounds.height() + foot, margin)? {
        let grid = grid_over(bounds, paper, page, (options, foot))?;
        let grid = with_blanks(grid, &inked, &scene.areas);
        if best.as_ref().is_none_or(|b| grid.sheets() < b.sheets()) {
            best = Some(grid);
        }
    }
    best.ok_or(PrintError::Nothing)
}

/// The grid of sheets over a box: the box in the middle of it, on large sheets in its upper left
/// corner, so that what is left over is one piece of paper and not a strip of every sheet.
fn grid_over(
    bounds: Rect,
    paper: Paper,
    page: Size,
    (options, foot): (&TileOptions, f64),
) -> Result<Grid, PrintError> {
    let TileOptions { margin, overlap, unit } = *options;
    let (width, height) = (page.width - 2.0 * margin, page.height - 2.0 * margin - foot);
    let (step_x, step_y) = (width - overlap, height - overlap);
    let needed = |length: f64, printed: f64, step: f64| {
        1.0 + ((length - printed - ROUNDING) / step).ceil().max(0.0)
    };
    let columns = needed(bounds.width(), width, step_x);
    let rows = needed(bounds.height(), height, step_y);
    if rows * columns > MOST_SHEETS as f64 {
        return Err(PrintError::TooLarge {
            width: Length(bounds.width()),
            height: Length(bounds.height()),
            sheets: (rows * columns) as usize,
        });
    }
    let slack_x = width + (columns - 1.0) * step_x - bounds.width();
    let slack_y = height + (rows - 1.0) * step_y - bounds.height();
    let before = if paper == Paper::A0 { 0.0 } else { 0.5 };
    let top_left = Point::new(bounds.x0 - before * slack_x, bounds.y1 + before * slack_y);
    let (rows, columns) = (rows as usize, columns as usize);
    let mut tiles = Vec::with_capacity(rows * columns);
    for row in 0..rows {
        for column in 0..columns {
            let left = top_left.x + column as f64 * step_x;
            let top = top_left.y - row as f64 * step_y;
            tiles.push(Tile {
                name: tile_name(row, column),
                row,
                column,
                window: Rect::new(left, top - height, left + width, top),
                blank: false,
            });
        }
    }
    Ok(Grid {
        paper,
        page,
        margin,
        overlap,
        foot,
        unit,
        top_left,
        rows,
        columns,
        tiles,
        apart: false,
    })
}

/// Marks the sheets whose share of the drawing has neither ink nor a part of a
/// piece on it.
fn with_blanks(mut grid: Grid, inked: &[Footprint], areas: &[BezPath]) -> Grid {
    let shares: Vec<Rect> = grid.tiles.iter().map(|t| grid.share(t)).collect();
    for (tile, share) in grid.tiles.iter_mut().zip(shares) {
        tile.blank = !inked.iter().any(|i| i.touches(share))
            && !areas.iter().any(|a| area_touches(a, share));
    }
    grid
}

/// Row letter and column number; after Z comes AA.
fn tile_name(row: usize, column: usize) -> String {
    let mut letters = String::new();
    let mut left = row + 1;
    while left > 0 {
        left -= 1;
        letters.insert(0, char::from(b'A' + (left % 26) as u8));
        left /= 26;
    }
    format!("{letters}{}", column + 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::print::{Layer, pens};
    use hangtrue_geometry::units::INCH;
    use kurbo::Shape;
    use proptest::prelude::*;

    fn framed(width: f64, height: f64) -> Scene {
        let mut scene = Scene::default();
        scene.stroke(Layer::Cut, Rect::new(0.0, 0.0, width, height).to_path(0.1), pens::CUT);
        scene
    }

    #[test]
    fn names_run_over_the_alphabet() {
        assert_eq!(tile_name(0, 0), "A1");
        assert_eq!(tile_name(25, 8), "Z9");
        assert_eq!(tile_name(26, 0), "AA1");
        assert_eq!(tile_name(27, 11), "AB12");
    }

    #[test]
    fn a_drawing_of_one_sheet_takes_one_sheet_and_turns_when_it_is_wide() {
        let options = TileOptions::default();
        let upright = tile(&framed(180.0, 270.0), Paper::A4, &options).unwrap();
        assert_eq!((upright.sheets(), upright.page.width), (1, 210.0));
        let lying = tile(&framed(270.0, 180.0), Paper::A4, &options).unwrap();
        assert_eq!((lying.sheets(), lying.page.width), (1, 297.0));
    }

    #[test]
    fn the_hollow_of_a_frame_is_skipped_but_the_inside_of_a_piece_is_not() {
        let mut scene = framed(1000.0, 1400.0);
        let hollow = tile(&scene, Paper::A4, &TileOptions::default()).unwrap();
        assert!(hollow.tiles.iter().any(|t| t.blank));
        scene.areas.push(Rect::new(0.0, 0.0, 1000.0, 1400.0).to_path(0.1));
        let full = tile(&scene, Paper::A4, &TileOptions::default()).unwrap();
        assert!(full.tiles.iter().all(|t| !t.blank));
    }

    #[test]
    fn what_cannot_be_printed_is_refused() {
        let scene = framed(100.0, 100.0);
        let with = |margin, overlap| {
            tile(&scene, Paper::A4, &TileOptions { margin, overlap, unit: Unit::Mm })
        };
        assert!(matches!(with(-1.0, 15.0), Err(PrintError::Margin { .. })));
        assert!(matches!(with(f64::NAN, 15.0), Err(PrintError::Margin { .. })));
        assert!(matches!(with(10.0, 0.0), Err(PrintError::Overlap { .. })));
        assert!(matches!(with(10.0, 90.0), Err(PrintError::Overlap { .. })));
        let options = TileOptions::default();
        let huge = tile(&framed(1e9, 1e9), Paper::A4, &options);
        assert!(matches!(huge, Err(PrintError::TooLarge { .. })));
        let broken = tile(&framed(f64::NAN, 10.0), Paper::A4, &options);
        assert!(matches!(broken, Err(PrintError::NotFinite { .. })));
        let empty = tile(&Scene::default(), Paper::A4, &options);
        assert_eq!(empty, Err(PrintError::Nothing));
    }

    #[test]
    fn a_limit_told_in_inches_is_round_and_is_taken() {
        let scene = framed(100.0, 100.0);
        let with = |margin, overlap| {
            tile(&scene, Paper::A4, &TileOptions { margin, overlap, unit: Unit::Sixteenths })
        };
        let Err(PrintError::Margin { most, .. }) = with(30.0, 15.0) else { panic!("taken") };
        assert!((most.0 - INCH / 2.0).abs() < 1e-9);
        assert!(with(most.0, 15.0).is_ok());
        let Err(PrintError::Overlap { least, most, .. }) = with(10.0, 90.0) else {
            panic!("taken")
        };
        assert!((least.0 - INCH * 0.375).abs() < 1e-9 && (most.0 - INCH * 1.875).abs() < 1e-9);
        assert!(with(10.0, least.0).is_ok() && with(10.0, most.0).is_ok());
    }

    fn papers() -> impl Strategy<Value = Paper> {
        prop_oneof![
            Just(Paper::A4),
            Just(Paper::A3),
            Just(Paper::A0),
            Just(Paper::Letter),
            (210.0f64..1600.0).prop_map(|width_mm| Paper::Roll { width_mm }),
        ]
    }

    proptest! {
        #[test]
        fn every_point_lies_on_a_sheet_and_points_of_an_overlap_on_both(
            paper in papers(), width in 20.0f64..2600.0, height in 20.0f64..2600.0,
            margin in 0.0f64..15.0, overlap in 8.0f64..50.0,
            u in 0.0f64..1.0, v in 0.0f64..1.0
        ) {
            let scene = framed(width, height);
            let grid = tile(&scene, paper, &TileOptions { margin, overlap, unit: Unit::Mm }).unwrap();
            let p = Point::new(u * width, v * height);
            let holds = |r: Rect| {
                (r.x0 - 1e-6..=r.x1 + 1e-6).contains(&p.x)
                    && (r.y0 - 1e-6..=r.y1 + 1e-6).contains(&p.y)
            };
            prop_assert!(grid.tiles.iter().any(|t| holds(t.window)));
            // Each point has one sheet whose share it is (two on a shared edge).
            let shares = grid.tiles.iter().filter(|t| holds(grid.share(t))).count();
            prop_assert!((1..=4).contains(&shares));
            let printed = grid.printed();
            for t in &grid.tiles {
                prop_assert!((t.window.width() - printed.width).abs() < 1e-9);
                prop_assert!((t.window.height() - printed.height).abs() < 1e-9);
                if let Some(right) = grid.tile(t.row, t.column + 1) {
                    prop_assert!((t.window.x1 - right.window.x0 - overlap).abs() < 1e-6);
                    if holds(t.window) && p.x > t.window.x1 - overlap + 1e-6 {
                        prop_assert!(holds(right.window));
                    }
                }
                if let Some(below) = grid.tile(t.row + 1, t.column) {
                    prop_assert!((below.window.y1 - t.window.y0 - overlap).abs() < 1e-6);
                    if holds(t.window) && p.y < t.window.y0 + overlap - 1e-6 {
                        prop_assert!(holds(below.window));
                    }
                }
            }
        }

        #[test]
        fn ink_is_never_on_a_skipped_sheets_share(
            a in (0.0f64..900.0, 0.0f64..900.0), b in (0.0f64..900.0, 0.0f64..900.0),
            c in (0.0f64..900.0, 0.0f64..900.0), d in (0.0f64..900.0, 0.0f64..900.0),
            t in 0.0f64..1.0
        ) {
            use kurbo::ParamCurve;
            let curve = kurbo::CubicBez::new(a, b, c, d);
            let mut path = BezPath::new();
            path.move_to(curve.p0);
            path.curve_to(curve.p1, curve.p2, curve.p3);
            let mut scene = framed(900.0, 900.0);
            scene.stroke(Layer::Cut, path, pens::CUT);
            let grid = tile(&scene, Paper::A4, &TileOptions::default()).unwrap();
            let p = curve.eval(t);
            let inside = |r: Rect| r.inflate(-1e-6, -1e-6).contains(p);
            for tile in grid.tiles.iter().filter(|t| t.blank) {
                prop_assert!(!inside(grid.share(tile)));
            }
        }
    }
}
