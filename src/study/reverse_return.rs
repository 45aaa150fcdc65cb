//! Reverse return: a direct-return system whose return main goes on to the last zone before it comes back, so that every zone's way is
//! about as long.

use super::sizing::design_flows;
use super::{LinkOwner, Study, path_of};
use crate::document::{ComponentId, ComponentKind, PipeId, PipeRun, PortRef, Project};

/// Share of a main's flow above which a pipe carries as much: rounding.
const SAME: f64 = 1e-6;

/// The system with its return reversed: what joined the nearest return tee to the plant begins at the farthest instead, longer by
/// the way along the return main, which is as wide all along as at its widest. `None` where the return is not one row of tees
/// behind one pipe.
#[must_use]
pub fn reverse_return(project: &Project) -> Option<Project> {
    let design = design_flows(project).ok()?;
    let study = Study::new(&design.project).ok()?;
    // The way back from the zone with most return tees on it holds the whole row.
    let is_tee = |id: &ComponentId| {
        project.components.get(id).is_some_and(|component| component.kind == ComponentKind::Junction)
    };
    let mut row: Vec<(PipeId, ComponentId, ComponentId)> = Vec::new();
    for zone in project.zones.keys() {
        let path = path_of(&design.project, &study, *zone);
        let mut mains: Vec<(PipeId, ComponentId, ComponentId)> = Vec::new();
        for id in &path.pipes {
            let pipe = project.pipes.get(id)?;
            let node = study.lowered().nodes.get(&pipe.from)?;
            let flow = design.of(LinkOwner::Pipe(*id));
            let (from, to) = if flow >= 0.0 { (pipe.from, pipe.to) } else { (pipe.to, pipe.from) };
            if !study.is_supply(*node) && is_tee(&from.component) && is_tee(&to.component) && flow != 0.0 {
                mains.push((*id, from.component, to.component));
            }
        }
        if mains.len() > row.len() {
            row = mains;
        }
    }
    if row.is_empty() {
        return None;
    }
    // One end of the row receives and does not give, the other gives and does not receive.
    let gives = |tee: ComponentId| row.iter().any(|(_, from, _)| *from == tee);
    let receives = |tee: ComponentId| row.iter().any(|(_, _, to)| *to == tee);
    let nearest = row.iter().map(|(_, _, to)| *to).find(|tee| !gives(*tee))?;
    let farthest = row.iter().map(|(_, from, _)| *from).find(|tee| !receives(*tee))?;
    let whole = design.pump.abs();
    let carries_all = |id: &PipeId| (design.of(LinkOwner::Pipe(*id)).abs() - whole).abs() <= SAME * whole;
    let joins = |pipe: &PipeRun| pipe.from.component == nearest || pipe.to.component == nearest;
    let (out, _) = project.pipes.iter().find(|(id, pipe)| joins(pipe) && carries_all(id))?;
    let mut system = project.clone();
    let along: f64 = row.iter().filter_map(|(id, ..)| project.pipes.get(id)).map(|pipe| pipe.length).sum();
    let widest = row.iter().filter_map(|(id, ..)| project.pipes.get(id)).chain(project.pipes.get(out));
    let widest = widest.max_by(|a, b| a.bore.total_cmp(&b.bore))?.clone();
    for (id, ..) in &row {
        let pipe = system.pipes.get_mut(id)?;
        pipe.rebore(widest.bore, widest.size);
    }
    let pipe = system.pipes.get_mut(out)?;
    let moved = |end: PortRef| if end.component == nearest { PortRef { component: farthest, ..end } } else { end };
    (pipe.from, pipe.to) = (moved(pipe.from), moved(pipe.to));
    pipe.length += along;
    pipe.rebore(widest.bore, widest.size);
    pipe.bends.clear();
    Some(system)
}
