//! Air coils: effectiveness ε by number of transfer units N, at a constant air flow.
//!
//! `φ ∝ ε(N, C) C_min (t_s − t_air)`, `N = UA / C_min`, `C = C_min / C_max`, with C_min and C_max the smaller and the
//! larger capacity rate (W/K) of water and air. Water's falls with flow, so the smaller one changes sides on the way.
//! The design temperatures fix the ratio of the capacity rates, ε and, backwards, UA. Where part w of the resistance
//! lies in the water film, `1/UA = (1 − w + w x^−0.8) / UA_d` at flow share x (turbulent film, Dittus–Boelter).
//!
//! Validity: dry surface, constant air flow and entering temperature. Source: textbook relations, from memory; the
//! crossflow one is the usual approximation for both streams unmixed.

use super::{DesignFlaw, EmitterDesign, is_inside};

/// How water and air pass each other in a coil.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CoilArrangement {
    /// In opposite directions: coils of four rows and more come near it.
    Counterflow,
    /// Across each other, neither stream mixed: one- and two-row coils.
    CrossflowUnmixed,
}

/// Power of flow by which a turbulent water film's transfer rises (Dittus–Boelter).
const FILM_EXPONENT: f64 = 0.8;

/// Capacity rates of water and air, in units of design heat per design supply excess.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Capacities {
    water: f64,
    air: f64,
}

impl Capacities {
    /// Capacity rates at design, `None` without a leaving air temperature.
    fn at_design(design: &EmitterDesign) -> Option<Self> {
        let rise_k = design.air_outlet_c? - design.room_c;
        Some(Self { water: design.drop_fraction().recip(), air: design.supply_excess_k() / rise_k })
    }

    fn smaller(&self) -> f64 {
        self.water.min(self.air)
    }

    fn ratio(&self) -> f64 {
        self.smaller() / self.water.max(self.air)
    }
}

/// What is wrong with a coil's design, if anything.
pub(super) fn flaw(water_film_share: f64, design: &EmitterDesign) -> Option<DesignFlaw> {
    if !(0.0..=1.0).contains(&water_film_share) {
        return Some(DesignFlaw::WaterFilmShare);
    }
    match Capacities::at_design(design) {
        None => Some(DesignFlaw::NoAirOutlet),
        Some(rated) => (!is_inside(rated.air.recip())).then_some(DesignFlaw::AirOutlet),
    }
}

/// Heat share φ at flow share `x` and design supply temperature; it is proportional to the supply excess.
pub(super) fn heat_share(arrangement: CoilArrangement, water_film_share: f64, design: &EmitterDesign, x: f64) -> f64 {
    Coil::new(arrangement, water_film_share, design).map_or(0.0, |coil| coil.heat_share(x).0)
}

/// A coil whose transmittance has been found from its design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Coil {
    arrangement: CoilArrangement,
    water_film_share: f64,
    rated: Capacities,
    rated_transmittance: f64,
}

impl Coil {
    /// `None` without a leaving air temperature.
    pub(super) fn new(arrangement: CoilArrangement, water_film_share: f64, design: &EmitterDesign) -> Option<Self> {
        let rated = Capacities::at_design(design)?;
        // At design ε C_min = 1 in these units.
        let rated_units = transfer_units(arrangement, rated.smaller().recip(), rated.ratio());
        Some(Self { arrangement, water_film_share, rated, rated_transmittance: rated_units * rated.smaller() })
    }

    /// Heat share φ at flow share `x` and design excess, and its derivative by ln x.
    pub(super) fn heat_share(&self, x: f64) -> (f64, f64) {
        let falling = self.water_film_share * x.powf(-FILM_EXPONENT);
        let film = 1.0 - self.water_film_share + falling;
        let present = Capacities { water: self.rated.water * x, air: self.rated.air };
        let (smaller, ratio) = (present.smaller(), present.ratio());
        let units = self.rated_transmittance / film / smaller;
        let effectiveness = effectiveness(self.arrangement, units, ratio);
        let (by_units, by_ratio) = effectiveness_slopes(self.arrangement, units, ratio);
        // d ln UA/d ln x; N and C follow water's capacity only on the side where it stands.
        let film_slope = FILM_EXPONENT * falling / film;
        let slope = match present.water < present.air {
            true => effectiveness + by_units * (film_slope - 1.0) + by_ratio,
            false => by_units * film_slope - by_ratio,
        };
        (effectiveness * smaller, slope * smaller)
    }
}

/// Effectiveness ε(N, C).
///
/// Counterflow `(1 − e^(−N(1−C))) / (1 − C e^(−N(1−C)))`, at C = 1 `N/(1+N)`; crossflow
/// `1 − exp((e^(−C N^0.78) − 1) N^0.22 / C)`.
fn effectiveness(arrangement: CoilArrangement, units: f64, ratio: f64) -> f64 {
    match arrangement {
        CoilArrangement::Counterflow => {
            let lead = 1.0 - ratio;
            if lead * units < BALANCED {
                return units / (1.0 + units);
            }
            let passed = -(-units * lead).exp_m1();
            passed / (lead + ratio * passed)
        }
        CoilArrangement::CrossflowUnmixed => -crossflow_exponent(units, ratio).exp_m1(),
    }
}

