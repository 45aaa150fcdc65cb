//! Cautions: what can hurt the person at the system or ruin it, in one or two short sentences to whoever could be hurt, each only
//! where the project calls for it and where it matters. All of them are common practice, no source; the last of them says what
//! stands above them.

use crate::document::{ComponentKind, Duty, Project, StartingStep};
use crate::engine::fluid::FluidKind;
use crate::engine::links::emitter::EmitterLaw;

/// Where a caution is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// A circulator is about to run for the first time.
    BeforeFirstRun,
    /// Beside the checklist of starting up.
    Checklist,
    /// Where wiring is told of.
    Electrical,
    /// In the record that is handed over: all of them.
    Record,
}

/// What is dangerous.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hazard {
    /// Mains voltage, and charge that stays in a converter.
    Electricity,
    /// A circulator without water.
    DryRunning,
    /// Hot surfaces and water under pressure.
    HeatAndPressure,
    /// Glycol in drinking water.
    Glycol,
    /// A source with too little flow.
    SourceFlow,
    /// A return too hot or too cold for the source.
    ReturnLimits,
    /// Condensation and frost.
    Cold,
    /// A floor that is too hot.
    HotFloor,
    /// Figures carried over to domestic hot water.
    DrinkingWater,
    /// Estimates taken for measurements.
    Estimates,
    /// What stands above all that is said here.
    Practice,
}

/// A caution.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// What it is about.
    pub hazard: Hazard,
    /// A few words for a list.
    pub heading: &'static str,
    /// One or two sentences to the person who could be hurt.
    pub text: String,
}

impl Hazard {
    /// All of them, in the order in which they are told.
    const ALL: [Self; 11] = [
        Self::Electricity,
        Self::DryRunning,
        Self::HeatAndPressure,
        Self::Glycol,
        Self::SourceFlow,
        Self::ReturnLimits,
        Self::Cold,
        Self::HotFloor,
        Self::DrinkingWater,
        Self::Estimates,
        Self::Practice,
    ];

    /// Steps of the checklist beside which it belongs.
    #[must_use]
    pub fn steps(self) -> &'static [StartingStep] {
        match self {
            Self::Electricity => &[StartingStep::HeldOff],
            Self::HeatAndPressure => &[StartingStep::PressureTested, StartingStep::Filled, StartingStep::Vented],
            Self::Glycol => &[StartingStep::Flushed, StartingStep::Filled],
            Self::DryRunning | Self::SourceFlow | Self::Cold | Self::HotFloor => &[StartingStep::Released],
            Self::ReturnLimits | Self::DrinkingWater | Self::Estimates | Self::Practice => &[],
        }
    }

    fn heading(self) -> &'static str {
        match self {
            Self::Electricity => "Electricity",
            Self::DryRunning => "Running dry",
            Self::HeatAndPressure => "Heat and pressure",
            Self::Glycol => "Glycol",
            Self::SourceFlow => "Minimum flow",
            Self::ReturnLimits => "Return temperature",
            Self::Cold => "Condensation and frost",
            Self::HotFloor => "Floor temperature",
            Self::DrinkingWater => "Domestic hot water",
            Self::Estimates => "Estimates",
            Self::Practice => "What decides",
        }
    }

    fn is_told_at(self, occasion: Occasion) -> bool {
        match occasion {
            Occasion::Record => true,
            Occasion::Electrical => matches!(self, Self::Electricity | Self::Practice),
            Occasion::BeforeFirstRun => self == Self::Practice || self.steps().contains(&StartingStep::Released),
            Occasion::Checklist => self == Self::Practice || !self.steps().is_empty(),
        }
    }

    /// What it says of a project; `None` where the project does not call for it.
    fn text(self, project: &Project) -> Option<String> {
        let heats = project.design.duty == Duty::Heating;
        let has_pump = project.pumps().next().is_some();
        let when = |calls: bool, text: &str| calls.then(|| text.to_owned());
        match self {
            Self::Electricity => when(
                has_pump,
                "Before you open a terminal box, isolate the supply, lock it out and prove it dead. Its capacitors stay \
                 charged: wait as long as the device's instructions say.",
            ),
            Self::DryRunning => when(
                has_pump,
                "Water lubricates the bearings of a wet-rotor circulator, and running dry ruins them: keep it isolated or \
                 in standby until the system is filled and vented.",
            ),
            Self::HeatAndPressure if heats => when(
                !project.components.is_empty(),
                "Hot water scalds you and pressure injures you: let the system cool and release the pressure before you \
                 open anything.",
            ),
            Self::HeatAndPressure => when(
                !project.components.is_empty(),
                "Pressure injures you, in a cold system too: release it before you open anything.",
            ),
            Self::Glycol => glycol(project.fluid.kind()),
            Self::SourceFlow => source_flow(project),
            Self::ReturnLimits => when(
                heats && sources(project).next().is_some(),
                "Keep the return within the limits of the heat source: too hot, and a condensing boiler does not condense; \
                 too cold, and another kind corrodes.",
            ),
            Self::Cold => when(
                !heats && !project.components.is_empty(),
                "Water drips from cold pipes and makes your floor slippery: insulate them before you cool. Keep the water \
                 above its freezing point, for a frozen coil bursts.",
            ),
            Self::HotFloor => when(
                heats && has_floor(project),
                "A floor that is too hot burns bare feet: fit a temperature limiter on its supply and try it before the \
                 floor is in use.",
            ),
            Self::DrinkingWater => when(
                !project.components.is_empty(),
                "Nothing here is meant for domestic hot water: other rules hold there, against scalding and for hygiene.",
            ),
            Self::Estimates => when(
                has_pump,
                "A flow that is reckoned, here or by a circulator, is no meter, and an efficiency index reckoned here is no \
                 certificate: measure before you rely on them.",
            ),
            Self::Practice => when(
                true,
                "Local codes, the device's own instructions and licensed practice decide, whatever is said here.",
            ),
        }
    }
}

