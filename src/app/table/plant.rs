//! What a list of zones does not tell: temperatures, fluid, pipes, plant. Figures are kept as typed; an empty one stands for
//! what is usual.

use crate::document::{Arrangement, DesignBasis, Duty, PlannedRun, PlannedZone, SystemPlan};
use crate::engine::fluid::{Fluid, FluidKind};
use crate::engine::pipes::{self, PipeSeries};
use crate::engine::units::{Quantity, Units};
use crate::file::table::{PumpTable, few_figures};
use crate::study::sizing::SizingLimits;

/// Pipes between source and circulator where nothing is typed, one way (common practice, no source).
const COMMON_M: f64 = 5.0;
const COMMON_K: f64 = 6.0;

/// A figure of the plant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Figure {
    Supply,
    Drop,
    Room,
    Outdoor,
    Glycol,
    Roughness,
    Friction,
    Velocity,
    CommonLength,
    CommonFittings,
    SourceLoss,
    SourceFlow,
    Strainer,
    Standby,
}

impl Figure {
    pub(super) const ALL: [Self; 14] = [
        Self::Supply,
        Self::Drop,
        Self::Room,
        Self::Outdoor,
        Self::Glycol,
        Self::Roughness,
        Self::Friction,
        Self::Velocity,
        Self::CommonLength,
        Self::CommonFittings,
        Self::SourceLoss,
        Self::SourceFlow,
        Self::Strainer,
        Self::Standby,
    ];

    /// Name, what it is, and its quantity.
    fn facts(self) -> (&'static str, &'static str, Option<Quantity>) {
        let of = Some;
        match self {
            Self::Supply => ("Supply", "Design supply temperature.", of(Quantity::Temperature)),
            Self::Drop => (
                "Drop",
                "Design temperature difference between supply and return, without sign.",
                of(Quantity::TemperatureDifference),
            ),
            Self::Room => ("Room", "Room temperature, or that of the air entering coils.", of(Quantity::Temperature)),
            Self::Outdoor => (
                "Outdoors",
                "Outdoor temperature of the design. Only thermostatic valves need it.",
                of(Quantity::Temperature),
            ),
            Self::Glycol => ("Glycol", "Share of glycol by mass.", of(Quantity::Share)),
            Self::Roughness => {
                ("Roughness", "Roughness of the pipe wall; that of the pipes if empty.", of(Quantity::Roughness))
            }
            Self::Friction => {
                ("Most friction", "Sizes are chosen so that no pipe takes more.", of(Quantity::FrictionGradient))
            }
            Self::Velocity => {
                ("Most velocity", "Up to DN 50; above it friction alone decides.", of(Quantity::Velocity))
            }
            Self::CommonLength => ("Plant pipes", "Pipe between source and circulator, one way.", of(Quantity::Length)),
            Self::CommonFittings => (
                "Plant fittings",
                "Sum of the loss coefficients of the fittings between source and circulator, one way.",
                None,
            ),
            Self::SourceLoss => ("Source loss", "Pressure loss of the source at design flow.", of(Quantity::Pressure)),
            Self::SourceFlow => ("Least source flow", "Flow that the source must have.", of(Quantity::Flow)),
            Self::Strainer => {
                ("Strainer", "Flow coefficient of the clean strainer; chosen if empty.", of(Quantity::FlowCoefficient))
            }
            Self::Standby => {
                ("Standby", "Power of the circulator that does not follow its speed.", of(Quantity::Power))
            }
        }
    }

    pub(super) fn quantity(self) -> Option<Quantity> {
        self.facts().2
    }

    pub(super) fn about(self) -> &'static str {
        self.facts().1
    }

    /// Name with the unit of bare figures.
    pub(super) fn heading(self, units: &Units) -> String {
        let (name, _, quantity) = self.facts();
        quantity.map_or_else(|| name.to_owned(), |quantity| format!("{name} ({})", units.symbol(quantity)))
    }

    /// What it is called in a sentence.
    pub(super) fn name(self) -> &'static str {
        self.facts().0
    }
}

