//! Regulation: what the pump gives at a flow under head limit, slope, speed cap, power limit and minimum speed.
//!
//! ```text
//! H_set(Q) = H_lim (1 − s (1 − Q/Q_ref))   for Q < Q_ref, H_lim from there on
//! H_cap(Q) = n_cap² H₁(Q/n_cap)
//! H_pow(Q) = n² H₁(Q/n)   at the speed n ≤ 1 at which the motor takes P_lim; see `power_limit`
//! H_min(Q) = n_min² H₁(Q/n_min)
//! H_reg(Q) = max( min( H_set, H_cap, H_pow ), H_min )
//! ```
//!
//! "Reduce the speed until no limit is exceeded" is the `min`; the motor's slowest turning is the `max`. The set-line
//! with its reference flow at design and s = 50 % is the reference control curve of EN 16297 (from memory). At minimum speed
//! the pump may take more power than its limit, as it may give more head than its head limit.

use super::power_limit::PowerLimit;
use super::{Pump, PumpCurve, SetLine};
use thiserror::Error;

/// Where the set-line reaches the head limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReferenceFlow {
    /// Where the full-speed curve crosses the head limit; it does not move with the cap.
    FullSpeed,
    /// Where the capped curve crosses the head limit; zero if it never reaches it.
    CappedSpeed,
    /// A flow that the designer gives, m³/s.
    DesignFlow(f64),
}

/// The settings of one pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Regulation {
    /// The most head the pump may give, m; `None` for a pump held by its speed alone.
    pub head_limit_m: Option<f64>,
    /// How far the set-line has fallen at zero flow, as a fraction of the head limit: 0 is constant head.
    pub slope: f64,
    /// The pump never runs faster than this fraction of full speed.
    pub speed_cap: f64,
    /// The most electric power the motor takes above minimum speed, W; `None` for a pump without power limit.
    pub power_limit_w: Option<f64>,
    /// The pump never runs slower than this fraction while it runs.
    pub minimum_speed: f64,
    /// Where the set-line reaches the head limit.
    pub reference: ReferenceFlow,
}

/// A setting that no pump can follow.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum RegulationError {
    /// Head limit not above zero.
    #[error("the head limit must be above zero: type a head such as 4.5 m")]
    HeadLimit,
    /// Slope outside 0 to 100 %.
    #[error("the slope must lie between 0 and 100 %: type 0 for constant head, more for less head at small flow")]
    Slope,
    /// Speed cap outside its range.
    #[error("the speed cap must lie above 0 and up to 100 % of full speed: type 100 for a circulator without a cap")]
    SpeedCap,
    /// Power limit not above the power that does not follow speed.
    #[error("the power limit must lie above the standby power, {standby_w} W: type more watts, or none")]
    PowerLimit {
        /// The standby power, W.
        standby_w: f64,
    },
    /// A power limit over a curve whose power nobody knows.
    #[error("a power limit needs the pump's power over flow: give the pump with its power, or take the limit away")]
    PowerUnknown,
    /// Minimum speed above the cap.
    #[error("the minimum speed must lie between 0 and the speed cap: type less, or raise the speed cap first")]
    MinimumSpeed,
    /// Reference flow not above zero.
    #[error("the reference flow must be above zero: type a flow such as 1.985 m³/h")]
    ReferenceFlow,
}

/// The one limit that decides the head at a flow.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GoverningLimit {
    /// The rising part of the set-line.
    SetLine,
    /// The flat part of the set-line.
    HeadLimit,
    /// The speed cap.
    SpeedCap,
    /// The power limit.
    PowerLimit,
    /// The motor's slowest turning.
    MinimumSpeed,
}

/// A stretch of flow over which one limit governs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GoverningRange {
    /// Start of the stretch, m³/s.
    pub from_m3_per_s: f64,
    /// End of the stretch, m³/s.
    pub to_m3_per_s: f64,
    /// What governs there.
    pub limit: GoverningLimit,
}

/// A pump curve under its settings, ready to be asked for a head at a flow.
#[derive(Clone, Debug, PartialEq)]
pub struct Regulated {
    curve: PumpCurve,
    settings: Regulation,
    set_line: Option<SetLine>,
    power_limit: Option<PowerLimit>,
}

impl Regulated {
    /// Lays the settings over a pump's curve and power.
    ///
    /// # Errors
    /// A setting outside its range.
    pub fn of_pump(pump: &Pump, settings: Regulation) -> Result<Self, RegulationError> {
        settings.check_for(pump.power.standby_w())?;
        let mut regulated = Self::new(&pump.curve, Regulation { power_limit_w: None, ..settings })?;
        regulated.power_limit = settings.power_limit_w.map(|limit| PowerLimit::new(&pump.power, limit));
        regulated.settings = settings;
        Ok(regulated)
    }

