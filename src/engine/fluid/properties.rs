//! What the links need to know of the fluid at one temperature.

/// Properties of a fluid at one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FluidProperties {
    /// The temperature they hold at, °C.
    pub temperature_c: f64,
    /// Density ρ, kg/m³.
    pub density_kg_per_m3: f64,
    /// Dynamic viscosity μ, Pa·s.
    pub dynamic_viscosity_pa_s: f64,
    /// Isobaric specific heat capacity `c_p`, J/(kg K).
    pub heat_capacity_j_per_kg_k: f64,
}

impl FluidProperties {
    /// Kinematic viscosity ν = μ/ρ, m²/s: what the Reynolds number takes.
    #[must_use]
    pub fn kinematic_viscosity_m2_per_s(&self) -> f64 {
        self.dynamic_viscosity_pa_s / self.density_kg_per_m3
    }

    /// Heat that a volume carries per kelvin, `ρ c_p`, J/(m³ K): flow times this times ΔT is the heat.
    #[must_use]
    pub fn volumetric_heat_capacity_j_per_m3_k(&self) -> f64 {
        self.density_kg_per_m3 * self.heat_capacity_j_per_kg_k
    }
}
