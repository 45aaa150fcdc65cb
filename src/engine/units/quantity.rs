//! Quantity: the kinds of number that the program shows, each with its inside unit and the units it may be shown in.

use super::Unit;

/// Builds [`Quantity`]: a row gives the variant, its stable identifier, its name in a sentence, and its units, the
/// SI default first, then the inch-pound default.
macro_rules! quantities {
    ($(
        $(#[$doc:meta])+
        $variant:ident: $id:literal, $name:literal, [$si:ident $(, $other:ident)*], inch_pound $ip:ident;
    )+) => {
        /// A kind of number, with one inside unit (see each variant) and several units to show it in.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum Quantity { $($(#[$doc])+ $variant,)+ }

        impl Quantity {
            /// Every quantity, in the order in which a settings page lists them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// Stable plain identifier, for files.
            pub fn id(self) -> &'static str {
                match self { $(Self::$variant => $id,)+ }
            }

            /// Name within a sentence, in lower case.
            pub fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }

            /// Units that this quantity may be shown in and typed in; the first is the SI default.
            pub fn choices(self) -> &'static [Unit] {
                match self { $(Self::$variant => &[Unit::$si $(, Unit::$other)*],)+ }
            }

            pub(super) fn si_default(self) -> Unit {
                match self { $(Self::$variant => Unit::$si,)+ }
            }

            pub(super) fn inch_pound_default(self) -> Unit {
                match self { $(Self::$variant => Unit::$ip,)+ }
            }
        }
    };
}

quantities! {
    /// Volume flow, inside m³/s.
    Flow: "flow", "flow",
        [CubicMetrePerHour, LitrePerSecond, LitrePerMinute, LitrePerHour, CubicMetrePerSecond, UsGallonPerMinute],
        inch_pound UsGallonPerMinute;
    /// Head, energy per weight of the fluid itself, inside m.
    Head: "head", "head", [MetreHead, FootHead], inch_pound FootHead;
    /// Pressure and pressure difference, inside Pa.
    Pressure: "pressure", "pressure", [KiloPascal, Bar, Pascal, Psi], inch_pound Psi;
    /// Electrical and hydraulic power, inside W.
    Power: "power", "power", [Watt, KiloWatt, Horsepower], inch_pound Watt;
    /// Thermal power, inside W.
    Heat: "heat", "heat",
        [KiloWatt, Watt, BtuPerHour, KiloBtuPerHour, TonOfRefrigeration], inch_pound KiloBtuPerHour;
    /// Temperature, inside °C.
    Temperature: "temperature", "temperature", [DegreeCelsius, DegreeFahrenheit], inch_pound DegreeFahrenheit;
    /// Difference of two temperatures, inside K.
    TemperatureDifference: "temperature_difference", "temperature difference",
        [Kelvin, FahrenheitDifference], inch_pound FahrenheitDifference;
    /// Length of pipe and height of a building, inside m.
    Length: "length", "length", [Metre, Millimetre, Foot, Inch], inch_pound Foot;
    /// Inside diameter of a pipe, inside m.
    Bore: "bore", "bore", [Millimetre, Inch], inch_pound Inch;
    /// Roughness of a pipe wall, inside m.
    Roughness: "roughness", "roughness", [MillimetreRoughness, Micrometre, FootRoughness, Mil], inch_pound FootRoughness;
    /// Mean velocity of the fluid, inside m/s.
    Velocity: "velocity", "velocity", [MetrePerSecond, FootPerSecond], inch_pound FootPerSecond;
    /// Pressure loss by length of pipe, inside Pa/m.
    FrictionGradient: "friction_gradient", "friction gradient",
        [PascalPerMetre, MillimetreWaterPerMetre, FootPerHundredFeet], inch_pound FootPerHundredFeet;
    /// Flow coefficient of a valve, inside Kv (m³/h of water at 1 bar).
    FlowCoefficient: "flow_coefficient", "flow coefficient", [Kv, Cv], inch_pound Cv;
    /// Share of a whole (of design flow, of heat, of glycol), inside a fraction.
    Share: "share", "share", [Percent], inch_pound Percent;
    /// Pump speed as a share of full speed, inside a fraction.
    Speed: "speed", "speed", [PercentSpeed], inch_pound PercentSpeed;
    /// Speed of rotation, inside r/min.
    RotationalSpeed: "rotational_speed", "speed of rotation",
        [RevolutionPerMinute, RevolutionPerSecond], inch_pound RevolutionPerMinute;
    /// Energy, inside J.
    Energy: "energy", "energy", [KiloWattHour, MegaWattHour, MegaJoule, KiloBtu], inch_pound KiloWattHour;
    /// Density, inside kg/m³.
    Density: "density", "density", [KilogramPerCubicMetre, PoundPerCubicFoot], inch_pound PoundPerCubicFoot;
    /// Dynamic viscosity, inside Pa·s.
    Viscosity: "viscosity", "viscosity", [MilliPascalSecond, Centipoise], inch_pound Centipoise;
    /// Specific heat capacity, inside J/(kg·K).
    SpecificHeat: "specific_heat", "specific heat capacity",
        [KiloJoulePerKilogramKelvin, BtuPerPoundFahrenheit], inch_pound BtuPerPoundFahrenheit;
    /// Volume, such as a system's content, inside m³.
    Volume: "volume", "volume", [Litre, CubicMetre, UsGallon], inch_pound UsGallon;
    /// Length of time, inside s.
    Time: "time", "time", [Hour, Minute, Second], inch_pound Hour;
}

impl Quantity {
    /// The quantity with this identifier, if there is one.
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|quantity| quantity.id() == id)
    }
}
