//! Dynamic viscosity of water from temperature and density.
//!
//! Source: IAPWS R12-08, Formulation 2008 for the Viscosity of Ordinary Water Substance, eq. 10 to 12, tables
//! 1 and 2, without the critical enhancement (which matters only close to 374 °C). Valid for all liquid water
//! here; uncertainty about 1 % (from memory).

/// Coefficients of the viscosity in the limit of zero density: R12-08 table 1.
const DILUTE: [f64; 4] = [1.67752, 2.20462, 0.6366564, -0.241605];

/// Exponents i, j and coefficient of the density part: R12-08 table 2.
#[rustfmt::skip]
const DENSE: [(i32, i32, f64); 21] = [
    (0, 0, 0.520094),   (1, 0, 0.0850895),  (2, 0, -1.08374),   (3, 0, -0.289555),
    (0, 1, 0.222531),   (1, 1, 0.999115),   (2, 1, 1.88797),    (3, 1, 1.26613),    (5, 1, 0.120573),
    (0, 2, -0.281378),  (1, 2, -0.906851),  (2, 2, -0.772479),  (3, 2, -0.489837),  (4, 2, -0.257040),
    (0, 3, 0.161913),   (1, 3, 0.257399),
    (0, 4, -0.0325372), (3, 4, 0.0698452),
    (4, 5, 0.00872102),
    (3, 6, -0.00435673), (5, 6, -0.000593264),
];

/// Dynamic viscosity, Pa·s, at a temperature in K and a density in kg/m³.
///
/// `μ = 1 µPa·s · μ0(T̄) · μ1(T̄, ρ̄)`, `T̄ = T / 647.096 K`, `ρ̄ = ρ / 322 kg/m³`;
/// `μ0 = 100 √T̄ / Σ H_i / T̄^i`; `μ1 = exp(ρ̄ Σ H_ij (1/T̄ - 1)^i (ρ̄ - 1)^j)`.
pub(super) fn dynamic_viscosity_pa_s(temperature_k: f64, density_kg_per_m3: f64) -> f64 {
    let inverse_t = 647.096 / temperature_k;
    let rho = density_kg_per_m3 / 322.0;
    let [h0, h1, h2, h3] = DILUTE;
    let dilute_sum = h0 + inverse_t * (h1 + inverse_t * (h2 + inverse_t * h3));
    let dilute = 100.0 / (inverse_t.sqrt() * dilute_sum);
    let dense_sum: f64 = DENSE.iter().map(|&(i, j, h)| h * (inverse_t - 1.0).powi(i) * (rho - 1.0).powi(j)).sum();
    1.0e-6 * dilute * (rho * dense_sum).exp()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Verification values of R12-08 table 4 (µPa·s), computed there without critical enhancement.
    #[test]
    fn meets_the_published_verification_values() {
        let rows = [
            (298.15, 998.0, 889.735100),
            (298.15, 1200.0, 1437.649467),
            (373.15, 1000.0, 307.883622),
            (433.15, 1.0, 14.538324),
        ];
        for (temperature_k, density, viscosity) in rows {
            let found = 1e6 * dynamic_viscosity_pa_s(temperature_k, density);
            assert!((found / viscosity - 1.0).abs() < 1e-7, "{temperature_k} K");
        }
    }
}
