//! Energy: by the European load profile against figures worked by hand, by scenarios against a sum over the study's own answers.

use crate::systems::{exact, sample};
use headwise::document::Command;
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::pump::{EUROPEAN_PROFILE, PowerModel, Pump, PumpCurve, ReferenceFlow, Regulated, Regulation};
use headwise::study::part_load::{PartLoad, YEAR_HOURS, profile_energy};

/// A pump of the form H = H₀ n² − (H₀/Q_max²) Q², P₁ = ρ g Q H/η + standby, η = η_pk (2 r − r²), r = (Q/n)/(0.6 Q_max).
struct Invented {
    shut_off_m: f64,
    most_m3_per_h: f64,
    efficiency: f64,
    standby_w: f64,
    density: f64,
    design: [f64; 2],
    hours: f64,
}

impl Invented {
    fn pump(&self) -> Pump {
        let most = self.most_m3_per_h / 3600.0;
        // Up to where the efficiency is still above nothing.
        let points: Vec<[f64; 3]> = (0..=80)
            .map(|step| {
                let share = 0.95 * f64::from(step) / 80.0;
                let head = self.shut_off_m * (1.0 - share * share);
                // Q/η without the division of zero by zero at no flow.
                let per_flow = 0.6 * most / (self.efficiency * (2.0 - share / 0.6));
                [share * most, head, self.standby_w + self.density * GRAVITY_M_PER_S2 * head * per_flow]
            })
            .collect();
        let heads: Vec<[f64; 2]> = points.iter().map(|[flow, head, _]| [*flow, *head]).collect();
        let powers: Vec<[f64; 2]> = points.iter().map(|[flow, _, power]| [*flow, *power]).collect();
        let curve = PumpCurve::fit(&heads).unwrap();
        Pump { curve, power: PowerModel::new(&powers, self.standby_w).unwrap(), full_speed_rpm: 4000.0 }
    }

    /// A year in kWh: at the constant speed of the design point, or along a set-line through it.
    fn year(&self, slope: Option<f64>) -> f64 {
        let pump = self.pump();
        let [flow, head] = [self.design[0] / 3600.0, self.design[1]];
        let settings = match slope {
            None => Regulation::at_speed(pump.curve.speed_for(flow, head)),
            Some(slope) => Regulation {
                head_limit_m: Some(head),
                slope,
                reference: ReferenceFlow::DesignFlow(flow),
                ..Regulation::at_speed(1.0)
            },
        };
        let regulated = Regulated::of_pump(&pump, settings).unwrap();
        let found = profile_energy(&pump, &regulated, &EUROPEAN_PROFILE, flow, self.hours);
        let by_hand: f64 = found.points.iter().map(|point| point.electric_w * point.load.weight * self.hours).sum();
        assert!((found.total_j() / 3.6e3 / by_hand - 1.0).abs() < 1e-12);
        found.total_j() / 3.6e6
    }
}

/// Worked by hand at the European profile (100, 75, 50, 25 % of design flow for 6, 15, 35, 44 % of the time; Regulation (EC) 641/2009
/// as amended by 622/2012, from memory), kWh a year at constant speed, without slope, and along a slope.
#[test]
fn the_sample_buildings_by_the_european_profile() {
    let library = Invented {
        shut_off_m: 7.5,
        most_m3_per_h: 4.2,
        efficiency: 0.45,
        standby_w: 3.0,
        density: 991.7,
        design: [1.985, 4.87],
        hours: 5000.0,
    };
    let greenhouse = Invented {
        shut_off_m: 8.5,
        most_m3_per_h: 12.0,
        efficiency: 0.52,
        standby_w: 4.0,
        density: 1005.9,
        design: [6.05, 4.65],
        hours: 4500.0,
    };
    let clinic = Invented {
        shut_off_m: 11.0,
        most_m3_per_h: 22.0,
        efficiency: 0.60,
        standby_w: 6.0,
        density: 999.7,
        design: [11.45, 5.91],
        hours: 3000.0,
    };
    for (name, of, slope, expected) in [
        ("library", library, 0.25, [284.0, 215.0, 182.0]),
        ("greenhouse", greenhouse, 0.5, [630.0, 439.0, 309.0]),
        ("clinic", clinic, 0.2, [866.0, 586.0, 514.0]),
    ] {
        for (slope, expected) in [None, Some(0.0), Some(slope)].into_iter().zip(expected) {
            let found = of.year(slope);
            assert!((found / expected - 1.0).abs() < 0.015, "{name}, {slope:?}: {found} kWh instead of {expected}");
        }
    }
}

