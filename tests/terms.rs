//! Terms: what the cards say of a project is what the engine says, and what can be worked out by hand.

use headwise::document::{Command, ComponentId, Project};
use headwise::engine::links::emitter::{EmitterDesign, EmitterLaw, state};
use headwise::engine::links::kv_pressure_drop_pa;
use headwise::engine::pump::{EnergyIndex, ReferenceFlow};
use headwise::engine::units::{Quantity, SPACE, Units};
use headwise::file;
use headwise::study::terms::{Here, Subject, Term, bare, card};
use headwise::study::{Study, sizing};
use std::path::Path;

const SAMPLES: [&str; 4] =
    ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron", "thornwick-court.ron"];

/// Standard gravity, m/s².
const G: f64 = 9.80665;
const PER_HOUR: f64 = 1.0 / 3600.0;

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn first_running(project: &Project) -> ComponentId {
    project.pumps().find(|(_, unit)| unit.running).or(project.pumps().next()).unwrap().0
}

/// The library under settings, with its study.
fn library(commands: &[Command]) -> (Project, Study, ComponentId) {
    let mut project = sample(SAMPLES[0]);
    commands.iter().for_each(|command| _ = project.apply(command).unwrap());
    let study = Study::new(&project).unwrap();
    let id = first_running(&project);
    (project, study, id)
}

fn here(term: Term, subject: &Subject<'_>) -> Here {
    card(term, subject).here.unwrap_or_else(|| panic!("{term:?} has no figures"))
}

fn value(term: Term, subject: &Subject<'_>) -> f64 {
    here(term, subject).value.unwrap_or_else(|| panic!("{term:?} has no value")).1
}

#[track_caller]
fn near(found: f64, expected: f64, by: f64) {
    assert!((found - expected).abs() <= by * expected.abs().max(1e-12), "{found} is not {expected}");
}

/// A worked example: H = 7.5 n² − 0.4252 Q² (Q in m³/h); at full speed 4.873 m is crossed at √((7.5 − 4.873)/0.4252) = 2.486 m³/h,
/// at a cap of √((4.873 + 0.4252 · 1.985²)/7.5) = 93.44 % at 1.985 m³/h (computed by hand). The library's pump is that pump.
#[test]
fn the_reference_flow_is_that_of_the_worked_example() {
    let id = first_running(&sample(SAMPLES[0]));
    let settings = |reference| {
        [
            Command::SetHeadLimit(id, Some(4.873)),
            Command::SetSpeedCap(id, 0.93441),
            Command::SetSlope(id, 0.5),
            Command::SetReferenceFlow(id, reference),
        ]
    };
    for (reference, term, expected) in [
        (ReferenceFlow::FullSpeed, Term::ReferenceAtFullSpeed, 2.486),
        (ReferenceFlow::CappedSpeed, Term::ReferenceAtCappedSpeed, 1.985),
        (ReferenceFlow::DesignFlow(1.8 * PER_HOUR), Term::ReferenceAsDesignFlow, 1.8),
    ] {
        let (project, study, id) = library(&settings(reference));
        let units = Units::si();
        let subject = Subject::new(&project, &study, &units, Some(id));
        assert_eq!(Term::of_reference(reference), term);
        for term in [term, Term::ReferenceFlow] {
            near(value(term, &subject) / PER_HOUR, expected, 5e-4);
            let words = here(term, &subject).words.replace(SPACE, " ");
            assert!(words.contains(&format!("{expected:.3} m³/h")), "{words}");
        }
        // The set-line there by hand: H_lim (1 − s (1 − Q/Q_ref)).
        let flow = study.results().pumps[&id].flow / PER_HOUR;
        let by_hand = 4.873 * (1.0 - 0.5 * (1.0 - flow / expected).max(0.0));
        near(value(Term::SetLine, &subject), by_hand, 1e-3);
        near(value(Term::Slope, &subject), 2.4365, 1e-9);
    }
}

