//! Changes of section by formula. β = d/D, the smaller bore over the larger; K refers to the velocity in the SMALLER pipe.
//!
//! ```text
//! sudden enlargement  K = (1 − β²)²         Borda–Carnot: momentum over the mixing length, exact for uniform flow
//! exit into a tank    K = 1                 the same with β = 0
//! sudden contraction  K = ½ (1 − β²)        Crane TP-410; with β = 0 its square-edged entrance, ½
//! on another bore     K₂ = K₁ (d₂/d₁)⁴      the same pressure drop, referred to the velocity in d₂
//! ```
//!
//! Validity: turbulent flow. A laminar profile carries twice the velocity head, so that an exit then loses 2. Other
//! publications have contractions up to 40 % higher (Rennels, β = 0.7: 0.35 against 0.255).

use super::{FittingError, FittingKind, KSource};

/// K of a sudden enlargement on the smaller pipe, (1 − β²)², β from 0 to 1 (Borda–Carnot).
#[must_use]
pub fn sudden_enlargement_k(beta: f64) -> f64 {
    (1.0 - beta * beta).powi(2)
}

/// K of a sudden contraction on the smaller pipe, ½ (1 − β²), β from 0 to 1 (Crane TP-410).
#[must_use]
pub fn sudden_contraction_k(beta: f64) -> f64 {
    0.5 * (1.0 - beta * beta)
}

/// A K that refers to the velocity in `bore_m`, referred to the velocity in `other_bore_m`: K (d₂/d₁)⁴.
///
/// The pressure drop stays the same. From the smaller pipe to the larger that is K/β⁴.
#[must_use]
pub fn k_on_bore(k: f64, bore_m: f64, other_bore_m: f64) -> f64 {
    k * (other_bore_m / bore_m).powi(4)
}

/// What Borda–Carnot says of a fitting.
pub(super) fn k(kind: FittingKind, bore_m: f64) -> Result<f64, FittingError> {
    match kind {
        FittingKind::Exit => Ok(sudden_enlargement_k(0.0)),
        FittingKind::SuddenEnlargement { large_bore_m } => Ok(sudden_enlargement_k(bore_m / large_bore_m)),
        _ => Err(FittingError::KindNotInSource { kind, source_asked: KSource::BordaCarnot }),
    }
}
