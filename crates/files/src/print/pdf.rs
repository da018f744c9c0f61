//! Writing pages as PDF. The only file that knows the PDF library.

use super::letters::{font_file, one_line, set};
use super::paper::LONGEST;
use super::{Anchor, Dash, Ink, Mark, Pen, PrintError, Scene, Weight, Words};
use hangtrue_geometry::words::Length;
use hangtrue_geometry::{Affine, BezPath, PathEl, Rect};
use krilla::Document;
use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point, Size, Transform};
use krilla::image::Image;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla::paint::{Fill, FillRule, LineCap, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};
use std::sync::OnceLock;

/// User space units in a mm: 1/72 in each (ISO 32000, 8.3.2.3), 25.4 mm an inch.
const UNITS_IN_MM: f64 = 72.0 / 25.4;

/// A scene placed on a page.
#[derive(Debug, Clone)]
pub struct Part<'a> {
    /// What is drawn.
    pub scene: &'a Scene,
    /// From the scene to the page, mm, y up from the lower left corner. Pens keep
    /// their width; letters are scaled with the scene.
    pub to_page: Affine,
    /// Nothing is drawn outside this box of the page, mm.
    pub clip: Option<Rect>,
    /// Whether the scene's words are drawn.
    pub words: bool,
    /// Items of the scene, by their number, that are not drawn; in rising order.
    pub left_out: Vec<usize>,
    /// Pens and dashes are drawn so many times as wide and long: 1 for a pattern,
    /// less for a small picture.
    pub pens: f64,
}

impl<'a> Part<'a> {
    /// A scene drawn in page coordinates.
    pub fn plain(scene: &'a Scene) -> Self {
        Self {
            scene,
            to_page: Affine::IDENTITY,
            clip: None,
            words: true,
            left_out: Vec::new(),
            pens: 1.0,
        }
    }
}

/// A page, mm.
#[derive(Debug, Clone)]
pub struct Page<'a> {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What is on it, the lowest first.
    pub parts: Vec<Part<'a>>,
    /// Photos under the drawings.
    pub photos: Vec<PlacedPhoto<'a>>,
}

impl<'a> Page<'a> {
    /// A page with one drawing, in page coordinates.
    pub fn plain(size: super::Size, scene: &'a Scene) -> Self {
        let super::Size { width, height } = size;
        Self { width, height, parts: vec![Part::plain(scene)], photos: vec![] }
    }
}

/// A photo on a page.
#[derive(Debug, Clone)]
pub struct PlacedPhoto<'a> {
    /// The bytes of a JPEG file.
    pub jpeg: &'a [u8],
    /// The box it fills, mm, y up from the lower left corner of the page.
    pub at: Rect,
}

/// What a PDF says about itself.
#[derive(Debug, Clone, Default)]
pub struct About {
    /// Its title.
    pub title: String,
    /// What it is, in a sentence.
    pub subject: String,
}

/// Writes the pages as one PDF at true scale: 72 units are one inch.
///
/// # Errors
/// [`PrintError::Nothing`] without pages, [`PrintError::Pdf`] when the library
/// refuses.
pub fn pdf_of(pages: &[Page], about: &About) -> Result<Vec<u8>, PrintError> {
    if pages.is_empty() {
        return Err(PrintError::Nothing);
    }
    let fonts = Fonts::bundled()?;
    let mut document = Document::new();
    document.set_metadata(
        Metadata::new()
            .title(one_line(&about.title))
            .description(one_line(&about.subject))
            .language("en".into())
            .creator("Hangtrue".into()),
    );
    for page in pages {
        let settings = PageSettings::from_wh(units(page.width), units(page.height));
        let settings = settings.ok_or_else(|| PrintError::Page {
            width: Length(page.width),
            height: Length(page.height),
            most: Length(LONGEST),
        })?;
        let mut sheet = document.start_page_with(settings);
        let mut surface = sheet.surface();
        for photo in &page.photos {
            draw_photo(&mut surface, photo, page.height)?;
        }
        for part in &page.parts {
            draw_part(&mut surface, part, page.height, fonts);
        }
        surface.finish();
        sheet.finish();
    }
    document.finish().map_err(|e| PrintError::Pdf { why: e.to_string() })
}

fn draw_photo(
    surface: &mut Surface,
    photo: &PlacedPhoto,
    page_height: f64,
) -> Result<(), PrintError> {
    let image = Image::from_jpeg(photo.jpeg.to_vec().into(), true)
        .map_err(|why| PrintError::Pdf { why: format!("a photo cannot be set: {why}") })?;
    let Some(size) = Size::from_wh(units(photo.at.width()), units(photo.at.height())) else {
        return Err(PrintError::NotFinite { what: "a photo".into() });
    };
    let (left, top) = (units(photo.at.x0), units(page_height - photo.at.y1));
    surface.push_transform(&Transform::from_translate(left, top));
    surface.draw_image(image, size);
    surface.pop();
    Ok(())
}

struct Fonts {
    regular: Font,
    bold: Font,
}

impl Fonts {
    /// The bundled fonts, read once.
    fn bundled() -> Result<&'static Self, PrintError> {
        static FONTS: OnceLock<Option<Fonts>> = OnceLock::new();
        let font = |weight| Font::new(font_file(weight).to_vec().into(), 0);
        let read = || Some(Self { regular: font(Weight::Regular)?, bold: font(Weight::Bold)? });
        let missing = || PrintError::Pdf { why: "the bundled font cannot be read".into() };
        FONTS.get_or_init(read).as_ref().ok_or_else(missing)
    }

    fn of(&self, weight: Weight) -> Font {
        match weight {
            Weight::Regular => self.regular.clone(),
            Weight::Bold => self.bold.clone(),
        }
    }
}

