//! The search among settings: which serve every zone in every state, which of those costs least, why no more can be had, and how
//! much may be off.

mod best;
mod deciding;
mod watch;

pub use best::{Best, NoBest, best};
pub use deciding::{Deciding, Miss, StateEdge};
pub use watch::Watch;
