//! Figures of a circulator that no curve tells: power, steps, pressure at the inlet.

use super::Found;
use crate::document::PumpUnit;
use crate::engine::pump::hydraulic_w;

pub(super) fn figures(unit: &PumpUnit, found: &mut Found) {
    /// Lighter than any fluid of the program, so that only what cannot be is refused, kg/m³.
    const LEAST_DENSITY: f64 = 900.0;
    for (number, point) in (1..).zip(&unit.catalogue) {
        let hydraulic = hydraulic_w(LEAST_DENSITY, point.flow, point.head);
        if point.power < hydraulic {
            found.say(format!(
                "catalogue point {number} takes {} W but gives the water {hydraulic:.1} W at least: check its power, head \
                 and flow",
                point.power
            ));
        }
        if point.power < unit.standby_power {
            found.say(format!(
                "the standby power, {} W, is above the {} W of catalogue point {number}: check both",
                unit.standby_power, point.power
            ));
        }
    }
    found.gauge_pressure("least inlet pressure", unit.least_inlet_pressure);
    if let Some(head) = unit.npsh_required {
        found.above_zero("required net positive suction head", head);
    }
    let greatest = unit.catalogue.iter().map(|point| point.head).fold(0.0, f64::max);
    found.above_zero_up_to("step of the head limit", unit.steps.head_limit, greatest, "the greatest catalogue head");
    found.above_zero_up_to("step of the slope", unit.steps.slope, 1.0, "100 %");
    found.above_zero_up_to("step of the speed cap", unit.steps.speed_cap, 1.0, "100 %");
}
