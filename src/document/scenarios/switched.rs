//! The zones of a project as load states see them: which can be shut, and what each takes at design.

use crate::document::{Project, Scenario, ZoneId};
use std::collections::BTreeSet;

/// A zone that its valve can shut.
#[derive(Debug)]
pub(super) struct Switched<'a> {
    pub id: ZoneId,
    pub name: &'a str,
    /// Design flow, m³/s.
    pub flow: f64,
}

/// All zones of a project.
#[derive(Debug)]
pub(super) struct Zones<'a> {
    /// Those that can be shut, by identity.
    pub switched: Vec<Switched<'a>>,
    /// Flow of those that are always open, m³/s.
    pub always: f64,
    /// Whether there is any that is always open.
    pub has_always: bool,
}

impl<'a> Zones<'a> {
    /// Those of a project.
    ///
    /// # Errors
    /// A project in which nothing can be shut, or whose fluid has no properties at design.
    pub fn of(project: &'a Project) -> Result<Self, String> {
        let water = project.design.properties(&project.fluid).map_err(|flaw| format!("the design flows: {flaw}"))?;
        let mut zones = Self { switched: Vec::new(), always: 0.0, has_always: false };
        for (id, zone) in &project.zones {
            let flow = project.design.flow(zone, &water);
            if zone.valve.is_some() {
                zones.switched.push(Switched { id: *id, name: &zone.name, flow });
            } else {
                zones.has_always = true;
                zones.always += flow;
            }
        }
        if zones.switched.is_empty() {
            return Err("no zone has a valve that shuts it, so all states are one and the same: give zones a zone \
                        valve on the drawing and name it in their figures"
                .to_owned());
        }
        Ok(zones)
    }

    /// Flow of all zones together, m³/s.
    pub fn total(&self) -> f64 {
        self.always + self.switched.iter().map(|zone| zone.flow).sum::<f64>()
    }

    /// Share of the flow of all zones that flows with some of those open that can be shut.
    pub fn reached(&self, open: &[usize]) -> f64 {
        (self.always + open.iter().filter_map(|index| self.switched.get(*index)).map(|zone| zone.flow).sum::<f64>())
            / self.total()
    }

    /// The state in which only those of a list are open.
    pub fn state(&self, name: String, hours_per_year: f64, open: &[usize]) -> Scenario {
        let shut: BTreeSet<ZoneId> = (self.switched.iter().enumerate())
            .filter(|(index, _)| !open.contains(index))
            .map(|(_, zone)| zone.id)
            .collect();
        Scenario { name, hours_per_year, shut, outdoor_c: None }
    }
}
