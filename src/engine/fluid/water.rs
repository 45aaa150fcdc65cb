//! Liquid water, 0 to 120 °C at 3 bar: density and heat capacity from the IAPWS industrial formulation,
//! vapour pressure from its saturation equation.
//!
//! Source: IAPWS R7-97(2012), Industrial Formulation 1997 (IF97): region 1, eq. 7 and table 2; saturation
//! pressure, eq. 30 and table 34. Region 1 is valid from 273.15 K to 623.15 K up to 100 MPa, the saturation
//! equation from 273.15 K to the critical point.
//!
//! 3 bar stands for a closed circuit. The pressure hardly matters: one bar changes the density by 0.005 %.
//! It keeps water liquid to 133 °C, so 120 °C is well inside.

use super::properties::FluidProperties;
use super::water_viscosity::dynamic_viscosity_pa_s;

/// Water freezes here (at the pressures of a circuit), and IF97 begins here, °C.
pub(super) const LOWEST_TEMPERATURE_C: f64 = 0.0;
/// Highest temperature offered: safely liquid at [`REFERENCE_PRESSURE_PA`], °C.
pub(super) const HIGHEST_TEMPERATURE_C: f64 = 120.0;

const REFERENCE_PRESSURE_PA: f64 = 3.0e5;
const KELVIN_AT_0_C: f64 = 273.15;
/// Specific gas constant of water in IF97, J/(kg K).
const GAS_CONSTANT_J_PER_KG_K: f64 = 461.526;

/// Exponents I, J and coefficient n of region 1: IF97 table 2.
#[rustfmt::skip]
const REGION_1: [(i32, i32, f64); 34] = [
    (0, -2, 0.14632971213167),      (0, -1, -0.84548187169114),     (0, 0, -3.756360367204),
    (0, 1, 3.3855169168385),        (0, 2, -0.95791963387872),      (0, 3, 0.15772038513228),
    (0, 4, -0.016616417199501),     (0, 5, 0.00081214629983568),    (1, -9, 0.00028319080123804),
    (1, -7, -0.00060706301565874),  (1, -1, -0.018990068218419),    (1, 0, -0.032529748770505),
    (1, 1, -0.021841717175414),     (1, 3, -5.283835796993e-5),     (2, -3, -0.00047184321073267),
    (2, 0, -0.00030001780793026),   (2, 1, 4.7661393906987e-5),     (2, 3, -4.4141845330846e-6),
    (2, 17, -7.2694996297594e-16),  (3, -4, -3.1679644845054e-5),   (3, 0, -2.8270797985312e-6),
    (3, 6, -8.5205128120103e-10),   (4, -5, -2.2425281908e-6),      (4, -2, -6.5171222895601e-7),
    (4, 10, -1.4341729937924e-13),  (5, -8, -4.0516996860117e-7),   (8, -11, -1.2734301741641e-9),
    (8, -6, -1.7424871230634e-10),  (21, -29, -6.8762131295531e-19), (23, -31, 1.4478307828521e-20),
    (29, -38, 2.6335781662795e-23), (30, -39, -1.1947622640071e-23), (31, -40, 1.8228094581404e-24),
    (32, -41, -9.3537087292458e-26),
];

/// Properties of water at the reference pressure; the caller keeps to the range.
pub(super) fn properties(temperature_c: f64) -> FluidProperties {
    let temperature_k = temperature_c + KELVIN_AT_0_C;
    let (density_kg_per_m3, heat_capacity_j_per_kg_k) = density_and_heat_capacity(temperature_k, REFERENCE_PRESSURE_PA);
    FluidProperties {
        temperature_c,
        density_kg_per_m3,
        dynamic_viscosity_pa_s: dynamic_viscosity_pa_s(temperature_k, density_kg_per_m3),
        heat_capacity_j_per_kg_k,
    }
}

/// Density, kg/m³, and isobaric heat capacity, J/(kg K), from the Gibbs energy of IF97 region 1.
///
/// `γ(π, τ) = Σ n (7.1 - π)^I (τ - 1.222)^J` with `π = p / 16.53 MPa`, `τ = 1386 K / T`;
/// `ρ = p / (R T π γ_π)`, `c_p = -R τ² γ_ττ`.
fn density_and_heat_capacity(temperature_k: f64, pressure_pa: f64) -> (f64, f64) {
    let pi = pressure_pa / 16.53e6;
    let tau = 1386.0 / temperature_k;
    let (a, b) = (7.1 - pi, tau - 1.222);
    let (mut gamma_pi, mut gamma_tau_tau) = (0.0, 0.0);
    for (i, j, n) in REGION_1 {
        gamma_pi -= n * f64::from(i) * a.powi(i - 1) * b.powi(j);
        gamma_tau_tau += n * f64::from(j * (j - 1)) * a.powi(i) * b.powi(j - 2);
    }
    let density = pressure_pa / (GAS_CONSTANT_J_PER_KG_K * temperature_k * pi * gamma_pi);
    let heat_capacity = -GAS_CONSTANT_J_PER_KG_K * tau * tau * gamma_tau_tau;
    (density, heat_capacity)
}

/// Absolute saturation pressure of water, Pa: IF97 eq. 30.
///
/// `p = (2C / (-B + √(B² - 4AC)))⁴ MPa` with `ϑ = T + n9/(T - n10)`, `A = ϑ² + n1 ϑ + n2`,
/// `B = n3 ϑ² + n4 ϑ + n5`, `C = n6 ϑ² + n7 ϑ + n8`, T in K.
pub(super) fn saturation_pressure_pa(temperature_c: f64) -> f64 {
    let temperature_k = temperature_c + KELVIN_AT_0_C;
    let theta = temperature_k - 0.23855557567849 / (temperature_k - 650.17534844798);
    let quadratic = |n_2: f64, n_1: f64, n_0: f64| (n_2 * theta + n_1) * theta + n_0;
    let a = quadratic(1.0, 1167.0521452767, -724213.16703206);
    let b = quadratic(-17.073846940092, 12020.82470247, -3232555.0322333);
    let c = quadratic(14.91510861353, -4823.2657361591, 405113.40542057);
    1.0e6 * (2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt())).powi(4)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Verification values of IF97 table 5 (as v in m³/kg and `c_p` in kJ/(kg K)).
    #[test]
    fn region_1_meets_its_published_verification_values() {
        let rows = [
            (300.0, 3.0e6, 0.100215168e-2, 4.17301218),
            (300.0, 80.0e6, 0.971180894e-3, 4.01008987),
            (500.0, 3.0e6, 0.120241800e-2, 4.65580682),
        ];
        for (temperature_k, pressure_pa, volume, heat_capacity) in rows {
            let (rho, cp) = density_and_heat_capacity(temperature_k, pressure_pa);
            assert!((rho * volume - 1.0).abs() < 1e-8, "{temperature_k} K");
            assert!((cp / (1e3 * heat_capacity) - 1.0).abs() < 1e-8, "{temperature_k} K");
        }
    }

    /// Verification values of IF97 table 35 (MPa).
    #[test]
    fn saturation_meets_its_published_verification_values() {
        let rows = [(300.0, 0.353658941e-2), (500.0, 2.63889776), (600.0, 12.3443146)];
        for (temperature_k, pressure_mpa) in rows {
            let pressure_pa = saturation_pressure_pa(temperature_k - KELVIN_AT_0_C);
            assert!((pressure_pa / (1e6 * pressure_mpa) - 1.0).abs() < 1e-8);
        }
    }
}
