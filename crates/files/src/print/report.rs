//! A short report on paper: title, paragraphs, tables, small pictures.

use super::letters::{broken_into_lines, cut_short, width_of};
use super::{
    About, Anchor, Ink, Layer, Page, Paper, Part, Pen, PlacedPhoto, PrintError, Scene, Size,
    Weight, Words, pdf_of, pens,
};
use hangtrue_geometry::{Affine, Point, Rect};

/// What a report says. It is set in one column and runs on to further pages when
/// it must.
#[derive(Debug, Clone)]
pub struct Report {
    /// Sheet paper it is set for; a roll is set as A4.
    pub paper: Paper,
    /// The title.
    pub title: String,
    /// One line under it: client, version, date.
    pub client: String,
    /// The body.
    pub blocks: Vec<Block>,
    /// One line at the foot of each page.
    pub foot: String,
}

/// A part of a report.
#[derive(Debug, Clone)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// The one sentence that must be read: larger, in bold.
    Lead(String),
    /// A table.
    Table(Table),
    /// Columns of equal width side by side; set one under the other when they
    /// are taller than a page.
    Columns(Vec<Vec<Block>>),
    /// What follows starts on a page of its own.
    NewPage,
    /// A title as large as the report's own, and the line under it.
    Title {
        /// The title.
        title: String,
        /// The line under it.
        under: String,
    },
    /// Photos side by side, as many rows as they need.
    Photos {
        /// The photos.
        photos: Vec<Photo>,
        /// Height of a row without captions, mm; less when a photo is wide.
        height: f64,
    },
    /// Pictures side by side.
    Pictures {
        /// The pictures.
        pictures: Vec<Picture>,
        /// Height of the row without captions, mm.
        height: f64,
    },
}

/// A table.
#[derive(Debug, Clone)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows, a text a column.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Debug, Clone)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// How its texts stand.
    pub align: Align,
}

/// How the texts of a column stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A small picture.
#[derive(Debug, Clone)]
pub struct Picture {
    /// What is shown; scaled to fit, its words left out.
    pub scene: Scene,
    /// The part of the scene that is shown, in its own mm; none shows all of it.
    pub part: Option<Rect>,
    /// What stands under it.
    pub caption: String,
}

/// A photo.
#[derive(Debug, Clone)]
pub struct Photo {
    /// The bytes of a JPEG file.
    pub jpeg: Vec<u8>,
    /// Its width, pixels.
    pub width: usize,
    /// Its height, pixels.
    pub height: usize,
    /// What stands under it.
    pub caption: String,
}

const SIDE: f64 = 24.0;
const TOP: f64 = 24.0;
const FOOT: f64 = 20.0;
const BODY: f64 = 3.9;
const TABLE: f64 = 3.6;
const LEADING: f64 = 1.42;
/// Pens of small pictures against those of a pattern.
const PICTURE_PENS: f64 = 0.45;
/// Between two columns of blocks, mm.
const ALLEY: f64 = 9.0;
/// Between two columns of a table, mm.
const GUTTER: f64 = 4.0;

