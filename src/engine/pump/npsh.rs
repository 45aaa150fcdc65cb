//! Net positive suction head at the inlet of a pump in a closed system: how far the water there is from boiling.
//!
//! ```text
//! NPSHA = (p_gauge + p_atm − p_v)/(ρ g) + v²/(2 g)
//! p_boil = p_v − p_atm
//! ```
//!
//! NPSHA net positive suction head available, m of the fluid; `p_gauge` pressure at the centre of the inlet flange, Pa gauge;
//! `p_atm` pressure of the air around, Pa; `p_v` vapour pressure at the fluid's temperature, Pa absolute; ρ density, kg/m³;
//! v velocity in the inlet, m/s; `p_boil` gauge pressure at which the fluid boils at rest. Textbook definition (as in
//! ISO 9906 and ISO 17769-1, from memory).
//!
//! In a closed system height and friction on the way to the pump are already in the inlet's pressure and do not enter
//! again. Validity: that of the fluid's vapour pressure; gas that comes out of solution earlier is left out. For glycol the
//! vapour pressure is an estimate, and water's own is the cautious one.
//!
//! NPSHA must exceed what the pump requires by a margin of 0.5 to 1 m (common practice, no source). Small pumps whose rotor
//! runs in the water are rated by a least inlet pressure at stated temperatures instead; that is the maker's figure.

use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::fluid::{Fluid, FluidError};

/// Standard atmosphere, Pa (10th CGPM 1954, exact by definition): the air at sea level.
pub const STANDARD_ATMOSPHERE_PA: f64 = 101_325.0;

/// The fluid at the inlet flange of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpInlet {
    /// Pressure at the centre of the flange, Pa above the air around.
    pub gauge_pressure_pa: f64,
    /// Pressure of the air around, Pa absolute: [`STANDARD_ATMOSPHERE_PA`] at sea level, less higher up.
    pub air_pressure_pa: f64,
    /// Mean velocity in the flange, m/s.
    pub velocity_m_per_s: f64,
    /// Temperature of the fluid there, °C.
    pub temperature_c: f64,
}

impl PumpInlet {
    /// NPSHA = (p_gauge + p_atm − p_v)/(ρ g) + v²/(2 g), m of the fluid.
    ///
    /// The static part is negative where the fluid already boils.
    ///
    /// ```
    /// use headwise::engine::fluid::Fluid;
    /// use headwise::engine::pump::{PumpInlet, STANDARD_ATMOSPHERE_PA};
    ///
    /// let inlet = PumpInlet {
    ///     gauge_pressure_pa: 50e3,
    ///     air_pressure_pa: STANDARD_ATMOSPHERE_PA,
    ///     velocity_m_per_s: 0.8,
    ///     temperature_c: 80.0,
    /// };
    /// assert!((inlet.npsh_available_m(&Fluid::water())? - 10.93).abs() < 0.01);
    /// # Ok::<(), headwise::engine::fluid::FluidError>(())
    /// ```
    pub fn npsh_available_m(&self, fluid: &Fluid) -> Result<f64, FluidError> {
        let density = fluid.properties(self.temperature_c)?.density_kg_per_m3;
        let above_boiling_pa = self.gauge_pressure_pa - self.boiling_gauge_pressure_pa(fluid)?;
        let velocity_head_m = self.velocity_m_per_s.powi(2) / (2.0 * GRAVITY_M_PER_S2);
        Ok(above_boiling_pa / (density * GRAVITY_M_PER_S2) + velocity_head_m)
    }

    /// The gauge pressure at which the fluid would boil at rest, p_v − p_atm, Pa; negative below the air's pressure.
    pub fn boiling_gauge_pressure_pa(&self, fluid: &Fluid) -> Result<f64, FluidError> {
        boiling_gauge_pressure_pa(fluid, self.temperature_c, self.air_pressure_pa)
    }
}

/// The gauge pressure at which a fluid of this temperature (°C) boils at rest under air of `air_pressure_pa` (Pa absolute):
/// p_v − p_atm, Pa; negative below the air's pressure. Nowhere in the circuit may the pressure fall so low.
pub fn boiling_gauge_pressure_pa(fluid: &Fluid, temperature_c: f64, air_pressure_pa: f64) -> Result<f64, FluidError> {
    Ok(fluid.vapour_pressure_pa(temperature_c)? - air_pressure_pa)
}
