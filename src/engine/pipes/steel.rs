//! Steel pipe ASME B36.10M, schedules 40 and 80, by its metric columns.

use super::{PipeSeries, PipeSize};

/// Roughness of new commercial steel, m: Moody (1944), 150e-6 ft, rounded as the trade does. Rust makes it 0.15 mm and more.
const NEW_M: f64 = 45e-6;

const SOURCE: &str = "ASME B36.10M, from published tables";

const fn mm(nominal: &'static str, outside: f64, wall: f64) -> PipeSize {
    PipeSize::mm(nominal, outside, wall)
}

pub(super) const SCHEDULE_40: PipeSeries = PipeSeries {
    id: "steel-40",
    name: "steel B36.10M schedule 40",
    source: SOURCE,
    roughness_m: NEW_M,
    sizes: &[
        mm("1/2", 21.3, 2.77),
        mm("3/4", 26.7, 2.87),
        mm("1", 33.4, 3.38),
        mm("1-1/4", 42.2, 3.56),
        mm("1-1/2", 48.3, 3.68),
        mm("2", 60.3, 3.91),
        mm("2-1/2", 73.0, 5.16),
        mm("3", 88.9, 5.49),
        mm("4", 114.3, 6.02),
        mm("5", 141.3, 6.55),
        mm("6", 168.3, 7.11),
        mm("8", 219.1, 8.18),
        mm("10", 273.0, 9.27),
        mm("12", 323.8, 10.31),
    ],
};

pub(super) const SCHEDULE_80: PipeSeries = PipeSeries {
    id: "steel-80",
    name: "steel B36.10M schedule 80",
    source: SOURCE,
    roughness_m: NEW_M,
    sizes: &[
        mm("1/2", 21.3, 3.73),
        mm("3/4", 26.7, 3.91),
        mm("1", 33.4, 4.55),
        mm("1-1/4", 42.2, 4.85),
        mm("1-1/2", 48.3, 5.08),
        mm("2", 60.3, 5.54),
        mm("2-1/2", 73.0, 7.01),
        mm("3", 88.9, 7.62),
        mm("4", 114.3, 8.56),
        mm("5", 141.3, 9.53),
        mm("6", 168.3, 10.97),
        mm("8", 219.1, 12.7),
        mm("10", 273.0, 15.09),
        mm("12", 323.8, 17.48),
    ],
};
