//! Joining two ends by a new pipe.
//!
//! A port that carries a pipe already keeps it: a tee is put into that pipe one grid step off the port (halfway where it is
//! shorter than two), or the tee that ends it so near is taken. A new pipe has bore and roughness of a pipe beside it, and half a
//! metre a drawn grid step, to the half metre; where the ends touch it is a bare joint. These are figures to start from: a
//! drawing has no scale.

use super::course::{Place, corners, course, distance, drawn_length, is_same, spot, tidied};
use super::follow::is_proper;
use super::route::{Stop, heading, route};
use super::{PipeEnd, STRUCTURE, branch, refused};
use crate::document::{
    Changed, CommandError, Component, ComponentId, ComponentKind, PipeId, PipeRun, PortRef, Project, SizeOnSale, Turn,
};

/// Most pipes at a tee.
const MOST_AT_TEE: usize = 4;
/// Length of a drawn grid step, m, and to what it is rounded, m (our own choice).
const METRES_PER_STEP: f64 = 0.5;
const ROUNDED_TO: f64 = 0.5;
/// How near to a tee a place on a pipe is that tee, grid steps.
const AT_TEE: f64 = 0.5;
/// How far off a port that is taken the new tee comes, grid steps.
const OFF_PORT: f64 = 1.0;

impl Project {
    /// Joins two ends by a pipe with corners between them; without corners it is routed.
    pub(super) fn connect(&mut self, from: PipeEnd, to: PipeEnd, bends: &[Place]) -> Result<Changed, CommandError> {
        let one_place = || refused("the pipe would begin and end at one place: choose two different ends".to_owned());
        if from == to {
            return Err(one_place());
        }
        let asked = [self.place_of(from)?, self.place_of(to)?];
        let ends = self.on_pipes([from, to])?;
        let from = self.free_end(ends[0])?;
        let to = self.free_end(ends[1])?;
        if from == to {
            return Err(one_place());
        }
        let stops = [self.stop(from)?, self.stop(to)?];
        let shaped = || {
            let course: Vec<Place> = [stops[0].at].iter().chain(bends).chain([&stops[1].at]).copied().collect();
            let course = tidied(&course);
            // Corners that were drawn for other ends may not fit these.
            let is_moved = (0..2).any(|end| !is_same(asked[end], stops[end].at));
            (!bends.is_empty() && (!is_moved || is_proper(&course, &stops[0], &stops[1]))).then(|| corners(&course))
        };
        let bends = shaped().unwrap_or_else(|| self.routed(from, to));
        let course: Vec<Place> = [stops[0].at].iter().chain(&bends).chain([&stops[1].at]).copied().collect();
        let (size, bore, roughness) =
            self.size_beside(from).or_else(|| self.size_beside(to)).unwrap_or_else(usual_size);
        let length = (METRES_PER_STEP * drawn_length(&course) / ROUNDED_TO).round() * ROUNDED_TO;
        let id = self.new_pipe_id()?;
        let pipe = PipeRun { size, bends, ..PipeRun::straight(from, to, length, bore, roughness) };
        self.pipes.insert(id, pipe);
        Ok(STRUCTURE)
    }

    /// The way between two ports; at tees it leaves where no other pipe does, as long as there is such a side.
    pub(super) fn routed(&self, from: PortRef, to: PortRef) -> Vec<Place> {
        let (Ok(mut from_stop), Ok(mut to_stop)) = (self.stop(from), self.stop(to)) else { return Vec::new() };
        self.leave_free(from, &mut from_stop);
        self.leave_free(to, &mut to_stop);
        route(&from_stop, &to_stop)
    }

    /// Leaves a tee only the sides where no pipe leaves it yet.
    fn leave_free(&self, port: PortRef, stop: &mut Stop) {
        if stop.only_way().is_some() {
            return;
        }
        let mut free = stop.ways;
        for id in self.pipes_at(port) {
            let Some(pipe) = self.pipes.get(&id) else { continue };
            let mut course = tidied(&course(self, pipe));
            if pipe.from != port {
                course.reverse();
            }
            if let [first, second, ..] = course[..]
                && !is_same(first, second)
            {
                free[heading(first, second)] = false;
            }
        }
        if free.contains(&true) {
            stop.ways = free;
        }
    }

    fn stop(&self, port: PortRef) -> Result<Stop, CommandError> {
        let component = self.components.get(&port.component).ok_or(CommandError::Missing("component"))?;
        Stop::of(component, port.port)
            .ok_or_else(|| refused(format!("{} has no such port: choose one of its ports", component.name)))
    }

    /// The pipes at a port.
    pub(super) fn pipes_at(&self, port: PortRef) -> Vec<PipeId> {
        self.pipes.iter().filter(|(_, pipe)| pipe.from == port || pipe.to == port).map(|(id, _)| *id).collect()
    }

    /// Where a person put an end.
    fn place_of(&self, end: PipeEnd) -> Result<Place, CommandError> {
        match end {
            PipeEnd::Port(port) => self.stop(port).map(|stop| stop.at),
            PipeEnd::OnPipe(id, share) => {
                let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
                Ok(spot(&course(self, pipe), super::part::checked_share(share)?))
            }
            PipeEnd::Sheet(at) if at[0].is_finite() && at[1].is_finite() => Ok(at),
            PipeEnd::Sheet(_) => Err(refused("an end of the pipe is nowhere: choose a place on the sheet".to_owned())),
        }
    }

