//! Copper tube: EN 1057 (metric) and ASTM B88 types K, L and M (outside diameter 1/8 in above nominal).
//!
//! EN 1057 after makers' dimension tables, larger sizes from memory; ASTM B88 after published tables, each wall cross-checked
//! by the published weight (copper 0.323 lb/in³).

use super::{PipeSeries, PipeSize};

/// Roughness of drawn tube, m: Moody (1944), 5e-6 ft.
const DRAWN_M: f64 = 1.5e-6;

const EN_1057: &str = "EN 1057, from makers' dimension tables";
const ASTM_B88: &str = "ASTM B88, from published tables";

const fn mm(nominal: &'static str, outside: f64, wall: f64) -> PipeSize {
    PipeSize::mm(nominal, outside, wall)
}

const fn inch(nominal: &'static str, outside: f64, wall: f64) -> PipeSize {
    PipeSize::inch(nominal, outside, wall)
}

pub(super) const THIN: PipeSeries = PipeSeries {
    id: "copper-thin",
    name: "copper EN 1057, thin walls",
    source: EN_1057,
    roughness_m: DRAWN_M,
    sizes: &[
        mm("12 x 1", 12.0, 1.0),
        mm("15 x 0.7", 15.0, 0.7),
        mm("18 x 1", 18.0, 1.0),
        mm("22 x 0.9", 22.0, 0.9),
        mm("28 x 0.9", 28.0, 0.9),
        mm("35 x 1.2", 35.0, 1.2),
        mm("42 x 1.2", 42.0, 1.2),
        mm("54 x 1.2", 54.0, 1.2),
        mm("64 x 2", 64.0, 2.0),
        mm("76.1 x 2", 76.1, 2.0),
        mm("88.9 x 2", 88.9, 2.0),
        mm("108 x 2.5", 108.0, 2.5),
    ],
};

pub(super) const MEDIUM: PipeSeries = PipeSeries {
    id: "copper",
    name: "copper EN 1057, medium walls",
    source: EN_1057,
    roughness_m: DRAWN_M,
    sizes: &[
        mm("12 x 1", 12.0, 1.0),
        mm("15 x 1", 15.0, 1.0),
        mm("18 x 1", 18.0, 1.0),
        mm("22 x 1", 22.0, 1.0),
        mm("28 x 1", 28.0, 1.0),
        mm("35 x 1.5", 35.0, 1.5),
        mm("42 x 1.5", 42.0, 1.5),
        mm("54 x 1.5", 54.0, 1.5),
        mm("64 x 2", 64.0, 2.0),
        mm("76.1 x 2", 76.1, 2.0),
        mm("88.9 x 2", 88.9, 2.0),
        mm("108 x 2.5", 108.0, 2.5),
    ],
};

pub(super) const THICK: PipeSeries = PipeSeries {
    id: "copper-thick",
    name: "copper EN 1057, thick walls",
    source: EN_1057,
    roughness_m: DRAWN_M,
    sizes: &[
        mm("12 x 1", 12.0, 1.0),
        mm("15 x 1", 15.0, 1.0),
        mm("18 x 1", 18.0, 1.0),
        mm("22 x 1.5", 22.0, 1.5),
        mm("28 x 1.5", 28.0, 1.5),
        mm("35 x 2", 35.0, 2.0),
        mm("42 x 2", 42.0, 2.0),
        mm("54 x 2", 54.0, 2.0),
        mm("64 x 2", 64.0, 2.0),
        mm("76.1 x 2", 76.1, 2.0),
        mm("88.9 x 2", 88.9, 2.0),
        mm("108 x 2.5", 108.0, 2.5),
    ],
};

pub(super) const TYPE_K: PipeSeries = PipeSeries {
    id: "copper-type-k",
    name: "copper ASTM B88 type K",
    source: ASTM_B88,
    roughness_m: DRAWN_M,
    sizes: &[
        inch("1/2", 0.625, 0.049),
        inch("3/4", 0.875, 0.065),
        inch("1", 1.125, 0.065),
        inch("1-1/4", 1.375, 0.065),
        inch("1-1/2", 1.625, 0.072),
        inch("2", 2.125, 0.083),
        inch("2-1/2", 2.625, 0.095),
        inch("3", 3.125, 0.109),
        inch("4", 4.125, 0.134),
    ],
};

pub(super) const TYPE_L: PipeSeries = PipeSeries {
    id: "copper-type-l",
    name: "copper ASTM B88 type L",
    source: ASTM_B88,
    roughness_m: DRAWN_M,
    sizes: &[
        inch("1/2", 0.625, 0.040),
        inch("3/4", 0.875, 0.045),
        inch("1", 1.125, 0.050),
        inch("1-1/4", 1.375, 0.055),
        inch("1-1/2", 1.625, 0.060),
        inch("2", 2.125, 0.070),
        inch("2-1/2", 2.625, 0.080),
        inch("3", 3.125, 0.090),
        // Some tables print 0.114; the published weight of 5.38 lb/ft fits 0.110 only.
        inch("4", 4.125, 0.110),
    ],
};

pub(super) const TYPE_M: PipeSeries = PipeSeries {
    id: "copper-type-m",
    name: "copper ASTM B88 type M",
    source: ASTM_B88,
    roughness_m: DRAWN_M,
    sizes: &[
        inch("1/2", 0.625, 0.028),
        inch("3/4", 0.875, 0.032),
        inch("1", 1.125, 0.035),
        inch("1-1/4", 1.375, 0.042),
        inch("1-1/2", 1.625, 0.049),
        inch("2", 2.125, 0.058),
        inch("2-1/2", 2.625, 0.065),
        inch("3", 3.125, 0.072),
        inch("4", 4.125, 0.095),
    ],
};
