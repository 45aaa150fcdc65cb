//! The set-line: the head that regulation aims at over the flow.

use super::{PumpCurve, ReferenceFlow, Regulation};

/// A set-line: it rises from (1 − s) H_lim at no flow to H_lim at the reference flow and is level from there on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetLine {
    /// Head limit, m.
    pub limit_m: f64,
    /// How far it has fallen at no flow, as a fraction of the limit.
    pub slope: f64,
    /// Reference flow, m³/s.
    pub reference_m3_per_s: f64,
}

impl SetLine {
    /// The set-line of settings over a curve; `None` without a head limit, or where the curve never reaches it.
    #[must_use]
    pub fn new(settings: &Regulation, curve: &PumpCurve) -> Option<Self> {
        let limit_m = settings.head_limit_m?;
        let reference_m3_per_s = match settings.reference {
            ReferenceFlow::FullSpeed => curve.crossing(1.0, limit_m),
            ReferenceFlow::CappedSpeed => curve.crossing(settings.speed_cap, limit_m),
            ReferenceFlow::DesignFlow(flow) => Some(flow),
        };
        let reference_m3_per_s = reference_m3_per_s.filter(|flow| *flow > 0.0)?;
        Some(Self { limit_m, slope: settings.slope, reference_m3_per_s })
    }

    /// Head (m) and its derivative by flow.
    #[must_use]
    pub fn head(&self, flow: f64) -> (f64, f64) {
        if flow >= self.reference_m3_per_s {
            return (self.limit_m, 0.0);
        }
        let fall = self.limit_m * self.slope;
        let rise = if flow > 0.0 { fall / self.reference_m3_per_s } else { 0.0 };
        (self.limit_m - fall * (1.0 - flow.max(0.0) / self.reference_m3_per_s), rise)
    }
}
