//! Loss coefficients of fittings, K = Δp/(½ ρ v²), each with the publication it is from.
//!
//! Publications differ: a screwed 90° elbow of ½ in has K = 2.1 in one handbook and 0.78 by another's method, a factor of
//! 2.7; a swing check valve of that size has 5.6 and 1.3, a factor of 4.3. Handbooks themselves give ±20 to 50 % for small
//! screwed fittings (from memory). So no K here comes without its [`KSource`], and none is an average of several.
//!
//! - `tp410`: Crane Technical Paper 410, K = n f_T, and its figures for entrances and contractions;
//! - `handbook`: tables by nominal size, screwed and flanged, HVAC Pump Handbook, 2nd ed. (McGraw-Hill 2006);
//! - `section`: sudden changes of section by formula, and K carried from one bore to another;
//! - `nominal_size`: which size of the tables a bore belongs to.
//!
//! Every K holds for fully turbulent flow, depends on no flow, and is never negative, so that the drop K ½ ρ v |v| rises with
//! flow, as a network needs for its solution to be unique. That is why tees whose K goes with the split of flow are not
//! here: their K on the straight run becomes negative where the branch takes much, and the drop then falls with flow.
//!
//! K counts what is lost for good. The head that comes back or goes with a change of velocity is no loss; the network
//! reckons in total head and so does not see it.

mod error;
mod handbook;
mod nominal_size;
mod section;
mod tp410;

use std::fmt;

pub use error::FittingError;
pub use nominal_size::NominalSize;
pub use section::{k_on_bore, sudden_contraction_k, sudden_enlargement_k};
pub use tp410::{COMMERCIAL_STEEL_ROUGHNESS_M, fully_turbulent_factor};

/// A fitting, fully open where it can shut.
///
/// K refers to the velocity in the bore that [`FittingKind::k`] is given. At a change of section that is the SMALLER pipe,
/// whichever way the water goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FittingKind {
    /// From a tank into a pipe that ends flush with the wall, edge sharp.
    EntranceSquareEdged,
    /// From a tank through a rounded mouth.
    EntranceBellMouth,
    /// From a tank into a pipe that stands out into it.
    EntranceInwardProjecting,
    /// From a pipe into a tank.
    Exit,
    /// From a smaller pipe straight into a larger.
    SuddenEnlargement {
        /// Bore of the larger pipe, m.
        large_bore_m: f64,
    },
    /// From a larger pipe straight into a smaller.
    SuddenContraction {
        /// Bore of the larger pipe, m.
        large_bore_m: f64,
    },
    /// A tapered fitting from a smaller pipe to a larger.
    TaperedIncreaser {
        /// Bore of the larger pipe, m.
        large_bore_m: f64,
    },
    /// A tapered fitting from a larger pipe to a smaller.
    TaperedReducer {
        /// Bore of the larger pipe, m.
        large_bore_m: f64,
    },
    /// Elbow of 90°, ordinary radius.
    Elbow90,
    /// Elbow of 90°, long radius.
    Elbow90LongRadius,
    /// Elbow of 45°.
    Elbow45,
    /// Tee with the whole flow straight on.
    TeeRun,
    /// Tee with the whole flow through the branch.
    TeeBranch,
    /// Gate valve, open.
    GateValve,
    /// Globe valve, open.
    GlobeValve,
    /// Angle valve, open.
    AngleValve,
    /// Ball valve of full bore, open.
    BallValve,
    /// Swing check valve, fully lifted.
    SwingCheckValve,
    /// Lift check valve, fully lifted.
    LiftCheckValve,
}

/// How a fitting is joined to its pipe; the handbook has a table for each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Joint {
    /// Threaded.
    Screwed,
    /// Bolted at flanges.
    Flanged,
}

/// The publication a K is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum KSource {
    /// Borda–Carnot, exact for uniform flow: the velocity head that is lost to mixing.
    BordaCarnot,
    /// Crane Technical Paper 410: n times the fully turbulent friction factor of steel pipe of that bore.
    Tp410,
    /// HVAC Pump Handbook, 2nd ed. (2006), tables 3.7 to 3.13, by nominal size.
    Handbook(Joint),
}

impl KSource {
    /// All sources.
    pub const ALL: [Self; 4] =
        [Self::BordaCarnot, Self::Tp410, Self::Handbook(Joint::Screwed), Self::Handbook(Joint::Flanged)];
}

/// A loss coefficient and where it is from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LossCoefficient {
    /// K, Δp = K ½ ρ v²; zero or greater.
    pub k: f64,
    /// The publication.
    pub source: KSource,
}

impl FittingKind {
    /// The kinds that need no second bore.
    pub const OF_ONE_BORE: [Self; 15] = [
        Self::EntranceSquareEdged,
        Self::EntranceBellMouth,
        Self::EntranceInwardProjecting,
        Self::Exit,
        Self::Elbow90,
        Self::Elbow90LongRadius,
        Self::Elbow45,
        Self::TeeRun,
        Self::TeeBranch,
        Self::GateValve,
        Self::GlobeValve,
        Self::AngleValve,
        Self::BallValve,
        Self::SwingCheckValve,
        Self::LiftCheckValve,
    ];

