//! Unit: every unit a number may be typed or shown in, one row each.
//!
//! Sources: `uom` where it has the unit; otherwise the definition beside the row.

use super::Quantity;
use super::factor::{coefficient, cv_in_kv, foot_water_per_100_ft_pa_per_m, ton_of_refrigeration_w};
use uom::si::{
    dynamic_viscosity, energy, frequency, length, mass_density, power, pressure, ratio, specific_heat_capacity,
    temperature_interval, time, velocity, volume, volume_rate,
};

/// Builds [`Unit`]: a row gives the variant, the quantity it is first of all for, its stable identifier, its symbol,
/// the decimals it is shown with, other symbols understood when typed, and its size in the inside unit.
macro_rules! units {
    ($(
        $(#[$doc:meta])+
        $variant:ident: $quantity:ident, $id:literal, $symbol:literal, $decimals:literal, [$($also:literal),*],
            $factor:expr;
    )+) => {
        /// A unit that a number may be typed or shown in. Gallons are US gallons, pounds avoirdupois, and Btu those
        /// of the International Table.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Unit { $($(#[$doc])+ $variant,)+ }

        impl Unit {
            /// Every unit.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The quantity that this unit is first of all for; a few units serve more ([`Quantity::choices`]).
            pub fn quantity(self) -> Quantity {
                match self { $(Self::$variant => Quantity::$quantity,)+ }
            }

            /// Stable plain identifier, for files.
            pub fn id(self) -> &'static str {
                match self { $(Self::$variant => $id,)+ }
            }

            /// Symbol as printed beside a number.
            pub fn symbol(self) -> &'static str {
                match self { $(Self::$variant => $symbol,)+ }
            }

            /// Most decimals that a number in this unit is shown with.
            pub fn decimals(self) -> usize {
                match self { $(Self::$variant => $decimals,)+ }
            }

            /// Other ways of writing the symbol that are understood when typed.
            pub(super) fn also(self) -> &'static [&'static str] {
                match self { $(Self::$variant => &[$($also),*],)+ }
            }

            /// Size of the unit in the inside unit of its quantity.
            pub(super) fn factor(self) -> f64 {
                match self { $(Self::$variant => $factor,)+ }
            }
        }
    };
}

