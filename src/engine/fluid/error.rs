//! Why a fluid has no properties: one sentence each on what was asked, where, and what to do.

use super::{Fluid, FluidKind};
use thiserror::Error;

/// What is wrong with a fluid or with the temperature asked of it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum FluidError {
    /// The temperature is below freezing or above the end of the correlation.
    #[error(
        "The properties of {fluid} are known from {low_c:.1} °C, where it freezes, to {high_c:.1} °C, but \
         {found_c:.1} °C was asked for; {}.",
        temperature_advice(*found_c, *low_c)
    )]
    TemperatureOutside {
        /// The fluid that was asked.
        fluid: Fluid,
        /// The temperature asked for, °C.
        found_c: f64,
        /// Lowest temperature of the range, the freezing point, °C.
        low_c: f64,
        /// Highest temperature of the range, °C.
        high_c: f64,
    },

    /// The glycol share is negative or beyond the correlation.
    #[error(
        "A mixture with {:.1} % by mass {kind} is not in the tables, which go from 0 to {:.0} % by mass; \
         enter a share in that range.",
        100.0 * found,
        100.0 * high
    )]
    GlycolShareOutside {
        /// The glycol.
        kind: FluidKind,
        /// The share found, by mass.
        found: f64,
        /// The highest share of the tables, by mass.
        high: f64,
    },

    /// Plain water was given a glycol share.
    #[error(
        "The fluid is water but its glycol share is {:.1} %; choose propylene or ethylene glycol, or set the \
         share to 0 %.",
        100.0 * found
    )]
    GlycolShareOfWater {
        /// The share found, by mass or by volume.
        found: f64,
    },

    /// A share to convert between mass and volume is not a share at all.
    #[error(
        "A share of {:.1} % {kind} cannot be converted between mass and volume; enter a share from 0 to 100 %.",
        100.0 * found
    )]
    NotAShare {
        /// The glycol.
        kind: FluidKind,
        /// The share found, by mass or by volume.
        found: f64,
    },
}

/// Frost can be met with more glycol; heat only with a lower temperature.
fn temperature_advice(found_c: f64, low_c: f64) -> &'static str {
    if found_c < low_c {
        "choose a warmer temperature or a larger glycol share"
    } else {
        "choose a temperature in that range"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_carry_what_where_and_what_to_do() {
        let message = Fluid::water().properties(130.0).map_err(|error| error.to_string());
        assert_eq!(
            message,
            Err("The properties of water are known from 0.0 °C, where it freezes, to 120.0 °C, but 130.0 °C \
                 was asked for; choose a temperature in that range."
                .to_owned())
        );
        let cold = Fluid::new(FluidKind::PropyleneGlycol, 0.3)
            .and_then(|fluid| fluid.properties(-20.0))
            .map_err(|error| error.to_string());
        assert_eq!(
            cold,
            Err("The properties of 30.0 % by mass propylene glycol are known from -12.8 °C, where it freezes, to \
                 100.0 °C, but -20.0 °C was asked for; choose a warmer temperature or a larger glycol share."
                .to_owned())
        );
        let message = Fluid::new(FluidKind::EthyleneGlycol, 0.7).map_err(|error| error.to_string());
        assert_eq!(
            message,
            Err("A mixture with 70.0 % by mass ethylene glycol is not in the tables, which go from 0 to 60 % \
                 by mass; enter a share in that range."
                .to_owned())
        );
    }
}
