//! Edits of a drawing: what the commands that add, join, move and remove do. Every edit leaves a document without flaws, or
//! refuses and leaves it as it was.
//!
//! - `add`, `part`, `close_tees`, `connect`: components onto the sheet and into pipes, new pipes between ends;
//! - `remove`, `heal`: taking away, and what becomes of the pipes;
//! - `place`, `follow`, `route`, `course`: places on the sheet and the ways of pipes between them;
//! - `align`: places in line and at equal distances; `aside`: a part of a pipe drawn to its side;
//! - `fragment`: copy and paste;
//! - `figures`, `zones`, `names`, `variants`, `site`: everything that is set;
//! - `choice`, `usual`: what can be put on a sheet, with usual figures; `blank`: a new sheet;
//! - `between`: what two documents differ in.
//!
//! An edit that adds or removes is made on a copy, which takes the document's place if it has no flaw; what is dragged or typed
//! checks only what it touches, so that it stays quick on the greatest drawing.

mod add;
mod align;
mod aside;
mod between;
mod blank;
mod choice;
mod close_tees;
mod connect;
mod course;
mod figures;
mod follow;
mod fragment;
mod heal;
mod names;
mod part;
mod place;
mod remove;
mod route;
mod shapes;
mod site;
mod usual;
mod variants;
mod zones;

pub use align::{Line, aligned, distributed};
pub use aside::{drawn_aside, part_at};
pub use choice::ComponentChoice;
pub use course::{course, nearest_share, spot};
pub use fragment::Fragment;
pub use shapes::{PipeEnd, PipeFigures};

use super::{Changed, Command, CommandError, ComponentId, Port, PortRef, Project, flaws};
use between::{kind_change, zone_change};

/// Places, names, texts.
const DRAWING: Changed = Changed { settings: false, laws: false, structure: false, drawing: true };
/// Figures.
const LAWS: Changed = Changed { laws: true, drawing: false, ..DRAWING };
/// Parts of the drawing, which are on the sheet too.
const STRUCTURE: Changed = Changed { structure: true, ..DRAWING };

impl Project {
    /// Carries out a command that edits the drawing.
    pub(super) fn edit(&mut self, command: &Command) -> Result<Changed, CommandError> {
        match command {
            Command::AddComponent(component) => self.rebuilt(|draft| draft.add_component(component)),
            Command::InsertIntoPipe(pipe, share, component) => self.rebuilt(|draft| {
                let changed = draft.insert_into_pipe(*pipe, *share, component)?;
                if let Some(id) = draft.component_named(&component.name) {
                    draft.adopt_valve(id);
                }
                Ok(changed)
            }),
            Command::InsertCloseTees(pipe, share) => self.rebuilt(|draft| draft.insert_close_tees(*pipe, *share)),
            Command::RemoveParts(components, pipes) => self.rebuilt(|draft| draft.remove_parts(components, pipes)),
            Command::Connect(from, to, bends) => self.rebuilt(|draft| {
                let changed = draft.connect(*from, *to, bends)?;
                for end in [from, to] {
                    if let PipeEnd::Port(port) = end {
                        draft.adopt_valve(port.component);
                    }
                }
                Ok(changed)
            }),
            Command::MoveComponents(places) => self.move_components(places),
            Command::TurnRound(id) => self.turn_round(*id),
            Command::SetTurn(id, turn) => self.set_turn(*id, *turn),
            Command::Rename(id, name) => self.rename(*id, name),
            Command::SetKind(id, kind) => self.set_kind(*id, kind),
            Command::RenamePipe(id, name) => self.rename_pipe(*id, name),
            Command::SetPipe(id, figures) => self.set_pipe(*id, figures),
            Command::SetBends(id, bends) => self.set_bends(*id, bends),
            Command::AddZone(zone) => self.add_zone(zone),
            Command::SetZone(id, zone) => self.set_zone(*id, zone),
            Command::RemoveZone(id) => self.remove_zone(*id),
            Command::SetScenarios(scenarios) => self.set_scenarios(scenarios),
            Command::SetVariants(variants) => self.set_variants(variants),
            Command::SwapVariant(index) => self.swap_variant(*index),
            Command::SetEnergyBasis(energy) => self.set_energy_basis(energy),
            Command::SetUncertainty(uncertainty) => self.set_uncertainty(*uncertainty),
            Command::SetEveryCombination(wanted) => Ok(self.set_every_combination(*wanted)),
            Command::SetDesign(design) => self.set_design(*design),
            Command::SetFluid(fluid) => self.set_fluid(*fluid),
            Command::SetAcceptance(acceptance) => self.set_acceptance(acceptance),
            Command::SetTitle(title) => Ok(self.set_title(title)),
            Command::SetNotes(notes) => Ok(names::put(&mut self.notes, notes)),
            Command::SetSite(site) => self.set_site(site),
            Command::SetAddress(id, address) => self.set_address(*id, address),
            Command::SetRegister(id, register) => self.set_register(*id, register),
            Command::SetTick(step, tick) => self.set_tick(*step, tick.as_ref()),
            Command::SetFillPressure(pressure) => self.set_fill_pressure(*pressure),
            Command::Paste(fragment, at) => self.rebuilt(|draft| draft.paste(fragment, *at)),
            // All others are carried out where they are declared.
            _ => Ok(Changed::default()),
        }
    }

    /// Makes an edit on a copy, which takes the document's place if the edit is not refused and makes no flaw.
    fn rebuilt(
        &mut self,
        edit: impl FnOnce(&mut Self) -> Result<Changed, CommandError>,
    ) -> Result<Changed, CommandError> {
        let mut draft = self.clone();
        let changed = edit(&mut draft)?;
        let found = flaws(&draft);
        if !found.is_empty() {
            let before = flaws(self);
            if let Some(flaw) = found.into_iter().find(|flaw| !before.contains(flaw)) {
                return Err(refused(flaw.to_string()));
            }
        }
        *self = draft;
        Ok(changed)
    }
}

/// A refusal in one sentence.
fn refused(sentence: String) -> CommandError {
    CommandError::Refused(sentence)
}

/// The refusal of one identity too many.
fn full() -> CommandError {
    refused("the project has no number left for another part: save it and open it again".to_owned())
}

/// The one port of a tee.
fn branch(component: ComponentId) -> PortRef {
    PortRef { component, port: Port::Branch }
}
