//! Uncertainty: how far figures of the drawing may be off what is built.

/// By what share the figures of a drawing may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertainty {
    /// Lengths of pipes, as a share.
    pub length: f64,
    /// Roughness of pipes, as a share.
    pub roughness: f64,
    /// Mass share of glycol, absolute: 0.05 is five points of the percentage.
    pub glycol: f64,
    /// Kv of valves, as a share.
    pub valve: f64,
}

impl Default for Uncertainty {
    /// 10 % of lengths, 50 % of roughness, 5 points of glycol, 10 % of Kv (common practice, no source).
    fn default() -> Self {
        Self { length: 0.10, roughness: 0.50, glycol: 0.05, valve: 0.10 }
    }
}