/// Sets the report as PDF.
///
/// # Errors
/// [`PrintError`] when a picture has a place that is not a number or the PDF
/// cannot be put together.
pub fn report_pdf(report: &Report) -> Result<Vec<u8>, PrintError> {
    for picture in pictures_of(&report.blocks) {
        if picture.scene.items.iter().any(|i| !i.mark.is_finite()) {
            return Err(PrintError::NotFinite {
                what: format!("the picture “{}”", picture.caption),
            });
        }
    }
    let size = report.paper.size().unwrap_or(Size { width: 210.0, height: 297.0 });
    let mut setter = Setter::new(size);
    setter.title(&report.title, &report.client);
    for (index, block) in report.blocks.iter().enumerate() {
        // A heading stands on the page of its pictures.
        if let (Block::Heading(_), Some(height)) =
            (block, report.blocks.get(index + 1).and_then(pictured))
        {
            setter.room(height + WITH_HEADING);
        }
        setter.block(block);
    }
    let count = setter.pages.len();
    for (index, page) in setter.pages.iter_mut().enumerate() {
        foot(&mut page.text, size, &report.foot, index + 1, count);
    }
    let pages: Vec<Page> = setter
        .pages
        .iter()
        .map(|set| {
            let mut parts = vec![Part::plain(&set.text)];
            parts.extend(set.pictures.iter().map(|(scene, to_page, clip)| Part {
                scene,
                to_page: *to_page,
                clip: Some(*clip),
                words: false,
                pens: PICTURE_PENS,
                ..Part::plain(scene)
            }));
            Page { width: size.width, height: size.height, parts, photos: set.photos.clone() }
        })
        .collect();
    let about = About { title: report.title.clone(), subject: report.client.clone() };
    pdf_of(&pages, &about)
}

/// A heading and a caption take so much beside a row of pictures, mm.
const WITH_HEADING: f64 = 28.0;

/// The height of a row of pictures or photos, mm.
fn pictured(block: &Block) -> Option<f64> {
    match block {
        Block::Pictures { height, .. } | Block::Photos { height, .. } => Some(*height),
        _ => None,
    }
}

/// All pictures, those in columns too.
fn pictures_of<'a>(blocks: &'a [Block]) -> Vec<&'a Picture> {
    let of = |block: &'a Block| -> Vec<&'a Picture> {
        match block {
            Block::Pictures { pictures, .. } => pictures.iter().collect(),
            Block::Columns(columns) => columns.iter().flat_map(|c| pictures_of(c)).collect(),
            _ => Vec::new(),
        }
    };
    blocks.iter().flat_map(of).collect()
}

/// Words that start at a place, in ink, regular.
fn plain(text: &str, at: Point, size: f64) -> Words {
    Words {
        text: text.to_owned(),
        at,
        size,
        angle: 0.0,
        anchor: Anchor::Start,
        weight: Weight::Regular,
        ink: pens::INK,
    }
}

fn foot(scene: &mut Scene, size: Size, text: &str, page: usize, of: usize) {
    let y = 12.0;
    let small = |text: String, x, anchor| Words {
        text,
        at: Point::new(x, y),
        size: 2.9,
        angle: 0.0,
        anchor,
        weight: Weight::Regular,
        ink: pens::GREY,
    };
    let text = cut_short(text, Weight::Regular, 2.9, size.width - 2.0 * SIDE - 20.0);
    scene.words(Layer::Sheet, small(text, SIDE, Anchor::Start));
    if of > 1 {
        let number = format!("{page} / {of}");
        scene.words(Layer::Sheet, small(number, size.width - SIDE, Anchor::End));
    }
}

/// One page as it is set.
#[derive(Default)]
struct SetPage<'a> {
    text: Scene,
    pictures: Vec<(&'a Scene, Affine, Rect)>,
    photos: Vec<PlacedPhoto<'a>>,
}

/// Sets blocks down the page.
struct Setter<'a> {
    size: Size,
    pages: Vec<SetPage<'a>>,
    /// Left edge of the column that is set, mm.
    left: f64,
    /// Its width, mm.
    width: f64,
    /// The height of what is set next, mm from the foot of the page.
    y: f64,
}

impl<'a> Setter<'a> {
    fn new(size: Size) -> Self {
        Self {
            size,
            pages: vec![SetPage::default()],
            left: SIDE,
            width: size.width - 2.0 * SIDE,
            y: size.height - TOP,
        }
    }

