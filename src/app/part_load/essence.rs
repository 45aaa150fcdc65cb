//! What part load depends on: the project without the settings of the pump in hand, without which zone valves stand open just now, and
//! without places and texts. While two projects have the same essence nothing is probed anew.

use crate::document::{Command, ComponentId, ComponentKind, EnergyBasis, Project};
use crate::engine::pump::Regulation;

/// The essence of a project.
pub(super) fn of(project: &Project, pump: ComponentId) -> Project {
    let mut essence = project.clone();
    essence.title.clear();
    essence.notes.clear();
    essence.variants.clear();
    essence.energy = EnergyBasis { counts_standby: essence.energy.counts_standby, ..EnergyBasis::default() };
    essence.acceptance.source.clear();
    essence.limits.source.clear();
    for component in essence.components.values_mut() {
        component.name.clear();
        component.at = [0.0, 0.0];
        component.turn = Default::default();
        component.height = 0.0;
    }
    for pipe in essence.pipes.values_mut() {
        pipe.name.clear();
        pipe.bends.clear();
    }
    if let Some(ComponentKind::Pump(unit)) = essence.components.get_mut(&pump).map(|component| &mut component.kind) {
        unit.regulation = Regulation::at_speed(1.0);
        unit.running = true;
    }
    // Without scenarios the valves as they stand are the one state there is.
    if !essence.scenarios.is_empty() {
        let _ = essence.apply(&Command::OpenAllZones);
        essence.outdoor_now_c = None;
    }
    essence
}
