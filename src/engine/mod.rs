//! The engine: numbers only. It names no file, no window, no drawing.
//!
//! Inside, `units` → `fluid` → `links` and `pump` → `network`: each may import those before it; `pipes` stands by itself.

pub mod fluid;
pub mod links;
pub mod network;
pub mod pipes;
pub mod pump;
pub mod units;

/// Standard acceleration of gravity in m/s² (CGPM 1901, exact by definition).
pub const GRAVITY_M_PER_S2: f64 = 9.806_65;