    fn page(&mut self) -> &mut SetPage<'a> {
        if self.pages.is_empty() {
            self.pages.push(SetPage::default());
        }
        let last = self.pages.len() - 1;
        &mut self.pages[last]
    }

    /// Makes sure `height` mm are left on the page, or turns to a new one.
    fn room(&mut self, height: f64) {
        let fresh = self.size.height - TOP;
        if self.y - height < FOOT && self.y < fresh {
            self.pages.push(SetPage::default());
            self.y = fresh;
        }
    }

    fn put(&mut self, words: Words) {
        self.page().text.words(Layer::Sheet, words);
    }

    fn rule(&mut self, x0: f64, x1: f64, y: f64, width: f64, ink: Ink) {
        let pen = Pen { width, ink, ..pens::HAIR };
        self.page().text.line(Layer::Sheet, Point::new(x0, y), Point::new(x1, y), pen);
    }

    /// Lines of text from the current height down.
    fn lines(&mut self, text: &str, size: f64, weight: Weight, ink: Ink) {
        for line in broken_into_lines(text, weight, size, self.width) {
            self.room(LEADING * size);
            self.y -= LEADING * size;
            let y = self.y;
            let words = plain(&line, Point::new(self.left, y), size);
            self.put(Words { weight, ink, ..words });
        }
    }

    fn title(&mut self, title: &str, under: &str) {
        self.lines(title, 9.0, Weight::Bold, pens::INK);
        self.y -= 1.0;
        self.lines(under, 4.2, Weight::Regular, pens::GREY);
        self.y -= 5.0;
        let y = self.y;
        self.rule(self.left, self.left + 28.0, y, 0.8, pens::ACCENT);
        self.y -= 3.0;
    }

    fn block(&mut self, block: &'a Block) {
        match block {
            Block::Heading(text) => {
                // A heading keeps a few lines of what follows with it.
                self.room(26.0);
                self.y -= 4.5;
                self.lines(text, 4.8, Weight::Bold, pens::ACCENT);
                self.y -= 0.8;
            }
            Block::Paragraph(text) => {
                self.lines(text, BODY, Weight::Regular, pens::INK);
                self.y -= 2.0;
            }
            Block::Lead(text) => {
                self.lines(text, 5.2, Weight::Bold, pens::INK);
                self.y -= 2.4;
            }
            Block::NewPage => self.room(f64::INFINITY),
            Block::Title { title, under } => {
                self.room(60.0);
                self.title(title, under);
            }
            Block::Photos { photos, height } => self.photos(photos, *height),
            Block::Table(table) => self.table(table),
            Block::Columns(columns) => self.columns(columns),
            Block::Pictures { pictures, height } => self.pictures(pictures, *height),
        }
    }

    fn columns(&mut self, columns: &'a [Vec<Block>]) {
        let count = columns.len().max(1) as f64;
        let (left, whole) = (self.left, self.width);
        let width = (whole - ALLEY * (count - 1.0)) / count;
        let tallest = columns.iter().map(|c| self.height(c, width)).fold(0.0, f64::max);
        if tallest > self.size.height - TOP - FOOT {
            columns.iter().flatten().for_each(|block| self.block(block));
            return;
        }
        self.room(tallest);
        let top = self.y;
        let mut lowest = top;
        for (index, blocks) in columns.iter().enumerate() {
            (self.left, self.width) = (left + index as f64 * (width + ALLEY), width);
            self.y = top;
            blocks.iter().for_each(|block| self.block(block));
            lowest = lowest.min(self.y);
        }
        (self.left, self.width, self.y) = (left, whole, lowest);
    }

    /// The height blocks take in a column of that width, mm: set on trial on an
    /// endless page.
    fn height(&self, blocks: &'a [Block], width: f64) -> f64 {
        const ENDLESS: f64 = 1e6;
        let mut trial = Setter::new(Size { height: ENDLESS, ..self.size });
        trial.width = width;
        let top = trial.y;
        blocks.iter().for_each(|block| trial.block(block));
        top - trial.y
    }

    fn table(&mut self, table: &Table) {
        if table.columns.is_empty() {
            return;
        }
        let widths = column_widths(table, self.width);
        self.room(5.0 * LEADING * TABLE);
        self.table_head(table, &widths);
        for row in &table.rows {
            let cells: Vec<Vec<String>> = (0..widths.len())
                .map(|i| {
                    let text = row.get(i).map_or("", String::as_str);
                    broken_into_lines(text, Weight::Regular, TABLE, widths[i])
                })
                .collect();
            let tall = cells.iter().map(Vec::len).max().unwrap_or(1).max(1) as f64;
            let pages = self.pages.len();
            self.room(tall * LEADING * TABLE + 1.0);
            if self.pages.len() > pages {
                self.table_head(table, &widths);
            }
            let top = self.y;
            self.cells(table, &widths, &cells, top, Weight::Regular, pens::INK);
            self.y = top - tall * LEADING * TABLE - 0.9;
            let y = self.y - 0.4;
            self.rule(self.left, self.left + self.width, y, 0.12, pens::PALE);
        }
        self.y -= 3.5;
    }

    fn table_head(&mut self, table: &Table, widths: &[f64]) {
        let heads: Vec<Vec<String>> = table
            .columns
            .iter()
            .zip(widths)
            .map(|(c, w)| broken_into_lines(&c.heading, Weight::Bold, TABLE, *w))
            .collect();
        let tall = heads.iter().map(Vec::len).max().unwrap_or(1).max(1) as f64;
        let top = self.y;
        self.cells(table, widths, &heads, top, Weight::Bold, pens::INK);
        self.y = top - tall * LEADING * TABLE - 1.6;
        let y = self.y;
        self.rule(self.left, self.left + self.width, y, 0.35, pens::INK);
    }

    fn cells(
        &mut self,
        table: &Table,
        widths: &[f64],
        cells: &[Vec<String>],
        top: f64,
        weight: Weight,
        ink: Ink,
    ) {
        let mut x = self.left;
        for ((column, width), lines) in table.columns.iter().zip(widths).zip(cells) {
            let (at, anchor) = match column.align {
                Align::Left => (x, Anchor::Start),
                Align::Right => (x + width, Anchor::End),
            };
            for (index, line) in lines.iter().enumerate() {
                let y = top - LEADING * TABLE * (index as f64 + 1.0);
                let words = plain(line, Point::new(at, y), TABLE);
                self.put(Words { anchor, weight, ink, ..words });
            }
            x += width + GUTTER;
        }
    }

    fn photos(&mut self, photos: &'a [Photo], height: f64) {
        const BETWEEN: f64 = 6.0;
        const CAPTION: f64 = 3.2;
        let most = self.size.height - TOP - FOOT - 20.0;
        let height = if height.is_finite() { height.clamp(10.0, most) } else { 60.0 };
        let mut rest = photos;
        while !rest.is_empty() {
            let (count, height) = row_of(rest, height, self.width, BETWEEN);
            let (row, after) = rest.split_at(count);
            rest = after;
            let widths: Vec<f64> = row
                .iter()
                .map(|p| height * p.width.max(1) as f64 / p.height.max(1) as f64)
                .collect();
            let captions: Vec<Vec<String>> = row
                .iter()
                .zip(&widths)
                .map(|(p, w)| broken_into_lines(&p.caption, Weight::Regular, CAPTION, *w))
                .collect();
            let tall = captions.iter().map(Vec::len).max().unwrap_or(0) as f64;
            self.room(height + 6.0 + tall * LEADING * CAPTION);
            let top = self.y - 2.0;
            let mut x = self.left;
            for ((photo, width), caption) in row.iter().zip(&widths).zip(&captions) {
                let at = Rect::new(x, top - height, x + width, top);
                self.page().photos.push(PlacedPhoto { jpeg: &photo.jpeg, at });
                for (index, line) in caption.iter().enumerate() {
                    let y = at.y0 - 1.2 - LEADING * CAPTION * (index as f64 + 1.0);
                    let words = plain(line, Point::new(x, y), CAPTION);
                    self.put(Words { ink: pens::GREY, ..words });
                }
                x += width + BETWEEN;
            }
            self.y = top - height - 4.0 - tall * LEADING * CAPTION;
        }
    }

    fn pictures(&mut self, pictures: &'a [Picture], height: f64) {
        if pictures.is_empty() {
            return;
        }
        let most = self.size.height - TOP - FOOT - 14.0;
        let height = if height.is_finite() { height.clamp(10.0, most) } else { 60.0 };
        self.room(height + 12.0);
        let count = pictures.len() as f64;
        let width = (self.width - 6.0 * (count - 1.0)) / count;
        let top = self.y - 2.0;
        for (index, picture) in pictures.iter().enumerate() {
            let x = self.left + index as f64 * (width + 6.0);
            let box_ = Rect::new(x, top - height, x + width, top);
            if let Some(to_page) = fitted(picture, box_) {
                let clip = shown(picture, to_page, box_);
                self.page().pictures.push((&picture.scene, to_page, clip));
            }
            let caption = cut_short(&picture.caption, Weight::Regular, 3.2, width);
            let y = top - height - 5.0;
            let words = plain(&caption, Point::new(x + width / 2.0, y), 3.2);
            self.put(Words { anchor: Anchor::Middle, ink: pens::GREY, ..words });
        }
        self.y = top - height - 9.0;
    }
}

