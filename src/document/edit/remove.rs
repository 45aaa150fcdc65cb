//! Taking components and pipes away.
//!
//! What only sits in a pipe (valves, strainers, meters, a tee with two pipes left) leaves one pipe behind: the drawing heals.
//! What drives or takes the heat (sources, circulators, emitters), a bypass valve, a separator, a three-way valve and what hangs
//! at an end do not heal, for the pipe left behind would be a short circuit that nobody drew: their pipes go with them, and what
//! was at the other ends stays and waits. In a row that is taken away as a whole one such component keeps the row from healing.
//! A tee that joins three pipes or more takes them with it.

use super::STRUCTURE;
use crate::document::{Changed, CommandError, ComponentId, ComponentKind, PipeId, Port, PortRef, Project, ZoneId};
use std::collections::{BTreeMap, BTreeSet};

/// Whether a pipe can run on where a component of this kind was.
fn heals(kind: &ComponentKind) -> bool {
    match kind {
        ComponentKind::Junction
        | ComponentKind::ZoneValve { .. }
        | ComponentKind::ControlValve { .. }
        | ComponentKind::ThermostaticValve { .. }
        | ComponentKind::BalancingValve { .. }
        | ComponentKind::PressureIndependentValve { .. }
        | ComponentKind::CheckValve { .. }
        | ComponentKind::Strainer { .. }
        | ComponentKind::FlowMeter { .. }
        | ComponentKind::IsolationValve { .. } => true,
        ComponentKind::Source(_)
        | ComponentKind::Pump(_)
        | ComponentKind::Emitter(_)
        | ComponentKind::BypassValve { .. }
        | ComponentKind::Separator { .. }
        | ComponentKind::ThreeWayValve(_)
        | ComponentKind::PressureGauge
        | ComponentKind::Thermometer
        | ComponentKind::ExpansionVessel { .. } => false,
    }
}

/// What becomes of a component that is taken away, as its pipes are now.
enum Fate {
    /// Two pipes become one, the first running into it.
    Heals(PipeId, PipeId),
    /// It and its pipes go.
    Goes,
    /// Too many pipes to heal; that may change while others go.
    Waits,
}

impl Project {
    /// Takes components and pipes away; a zone goes with its emitter, a variant with its pump.
    pub(super) fn remove_parts(
        &mut self,
        components: &BTreeSet<ComponentId>,
        pipes: &BTreeSet<PipeId>,
    ) -> Result<Changed, CommandError> {
        if !components.iter().all(|id| self.components.contains_key(id)) {
            return Err(CommandError::Missing("component"));
        }
        if !pipes.iter().all(|id| self.pipes.contains_key(id)) {
            return Err(CommandError::Missing("pipe"));
        }
        if components.is_empty() && pipes.is_empty() {
            return Ok(Changed::default());
        }
        pipes.iter().for_each(|id| drop(self.pipes.remove(id)));
        let mut left = Leaving::new(self, components);
        // First what cannot heal, so that a branch taken away as a whole leaves a tee with two pipes; then what heals; then tees
        // that join more.
        while !left.touching.is_empty() {
            if !(left.pass(self, |fate| matches!(fate, Fate::Goes))
                || left.pass(self, |fate| matches!(fate, Fate::Heals(..))))
            {
                left.pass_any(self);
            }
        }
        self.forget_zones_of(components);
        self.forget_variants();
        Ok(STRUCTURE)
    }

    /// Takes zones away whose emitter went, and valves from zones whose valve went.
    fn forget_zones_of(&mut self, components: &BTreeSet<ComponentId>) {
        let gone: Vec<ZoneId> =
            self.zones.iter().filter(|(_, zone)| components.contains(&zone.emitter)).map(|(id, _)| *id).collect();
        gone.into_iter().for_each(|id| self.forget_zone(id));
        for zone in self.zones.values_mut() {
            zone.valve = zone.valve.filter(|valve| !components.contains(valve));
        }
    }

    /// Takes a zone away, from the scenarios too.
    pub(super) fn forget_zone(&mut self, id: ZoneId) {
        self.zones.remove(&id);
        for scenario in &mut self.scenarios {
            scenario.shut.remove(&id);
        }
    }
}

