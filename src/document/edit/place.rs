//! Moving and turning components: pipes follow.

use super::course::Place;
use super::follow::Shift;
use super::route::Stop;
use super::{DRAWING, STRUCTURE, refused};
use crate::document::{Changed, CommandError, Component, ComponentId, PipeId, Port, PortRef, Project, Turn};
use std::collections::BTreeMap;

impl Project {
    /// Moves components; those that stay where they are count as not moved.
    pub(super) fn move_components(&mut self, places: &BTreeMap<ComponentId, Place>) -> Result<Changed, CommandError> {
        let mut moved = BTreeMap::new();
        for (id, at) in places {
            let component = self.components.get(id).ok_or(CommandError::Missing("component"))?;
            if !(at[0].is_finite() && at[1].is_finite()) {
                return Err(refused(format!("{}: the position is not a number: give two numbers", component.name)));
            }
            if component.at != *at {
                moved.insert(*id, Component { at: *at, ..component.clone() });
            }
        }
        Ok(self.put_in_place(moved))
    }

    /// Turns a component.
    pub(super) fn set_turn(&mut self, id: ComponentId, turn: Turn) -> Result<Changed, CommandError> {
        let component = self.components.get(&id).ok_or(CommandError::Missing("component"))?;
        if component.turn == turn {
            return Ok(Changed::default());
        }
        let turned = Component { turn, ..component.clone() };
        Ok(self.put_in_place(BTreeMap::from([(id, turned)])))
    }

    /// Turns a component with inlet and outlet round in its run: the pipes stay where they lie and change its ends.
    pub(super) fn turn_round(&mut self, id: ComponentId) -> Result<Changed, CommandError> {
        let component = self.components.get_mut(&id).ok_or(CommandError::Missing("component"))?;
        if component.ports() != [Port::Inlet, Port::Outlet] {
            return Err(refused(format!("{} has no inlet and outlet to change: turn it instead", component.name)));
        }
        component.turn = component.turn.next().next();
        let other = |port: Port| if port == Port::Inlet { Port::Outlet } else { Port::Inlet };
        for pipe in self.pipes.values_mut() {
            for end in [&mut pipe.from, &mut pipe.to] {
                if end.component == id {
                    end.port = other(end.port);
                }
            }
        }
        Ok(STRUCTURE)
    }

    /// Puts components in the place of those of their identity and lets their pipes follow.
    pub(super) fn put_in_place(&mut self, moved: BTreeMap<ComponentId, Component>) -> Changed {
        if moved.is_empty() {
            return Changed::default();
        }
        for (id, bends) in self.bends_after(&moved) {
            if let Some(pipe) = self.pipes.get_mut(&id) {
                pipe.bends = bends;
            }
        }
        self.components.extend(moved);
        DRAWING
    }

    /// The corners of all pipes that lie at moved components.
    fn bends_after(&self, moved: &BTreeMap<ComponentId, Component>) -> Vec<(PipeId, Vec<Place>)> {
        let before = |end: PortRef| Stop::of(self.components.get(&end.component)?, end.port);
        let after = |end: PortRef| {
            Stop::of(moved.get(&end.component).or_else(|| self.components.get(&end.component))?, end.port)
        };
        let touched = self
            .pipes
            .iter()
            .filter(|(_, pipe)| moved.contains_key(&pipe.from.component) || moved.contains_key(&pipe.to.component));
        touched
            .filter_map(|(id, pipe)| {
                let shift = Shift {
                    before: [before(pipe.from)?, before(pipe.to)?],
                    after: [after(pipe.from)?, after(pipe.to)?],
                };
                Some((*id, shift.apply(&pipe.bends)))
            })
            .collect()
    }
}
