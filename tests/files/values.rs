//! Values that no system can have: each is refused with its place and what to do.

use super::*;

#[test]
fn values_that_cannot_be() {
    let pipe = line("\"Common flow\"");
    check(
        &message("length_m: 4,", "length_m: -4,"),
        &[&format!("line {pipe}, pipe Common flow: the length is negative (-4)")],
    );
    check(&message("bore_mm: 32.6, ", ""), &[&format!("line {pipe}, pipe Common flow"), "give bore_mm"]);
    check(&message("roughness_mm: 0.0015, ", ""), &["its roughness is missing"]);
    check(
        &message("(\"Chiller\", outlet)", "(\"Chiller\", branch)"),
        &["Chiller has no such port", &format!("line {pipe}")],
    );
    check(&message("to: (\"T1\", branch)", "to: (\"T1\", inlet)"), &["pipe Circulator – T1", "T1 has no such port"]);
    check(&message("mass_percent: 30", "mass_percent: 80"), &["line 7, fluid", "80.0 %", "0 to 60"]);
    check(&message("return_c: 12", "return_c: 7"), &["zone Office", "same"]);
    check(
        &message("kv_m3_per_h: 12)", "kv_m3_per_h: 0)"),
        &["Strainer: the Kv is 0", &line("\"Strainer\"").to_string()],
    );
    check(&message("emitter: \"Floor\"", "emitter: \"T1\""), &["zone Hall", "its emitter is missing"]);
    check(&message("valve: Some(\"ZV\")", "valve: Some(\"BV\")"), &["zone Office", "its valve cannot be shut"]);
    check(&message("slope_percent: 25", "slope_percent: 125"), &["Circulator: the slope", "0 and 100 %"]);
    check(&message("flow_m3_per_h: 3,", "flow_m3_per_h: 1,"), &["Circulator: catalogue point 3"]);
    check(&message("hours_per_year: 300", "hours_per_year: 9000"), &["scenario All zones open", "9000"]);
    check(&message("name: \"Vessel\"", "name: \" \""), &["“Vessel”"]);
    let scenarios = line("scenarios: [");
    check(
        &message("hours_per_year: 300", "hours_per_year: 8600"),
        &[&format!("line {scenarios}, scenarios: together they take 8800.5 hours"), "8784 in all"],
    );
    // All flaws at once, each on its line.
    let both = EVERY_KIND.replace("length_m: 4,", "length_m: -4,").replace("hours_per_year: 300", "hours_per_year: -1");
    let FileError::Flaws { flaws, .. } = failure(&both) else { panic!() };
    let lines: Vec<_> = flaws.iter().map(|flaw| flaw.line.unwrap()).collect();
    assert_eq!(lines, [pipe, line("\"All zones open\"")]);
}

#[test]
fn what_is_released_without_being_filled_and_vented_is_told_with_its_line() {
    let starting = line("starting: (");
    let place = format!("line {starting}, starting: it says ");
    let filled = "filled: Some((date: \"2026-04-02\", by: \"R. Ash\")), fill_pressure_kpa: Some(150), ";
    check(&message("vented: Some(())", "released: Some(())"), &[&format!("{place}released to run, but not vented")]);
    check(
        &message(&format!("{filled}vented: Some(())"), "released: Some((by: \"R. Ash\"))"),
        &[&format!("{place}released to run, but not filled and vented: look at the pump")],
    );
    check(&message(filled, ""), &[&format!("{place}vented, but not filled")]);
    check(
        &message("filled: Some((date: \"2026-04-02\", by: \"R. Ash\")), ", "").replace("vented", ""),
        &[&format!("line {starting}, starting: it has a fill pressure, but does not say filled")],
    );
    check(&message("Some(150), vented", "Some(-150), vented"), &["the fill pressure, -150.0 kPa, lies below a vacuum"]);
    check(&message("2026-04-02", "2026-04-31"), &[&format!("line {starting}, starting: filled: there is no day")]);
    let site = line("site: (");
    check(&message("2026-03-31", "31 March"), &[&format!("line {site}, site: “31 March” is no date")]);
    check(&message("standby: standby", "standby: spare"), &["“spare”", "alternating"]);
    assert!(parse(&EVERY_KIND.replacen("vented: Some(())", "vented: Some(()), released: Some(())", 1), "done").is_ok());
}

