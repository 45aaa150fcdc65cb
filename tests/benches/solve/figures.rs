//! The figures that the laws of the benchmark's systems are made from.

use headwise::engine::links::{FixedLoss, LinkLaw, Pipe, Valve};

/// Density, kg/m³.
pub const DENSITY: f64 = 983.2;
/// Dynamic viscosity, Pa·s.
pub const VISCOSITY: f64 = 4.66e-4;

/// What a law is made from.
#[derive(Clone, Copy, Debug)]
pub enum Figures {
    /// A straight pipe.
    Pipe {
        /// Length, m.
        length_m: f64,
        /// Bore, m.
        bore_m: f64,
        /// Absolute roughness, m.
        roughness_m: f64,
        /// Σζ.
        minor_k: f64,
    },
    /// A loss that goes with the square of the flow.
    Fixed {
        /// Rated loss, Pa.
        loss_pa: f64,
        /// Rated flow, m³/s.
        flow_m3_per_s: f64,
    },
    /// A valve.
    Valve {
        /// Present Kv, m³/h.
        kv_m3_per_h: f64,
    },
}

impl Figures {
    /// The law.
    pub fn law(self) -> LinkLaw {
        match self {
            Self::Pipe { length_m, bore_m, roughness_m, minor_k } => {
                LinkLaw::Pipe(Pipe::new(length_m, bore_m, roughness_m, minor_k, DENSITY, VISCOSITY))
            }
            Self::Fixed { loss_pa, flow_m3_per_s } => LinkLaw::Fixed(FixedLoss::new(loss_pa, flow_m3_per_s, 2.0)),
            Self::Valve { kv_m3_per_h } => LinkLaw::Valve(Valve::new(kv_m3_per_h, DENSITY)),
        }
    }

    /// Kind and figures as one row.
    pub fn row(self) -> (&'static str, [f64; 4]) {
        match self {
            Self::Pipe { length_m, bore_m, roughness_m, minor_k } => ("pipe", [length_m, bore_m, roughness_m, minor_k]),
            Self::Fixed { loss_pa, flow_m3_per_s } => ("fixed", [loss_pa, flow_m3_per_s, 0.0, 0.0]),
            Self::Valve { kv_m3_per_h } => ("valve", [kv_m3_per_h, 0.0, 0.0, 0.0]),
        }
    }
}
