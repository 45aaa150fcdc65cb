//! The grid that things are brought onto; it can be switched off.

/// How far apart places are while the grid is off, grid steps: figures that can be read in the file.
const FINE: f64 = 0.05;

/// Whether places are brought onto the grid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in super::super) struct Snap {
    pub(super) on: bool,
}

impl Default for Snap {
    fn default() -> Self {
        Self { on: true }
    }
}

impl Snap {
    /// How far apart places are, grid steps.
    pub(super) fn step(self) -> f64 {
        if self.on { 1.0 } else { FINE }
    }

    /// The nearest place that things may stand at.
    pub(in super::super) fn place(self, [x, y]: [f64; 2]) -> [f64; 2] {
        // As a whole number of steps to one, so that no digits of rounding get into the file.
        let per_step = (1.0 / self.step()).round();
        [(x * per_step).round() / per_step, (y * per_step).round() / per_step]
    }
}
