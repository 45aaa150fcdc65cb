//! Where the head goes: a stair from pump discharge to pump suction, a row for every pipe and component on a zone's path. Each
//! bar reaches from the head that is left before its step to what is left after it. A second path can be laid beside it.

mod bars;
mod columns;
mod made;
mod rows;
mod table;

use super::look::size;
use super::term_card::TermCard;
use super::view::{Intent, View};
use crate::document::ZoneId;
use crate::study::terms::Term;
use egui::{self, RichText, Ui};
use made::{Aside, Made, Second};

/// What is laid beside the path.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Beside {
    #[default]
    Nothing,
    /// The path of another zone.
    Zone(ZoneId),
    /// The same zone's path in a scenario.
    Scenario(usize),
}

/// What the pane remembers between passes.
#[derive(Debug, Default)]
pub(super) struct HeadPathState {
    /// The zone chosen; without one that which is followed, whichever it is.
    zone: Option<ZoneId>,
    beside: Beside,
    /// The zone of the index circuit, or where none can be told that with the least share, what it is called, and the revision
    /// it was found for.
    follows: (Option<u64>, Option<(ZoneId, &'static str)>),
    made: Option<Made>,
    /// The study of a large drawing in another scenario.
    aside: Option<Aside>,
}

/// How often a study beside the window is asked after.
const AWAITED: std::time::Duration = std::time::Duration::from_millis(50);

/// Shows the pane.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut HeadPathState, intents: &mut Vec<Intent>) {
    let quiet = |ui: &mut Ui, words: String| ui.label(RichText::new(words).size(size::SMALL).color(view.palette.quiet));
    if view.project.zones.is_empty() {
        quiet(ui, "No zone yet: each emitter on the sheet brings one.".to_owned());
        return;
    }
    state.look_for_followed(view);
    choosers(ui, view, state);
    state.make(view);
    let Some(made) = &state.made else { return };
    match &made.second {
        Second::Missing(why) => _ = quiet(ui, format!("Nothing stands beside it: {why}.")),
        Second::Awaited(_) => {
            quiet(ui, "What stands beside it is being reckoned.".to_owned());
            ui.ctx().request_repaint_after(AWAITED);
        }
        Second::Nothing | Second::Path(_) => {}
    }
    match &made.first {
        Some(first) => table::show(ui, view, first, made.second.path(), &made.rows, intents),
        None => {
            let why = state.zone(view).map_or(String::new(), |zone| made::why_none(view.project, view.study, zone));
            quiet(ui, format!("{}.", super::frame::capital(&why)));
        }
    }
}

/// Zone and what is laid beside it.
fn choosers(ui: &mut Ui, view: &View<'_>, state: &mut HeadPathState) {
    ui.horizontal(|ui| {
        let words = |text: &str| RichText::new(text).color(view.palette.quiet);
        let room = ((ui.available_width() - 134.0) / 2.0).clamp(110.0, 260.0);
        let label = ui.label(words("Path of"));
        TermCard::new(view, Term::IndexCircuit).above().on(&label);
        let chooser = zone_chooser(ui, view, state, room).labelled_by(label.id);
        TermCard::new(view, Term::IndexCircuit).above().on(&chooser);
        let label = ui.label(words("beside it"));
        beside_chooser(ui, view, state, room).labelled_by(label.id);
    });
}

/// A zone's name, marked if it is the one that is followed.
fn zone_words(view: &View<'_>, id: ZoneId, follows: Option<(ZoneId, &str)>) -> String {
    let name = view.project.zones.get(&id).map_or("", |zone| zone.name.as_str());
    match follows {
        Some((zone, what)) if zone == id => format!("{name} ({what})"),
        _ => name.to_owned(),
    }
}

fn zone_chooser(ui: &mut Ui, view: &View<'_>, state: &mut HeadPathState, width: f32) -> egui::Response {
    let (follows, present) = (state.follows.1, state.zone(view));
    let followed = state.followed();
    let shown = present.map_or(String::new(), |id| zone_words(view, id, follows));
    combo(ui, "zone of the head path", shown, width, |ui| {
        let others = view.project.zones.keys().copied().filter(|id| followed != Some(*id));
        for id in followed.into_iter().chain(others) {
            if ui.selectable_label(present == Some(id), zone_words(view, id, follows)).clicked() {
                // The index circuit is followed, whichever it is.
                state.zone = Some(id).filter(|id| followed != Some(*id));
            }
        }
    })
}

fn beside_chooser(ui: &mut Ui, view: &View<'_>, state: &mut HeadPathState, width: f32) -> egui::Response {
    let (follows, present) = (state.follows.1, state.zone(view));
    let scenario = |i: usize| view.project.scenarios.get(i).map(|scenario| scenario.name.clone());
    let shown = match state.beside {
        Beside::Zone(id) if Some(id) != present && view.project.zones.contains_key(&id) => {
            zone_words(view, id, follows)
        }
        Beside::Scenario(i) => scenario(i).unwrap_or_else(|| "nothing".to_owned()),
        Beside::Nothing | Beside::Zone(_) => "nothing".to_owned(),
    };
    combo(ui, "beside the head path", shown, width, |ui| {
        ui.selectable_value(&mut state.beside, Beside::Nothing, "nothing");
        let heading = |ui: &mut Ui, words: &str| {
            ui.label(RichText::new(words).size(size::SMALL).color(view.palette.quiet));
        };
        let others = || view.project.zones.keys().copied().filter(|id| present != Some(*id));
        if others().next().is_some() {
            heading(ui, "Another zone");
        }
        for id in others() {
            ui.selectable_value(&mut state.beside, Beside::Zone(id), zone_words(view, id, follows));
        }
        if !view.project.scenarios.is_empty() {
            heading(ui, "This zone in a scenario");
        }
        for (i, scenario) in view.project.scenarios.iter().enumerate() {
            ui.selectable_value(&mut state.beside, Beside::Scenario(i), &scenario.name);
        }
    })
}

fn combo(ui: &mut Ui, id: &str, shown: String, width: f32, choices: impl FnOnce(&mut Ui)) -> egui::Response {
    egui::ComboBox::from_id_salt(id)
        .selected_text(shown)
        .width(width)
        .truncate()
        .height(420.0)
        .show_ui(ui, choices)
        .response
}