/// Every number after an equals sign is written as the value is in the reader's unit.
#[test]
fn the_words_end_in_the_value_in_the_readers_units() {
    let mut told = 0;
    for name in SAMPLES {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        for units in [Units::si(), Units::inch_pound()] {
            let subject = Subject::new(&project, &study, &units, Some(first_running(&project)));
            for term in Term::ALL {
                let card = card(*term, &subject);
                let Some(here) = card.here else { continue };
                assert!(!here.words.contains("NaN") && !here.words.is_empty(), "{term:?}: {}", here.words);
                if let Some((quantity, value)) = here.value {
                    let shown = units.format(quantity, value);
                    assert!(here.words.contains(&shown), "{name}, {term:?}: {} does not say {shown}", here.words);
                    told += 1;
                }
            }
        }
    }
    assert!(told > 200, "{told}");
}

#[test]
fn the_pumps_figures_are_the_engines() {
    for name in SAMPLES {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        let units = Units::si();
        let id = first_running(&project);
        let subject = Subject::new(&project, &study, &units, Some(id));
        let pump = &study.results().pumps[&id];
        let fluid = pump.water.fluid;
        near(value(Term::Head, &subject), pump.head, 1e-12);
        near(value(Term::AffinityLaws, &subject), pump.head, 1e-6);
        near(value(Term::GoverningLimit, &subject), pump.head, 1e-12);
        near(value(Term::HydraulicPower, &subject), fluid.density_kg_per_m3 * G * pump.flow * pump.head, 1e-9);
        near(value(Term::ElectricPower, &subject), pump.electric_w, 1e-12);
        near(value(Term::Efficiency, &subject), pump.hydraulic_w / pump.electric_w, 1e-12);
        near(value(Term::Speed, &subject), pump.speed_rpm / project.pump(id).unwrap().full_speed_rpm, 1e-12);
        // The index as the engine reckons it from the catalogue, to two decimals.
        let fitted = project.pump(id).unwrap().fitted().unwrap();
        let index = EnergyIndex::of_pump(&fitted.curve, &fitted.power, 1000.0).unwrap();
        let words = here(Term::EnergyEfficiencyIndex, &subject).words;
        assert!(words.ends_with(&format!("= {:.2}", index.index)), "{words}");
    }
}

/// The parts that are written before the equals sign come to what stands after it, within what rounding takes.
#[test]
fn what_is_written_can_be_reckoned_again() {
    let (project, study, id) = library(&[]);
    let units = Units::si();
    let subject = Subject::new(&project, &study, &units, Some(id));
    let numbers = |term: Term| -> Vec<f64> {
        let words = here(term, &subject).words.replace(SPACE, " ");
        let is_part = |c: char| c.is_ascii_digit() || c == '.';
        let all = words.split(|c: char| !is_part(c)).filter_map(|text| text.trim_end_matches('.').parse().ok());
        all.collect()
    };
    // "5.10 m × (1 − 25 % × (1 − Q ÷ Q_ref)) = H", with the ones between.
    let set = numbers(Term::SetLine);
    let [limit, _, slope, _, flow, reference, head] = set[..] else { panic!("{set:?}") };
    near(limit * (1.0 - slope / 100.0 * (1.0 - flow / reference)), head, 2e-3);
    let [watts, electric, share] = numbers(Term::Efficiency)[..] else { panic!() };
    near(100.0 * watts / electric, share, 2e-2);
    let [turns, full, speed] = numbers(Term::Speed)[..] else { panic!() };
    near(100.0 * turns / full, speed, 2e-3);
}

