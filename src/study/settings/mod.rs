//! The search among settings: which serve every zone in every state, which of those costs least, why no more can be had, and how
//! much may be off.

mod best;
mod branch;
mod contours;
mod deciding;
mod explain;
mod map;
mod off;
mod plane;
mod presettings;
mod region;
mod remedies;
mod watch;

pub use best::{Best, NoBest, best, least_starving};
pub use deciding::{Deciding, Miss, StateEdge};
pub use explain::{Binding, Setting, bindings, explanation, miss_words, sources_words, why_none};
pub use map::{CELLS, Contour, MapCell, SettingMap};
pub use off::{OffCase, Robustness, robustness};
pub use plane::{Axes, Plane};
pub use presettings::{Preset, with_presettings};
pub use region::{Outline, region};
pub use remedies::{Remedy, binding_zone, remedies};
pub use watch::Watch;
