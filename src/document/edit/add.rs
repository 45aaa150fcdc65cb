//! Adding components: on the sheet, and into a pipe.

use super::course::{course, nearest_share};
use super::names::taken;
use super::part::{THROUGH, checked_share, gap};
use super::{STRUCTURE, branch, full, refused};
use crate::document::{
    Changed, CommandError, Component, ComponentId, ComponentKind, PipeId, PipeRun, Port, PortRef, Project, Turn, ZoneId,
};

/// How far beside a pipe a component may be asked for and still lie on it, grid steps.
const ON_PIPE: f64 = 1.0;
/// How far from a pipe a component with one port hangs, grid steps.
const HANGS: f64 = 3.0;

impl Project {
    /// Puts a component on the sheet; an emitter comes with its zone.
    pub(super) fn add_component(&mut self, component: &Component) -> Result<Changed, CommandError> {
        self.put_on_sheet(component.clone())?;
        Ok(STRUCTURE)
    }

    /// Puts a component on the sheet under a new identity, an emitter with a zone of usual figures.
    pub(super) fn put_on_sheet(&mut self, component: Component) -> Result<ComponentId, CommandError> {
        if self.component_named(&component.name).is_some() {
            return Err(taken(&component.name, "component"));
        }
        let last = self.components.keys().next_back().map_or(0, |id| id.0);
        let id = ComponentId(last.checked_add(1).ok_or_else(full)?);
        let is_emitter = matches!(component.kind, ComponentKind::Emitter(_));
        self.components.insert(id, component);
        if is_emitter {
            let zone = self.new_zone_id()?;
            self.zones.insert(zone, self.usual_zone(id));
        }
        Ok(id)
    }

    /// The identity of a new zone: one more than the greatest there is.
    pub(super) fn new_zone_id(&self) -> Result<ZoneId, CommandError> {
        let last = self.zones.keys().next_back().map_or(0, |id| id.0);
        last.checked_add(1).map(ZoneId).ok_or_else(full)
    }

    /// Parts a pipe and puts a component between the parts: one with inlet and outlet along it, a tee at the place, and a vessel
    /// beside it on a tee. Where the component asks for a place on the pipe, or a step beside it, it is drawn there; length goes by
    /// the share all the same.
    pub(super) fn insert_into_pipe(
        &mut self,
        id: PipeId,
        share: f64,
        component: &Component,
    ) -> Result<Changed, CommandError> {
        let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let share = checked_share(share)?;
        let places = course(self, pipe);
        let asked = nearest_share(&places, component.at).filter(|(_, far)| *far <= ON_PIPE);
        let drawn_share = asked.map_or(share, |(share, _)| share);
        let ports = component.ports();
        let is_through = ports.contains(&Port::Inlet) && ports.contains(&Port::Outlet);
        match (&component.kind, ports) {
            (ComponentKind::Junction, _) => {
                let gap = gap(&places, drawn_share, super::part::TEE).ok_or(CommandError::Missing("pipe"))?;
                let tee = branch(self.put_on_sheet(Component { at: gap.at, ..component.clone() })?);
                self.part(id, share, &gap, [tee, tee])?;
            }
            (ComponentKind::Separator { .. }, _) => {
                return Err(refused(format!(
                    "{} joins two circuits and does not fit into one pipe: put it beside the pipes and join its four ports",
                    component.name
                )));
            }
            _ if is_through => {
                let gap = gap(&places, drawn_share, THROUGH).ok_or(CommandError::Missing("pipe"))?;
                let new = self.put_on_sheet(Component { at: gap.at, turn: gap.turn, ..component.clone() })?;
                let port = |port| PortRef { component: new, port };
                self.part(id, share, &gap, [port(Port::Inlet), port(Port::Outlet)])?;
            }
            (_, [only]) => self.hang_on_pipe(id, share, drawn_share, component, *only, asked.is_some())?,
            _ => {
                return Err(refused(format!(
                    "{} does not fit into one pipe: put it beside the pipes and join its ports",
                    component.name
                )));
            }
        }
        Ok(STRUCTURE)
    }

    /// Puts a tee into a pipe and hangs a component with one port on it by a bare joint.
    fn hang_on_pipe(
        &mut self,
        id: PipeId,
        share: f64,
        drawn_share: f64,
        component: &Component,
        port: Port,
        is_on_pipe: bool,
    ) -> Result<(), CommandError> {
        let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let gap = gap(&course(self, pipe), drawn_share, super::part::TEE).ok_or(CommandError::Missing("pipe"))?;
        let tee_kind = ComponentKind::Junction;
        let name = self.new_component_name(&tee_kind);
        let tee = self.put_on_sheet(Component::new(name, gap.at, Turn::Right, tee_kind))?;
        self.part(id, share, &gap, [branch(tee), branch(tee)])?;
        let mut hung = component.clone();
        if is_on_pipe {
            // Above a level pipe, to the right of an upright one.
            let is_level = matches!(gap.turn, Turn::Right | Turn::Left);
            let offset = if is_level { [0.0, -HANGS] } else { [HANGS, -1.0] };
            hung.at = [gap.at[0] + offset[0], gap.at[1] + offset[1]];
        }
        let hung = self.put_on_sheet(hung)?;
        let mut joint = PipeRun::joint(branch(tee), PortRef { component: hung, port });
        joint.bends = self.routed(joint.from, joint.to);
        let joint_id = self.new_pipe_id()?;
        self.pipes.insert(joint_id, joint);
        Ok(())
    }
}
