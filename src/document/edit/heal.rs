//! Healing: one pipe out of the two on either side of a component.

use super::course::{Place, course, tidied};
use crate::document::{ComponentId, Fitting, PipeId, PipeRun, Project};

/// A pipe as it runs through a place where a component was.
struct Side {
    run: PipeRun,
    course: Vec<Place>,
    /// Whether it runs from the first side to the second.
    is_along: bool,
}

impl Project {
    /// The pipe that two pipes at a component make when it goes. Lengths, fittings and loss coefficients are summed; size and
    /// roughness are those of the longer one, and so is the name if both have one; loss coefficients of the other are turned into
    /// those that take the same pressure there. Of a fitting that there is not on that size the loss coefficient is kept. It runs as the two did, and as the longer one where they ran against each other.
    pub(super) fn healed(&self, through: ComponentId, into: PipeId, out: PipeId) -> Option<PipeRun> {
        let first = self.side(into, |pipe| pipe.to.component == through)?;
        let second = self.side(out, |pipe| pipe.from.component == through)?;
        let from = if first.is_along { first.run.from } else { first.run.to };
        let to = if second.is_along { second.run.to } else { second.run.from };
        let places: Vec<Place> = first.course.iter().chain(&second.course).copied().collect();
        let mut bends = super::course::corners(&tidied(&places));
        let rank = |side: &Side| (!side.run.is_joint(), side.run.length);
        let (longer, other) = if rank(&second) > rank(&first) { (&second, &first) } else { (&first, &second) };
        let bore = longer.run.bore;
        let (fitting, foreign): (Vec<Fitting>, Vec<Fitting>) =
            other.run.fittings.iter().partition(|fitting| fitting.k(bore).is_ok());
        let foreign_k: f64 = foreign.iter().filter_map(|fitting| fitting.k(other.run.bore).ok()).sum();
        // The same pressure at the other bore's velocity: K goes with its fourth power (continuity).
        let turned = if bore > 0.0 && other.run.bore > 0.0 { (bore / other.run.bore).powi(4) } else { 1.0 };
        let minor_k = longer.run.minor_k + turned * (other.run.minor_k + foreign_k);
        let name = if longer.run.name.is_empty() { &other.run.name } else { &longer.run.name };
        let (mut from, mut to) = (from, to);
        if !longer.is_along {
            std::mem::swap(&mut from, &mut to);
            bends.reverse();
        }
        Some(PipeRun {
            name: name.clone(),
            from,
            to,
            length: first.run.length + second.run.length,
            size: longer.run.size,
            bore,
            roughness: longer.run.roughness,
            fittings: longer.run.fittings.iter().copied().chain(fitting).collect(),
            minor_k,
            bends,
        })
    }

    /// A pipe with its course in the direction from the first side to the second.
    fn side(&self, id: PipeId, is_along: impl Fn(&PipeRun) -> bool) -> Option<Side> {
        let run = self.pipes.get(&id)?.clone();
        let is_along = is_along(&run);
        let mut course = course(self, &run);
        if !is_along {
            course.reverse();
        }
        Some(Side { run, course, is_along })
    }
}
