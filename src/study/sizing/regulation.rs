//! The circulator at the design point: whether it reaches it, how fast it must turn, and the settings with which it does.
//!
//! Settings: the head limit at the head that the index circuit needs, without slope, so that no zone can starve whichever is
//! open; the speed cap at the least whole per cent that reaches the design point. A slope saves energy afterwards.

use super::error::SizingError;
use crate::document::PumpUnit;
use crate::engine::fluid::FluidProperties;
use crate::engine::pump::{ReferenceFlow, Regulation};
use crate::study::LowerError;
use crate::study::lower::in_fluid;

/// Steps of a computed head limit, m: fine enough to leave design flow where it is.
const HEAD_STEP_M: f64 = 1e-3;
/// Steps of a computed speed cap.
const SPEED_STEP: f64 = 0.01;
/// Rounding that is not yet a step more.
const ROUNDING: f64 = 1e-9;

/// A circulator at the design point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpFit {
    /// Design flow, m³/s.
    pub flow: f64,
    /// Head that it must give there, m.
    pub needed_m: f64,
    /// Head that it gives there at full speed, in the system's fluid, m.
    pub full_speed_m: f64,
    /// Speed at which it gives the needed head there, as a fraction of full speed; above 1 where it cannot.
    pub speed: f64,
    /// Head that it gives there at its minimum speed, m.
    pub slowest_m: f64,
    /// Greatest flow of its catalogue, m³/s.
    pub data_end: f64,
    /// Its settings.
    pub regulation: Regulation,
}

impl PumpFit {
    /// Whether it reaches the design point.
    #[must_use]
    pub fn is_enough(&self) -> bool {
        self.speed <= 1.0 + ROUNDING
    }

    /// Whether it gives too much even at its minimum speed.
    #[must_use]
    pub fn is_too_much(&self) -> bool {
        self.slowest_m > self.needed_m * (1.0 + ROUNDING)
    }
}

/// Fits a circulator to a duty: flow (m³/s) and head (m).
///
/// # Errors
/// Catalogue points through which no curve goes.
pub(super) fn fit(
    name: &str,
    unit: &PumpUnit,
    fluid: &FluidProperties,
    flow: f64,
    needed_m: f64,
) -> Result<PumpFit, SizingError> {
    let viscous = in_fluid(unit, fluid).map_err(|flaw| LowerError::Curve { pump: name.to_owned(), flaw })?;
    let curve = &viscous.pump.curve;
    let greatest = unit.catalogue.iter().map(|point| point.head).fold(0.0, f64::max);
    let steps_up = |value: f64, step: f64| (value / step - ROUNDING).ceil() * step;
    let head_limit_m = steps_up(needed_m, HEAD_STEP_M).max(HEAD_STEP_M).min(greatest);
    let speed = curve.speed_for(flow, needed_m);
    let for_limit = curve.speed_for(flow, head_limit_m);
    let speed_cap = if for_limit.is_finite() { steps_up(for_limit, SPEED_STEP) } else { 1.0 };
    let minimum_speed = unit.regulation.minimum_speed;
    let regulation = Regulation {
        head_limit_m: Some(head_limit_m),
        slope: 0.0,
        speed_cap: speed_cap.max(minimum_speed).clamp(SPEED_STEP, 1.0),
        power_limit_w: None,
        minimum_speed,
        reference: ReferenceFlow::FullSpeed,
    };
    Ok(PumpFit {
        flow,
        needed_m,
        full_speed_m: curve.at_speed(flow, 1.0).0,
        speed,
        slowest_m: curve.at_speed(flow, minimum_speed).0,
        data_end: curve.data_end_m3_per_s(),
        regulation,
    })
}
