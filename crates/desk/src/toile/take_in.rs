//! Taking a photo in: it is looked at first, what must not be seen is hidden, and
//! only what is left is kept beside the project.

use super::photos::for_screen;
use super::state::{Toile, round_words};
use crate::board::Board;
use crate::board::requests::Requests;
use crate::kit::field::one_line;
use crate::kit::job::{Job, heard};
use crate::kit::length_field::{name_field, name_id};
use crate::kit::modal::{Edge, modal};
use crate::kit::say::{aside, fault, part};
use crate::kit::scroll::scrolled;
use crate::kit::theme::Palette;
use egui::{
    Button, ComboBox, Context, Rect, ScrollArea, Sense, Slider, Stroke, TextureHandle,
    TextureOptions, Ui, vec2,
};
use hangtrue_adjust::{OPEN_ROUND, PhotoView, RoundPhoto};
use hangtrue_files::album::{self, HeldDoubt, Hide, TakenIn};
use hangtrue_files::photo::Picture;
use std::path::PathBuf;

/// The longest side of the preview, pixels.
const PREVIEW: usize = 700;

/// No more than this can be cut off above, percent: the legs are what is read.
const MOST_CUT: f64 = 60.0;

/// A photo about to be taken in.
pub(crate) struct TakeIn {
    source: PathBuf,
    looking: Option<Job<Result<Picture, String>>>,
    seen: Option<Result<Picture, String>>,
    shown: Option<(Hidden, TextureHandle)>,
    view: PhotoView,
    round: String,
    caption: String,
    hidden: Hidden,
    pulled_from: Option<egui::Pos2>,
    keeping: Option<Job<Result<(TakenIn, HeldDoubt), String>>>,
    why_not: Option<String>,
}

/// What is hidden of it, percent of its width and height.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Hidden {
    cut: f64,
    blurred: bool,
    left: f64,
    above: f64,
    width: f64,
    height: f64,
}

impl Hidden {
    fn parts(self) -> Vec<Hide> {
        let share = |percent: f64| percent / 100.0;
        let mut parts = Vec::new();
        if self.blurred {
            parts.push(Hide::Blur {
                x: share(self.left),
                y: share(self.above),
                width: share(self.width),
                height: share(self.height),
            });
        }
        if self.cut > 0.0 {
            parts.push(Hide::Above(share(self.cut)));
        }
        parts
    }
}