fn draw_part(surface: &mut Surface, part: &Part, page_height: f64, fonts: &Fonts) {
    // The library's y runs down from the top left corner.
    let down = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, page_height]);
    let to_units = Affine::scale(UNITS_IN_MM) * down;
    let clip = part.clip.and_then(|c| path_of(&(to_units * kurbo::Shape::to_path(&c, 0.1))));
    if let Some(clip) = &clip {
        surface.push_clip_path(clip, &FillRule::NonZero);
    }
    for (index, item) in part.scene.items.iter().enumerate() {
        if part.left_out.binary_search(&index).is_ok() {
            continue;
        }
        let mark = item.mark.moved(part.to_page);
        if part.clip.is_some_and(|c| !near(reach(&mark), c)) {
            continue;
        }
        match mark {
            Mark::Stroke(path, pen) => {
                draw_stroke(surface, &(to_units * path), pen.times(part.pens));
            }
            Mark::Fill(path, ink) => draw_fill(surface, &(to_units * path), ink),
            Mark::Words(words) if part.words => {
                let size = words.size * part.to_page.determinant().abs().sqrt();
                draw_words(surface, &Words { size, ..words }, to_units, fonts);
            }
            Mark::Words(_) => {}
        }
    }
    if clip.is_some() {
        surface.pop();
    }
}

/// A box that holds the mark, found quickly: words are not set to be measured,
/// they get a box no letters can leave.
fn reach(mark: &Mark) -> Rect {
    match mark {
        Mark::Words(words) => {
            let widest = 2.0 * words.size * (words.text.chars().count() as f64 + 1.0);
            Rect::from_points(words.at, words.at).inflate(widest, widest)
        }
        _ => mark.bounds(),
    }
}

/// Whether two boxes touch. Unlike an intersection's area this holds for the
/// box of a straight line, which has none.
fn near(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

fn units(mm: f64) -> f32 {
    (mm * UNITS_IN_MM) as f32
}

fn colour(ink: Ink) -> rgb::Color {
    rgb::Color::new(ink.0, ink.1, ink.2)
}

fn draw_stroke(surface: &mut Surface, path: &BezPath, pen: Pen) {
    let Some(path) = path_of(path) else { return };
    let array = match pen.dash {
        Dash::Solid => None,
        Dash::Dashed { on, off } => Some(vec![units(on), units(off)]),
        Dash::DashDot { on, off } => Some(vec![units(on), units(off), units(0.5), units(off)]),
        Dash::Dotted { every } => Some(vec![0.0, units(every)]),
    };
    let round = matches!(pen.dash, Dash::Dotted { .. });
    surface.set_fill(None);
    surface.set_stroke(Some(Stroke {
        paint: colour(pen.ink).into(),
        width: units(pen.width),
        // A round cap is what makes a dash of no length a dot.
        line_cap: if round { LineCap::Round } else { LineCap::Butt },
        line_join: LineJoin::Miter,
        dash: array.map(|array| StrokeDash { array, offset: 0.0 }),
        ..Stroke::default()
    }));
    surface.draw_path(&path);
}

fn draw_fill(surface: &mut Surface, path: &BezPath, ink: Ink) {
    let Some(path) = path_of(path) else { return };
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint: colour(ink).into(), ..Fill::default() }));
    surface.draw_path(&path);
}

fn draw_words(surface: &mut Surface, words: &Words, to_units: Affine, fonts: &Fonts) {
    let text = one_line(&words.text);
    let at = to_units * words.at;
    let glyphs: Vec<KrillaGlyph> = set(&text, words.weight)
        .into_iter()
        .map(|g| KrillaGlyph::new(GlyphId::new(g.id), g.advance, g.right, g.up, 0.0, g.range, None))
        .collect();
    let ems: f64 = glyphs.iter().map(|g| f64::from(g.x_advance)).sum();
    let width = ems * words.size * UNITS_IN_MM;
    let left = match words.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -width / 2.0,
        Anchor::End => -width,
    };
    surface.push_transform(&Transform::from_translate(at.x as f32, at.y as f32));
    surface.push_transform(&Transform::from_rotate(-words.angle.to_degrees() as f32));
    surface.set_stroke(None);
    surface.set_fill(Some(Fill { paint: colour(words.ink).into(), ..Fill::default() }));
    let font = fonts.of(words.weight);
    let start = Point::from_xy(left as f32, 0.0);
    surface.draw_glyphs(start, &glyphs, font, &text, units(words.size), false);
    surface.pop();
    surface.pop();
}

fn path_of(path: &BezPath) -> Option<Path> {
    let mut out = PathBuilder::new();
    let xy = |p: kurbo::Point| (p.x as f32, p.y as f32);
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => out.move_to(xy(p).0, xy(p).1),
            PathEl::LineTo(p) => out.line_to(xy(p).0, xy(p).1),
            PathEl::QuadTo(p, q) => out.quad_to(xy(p).0, xy(p).1, xy(q).0, xy(q).1),
            PathEl::CurveTo(p, q, r) => {
                out.cubic_to(xy(p).0, xy(p).1, xy(q).0, xy(q).1, xy(r).0, xy(r).1);
            }
            PathEl::ClosePath => out.close(),
        }
    }
    out.finish()
}