/// How many photos stand in a row beginning with the first, and the height at
/// which they fit the width, mm.
fn row_of(photos: &[Photo], height: f64, width: f64, between: f64) -> (usize, f64) {
    let shape = |p: &Photo| p.width.max(1) as f64 / p.height.max(1) as f64;
    let mut taken = 0.0;
    let mut count = 0;
    for photo in photos {
        let with = taken + height * shape(photo) + if count > 0 { between } else { 0.0 };
        if count > 0 && with > width {
            break;
        }
        taken = with;
        count += 1;
    }
    // One photo wider than the page is made smaller.
    (count, height * (width / taken.max(1e-6)).min(1.0))
}

/// What may be seen of a picture on the page: its part, or all of its box.
fn shown(picture: &Picture, to_page: Affine, box_: Rect) -> Rect {
    let part = picture.part.map(|part| to_page.transform_rect_bbox(part));
    part.unwrap_or(box_).inflate(0.5, 0.5)
}

/// The scaling that fits a picture in a box, centred.
fn fitted(picture: &Picture, into: Rect) -> Option<Affine> {
    let lines = Scene {
        items: picture
            .scene
            .items
            .iter()
            .filter(|i| !matches!(i.mark, super::Mark::Words(_)))
            .cloned()
            .collect(),
        ..Scene::default()
    };
    let bounds = picture.part.or_else(|| lines.bounds())?;
    let scale = (into.width() / bounds.width()).min(into.height() / bounds.height());
    if !scale.is_finite() {
        return None;
    }
    Some(
        Affine::translate(into.center().to_vec2())
            * Affine::scale(scale)
            * Affine::translate(-bounds.center().to_vec2()),
    )
}

