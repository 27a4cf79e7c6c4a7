//! Knockon's desk: the workbench in a window. Views are functions of the assessment, the sheet and their own state;
//! they return actions, and one place performs them. Nothing here computes a fact of the trade.

mod access;
mod app;
mod bars;
mod board;
mod buying;
mod cures;
mod dialogs;
mod document;
mod empty;
mod find;
mod fitup;
mod how;
mod jobs;
mod library;
mod look;
mod money;
mod own_library;
mod own_parts;
mod panel;
mod plans;
mod printing;
mod start;
mod survey;
mod vehicle;
mod wording;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use knockon_core::date::Date;
use knockon_core::{Catalogue, Sheet};
use knockon_store::libraries::Wanted;

pub use app::App;
pub use app::config::{home, own_library};
pub use app::error::DeskError;
pub use document::typed::is_of_the_sheet;

/// What the desk starts with.
#[derive(Clone, Debug)]
pub struct Start {
    /// A sheet to open.
    pub file: Option<PathBuf>,
    /// The library.
    pub catalogue: Catalogue,
    /// The libraries it was read from: their folders are watched, and read again when something in them changes.
    pub libraries: Wanted,
    /// What was wrong with them, in sentences.
    pub faults: Vec<String>,
    /// The example sheet shipped with the program.
    pub example: Sheet,
    /// The day it is, asked for at every frame: the desk may stay open over midnight.
    pub today: fn() -> Date,
}

/// The picture of the program for bars and lists of windows; without one where it cannot be read, which a test rules out.
fn icon() -> egui::IconData {
    eframe::icon_data::from_png_bytes(include_bytes!("../../../assets/desktop/knockon-128.png"))
        .unwrap_or_default()
}

/// Opens the window and returns when it is closed.
///
/// # Errors
/// [`DeskError`] where there is no display, or where libraries of the display are missing.
pub fn run(start: Start) -> Result<(), DeskError> {
    let options = eframe::NativeOptions {
        renderer: eframe::Renderer::Glow,
        system_font_fallback: false,
        persist_window: false,
        viewport: egui::ViewportBuilder::default()
            .with_title("Knockon")
            .with_app_id("knockon")
            .with_icon(icon())
            .with_inner_size([1366.0, 768.0])
            // what a 1366 by 768 screen leaves inside the frame of a window where everything is drawn at twice its size
            .with_min_inner_size([640.0, 340.0])
            .with_clamp_size_to_monitor_size(true)
            .with_drag_and_drop(true),
        ..Default::default()
    };
    // a library of the display that is missing can end in a panic inside the window layer
    let said = Arc::new(Mutex::new(String::new()));
    let hook = std::panic::take_hook();
    let heard = Arc::clone(&said);
    std::panic::set_hook(Box::new(move |info| {
        *heard.lock().unwrap_or_else(PoisonError::into_inner) = info.to_string();
    }));
    let outcome = catch_unwind(AssertUnwindSafe(|| {
        let app = |cc: &eframe::CreationContext<'_>| {
            let app = App::new(cc, start);
            app.ending.listen(&cc.egui_ctx);
            app
        };
        eframe::run_native("knockon", options, Box::new(|cc| Ok(Box::new(app(cc)))))
    }));
    std::panic::set_hook(hook);
    match outcome {
        Ok(Ok(())) => Ok(()),
        Ok(Err(why)) => Err(DeskError::from_text(&why.to_string())),
        Err(_) => Err(DeskError::from_text(&said.lock().unwrap_or_else(PoisonError::into_inner))),
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_picture_of_the_program_is_read() {
        let icon = super::icon();
        assert_eq!((icon.width, icon.height, icon.rgba.len()), (128, 128, 128 * 128 * 4));
    }
}
