//! Pipes on sale: published dimensions by series, so that a size can be chosen instead of typed.
//!
//! A series is what one building is piped with: one outside diameter after the other, each with one wall. Where a standard
//! allows several walls on one outside diameter, each choice of walls is a series of its own, because "28 mm" alone does not
//! define a bore. Sources stand beside each series.

mod copper;
mod plastic;
mod steel;

use std::fmt;

/// One size of a series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize {
    /// What the trade calls it, such as `28 x 0.9` or `3/4`.
    pub nominal: &'static str,
    /// Outside diameter, m.
    pub outside_m: f64,
    /// Wall, m.
    pub wall_m: f64,
}

impl PipeSize {
    /// From figures in mm.
    const fn mm(nominal: &'static str, outside_mm: f64, wall_mm: f64) -> Self {
        Self { nominal, outside_m: 1e-3 * outside_mm, wall_m: 1e-3 * wall_mm }
    }

    /// From figures in inch (25.4 mm).
    const fn inch(nominal: &'static str, outside_in: f64, wall_in: f64) -> Self {
        Self { nominal, outside_m: 0.0254 * outside_in, wall_m: 0.0254 * wall_in }
    }

    /// Inside diameter, m: outside diameter less two walls.
    #[must_use]
    pub fn bore_m(&self) -> f64 {
        self.outside_m - 2.0 * self.wall_m
    }
}

/// Sizes of one material and one choice of walls, by rising bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSeries {
    /// Stable plain identifier, as typed.
    pub id: &'static str,
    /// Name in a sentence.
    pub name: &'static str,
    /// Where its dimensions come from.
    pub source: &'static str,
    /// Absolute roughness, m: drawn copper 0.0015 mm and new steel 0.045 mm after Moody (1944), plastics 0.007 mm, the usual
    /// makers' figure (from memory).
    pub roughness_m: f64,
    /// Its sizes.
    pub sizes: &'static [PipeSize],
}

impl fmt::Display for PipeSeries {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

/// Every series of the catalogue.
pub const CATALOGUE: [&PipeSeries; 13] = [
    &copper::THIN,
    &copper::MEDIUM,
    &copper::THICK,
    &copper::TYPE_K,
    &copper::TYPE_L,
    &copper::TYPE_M,
    &steel::SCHEDULE_40,
    &steel::SCHEDULE_80,
    &plastic::PEX_S5,
    &plastic::PEX_S3,
    &plastic::PEX_SDR_9,
    &plastic::MULTILAYER,
    &plastic::MULTILAYER_THICK,
];

/// The series that is taken where none is named: copper tube with thin walls.
pub const COMMON: &PipeSeries = &copper::THIN;

/// The series of an identifier.
#[must_use]
pub fn series(id: &str) -> Option<&'static PipeSeries> {
    CATALOGUE.into_iter().find(|series| series.id == id)
}
