//! What the window keeps from one time to the next: units, light or dark, recent files, how things are
//! presented.

use super::Window;
use crate::engine::units::{Quantity, Unit};

impl Window {
    /// Takes units and theme from the last time.
    pub(in super::super) fn restore(&mut self, ctx: &egui::Context, storage: &dyn eframe::Storage) {
        for quantity in Quantity::ALL.iter().copied() {
            let kept = storage.get_string(&format!("unit of {}", quantity.id()));
            if let Some(unit) = kept.as_deref().and_then(Unit::from_id) {
                self.units.set(quantity, unit);
            }
        }
        match storage.get_string("theme").as_deref() {
            Some("dark") => ctx.set_theme(egui::Theme::Dark),
            Some("light") => ctx.set_theme(egui::Theme::Light),
            _ => {}
        }
        self.files.restore(storage);
        self.lessons.restore(storage);
        self.presentation.restore(storage);
    }

    /// Asks the system whether it wants less motion; until it answers things move.
    pub(in super::super) fn ask_for_motion(&mut self) {
        self.presentation.ask_system();
    }

    /// Keeps units and theme for the next time.
    pub(super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        for quantity in Quantity::ALL.iter().copied() {
            storage.set_string(&format!("unit of {}", quantity.id()), self.units.get(quantity).id().to_owned());
        }
        let theme = if self.theme == egui::Theme::Dark { "dark" } else { "light" };
        storage.set_string("theme", theme.to_owned());
        self.files.keep(storage);
        self.lessons.keep(storage);
        self.presentation.keep(storage);
    }
}