/// Components that are being taken away, each with the pipes that it still has.
struct Leaving {
    touching: BTreeMap<ComponentId, BTreeSet<PipeId>>,
}

impl Leaving {
    fn new(project: &Project, components: &BTreeSet<ComponentId>) -> Self {
        let mut touching: BTreeMap<ComponentId, BTreeSet<PipeId>> =
            components.iter().map(|id| (*id, BTreeSet::new())).collect();
        for (id, pipe) in &project.pipes {
            for end in [pipe.from, pipe.to] {
                if let Some(pipes) = touching.get_mut(&end.component) {
                    pipes.insert(*id);
                }
            }
        }
        Self { touching }
    }

    /// Goes once through all and carries out the fates asked for; whether there was any.
    fn pass(&mut self, project: &mut Project, wanted: fn(&Fate) -> bool) -> bool {
        let mut any = false;
        let all: Vec<ComponentId> = self.touching.keys().copied().collect();
        for id in all {
            let fate = self.fate(project, id);
            if !wanted(&fate) {
                continue;
            }
            any = true;
            match fate {
                Fate::Heals(into, out) => self.heal(project, id, into, out),
                Fate::Goes | Fate::Waits => self.go(project, id),
            }
        }
        any
    }

    /// Takes one away that could not heal.
    fn pass_any(&mut self, project: &mut Project) {
        if let Some(id) = self.touching.keys().next().copied() {
            self.go(project, id);
        }
    }

    fn fate(&self, project: &Project, id: ComponentId) -> Fate {
        let (Some(component), Some(pipes)) = (project.components.get(&id), self.touching.get(&id)) else {
            return Fate::Goes;
        };
        if !heals(&component.kind) {
            return Fate::Goes;
        }
        let ends = |port: Port| -> Vec<PipeId> {
            let port = PortRef { component: id, port };
            let at = |pipe: &&PipeId| project.pipes.get(pipe).is_some_and(|run| run.from == port || run.to == port);
            pipes.iter().filter(at).copied().collect()
        };
        if component.kind == ComponentKind::Junction {
            let runs_in = |pipe: PipeId| project.pipes.get(&pipe).is_some_and(|run| run.to.component == id);
            return match ends(Port::Branch)[..] {
                [] | [_] => Fate::Goes,
                [a, b] if runs_in(a) || !runs_in(b) => Fate::Heals(a, b),
                [a, b] => Fate::Heals(b, a),
                _ => Fate::Waits,
            };
        }
        match (&ends(Port::Inlet)[..], &ends(Port::Outlet)[..]) {
            ([], _) | (_, []) => Fate::Goes,
            // A pipe from its outlet to its inlet holds nothing else.
            ([a], [b]) if a == b => Fate::Goes,
            ([a], [b]) => Fate::Heals(*a, *b),
            _ => Fate::Waits,
        }
    }

    /// Takes a component away with its pipes.
    fn go(&mut self, project: &mut Project, id: ComponentId) {
        for pipe in self.touching.remove(&id).unwrap_or_default() {
            self.take_pipe(project, pipe);
        }
        project.components.remove(&id);
    }

    fn take_pipe(&mut self, project: &mut Project, id: PipeId) {
        if let Some(pipe) = project.pipes.remove(&id) {
            for end in [pipe.from, pipe.to] {
                if let Some(pipes) = self.touching.get_mut(&end.component) {
                    pipes.remove(&id);
                }
            }
        }
    }

    /// Takes a component away and makes one pipe of two, under the identity of the first.
    fn heal(&mut self, project: &mut Project, id: ComponentId, into: PipeId, out: PipeId) {
        let healed = project.healed(id, into, out);
        self.touching.remove(&id);
        self.take_pipe(project, into);
        self.take_pipe(project, out);
        project.components.remove(&id);
        // A pipe from a port to itself joins nothing.
        let Some(pipe) = healed.filter(|pipe| pipe.from != pipe.to) else { return };
        for end in [pipe.from, pipe.to] {
            if let Some(pipes) = self.touching.get_mut(&end.component) {
                pipes.insert(into);
            }
        }
        project.pipes.insert(into, pipe);
    }
}
