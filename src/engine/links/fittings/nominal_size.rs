//! Nominal pipe sizes of the handbook's tables, and which of them a bore belongs to.

use std::fmt;

/// Nominal pipe size (NPS), as the tables of fittings have them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NominalSize {
    /// ½ in, DN 15.
    Half,
    /// ¾ in, DN 20.
    ThreeQuarters,
    /// 1 in, DN 25.
    One,
    /// 1¼ in, DN 32.
    OneAndQuarter,
    /// 1½ in, DN 40.
    OneAndHalf,
    /// 2 in, DN 50.
    Two,
    /// 2½ in, DN 65.
    TwoAndHalf,
    /// 3 in, DN 80.
    Three,
    /// 4 in, DN 100.
    Four,
}

/// Least bore that counts as ½ in: a copper tube of 15 × 1 mm does, steel of ⅜ in (12.5 mm) does not. Own choice.
pub(super) const SMALLEST_BORE_M: f64 = 0.0128;
/// Greatest bore that counts as 4 in: midway by ratio to the 128.2 mm of 5 in. Own choice.
pub(super) const LARGEST_BORE_M: f64 = 0.1145;

impl NominalSize {
    /// All sizes, from the smallest.
    pub const ALL: [Self; 9] = [
        Self::Half,
        Self::ThreeQuarters,
        Self::One,
        Self::OneAndQuarter,
        Self::OneAndHalf,
        Self::Two,
        Self::TwoAndHalf,
        Self::Three,
        Self::Four,
    ];

    /// Bore of steel pipe of this size, schedule 40, m (ASME B36.10M, metric columns).
    #[must_use]
    pub fn schedule_40_bore_m(self) -> f64 {
        match self {
            Self::Half => 0.015_76,
            Self::ThreeQuarters => 0.020_96,
            Self::One => 0.026_64,
            Self::OneAndQuarter => 0.035_08,
            Self::OneAndHalf => 0.040_94,
            Self::Two => 0.052_48,
            Self::TwoAndHalf => 0.062_68,
            Self::Three => 0.077_92,
            Self::Four => 0.102_26,
        }
    }

    /// The size whose schedule 40 bore is nearest by ratio; `None` below 12.8 mm and above 114.5 mm, outside the tables.
    ///
    /// By ratio, because K goes with the velocity head; pipe of schedule 80 falls on its own size too. A tube of another
    /// material may fall one size off its name, where its bore does.
    #[must_use]
    pub fn of_bore(bore_m: f64) -> Option<Self> {
        if !(SMALLEST_BORE_M..=LARGEST_BORE_M).contains(&bore_m) {
            return None;
        }
        let off = |size: &Self| (bore_m / size.schedule_40_bore_m()).ln().abs();
        Self::ALL.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// Place in a table that has every size.
    pub(super) fn index(self) -> usize {
        self as usize
    }
}

impl fmt::Display for NominalSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Half => "1/2 in",
            Self::ThreeQuarters => "3/4 in",
            Self::One => "1 in",
            Self::OneAndQuarter => "1-1/4 in",
            Self::OneAndHalf => "1-1/2 in",
            Self::Two => "2 in",
            Self::TwoAndHalf => "2-1/2 in",
            Self::Three => "3 in",
            Self::Four => "4 in",
        })
    }
}