/// Looks at a photo; nothing is kept yet.
pub(crate) fn look_at(own: &mut Toile, ctx: &Context, source: PathBuf) {
    let file = source.clone();
    let looking = Job::begin(ctx, "Reading the photo", move |_| {
        Picture::open(&file).map(|p| p.reduced(PREVIEW).0).map_err(|why| why.to_string())
    });
    own.take = Some(TakeIn {
        source,
        looking: Some(looking),
        seen: None,
        shown: None,
        view: PhotoView::Back,
        round: OPEN_ROUND.into(),
        caption: String::new(),
        hidden: Hidden {
            cut: 0.0,
            blurred: false,
            left: 40.0,
            above: 0.0,
            width: 20.0,
            height: 15.0,
        },
        pulled_from: None,
        keeping: None,
        why_not: None,
    });
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Pressed {
    Keep,
    Leave,
}

/// Shows the photo about to be taken in.
pub(crate) fn window(own: &mut Toile, board: &Board, requests: &mut Requests, ctx: &Context) {
    let Some(mut take) = own.take.take() else { return };
    take.hear(ctx);
    if let Some(kept) = take.kept(ctx) {
        match kept {
            Ok(kept) => return into_project(own, board, requests, &take, kept),
            Err(why) => take.why_not = Some(why),
        }
    }
    let mut pressed = None;
    let shut = modal(ctx, "take a photo in", Edge::Note, 860.0, |ui| {
        pressed = show(board, &mut take, ui);
    });
    if pressed == Some(Pressed::Keep) {
        take.keep(board, ctx);
    }
    // What is being written is not left half done.
    let stays = take.keeping.is_some() || !(shut || pressed == Some(Pressed::Leave));
    if stays {
        own.take = Some(take);
    }
}

impl TakeIn {
    fn hear(&mut self, ctx: &Context) {
        if let Some(seen) = heard(&mut self.looking, ctx) {
            self.seen = Some(seen.unwrap_or_else(|| Err("the photo could not be read".into())));
        }
    }

    /// What came of keeping it, once.
    fn kept(&mut self, ctx: &Context) -> Option<Result<(TakenIn, HeldDoubt), String>> {
        let kept = heard(&mut self.keeping, ctx)?;
        Some(kept.unwrap_or_else(|| Err("the photo could not be kept".into())))
    }

    fn keep(&mut self, board: &Board, ctx: &Context) {
        let Some(held) = board.filed.held().cloned() else { return };
        let kept_in = board.kept_in.clone();
        let (source, parts) = (self.source.clone(), self.hidden.parts());
        let words = format!(
            "{} {}",
            if self.round == OPEN_ROUND { "toile" } else { &self.round },
            self.view.word()
        );
        self.why_not = None;
        self.keeping = Some(Job::begin(ctx, "Keeping it", move |_| {
            held.while_locked(|project| {
                album::take_in_held(project, &source, &words, &parts, kept_in.as_deref())
            })
            .map_err(|why| why.to_string())?
            .map_err(|why| why.to_string())
        }));
    }

    /// The photo as it would be kept, for the screen.
    fn texture(&mut self, ctx: &Context) -> Option<TextureHandle> {
        let Some(Ok(picture)) = &self.seen else { return None };
        if self.shown.as_ref().is_none_or(|s| s.0 != self.hidden) {
            let left = album::hidden(picture, &self.hidden.parts());
            match left {
                Ok(left) => {
                    let image = for_screen(&left, PREVIEW);
                    let texture =
                        ctx.load_texture("photo to take in", image, TextureOptions::LINEAR);
                    self.shown = Some((self.hidden, texture));
                    self.why_not = None;
                }
                Err(why) => self.why_not = Some(why.to_string()),
            }
        }
        self.shown.as_ref().map(|s| s.1.clone())
    }
}

fn show(board: &Board, take: &mut TakeIn, ui: &mut Ui) -> Option<Pressed> {
    ui.heading("Take a photo in");
    let name =
        take.source.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    aside(
        board,
        ui,
        format!(
            "“{name}” stays as it is. What is kept beside the project are pixels alone: place, time and camera are left behind, and nothing is sent anywhere."
        ),
    );
    // Beside the photo there is room for the words above and the buttons below it.
    let letters = board.settings.letters;
    let high = (ui.ctx().content_rect().height() - 110.0 - 150.0 * letters).max(140.0);
    let area = ScrollArea::vertical().max_height(high).min_scrolled_height(high);
    scrolled(ui, area, true, |ui| {
        // The window keeps its size while boxes come and go.
        ui.set_min_height(high);
        ui.columns(2, |columns| {
            preview(board, take, &mut columns[0], high);
            let ui = &mut columns[1];
            ui.set_max_width((ui.available_width() - 14.0).max(100.0));
            choices(board, take, ui);
        });
    });
    ui.separator();
    if let Some(why) = &take.why_not {
        fault(board, ui, why);
    }
    let mut pressed = None;
    ui.horizontal_wrapped(|ui| {
        let ready =
            matches!(take.seen, Some(Ok(_))) && take.keeping.is_none() && take.why_not.is_none();
        if ui.add_enabled(ready, Button::new("Keep it like this")).clicked() {
            pressed = Some(Pressed::Keep);
        }
        if ui.button("Discard").clicked() {
            pressed = Some(Pressed::Leave);
        }
        if take.keeping.is_some() {
            ui.label("Keeping it…");
        }
    });
    pressed
}

/// The photo as it would be kept. A box pulled over it is blurred.
fn preview(board: &Board, take: &mut TakeIn, ui: &mut Ui, high: f32) {
    match &take.seen {
        None => {
            ui.label("Reading the photo…");
            return;
        }
        Some(Err(why)) => {
            fault(board, ui, &why.clone());
            return;
        }
        Some(Ok(_)) => {}
    }
    let Some(texture) = take.texture(ui.ctx()) else { return };
    let size = texture.size_vec2();
    let room = vec2(ui.available_width() - 12.0, (high - 40.0).min(640.0));
    let scale = (room.x / size.x).min(room.y / size.y);
    let (rect, response) = ui.allocate_exact_size(size * scale, Sense::drag());
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::Role::Image, true, "The photo as it would be kept")
    });
    let uv = Rect::from_min_max(egui::pos2(0.0, 0.0), egui::pos2(1.0, 1.0));
    ui.painter().image(texture.id(), rect, uv, egui::Color32::WHITE);
    if take.pulled_from.is_none() {
        outline(take.hidden, ui, rect, &board.palette);
    }
    pull_box(take, ui, &response, rect, &board.palette);
    aside(board, ui, "Pull a box over the face to blur it.");
}

/// A broken line round what is blurred, where it lies below the cut.
fn outline(hidden: Hidden, ui: &Ui, rect: Rect, palette: &Palette) {
    if !hidden.blurred {
        return;
    }
    let whole = 100.0 / (100.0 - hidden.cut);
    let at = |left: f64, above: f64| {
        let down = (above - hidden.cut) * whole;
        rect.min + vec2(rect.width() * left as f32, rect.height() * down as f32) / 100.0
    };
    let (right, under) = (hidden.left + hidden.width, hidden.above + hidden.height);
    let edge = Rect::from_two_pos(at(hidden.left, hidden.above), at(right, under)).intersect(rect);
    let corners = [
        edge.left_top(),
        edge.right_top(),
        edge.right_bottom(),
        edge.left_bottom(),
        edge.left_top(),
    ];
    let pen = Stroke::new(1.5, palette.on_paper().paper);
    ui.painter().extend(egui::Shape::dashed_line(&corners, pen, 5.0, 4.0));
}