#[test]
fn circulators_that_cannot_be() {
    // 900 · 9.80665 · (1.5/3600) · 6.5 = 23.9 W.
    check(&message("power_w: 60)", "power_w: 23)"), &["Circulator: catalogue point 2 takes 23 W", "23.9 W"]);
    assert!(parse(&EVERY_KIND.replacen("power_w: 60)", "power_w: 24)", 1), "low but possible").is_ok());
    check(
        &message("standby_w: 3,", "standby_w: 41,"),
        &["standby power, 41 W, is above the 40.1 W of catalogue point 1"],
    );
    check(
        &message("power_limit_w: Some(40)", "power_limit_w: Some(2.5)"),
        &["Second circulator: the power limit must lie above the standby power, 2.5 W", "or none"],
    );
    check(
        &message("stopped_kv_m3_per_h: Some(4.5)", "stopped_kv_m3_per_h: Some(0)"),
        &["Circulator: the Kv at standstill is 0: give more than zero"],
    );
    let steps = "steps: (head_limit_m: 0.05, slope_percent: 5, speed_cap_percent: 2)";
    for (old, new, words) in [
        (
            "head_limit_m: 0.05",
            "head_limit_m: 6.1",
            "step of the head limit is greater than the greatest catalogue head",
        ),
        ("slope_percent: 5", "slope_percent: 101", "step of the slope is greater than 100 %"),
        ("speed_cap_percent: 2", "speed_cap_percent: 200", "step of the speed cap is greater than 100 %"),
    ] {
        check(&message(steps, &steps.replace(old, new)), &["Second circulator: the ", words]);
    }
    check(&message("head_m: 3.7, power_w: 75)", "head_m: 6.5, power_w: 75)"), &["Circulator", "does not fall"]);
}

#[test]
fn temperatures_that_cannot_be() {
    let design = line("design: (");
    // 30 % propylene glycol freezes at about −13 °C and has data up to 100 °C.
    check(&message("supply_c: 7", "supply_c: -20"), &["fluid: at the supply temperature: The properties of 30.0 %"]);
    let hot =
        EVERY_KIND.replace("duty: cooling, supply_c: 7, return_c: 12", "duty: heating, supply_c: 40, return_c: 101");
    check(&failure(&hot).to_string(), &["fluid: at the return temperature", "100.0 °C"]);
    check(&message("return_c: Some(13)", "return_c: Some(120)"), &["zone Hall: at its return temperature"]);
    check(
        &message("duty: cooling", "duty: heating"),
        &[
            &format!("line {design}, design: a supply of 7 °C heats only if it lies above the return temperature"),
            "which is 12 °C",
            "above the room temperature, which is 26 °C",
            "choose the other duty",
        ],
    );
    check(
        &message("return_c: 12", "return_c: 7"),
        &["a supply of 7 °C cools only if it lies below the return temperature"],
    );
    check(
        &message("room_c: Some(24)", "room_c: Some(5)"),
        &["zone Hall: a supply of 7 °C cools only", "room temperature"],
    );
}

#[test]
fn what_no_two_zones_can_share() {
    check(
        &message("emitter: \"Floor\"", "emitter: \"Radiators\""),
        &["zone Hall: its emitter Radiators belongs to zone Office already", "make one zone of both"],
    );
    check(&message("valve: Some(\"CV\")", "valve: Some(\"ZV\")"), &["zone Hall: its valve ZV belongs to zone Office"]);
}

#[test]
fn pipes_rougher_than_any_chart() {
    // 0.05 · 32.6 mm = 1.63 mm.
    check(
        &message("roughness_mm: 0.0015", "roughness_mm: 1.64"),
        &["pipe Common flow: the roughness is 0.050 of the bore"],
    );
    assert!(parse(&EVERY_KIND.replacen("roughness_mm: 0.0015", "roughness_mm: 1.62", 1), "very rough").is_ok());
}