units! {
    /// Cubic metre per hour.
    CubicMetrePerHour: Flow, "m3_per_h", "m³/h", 3, ["cmh"], coefficient::<volume_rate::cubic_meter_per_hour>();
    /// Litre per second.
    LitrePerSecond: Flow, "l_per_s", "L/s", 3, ["lps"], coefficient::<volume_rate::liter_per_second>();
    /// Litre per minute.
    LitrePerMinute: Flow, "l_per_min", "L/min", 1, ["lpm"], coefficient::<volume_rate::liter_per_minute>();
    /// Litre per hour.
    LitrePerHour: Flow, "l_per_h", "L/h", 0, ["lph"], coefficient::<volume::liter>() / coefficient::<time::hour>();
    /// Cubic metre per second.
    CubicMetrePerSecond: Flow, "m3_per_s", "m³/s", 6, [], coefficient::<volume_rate::cubic_meter_per_second>();
    /// US gallon (231 in³) per minute.
    UsGallonPerMinute: Flow, "gpm", "gpm", 2, ["gal/min", "usgpm"], coefficient::<volume_rate::gallon_per_minute>();
    /// Metre of the fluid pumped.
    MetreHead: Head, "m_head", "m", 2, ["metre", "meter"], coefficient::<length::meter>();
    /// Foot of the fluid pumped.
    FootHead: Head, "ft_head", "ft", 2, ["foot", "feet", "'"], coefficient::<length::foot>();
    /// Kilopascal.
    KiloPascal: Pressure, "kpa", "kPa", 1, [], coefficient::<pressure::kilopascal>();
    /// Bar.
    Bar: Pressure, "bar", "bar", 3, [], coefficient::<pressure::bar>();
    /// Pascal.
    Pascal: Pressure, "pa", "Pa", 0, [], coefficient::<pressure::pascal>();
    /// Pound-force per square inch.
    Psi: Pressure, "psi", "psi", 2, ["lbf/in²"], coefficient::<pressure::psi>();
    /// Watt.
    Watt: Power, "w", "W", 1, [], coefficient::<power::watt>();
    /// Kilowatt.
    KiloWatt: Heat, "kw", "kW", 2, [], coefficient::<power::kilowatt>();
    /// Horsepower of 550 ft·lbf/s.
    Horsepower: Power, "hp", "hp", 3, [], coefficient::<power::horsepower>();
    /// British thermal unit per hour.
    BtuPerHour: Heat, "btu_per_h", "Btu/h", 0, ["btuh", "btu/hr"],
        coefficient::<energy::btu_it>() / coefficient::<time::hour>();
    /// Thousand British thermal units per hour.
    KiloBtuPerHour: Heat, "kbtu_per_h", "kBtu/h", 2, ["mbh", "kbtuh"],
        1000.0 * coefficient::<energy::btu_it>() / coefficient::<time::hour>();
    /// Ton of refrigeration.
    TonOfRefrigeration: Heat, "ton_refrigeration", "ton", 2, ["tons", "tr"], ton_of_refrigeration_w();
    /// Degree Celsius.
    DegreeCelsius: Temperature, "celsius", "°C", 1, [], 1.0;
    /// Degree Fahrenheit, 1.8 °C + 32.
    DegreeFahrenheit: Temperature, "fahrenheit", "°F", 1, [],
        coefficient::<temperature_interval::degree_fahrenheit>();
    /// Kelvin, of a difference.
    Kelvin: TemperatureDifference, "kelvin", "K", 1, ["°C"], coefficient::<temperature_interval::kelvin>();
    /// Degree Fahrenheit, of a difference.
    FahrenheitDifference: TemperatureDifference, "fahrenheit_difference", "°F", 1, [],
        coefficient::<temperature_interval::degree_fahrenheit>();
    /// Metre.
    Metre: Length, "m", "m", 1, ["metre", "meter", "metres", "meters"], coefficient::<length::meter>();
    /// Millimetre.
    Millimetre: Bore, "mm", "mm", 1, [], coefficient::<length::millimeter>();
    /// Foot.
    Foot: Length, "ft", "ft", 1, ["foot", "feet", "'"], coefficient::<length::foot>();
    /// Inch.
    Inch: Bore, "in", "in", 3, ["inch", "inches", "\""], coefficient::<length::inch>();
    /// Millimetre, with the decimals of a roughness.
    MillimetreRoughness: Roughness, "mm_roughness", "mm", 4, [], coefficient::<length::millimeter>();
    /// Micrometre.
    Micrometre: Roughness, "um", "µm", 1, [], coefficient::<length::micrometer>();
    /// Foot, with the decimals of a roughness.
    FootRoughness: Roughness, "ft_roughness", "ft", 6, ["foot", "feet"], coefficient::<length::foot>();
    /// Thousandth of an inch.
    Mil: Roughness, "mil", "mil", 2, ["mils", "thou"], 0.001 * coefficient::<length::inch>();
    /// Metre per second.
    MetrePerSecond: Velocity, "m_per_s", "m/s", 2, [], coefficient::<velocity::meter_per_second>();
    /// Foot per second.
    FootPerSecond: Velocity, "ft_per_s", "ft/s", 2, ["fps"], coefficient::<velocity::foot_per_second>();
    /// Pascal per metre.
    PascalPerMetre: FrictionGradient, "pa_per_m", "Pa/m", 0, [],
        coefficient::<pressure::pascal>() / coefficient::<length::meter>();
    /// Millimetre of conventional water per metre.
    MillimetreWaterPerMetre: FrictionGradient, "mm_water_per_m", "mm/m", 1, [],
        coefficient::<pressure::millimeter_of_water>() / coefficient::<length::meter>();
    /// Foot of conventional water per hundred feet of pipe.
    FootPerHundredFeet: FrictionGradient, "ft_per_100_ft", "ft/100 ft", 2, ["ft per 100 ft"],
        foot_water_per_100_ft_pa_per_m();
    /// Kv: m³/h of water at a pressure drop of 1 bar.
    Kv: FlowCoefficient, "kv", "Kv", 2, ["m³/h", "kvs"], 1.0;
    /// Cv: US gallons per minute of water at a pressure drop of 1 psi.
    Cv: FlowCoefficient, "cv", "Cv", 2, [], cv_in_kv();
    /// Per cent, of a share.
    Percent: Share, "percent", "%", 0, ["percent"], coefficient::<ratio::percent>();
    /// Per cent, with the decimals of a speed.
    PercentSpeed: Speed, "percent_speed", "%", 1, ["percent"], coefficient::<ratio::percent>();
    /// Revolution per minute.
    RevolutionPerMinute: RotationalSpeed, "r_per_min", "r/min", 0, ["rpm", "1/min"], 1.0;
    /// Revolution per second.
    RevolutionPerSecond: RotationalSpeed, "r_per_s", "r/s", 2, ["1/s", "rps"],
        coefficient::<frequency::hertz>() / coefficient::<frequency::cycle_per_minute>();
    /// Kilowatt-hour.
    KiloWattHour: Energy, "kwh", "kWh", 0, [], coefficient::<energy::kilowatt_hour>();
    /// Megawatt-hour.
    MegaWattHour: Energy, "mwh", "MWh", 2, [], coefficient::<energy::megawatt_hour>();
    /// Megajoule.
    MegaJoule: Energy, "mj", "MJ", 0, [], coefficient::<energy::megajoule>();
    /// Thousand British thermal units.
    KiloBtu: Energy, "kbtu", "kBtu", 0, [], 1000.0 * coefficient::<energy::btu_it>();
    /// Kilogram per cubic metre.
    KilogramPerCubicMetre: Density, "kg_per_m3", "kg/m³", 1, [], coefficient::<mass_density::kilogram_per_cubic_meter>();
    /// Pound per cubic foot.
    PoundPerCubicFoot: Density, "lb_per_ft3", "lb/ft³", 2, [], coefficient::<mass_density::pound_per_cubic_foot>();
    /// Millipascal-second.
    MilliPascalSecond: Viscosity, "mpa_s", "mPa·s", 3, [], coefficient::<dynamic_viscosity::millipascal_second>();
    /// Centipoise, equal to the millipascal-second.
    Centipoise: Viscosity, "cp", "cP", 3, [], coefficient::<dynamic_viscosity::centipoise>();
    /// Kilojoule per kilogram and kelvin.
    KiloJoulePerKilogramKelvin: SpecificHeat, "kj_per_kg_k", "kJ/(kg·K)", 3, ["kJ/kgK"],
        coefficient::<specific_heat_capacity::kilojoule_per_kilogram_kelvin>();
    /// British thermal unit per pound and degree Fahrenheit.
    BtuPerPoundFahrenheit: SpecificHeat, "btu_per_lb_f", "Btu/(lb·°F)", 3, ["Btu/lb°F"],
        coefficient::<specific_heat_capacity::btu_it_per_pound_degree_fahrenheit>();
    /// Litre.
    Litre: Volume, "l", "L", 1, ["litre", "liter"], coefficient::<volume::liter>();
    /// Cubic metre.
    CubicMetre: Volume, "m3", "m³", 3, [], coefficient::<volume::cubic_meter>();
    /// US gallon of 231 in³.
    UsGallon: Volume, "gal", "gal", 1, ["gallon", "gallons"], coefficient::<volume::gallon>();
    /// Hour.
    Hour: Time, "h", "h", 0, ["hr", "hours"], coefficient::<time::hour>();
    /// Minute.
    Minute: Time, "min", "min", 1, [], coefficient::<time::minute>();
    /// Second.
    Second: Time, "s", "s", 1, [], coefficient::<time::second>();
}

impl Unit {
    /// The unit with this identifier, if there is one.
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|unit| unit.id() == id)
    }
}
