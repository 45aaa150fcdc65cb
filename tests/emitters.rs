//! Emitters against outside tables (EN 442 law and effectiveness–NTU solved by general-purpose root finders and a
//! heat-exchanger library, see each table's head), and laws that must hold at any flow.

#![expect(clippy::unwrap_used, reason = "a test may stop at a broken table")]

use headwise::engine::links::emitter::{
    CoilArrangement, DesignFlaw, EmitterDesign, EmitterLaw, EmitterState, flaw, state,
};

const RADIATOR: EmitterLaw = EmitterLaw::Radiator { exponent: 1.3 };

fn design(supply_c: f64, return_c: f64, room_c: f64) -> EmitterDesign {
    EmitterDesign { supply_c, return_c, room_c, air_outlet_c: None, heat_w: 1000.0 }
}

fn rows(file: &str) -> Vec<csv::StringRecord> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).from_path(path).unwrap();
    let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
    assert!(rows.len() > 5, "{file} is nearly empty");
    rows
}

fn number(row: &csv::StringRecord, column: usize) -> f64 {
    row[column].parse().unwrap()
}

#[track_caller]
fn check(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

/// h_radiator_flow.csv: n = 1.3, constant supply, log-mean and heat balance solved together (brentq).
#[test]
fn radiator_heat_over_flow() {
    for row in rows("h_radiator_flow.csv") {
        let radiator = design(number(&row, 0), number(&row, 1), number(&row, 2));
        let found = state(RADIATOR, radiator, number(&row, 3), radiator.supply_c);
        check(found.heat_share, number(&row, 4), 1e-6 * number(&row, 4), &format!("heat {row:?}"));
        check(found.return_c, number(&row, 5), 1e-6 * number(&row, 5), &format!("return {row:?}"));
    }
}

/// h_radiator_output.csv, column of the consistent log-mean at n = 1.3, relative to 75/65/20: at the flow that belongs
/// to a row's heat and drop, the same heat and return must come out. Only excesses over the room count, so rows with
/// another room temperature are shifted to 20 °C.
#[test]
fn radiator_heat_over_supply_temperature() {
    for row in rows("h_radiator_output.csv") {
        let shift = number(&row, 2) - 20.0;
        let (supply_c, return_c) = (number(&row, 0) - shift, number(&row, 1) - shift);
        let expected = number(&row, 6);
        let flow_share = expected * 10.0 / (supply_c - return_c);
        let found = state(RADIATOR, design(75.0, 65.0, 20.0), flow_share, supply_c);
        check(found.heat_share, expected, 1e-8, &format!("heat {row:?}"));
        check(found.return_c, return_c, 1e-6, &format!("return {row:?}"));
    }
}

/// h_coil_flow.csv: effectiveness–NTU, checked there against the library `ht` 1.2.0.
#[test]
fn coil_heat_over_flow() {
    for row in rows("h_coil_flow.csv") {
        let temperatures: Vec<f64> =
            row[0].split(|character: char| !character.is_ascii_digit()).filter_map(|word| word.parse().ok()).collect();
        let [supply_c, return_c, room_c, air_outlet_c] = temperatures[..] else {
            panic!("four temperatures expected in {row:?}");
        };
        let coil = EmitterDesign { air_outlet_c: Some(air_outlet_c), ..design(supply_c, return_c, room_c) };
        let arrangement = match &row[1] {
            "counterflow" => CoilArrangement::Counterflow,
            "crossflow both unmixed" => CoilArrangement::CrossflowUnmixed,
            other => panic!("unknown arrangement {other}"),
        };
        for (water_film_share, column) in [(0.0, 5), (0.3, 6)] {
            let law = EmitterLaw::Coil { arrangement, water_film_share };
            let found = state(law, coil, number(&row, 2), supply_c);
            check(found.heat_share, number(&row, column), 1e-6, &format!("{row:?}"));
        }
    }
}

/// A coil in the balanced case by hand: 80/60 °C water, air 20 → 40 °C, both capacity rates equal, so ε = 1/3 and in
/// counterflow N = ε/(1 − ε) = 0.5. At half flow C = 0.5, N = 1, ε = (1 − e^−0.5)/(1 − 0.5 e^−0.5) = 0.564 73
/// (textbook relation), φ = 0.5 · 0.564 73 / (1/3).
#[test]
fn coil_with_equal_capacity_rates() {
    let coil = EmitterDesign { air_outlet_c: Some(40.0), ..design(80.0, 60.0, 20.0) };
    let law = EmitterLaw::Coil { arrangement: CoilArrangement::Counterflow, water_film_share: 0.0 };
    check(state(law, coil, 1.0, 80.0).heat_share, 1.0, 1e-12, "design");
    let half_power = (-0.5_f64).exp();
    let expected = 1.5 * (1.0 - half_power) / (1.0 - 0.5 * half_power);
    check(state(law, coil, 0.5, 80.0).heat_share, expected, 1e-12, "half flow");
    // The effectiveness does not know temperatures: heat goes with the excess, 30 K against 60 K.
    check(state(law, coil, 0.5, 50.0).heat_share, 0.5 * expected, 1e-12, "cooler supply");
}

/// Figures of the trade, computed with n = 1.3 and the log-mean: ±10 % flow, half flow; in per cent, rounded as printed.
#[test]
fn radiator_practice_figures() {
    let share = |radiator: EmitterDesign, flow_share| {
        100.0 * state(RADIATOR, radiator, flow_share, radiator.supply_c).heat_share
    };
    let wide = design(70.0, 50.0, 20.0);
    check(share(wide, 1.1), 102.6, 0.05, "70/50/20 at +10 %");
    check(share(wide, 0.9), 96.9, 0.05, "70/50/20 at −10 %");
    check(share(wide, 0.5), 77.0, 0.5, "70/50/20 at half flow");
    let narrow = design(75.0, 65.0, 20.0);
    check(share(narrow, 1.1), 101.1, 0.05, "75/65/20 at +10 %");
    check(share(narrow, 0.9), 98.7, 0.05, "75/65/20 at −10 %");
    check(share(narrow, 0.5), 89.0, 0.5, "75/65/20 at half flow");
    // Limit at very large flow, from the head of h_radiator_flow.csv: 1.237 at 90/70/20.
    check(share(design(90.0, 70.0, 20.0), 1e9), 123.7, 0.05, "90/70/20 without end");
}

/// Laws and designs for the properties: heating and cooling, each law.
fn samples() -> Vec<(EmitterLaw, EmitterDesign)> {
    let mut samples = Vec::new();
    for (supply_c, return_c, room_c, air_outlet_c) in [
        (90.0, 70.0, 20.0, 50.0),
        (45.0, 38.0, 20.0, 32.0),
        (35.0, 21.0, 20.0, 34.0),
        (75.0, 74.5, 20.0, 21.0),
        (7.0, 13.0, 27.0, 15.0),
        (16.0, 19.0, 26.0, 20.0),
    ] {
        let emitter = EmitterDesign { air_outlet_c: Some(air_outlet_c), ..design(supply_c, return_c, room_c) };
        for exponent in [0.8, 1.0, 1.1, 1.3, 1.45, 1.9] {
            samples.push((EmitterLaw::Radiator { exponent }, emitter));
        }
        samples.push((EmitterLaw::FloorLoop { exponent: 1.1 }, emitter));
        for arrangement in [CoilArrangement::Counterflow, CoilArrangement::CrossflowUnmixed] {
            for water_film_share in [0.0, 0.3, 1.0] {
                samples.push((EmitterLaw::Coil { arrangement, water_film_share }, emitter));
            }
        }
        samples.push((EmitterLaw::ConstantDrop, emitter));
    }
    samples
}

/// At every flow from next to nothing to twentyfold and at every supply temperature on the right side: the water gives
/// up what the room gets, its return stays between room and supply, and more flow never gives less heat.
#[test]
fn every_law_keeps_the_balance() {
    for (law, emitter) in samples() {
        assert_eq!(flaw(law, emitter), None, "{law:?} {emitter:?}");
        let drop_k = emitter.supply_c - emitter.return_c;
        for excess_ratio in [1e-6, 0.2, 1.0, 1.7] {
            let supply_c = emitter.room_c + excess_ratio * (emitter.supply_c - emitter.room_c);
            let mut last = 0.0;
            for step in -90..=13 {
                let flow_share = 10.0_f64.powf(f64::from(step) / 10.0);
                let found = state(law, emitter, flow_share, supply_c);
                let what = format!("{law:?} {emitter:?} x {flow_share} supply {supply_c}");
                let taken = flow_share * (supply_c - found.return_c) / drop_k;
                check(taken, found.heat_share, 1e-9 * flow_share.max(1e-3), &what);
                assert!(found.heat_share >= last - 1e-12, "{what} falls");
                let between = (found.return_c - emitter.room_c) / (supply_c - emitter.room_c);
                assert!((-1e-6..=1.0 + 1e-6).contains(&between), "{what} return {}", found.return_c);
                last = found.heat_share;
            }
        }
        let at_design = state(law, emitter, 1.0, emitter.supply_c);
        check(at_design.heat_share, 1.0, 1e-10, &format!("{law:?} {emitter:?} at design"));
        check(at_design.return_c, emitter.return_c, 1e-9, "return at design");
    }
}

/// The radiator's state obeys `φ = (ΔT_m/ΔT_m,d)^n` with the log-mean taken from its own temperatures (EN 442 law).
#[test]
fn radiator_obeys_the_exponent_law_at_any_supply() {
    let log_mean = |supply_c: f64, return_c: f64, room_c: f64| {
        (supply_c - return_c) / ((supply_c - room_c) / (return_c - room_c)).ln()
    };
    for emitter in [design(70.0, 50.0, 20.0), design(7.0, 13.0, 27.0)] {
        let rated_k = log_mean(emitter.supply_c, emitter.return_c, emitter.room_c);
        for exponent in [1.0, 1.1, 1.3, 1.5] {
            for flow_share in [0.1, 0.4, 1.0, 2.5, 20.0] {
                for excess_ratio in [0.3, 0.9, 1.4] {
                    let supply_c = emitter.room_c + excess_ratio * (emitter.supply_c - emitter.room_c);
                    let found = state(EmitterLaw::Radiator { exponent }, emitter, flow_share, supply_c);
                    let mean_k = log_mean(supply_c, found.return_c, emitter.room_c);
                    let expected = (mean_k / rated_k).powf(exponent);
                    check(found.heat_share, expected, 1e-9, &format!("{exponent} {flow_share}"));
                }
            }
        }
    }
}

#[test]
fn no_heat_without_flow_or_excess() {
    for (law, emitter) in samples() {
        let none = EmitterState { heat_share: 0.0, return_c: emitter.room_c };
        assert_eq!(state(law, emitter, 0.0, emitter.supply_c), none);
        assert_eq!(state(law, emitter, f64::NAN, emitter.supply_c), none);
        assert_eq!(state(law, emitter, 1.0, emitter.room_c), none);
        // A supply as far on the other side of the room as the design's is on its own.
        let wrong_side_c = 2.0 * emitter.room_c - emitter.supply_c;
        let found = state(law, emitter, 1.0, wrong_side_c);
        assert_eq!(found, EmitterState { heat_share: 0.0, return_c: wrong_side_c });
        // Water flowing backwards heats as well.
        let (back, forth) = (state(law, emitter, -0.6, 40.0), state(law, emitter, 0.6, 40.0));
        assert_eq!(back, forth);
    }
}

#[test]
fn flawed_designs_are_named_and_give_no_heat() {
    let coil = EmitterLaw::Coil { arrangement: CoilArrangement::Counterflow, water_film_share: 0.3 };
    let sound = design(70.0, 50.0, 20.0);
    let hot_air = EmitterDesign { air_outlet_c: Some(71.0), ..sound };
    for (law, emitter, expected) in [
        (RADIATOR, design(70.0, 70.0, 20.0), DesignFlaw::Return),
        (RADIATOR, design(70.0, 15.0, 20.0), DesignFlaw::Return),
        (RADIATOR, design(20.0, 20.0, 20.0), DesignFlaw::Return),
        (EmitterLaw::Radiator { exponent: 2.5 }, sound, DesignFlaw::Exponent),
        (coil, sound, DesignFlaw::NoAirOutlet),
        (coil, hot_air, DesignFlaw::AirOutlet),
    ] {
        assert_eq!(flaw(law, emitter), Some(expected));
        assert_eq!(state(law, emitter, 1.0, 70.0).heat_share, 0.0);
    }
}

/// Known by its rated loss alone: heat goes with flow until the return would pass the room.
#[test]
fn constant_drop() {
    let source = design(70.0, 50.0, 20.0);
    check(state(EmitterLaw::ConstantDrop, source, 0.5, 65.0).heat_share, 0.5, 1e-12, "heat");
    check(state(EmitterLaw::ConstantDrop, source, 0.5, 65.0).return_c, 45.0, 1e-12, "return");
    check(state(EmitterLaw::ConstantDrop, source, 1.0, 30.0).heat_share, 0.5, 1e-12, "floor");
    check(state(EmitterLaw::ConstantDrop, source, 1.0, 30.0).return_c, 20.0, 1e-12, "room");
}
