//! Find the fault: one of several faults is put into a hidden copy of the system; only its circulator's readings tell of it.

use super::chance::Chance;
use super::template::Template;
use crate::document::{Component, ComponentId, ComponentKind, Project, ZoneId};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::{Quantity, Units};
use crate::study::Study;

/// A puzzle: which of the suspects it is, is for the seed to say.
#[derive(Clone, Debug)]
pub struct FaultPuzzle {
    /// Where the chance begins; a course may go on to others.
    pub seed: u64,
    /// What may be wrong, at least two.
    pub suspects: Vec<Fault>,
    /// What is asked.
    pub question: Template,
    /// What is to be remembered, told at the end; may be empty.
    pub because: Template,
}

/// Something that may be wrong with a system.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Nothing is wrong.
    Nothing,
    /// A strainer that holds dirt: it keeps such a share of its Kv.
    FouledStrainer(ComponentId, f64),
    /// Air or dirt in a zone's emitter: it keeps such a share of its Kv.
    BlockedEmitter(ZoneId, f64),
    /// A balancing valve at such a share of its Kv.
    WrongPresetting(ComponentId, f64),
    /// A zone valve that still lets through such a share of its Kv when it is shut.
    LeakingValve(ZoneId, f64),
    /// A zone valve that opens to such a share of its Kv only.
    StuckValve(ZoneId, f64),
    /// A speed cap in the device below that on the sheet, a fraction of full speed.
    LowCap(ComponentId, f64),
    /// A worn circulator that gives such a share of its head at every flow and speed, for the same power; its set-line stays.
    WornPump(ComponentId, f64),
}

/// What a circulator's display shows: rounded, and its flow estimated, not measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Readings {
    /// Estimated flow, m³/s.
    pub flow: f64,
    /// Head, m.
    pub head: f64,
    /// Electric power, W.
    pub power_w: f64,
    /// Speed, revolutions per minute.
    pub speed_rpm: f64,
}

/// One test of the system: a state of the valves, what the drawing makes the circulator do there, and what it really does.
#[derive(Clone, Debug, PartialEq)]
pub struct Test {
    /// Which state.
    pub name: String,
    /// Flow, m³/s, and head, m, by the drawing.
    pub model: [f64; 2],
    /// The same as the device shows them.
    pub device: [f64; 2],
}

impl FaultPuzzle {
    /// Which suspect a seed chooses.
    #[must_use]
    pub fn culprit(&self, seed: u64) -> usize {
        Chance::new(seed).below(self.suspects.len())
    }

    /// The next seed that chooses another suspect.
    #[must_use]
    pub fn another(&self, seed: u64) -> u64 {
        /// Seeds tried: of that many, one chooses another suspect unless all are one.
        const TRIES: u64 = 1000;
        let now = self.culprit(seed);
        let next = (1..TRIES).map(|more| seed.wrapping_add(more)).find(|seed| self.culprit(*seed) != now);
        next.unwrap_or(seed.wrapping_add(1))
    }

    /// The faulty copy of a system: its settings and valves stand as in the system itself.
    fn hidden(&self, seed: u64, project: &Project) -> Project {
        let mut hidden = project.clone();
        if let Some(fault) = self.suspects.get(self.culprit(seed)) {
            fault.put_into(&mut hidden);
        }
        hidden
    }

    /// What a circulator's display shows in the faulty system, with settings and valves as they stand in the project.
    ///
    /// # Errors
    /// A system that cannot be studied, as a sentence.
    pub fn readings(&self, seed: u64, project: &Project, pump: ComponentId) -> Result<Readings, String> {
        let study = Study::new(&self.hidden(seed, project)).map_err(|flaw| flaw.to_string())?;
        let result = study.results().pumps.get(&pump).ok_or("there is no such circulator")?;
        // A tenth of a m³/h for a large circulator, a fiftieth for a small one; the flow is estimated to within 3 % (common
        // practice, no source).
        let run_out = study.curves(pump).map_or(0.0, |curves| curves.frame[0]);
        let step = if run_out * 3600.0 > 8.0 { 0.1 } else { 0.02 } / 3600.0;
        let off = 1.0 + 0.03 * Chance::new(seed ^ 0x5eed).around();
        let rounded = |value: f64, step: f64| (value / step).round() * step;
        Ok(Readings {
            flow: rounded(result.flow * off, step),
            head: rounded(result.head, 0.05),
            power_w: rounded(result.electric_w, 1.0),
            speed_rpm: rounded(result.speed_rpm, 10.0),
        })
    }