    /// K of this fitting on a pipe of `bore_m` (m; the smaller one at a change of section) in one source.
    ///
    /// The handbook's tables are read at the nominal size the bore belongs to, without interpolation; the other sources are
    /// formulas. No source stands in for another: what a source does not have is an error.
    ///
    /// ```
    /// use headwise::engine::links::fittings::{FittingKind, Joint, KSource};
    ///
    /// let bore_m = 0.01576; // ½ in, schedule 40
    /// let table = FittingKind::Elbow90.k(bore_m, KSource::Handbook(Joint::Screwed))?;
    /// let method = FittingKind::Elbow90.k(bore_m, KSource::Tp410)?;
    /// assert_eq!(table.k, 2.1);
    /// assert!((table.k / method.k - 2.7).abs() < 0.05);
    /// # Ok::<(), headwise::engine::links::fittings::FittingError>(())
    /// ```
    pub fn k(self, bore_m: f64, source: KSource) -> Result<LossCoefficient, FittingError> {
        self.check_bores(bore_m)?;
        let k = match source {
            KSource::BordaCarnot => section::k(self, bore_m),
            KSource::Tp410 => tp410::k(self, bore_m),
            KSource::Handbook(joint) => handbook::k(self, bore_m, joint),
        }?;
        Ok(LossCoefficient { k, source })
    }

    /// The source that is taken where none is named: the formulas wherever they have the fitting, since they hold at every bore;
    /// the handbook's screwed table for the rest. For small screwed elbows and tees of steel the handbook has up to 2.7 times as
    /// much: name it where those are meant.
    #[must_use]
    pub fn usual_source(self) -> KSource {
        match self {
            Self::Exit | Self::SuddenEnlargement { .. } => KSource::BordaCarnot,
            Self::EntranceBellMouth
            | Self::TaperedIncreaser { .. }
            | Self::TaperedReducer { .. }
            | Self::Elbow90LongRadius
            | Self::AngleValve => KSource::Handbook(Joint::Screwed),
            _ => KSource::Tp410,
        }
    }

    /// K of this fitting in every source that has it, in the order of [`KSource::ALL`].
    pub fn k_by_source(self, bore_m: f64) -> impl Iterator<Item = LossCoefficient> {
        KSource::ALL.into_iter().filter_map(move |source| self.k(bore_m, source).ok())
    }

    /// Bore of the larger pipe where the section changes, m.
    #[must_use]
    pub fn large_bore_m(self) -> Option<f64> {
        match self {
            Self::SuddenEnlargement { large_bore_m }
            | Self::SuddenContraction { large_bore_m }
            | Self::TaperedIncreaser { large_bore_m }
            | Self::TaperedReducer { large_bore_m } => Some(large_bore_m),
            _ => None,
        }
    }

    fn check_bores(self, bore_m: f64) -> Result<(), FittingError> {
        if !(bore_m.is_finite() && bore_m > 0.0) {
            return Err(FittingError::NotABore { found_m: bore_m });
        }
        match self.large_bore_m() {
            // Infinitely large would be a tank, and the entrance or exit is the name for that.
            Some(large_m) if !(large_m.is_finite() && large_m >= bore_m) => {
                Err(FittingError::LargerBoreIsSmaller { bore_m, large_m })
            }
            _ => Ok(()),
        }
    }
}

impl fmt::Display for FittingKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::EntranceSquareEdged => "square-edged entrance",
            Self::EntranceBellMouth => "bell-mouth entrance",
            Self::EntranceInwardProjecting => "inward-projecting entrance",
            Self::Exit => "exit",
            Self::SuddenEnlargement { .. } => "sudden enlargement",
            Self::SuddenContraction { .. } => "sudden contraction",
            Self::TaperedIncreaser { .. } => "tapered increaser",
            Self::TaperedReducer { .. } => "tapered reducer",
            Self::Elbow90 => "90° elbow",
            Self::Elbow90LongRadius => "90° long-radius elbow",
            Self::Elbow45 => "45° elbow",
            Self::TeeRun => "tee, run",
            Self::TeeBranch => "tee, branch",
            Self::GateValve => "gate valve",
            Self::GlobeValve => "globe valve",
            Self::AngleValve => "angle valve",
            Self::BallValve => "ball valve",
            Self::SwingCheckValve => "swing check valve",
            Self::LiftCheckValve => "lift check valve",
        })
    }
}

impl fmt::Display for KSource {
    /// For sentences and for the column "source" of a table.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::BordaCarnot => "Borda–Carnot",
            Self::Tp410 => "Crane TP-410",
            Self::Handbook(Joint::Screwed) => "HVAC Pump Handbook 2006, screwed",
            Self::Handbook(Joint::Flanged) => "HVAC Pump Handbook 2006, flanged",
        })
    }
}
