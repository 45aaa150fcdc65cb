//! What two documents differ in: coarse, but never too little.

use super::figures::run_change;
use super::zones::acceptance_change;
use super::{DRAWING, LAWS, STRUCTURE};
use crate::document::{Changed, Component, ComponentKind, PipeRun, Project, PumpUnit, Zone};
use std::collections::BTreeMap;

impl Changed {
    /// What differs between two documents.
    #[must_use]
    pub fn between(before: &Project, after: &Project) -> Self {
        let whole = [
            if before.design == after.design && before.fluid == after.fluid { Self::default() } else { STRUCTURE },
            if before.outdoor_now_c == after.outdoor_now_c { Self::default() } else { LAWS },
            if before.limits == after.limits { Self::default() } else { DRAWING },
            judged(before, after),
            acceptance_change(&before.acceptance, &after.acceptance),
            if before.site == after.site && before.starting == after.starting { Self::default() } else { DRAWING },
            if (&before.title, &before.notes, &before.scenarios) == (&after.title, &after.notes, &after.scenarios) {
                Self::default()
            } else {
                DRAWING
            },
            each(&before.components, &after.components, component_change),
            each(&before.pipes, &after.pipes, pipe_change),
            each(&before.zones, &after.zones, zone_change),
        ];
        whole.into_iter().fold(Self::default(), Self::and)
    }
}

/// What differs in what results are judged by and compared with.
fn judged(before: &Project, after: &Project) -> Changed {
    let same = before.energy == after.energy
        && before.uncertainty == after.uncertainty
        && before.every_combination == after.every_combination
        && before.variants == after.variants;
    if same { Changed::default() } else { DRAWING }
}

/// What differs between things of the same identities; other identities are another structure.
fn each<Id: Ord, T>(before: &BTreeMap<Id, T>, after: &BTreeMap<Id, T>, change: fn(&T, &T) -> Changed) -> Changed {
    if !before.keys().eq(after.keys()) {
        return STRUCTURE;
    }
    before.values().zip(after.values()).map(|(a, b)| change(a, b)).fold(Changed::default(), Changed::and)
}

fn component_change(before: &Component, after: &Component) -> Changed {
    let Component { name, at, turn, height, kind } = before;
    let drawing = *name != after.name || *at != after.at || *turn != after.turn;
    let laws = *height != after.height;
    kind_change(kind, &after.kind).and(Changed { laws, drawing, ..Changed::default() })
}

fn pipe_change(before: &PipeRun, after: &PipeRun) -> Changed {
    if (before.from, before.to) != (after.from, after.to) {
        return STRUCTURE;
    }
    let drawing = before.name != after.name || before.bends != after.bends;
    run_change(before, after).and(Changed { drawing, ..Changed::default() })
}

/// What another zone in the place of one changes: its figures are laws of its emitter and its room; which emitter and which
/// valve are its own decides what throttles it.
pub(super) fn zone_change(before: &Zone, after: &Zone) -> Changed {
    let Zone { name, load, emitter, valve, room_c, gain, return_c } = after;
    if (before.emitter, before.valve) != (*emitter, *valve) {
        return STRUCTURE;
    }
    let laws = (before.load, before.room_c, before.gain, before.return_c) != (*load, *room_c, *gain, *return_c);
    Changed { laws, drawing: before.name != *name, ..Changed::default() }
}

/// What other figures of a component change.
pub(super) fn kind_change(before: &ComponentKind, after: &ComponentKind) -> Changed {
    match (before, after) {
        _ if before == after => Changed::default(),
        (ComponentKind::Pump(before), ComponentKind::Pump(after)) => pump_change(before, after),
        // Its bypass leads elsewhere.
        (ComponentKind::ThreeWayValve(before), ComponentKind::ThreeWayValve(after))
            if before.action != after.action =>
        {
            STRUCTURE
        }
        _ if std::mem::discriminant(before) == std::mem::discriminant(after) => LAWS,
        _ => STRUCTURE,
    }
}

/// A pump's curve, power and speed are lowered with the drawing, and whether it runs; its settings are taken anew.
fn pump_change(before: &PumpUnit, after: &PumpUnit) -> Changed {
    let same_else = PumpUnit {
        regulation: after.regulation,
        steps: after.steps,
        stopped_kv: after.stopped_kv,
        address: after.address.clone(),
        register: after.register.clone(),
        ..before.clone()
    };
    if same_else != *after {
        return STRUCTURE;
    }
    Changed {
        settings: before.regulation != after.regulation,
        laws: before.stopped_kv != after.stopped_kv,
        drawing: before.steps != after.steps || before.address != after.address || before.register != after.register,
        structure: false,
    }
}