    /// What the tests show that a learner can make: all zones open, each alone, none.
    ///
    /// # Errors
    /// A system that cannot be studied, as a sentence.
    pub fn tests(&self, seed: u64, project: &Project, pump: ComponentId) -> Result<Vec<Test>, String> {
        let movable: Vec<ZoneId> = project.zones.iter().filter(|(_, z)| z.valve.is_some()).map(|(id, _)| *id).collect();
        let alone = movable.iter().map(|id| (project.zones[id].name.clone() + " alone", vec![*id]));
        let states = std::iter::once(("all zones open".to_owned(), movable.clone()))
            .chain(alone.collect::<Vec<_>>())
            .chain([("all zones shut".to_owned(), Vec::new())]);
        let test = |(name, open): (String, Vec<ZoneId>)| {
            let mut state = project.clone();
            for id in &movable {
                if let Some(valve) = state.zones[id].valve {
                    let command = crate::document::Command::SetOpen(valve, open.contains(id));
                    state.apply(&command).map_err(|flaw| flaw.to_string())?;
                }
            }
            let study = Study::new(&state).map_err(|flaw| flaw.to_string())?;
            let model = study.results().pumps.get(&pump).ok_or("there is no such circulator")?;
            let device = self.readings(seed, &state, pump)?;
            Ok(Test { name, model: [model.flow, model.head], device: [device.flow, device.head] })
        };
        states.map(test).collect()
    }

    /// What the tests would show if a suspect were to blame (as `model`), beside what they show.
    ///
    /// # Errors
    /// A system that cannot be studied, as a sentence.
    pub fn against(
        &self,
        suspect: usize,
        seed: u64,
        project: &Project,
        pump: ComponentId,
    ) -> Result<Vec<Test>, String> {
        let fault = self.suspects.get(suspect).cloned().unwrap_or(Fault::Nothing);
        let supposed = Self { suspects: vec![fault], ..self.clone() }.tests(seed, project, pump)?;
        let real = self.tests(seed, project, pump)?;
        Ok(supposed.into_iter().zip(real).map(|(supposed, real)| Test { model: supposed.device, ..real }).collect())
    }

    /// Where the readings speak against a suspect, in a sentence.
    pub(super) fn rebuttal(against: &[Test], units: &Units) -> String {
        match telling(against) {
            Some(test) => format!(
                "If that were all, the device would show {} with {}; it shows {}.",
                point(test.model, units),
                test.name,
                point(test.device, units)
            ),
            None => {
                "With these settings it cannot be told from what is really so: set others, and test again.".to_owned()
            }
        }
    }

    /// What the tests show, in a sentence or two: where the readings part most from the model, and where they agree.
    pub(super) fn evidence(tests: &[Test], units: &Units) -> String {
        let Some(worst) = telling(tests) else {
            return "In every state the readings agree with the drawing, as nearly as an estimated flow can."
                .to_owned();
        };
        let told = format!(
            "With {} the device shows {}, where the drawing gives {}.",
            worst.name,
            point(worst.device, units),
            point(worst.model, units)
        );
        // Where nothing flows nothing can differ: that tells nothing.
        let flows = tests.iter().filter(|test| test.model[0] > 0.05 * greatest(tests, 0));
        let least = flows.min_by(|a, b| off(tests, a).total_cmp(&off(tests, b)));
        match least.filter(|test| off(tests, test) < TELLING) {
            Some(least) => format!("{told} With {} the two agree.", least.name),
            None => format!("{told} In no state do the two agree."),
        }
    }
}

/// How far a reading must lie from the model to tell anything: twice what an estimated flow may be off.
const TELLING: f64 = 0.06;

/// The greatest flow (axis 0) or head (axis 1) by the model.
fn greatest(tests: &[Test], axis: usize) -> f64 {
    tests.iter().map(|test| test.model[axis]).fold(1e-9, f64::max)
}

/// How far a reading lies from the model, as a share: of its own flow, for a small zone counts as much as a large one, and of the
/// greatest head.
fn off(tests: &[Test], test: &Test) -> f64 {
    let [flow, head] = [0, 1].map(|axis| (test.device[axis] - test.model[axis]).abs());
    (flow / test.model[0].max(0.1 * greatest(tests, 0))).hypot(head / greatest(tests, 1))
}

