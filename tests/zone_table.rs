//! Lists of zones and catalogue points as people paste them: separators, decimal signs, units, words; and what is said where
//! they cannot be read.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{PlannedFlow, PlannedValve, PlannedZone};
use headwise::engine::links::emitter::EmitterLaw;
use headwise::file::table::{TableError, TableFault, load_zones, read_pump, read_pump_of_speed, read_zones};
use std::fs;

fn zones(text: &str) -> Vec<PlannedZone> {
    read_zones(text, "list").unwrap()
}

fn faults(text: &str) -> Vec<TableFault> {
    match read_zones(text, "list").unwrap_err() {
        TableError::Faults { faults, .. } => faults,
        other => panic!("{other}"),
    }
}

/// Each fault as text holds its words, and there are no others.
#[track_caller]
fn told(found: &[TableFault], expected: &[&[&str]]) {
    let texts: Vec<String> = found.iter().map(ToString::to_string).collect();
    assert_eq!(texts.len(), expected.len(), "{texts:#?}");
    for (text, words) in texts.iter().zip(expected) {
        assert!(words.iter().all(|word| text.contains(word)), "{text}: {words:?}");
    }
}

/// One and the same zone in many dresses.
#[test]
fn separators_decimals_and_units_make_no_difference() {
    let lists = [
        "zone\theat load (kW)\temitter\temitter loss (kPa)\tbranch length (m)\tdistance (m)\nA\t1,985\tradiator\t8,5\t0,75\t12\n",
        "zone;heat load [W];emitter;emitter loss [Pa];branch length [mm];distance [m]\r\nA;1985;Radiators;8500;750;12,0\r\n",
        "distance (m),zone,heat load (kW),emitter,emitter loss (bar),branch length (m)\n12,\"A\",1.985,RADIATOR,0.085,.75",
        "zone;heat load;emitter;emitter loss;branch length;distance\nA;1,985 kW;panel radiator;8,5 kPa;0,75 m;12 m",
        "\u{feff}Zone;Heat_Load kW;Emitter;Loss kPa;Branch m;Distance m;notes\n;;;;;\nA;\"1,985\";radiator;8,5;0,75;12;first",
        "zone;heat load (W);emitter;emitter loss (Pa);branch length (m);distance (m)\nA;1.985;radiator;8.500;0,75;12",
    ];
    for list in lists {
        let [zone] = zones(list).try_into().unwrap();
        assert_eq!(zone.name, "A");
        assert!((zone.load - 1985.0).abs() < 1e-9, "{list}: {}", zone.load);
        assert!((zone.emitter_loss - 8500.0).abs() < 1e-9, "{list}: {}", zone.emitter_loss);
        assert!((zone.branch.length - 0.75).abs() < 1e-12 && zone.branch.bore.is_none());
        assert!((zone.main.unwrap().length - 12.0).abs() < 1e-12);
        assert!(matches!(zone.emitter, EmitterLaw::Radiator { .. }));
        assert_eq!((zone.valve, zone.flow), (PlannedValve::Zone, PlannedFlow::AsDesigned));
    }
}

/// 1 Btu/h = 0.29307107 W, 1 ft = 0.3048 m, 1 psi = 6894.757 Pa, 1 in = 25.4 mm, Kv = 0.8650 Cv (published conversions).
#[test]
fn inch_pound_units() {
    let [zone] = zones(
        "zone,load (Btu/h),dT (°F),emitter,loss (psi),branch length (ft),distance (ft),Cv,branch bore (in),room temperature (°F)\n\
         A,10000,18,convector,1,10,20,2,0.75,68",
    )
    .try_into()
    .unwrap();
    assert!((zone.load - 2930.7107).abs() < 1e-3);
    assert!(matches!(zone.flow, PlannedFlow::Drop(drop_k) if (drop_k - 10.0).abs() < 1e-9));
    assert!((zone.emitter_loss - 6894.757).abs() < 1e-3);
    assert!((zone.branch.length - 3.048).abs() < 1e-12 && (zone.branch.bore.unwrap() - 0.01905).abs() < 1e-12);
    assert!((zone.valve_kv.unwrap() - 2.0 * 0.865).abs() < 1e-3);
    assert!((zone.room_c.unwrap() - 20.0).abs() < 1e-9);
}

