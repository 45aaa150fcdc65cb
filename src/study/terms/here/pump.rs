//! Present figures of the pump itself.

use super::super::Here;
use super::super::subject::Subject;
use super::{equals, words};
use crate::document::{Port, PortRef};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::fluid::Fluid;
use crate::engine::pump::{PumpInlet, STANDARD_ATMOSPHERE_PA};
use crate::engine::units::Quantity;
use crate::study::pressures::Pressures;

/// g as it is written, with its unit: with all the figures that are reckoned with.
pub(super) const GRAVITY: &str = "9.80665 m/s²";

pub(super) fn flow(of: &Subject<'_>) -> Option<Here> {
    if let Some(pipe) = of.pipe.and_then(|id| of.study.results().pipes.get(&id)) {
        let bore = of.project.pipes.get(&of.pipe?)?.bore;
        let (speed, bore) = (of.says(Quantity::Velocity, pipe.velocity), of.says(Quantity::Bore, bore));
        return equals(of, &format!("{speed} × π × ({bore})² ÷ 4"), Quantity::Flow, pipe.flow);
    }
    let (id, pump) = (of.pump?, of.at_work()?);
    let flow = of.says(Quantity::Flow, pump.result.flow);
    Some(Here { words: format!("{flow} through {}", of.name(id)), value: Some((Quantity::Flow, pump.result.flow)) })
}

pub(super) fn head(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let density = pump.result.water.fluid.density_kg_per_m3;
    let pressure = of.says(Quantity::Pressure, density * GRAVITY_M_PER_S2 * pump.result.head);
    let left = format!("{pressure} ÷ ({} × {GRAVITY})", of.says(Quantity::Density, density));
    equals(of, &left, Quantity::Head, pump.result.head)
}

pub(super) fn full_speed(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let (most, _) = pump.regulated.curve().full_speed(pump.result.flow);
    let (flow, gives) = (of.says(Quantity::Flow, pump.result.flow), of.says(Quantity::Head, pump.result.head));
    Some(Here {
        words: format!("{} at {flow}; now it gives {gives} there", of.says(Quantity::Head, most)),
        value: Some((Quantity::Head, most)),
    })
}

pub(super) fn affinity(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let (speed, flow) = (pump.result.speed, pump.result.flow);
    let (at_full, _) = pump.regulated.curve().full_speed(flow / speed);
    let (speed_words, head) = (of.says(Quantity::Speed, speed), of.says(Quantity::Head, at_full));
    let left =
        format!("({speed_words})² × {head}, the head at full speed and {}", of.says(Quantity::Flow, flow / speed));
    equals(of, &left, Quantity::Head, pump.regulated.curve().at_speed(flow, speed).0)
}

pub(super) fn speed(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand().filter(|pump| pump.result.running)?;
    let turns = |rpm| of.says(Quantity::RotationalSpeed, rpm);
    let left = format!("{} ÷ {}", turns(pump.result.speed_rpm), turns(pump.unit.full_speed_rpm));
    equals(of, &left, Quantity::Speed, pump.result.speed)
}

pub(super) fn end_of_data(of: &Subject<'_>) -> Option<Here> {
    let pump = of.in_hand()?;
    let end = pump.regulated.curve().data_end_m3_per_s();
    let flow = |flow| of.says(Quantity::Flow, flow);
    if !pump.result.running {
        return words(format!("{} at full speed", flow(end)));
    }
    let speed = pump.result.speed;
    let left = format!("{} × {}", of.says(Quantity::Speed, speed), flow(end));
    let mut here = equals(of, &left, Quantity::Flow, speed * end)?;
    let beyond = if pump.result.beyond_data { "lies beyond" } else { "lies within" };
    here.words.push_str(&format!("; the present {} {beyond}", flow(pump.result.flow)));
    Some(here)
}

pub(super) fn suction_head(of: &Subject<'_>) -> Option<Here> {
    let id = of.component.filter(|id| of.project.pump(*id).is_some()).or(of.pump)?;
    let port = PortRef { component: id, port: Port::Inlet };
    let gauge = Pressures::new(of.project, of.study).at(port)?;
    let temperature_c = of.study.results().temperature(of.study.lowered(), port);
    // The velocity in the flange is not known: without it less is there, which is cautious.
    let inlet = PumpInlet {
        gauge_pressure_pa: gauge,
        air_pressure_pa: STANDARD_ATMOSPHERE_PA,
        velocity_m_per_s: 0.0,
        temperature_c: if temperature_c.is_finite() { temperature_c } else { of.project.design.supply_c },
    };
    let boils = inlet.boiling_gauge_pressure_pa(&Fluid::water()).ok()?;
    let density = Fluid::water().properties(inlet.temperature_c).ok()?.density_kg_per_m3;
    let pressure = |pa| of.says(Quantity::Pressure, pa);
    let left = format!(
        "({} + {} − {}) ÷ ({} × {GRAVITY})",
        pressure(gauge),
        pressure(STANDARD_ATMOSPHERE_PA),
        pressure(boils + STANDARD_ATMOSPHERE_PA),
        of.says(Quantity::Density, density)
    );
    equals(of, &left, Quantity::Head, inlet.npsh_available_m(&Fluid::water()).ok()?)
}