/// The test that tells most; `None` where none tells anything.
pub(super) fn telling(tests: &[Test]) -> Option<&Test> {
    let worst = tests.iter().max_by(|a, b| off(tests, a).total_cmp(&off(tests, b)));
    worst.filter(|test| off(tests, test) >= TELLING)
}

/// "1.98 m³/h at 4.9 m".
fn point([flow, head]: [f64; 2], units: &Units) -> String {
    format!("{} at {}", units.format(Quantity::Flow, flow), units.format(Quantity::Head, head))
}

impl Fault {
    /// Puts it into a system; one that lacks the part stays as it is.
    fn put_into(&self, project: &mut Project) {
        let valve = |project: &Project, zone: &ZoneId| project.zones.get(zone).and_then(|zone| zone.valve);
        match self {
            Self::Nothing => {}
            Self::FouledStrainer(id, share) => change(project, Some(*id), |kind| {
                if let ComponentKind::Strainer { kv, fouled_kv, fouling } = kind {
                    *kv *= share;
                    (*fouled_kv, *fouling) = (*kv, 0.0);
                }
            }),
            Self::BlockedEmitter(zone, share) => {
                let emitter = project.zones.get(zone).map(|zone| zone.emitter);
                change(project, emitter, |kind| {
                    if let ComponentKind::Emitter(emitter) = kind {
                        emitter.loss /= share * share;
                    }
                });
            }
            Self::WrongPresetting(id, share) => change(project, Some(*id), |kind| {
                if let ComponentKind::BalancingValve { kv } = kind {
                    *kv *= share;
                }
            }),
            Self::LeakingValve(zone, share) => change(project, valve(project, zone), |kind| {
                if let ComponentKind::ZoneValve { kv, open } = kind
                    && !*open
                {
                    (*kv, *open) = (*kv * share, true);
                }
            }),
            Self::StuckValve(zone, share) => change(project, valve(project, zone), |kind| {
                if let ComponentKind::ZoneValve { kv, .. } = kind {
                    *kv *= share;
                }
            }),
            Self::LowCap(id, cap) => change(project, Some(*id), |kind| {
                if let ComponentKind::Pump(unit) = kind {
                    let cap = cap.max(unit.regulation.minimum_speed);
                    unit.regulation.speed_cap = unit.regulation.speed_cap.min(cap);
                }
            }),
            Self::WornPump(id, share) => {
                // The device keeps the set-line that it was set to: it knows nothing of its wear.
                let sound = Study::new(project).ok();
                let reference = sound.and_then(|study| study.results().pumps.get(id)?.reference_flow);
                change(project, Some(*id), |kind| {
                    if let ComponentKind::Pump(unit) = kind {
                        unit.catalogue.iter_mut().for_each(|point| point.head *= share);
                        if let Some(flow) = reference {
                            unit.regulation.reference = ReferenceFlow::DesignFlow(flow);
                        }
                    }
                });
            }
        }
    }

    /// What it is, as it stands in the list of suspects.
    #[must_use]
    pub fn words(&self, project: &Project) -> String {
        let name = |id: &ComponentId| project.components.get(id).map_or("a part", |part| part.name.as_str());
        let zone = |id: &ZoneId| project.zones.get(id).map_or("a zone", |zone| zone.name.as_str());
        match self {
            Self::Nothing => "Nothing is wrong.".to_owned(),
            Self::FouledStrainer(id, _) => format!("{} is full of dirt.", name(id)),
            Self::BlockedEmitter(id, _) => format!("Air or dirt blocks the emitter of {}.", zone(id)),
            Self::WrongPresetting(id, share) if *share > 1.0 => format!("{} is set too far open.", name(id)),
            Self::WrongPresetting(id, _) => format!("{} is set too far shut.", name(id)),
            Self::LeakingValve(id, _) => format!("The valve of {} does not shut tight.", zone(id)),
            Self::StuckValve(id, _) => format!("The valve of {} does not open fully.", zone(id)),
            Self::LowCap(id, _) => format!("In {} a lower speed cap is set than on the sheet.", name(id)),
            Self::WornPump(id, _) => format!("{} is worn and gives less head than its curve.", name(id)),
        }
    }
}

fn change(project: &mut Project, id: Option<ComponentId>, with: impl FnOnce(&mut ComponentKind)) {
    if let Some(Component { kind, .. }) = id.and_then(|id| project.components.get_mut(&id)) {
        with(kind);
    }
}