#[test]
fn words_for_emitters_and_valves() {
    let list = "zone;load (kW);emitter;loss (kPa);branch (m);valve;flow (m³/h);leaving air (°C)\n\
                A;1;underfloor heating;5;5;Zone valve;0,1;\n\
                B;1;fan coil;5;5;control valve;0,1;30\n\
                C;1;heat exchanger;5;5;pressure-independent;0,1;\n\
                D;1;convectors;5;5;thermostatic;0,1;\n\
                E;1;radiators;5;5;none;0,1;\n\
                F;1;radiators;5;5;;–;\n";
    let zones = zones(list);
    let valves: Vec<PlannedValve> = zones.iter().map(|zone| zone.valve).collect();
    use PlannedValve as V;
    assert_eq!(valves, [V::Zone, V::Control, V::PressureIndependent, V::Thermostatic, V::Without, V::Zone]);
    assert!(matches!(zones[0].emitter, EmitterLaw::FloorLoop { .. }));
    assert!(matches!(zones[1].emitter, EmitterLaw::Coil { .. }) && zones[1].air_outlet_c == Some(30.0));
    assert!(matches!(zones[2].emitter, EmitterLaw::ConstantDrop));
    assert!(matches!(zones[0].flow, PlannedFlow::Flow(flow) if (flow * 36000.0 - 1.0).abs() < 1e-12));
    assert_eq!(zones[5].flow, PlannedFlow::AsDesigned);
    assert!(zones.iter().all(|zone| zone.main.is_none()));
}

/// What lies behind a tee lies before the next one; the last figure has no zone behind it.
#[test]
fn distances_to_the_next_tee_count_for_the_zone_below() {
    let list = "zone;load (kW);emitter;loss (kPa);branch (m);distance to the next tee (m)\n\
                A;1;radiator;5;5;8\nB;1;radiator;5;5;10\nC;1;radiator;5;5;\n";
    let lengths: Vec<Option<f64>> = zones(list).iter().map(|zone| zone.main.map(|run| run.length)).collect();
    assert_eq!(lengths, [None, Some(8.0), Some(10.0)]);
    let both = list.replace("branch (m)", "branch (m);distance (m)").replace(";5;5;", ";5;5;5;");
    told(&faults(&both), &[&["column G", "keep one of the two columns"]]);
}

/// All faults at once, each with its row as the spreadsheet counts it, its column and what to do.
#[test]
fn every_fault_is_told_with_row_and_column() {
    let list = "zone;heat load (kW);emitter;emitter loss (kPa);branch length (m);valve;flow (m³/h);ΔT (K)\n\
                A;two;radiator;8,5;5;;;\n\
                \n\
                A;3;lamp;-1;5;tap;;\n\
                ;4;radiator;8;;;0,3;7\n\
                D;0;coil;8;5;;;\n\
                E;2 m;radiator;8;5;;;;9\n";
    told(
        &faults(list),
        &[
            &["row 2, column B “heat load (kW)”: “two", "is not a number"],
            &[
                "row 4, column C “emitter”",
                "“lamp” is no known emitter: type radiator, convector, floor, coil or other",
            ],
            &["row 4, column D", "negative: type zero or more"],
            &["row 4, column F “valve”", "“tap” is no known valve"],
            &["row 4, column A “zone”", "stands in row 2 too"],
            &["row 5, column A", "no name", "delete the row if it is a sum"],
            &["row 5, column G", "empty one of the two"],
            &["row 5, column E", "empty: type the figure"],
            &["row 6, column B", "not above zero"],
            &["row 6, column C", "leaving air"],
            &["row 7: “9” stands in cell 9", "beyond the last heading"],
            &["row 7, column B", "“m” is a unit of head, not of heat"],
        ],
    );
    let error = read_zones(list, "zones.csv").unwrap_err().to_string();
    assert!(error.starts_with("zones.csv: this table cannot be used:\n  row 2, column B"), "{error}");
}

#[test]
fn headings_that_are_missing_doubled_unknown_or_of_the_wrong_unit() {
    told(
        &faults("zone;heat lod (kW);emitter;loss (m);loss (kPa);branch (m);colour\nA;1;radiator;8;8;5;red\n"),
        &[
            &["row 1, column B “heat lod (kW)”", "perhaps “heat load” is meant"],
            &["row 1, column D “loss (m)”", "“m” is a unit of", "not of pressure"],
            &["row 1, column E", "holds the same: keep one of the two"],
            &["row 1, column G “colour”", "not known", "zone, heat load, temperature drop"],
            &["row 1: there is no column “heat load”", "add one with the heading “heat load (kW)”"],
        ],
    );
    told(&faults("zone;load;emitter;loss (kPa);branch (m)\nA;1;radiator;8;5"), &[&["row 2, column B", "(kW)"]]);
    told(&faults(" \n"), &[&["nothing in it"]]);
    told(&faults("zone;load (kW);emitter;loss (kPa);branch (m)\n"), &[&["no row below"]]);
    told(&faults("zone;load (kW);emitter;loss (kPa);branch (m)\n\"A;1;radiator;8;5\n"), &[&["row 2", "no end"]]);
}

