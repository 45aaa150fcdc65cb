//! The sheet on which a plan is drawn: gives out identities in the order of drawing, so that a saved file reads the same way.

use super::plan::PlannedRun;
use crate::document::{Component, ComponentId, ComponentKind, PipeId, PipeRun, Port, PortRef, Turn};
use std::collections::{BTreeMap, BTreeSet};

/// Components and pipes so far.
pub(super) struct Sheet {
    pub(super) components: BTreeMap<ComponentId, Component>,
    pub(super) pipes: BTreeMap<PipeId, PipeRun>,
    /// Runs whose bore the plan lays down.
    pub(super) kept: BTreeSet<PipeId>,
    roughness: f64,
}

/// Bore of a run until it is sized, m.
const UNSIZED_M: f64 = 0.02;

/// A port of a component.
pub(super) fn port(component: ComponentId, port: Port) -> PortRef {
    PortRef { component, port }
}

/// The one port of a tee or a vessel.
pub(super) fn branch(component: ComponentId) -> PortRef {
    port(component, Port::Branch)
}

impl Sheet {
    pub(super) fn new(roughness: f64) -> Self {
        Self { components: BTreeMap::new(), pipes: BTreeMap::new(), kept: BTreeSet::new(), roughness }
    }

    /// Puts a component on the sheet.
    pub(super) fn put(&mut self, name: String, at: [f64; 2], turn: Turn, kind: ComponentKind) -> ComponentId {
        let id = ComponentId(number(self.components.len()));
        self.components.insert(id, Component::new(name, at, turn, kind));
        id
    }

    /// Draws a tee.
    pub(super) fn tee(&mut self, name: String, at: [f64; 2]) -> ComponentId {
        self.put(name, at, Turn::Right, ComponentKind::Junction)
    }

    /// Draws a pipe of some length; one without any is a bare joint.
    pub(super) fn pipe(&mut self, name: String, from: PortRef, to: PortRef, run: PlannedRun, bends: Vec<[f64; 2]>) {
        if run.length == 0.0 && run.minor_k == 0.0 {
            self.joint(from, to, bends);
            return;
        }
        let id = PipeId(number(self.pipes.len()));
        if run.bore.is_some() {
            self.kept.insert(id);
        }
        let PlannedRun { length, minor_k, bore } = run;
        let bore = bore.unwrap_or(UNSIZED_M);
        let pipe = PipeRun { name, minor_k, bends, ..PipeRun::straight(from, to, length, bore, self.roughness) };
        self.pipes.insert(id, pipe);
    }

    /// Joins two ports without any loss.
    pub(super) fn joint(&mut self, from: PortRef, to: PortRef, bends: Vec<[f64; 2]>) {
        let id = PipeId(number(self.pipes.len()));
        self.pipes.insert(id, PipeRun { bends, ..PipeRun::joint(from, to) });
    }
}

/// The next number after so many, counted from 1.
pub(super) fn number(so_far: usize) -> u32 {
    u32::try_from(so_far).unwrap_or(u32::MAX).saturating_add(1)
}