#[test]
fn pressures_and_limits_that_cannot_be() {
    // A vacuum is 101.325 kPa below the standard atmosphere (by definition).
    check(
        &message("pressure_kpa: 150", "pressure_kpa: -101.4"),
        &["Vessel of known pressure: the pressure, -101.4 kPa, lies below a vacuum"],
    );
    assert!(parse(&EVERY_KIND.replacen("pressure_kpa: 150", "pressure_kpa: -101.3", 1), "nearly a vacuum").is_ok());
    check(
        &message("least_inlet_kpa: Some(20)", "least_inlet_kpa: Some(-200)"),
        &["Second circulator: the least inlet pressure, -200.0 kPa"],
    );
    check(&message("npsh_required_m: Some(1.5)", "npsh_required_m: Some(0)"), &["suction head is 0: give more"]);
    let limits = line("limits: (");
    for (old, new) in [
        ("(80, 250)", "(250, 80)"),
        ("(0.3, 1)", "(-0.3, 1)"),
        ("authority_percent: 40", "authority_percent: 100"),
        ("boiling_margin_kpa: 20", "boiling_margin_kpa: -1"),
    ] {
        check(&message(old, new), &[&format!("line {limits}, limits: bands of friction")]);
    }
}

#[test]
fn what_results_are_judged_by_is_read_and_written() {
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    assert_eq!(project.limits.valve_drop, 15_000.0);
    let energy = &project.energy;
    assert_eq!((energy.price_per_kwh, energy.co2_kg_per_kwh), (Some(0.3125), Some(0.25)));
    assert_eq!((energy.price_source.as_str(), energy.co2_source.as_str()), ("tariff of 2026", ""));
    assert!(energy.counts_standby && project.every_combination);
    assert_eq!((project.uncertainty.valve, project.uncertainty.length), (0.05, 0.10));
    assert_eq!((project.scenarios[1].outdoor_c, project.scenarios[0].outdoor_c), (Some(30.0), None));
    let [flat] = &project.variants[..] else { panic!() };
    assert_eq!((flat.name.as_str(), Some(flat.pump)), ("Flat", project.component_named("Circulator")));
    assert_eq!((flat.regulation.head_limit_m, flat.regulation.speed_cap), (Some(4.5), 0.9));
    let text = to_text(&project).unwrap();
    check(
        &text,
        &["every_combination: true,\n", "\n        (name: \"Flat\", pump: \"Circulator\", settings: (head_limit_m: "],
    );
    // What has its default is not written.
    let plain = to_text(&headwise::document::Project::blank()).unwrap();
    for part in ["energy", "uncertainty", "every_combination", "variants", "outdoor_c", "valve_drop"] {
        assert!(!plain.contains(part), "{part} is in {plain}");
    }
}

#[test]
fn variants_and_bases_that_cannot_be() {
    let flat = line("\"Flat\"");
    check(
        &message("pump: \"Circulator\"", "pump: \"Circulater\""),
        &[&format!("line {flat}: variant Flat names the component “Circulater”"), "Perhaps “Circulator” is meant"],
    );
    check(&message("pump: \"Circulator\"", "pump: \"Chiller\""), &["variant Flat", "its circulator is not there"]);
    check(
        &message("Some(4.5), slope_percent: 0", "Some(4.5), slope_percent: 101"),
        &[&format!("line {flat}, variant Flat: the slope")],
    );
    check(&message("Some(0.3125)", "Some(-1)"), &["energy: the price of a kilowatt-hour is negative"]);
    check(&message("valve_percent: 5", "valve_percent: 100"), &["uncertainty: that of valves", "below 100 %"]);
    check(&message("outdoor_c: Some(30)", "outdoor_c: Some(300)"), &["scenario Office alone: 300 °C is no outdoor"]);
    let (start, one) =
        (EVERY_KIND.find("        (name: \"Flat\"").unwrap(), EVERY_KIND.rfind("    ],\n    starting").unwrap());
    let seven: String = (0..7).map(|n| EVERY_KIND[start..one].replace("Flat", &format!("V{n}"))).collect();
    check(
        &failure(&EVERY_KIND.replace(&EVERY_KIND[start..one], &seven)).to_string(),
        &["variants: there are 7", "keep 6 at most"],
    );
}
