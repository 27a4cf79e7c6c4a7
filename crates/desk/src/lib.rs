//! Knockon's desk: the workbench in a window. Views are functions of the assessment, the sheet and their own state;
//! they return actions, and one place performs them. Nothing here computes a fact of the trade.

mod ahead;
mod app;
mod ask;
mod begin;
mod begun;
mod behind;
mod board;
mod board_head;
mod buying;
mod cache;
mod came_back;
mod choice_row;
mod clash;
mod clearing;
mod commands;
mod companion;
mod config;
mod cure_rows;
mod cure_set;
mod cure_words;
mod cures;
mod decode;
mod deeds;
mod dialog;
mod dialogs;
mod diff;
mod document;
mod draft;
mod draft_field;
mod dropping;
mod elevation;
mod ending;
mod entry;
mod error;
mod files;
mod first_line;
mod fitup;
mod fold;
mod found;
mod found_list;
mod frame;
mod half_written;
mod history;
mod icons;
mod keep;
mod keeping;
mod kept_drafts;
mod keys;
mod later;
mod leads;
mod libraries;
mod look_twice;
mod made;
mod measuring;
mod misfits;
mod modal;
mod naming;
mod new_sheet;
mod next_act;
mod notes;
mod one_way;
mod other_sheet;
mod own_parts;
mod palette;
mod panel;
mod part_form;
mod parts;
mod perform;
mod photo_paths;
mod photo_steps;
mod photos;
mod position;
mod reopen;
mod rows;
mod search;
mod shelf;
mod spot;
mod start;
mod step_name;
mod steps;
mod strip;
mod survey;
mod text;
mod theme;
mod tokens;
mod top;
mod typed;
mod unknown;
mod view;
mod viewer;
mod watch;
mod ways;
mod words;
mod work;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, PoisonError};

use knockon_core::date::Date;
use knockon_core::{Catalogue, Sheet};
use knockon_store::libraries::Wanted;

pub use app::App;
pub use config::{home, own_library};
pub use error::DeskError;
pub use typed::is_of_the_sheet;

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
            .with_inner_size([1366.0, 768.0])
            // what a 1000 by 640 screen leaves inside the frame of a window
            .with_min_inner_size([960.0, 560.0])
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
