//! What counts as solved, the same for every way of solving: when a step was the last, and when an answer stands.

use super::{Network, Outcome};
use crate::engine::links::FlowRange;

/// Newton steps before another way is tried.
pub(super) const MOST_STEPS: u32 = 30;
/// Least slope of a law over its slope at nominal flow: a main without flow would otherwise make a singular matrix.
const SLOPE_FLOOR: f64 = 1e-6;
/// Least slope by which a pressure error is read as a flow error, over the slope at nominal flow.
const JUDGED_FLOOR: f64 = 1e-4;
/// Pressure error over the greatest pump pressure at which a solve is done, if the flow error is small as well.
const TOLERANCE: f64 = 1e-11;
/// Flow error over the greatest flow, made from pressure error and slope, at which a solve is done. Errors of many links add up:
/// answers from unlike starts agree to ten times this.
const FLOW_TOLERANCE: f64 = 1e-10;
/// Greatest error of mass and of energy with which an answer counts as one.
const ACCEPTED_ERROR: f64 = 1e-10;

/// Whether a chain follows its law or is held at an end of its range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mode {
    Free,
    AtLow,
    AtHigh,
}

/// What a chain hands on from one end to the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Passing {
    /// Pressure, less what its law takes.
    Pressure,
    /// A flow whatever the pressure across it: a limiter at its set flow.
    Flow,
    /// A shut link, a check valve without flow.
    Nothing,
}

impl Mode {
    /// The mode and the flow of a chain whose range changed.
    pub(super) fn under(self, range: FlowRange, was_shut: bool, flow: f64, ordinary: f64) -> (Self, f64) {
        let bound = if self == Self::AtLow { range.low } else { range.high };
        match self {
            _ if range.is_shut() => (Self::AtLow, range.low),
            _ if was_shut => (Self::Free, ordinary),
            Self::AtLow | Self::AtHigh if bound.is_finite() => (self, bound),
            _ => (Self::Free, flow.max(range.low).min(range.high)),
        }
    }

    /// At rest: no flow, held where the range ends there.
    pub(super) fn at_rest(range: FlowRange) -> Self {
        match range {
            range if range.high == 0.0 && range.low < 0.0 => Self::AtHigh,
            range if range.low == 0.0 => Self::AtLow,
            _ => Self::Free,
        }
    }

    /// What passes along a chain in this mode with a flow.
    pub(super) fn passing(self, flow: f64) -> Passing {
        match self {
            Self::Free => Passing::Pressure,
            _ if flow == 0.0 => Passing::Nothing,
            _ => Passing::Flow,
        }
    }

    /// By how much pressure across a chain contradicts its law and mode.
    #[inline(always)]
    pub(super) fn error(self, over: f64, is_shut: bool) -> f64 {
        match self {
            Self::Free => over.abs(),
            Self::AtLow if is_shut => 0.0,
            Self::AtLow => over.max(0.0),
            Self::AtHigh => (-over).max(0.0),
        }
    }
}

/// The floors of a chain's slope.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Floors {
    /// Least slope in the equations.
    pub(super) least: f64,
    /// Least slope by which errors are read.
    pub(super) judged: f64,
}

impl Floors {
    pub(super) fn new(slope_at_nominal: f64) -> Self {
        Self { least: (SLOPE_FLOOR * slope_at_nominal).max(1e-6), judged: JUDGED_FLOOR * slope_at_nominal }
    }

    /// The slope at nominal flow that they were made from.
    pub(super) fn nominal_slope(&self) -> f64 {
        self.judged / JUDGED_FLOOR
    }
}

/// The errors allowed at one step.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits {
    pressure: f64,
    flow: f64,
    rounding: f64,
    flow_rounding: f64,
    balanced: f64,
    /// How far the pressure across a held chain must be beyond its law to call it back.
    pub(super) call_back: f64,
}

impl Limits {
    /// From the greatest pump pressure (1 Pa at least), the greatest pump flow (a thousandth of run-out at least, so that
    /// rounding around standstill is not an error) and the greatest run-out flow.
    pub(super) fn new(pressure_pa: f64, flow: f64, run_out: f64) -> Self {
        let pressure_pa = pressure_pa.max(1.0);
        let flow = flow.max(1e-3 * run_out).max(1e-12);
        Self {
            pressure: TOLERANCE * pressure_pa,
            flow: FLOW_TOLERANCE * flow,
            rounding: 1e-14 * pressure_pa,
            flow_rounding: 1e-12 * flow,
            balanced: 0.5 * ACCEPTED_ERROR * pressure_pa,
            call_back: 1e-12 * pressure_pa,
        }
    }

    /// Whether a law fits the pressure across it: the error is small both as pressure and as the flow it stands for, or is
    /// rounding, or amounts, on a steep law, to a flow of the order of rounding and leaves the balances well within what counts.
    #[inline(always)]
    pub(super) fn is_met(&self, error: f64, slope: f64, floors: Floors) -> bool {
        (error <= self.pressure && error <= self.flow * if slope > floors.judged { slope } else { floors.judged })
            || error <= self.rounding
            || (error <= self.balanced && error <= self.flow_rounding * slope)
    }
}

/// Whether an outcome balances and, with one pump, is a point that holds. The only point of one pump that Newton finds
/// unstable is rest under a slope of 100 %: flow is looked for then.
pub(super) fn is_answer(outcome: &Outcome, network: &Network) -> bool {
    balances(outcome) && (network.pumps.len() > 1 || !is_false_rest(outcome, network))
}

/// Whether mass and energy balance.
pub(super) fn balances(outcome: &Outcome) -> bool {
    outcome.mass_error <= ACCEPTED_ERROR && outcome.energy_error <= ACCEPTED_ERROR
}

/// Whether one pump stands at rest although the slightest flow would carry it away from there.
fn is_false_rest(outcome: &Outcome, network: &Network) -> bool {
    let (pump, done) = (&network.pumps[0], &outcome.pumps[0]);
    if !done.is_stable() {
        return true;
    }
    let (run_out, shut_off) = pump.scale();
    let slightest = 1e-9 * run_out;
    done.flow <= slightest
        && done.rise_pa < 1e-6 * shut_off
        && done.system_slope <= pump.rise(slightest).map_or(0.0, |(_, slope)| slope)
}