    /// Lays the settings over a curve whose power is not known: they must be without power limit.
    ///
    /// # Errors
    /// A setting outside its range, a power limit.
    pub fn new(curve: &PumpCurve, settings: Regulation) -> Result<Self, RegulationError> {
        settings.check()?;
        if settings.power_limit_w.is_some() {
            return Err(RegulationError::PowerUnknown);
        }
        let set_line = SetLine::new(&settings, curve);
        Ok(Self { curve: curve.clone(), settings, set_line, power_limit: None })
    }

    /// Lets go of all limits and turns at one speed, a fraction of full speed.
    pub fn hold_speed(&mut self, speed: f64) {
        self.settings = Regulation::at_speed(speed);
        self.set_line = None;
        self.power_limit = None;
    }

    /// The settings it was made from.
    #[must_use]
    pub fn settings(&self) -> &Regulation {
        &self.settings
    }

    /// The curve it was made from.
    #[must_use]
    pub fn curve(&self) -> &PumpCurve {
        &self.curve
    }

    /// The reference flow in m³/s; `None` where the curve never reaches the head limit, so that no set-line exists.
    #[must_use]
    pub fn reference_m3_per_s(&self) -> Option<f64> {
        self.set_line.map(|line| line.reference_m3_per_s)
    }

    /// Set-line head (m) and its derivative by flow; `None` without a set-line.
    #[must_use]
    pub fn set_line(&self, flow: f64) -> Option<(f64, f64)> {
        self.set_line.map(|line| line.head(flow))
    }

    /// Head (m) and derivative of the capped curve.
    #[must_use]
    pub fn capped(&self, flow: f64) -> (f64, f64) {
        self.curve.at_speed(flow, self.settings.speed_cap)
    }

    /// Head (m) and derivative of the curve at the power limit, at full speed where that takes less; `None` without a limit.
    #[must_use]
    pub fn power_limited(&self, flow: f64) -> Option<(f64, f64)> {
        let limit = self.power_limit.as_ref()?;
        Some(limit.head(&self.curve, flow, 1.0).unwrap_or_else(|| self.curve.at_speed(flow, 1.0)))
    }

    /// The flow from which on the curve at the power limit gives no head, m³/s; `None` without a limit.
    #[must_use]
    pub fn power_limited_end_m3_per_s(&self) -> Option<f64> {
        self.power_limit.as_ref().map(|limit| limit.end_m3_per_s(&self.curve))
    }

    /// Head (m) that the pump gives at `flow` (m³/s) and its derivative by flow.
    #[must_use]
    pub fn head(&self, flow: f64) -> (f64, f64) {
        let upper = self.upper(flow).0;
        let lower = self.curve.at_speed(flow, self.settings.minimum_speed);
        if lower.0 > upper.0 { lower } else { upper }
    }

    /// Which limit decides the head at `flow`. At an exact tie the speed cap is named before the power limit and that before
    /// the set-line; all of them are named before the minimum speed.
    #[must_use]
    pub fn governing(&self, flow: f64) -> GoverningLimit {
        let (upper, limit) = self.upper(flow);
        if self.curve.at_speed(flow, self.settings.minimum_speed).0 > upper.0 {
            return GoverningLimit::MinimumSpeed;
        }
        limit
    }

    /// Speed fraction at `flow` when the regulated head is given.
    #[must_use]
    pub fn speed(&self, flow: f64) -> f64 {
        self.curve.speed_for(flow, self.head(flow).0)
    }

    /// The fastest that the pump may turn at `flow`, as a fraction of full speed: at its cap or its power limit, but never
    /// below its minimum speed.
    #[must_use]
    pub fn greatest_speed(&self, flow: f64) -> f64 {
        let cap = self.settings.speed_cap;
        let limited = self.power_limit.as_ref().and_then(|limit| limit.speed(flow, cap));
        limited.unwrap_or(cap).max(self.settings.minimum_speed)
    }

    /// The flow from which on the pump gives no head, m³/s.
    #[must_use]
    pub fn end_m3_per_s(&self) -> f64 {
        let run_out = self.curve.run_out_m3_per_s();
        let capped = run_out * self.settings.speed_cap;
        let limited = self.power_limited_end_m3_per_s().unwrap_or(capped);
        capped.min(limited).max(run_out * self.settings.minimum_speed)
    }

    /// The stretches of flow from zero to where the pump gives no head, each with what governs there.
    #[must_use]
    pub fn governing_ranges(&self) -> Vec<GoverningRange> {
        const SAMPLES: u32 = 240;
        let end = self.end_m3_per_s();
        let at = |i: u32| end * (f64::from(i) + 0.5) / f64::from(SAMPLES);
        let mut ranges: Vec<GoverningRange> = Vec::new();
        for i in 0..SAMPLES {
            let limit = self.governing(at(i));
            match ranges.last_mut() {
                Some(last) if last.limit == limit => last.to_m3_per_s = end,
                last => {
                    let from = match last {
                        Some(last) => {
                            last.to_m3_per_s = self.change_between(at(i - 1), at(i), last.limit);
                            last.to_m3_per_s
                        }
                        None => 0.0,
                    };
                    ranges.push(GoverningRange { from_m3_per_s: from, to_m3_per_s: end, limit });
                }
            }
        }
        ranges
    }

