//! Present figures of power and energy.

use super::super::Here;
use super::super::subject::Subject;
use super::pump::GRAVITY;
use super::{equals, plainly};
use crate::engine::pump::{CALIBRATION, EnergyIndex};
use crate::engine::units::Quantity;

/// Density of the water that the regulation's unit constant stands for, kg/m³.
const INDEX_WATER: f64 = 1000.0;

pub(super) fn electric(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let (flow, speed) = (pump.result.flow, pump.result.speed);
    let power = |watts| of.says(Quantity::Power, watts);
    let (standby, full) = (pump.pump.power.standby_w(), pump.pump.power.electric_w(flow / speed, 1.0));
    let left =
        format!("{} + ({})³ × ({} − {})", power(standby), of.says(Quantity::Speed, speed), power(full), power(standby));
    equals(of, &left, Quantity::Power, pump.result.electric_w)
}

pub(super) fn hydraulic(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let left = format!(
        "{} × {GRAVITY} × {} × {}",
        of.says(Quantity::Density, pump.result.water.fluid.density_kg_per_m3),
        of.says(Quantity::Flow, pump.result.flow),
        of.says(Quantity::Head, pump.result.head)
    );
    equals(of, &left, Quantity::Power, pump.result.hydraulic_w)
}

pub(super) fn efficiency(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let power = |watts| of.says(Quantity::Power, watts);
    let left = format!("{} ÷ {}", power(pump.result.hydraulic_w), power(pump.result.electric_w));
    equals(of, &left, Quantity::Share, pump.result.wire_to_water)
}

pub(super) fn index(of: &Subject<'_>) -> Option<Here> {
    // As in the catalogue: the regulation asks for water, whatever is in the pipes.
    let pump = of.in_hand()?.unit.fitted().ok()?;
    let index = EnergyIndex::of_pump(&pump.curve, &pump.power, INDEX_WATER).ok()?;
    let power = |watts| of.says(Quantity::Power, watts);
    plainly(&format!("{CALIBRATION} × {} ÷ {}", power(index.average_w), power(index.reference_w)), index.index, 2)
}
