//! Settings as a choice of speed: in each state of the valves a pump turns at the least of what its set-line, its cap and its power limit
//! let it turn at, but never slower than its minimum speed. This is what `engine::pump::Regulated` says along a system curve,
//! on which flow and head both rise with speed.

use super::served::Edge;
use super::table::{Between, StateTable};
use crate::engine::pump::{GoverningLimit, PumpCurve, Regulation, SetLine};

/// Settings, ready to be laid over states.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Law {
    pub(in crate::study) line: Option<SetLine>,
    pub(in crate::study) cap: f64,
    pub(in crate::study) least: f64,
    pub(in crate::study) power_w: Option<f64>,
}

/// What settings do in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StatePoint {
    /// Speed, a fraction of full speed.
    pub speed: f64,
    /// Flow of the pump, m³/s.
    pub flow: f64,
    /// Its head, m.
    pub head: f64,
    /// Its electric power, W.
    pub electric_w: f64,
    /// Electric power of all other pumps, W.
    pub others_w: f64,
    /// What decides.
    pub governing: GoverningLimit,
}

impl Law {
    /// Settings over a pump's full-speed curve.
    #[must_use]
    pub fn new(settings: &Regulation, curve: &PumpCurve) -> Self {
        Self {
            line: SetLine::new(settings, curve),
            cap: settings.speed_cap,
            least: settings.minimum_speed,
            power_w: settings.power_limit_w,
        }
    }

    /// The speed at which a state settles, and what decides it.
    #[inline]
    pub(in crate::study) fn speed(&self, table: &StateTable) -> (f64, GoverningLimit) {
        let mut found = (self.cap, GoverningLimit::SpeedCap);
        if let Some(limited) = self.power_w.and_then(|power_w| table.at_power(power_w))
            && limited < found.0
        {
            found = (limited, GoverningLimit::PowerLimit);
        }
        if let Some(line) = &self.line
            && let Some(speed) = table.meets(|flow| line.head(flow).0)
            && speed < found.0
        {
            found = (speed, GoverningLimit::SetLine);
        }
        if self.least > found.0 { (self.least, GoverningLimit::MinimumSpeed) } else { found }
    }

    /// What the settings do in a state.
    #[must_use]
    pub fn point(&self, table: &StateTable) -> StatePoint {
        let (speed, governing) = self.speed(table);
        let at = table.between(speed);
        let [flow, head] = table.point(at);
        let is_flat = self.line.is_some_and(|line| line.slope == 0.0 || flow >= line.reference_m3_per_s);
        let governing = match governing {
            GoverningLimit::SetLine if is_flat => GoverningLimit::HeadLimit,
            other => other,
        };
        let [electric_w, others_w] = [table.power_w(at), table.others_w(at)];
        StatePoint { speed, flow, head, electric_w, others_w, governing }
    }

    pub(super) fn place(&self, table: &StateTable) -> Between {
        table.between(self.speed(table).0)
    }

    /// How far the settings let a pump come up to an edge, as a ratio of heads: one where they bring it just there, less where they
    /// hold it below. Along a system curve head goes with the square of speed; what matters is on which side of one it lies.
    #[inline]
    #[must_use]
    pub fn reach(&self, edge: &Edge) -> f64 {
        let square = |speed: f64| (speed / edge.speed).powi(2);
        let mut reach = square(self.cap);
        if let Some(line) = &self.line {
            reach = reach.min(line.head(edge.flow).0 / edge.head);
        }
        if let Some(power_w) = self.power_w {
            reach = reach.min((power_w / edge.electric_w).powf(2.0 / 3.0));
        }
        reach.max(square(self.least))
    }
}
