//! A year: electric energy of all pumps over the hours of all states, Σ P₁ t, and of standing by in the rest of it.

use super::law::{Law, StatePoint};
use super::{PartLoad, states};
use crate::document::Project;

/// Hours of a year.
pub const YEAR_HOURS: f64 = 8760.0;

/// Electric energy of all circulators, those that run and those that stand, while they stand by in the hours of the year that nothing
/// else stands for, J; nothing where that does not count or nobody has given hours.
#[must_use]
pub fn standby_of_rest_j(project: &Project, hours: f64) -> f64 {
    let rest = if project.energy.counts_standby && hours > 0.0 { (YEAR_HOURS - hours).max(0.0) } else { 0.0 };
    rest * 3600.0 * project.pumps().map(|(_, unit)| unit.standby_power).sum::<f64>()
}

/// A year under settings.
#[derive(Clone, Debug, PartialEq)]
pub struct Year {
    /// State by state what the settings do.
    pub points: Vec<StatePoint>,
    /// State by state the electric energy of all pumps, J; nothing where it has no hours.
    pub energy_j: Vec<f64>,
    /// Electric energy of all circulators while they stand by for the rest of the year, J.
    pub standby_j: f64,
    /// Hours of all states.
    pub hours: f64,
}

impl Year {
    /// Electric energy of the whole year, J.
    #[must_use]
    pub fn total_j(&self) -> f64 {
        self.energy_j.iter().sum::<f64>() + self.standby_j
    }
}

impl PartLoad {
    /// A year under settings.
    #[must_use]
    pub fn year(&self, law: &Law) -> Year {
        let points: Vec<StatePoint> = self.tables.iter().map(|table| law.point(table)).collect();
        let energy = |(point, table): (&StatePoint, &super::StateTable)| {
            (point.electric_w + point.others_w) * table.state.seconds()
        };
        let energy_j = points.iter().zip(&self.tables).map(energy).collect();
        let hours: f64 = self.tables.iter().map(|table| table.state.hours).sum();
        Year { points, energy_j, standby_j: self.standby_j, hours }
    }

    /// Mean electric power of all pumps over the states' hours, W; over all states alike where nobody has given hours. It stands
    /// for the year's energy wherever settings are compared.
    #[must_use]
    pub fn mean_power_w(&self, law: &Law) -> f64 {
        let mut sum = 0.0;
        for (table, weight) in self.tables.iter().zip(&self.weights) {
            if *weight > 0.0 {
                let at = law.place(table);
                sum += weight * (table.power_w(at) + table.others_w(at));
            }
        }
        sum / self.weights.iter().sum::<f64>().max(f64::MIN_POSITIVE)
    }

    /// Whether anybody has given hours.
    #[must_use]
    pub fn has_hours(&self) -> bool {
        self.tables.iter().any(|table| table.state.hours > 0.0)
    }

    /// The whole year's energy, J, of a mean power in the states' hours, W: as [`Year::total_j`].
    #[must_use]
    pub fn year_of_mean_j(&self, mean_w: f64) -> f64 {
        self.energy_of_mean_j(mean_w) + self.standby_j
    }

    /// The mean power, W, whose whole year takes so much energy, J.
    #[must_use]
    pub fn mean_of_year_w(&self, energy_j: f64) -> f64 {
        (energy_j - self.standby_j) / self.energy_of_mean_j(1.0)
    }

    /// The energy of the states' hours alone, J, of a mean power, W: what differences of mean powers come to.
    #[must_use]
    pub fn energy_of_mean_j(&self, mean_w: f64) -> f64 {
        mean_w * 3600.0 * self.tables.iter().map(|table| table.state.hours).sum::<f64>()
    }
}

/// The weights of states, see [`states::weights`].
pub(super) fn weights(tables: &[super::StateTable]) -> Vec<f64> {
    let all: Vec<states::ValveState> = tables.iter().map(|table| table.state.clone()).collect();
    states::weights(&all)
}
