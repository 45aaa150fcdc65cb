//! Kv of valves on sale: they rise by the preferred numbers R5 of ISO 3 (1, 1.6, 2.5, 4, 6.3), the usual steps of control
//! valves (from memory).

/// The preferred numbers of one decade.
const R5: [f64; 5] = [1.0, 1.6, 2.5, 4.0, 6.3];

/// The least Kv of the series that is not below a wanted one; the wanted one itself where that is not a number above zero.
#[must_use]
pub fn standard_kv_at_least(kv_m3_per_h: f64) -> f64 {
    /// A Kv that differs from one of the series in the last figures only is that one.
    const SAME: f64 = 1.0 - 1e-9;
    if !(kv_m3_per_h > 0.0 && kv_m3_per_h.is_finite()) {
        return kv_m3_per_h;
    }
    let decade = kv_m3_per_h.log10().floor() as i32;
    let of_decade = |decade: i32| {
        R5.map(|number| if decade < 0 { number / 10.0_f64.powi(-decade) } else { number * 10.0_f64.powi(decade) })
    };
    let steps = [decade - 1, decade, decade + 1].into_iter().flat_map(of_decade);
    steps.into_iter().find(|step| *step >= SAME * kv_m3_per_h).unwrap_or(kv_m3_per_h)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 3: R5 is 1, 1.6, 2.5, 4, 6.3, 10 and so on in every decade.
    #[test]
    fn the_next_preferred_number() {
        for (wanted, expected) in
            [(0.21, 0.25), (0.25, 0.25), (0.9, 1.0), (1.0, 1.0), (1.01, 1.6), (6.31, 10.0), (64.0, 100.0), (0.03, 0.04)]
        {
            assert!((standard_kv_at_least(wanted) - expected).abs() < 1e-12, "{wanted}");
        }
        assert!(standard_kv_at_least(0.0) == 0.0);
    }
}
