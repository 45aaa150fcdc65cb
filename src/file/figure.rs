//! Figures: numbers of the file in the file's units, held in SI units as the live types have them.
//!
//! Read: a number of up to 17 significant digits becomes the nearest `f64`, and [`Unit::to_si`] turns it into SI, just
//! as a number typed in the window; so 2.2 m³/h is one and the same flow, typed or loaded. Written: the shortest decimal
//! that reads back to the same SI number.
//!
//! A few SI numbers are reached by no `f64` in the file's unit (dividing by 3600 or multiplying by 1000 skips some). They
//! are written with 18 digits, and a number of 18 or more digits is converted as the exact decimal it is, rounded once.
//! So every finite number comes back to the last bit.

use crate::engine::units::Unit;
use ron::value::RawValue;
use serde::de::{Error as _, Unexpected};
use serde::ser::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::marker::PhantomData;

/// Significant digits that an `f64` holds; more are taken exactly.
const F64_DIGITS: usize = 17;

/// Significant digits kept of longer numbers.
const MOST_DIGITS: usize = 25;

/// A unit of the file: `SI = shown · 10^TEN / DIVISOR`.
pub(super) trait FileUnit {
    /// The same unit in the units room; none where the file has the inside unit itself.
    const UNIT: Option<Unit>;
    /// Power of ten in the unit's size.
    const TEN: i64;
    /// Divisor in the unit's size.
    const DIVISOR: u128;
}

/// Builds the marker of a file unit and the name of its figures.
macro_rules! file_units {
    ($($(#[$doc:meta])+ $figure:ident = $marker:ident: $unit:expr, $ten:literal, $divisor:literal;)+) => {$(
        #[derive(Clone, Copy, Debug, Default, PartialEq)]
        pub(super) struct $marker;

        impl FileUnit for $marker {
            const UNIT: Option<Unit> = $unit;
            const TEN: i64 = $ten;
            const DIVISOR: u128 = $divisor;
        }

        $(#[$doc])+
        pub(super) type $figure = Figure<$marker>;
    )+};
}

file_units! {
    /// A figure in the inside unit: m, W, °C, Kv, r/min, hours, grid steps, plain numbers.
    Plain = Same: None, 0, 1;
    /// A pressure in kPa.
    KiloPascals = KiloPascal: Some(Unit::KiloPascal), 3, 1;
    /// A heat load in kW.
    KiloWatts = KiloWatt: Some(Unit::KiloWatt), 3, 1;
    /// A bore or roughness in mm.
    Millimetres = Millimetre: Some(Unit::Millimetre), -3, 1;
    /// A share in per cent.
    Percents = Percent: Some(Unit::Percent), -2, 1;
    /// A flow in m³/h.
    CubicMetresPerHour = CubicMetrePerHour: Some(Unit::CubicMetrePerHour), 0, 3600;
}

/// A number of the file.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Figure<U> {
    /// In the inside unit.
    pub si: f64,
    unit: PhantomData<U>,
}

impl<U: FileUnit> Figure<U> {
    /// From a number in the inside unit.
    pub fn new(si: f64) -> Self {
        Self { si, unit: PhantomData }
    }

    /// Whether it is zero to the last bit, so that leaving it out changes nothing.
    pub fn is_zero(&self) -> bool {
        self.si.to_bits() == 0
    }

    /// Reads a written number; `None` for what is no finite number.
    fn read(text: &str) -> Option<Self> {
        if !text.chars().all(|c| c.is_ascii_digit() || "+-._eE".contains(c)) {
            return None;
        }
        let text = text.replace('_', "");
        let nearest: f64 = text.parse().ok()?;
        let si = match U::UNIT {
            None => nearest,
            Some(unit) if significant_digits(&text) <= F64_DIGITS => unit.to_si(nearest),
            Some(_) => exact::<U>(&text)?,
        };
        si.is_finite().then(|| Self::new(si))
    }

    /// Writes the shortest number that reads back to the same.
    fn written(&self) -> String {
        let Some(unit) = U::UNIT else {
            return shortest(self.si);
        };
        let shown = unit.from_si(self.si);
        (0..F64_DIGITS)
            .filter_map(|decimals| format!("{shown:.decimals$e}").parse::<f64>().ok())
            .find(|rounded| unit.to_si(*rounded).to_bits() == self.si.to_bits())
            .map_or_else(|| exactly_written::<U>(self.si), shortest)
    }
}

impl<'de, U: FileUnit> Deserialize<'de> for Figure<U> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let found = <&RawValue>::deserialize(deserializer)?.get_ron().trim();
        Self::read(found).ok_or_else(|| D::Error::invalid_value(Unexpected::Other(found), &"a number"))
    }
}

impl<U: FileUnit> Serialize for Figure<U> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if !self.si.is_finite() {
            return Err(S::Error::custom("one of its values is not a number: type a number"));
        }
        RawValue::from_ron(&self.written()).map_err(S::Error::custom)?.serialize(serializer)
    }
}

/// Digits of a written number from its first that is not zero, without its exponent.
fn significant_digits(text: &str) -> usize {
    let mantissa = text.split(['e', 'E']).next().unwrap_or(text);
    mantissa.chars().filter(char::is_ascii_digit).skip_while(|digit| *digit == '0').count()
}