/// `1,985` alone may be either; one cell that can be read one way only decides for the whole table.
#[test]
fn a_comma_that_may_be_either_is_asked_about() {
    let list = |second: &str| {
        format!("zone;load (kW);emitter;loss (kPa);branch (m)\nA;1,985;radiator;8;5\nB;{second};radiator;8;5\n")
    };
    told(&faults(&list("2")), &[&["row 2, column B", "two ways", "1985", "1.985"]]);
    assert!((zones(&list("0,5"))[0].load - 1985.0).abs() < 1e-9);
    assert!((zones(&list("0.5"))[0].load - 1_985_000.0).abs() < 1e-6);
}

/// Files as spreadsheets save them, and files that are none.
#[test]
fn files_are_read_in_utf_8_and_utf_16() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("zones.csv");
    let text = "zone;load (kW);ΔT (K);emitter;loss (kPa);branch (m)\nBüro;2;7;radiator;8;5\n";
    fs::write(&path, text).unwrap();
    let plain = load_zones(&path).unwrap();
    let wide: Vec<u8> = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    fs::write(&path, wide).unwrap();
    assert_eq!(load_zones(&path).unwrap(), plain);
    fs::write(&path, [0x42, 0xFC, 0x72, 0x6F]).unwrap();
    assert!(load_zones(&path).unwrap_err().to_string().contains("save the spreadsheet as CSV in UTF-8"));
    assert!(load_zones(&folder.path().join("none.csv")).unwrap_err().to_string().contains("no such file"));
}

/// Affinity is not in the table: points at one speed, in any order.
#[test]
fn catalogue_points() {
    let table = read_pump(
        "Flow (L/s)\tHead (ft)\tPower (W)\tSpeed (r/min)\n0,5\t16,4042\t70\t4400\n0\t24,6063\t60\t\n0,25\t22\t66\t4400\n",
        "pump",
    )
    .unwrap();
    assert!((table.full_speed_rpm - 4400.0).abs() < 1e-9);
    let flows: Vec<f64> = table.points.iter().map(|point| point.flow).collect();
    assert_eq!(flows, [0.0, 0.25e-3, 0.5e-3]);
    // 1 ft = 0.3048 m.
    assert!((table.points[0].head - 7.5).abs() < 1e-4 && (table.points[2].head - 5.0).abs() < 1e-4);
    let error =
        read_pump("flow (m3/h);head (m);power (W);speed (r/min)\n0;7,5;60;4400\n1;7;;2800\n0;6;50;\n", "pump.csv")
            .unwrap_err();
    let TableError::Faults { faults, .. } = error else { panic!("{error}") };
    told(
        &faults,
        &[
            &["row 3, column C", "empty"],
            &["row 3, column D", "2800 r/min", "4400 r/min", "full speed alone"],
            &["row 4, column A", "row 2 has the same flow"],
        ],
    );
    let known = read_pump_of_speed("flow (m3/h);head (m);power (W)\n0;7,5;60\n1;7;62\n", "pump.csv", 2900.0).unwrap();
    assert_eq!((known.full_speed_rpm, known.points.len()), (2900.0, 2), "where the speed is known it needs no column");
    let error = read_pump("flow (m3/h);head (m);power (W)\n0;7,5;60\n", "pump.csv").unwrap_err().to_string();
    assert!(error.contains("no column “speed”") && error.contains("speed (r/min)"), "{error}");
}

mod any {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        /// Nothing that can be pasted stops the program.
        #[test]
        fn any_text_is_read_or_refused(text in "[a-zA-Z0-9 ,;\t\n\"().\\-Δ°³/]{0,200}") {
            let _ = read_zones(&text, "any");
            let _ = read_pump(&text, "any");
        }

        #[test]
        fn any_cells_are_read_or_refused(cells in prop::collection::vec("[0-9a-zé,.\"\\-−% ]{0,8}", 5..40)) {
            let rows: Vec<String> = cells.chunks(5).map(|row| row.join(";")).collect();
            let text = format!("zone;load (kW);emitter;loss (kPa);branch (m)\n{}", rows.join("\n"));
            let _ = read_zones(&text, "any");
        }
    }
}
