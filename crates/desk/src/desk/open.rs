//! Opening the window.

use crate::board::settings;
use crate::desk::state::Desk;
use eframe::NativeOptions;
use egui::ViewportBuilder;
use hangtrue_files::project::{self, ProjectError};
use std::path::{Path, PathBuf};

/// Why the desk could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The project cannot be read.
    #[error(transparent)]
    Project(#[from] ProjectError),
    /// There is no screen.
    #[error(
        "there is no screen to open the desk on ({0}); start it where a desktop runs, or use the commands that need no window: `hangtrue --help` lists them"
    )]
    NoDisplay(String),
    /// The screen cannot draw.
    #[error(
        "the screen is there, but cannot draw the desk ({0}): it needs OpenGL 2.1 or newer; update the graphics driver, or set LIBGL_ALWAYS_SOFTWARE=1 to draw without it"
    )]
    NoDrawing(String),
}

/// Opens the desk with a project, or asks how to begin when none is named or it is
/// not there yet, and returns when its window is closed.
///
/// # Errors
/// [`DeskError`] when the project cannot be read, there is no screen, or the
/// screen cannot draw.
pub fn open(file: Option<PathBuf>) -> Result<(), DeskError> {
    open_at(file, settings::own_folder())
}

/// The same, with the folder named where settings and unsaved work are kept; none
/// keeps nothing.
///
/// # Errors
/// As [`open`].
pub fn open_at(file: Option<PathBuf>, own_folder: Option<PathBuf>) -> Result<(), DeskError> {
    let desk = match file {
        Some(path) if is_to_begin(&path) => {
            check_display()?;
            Desk::welcoming(Some(path), own_folder)
        }
        Some(path) => {
            let (document, held) = project::open(&path)?;
            check_display()?;
            let mut desk = Desk::new(document, Some(held), own_folder);
            remember(&mut desk, &path);
            desk
        }
        None => {
            check_display()?;
            Desk::welcoming(None, own_folder)
        }
    };
    let title = desk.title();
    let options = NativeOptions {
        viewport: ViewportBuilder::default()
            .with_title(&title)
            .with_app_id("hangtrue")
            .with_icon(icon())
            .with_inner_size([1400.0, 880.0])
            .with_min_inner_size([760.0, 520.0])
            .with_drag_and_drop(true),
        multisampling: 4,
        persist_window: false,
        ..NativeOptions::default()
    };
    let window = |cc: &eframe::CreationContext<'_>| -> Result<Box<dyn eframe::App>, _> {
        Desk::prepare(&cc.egui_ctx);
        Ok(Box::new(DeskWindow { desk, title }))
    };
    eframe::run_native("Hangtrue", options, Box::new(window)).map_err(in_words)
}

/// Whether a new project can be begun under that name: nothing is there, and its
/// folder is.
fn is_to_begin(path: &Path) -> bool {
    let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
    path.symlink_metadata().is_err() && folder.is_none_or(Path::is_dir)
}

/// The icon of the window; a picture that cannot be read is no reason not to open.
fn icon() -> egui::IconData {
    let bytes = include_bytes!("../../../../assets/desktop/hangtrue.png");
    eframe::icon_data::from_png_bytes(bytes).unwrap_or_default()
}

fn remember(desk: &mut Desk, path: &Path) {
    desk.board.settings.used(path);
    desk.keep_settings();
}

/// Without a display server the window library would stop with a long report;
/// this says it in one sentence first.
fn check_display() -> Result<(), DeskError> {
    if cfg!(all(unix, not(target_os = "macos"))) {
        let named = |name| std::env::var_os(name).is_some_and(|v| !v.is_empty());
        if !named("DISPLAY") && !named("WAYLAND_DISPLAY") && !named("WAYLAND_SOCKET") {
            return Err(DeskError::NoDisplay("neither DISPLAY nor WAYLAND_DISPLAY is set".into()));
        }
    }
    Ok(())
}

fn in_words(why: eframe::Error) -> DeskError {
    // The library puts places of its own source before the reason.
    let text = why.to_string();
    let reason = text.rsplit(": ").next().unwrap_or(&text).to_owned();
    match why {
        eframe::Error::Winit(_) | eframe::Error::WinitEventLoop(_) => DeskError::NoDisplay(reason),
        _ => DeskError::NoDrawing(reason),
    }
}

struct DeskWindow {
    desk: Desk,
    title: String,
}

impl eframe::App for DeskWindow {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.desk.show(ui);
        let title = self.desk.title();
        if title != self.title {
            ui.ctx().send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    fn clear_color(&self, _visuals: &egui::Visuals) -> [f32; 4] {
        self.desk.board.palette.card.to_normalized_gamma_f32()
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        // When closing was not confirmed, as when the system shuts down, the work
        // is offered at the next start.
        if self.desk.files.may_close || !self.desk.is_unsaved() {
            self.desk.recovery.forget();
        }
        self.desk.cards.toile.doubts.leave(&self.desk.board);
    }
}
