//! Catalogue points pasted from a spreadsheet or a CSV file; what is wrong with them is told with row and column.

use super::form::Form;
use super::pump;
use crate::document::{ComponentId, PumpUnit};
use crate::file::table::read_pump_of_speed;
use egui::{RichText, TextEdit};

/// What it looks like, for an empty field.
const EXAMPLE: &str = "flow (m³/h); head (m); power (W); speed (r/min)\n0; 6.0; 60; 2800\n2; 5.4; 85;\n4; 3.6; 105;";

/// Text to be read as the points of a pump.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Paste {
    pump: ComponentId,
    text: String,
    /// What is wrong with it.
    faults: String,
    /// Whether its field was shown already.
    is_shown: bool,
}

/// The pump with the points of a table.
pub(super) fn read(text: &str, unit: &PumpUnit) -> Result<PumpUnit, String> {
    let table = read_pump_of_speed(text, "The pasted text", unit.full_speed_rpm).map_err(|error| error.to_string())?;
    Ok(PumpUnit { catalogue: table.points, full_speed_rpm: table.full_speed_rpm, ..unit.clone() })
}

/// Shows it: a button, and once that is pressed a field.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, unit: &PumpUnit) {
    let Some(mut paste) = form.state.paste.take_if(|paste| paste.pump == id) else {
        let hint = "Reads the points from cells of a spreadsheet or the text of a CSV file";
        if form.buttons("paste", &[("Paste a table…", hint)]).is_some() {
            form.state.paste = Some(Paste { pump: id, text: String::new(), faults: String::new(), is_shown: false });
        }
        return;
    };
    let (mut anew, top) = (!std::mem::replace(&mut paste.is_shown, true), form.ui.cursor().min);
    let label = form.ui.label(RichText::new("Table").color(form.view.palette.quiet));
    let edit = TextEdit::multiline(&mut paste.text).id(form.subject.with("table"));
    let edit = edit.desired_rows(5).desired_width(form.ui.available_width()).hint_text(EXAMPLE);
    let field = form.ui.add(edit).labelled_by(label.id);
    if anew {
        field.request_focus();
    }
    if field.changed() {
        paste.faults.clear();
    }
    let mut done = false;
    match form.buttons("paste", &[("Take these points", ""), ("Cancel", "")]) {
        Some(0) => match read(&paste.text, unit) {
            Ok(unit) => {
                form.change(pump::set(id, unit));
                done = true;
            }
            Err(faults) => {
                paste.faults = faults;
                anew = true;
            }
        },
        Some(_) => done = true,
        None => {}
    }
    if !paste.faults.is_empty() {
        form.fault(&paste.faults);
    }
    if anew {
        let end = egui::pos2(top.x + form.ui.available_width(), form.ui.cursor().top());
        form.ui.scroll_to_rect(egui::Rect::from_min_max(top, end), None);
    }
    if !done {
        form.state.paste = Some(paste);
    }
}