/// Design flow by the heat balance, and heat by the water that enters and leaves.
#[test]
fn the_zones_figures_are_the_heat_balance() {
    for name in &SAMPLES[..3] {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        let units = Units::si();
        let fluid = study.lowered().fluid;
        let carries = fluid.density_kg_per_m3 * fluid.heat_capacity_j_per_kg_k;
        for (id, zone) in &project.zones {
            let subject = Subject { zone: Some(*id), ..Subject::new(&project, &study, &units, None) };
            let result = &study.results().zones[id];
            let drop = (project.design.supply_c - zone.return_c.unwrap_or(project.design.return_c)).abs();
            near(value(Term::DesignFlow, &subject), zone.load / (carries * drop), 1e-9);
            near(value(Term::ShareOfDesignFlow, &subject), result.flow / result.design_flow, 1e-12);
            near(value(Term::HeatShare, &subject), result.heat / zone.load, 1e-12);
            // Density and heat capacity are those of the design's mean temperature everywhere.
            let by_water = carries * result.flow * (result.supply_c - result.return_c).abs();
            near(value(Term::Heat, &subject), by_water, 1e-6);
            assert!(here(Term::DesignFlow, &subject).words.starts_with(&zone.name));
        }
    }
}

/// Velocity by continuity, friction by Darcy and Weisbach, Kv by its definition.
#[test]
fn pipes_and_valves_are_reckoned_by_their_formulas() {
    let (project, study, id) = library(&[]);
    let units = Units::si();
    let of = Subject::new(&project, &study, &units, Some(id));
    for (pipe, run) in project.pipes.iter().filter(|(_, run)| run.length > 0.0) {
        let subject = Subject { pipe: Some(*pipe), ..of };
        let result = &study.results().pipes[pipe];
        if result.flow == 0.0 {
            continue;
        }
        let velocity = result.flow / (0.25 * std::f64::consts::PI * run.bore * run.bore);
        near(value(Term::Velocity, &subject), velocity, 1e-9);
        near(value(Term::Friction, &subject), result.friction_gradient.abs(), 1e-12);
        let dynamic = 0.5 * study.results().pumps[&id].water.fluid.density_kg_per_m3 * velocity * velocity;
        let friction = value(Term::Friction, &subject) * run.length;
        near(value(Term::PressureDrop, &subject), friction + run.k() * dynamic, 1e-6);
    }
    let balance = sizing::balance(&project).unwrap();
    for set in balance.presettings.iter().filter(|set| !set.is_open) {
        let subject = Subject { component: Some(set.valve), ..of };
        near(value(Term::Presetting, &subject), set.kv, 1e-12);
        let density = study.lowered().fluid.density_kg_per_m3;
        near(kv_pressure_drop_pa(value(Term::Presetting, &subject), set.flow, density), set.drop, 1e-6);
        let flow = value(Term::FlowCoefficient, &subject);
        near(flow, study.results().components[&set.valve].flow, 1e-12);
    }
    near(value(Term::IndexCircuit, &of), balance.head_m, 1e-12);
    assert!(here(Term::IndexCircuit, &of).words.starts_with("Reading-room floor"));
    // All steps of the way come to the head.
    near(value(Term::HeadPath, &of), study.results().pumps[&id].head, 1e-6);
}

/// g is written with the figures that it is reckoned with, beside its symbol as in the cards' figures.
#[test]
fn gravity_is_one_number() {
    let (project, study, id) = library(&[]);
    let units = Units::si();
    let subject = Subject::new(&project, &study, &units, Some(id));
    for term in [Term::Head, Term::HeadPath] {
        assert!(here(term, &subject).words.replace(SPACE, " ").contains(&format!("{G} m/s²")));
        let symbols = term.entry().symbols;
        assert!(symbols.iter().any(|symbol| symbol.sign == "g" && symbol.meaning.starts_with(&G.to_string())));
    }
}

/// What the card of the share of heat says of radiators, for designs from 75/65 to 90/50 °C (EN 442, n = 1.3).
#[test]
fn half_the_flow_gives_a_radiator_what_its_card_says() {
    let text = Term::HeatShare.entry().text;
    assert!(text.contains("half the flow still gives a radiator two thirds to nine tenths"), "{text}");
    let half = |supply_c: f64, return_c: f64| {
        let design = EmitterDesign { supply_c, return_c, room_c: 20.0, air_outlet_c: None, heat_w: 1000.0 };
        state(EmitterLaw::Radiator { exponent: 1.3 }, design, 0.5, supply_c).heat_share
    };
    for [supply_c, return_c] in [[75.0, 65.0], [55.0, 45.0], [70.0, 55.0], [80.0, 60.0], [70.0, 40.0], [90.0, 50.0]] {
        let share = half(supply_c, return_c);
        assert!((2.0 / 3.0..=0.9).contains(&share), "{supply_c}/{return_c}: {share}");
    }
    // The wider the drop, the less.
    let shares: Vec<f64> = [65.0, 60.0, 55.0, 50.0, 45.0].map(|return_c| half(75.0, return_c)).into();
    assert!(shares.windows(2).all(|pair| pair[1] < pair[0]), "{shares:?}");
}

