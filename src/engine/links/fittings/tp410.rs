//! Crane Technical Paper 410: K = n f_T.
//!
//! f_T is the friction factor of fully turbulent flow in clean commercial steel pipe of the fitting's bore D, NOT of the
//! actual pipe or flow: f_T = 0.25/log₁₀(ε/(3.7 D))², ε = 0.0018 in (0.046 mm), which is Colebrook–White at infinite Re.
//! n is the same for all sizes, as if all were alike in shape; the handbook's tables deny that for small screwed ones.
//!
//! The paper prints f_T rounded (0.026 at ½ in to 0.016 at 4 in; older editions 0.027 to 0.017, from memory); the formula
//! lies within 2 % of the newer column. Its sizes are ½ to 24 in (from memory); the formula goes on beyond them.
//!
//! n of elbows, tees and the figure for the inward-projecting entrance: from memory. n of valves: agree with an independent
//! implementation of the paper (the library `fluids` 1.3.1). Valves of full bore.

use super::{FittingError, FittingKind, KSource, sudden_contraction_k};

/// Roughness of clean commercial steel in TP-410, 0.0018 in, m.
pub const COMMERCIAL_STEEL_ROUGHNESS_M: f64 = 0.0018 * 0.0254;

/// Greatest relative roughness of the friction law (Moody's chart and Colebrook–White end there).
const GREATEST_ROUGHNESS: f64 = 0.05;

/// f_T = 0.25/log₁₀(ε/(3.7 D))² of commercial steel pipe of a bore D in m, for ε/D up to 0.05 (0.9 mm).
#[must_use]
pub fn fully_turbulent_factor(bore_m: f64) -> f64 {
    0.25 / (COMMERCIAL_STEEL_ROUGHNESS_M / (3.7 * bore_m)).log10().powi(2)
}

/// n of K = n f_T.
fn multiple(kind: FittingKind) -> Option<f64> {
    Some(match kind {
        FittingKind::Elbow90 => 30.0,
        FittingKind::Elbow45 => 16.0,
        FittingKind::TeeRun => 20.0,
        FittingKind::TeeBranch => 60.0,
        FittingKind::GateValve => 8.0,
        FittingKind::GlobeValve => 340.0,
        FittingKind::BallValve => 3.0,
        FittingKind::SwingCheckValve => 50.0,
        FittingKind::LiftCheckValve => 600.0,
        _ => return None,
    })
}

/// What TP-410 says of a fitting.
pub(super) fn k(kind: FittingKind, bore_m: f64) -> Result<f64, FittingError> {
    match kind {
        FittingKind::EntranceSquareEdged => return Ok(sudden_contraction_k(0.0)),
        FittingKind::EntranceInwardProjecting => return Ok(0.78),
        FittingKind::SuddenContraction { large_bore_m } => return Ok(sudden_contraction_k(bore_m / large_bore_m)),
        _ => {}
    }
    let n = multiple(kind).ok_or(FittingError::KindNotInSource { kind, source_asked: KSource::Tp410 })?;
    if COMMERCIAL_STEEL_ROUGHNESS_M / bore_m > GREATEST_ROUGHNESS {
        return Err(FittingError::BoreTooSmall { bore_m });
    }
    Ok(n * fully_turbulent_factor(bore_m))
}