/// The widths of the columns, mm: as wide as their widest text, the widest made
/// narrower until all fit; spare room goes to the first column.
fn column_widths(table: &Table, whole: f64) -> Vec<f64> {
    let mut widths: Vec<f64> = table
        .columns
        .iter()
        .enumerate()
        .map(|(i, column)| {
            let texts = table.rows.iter().filter_map(|r| r.get(i));
            let widest = texts.map(|t| width_of(t, Weight::Regular, TABLE)).fold(0.0, f64::max);
            widest.max(width_of(&column.heading, Weight::Bold, TABLE)) + 0.01
        })
        .collect();
    let room = (whole - GUTTER * (widths.len() as f64 - 1.0)).max(widths.len() as f64);
    let mut over = widths.iter().sum::<f64>() - room;
    // The widest column gives way down to the second widest, and so on.
    while over > 1e-9 {
        let widest = widths.iter().copied().fold(0.0, f64::max);
        let next = widths.iter().copied().filter(|w| *w < widest - 1e-9).fold(0.0, f64::max);
        let at_widest = widths.iter().filter(|w| **w >= widest - 1e-9).count() as f64;
        let give = (over / at_widest).min(widest - next);
        for width in widths.iter_mut().filter(|w| **w >= widest - 1e-9) {
            *width -= give;
        }
        over -= give * at_widest;
    }
    if let Some(first) = widths.first_mut()
        && over < 0.0
    {
        *first -= over;
    }
    widths
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn table(texts: &[String]) -> Table {
        Table {
            columns: (0..texts.len())
                .map(|i| Column { heading: format!("column {i}"), align: Align::Left })
                .collect(),
            rows: vec![texts.to_vec()],
        }
    }

    proptest! {
        #[test]
        fn the_columns_fill_the_width_exactly(
            texts in proptest::collection::vec("[a-z ]{0,80}", 1..7)
        ) {
            let widths = column_widths(&table(&texts), 162.0);
            let sum = widths.iter().sum::<f64>() + GUTTER * (widths.len() as f64 - 1.0);
            prop_assert!((sum - 162.0).abs() < 1e-6);
            prop_assert!(widths.iter().all(|w| *w > 0.0));
        }

        #[test]
        fn any_text_is_set(title in ".{0,80}", text in ".{0,400}", cell in ".{0,60}") {
            let report = Report {
                paper: Paper::A4,
                title,
                client: text.clone(),
                blocks: vec![
                    Block::Heading(cell.clone()),
                    Block::Paragraph(text),
                    Block::Table(table(&[cell.clone(), cell.clone()])),
                    Block::Columns(vec![
                        vec![Block::Table(table(&[cell.clone(), cell.clone()]))],
                        vec![Block::Heading(cell.clone()), Block::Paragraph(cell)],
                    ]),
                ],
                foot: String::new(),
            };
            prop_assert!(report_pdf(&report).is_ok());
        }
    }

    #[test]
    fn columns_stand_side_by_side_and_take_the_height_of_the_tallest() {
        let short = vec![Block::Paragraph("one line".into())];
        let tall: Vec<Block> = (0..4).map(|i| Block::Paragraph(format!("line {i}"))).collect();
        let columns = Block::Columns(vec![short, tall.clone()]);
        let mut setter = Setter::new(Size { width: 210.0, height: 297.0 });
        let (top, height) = (setter.y, setter.height(&tall, 70.0));
        setter.block(&columns);
        assert!((top - setter.y - height).abs() < 1e-9);
        assert!((setter.left - SIDE).abs() < 1e-9);
    }

    #[test]
    fn columns_taller_than_a_page_are_set_one_under_the_other() {
        let tall: Vec<Block> = (0..80).map(|i| Block::Paragraph(format!("line {i}"))).collect();
        let columns = Block::Columns(vec![tall.clone(), tall]);
        let mut setter = Setter::new(Size { width: 210.0, height: 297.0 });
        setter.block(&columns);
        assert!(setter.pages.len() > 2);
    }

    #[test]
    fn a_picture_with_a_nan_is_refused() {
        let mut scene = Scene::default();
        scene.line(Layer::Cut, Point::new(f64::NAN, 0.0), Point::new(1.0, 1.0), pens::CUT);
        let report = Report {
            paper: Paper::A4,
            title: "t".into(),
            client: "c".into(),
            blocks: vec![Block::Pictures {
                pictures: vec![Picture { scene, part: None, caption: "x".into() }],
                height: 50.0,
            }],
            foot: String::new(),
        };
        assert!(matches!(report_pdf(&report), Err(PrintError::NotFinite { .. })));
    }
}
