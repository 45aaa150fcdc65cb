//! Search: a few letters of a name find components, pipes and zones; enter goes to the first, arrows choose another.

use super::look::{self, size};
use super::view::Intent;
use crate::document::Project;
use crate::problems::Place;
use egui::{self, Key, Modifiers, RichText, TextEdit};

/// Most names that are shown at once.
const SHOWN: usize = 12;

/// The search, open or not.
#[derive(Debug, Default)]
pub(super) struct Search {
    is_open: bool,
    just_opened: bool,
    typed: String,
    chosen: usize,
}

/// Something that was found.
struct Found {
    place: Place,
    name: String,
    what: &'static str,
    /// Smaller is nearer: names that begin with what was typed come first.
    rank: usize,
}

impl Search {
    /// Opens it.
    pub(super) fn open(&mut self) {
        *self = Self { is_open: true, just_opened: true, ..Self::default() };
    }

    /// Shows it while it is open.
    pub(super) fn show(&mut self, ctx: &egui::Context, project: &Project, intents: &mut Vec<Intent>) {
        if !self.is_open {
            return;
        }
        let found = find(project, &self.typed);
        let (down, up, enter) = ctx.input_mut(|i| {
            (
                i.consume_key(Modifiers::NONE, Key::ArrowDown),
                i.consume_key(Modifiers::NONE, Key::ArrowUp),
                i.key_pressed(Key::Enter),
            )
        });
        let last = found.len().min(SHOWN).saturating_sub(1);
        self.chosen = (self.chosen + usize::from(down)).saturating_sub(usize::from(up)).min(last);
        let mut taken = found.get(self.chosen).filter(|_| enter).map(|f| f.place);
        let modal = look::modal(ctx, "search").show(ctx, |ui| {
            ui.set_width(420.0);
            let label = ui.label(RichText::new("Find on the drawing").font(look::strong(size::LEAD)));
            let field = TextEdit::singleline(&mut self.typed).hint_text("Part of a name").desired_width(f32::INFINITY);
            let field = ui.add(field).labelled_by(label.id);
            if std::mem::take(&mut self.just_opened) {
                field.request_focus();
            }
            if field.changed() {
                self.chosen = 0;
            }
            for (i, found) in found.iter().take(SHOWN).enumerate() {
                let words = format!("{}  ·  {}", found.name, found.what);
                if ui.selectable_label(i == self.chosen, words).clicked() {
                    taken = Some(found.place);
                }
            }
            if found.is_empty() {
                ui.label("No component, pipe or zone has this in its name.");
            } else if found.len() > SHOWN {
                ui.label(RichText::new(format!("and {} more: type on", found.len() - SHOWN)).size(size::SMALL));
            }
        });
        if let Some(place) = taken {
            intents.push(Intent::GoTo(place));
        }
        if taken.is_some() || modal.should_close() || ctx.input(|i| i.key_pressed(Key::Escape)) {
            self.is_open = false;
        }
    }
}

/// Everything whose name holds what was typed, nearest first.
fn find(project: &Project, typed: &str) -> Vec<Found> {
    let typed = typed.trim().to_lowercase();
    let components = project.components.iter().map(|(id, c)| (Place::Component(*id), c.name.clone(), c.kind_name()));
    let pipes = project.pipes.iter().filter(|(_, p)| !p.name.is_empty());
    let pipes = pipes.map(|(id, p)| (Place::Pipe(*id), p.name.clone(), "pipe"));
    let zones = project.zones.iter().map(|(id, z)| (Place::Zone(*id), z.name.clone(), "zone"));
    let mut found: Vec<Found> = zones
        .chain(components)
        .chain(pipes)
        .filter_map(|(place, name, what)| {
            let rank = name.to_lowercase().find(&typed).or_else(|| what.find(&typed).map(|at| at + 1000))?;
            Some(Found { place, name, what, rank })
        })
        .collect();
    found.sort_by_key(|found| found.rank);
    found
}
