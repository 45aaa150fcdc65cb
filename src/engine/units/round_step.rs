//! Round steps of axes and of lines of equal value: 1, 2 or 5 times a power of ten.

/// The least round step by which a range holds no more than about so many; `None` for a range that is empty or no number.
#[must_use]
pub fn round_step(range: f64, about: f64) -> Option<f64> {
    let rough = range / about;
    if !(rough.is_finite() && rough > 0.0) {
        return None;
    }
    let decade = 10.0_f64.powf(rough.log10().floor());
    let steps = [1.0, 2.0, 5.0, 10.0].map(|m| m * decade);
    Some(steps.into_iter().find(|step| *step >= rough).unwrap_or(rough))
}

#[cfg(test)]
mod tests {
    use super::round_step;

    #[test]
    fn steps_are_round_and_no_finer_than_asked() {
        for (range, about, step) in [(10.0, 5.0, 2.0), (7.5, 6.0, 2.0), (0.9, 10.0, 0.1), (240.0, 8.0, 50.0)] {
            let found = round_step(range, about).unwrap();
            assert!((found / step - 1.0).abs() < 1e-12, "{range} by {about}: {found}");
        }
        assert_eq!([0.0, -1.0, f64::NAN, f64::INFINITY].map(|range| round_step(range, 5.0)), [None; 4]);
    }
}
