//! Hours by outdoor temperature: pasted, typed or out of a file, which is put into the same field to be seen.

use super::super::import::{Asks, Import};
use super::form::Form;
use crate::document::Bin;
use crate::file::table::{load_bins, read_bins};
use egui::{RichText, TextEdit};
use std::path::Path;

/// What it looks like, for an empty field.
const EXAMPLE: &str = "outdoor temperature (°C); hours\n-10; 40\n-5; 310\n0; 820\n5; 1150";

/// The one thing that a file is wanted for.
#[derive(Clone, Copy, Debug)]
struct Hours;

impl Asks for Hours {
    fn words(self) -> (&'static str, &'static str) {
        (
            "Take hours by outdoor temperature from a file",
            "CSV or text from a spreadsheet with two columns: outdoor temperature (°C or °F) and hours. Without headings the \
             temperatures come first, in °C.",
        )
    }
}

/// The text of the table, and the panel that asks for a file.
#[derive(Debug, Default)]
pub(super) struct Weather {
    text: String,
    import: Import<Hours>,
}

impl Weather {
    /// What the text says.
    pub(super) fn bins(&self) -> Result<Vec<Bin>, String> {
        read_bins(&self.text, "The hours by temperature").map_err(|error| error.to_string())
    }

    /// Shows the field and the way to a file; whether the text became another.
    pub(super) fn show(&mut self, form: &mut Form<'_, '_>) -> bool {
        let label = form.ui.label(RichText::new("Outdoor temperature; hours").color(form.view.palette.quiet));
        let edit = TextEdit::multiline(&mut self.text).id(form.subject.with("weather"));
        let edit = edit.desired_rows(5).desired_width(form.ui.available_width()).hint_text(EXAMPLE);
        let mut changed = form.ui.add(edit).labelled_by(label.id).changed();
        let hint = "Reads two columns of a CSV file or a spreadsheet's text";
        if form.buttons("weather file", &[("From a file…", hint)]).is_some() {
            self.import.ask(Hours);
        }
        if let Some((_, path)) = self.import.show(form.ui.ctx()) {
            changed |= self.take(&path);
        }
        changed
    }

    /// Puts what a file holds into the field; whether it could be read.
    fn take(&mut self, path: &Path) -> bool {
        match load_bins(path) {
            Ok(bins) => {
                self.text = text(&bins);
                self.import.close();
                true
            }
            Err(error) => {
                self.import.refuse(error.to_string());
                false
            }
        }
    }
}

/// The bins as they can be read again.
fn text(bins: &[Bin]) -> String {
    let rows = bins.iter().map(|bin| format!("{}; {}\n", bin.outdoor_c, bin.hours));
    std::iter::once("outdoor temperature (°C); hours\n".to_owned()).chain(rows).collect()
}
