//! `draw`: from a list of zones to a finished drawing, and what was chosen for it.

use super::draw_arguments::DrawArguments;
use super::failure::Failure;
use super::{code_of, print, saving};
use crate::document::{DesignBasis, Duty, PlannedRun, PumpUnit, SystemPlan};
use crate::engine::fluid::{Fluid, FluidKind};
use crate::engine::pipes;
use crate::engine::units::{Quantity, Units};
use crate::file::{self, table};
use crate::report;
use crate::study::Study;
use crate::study::sizing::{SizingLimits, size_system};
use std::io::Write;

/// Loss coefficient of the pipes to the first tee, one way, where the list does not tell it (common practice, no source).
const FIRST_K: f64 = 2.0;

/// Reads the list, draws, sizes, balances, prints and, if wanted, saves.
pub(super) fn draw(arguments: &DrawArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    if let Some(path) = &arguments.save {
        saving::check_place(path, ("the list of zones", &arguments.zones), arguments.replace)?;
    }
    let read = Read { units: arguments.units.chosen() };
    let limits = limits(arguments, &read)?;
    let series = pipes::series(&arguments.pipe).unwrap_or(pipes::COMMON);
    let plan = plan(arguments, &read, series.roughness_m)?;
    let system = size_system(&plan, series, &limits)?;
    let study = Study::new(&system.project)?;
    let mut text = report::sized(&system, &limits, &read.units);
    let shares = study.results().zones.values().map(|zone| zone.share);
    let (least, most) = shares.fold((f64::INFINITY, 0.0), |(a, b): (f64, f64), share| (a.min(share), b.max(share)));
    let code = code_of(study.results());
    text += &match code {
        0 => format!(
            "Solved with all zones open: the zones get {:.1} to {:.1} % of their design flows.\n",
            100.0 * least,
            100.0 * most
        ),
        _ => "It was drawn, but did not converge when solved: do not use its figures.\n".to_owned(),
    };
    if let Some(path) = &arguments.save {
        file::save(&system.project, path)?;
        text += &format!("Saved to {}: {}.\n", path.display(), system.project.title);
    }
    print(out, &text)?;
    Ok(code)
}

/// Reads the numbers of options.
struct Read {
    units: Units,
}

impl Read {
    fn number(&self, option: &str, quantity: Quantity, text: &str) -> Result<f64, Failure> {
        self.units.parse(quantity, text).map_err(|flaw| Failure::Number { option: option.to_owned(), flaw })
    }

    fn optional(&self, option: &str, quantity: Quantity, text: Option<&String>) -> Result<Option<f64>, Failure> {
        text.map(|text| self.number(option, quantity, text)).transpose()
    }
}

fn limits(arguments: &DrawArguments, read: &Read) -> Result<SizingLimits, Failure> {
    let usual = SizingLimits::default();
    let above_zero = |option: &str, quantity, text: &Option<String>, usual: f64| {
        let value = read.optional(option, quantity, text.as_ref())?.unwrap_or(usual);
        let flaw = "a limit must be above zero: type a greater figure".to_owned();
        if value > 0.0 { Ok(value) } else { Err(Failure::Value { option: option.to_owned(), flaw }) }
    };
    let friction = above_zero("--friction", Quantity::FrictionGradient, &arguments.friction, usual.friction_pa_per_m)?;
    let velocity = above_zero("--velocity", Quantity::Velocity, &arguments.velocity, usual.velocity_m_per_s)?;
    Ok(SizingLimits { friction_pa_per_m: friction, velocity_m_per_s: velocity, ..usual })
}

fn plan(arguments: &DrawArguments, read: &Read, roughness: f64) -> Result<SystemPlan, Failure> {
    let mut zones = table::load_zones(&arguments.zones)?;
    if let (Some(text), Some(first)) = (&arguments.first_distance, zones.first_mut())
        && first.main.is_none()
    {
        let length = read.number("--first-distance", Quantity::Length, text)?;
        first.main = Some(PlannedRun { length, minor_k: FIRST_K, bore: None });
    }
    let of_list = arguments.zones.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let title = arguments.title.clone().or(of_list).unwrap_or_default();
    let length = read.number("--common-length", Quantity::Length, &arguments.common_length)?;
    Ok(SystemPlan {
        title,
        notes: String::new(),
        design: design(arguments, read)?,
        fluid: fluid(&arguments.fluid)?,
        arrangement: arguments.arrangement.chosen(),
        zones,
        pump: pump(arguments, read)?,
        common: PlannedRun { length, minor_k: arguments.common_fittings, bore: None },
        source_loss: read.number("--source-loss", Quantity::Pressure, &arguments.source_loss)?,
        source_minimum_flow: read.number("--source-minimum-flow", Quantity::Flow, &arguments.source_minimum_flow)?,
        strainer_kv: read.optional("--strainer-kv", Quantity::FlowCoefficient, arguments.strainer_kv.as_ref())?,
        roughness,
    })
}

fn design(arguments: &DrawArguments, read: &Read) -> Result<DesignBasis, Failure> {
    let supply_c = read.number("--supply", Quantity::Temperature, &arguments.supply)?;
    let drop_k = read.number("--drop", Quantity::TemperatureDifference, &arguments.drop)?;
    if drop_k <= 0.0 {
        let flaw = "the temperature drop must be above zero; for cooling add --cooling".to_owned();
        return Err(Failure::Value { option: format!("--drop {}", arguments.drop), flaw });
    }
    let room = read.optional("--room", Quantity::Temperature, arguments.room.as_ref())?;
    let (duty, return_c) = match arguments.cooling {
        true => (Duty::Cooling, supply_c + drop_k),
        false => (Duty::Heating, supply_c - drop_k),
    };
    let outdoor_c = read.optional("--outdoor", Quantity::Temperature, arguments.outdoor.as_ref())?;
    Ok(DesignBasis { duty, supply_c, return_c, room_c: room.unwrap_or(duty.usual_room_c()), outdoor_c })
}

fn fluid(text: &str) -> Result<Fluid, Failure> {
    let wrong = |flaw: String| Failure::Value { option: format!("--fluid {text}"), flaw };
    let (kind, percent) = text.split_once('=').unwrap_or((text, ""));
    let kind = match (kind.trim(), percent) {
        ("water", "") => return Ok(Fluid::water()),
        ("propylene-glycol", _) => FluidKind::PropyleneGlycol,
        ("ethylene-glycol", _) => FluidKind::EthyleneGlycol,
        _ => {
            return Err(wrong(
                "write water, propylene-glycol=30 or ethylene-glycol=30, with the share by mass".to_owned(),
            ));
        }
    };
    let share = Units::si().parse(Quantity::Share, percent).map_err(|flaw| wrong(flaw.to_string()))?;
    Fluid::new(kind, share).map_err(|flaw| wrong(flaw.to_string()))
}

fn pump(arguments: &DrawArguments, read: &Read) -> Result<Option<PumpUnit>, Failure> {
    let Some(path) = &arguments.pump else { return Ok(None) };
    let table = table::load_pump(path)?;
    let standby = read.optional("--standby", Quantity::Power, arguments.standby.as_ref())?.unwrap_or(0.0);
    Ok(Some(table.unit(standby)))
}