fn pull_box(take: &mut TakeIn, ui: &Ui, response: &egui::Response, rect: Rect, palette: &Palette) {
    let pointer = ui.input(|i| i.pointer.interact_pos());
    if response.drag_started() {
        take.pulled_from = ui.input(|i| i.pointer.press_origin());
    }
    let (Some(from), Some(to)) = (take.pulled_from, pointer) else { return };
    let pulled = Rect::from_two_pos(from, to).intersect(rect);
    ui.painter().rect_stroke(
        pulled,
        2.0,
        Stroke::new(2.0, palette.madder),
        egui::StrokeKind::Middle,
    );
    if response.drag_stopped() {
        take.pulled_from = None;
        // The preview shows what is left below the cut.
        let below = 100.0 - take.hidden.cut;
        let across = |x: f32| f64::from((x - rect.left()) / rect.width()) * 100.0;
        let down = |y: f32| take.hidden.cut + f64::from((y - rect.top()) / rect.height()) * below;
        let (left, right) = (across(pulled.left()), across(pulled.right()));
        let (above, under) = (down(pulled.top()), down(pulled.bottom()));
        if right - left > 0.5 && under - above > 0.5 {
            let (width, height) = (right - left, under - above);
            take.hidden = Hidden { blurred: true, left, above, width, height, ..take.hidden };
        }
    }
}

fn choices(board: &Board, take: &mut TakeIn, ui: &mut Ui) {
    part(ui, "What must not be seen");
    aside(board, ui, "What is hidden here is gone from the kept photo for good.");
    ui.spacing_mut().slider_width = (ui.available_width() - 90.0).clamp(60.0, 240.0);
    percent(ui, "Cut off above", &mut take.hidden.cut, MOST_CUT);
    ui.checkbox(&mut take.hidden.blurred, "Blur a box");
    if take.hidden.blurred {
        percent(ui, "Box from the left", &mut take.hidden.left, 99.0);
        percent(ui, "Box from above", &mut take.hidden.above, 99.0);
        percent(ui, "Width of the box", &mut take.hidden.width, 100.0);
        percent(ui, "Height of the box", &mut take.hidden.height, 100.0);
    }
    part(ui, "Seen from");
    ui.horizontal_wrapped(|ui| {
        for view in PhotoView::SAID {
            ui.radio_value(&mut take.view, view, hangtrue_pattern::words::capital(view.word()));
        }
    });
    part(ui, "The toile of");
    let rounds: Vec<String> = std::iter::once(OPEN_ROUND.to_owned())
        .chain(board.document().rounds().map(|r| r.0.to_owned()))
        .collect();
    let shown = ComboBox::from_id_salt("round of the photo")
        .selected_text(round_words(&take.round))
        .width((ui.available_width() - 20.0).max(60.0))
        .show_ui(ui, |ui| {
            for round in rounds {
                let words = round_words(&round);
                ui.selectable_value(&mut take.round, round, words);
            }
        });
    name_id(ui, shown.response.id, &format!("Fitting of the photo: {}", round_words(&take.round)));
    part(ui, "Under it in the journal");
    let field = ui.add(one_line(&mut take.caption).desired_width(f32::INFINITY));
    name_field(ui, &field, "Caption of the photo");
}

fn percent(ui: &mut Ui, label: &str, value: &mut f64, most: f64) {
    ui.small(format!("{label}: {value:.0} %"));
    let slider = ui.add(Slider::new(value, 0.0..=most).step_by(1.0).show_value(false));
    name_field(ui, &slider, &format!("{label}, percent"));
}

/// What was kept becomes part of the project.
fn into_project(
    own: &mut Toile,
    board: &Board,
    requests: &mut Requests,
    take: &TakeIn,
    kept: (TakenIn, HeldDoubt),
) {
    let (TakenIn { file, cut_above }, doubt) = kept;
    let photo = RoundPhoto {
        file: file.clone(),
        round: take.round.clone(),
        view: take.view,
        caption: take.caption.trim().to_owned(),
        in_journal: false,
        cut_above,
        marks: None,
    };
    requests.edit("taking a photo in", |d| d.journal.photos.push(photo));
    own.doubts.taken(doubt);
    if let Some(project) = board.filed.path() {
        // One of that name that was thrown away may have been looked at.
        own.photos.forget(project, &file);
    }
    own.open(&file);
    requests.tell(format!(
        "kept as {file}, as pixels alone. It is in the journal only when you tick it."
    ));
}
