//! Plastic and multilayer pipe: PE-X after EN ISO 15875-2 (series S5 and S3.2) and ASTM F876 (copper-tube sizes, nominally
//! SDR 9), multilayer pipe in sizes that are usual on sale.
//!
//! EN ISO 15875-2 from memory, walls checked by e = d/(2S + 1); the wall is the least one allowed. ASTM F876 after a published
//! table, larger sizes from memory; the wall is the mean one, least wall plus half its tolerance, because design handbooks
//! reckon with the mean bore. Multilayer pipe has no standard walls (EN ISO 21003 leaves them to the maker, from memory):
//! look at the pipe that is bought.

use super::{PipeSeries, PipeSize};

/// Roughness, m: the usual makers' figure, at the upper end of the handbooks' 0.0015 to 0.007 mm.
const PLASTIC_M: f64 = 7e-6;

const ISO_15875: &str = "EN ISO 15875-2, from memory";
const MULTILAYER_SOURCE: &str = "usual sizes on sale, common practice";

const fn mm(nominal: &'static str, outside: f64, wall: f64) -> PipeSize {
    PipeSize::mm(nominal, outside, wall)
}

/// With the mean wall, from least wall and its tolerance in inch.
const fn mean(nominal: &'static str, outside: f64, least_wall: f64, tolerance: f64) -> PipeSize {
    PipeSize::inch(nominal, outside, least_wall + 0.5 * tolerance)
}

pub(super) const PEX_S5: PipeSeries = PipeSeries {
    id: "pex-s5",
    name: "PE-X EN ISO 15875 series S5",
    source: ISO_15875,
    roughness_m: PLASTIC_M,
    sizes: &[
        mm("12 x 1.3", 12.0, 1.3),
        mm("16 x 1.5", 16.0, 1.5),
        mm("20 x 1.9", 20.0, 1.9),
        mm("25 x 2.3", 25.0, 2.3),
        mm("32 x 2.9", 32.0, 2.9),
        mm("40 x 3.7", 40.0, 3.7),
        mm("50 x 4.6", 50.0, 4.6),
        mm("63 x 5.8", 63.0, 5.8),
    ],
};

pub(super) const PEX_S3: PipeSeries = PipeSeries {
    id: "pex-s3.2",
    name: "PE-X EN ISO 15875 series S3.2",
    source: ISO_15875,
    roughness_m: PLASTIC_M,
    sizes: &[
        mm("12 x 1.7", 12.0, 1.7),
        mm("16 x 2.2", 16.0, 2.2),
        mm("20 x 2.8", 20.0, 2.8),
        mm("25 x 3.5", 25.0, 3.5),
        mm("32 x 4.4", 32.0, 4.4),
        mm("40 x 5.5", 40.0, 5.5),
        mm("50 x 6.9", 50.0, 6.9),
        mm("63 x 8.6", 63.0, 8.6),
    ],
};

pub(super) const PEX_SDR_9: PipeSeries = PipeSeries {
    id: "pex-sdr-9",
    name: "PE-X ASTM F876 SDR 9",
    source: "ASTM F876, from a published table, mean bore",
    roughness_m: PLASTIC_M,
    sizes: &[
        mean("3/8", 0.5, 0.070, 0.010),
        mean("1/2", 0.625, 0.070, 0.010),
        mean("5/8", 0.75, 0.083, 0.010),
        mean("3/4", 0.875, 0.097, 0.010),
        mean("1", 1.125, 0.125, 0.013),
        mean("1-1/4", 1.375, 0.153, 0.015),
        mean("1-1/2", 1.625, 0.181, 0.019),
        mean("2", 2.125, 0.236, 0.024),
    ],
};

pub(super) const MULTILAYER: PipeSeries = PipeSeries {
    id: "multilayer",
    name: "multilayer pipe, thinner walls",
    source: MULTILAYER_SOURCE,
    roughness_m: PLASTIC_M,
    sizes: &[
        mm("14 x 2", 14.0, 2.0),
        mm("16 x 2", 16.0, 2.0),
        mm("18 x 2", 18.0, 2.0),
        mm("20 x 2", 20.0, 2.0),
        mm("25 x 2.5", 25.0, 2.5),
        mm("32 x 3", 32.0, 3.0),
        mm("40 x 3.5", 40.0, 3.5),
        mm("50 x 4", 50.0, 4.0),
        mm("63 x 4.5", 63.0, 4.5),
    ],
};

pub(super) const MULTILAYER_THICK: PipeSeries = PipeSeries {
    id: "multilayer-thick",
    name: "multilayer pipe, thicker walls",
    source: MULTILAYER_SOURCE,
    roughness_m: PLASTIC_M,
    sizes: &[
        mm("14 x 2", 14.0, 2.0),
        mm("16 x 2", 16.0, 2.0),
        mm("18 x 2", 18.0, 2.0),
        mm("20 x 2.25", 20.0, 2.25),
        mm("26 x 3", 26.0, 3.0),
        mm("32 x 3", 32.0, 3.0),
        mm("40 x 4", 40.0, 4.0),
        mm("50 x 4.5", 50.0, 4.5),
        mm("63 x 6", 63.0, 6.0),
    ],
};
