//! A circulator as the catalogue, the device and the building know it.

use super::PumpRegister;
use crate::engine::pump::{CurveError, PowerModel, Pump, PumpCurve, Regulation};

/// One point of the catalogue curve at full speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CataloguePoint {
    /// Flow, m³/s.
    pub flow: f64,
    /// Head, m.
    pub head: f64,
    /// Electric power, W.
    pub power: f64,
}

/// Steps in which the device takes its settings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingSteps {
    /// Head limit, m.
    pub head_limit: f64,
    /// Slope, fraction.
    pub slope: f64,
    /// Speed cap, fraction of full speed.
    pub speed_cap: f64,
}

impl Default for SettingSteps {
    /// A tenth of a metre, one per cent, one per cent (common practice, no source).
    fn default() -> Self {
        Self { head_limit: 0.1, slope: 0.01, speed_cap: 0.01 }
    }
}

/// A circulator.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpUnit {
    /// Catalogue points at full speed, flows rising.
    pub catalogue: Vec<CataloguePoint>,
    /// Electric power that does not follow speed, W.
    pub standby_power: f64,
    /// Full speed in revolutions per minute.
    pub full_speed_rpm: f64,
    /// Its settings.
    pub regulation: Regulation,
    /// Steps of its settings.
    pub steps: SettingSteps,
    /// Whether it runs.
    pub running: bool,
    /// Kv at standstill, m³/h; without one a stopped pump takes its shut-off head at the end of its curve.
    pub stopped_kv: Option<f64>,
    /// Address of the device on its bus or in the building's list; empty if none.
    pub address: String,
    /// What is written down of it in the building.
    pub register: PumpRegister,
    /// Least pressure at its inlet by its maker, Pa above the air around; `None` if none is given.
    pub least_inlet_pressure: Option<f64>,
    /// Net positive suction head that it requires by its maker, m; `None` if none is given.
    pub npsh_required: Option<f64>,
}

/// What the settings of a pump can be set to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingRanges {
    /// Head limit, m: from one step to the greatest head of the catalogue.
    pub head_limit: (f64, f64),
    /// Slope, fraction.
    pub slope: (f64, f64),
    /// Speed cap, fraction of full speed: not below the minimum speed.
    pub speed_cap: (f64, f64),
    /// Power limit, W: from one watt above the standby power to the greatest power of the catalogue.
    pub power_limit: (f64, f64),
}

/// A value brought into a range; unlike `f64::clamp` it does not panic where the range is empty.
#[must_use]
pub fn within(value: f64, (low, high): (f64, f64)) -> f64 {
    value.min(high).max(low)
}

/// The whole step of a setting nearest to a value, as it would be typed: 4.6, not 4.6000000000000005.
#[must_use]
pub fn stepped(value: f64, step: f64) -> f64 {
    let whole = (value / step).round() * step;
    let typed = (whole * 1e9).round() / 1e9;
    if typed.is_finite() { typed } else { whole }
}

impl PumpUnit {
    /// What its settings can be set to.
    #[must_use]
    pub fn ranges(&self) -> SettingRanges {
        let greatest = self.catalogue.iter().map(|p| p.head).fold(0.0, f64::max);
        let least_power = self.standby_power + 1.0;
        let greatest_power = self.catalogue.iter().map(|p| p.power).fold(least_power, f64::max);
        let least = self.steps.head_limit.min(greatest);
        SettingRanges {
            head_limit: (least, greatest),
            slope: (0.0, 1.0),
            speed_cap: (self.regulation.minimum_speed.clamp(0.05, 1.0), 1.0),
            power_limit: (least_power, greatest_power),
        }
    }

    /// Fits the curves through the catalogue points.
    ///
    /// # Errors
    /// Points through which no pump curve goes.
    pub fn fitted(&self) -> Result<Pump, CurveError> {
        let heads: Vec<[f64; 2]> = self.catalogue.iter().map(|p| [p.flow, p.head]).collect();
        let powers: Vec<[f64; 2]> = self.catalogue.iter().map(|p| [p.flow, p.power]).collect();
        Ok(Pump {
            curve: PumpCurve::fit(&heads)?,
            power: PowerModel::new(&powers, self.standby_power)?,
            full_speed_rpm: self.full_speed_rpm,
        })
    }
}