/// The `f64` nearest to a written number in SI units: whole-number arithmetic, one rounding at the end.
fn exact<U: FileUnit>(text: &str) -> Option<f64> {
    let (mantissa, exponent) = text.split_once(['e', 'E']).unwrap_or((text, "0"));
    let (whole, decimals) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits: String = whole.chars().chain(decimals.chars()).filter(char::is_ascii_digit).collect();
    let digits = digits.trim_start_matches('0');
    let kept = &digits[..digits.len().min(MOST_DIGITS)];
    let dropped = i64::try_from(digits.len() - kept.len()).ok()?;
    let power = exponent.parse::<i64>().ok()?.checked_add(dropped - i64::try_from(decimals.len()).ok()?)?;
    // Ten more digits than were kept, and one that tells whether anything is left over, so that rounding is right.
    let scaled = kept.parse::<u128>().ok()? * 10_u128.pow(10);
    let remains = u8::from(!scaled.is_multiple_of(U::DIVISOR));
    let sign = if mantissa.starts_with('-') { "-" } else { "" };
    let power = power.checked_add(U::TEN - 11)?;
    format!("{sign}{}{remains}e{power}", scaled / U::DIVISOR).parse().ok()
}

/// Writes an SI number with 18 digits in the file's unit, the fewest that [`exact`] always reads back to the same.
fn exactly_written<U: FileUnit>(si: f64) -> String {
    const DIGITS: u32 = F64_DIGITS as u32 + 1;
    let text = format!("{:.30e}", si.abs());
    let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
    let digits: u128 = mantissa.replace('.', "").parse().unwrap_or(0);
    let exponent: i64 = exponent.parse().unwrap_or(0);
    let product = digits * U::DIVISOR;
    let surplus = (product.checked_ilog10().unwrap_or(0) + 1).saturating_sub(DIGITS);
    let step = 10_u128.pow(surplus);
    let rounded = (product + step / 2) / step;
    let power = exponent - 30 - U::TEN + i64::from(surplus);
    let sign = if si.is_sign_negative() { "-" } else { "" };
    format!("{sign}{}", with_point(&rounded.to_string(), power))
}

/// Writes `digits · 10^power` with a decimal point, or with an exponent where that is shorter.
fn with_point(digits: &str, power: i64) -> String {
    let count = i64::try_from(digits.len()).unwrap_or(0);
    let point = count + power;
    match usize::try_from(point) {
        Ok(point @ 1..) if point < digits.len() => format!("{}.{}", &digits[..point], &digits[point..]),
        _ if (-4..=0).contains(&point) => format!("0.{}{digits}", "0".repeat(usize::try_from(-point).unwrap_or(0))),
        _ => format!("{}.{}e{}", &digits[..1], &digits[1..], point - 1),
    }
}

/// The shortest decimal of an `f64`, with an exponent only far from one.
fn shortest(number: f64) -> String {
    if number == 0.0 || (1e-5..1e15).contains(&number.abs()) { format!("{number}") } else { format!("{number:e}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check<U: FileUnit>(written: &str, si: f64) {
        let figure = Figure::<U>::read(written).unwrap();
        assert_eq!(figure.si.to_bits(), si.to_bits(), "{written}");
        assert_eq!(figure.written(), written);
    }

    #[test]
    fn typed_numbers_stay_as_typed() {
        check::<CubicMetrePerHour>("2.2", Unit::CubicMetrePerHour.to_si(2.2));
        check::<CubicMetrePerHour>("1.985", Unit::CubicMetrePerHour.to_si(1.985));
        check::<Millimetre>("32.6", Unit::Millimetre.to_si(32.6));
        check::<Millimetre>("0.0015", 1.5e-6);
        check::<Percent>("7", 0.07);
        check::<Percent>("95", 0.95);
        check::<KiloPascal>("22", 22_000.0);
        check::<Same>("4", 4.0);
        check::<Same>("-0", -0.0);
        check::<Percent>("-0", -0.0);
        check::<Same>("1e300", 1e300);
    }

    /// 7 · 3600 / 7 digits by hand: 1.23456789012345678 m³/h = 3.429355250342935…·10⁻⁴ m³/s.
    #[test]
    fn long_numbers_are_rounded_once() {
        let figure = Figure::<CubicMetrePerHour>::read("1.23456789012345678").unwrap();
        assert!((figure.si - 3.429_355_250_342_935_5e-4).abs() < 1e-19);
        let figure = Figure::<KiloPascal>::read("-0.000123456789012345678901234567890123e3").unwrap();
        assert_eq!(figure.si.to_bits(), (-123.456_789_012_345_68_f64).to_bits());
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in
            ["NaN", "inf", "-inf", "1e400", "", "\"4\"", "4 m", "0x10", ".", "-", "e5", "1e99999999999999999999"]
        {
            assert!(Figure::<Same>::read(text).is_none(), "{text}");
            assert!(Figure::<CubicMetrePerHour>::read(text).is_none(), "{text}");
        }
        let many = format!("1{}", "0".repeat(5000));
        assert!(Figure::<CubicMetrePerHour>::read(&many).is_none());
        assert!(Figure::<KiloPascal>::read("1e307").is_none());
    }

    fn comes_back<U: FileUnit>(si: f64) -> Result<(), TestCaseError> {
        let written = Figure::<U>::new(si).written();
        let back = Figure::<U>::read(&written).map(|figure| figure.si.to_bits());
        prop_assert_eq!(back, Some(si.to_bits()), "{}", written);
        Ok(())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn every_number_comes_back_to_the_last_bit(wild in any::<f64>(), tame in -1e4..1e4_f64) {
            for si in [wild, tame].into_iter().filter(|si| si.is_finite()) {
                comes_back::<Same>(si)?;
                comes_back::<KiloPascal>(si)?;
                comes_back::<Millimetre>(si)?;
                comes_back::<Percent>(si)?;
                comes_back::<CubicMetrePerHour>(si)?;
            }
        }
    }
}