/// The cautions that a project calls for on an occasion.
#[must_use]
pub fn cautions(project: &Project, occasion: Occasion) -> Vec<Caution> {
    let told = Hazard::ALL.into_iter().filter(|hazard| hazard.is_told_at(occasion));
    let caution = |hazard: Hazard| hazard.text(project).map(|text| Caution { hazard, heading: hazard.heading(), text });
    told.filter_map(caution).collect()
}

fn glycol(fluid: FluidKind) -> Option<String> {
    let what = match fluid {
        FluidKind::Water => return None,
        FluidKind::PropyleneGlycol => "The glycol in these pipes must never reach drinking water",
        FluidKind::EthyleneGlycol => {
            "The ethylene glycol in these pipes is poisonous and must never reach drinking water"
        }
    };
    Some(format!("{what}: fill only through the backflow protection that your local code asks for."))
}

fn source_flow(project: &Project) -> Option<String> {
    let in_need = sources(project).filter(|(_, minimum_flow)| *minimum_flow > 0.0).map(|(name, _)| name);
    let names: Vec<&str> = in_need.collect();
    let (names, needs) = match names.as_slice() {
        [] => return None,
        [only] => ((*only).to_owned(), "needs its"),
        [first @ .., last] => (format!("{} and {last}", first.join(", ")), "need their"),
    };
    Some(format!(
        "{names} {needs} minimum flow with every zone shut too, or overheats or freezes: see that water still finds a way \
         before you leave the system alone."
    ))
}

/// Name and minimum flow (m³/s) of every source.
fn sources(project: &Project) -> impl Iterator<Item = (&str, f64)> {
    project.components.values().filter_map(|component| match &component.kind {
        ComponentKind::Source(source) => Some((component.name.as_str(), source.minimum_flow)),
        _ => None,
    })
}

fn has_floor(project: &Project) -> bool {
    let mut kinds = project.components.values().map(|component| &component.kind);
    kinds.any(|kind| matches!(kind, ComponentKind::Emitter(of) if matches!(of.law, EmitterLaw::FloorLoop { .. })))
}
