//! Zones: parts of the building with one heat load, one emitter and its valves.

use super::ComponentId;

/// Identity of a zone within its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ZoneId(pub u32);

/// A zone.
#[derive(Clone, Debug, PartialEq)]
pub struct Zone {
    /// Name, unlike all other zones' names.
    pub name: String,
    /// Heat load, or cooling load without sign, W.
    pub load: f64,
    /// Its emitter.
    pub emitter: ComponentId,
    /// The valve that shuts it, if it has one.
    pub valve: Option<ComponentId>,
    /// Room or entering-air temperature where it differs from the design's, °C.
    pub room_c: Option<f64>,
    /// Heat that people, sun and devices bring to its rooms now, W; felt by a thermostatic valve alone.
    pub gain: f64,
    /// Return temperature at design where it differs from the design's, °C.
    pub return_c: Option<f64>,
}