/// What the circulator is.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    pub(super) name: String,
    pub(super) table: PumpTable,
}

/// The plant as typed.
#[derive(Clone, Debug)]
pub(super) struct Plant {
    pub(super) title: String,
    pub(super) arrangement: Arrangement,
    pub(super) duty: Duty,
    pub(super) fluid: FluidKind,
    pub(super) series: &'static PipeSeries,
    pub(super) pump: Option<Chosen>,
    texts: [String; Figure::ALL.len()],
}

impl Default for Plant {
    fn default() -> Self {
        Self {
            title: String::new(),
            arrangement: Arrangement::DirectReturn,
            duty: Duty::Heating,
            fluid: FluidKind::Water,
            series: pipes::COMMON,
            pump: None,
            texts: Default::default(),
        }
    }
}

/// Something wrong with the plant.
#[derive(Clone, Debug)]
pub(super) struct PlantFault {
    pub(super) figure: Figure,
    pub(super) message: String,
    pub(super) is_missing: bool,
}

/// A plan with what its pipes are chosen by.
#[derive(Clone, Debug)]
pub(super) struct Task {
    pub(super) plan: SystemPlan,
    pub(super) series: PipeSeries,
    pub(super) limits: SizingLimits,
}

impl Plant {
    pub(super) fn text(&mut self, figure: Figure) -> &mut String {
        &mut self.texts[figure as usize]
    }

    /// What stands for an empty figure; `None` where it must be typed or stands for nothing.
    pub(super) fn usual(&self, figure: Figure) -> Option<f64> {
        let limits = SizingLimits::default();
        match figure {
            Figure::Room => Some(self.duty.usual_room_c()),
            Figure::Roughness => Some(self.series.roughness_m),
            Figure::Friction => Some(limits.friction_pa_per_m),
            Figure::Velocity => Some(limits.velocity_m_per_s),
            Figure::CommonLength => Some(COMMON_M),
            Figure::CommonFittings => Some(COMMON_K),
            Figure::SourceLoss | Figure::SourceFlow | Figure::Standby => Some(0.0),
            Figure::Supply | Figure::Drop | Figure::Outdoor | Figure::Glycol | Figure::Strainer => None,
        }
    }

    /// The figures in other units; what cannot be read stays as typed.
    pub(super) fn turn(&mut self, from: &Units, to: &Units) {
        for figure in Figure::ALL {
            let Some(quantity) = figure.quantity().filter(|quantity| from.get(*quantity) != to.get(*quantity)) else {
                continue;
            };
            let text = self.text(figure);
            let is_bare = !text.trim().is_empty() && !text.chars().any(char::is_alphabetic) && !text.contains('°');
            if let (true, Ok(si)) = (is_bare, from.parse(quantity, text)) {
                *text = few_figures(to.from_si(quantity, si));
            }
        }
    }

