//! Project format 1, both ways.
//!
//! The file's types mirror the text: field names with units, names where the live types have identities. Each file of
//! this folder holds the types of one part of the text and their conversion to and from the live ones:
//!
//! - `basis`: design temperatures, fluid, acceptance; `limits`; `judged`: energy, uncertainty, variants;
//! - `site`: the job, the register of a circulator, the checklist fill – vent – release;
//! - `component`: name, place and turn; `kind`, `law`, `pump`: what it is;
//! - `wiring`: pipes, zones and scenarios, which refer to others by name; `fitting`: the fittings of a pipe;
//! - `read`: text → project, with names resolved; `write`: project → text, one item a line.
//!
//! Optional in the text, with what is taken if it is missing: `notes` (empty), `site`, `starting` and a pump's `register` and
//! every field of these (empty, not done, alone), a design's `outdoor_c` and `outdoor_now_c`
//! (None), `acceptance` (±10 %), `limits`, `energy` and `uncertainty` and every field of the last two (those of the live type),
//! the limits' `valve_drop_kpa` (20), `pipes`, `zones`, `scenarios`, `shut` and `variants` (none), a scenario's `outdoor_c`
//! (None), `every_combination` (false), `turn`
//! (right), `height_m` (0), a source's `supply_c` (None), an emitter's `exponent` (2) and `air_outlet_c` (None), a pump's
//! `steps` (0.1 m, 1 %, 1 %), `running` (true), `address` (empty), `reference_flow` (full speed), `least_inlet_kpa` and
//! `npsh_required_m` (None), a control valve's `shut` (false), a strainer's `fouled_kv_m3_per_h` (as clean) and
//! `fouling_percent` (0), a pipe's `name`, `length_m`, `size`, `fittings`, `k` and `bends` (none), its `bore_mm` and
//! `roughness_mm` (those of its size; none for a pipe without length and loss), the source of a fitting `by` (the usual one),
//! a zone's `valve`, `room_c` and `return_c` (None) and its `gain_kw` (0). All else must be there. What has its default is not
//! written, but for the parts themselves and for what a designer will look for (settings, running, address, the source of a
//! fitting's loss).
//! A vessel of unknown pressure is written `expansion_vessel`, one of known pressure `expansion_vessel_at`.

mod basis;
mod component;
mod fitting;
mod judged;
mod kind;
mod law;
mod limits;
mod pump;
mod read;
mod site;
mod wiring;
mod write;

pub(super) use read::read;
pub(super) use write::write;

use crate::file::figure::Plain;
use serde::Deserialize;

/// The whole text; it is written part by part.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[expect(dead_code, reason = "read before, and named so that it is no unknown field")]
    format: u32,
    title: String,
    #[serde(default)]
    notes: String,
    #[serde(default)]
    site: site::Site,
    design: basis::Design,
    #[serde(default)]
    outdoor_now_c: Option<Plain>,
    fluid: basis::Fluid,
    #[serde(default)]
    acceptance: basis::Acceptance,
    #[serde(default)]
    limits: limits::Limits,
    #[serde(default)]
    energy: judged::Energy,
    #[serde(default)]
    uncertainty: judged::Uncertainty,
    components: Vec<component::Component>,
    #[serde(default)]
    pipes: Vec<wiring::Pipe>,
    #[serde(default)]
    zones: Vec<wiring::Zone>,
    #[serde(default)]
    scenarios: Vec<wiring::Scenario>,
    #[serde(default)]
    every_combination: bool,
    #[serde(default)]
    variants: Vec<judged::Variant>,
    #[serde(default)]
    starting: site::Starting,
}