    /// Bisects for the flow at which `limit` ceases to govern.
    fn change_between(&self, mut low: f64, mut high: f64, limit: GoverningLimit) -> f64 {
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.governing(middle) == limit { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// The least of set-line, capped curve and curve at the power limit, and which of them it is.
    fn upper(&self, flow: f64) -> ((f64, f64), GoverningLimit) {
        let mut least = (self.capped(flow), GoverningLimit::SpeedCap);
        if let Some(limit) = &self.power_limit
            && let Some(limited) = limit.head(&self.curve, flow, self.settings.speed_cap)
            && limited.0 < least.0.0
        {
            least = (limited, GoverningLimit::PowerLimit);
        }
        match self.set_line(flow) {
            Some(line) if line.0 < least.0.0 => {
                let flat = self.settings.slope == 0.0 || self.reference_m3_per_s().is_some_and(|r| flow >= r);
                (line, if flat { GoverningLimit::HeadLimit } else { GoverningLimit::SetLine })
            }
            _ => least,
        }
    }
}

impl Regulation {
    /// A pump that turns at one speed, a fraction of full speed, whatever the flow.
    #[must_use]
    pub fn at_speed(speed: f64) -> Self {
        Self {
            head_limit_m: None,
            slope: 0.0,
            speed_cap: speed,
            power_limit_w: None,
            minimum_speed: 0.0,
            reference: ReferenceFlow::FullSpeed,
        }
    }

    /// Whether each setting lies in its range.
    ///
    /// # Errors
    /// The first setting that does not.
    pub fn check(&self) -> Result<(), RegulationError> {
        self.check_for(0.0)
    }

    /// Whether each setting lies in its range for a pump of this standby power (W).
    ///
    /// # Errors
    /// The first setting that does not.
    pub fn check_for(&self, standby_w: f64) -> Result<(), RegulationError> {
        let within = |x: f64, low: f64, high: f64| x.is_finite() && x >= low && x <= high;
        if self.head_limit_m.is_some_and(|h| !(h > 0.0 && h.is_finite())) {
            return Err(RegulationError::HeadLimit);
        }
        if !within(self.slope, 0.0, 1.0) {
            return Err(RegulationError::Slope);
        }
        if !(self.speed_cap > 0.0 && self.speed_cap <= 1.0) {
            return Err(RegulationError::SpeedCap);
        }
        if self.power_limit_w.is_some_and(|limit| !(limit > standby_w && limit.is_finite())) {
            return Err(RegulationError::PowerLimit { standby_w });
        }
        if !within(self.minimum_speed, 0.0, self.speed_cap) {
            return Err(RegulationError::MinimumSpeed);
        }
        match self.reference {
            ReferenceFlow::DesignFlow(flow) if !(flow > 0.0 && flow.is_finite()) => Err(RegulationError::ReferenceFlow),
            _ => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked pump: H = 7.5 n² − 0.4252 Q² (m, Q in m³/h), computed figures of common textbook closed forms.
    fn regulated(limit: f64, slope: f64, cap: f64, reference: ReferenceFlow) -> Regulated {
        let points: Vec<[f64; 2]> = [0.0, 1.5, 3.0].iter().map(|q: &f64| [q / 3600.0, 7.5 - 0.4252 * q * q]).collect();
        let settings = Regulation {
            head_limit_m: Some(limit),
            slope,
            speed_cap: cap,
            power_limit_w: None,
            minimum_speed: 0.0,
            reference,
        };
        Regulated::new(&PumpCurve::fit(&points).unwrap(), settings).unwrap()
    }

    #[test]
    fn the_worked_numbers() {
        let full = regulated(4.873, 0.5, 0.934, ReferenceFlow::FullSpeed);
        assert!((full.reference_m3_per_s().unwrap() * 3600.0 - 2.486).abs() < 1e-3);
        assert!((full.head(1.0 / 3600.0).0 - 3.417).abs() < 1e-3);
        let capped = regulated(4.873, 0.5, 0.934, ReferenceFlow::CappedSpeed);
        assert!((capped.reference_m3_per_s().unwrap() * 3600.0 - 1.985).abs() < 4e-3);
        assert!((capped.head(1.0 / 3600.0).0 - 3.666).abs() < 1e-3);
    }

    #[test]
    fn ranges_meet_where_the_cap_takes_over() {
        let flat = regulated(4.873, 0.0, 0.934, ReferenceFlow::FullSpeed);
        let ranges = flat.governing_ranges();
        assert_eq!(ranges.len(), 2);
        assert_eq!(ranges[0].limit, GoverningLimit::HeadLimit);
        assert_eq!(ranges[1].limit, GoverningLimit::SpeedCap);
        // Q_x = √((H₀ n² − H_lim)/C).
        let expected = ((7.5 * 0.934 * 0.934 - 4.873) / 0.4252_f64).sqrt();
        assert!((ranges[0].to_m3_per_s * 3600.0 - expected).abs() < 1e-6);
    }
}
