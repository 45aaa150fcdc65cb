//! Limits: what a designer lets pipes, valves and pressures come to. Checks hold the present flows against them.

/// Greatest bore that the trade counts as DN 50, m: bores of DN 50 go up to 54 mm, those of DN 65 begin at 58 mm (published
/// dimension tables).
pub const DN_50_BORE_M: f64 = 0.056;

/// Bands and bounds of a design, and who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Least and most friction in a pipe, Pa/m.
    pub friction: [f64; 2],
    /// Least velocity in a pipe, so that air is carried along, and most up to DN 50, m/s.
    pub velocity: [f64; 2],
    /// Least authority of a valve that regulates.
    pub authority: f64,
    /// Least distance of the pressure from that at which the water boils, Pa.
    pub boiling_margin: f64,
    /// Most pressure drop over a valve that a zone regulates by, so that it is not heard, Pa.
    pub valve_drop: f64,
    /// Where they come from.
    pub source: String,
}

impl Default for Limits {
    /// Least friction, 100 Pa/m, authority, 0.3, and most drop over a valve, 20 kPa: common practice, no source. Most friction,
    /// 400 Pa/m, and velocity, 0.6 to 1.2 m/s up to DN 50: ASHRAE Handbook – Fundamentals, pipe sizing (from memory). 30 kPa
    /// above boiling: EN 12828 (from memory).
    fn default() -> Self {
        Self {
            friction: [100.0, 400.0],
            velocity: [0.6, 1.2],
            authority: 0.3,
            boiling_margin: 30e3,
            valve_drop: 20e3,
            source: "least friction, authority, drop over valves: common practice; most friction, velocity: ASHRAE \
                     Fundamentals; pressure: EN 12828 (both from memory)"
                .to_owned(),
        }
    }
}

impl Limits {
    /// What limits can be.
    pub(super) const CAN_BE: &str = "bands of friction and velocity must begin at zero or more and end above, the authority \
                                     must lie between 0 and 100 %, the margin to boiling must not be negative, and the \
                                     drop over a valve must lie above zero: correct them";

    /// The most velocity in a bore, m/s; above DN 50 friction alone decides.
    #[must_use]
    pub fn most_velocity(&self, bore_m: f64) -> Option<f64> {
        (bore_m <= DN_50_BORE_M).then_some(self.velocity[1])
    }

    /// Whether there can be such limits.
    #[must_use]
    pub fn can_be(&self) -> bool {
        let is_band = |[least, most]: [f64; 2]| least >= 0.0 && most > least && most.is_finite();
        is_band(self.friction)
            && is_band(self.velocity)
            && (0.0..1.0).contains(&self.authority)
            && self.boiling_margin >= 0.0
            && self.boiling_margin.is_finite()
            && self.valve_drop > 0.0
            && self.valve_drop.is_finite()
    }
}