/// While nothing runs or several pumps do, no circuit is called the index circuit.
#[test]
fn the_index_circuit_is_told_only_where_it_can_be() {
    let units = Units::si();
    let mut clinic = sample(SAMPLES[2]);
    let pumps: Vec<ComponentId> = clinic.pumps().map(|(id, _)| id).collect();
    for runs in [true, false] {
        pumps.iter().for_each(|id| _ = clinic.apply(&Command::SetRunning(*id, runs)).unwrap());
        let study = Study::new(&clinic).unwrap();
        let told = card(Term::IndexCircuit, &Subject::new(&clinic, &study, &units, Some(pumps[0]))).here;
        match told {
            Some(here) => assert!(runs && here.words.starts_with("it cannot be told here; "), "{}", here.words),
            None => assert!(!runs),
        }
    }
}

/// Loop gain of a set-line against H = R Q²: s Q/(2 ((1 − s) Q_ref + s Q)), a textbook result; the library is close to that law.
#[test]
fn the_loop_gain_is_that_of_the_closed_form() {
    let id = first_running(&sample(SAMPLES[0]));
    let (project, study, id) = library(&[Command::SetSlope(id, 0.6), Command::SetHeadLimit(id, Some(5.0))]);
    let units = Units::si();
    let subject = Subject::new(&project, &study, &units, Some(id));
    let pump = &study.results().pumps[&id];
    let (s, q, reference) = (0.6, pump.flow, pump.reference_flow.unwrap());
    let expected = s * q / (2.0 * ((1.0 - s) * reference + s * q));
    let words = here(Term::LoopGain, &subject).words;
    let found: f64 = words.split("= ").nth(1).unwrap().split(';').next().unwrap().parse().unwrap();
    // Friction in smooth pipes grows with Q^1.8 or so, not with Q².
    near(found, expected, 0.12);
    assert!(words.ends_with("the point holds"), "{words}");
}

#[test]
fn without_a_pump_or_while_it_stands_cards_say_what_holds_everywhere() {
    let id = first_running(&sample(SAMPLES[0]));
    let (project, study, id) = library(&[Command::SetRunning(id, false)]);
    let units = Units::si();
    for pump in [None, Some(id)] {
        let subject = Subject::new(&project, &study, &units, pump);
        for term in [Term::OperatingPoint, Term::HydraulicPower, Term::LoopGain, Term::SystemCurve] {
            assert_eq!(card(term, &subject), bare(term));
        }
    }
    // What is set can be read before the pump is started.
    let subject = Subject::new(&project, &study, &units, Some(id));
    near(value(Term::HeadLimit, &subject), 5.1, 1e-12);
    near(value(Term::SetLine, &subject), 5.1 * 0.75, 1e-12);
    assert_eq!(value_quantity(Term::ReferenceFlow, &subject), Quantity::Flow);
}

fn value_quantity(term: Term, subject: &Subject<'_>) -> Quantity {
    here(term, subject).value.unwrap().0
}

#[test]
fn a_band_tells_who_set_it() {
    let (project, study, id) = library(&[]);
    let units = Units::si();
    let card = card(Term::ToleranceBand, &Subject::new(&project, &study, &units, Some(id)));
    assert_eq!(card.source_here, project.acceptance.source);
    let words = card.here.unwrap().words.replace(SPACE, " ");
    assert!(words.starts_with("90 % to 110 % of design flow"), "{words}");
}