/// Σ P₁ t over the study's own answers, all pumps, and standing by in the rest of the year.
#[test]
fn a_year_is_the_sum_over_its_scenarios() {
    for (name, has_hours) in [
        ("fernhollow-library", true),
        ("saltreed-growers", true),
        ("alder-point-clinic", true),
        ("thornwick-court", false),
    ] {
        let (mut project, pump) = sample(name);
        let part_load = PartLoad::new(&project, pump).unwrap();
        assert_eq!(part_load.has_hours(), has_hours);
        let own = project.pump(pump).unwrap().regulation;
        let (mut sum_j, mut mean, mut hours) = (0.0, 0.0, 0.0);
        for table in &part_load.tables {
            let study = exact(&project, pump, own, &table.state);
            let watts: f64 = study.results().pumps.values().map(|pump| pump.electric_w).sum();
            sum_j += watts * 3600.0 * table.state.hours;
            mean += watts * if has_hours { table.state.hours } else { 1.0 };
            hours += if has_hours { table.state.hours } else { 1.0 };
        }
        let law = part_load.law(&own);
        let year = part_load.year(&law);
        let found: f64 = year.energy_j.iter().sum();
        assert!((found - sum_j).abs() <= 5e-4 * sum_j, "{name}: {found} instead of {sum_j}");
        let found = part_load.mean_power_w(&law);
        assert!((found * hours / mean - 1.0).abs() < 5e-4, "{name}: {found}");
        let standby_w: f64 = project.pumps().map(|(_, unit)| unit.standby_power).sum();
        let rest_h = if has_hours { YEAR_HOURS - hours } else { 0.0 };
        assert!((year.standby_j - 3600.0 * rest_h * standby_w).abs() < 1e-3, "{name}: {}", year.standby_j);
        assert!((year.total_j() - year.energy_j.iter().sum::<f64>() - year.standby_j).abs() < 1e-3);
        let basis = headwise::document::EnergyBasis { counts_standby: false, ..project.energy.clone() };
        project.apply(&Command::SetEnergyBasis(basis)).unwrap();
        let without = PartLoad::new(&project, pump).unwrap();
        assert_eq!(without.year(&law).standby_j, 0.0);
    }
}

/// The present settings, constant speed, no slope, and every pinned variant, each with its own year.
#[test]
fn settings_beside_each_other() {
    let (mut project, pump) = sample("fernhollow-library");
    let own = project.pump(pump).unwrap().regulation;
    let pinned = Regulation { head_limit_m: Some(4.6), slope: 0.37, speed_cap: 0.85, ..own };
    let variant = headwise::document::Variant { name: "Pinned".to_owned(), pump, regulation: pinned };
    project.apply(&Command::SetVariants(vec![variant])).unwrap();
    let part_load = PartLoad::new(&project, pump).unwrap();
    let all = part_load.comparison(&project);
    let settings: Vec<Regulation> = all.iter().map(|compared| compared.settings).collect();
    let constant = Regulation { head_limit_m: None, slope: 0.0, ..own };
    assert_eq!(settings, [own, constant, Regulation { slope: 0.0, ..own }, pinned]);
    assert_eq!(all[3].variant, Some(0));
    for compared in &all {
        let mut sum_j = 0.0;
        for table in &part_load.tables {
            let study = exact(&project, pump, compared.settings, &table.state);
            sum_j += study.results().pumps[&pump].electric_w * table.state.seconds();
        }
        let found: f64 = compared.year.energy_j.iter().sum();
        assert!((found / sum_j - 1.0).abs() < 5e-4, "{}: {found} instead of {sum_j}", compared.name);
    }
    // Less slope and more speed never take less.
    assert!(all[1].mean_w > all[2].mean_w && all[2].mean_w > all[0].mean_w && all[0].mean_w > all[3].mean_w);
}
