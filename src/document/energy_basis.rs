//! The energy basis: what a kilowatt-hour costs and emits. Nothing is built in, for both differ by place and year.

/// What energy is reckoned by, and who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct EnergyBasis {
    /// Price of electricity for a kilowatt-hour, in the currency; `None` if nobody gave one.
    pub price_per_kwh: Option<f64>,
    /// Name or sign of the currency.
    pub currency: String,
    /// Where the price comes from, with its year.
    pub price_source: String,
    /// Carbon dioxide emitted for a kilowatt-hour of electricity, kg; `None` if nobody gave a factor.
    pub co2_kg_per_kwh: Option<f64>,
    /// Where the factor comes from: its publisher and year.
    pub co2_source: String,
    /// Whether the pump's standby power counts in the hours of the year that no scenario stands for.
    pub counts_standby: bool,
}

impl Default for EnergyBasis {
    /// Neither price nor factor.
    fn default() -> Self {
        Self {
            price_per_kwh: None,
            currency: String::new(),
            price_source: String::new(),
            co2_kg_per_kwh: None,
            co2_source: String::new(),
            counts_standby: true,
        }
    }
}
