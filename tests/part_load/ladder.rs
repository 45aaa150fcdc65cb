//! Textbook systems: equal zones on a direct-return main whose every loss goes with the square of flow, drawn from valves alone.

use headwise::document::{ComponentId, Project};
use headwise::engine::fluid::Fluid;
use headwise::file;
use std::fmt::Write;

/// Head at design, m.
pub const HEAD_M: f64 = 5.0;
/// Head that Kv 1 takes at 1 m³/h, m: 1 bar over 1000 kg/m³ and standard gravity.
const KV_HEAD_M: f64 = 1e5 / (1000.0 * 9.80665);
const LOAD_KW: f64 = 8.0;

/// A system of equal zones.
pub struct Ladder {
    /// How many zones.
    pub zones: usize,
    /// Share of design head that the pipe before the first tee takes.
    pub common: f64,
    /// Share that the mains between the tees take on the way to the last zone, in equal pieces.
    pub mains: f64,
    /// Whether all zones but the last have a flow limiter: no zone needs balancing then, and none takes more than its own. The
    /// limiters hold a quarter more than these zones need, so that only the last zone can lack anything.
    pub is_limited: bool,
}

impl Ladder {
    /// Design flow of one zone, m³/s.
    pub fn zone_flow() -> f64 {
        let water = Fluid::water().properties(41.5).unwrap();
        LOAD_KW * 1e3 / (7.0 * water.volumetric_heat_capacity_j_per_m3_k())
    }

    /// The drawing, and its circulator.
    pub fn draw(&self) -> (Project, ComponentId) {
        let zone = 3600.0 * Self::zone_flow();
        let all = zone * self.zones as f64;
        let kv = |flow: f64, share: f64| flow * (KV_HEAD_M / (share * HEAD_M)).sqrt();
        let n = self.zones as f64;
        let piece = 6.0 * self.mains / (n * (n + 1.0) * (2.0 * n + 1.0));
        let branch = 1.0 - self.common - self.mains;
        let (mut components, mut pipes, mut zones) = (String::new(), String::new(), String::new());
        let mut put =
            |name: &str, is: String| writeln!(components, "(name: \"{name}\", at: (0, 0), is: {is}),").unwrap();
        let mut join = |from: &str, to: &str| writeln!(pipes, "(from: ({from}), to: ({to})),").unwrap();
        let valve = |kv: f64| format!("isolation_valve(kv_m3_per_h: {kv}, open: true)");
        put("Source", format!("source(loss_kpa: 0, rated_flow_m3_per_h: {all}, minimum_flow_m3_per_h: 0)"));
        put("Tee", "tee".to_owned());
        put("Vessel", "expansion_vessel".to_owned());
        let point = |share: f64| {
            format!(
                "(flow_m3_per_h: {}, head_m: {}, power_w: {})",
                share * all,
                10.0 - 2.0 * share * share,
                n * (20.0 + 30.0 * share)
            )
        };
        put(
            "Pump",
            format!(
                "pump(catalogue: [{}, {}, {}], standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: Some(5), \
                 slope_percent: 0, speed_cap_percent: 100, minimum_speed_percent: 0))",
                point(0.0),
                point(1.0),
                point(2.0)
            ),
        );
        put("Common", if self.common > 0.0 { valve(kv(all, self.common)) } else { valve(2000.0) });
        join("\"Source\", outlet", "\"Tee\", branch");
        join("\"Tee\", branch", "\"Vessel\", branch");
        join("\"Tee\", branch", "\"Pump\", inlet");
        join("\"Pump\", outlet", "\"Common\", inlet");
        let mut before = "\"Common\", outlet".to_owned();
        let mut back = "\"Source\", inlet".to_owned();
        for number in 1..=self.zones {
            let name = |what: &str| format!("{what} {number}");
            put(&name("Flow"), "tee".to_owned());
            put(&name("Return"), "tee".to_owned());
            put(&name("Main"), valve(if self.mains > 0.0 { kv(zone, piece) } else { 2000.0 }));
            put(&name("Emitter"), "emitter(law: radiator(exponent: 1.3), loss_kpa: 0)".to_owned());
            let is = if self.is_limited && number < self.zones {
                let least_kpa = branch * HEAD_M * 9.80665;
                format!(
                    "pressure_independent_valve(set_flow_m3_per_h: {}, least_drop_kpa: {least_kpa}, open: true)",
                    zone
                )
            } else {
                format!("zone_valve(kv_m3_per_h: {}, open: true)", kv(zone, branch))
            };
            put(&name("Valve"), is);
            join(&before, &format!("\"Main {number}\", inlet"));
            join(&format!("\"Main {number}\", outlet"), &format!("\"Flow {number}\", branch"));
            join(&format!("\"Flow {number}\", branch"), &format!("\"Emitter {number}\", inlet"));
            join(&format!("\"Emitter {number}\", outlet"), &format!("\"Valve {number}\", inlet"));
            join(&format!("\"Valve {number}\", outlet"), &format!("\"Return {number}\", branch"));
            join(&format!("\"Return {number}\", branch"), &back);
            before = format!("\"Flow {number}\", branch");
            back = format!("\"Return {number}\", branch");
            let load_kw = if self.is_limited && number < self.zones { LOAD_KW / 1.25 } else { LOAD_KW };
            let of = format!("emitter: \"Emitter {number}\", valve: Some(\"Valve {number}\")");
            writeln!(zones, "(name: \"Zone {number}\", load_kw: {load_kw}, {of}),").unwrap();
        }
        let text = format!(
            "(format: 1, title: \"Ladder\", design: (duty: heating, supply_c: 45, return_c: 38, room_c: 20), fluid: water, \
             components: [{components}], pipes: [{pipes}], zones: [{zones}], scenarios: [])"
        );
        let project = file::parse(&text, "ladder").unwrap();
        let pump = project.component_named("Pump").unwrap();
        (project, pump)
    }
}
