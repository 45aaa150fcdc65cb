//! Variants: named settings of a circulator, kept beside the present ones to be compared with them.

use super::ComponentId;
use crate::engine::pump::Regulation;

/// The most variants that a project holds, so that they can be seen side by side.
pub const MOST_VARIANTS: usize = 6;

/// All settings of one pump under a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// Name, unlike all other variants' names.
    pub name: String,
    /// The pump.
    pub pump: ComponentId,
    /// Its settings.
    pub regulation: Regulation,
}