    /// The plan with these zones, or everything that is wrong.
    pub(super) fn task(&self, zones: Vec<PlannedZone>, units: &Units) -> Result<Task, Vec<PlantFault>> {
        let mut read = Read { plant: self, units, faults: Vec::new() };
        let supply_c = read.needed(Figure::Supply);
        let drop_k = read.above_zero(Figure::Drop).or_else(|| read.missing(Figure::Drop));
        let room_c = read.figure(Figure::Room);
        let outdoor_c = read.figure(Figure::Outdoor);
        let share = if self.fluid == FluidKind::Water { Some(0.0) } else { read.needed(Figure::Glycol) };
        let fluid = share.and_then(|share| match Fluid::new(self.fluid, share) {
            Ok(fluid) => Some(fluid),
            Err(flaw) => {
                read.say(Figure::Glycol, flaw.to_string(), false);
                None
            }
        });
        let roughness_m = read.at_least_zero(Figure::Roughness);
        let friction = read.above_zero(Figure::Friction);
        let velocity = read.above_zero(Figure::Velocity);
        let (length, minor_k) = (read.at_least_zero(Figure::CommonLength), read.at_least_zero(Figure::CommonFittings));
        let loss = read.at_least_zero(Figure::SourceLoss);
        let least = read.at_least_zero(Figure::SourceFlow);
        let strainer_kv = read.above_zero(Figure::Strainer);
        let standby = self.pump.as_ref().and_then(|_| read.at_least_zero(Figure::Standby));
        let (Some(supply_c), Some(drop_k), Some(fluid), true) = (supply_c, drop_k, fluid, read.faults.is_empty())
        else {
            return Err(read.faults);
        };
        let usual = |figure| self.usual(figure).unwrap_or_default();
        let roughness_m = roughness_m.unwrap_or(self.series.roughness_m);
        let sign = if self.duty == Duty::Cooling { 1.0 } else { -1.0 };
        let room_c = room_c.unwrap_or(self.duty.usual_room_c());
        let title = if self.title.trim().is_empty() { "New building" } else { self.title.trim() };
        let plan = SystemPlan {
            title: title.to_owned(),
            notes: String::new(),
            design: DesignBasis { duty: self.duty, supply_c, return_c: supply_c + sign * drop_k, room_c, outdoor_c },
            fluid,
            arrangement: self.arrangement,
            zones,
            pump: self.pump.as_ref().map(|chosen| chosen.table.clone().unit(standby.unwrap_or_default())),
            common: PlannedRun {
                length: length.unwrap_or(usual(Figure::CommonLength)),
                minor_k: minor_k.unwrap_or(usual(Figure::CommonFittings)),
                bore: None,
            },
            source_loss: loss.unwrap_or_default(),
            source_minimum_flow: least.unwrap_or_default(),
            strainer_kv,
            roughness: roughness_m,
        };
        let limits = SizingLimits {
            friction_pa_per_m: friction.unwrap_or(usual(Figure::Friction)),
            velocity_m_per_s: velocity.unwrap_or(usual(Figure::Velocity)),
            ..SizingLimits::default()
        };
        Ok(Task { plan, series: PipeSeries { roughness_m, ..*self.series }, limits })
    }
}

/// Reads figures and gathers what is wrong with them.
struct Read<'a> {
    plant: &'a Plant,
    units: &'a Units,
    faults: Vec<PlantFault>,
}

impl Read<'_> {
    fn say(&mut self, figure: Figure, message: String, is_missing: bool) {
        self.faults.push(PlantFault { figure, message, is_missing });
    }

    fn missing(&mut self, figure: Figure) -> Option<f64> {
        if self.faults.iter().all(|fault| fault.figure != figure) {
            self.say(figure, "type the figure".to_owned(), true);
        }
        None
    }

    fn needed(&mut self, figure: Figure) -> Option<f64> {
        self.figure(figure).or_else(|| self.missing(figure))
    }

    /// A typed figure; `None` where it is empty or, with a fault told, cannot be read.
    fn figure(&mut self, figure: Figure) -> Option<f64> {
        let text = self.plant.texts[figure as usize].trim();
        if text.is_empty() {
            return None;
        }
        let read = match figure.quantity() {
            Some(quantity) => self.units.parse(quantity, text),
            // A plain number is read as one in a unit of size one.
            None => Units::si().parse(Quantity::FlowCoefficient, text),
        };
        read.map_err(|flaw| self.say(figure, flaw.to_string(), false)).ok()
    }

    fn above_zero(&mut self, figure: Figure) -> Option<f64> {
        let value = self.figure(figure)?;
        if value <= 0.0 {
            self.say(figure, "type a figure above zero".to_owned(), false);
        }
        (value > 0.0).then_some(value)
    }

    fn at_least_zero(&mut self, figure: Figure) -> Option<f64> {
        let value = self.figure(figure)?;
        if value < 0.0 {
            self.say(figure, "it is negative: type zero or more".to_owned(), false);
        }
        (value >= 0.0).then_some(value)
    }
}
