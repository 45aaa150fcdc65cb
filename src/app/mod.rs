//! The window. It owns the document at work ([`desk::Desk`]) and shows it in panes; each pane gets a read-only [`View`] and a
//! list to push [`Intent`]s on. One pass: panes paint and collect → intents are carried out → if anything moved, the pass is
//! discarded and painted again at once, so that the results of a drag are on screen in the frame of the drag.
//!
//! Selection, camera and half-done drags live here, never in the document.

mod balanced;
mod below;
mod checklist;
mod curves;
mod desk;
mod drawing;
mod frame;
mod head_path;
mod import;
mod inspector;
mod job;
mod keeping;
mod lesson;
mod look;
mod map;
mod margins;
mod part_load;
mod picture;
mod presentation;
mod reach;
mod record;
mod register;
mod scenario_strip;
mod search;
mod selection;
mod settings;
mod shelf;
mod start_up;
mod table;
mod term_card;
mod typed;
mod variants;
mod view;
mod window;
mod written;
mod year;
mod zones;

pub use desk::{Desk, Standing};
pub use keeping::{Decision, Pace};
pub use lesson::{LessonIntent, Shown};
pub use part_load::Task;
pub use picture::{PictureForm, PictureOf, PictureWish, WindowLook, foot, window_svg};
pub use record::{RecordForm, RecordWish};
pub use selection::Selection;
pub use view::{Above, Below, Intent, Product, ProjectPart, View, Work};
pub use window::Window;

use std::path::PathBuf;

/// The sample that the window opens on.
const FIRST_SAMPLE: &str = include_str!("../../sample-projects/fernhollow-library.ron");

/// The name of the program's folder among the user's data.
const APP_ID: &str = "headwise";

/// Installs typeface, colours and spacing in a context; they hold from its next pass on.
pub fn prepare(ctx: &egui::Context) {
    look::install(ctx);
}

/// Opens the window on a file, or on a sample building.
///
/// # Errors
/// A display that cannot be opened, in one sentence.
pub fn run(path: Option<PathBuf>) -> Result<(), String> {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Headwise")
            .with_app_id(APP_ID)
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([1024.0, 680.0]),
        ..eframe::NativeOptions::default()
    };
    let start = move |context: &eframe::CreationContext<'_>| -> Result<Box<dyn eframe::App>, _> {
        let mut window = Window::new(&context.egui_ctx)?;
        if let Some(storage) = context.storage {
            window.restore(&context.egui_ctx, storage);
        }
        window.ask_for_motion();
        if let Some(path) = path {
            window.open(&path);
        }
        if let Some(folder) = window::recovery_folder() {
            window.keep_in(&folder, Pace::default(), &context.egui_ctx);
        }
        Ok(Box::new(window))
    };
    eframe::run_native("Headwise", options, Box::new(start)).map_err(|error| {
        format!(
            "The window could not be opened ({error}). On a machine without a display use the commands instead, \
             for instance: headwise solve FILE"
        )
    })
}
