//! Random limits, energy bases, uncertainties and variants: what results are judged by and compared with.

use super::{above_zero, at_least_zero, regulation, text};
use headwise::document::*;
use headwise::engine::pump::Regulation;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// Everything of that sort but the limits.
#[derive(Clone, Debug)]
pub struct Judged {
    pub energy: EnergyBasis,
    pub uncertainty: Uncertainty,
    pub every_combination: bool,
    pub variants: Vec<(String, Regulation)>,
}

pub fn limits() -> impl Strategy<Value = Limits> {
    let band = || [0.0..50.0_f64, 51.0..900.0_f64];
    let given = (band(), band(), 0.0..0.99_f64, at_least_zero(), above_zero(), text()).prop_map(
        |(friction, velocity, authority, boiling_margin, valve_drop, source)| Limits {
            friction,
            velocity,
            authority,
            boiling_margin,
            valve_drop,
            source,
        },
    );
    prop_oneof![Just(Limits::default()), given]
}

fn energy() -> impl Strategy<Value = EnergyBasis> {
    let given = (option::of(at_least_zero()), text(), text(), option::of(at_least_zero()), text(), any::<bool>())
        .prop_map(|(price_per_kwh, currency, price_source, co2_kg_per_kwh, co2_source, counts_standby)| EnergyBasis {
            price_per_kwh,
            currency,
            price_source,
            co2_kg_per_kwh,
            co2_source,
            counts_standby,
        });
    prop_oneof![Just(EnergyBasis::default()), given]
}

fn uncertainty() -> impl Strategy<Value = Uncertainty> {
    let share = || prop_oneof![(0..100_u32).prop_map(|percent| f64::from(percent) / 100.0), 0.0..1.0_f64];
    let given = (share(), share(), share(), share()).prop_map(|(length, roughness, glycol, valve)| Uncertainty {
        length,
        roughness,
        glycol,
        valve,
    });
    prop_oneof![Just(Uncertainty::default()), given]
}

pub fn judged() -> impl Strategy<Value = Judged> {
    let variants = vec((text(), regulation()), 0..=MOST_VARIANTS);
    (energy(), uncertainty(), any::<bool>(), variants).prop_map(|(energy, uncertainty, every_combination, variants)| {
        Judged { energy, uncertainty, every_combination, variants }
    })
}

impl Judged {
    /// A project with all of it; the settings become variants of its first pump, if it has one.
    pub fn given_to(self, project: Project) -> Project {
        let pump = project.pumps().map(|(id, _)| id).next();
        let variant = |(number, (name, regulation)): (u32, (String, Regulation))| {
            pump.map(|pump| Variant { name: format!("{name}{number}"), pump, regulation })
        };
        let Self { energy, uncertainty, every_combination, variants } = self;
        let variants = (1..).zip(variants).filter_map(variant).collect();
        Project { energy, uncertainty, every_combination, variants, ..project }
    }
}