/// Below this `N (1 − C)` counterflow's streams count as balanced; the error is about half of it.
const BALANCED: f64 = 1e-9;

/// Derivatives of effectiveness by ln N and ln C.
fn effectiveness_slopes(arrangement: CoilArrangement, units: f64, ratio: f64) -> (f64, f64) {
    match arrangement {
        CoilArrangement::Counterflow => {
            let lead = 1.0 - ratio;
            let run = lead * units;
            if run < BALANCED {
                let per = (1.0 + units).powi(2).recip();
                return (units * per, -0.5 * units * units * per);
            }
            let left = (-run).exp();
            let passed = -(-run).exp_m1();
            let whole = lead + ratio * passed;
            // 1 − e^−w − w, by its series where the difference would lose digits.
            let bend = if run < 1e-3 { run * run * (run / 6.0 - 0.5) } else { passed - run };
            (units * lead * lead * left / (whole * whole), ratio * left * bend / (whole * whole))
        }
        CoilArrangement::CrossflowUnmixed => {
            let exponent = crossflow_exponent(units, ratio);
            let bent = ratio * units.powf(0.78);
            let pull = bent * (-bent).exp() * units.powf(0.22) / ratio;
            let left = exponent.exp();
            (left * (0.78 * pull - 0.22 * exponent), left * (exponent + pull))
        }
    }
}

fn crossflow_exponent(units: f64, ratio: f64) -> f64 {
    (-ratio * units.powf(0.78)).exp_m1() * units.powf(0.22) / ratio
}

/// Number of transfer units for an effectiveness between 0 and 1: the other way round.
fn transfer_units(arrangement: CoilArrangement, effectiveness: f64, ratio: f64) -> f64 {
    match arrangement {
        CoilArrangement::Counterflow => {
            let lead = 1.0 - ratio;
            let balanced = effectiveness / (1.0 - effectiveness);
            // ln((1 − C ε)/(1 − ε)) / (1 − C), written so that it stays exact as C nears 1.
            if lead < BALANCED { balanced } else { (lead * balanced).ln_1p() / lead }
        }
        CoilArrangement::CrossflowUnmixed => crossflow_units((-effectiveness).ln_1p(), ratio),
    }
}

/// Solves the crossflow relation for N, given `ln(1 − ε)`: Newton in ln N on ln(−exponent), whose slope lies between
/// 0.22 and 1, held inside a bracket that every step narrows.
fn crossflow_units(target: f64, ratio: f64) -> f64 {
    let goal = (-target).ln();
    // N is at least −ln(1 − ε), the value for C = 0; at most what the slope 0.22 leads to.
    let (mut low, mut high) = (goal, 120.0);
    let mut log_units = goal;
    for _ in 0..100 {
        let units = f64::exp(log_units);
        let bent = ratio * units.powf(0.78);
        let error = (-crossflow_exponent(units, ratio)).ln() - goal;
        if error < 0.0 {
            low = log_units;
        } else {
            high = log_units;
        }
        let slope = 0.22 + 0.78 * if bent < 700.0 { bent / bent.exp_m1() } else { 0.0 };
        let newton = log_units - error / slope;
        let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
        let step = next - log_units;
        log_units = next;
        if step.abs() < 1e-14 * (1.0 + log_units.abs()) {
            break;
        }
    }
    log_units.exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against central differences, also where counterflow's streams are nearly or quite balanced.
    #[test]
    fn slopes_of_effectiveness() {
        let arrangements = [CoilArrangement::Counterflow, CoilArrangement::CrossflowUnmixed];
        for (arrangement, units) in arrangements.into_iter().flat_map(|a| [0.2, 1.0, 3.0].map(|units| (a, units))) {
            for ratio in [0.1, 0.7, 0.99, 0.9995, 1.0 - 1e-5, 1.0] {
                let (by_units, by_ratio) = effectiveness_slopes(arrangement, units, ratio);
                let h = 1e-5_f64;
                let at = |u: f64, r: f64| effectiveness(arrangement, units * (u * h).exp(), ratio * (r * h).exp());
                let found = (at(1.0, 0.0) - at(-1.0, 0.0)) / (2.0 * h);
                assert!((found - by_units).abs() < 1e-8, "{arrangement:?} {units} {ratio}: {found}, {by_units}");
                // A ratio beyond one is none; there the difference looks back only.
                let found = (3.0 * at(0.0, 0.0) - 4.0 * at(0.0, -1.0) + at(0.0, -2.0)) / (2.0 * h);
                assert!((found - by_ratio).abs() < 1e-8, "{arrangement:?} {units} {ratio}: {found}, {by_ratio}");
            }
        }
    }
}
