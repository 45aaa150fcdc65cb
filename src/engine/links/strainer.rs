//! Strainers: what is caught in the basket takes pressure as a second resistance in a row would.
//!
//! Between clean and due for cleaning the loss coefficient, which goes with 1/Kv², is taken in proportion to the fouling f:
//!
//! ```text
//! 1/Kv² = (1 − f)/Kv_clean² + f/Kv_fouled²
//! ```
//!
//! so that the pressure drop at one flow rises evenly from the one to the other (own model, no source: makers publish the
//! clean Kv and the drop at which to clean, and nothing between).

/// Kv (m³/h) of a strainer from its Kv clean and due for cleaning, and its fouling between 0 and 1.
#[must_use]
pub fn strainer_kv(clean_m3_per_h: f64, fouled_m3_per_h: f64, fouling: f64) -> f64 {
    let fouling = fouling.clamp(0.0, 1.0);
    // To the last bit what was given where nothing is mixed.
    if fouling == 0.0 || clean_m3_per_h == fouled_m3_per_h {
        return clean_m3_per_h;
    }
    1.0 / ((1.0 - fouling) / clean_m3_per_h.powi(2) + fouling / fouled_m3_per_h.powi(2)).sqrt()
}
