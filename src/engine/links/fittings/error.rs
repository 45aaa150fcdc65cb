//! Why a fitting has no loss coefficient: one sentence each on what was asked and what to do.

use super::nominal_size::{LARGEST_BORE_M, SMALLEST_BORE_M};
use super::{FittingKind, KSource};
use thiserror::Error;

/// What is wrong with a fitting, its bores or the source asked for.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum FittingError {
    /// A bore that no pipe has.
    #[error("A pipe of bore {:.2} mm has no fittings; enter a bore greater than zero.", 1000.0 * found_m)]
    NotABore {
        /// The bore found, m.
        found_m: f64,
    },

    /// At a change of section the larger pipe is not the larger one.
    #[error(
        "The larger pipe of a change of section has a bore of {:.1} mm, less than the {:.1} mm of the smaller; \
         exchange the two.",
        1000.0 * large_m,
        1000.0 * bore_m
    )]
    LargerBoreIsSmaller {
        /// Bore of the smaller pipe, m.
        bore_m: f64,
        /// Bore given for the larger pipe, m.
        large_m: f64,
    },

    /// The source does not treat this fitting.
    #[error("{source_asked} has no loss coefficient for: {kind}; choose another source.")]
    KindNotInSource {
        /// The fitting.
        kind: FittingKind,
        /// The source that was asked.
        source_asked: KSource,
    },

    /// The source treats this fitting, but not in this size.
    #[error(
        "{source_asked} has no loss coefficient for: {kind}, at a bore of {:.1} mm; its tables are for bores of \
         {:.1} to {:.0} mm and leave out some sizes: choose another source.",
        1000.0 * bore_m,
        1000.0 * SMALLEST_BORE_M,
        1000.0 * LARGEST_BORE_M
    )]
    SizeNotInTable {
        /// The fitting.
        kind: FittingKind,
        /// The source that was asked.
        source_asked: KSource,
        /// The bore asked for (the smaller at a change of section), m.
        bore_m: f64,
    },

    /// The bore is so small that the roughness of steel is beyond the friction law.
    #[error(
        "Crane TP-410 takes the friction of steel pipe, which is not known at a bore of {:.2} mm; enter a bore of \
         1 mm or more.",
        1000.0 * bore_m
    )]
    BoreTooSmall {
        /// The bore asked for, m.
        bore_m: f64,
    },
}
