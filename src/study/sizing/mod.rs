//! Sizing: what follows from the design flows alone, before anything is solved: pipe sizes, the index circuit, the head it
//! needs, and how far each balancing valve must be throttled.
//!
//! Every function takes a drawing as it is, drawn from a table or by hand, as long as its distribution is tree-like: one
//! running circulator, and no way round beside the zones. Then the flow in every run follows from the zones' design flows by
//! continuity, and no equation needs to be solved. They change nothing; what they find is the caller's to carry out.

mod balance;
mod choice;
mod design;
mod error;
mod flows;
mod needs;
mod regulation;

pub use balance::{Balance, Presetting, balance};
pub use choice::{ChosenPipe, SizedRun, SizingLimits, choose, sizes};
pub use design::{SizedSystem, size_system};
pub use error::SizingError;
pub use flows::{DesignFlows, design_flows};
pub use regulation::PumpFit;
