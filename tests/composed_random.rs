//! Property: whatever list of zones comes in, in whatever dress, the drawing is sound: no flaw, no problem, nothing on top of
//! anything else, the same after saving, and every zone at its design flow when solved.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

mod sound;

use headwise::document::{Arrangement, DesignBasis, Duty, PlannedRun, SystemPlan};
use headwise::engine::fluid::Fluid;
use headwise::engine::pipes;
use headwise::file::table;
use headwise::study::sizing::{SizingLimits, balance, size_system};
use proptest::prelude::*;
use sound::is_sound;

/// One zone of a list: load kW, share of the excess over the room that its water loses, emitter, loss kPa, branch m, distance m,
/// valve.
type Zone = (f64, f64, usize, f64, f64, f64, usize);

const EMITTERS: [&str; 5] = ["radiator", "convector", "other", "coil", "floor"];
const VALVES: [&str; 5] = ["zone valve", "control valve", "pressure-independent", "thermostatic", "none"];

fn zone() -> impl Strategy<Value = Zone> {
    (0.5..50.0, 0.1..0.5, 0..EMITTERS.len(), 0.0..30.0, 0.0..40.0, 0.0..40.0, 0..VALVES.len())
}

/// The list as text: separator, decimal sign, and whether the flow stands there instead of the temperature drop.
fn text(zones: &[Zone], supply_c: f64, dress: usize, flows: bool) -> String {
    let (separator, comma) = [("\t", true), (";", true), (",", false), (";", false)][dress];
    let number = |value: f64| {
        let text = format!("{value:.4}");
        if comma { text.replace('.', ",") } else { text }
    };
    let flow = if flows { "flow (L/h)" } else { "ΔT (K)" };
    let heading = [
        "distance (m)",
        "Zone",
        "heat load (kW)",
        flow,
        "emitter",
        "emitter loss [kPa]",
        "branch length (m)",
        "valve",
        "leaving air (°C)",
    ];
    let mut lines = vec![heading.join(separator)];
    for (index, (load, share, emitter, loss, branch, distance, valve)) in zones.iter().enumerate() {
        let drop_k = share * (supply_c - 20.0);
        // Water of 4.1 kJ/(L K): the flow need not be exact, it is what counts.
        let flow = if flows { 3600.0 * load / (4.1 * drop_k) } else { drop_k };
        // Too hot for a floor.
        let emitter = if supply_c > 55.0 { emitter % 4 } else { *emitter };
        let cells = [
            number(*distance),
            format!("Zone {index}"),
            number(*load),
            number(flow),
            EMITTERS[emitter].to_owned(),
            number(*loss),
            number(*branch),
            VALVES[*valve].to_owned(),
            if EMITTERS[emitter] == "coil" { number(20.0 + 0.4 * (supply_c - 20.0)) } else { String::new() },
        ];
        lines.push(cells.join(separator));
    }
    lines.join("\n")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_list_gives_a_sound_drawing(
        zones in prop::collection::vec(zone(), 1..12),
        (supply_c, way, dress, flows) in (35.0..80.0, 0..3_usize, 0..4_usize, any::<bool>()),
        common in 0.0..20.0,
    ) {
        let arrangement =
            [Arrangement::DirectReturn, Arrangement::ReverseReturn, Arrangement::Manifold][way];
        let list = text(&zones, supply_c, dress, flows);
        let read = table::read_zones(&list, "list").unwrap();
        prop_assert_eq!(read.len(), zones.len());
        let return_c = supply_c - 0.3 * (supply_c - 20.0);
        let steel = pipes::series("steel-40").unwrap();
        let plan = SystemPlan {
            title: "Any".to_owned(),
            notes: String::new(),
            design: DesignBasis { duty: Duty::Heating, supply_c, return_c, room_c: 20.0, outdoor_c: Some(-10.0) },
            fluid: Fluid::water(),
            arrangement,
            zones: read,
            pump: None,
            common: PlannedRun { length: common, minor_k: 6.0, bore: None },
            source_loss: 5e3,
            source_minimum_flow: 0.0,
            strainer_kv: None,
            roughness: steel.roughness_m,
        };
        let limits = SizingLimits::default();
        let system = size_system(&plan, steel, &limits).unwrap();
        is_sound(&system.project);
        for run in &system.runs {
            prop_assert!(limits.allow(run.bore, run.friction_pa_per_m, run.velocity_m_per_s));
        }
        // Balancing a balanced drawing changes nothing but what was rounded.
        let again = balance(&system.project).unwrap();
        prop_assert_eq!(again.index, system.balance.index);
        prop_assert!((again.head_m / system.balance.head_m - 1.0).abs() < 1e-9);
        prop_assert!(system.balance.unbalanced.is_empty());
    }
}
