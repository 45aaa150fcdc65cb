//! Part load: tables and edges against the study itself, closed forms of textbook systems, the sample buildings' worked figures,
//! energy.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

mod systems;

#[path = "part_load/buildings.rs"]
mod buildings;
#[path = "part_load/closed_forms.rs"]
mod closed_forms;
#[path = "part_load/edges.rs"]
mod edges;
#[path = "part_load/energy.rs"]
mod energy;
#[path = "part_load/ladder.rs"]
mod ladder;
#[path = "part_load/tables.rs"]
mod tables;