    /// Puts tees where ends lie on pipes; two on one pipe part it from behind, so that the share of the other stays true.
    fn on_pipes(&mut self, mut ends: [PipeEnd; 2]) -> Result<[PipeEnd; 2], CommandError> {
        let mut order = [0, 1];
        if let [PipeEnd::OnPipe(a, first), PipeEnd::OnPipe(b, second)] = ends
            && a == b
        {
            let (later, sooner) = if first > second { (0, 1) } else { (1, 0) };
            order = [later, sooner];
            if let (PipeEnd::OnPipe(_, last), PipeEnd::OnPipe(_, share)) = (ends[later], &mut ends[sooner])
                && last > 0.0
            {
                // What is left before the later tee is shorter. A later end at a tee that is there parts nothing.
                if self.tee_near(a, last).is_none() {
                    *share /= last;
                }
            }
        }
        for index in order {
            if let PipeEnd::OnPipe(id, share) = ends[index] {
                ends[index] = PipeEnd::Port(self.tee_on_pipe(id, share)?);
            }
        }
        Ok(ends)
    }

    /// The tee at an end of a pipe, if a place on the pipe lies as near as that.
    fn tee_near(&self, id: PipeId, share: f64) -> Option<PortRef> {
        let pipe = self.pipes.get(&id)?;
        let at = spot(&course(self, pipe), share);
        [pipe.from, pipe.to].into_iter().find(|end| {
            let component = self.components.get(&end.component);
            component.is_some_and(|c| c.kind == ComponentKind::Junction && distance(c.at, at) <= AT_TEE)
        })
    }

    fn tee_on_pipe(&mut self, id: PipeId, share: f64) -> Result<PortRef, CommandError> {
        match self.tee_near(id, share) {
            Some(tee) => Ok(tee),
            None => self.new_tee_into(id, share),
        }
    }

    fn new_tee_into(&mut self, id: PipeId, share: f64) -> Result<PortRef, CommandError> {
        let tee = self.new_tee([0.0, 0.0]);
        self.tee_into(id, share, tee).map(|(tee, _)| branch(tee))
    }

    pub(super) fn new_tee(&self, at: Place) -> Component {
        let kind = ComponentKind::Junction;
        Component::new(self.new_component_name(&kind), at, Turn::Right, kind)
    }

    /// A port where a pipe can be joined: the asked one, or a tee beside it where a pipe is joined already.
    fn free_end(&mut self, end: PipeEnd) -> Result<PortRef, CommandError> {
        let port = match end {
            PipeEnd::Sheet(at) => return self.put_on_sheet(self.new_tee(at)).map(branch),
            PipeEnd::OnPipe(id, share) => self.tee_on_pipe(id, share)?,
            PipeEnd::Port(port) => port,
        };
        let there = self.pipes_at(port);
        let (Some(component), Some(first)) = (self.components.get(&port.component), there.first().copied()) else {
            return Ok(port);
        };
        if component.kind == ComponentKind::Junction {
            if there.len() < MOST_AT_TEE {
                return Ok(port);
            }
            return Err(refused(format!(
                "{} joins {MOST_AT_TEE} pipes already: end the new pipe on one of them, beside the tee",
                component.name
            )));
        }
        self.tee_off_port(port, first)
    }

    /// A tee on a pipe near one of its ends.
    fn tee_off_port(&mut self, port: PortRef, id: PipeId) -> Result<PortRef, CommandError> {
        let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let (is_start, other) = if pipe.from == port { (true, pipe.to) } else { (false, pipe.from) };
        let drawn = drawn_length(&course(self, pipe));
        let is_tee = self.components.get(&other.component).is_some_and(|c| c.kind == ComponentKind::Junction);
        if is_tee && drawn <= 2.0 * OFF_PORT && self.pipes_at(other).len() < MOST_AT_TEE {
            return Ok(other);
        }
        let off = if drawn > 2.0 * OFF_PORT { OFF_PORT / drawn } else { 0.5 };
        self.new_tee_into(id, if is_start { off } else { 1.0 - off })
    }

    /// Bore and roughness of a pipe beside a port: at the port, or at another port of its component.
    fn size_beside(&self, port: PortRef) -> Option<Size> {
        let at = |id: ComponentId| move |pipe: &&PipeRun| pipe.from.component == id || pipe.to.component == id;
        let is_sized = |pipe: &&PipeRun| !pipe.is_joint() && pipe.bore > 0.0;
        let beside = self.pipes.values().filter(at(port.component)).filter(is_sized);
        beside.map(|pipe| (pipe.size, pipe.bore, pipe.roughness)).next()
    }
}

/// Size on sale, bore (m) and roughness (m) of a pipe.
type Size = (Option<SizeOnSale>, f64, f64);

/// The size where no pipe is near: steel DN 20.
fn usual_size() -> Size {
    /// Of steel 3/4 inch schedule 40, m, should the catalogue lose it (ASME B36.10M).
    const STEEL: (f64, f64) = (20.96e-3, 45e-6);
    match SizeOnSale::find("steel-40", "3/4") {
        Ok(size) => (Some(size), size.bore(), size.series().roughness_m),
        Err(_) => (None, STEEL.0, STEEL.1),
    }
}
