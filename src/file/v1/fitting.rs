//! Format 1: fittings of a pipe, each with the publication that its loss is from.

use crate::document as live;
use crate::engine::links::fittings::{FittingKind, Joint, KSource};
use crate::file::figure::Millimetres;
use serde::{Deserialize, Serialize};

/// Some equal fittings; by the kind's usual source where none is named.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Fitting {
    is: Kind,
    count: u32,
    #[serde(default, with = "super::wiring::given", skip_serializing_if = "Option::is_none")]
    by: Option<Source>,
}

/// The publication that a loss coefficient is from.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case")]
enum Source {
    BordaCarnot,
    Tp410,
    HandbookScrewed,
    HandbookFlanged,
}

/// Builds the file form of fittings: those of one bore by name alone, changes of section with their larger bore.
macro_rules! kinds {
    ([$($name:literal = $plain:ident),+ $(,)?], [$($section:ident),+ $(,)?]) => {
        /// What a fitting is.
        #[derive(Clone, Copy, Debug, Deserialize, Serialize)]
        #[serde(rename_all = "snake_case", deny_unknown_fields)]
        enum Kind {
            $(#[serde(rename = $name)] $plain,)+
            $($section { large_bore_mm: Millimetres },)+
        }

        impl Kind {
            fn of(kind: FittingKind) -> Self {
                match kind {
                    $(FittingKind::$plain => Self::$plain,)+
                    $(FittingKind::$section { large_bore_m } => {
                        Self::$section { large_bore_mm: Millimetres::new(large_bore_m) }
                    })+
                }
            }

            fn live(self) -> FittingKind {
                match self {
                    $(Self::$plain => FittingKind::$plain,)+
                    $(Self::$section { large_bore_mm } => FittingKind::$section { large_bore_m: large_bore_mm.si },)+
                }
            }
        }
    };
}

kinds!(
    [
        "entrance_square_edged" = EntranceSquareEdged,
        "entrance_bell_mouth" = EntranceBellMouth,
        "entrance_inward_projecting" = EntranceInwardProjecting,
        "exit" = Exit,
        "elbow_90" = Elbow90,
        "elbow_90_long_radius" = Elbow90LongRadius,
        "elbow_45" = Elbow45,
        "tee_run" = TeeRun,
        "tee_branch" = TeeBranch,
        "gate_valve" = GateValve,
        "globe_valve" = GlobeValve,
        "angle_valve" = AngleValve,
        "ball_valve" = BallValve,
        "swing_check_valve" = SwingCheckValve,
        "lift_check_valve" = LiftCheckValve,
    ],
    [SuddenEnlargement, SuddenContraction, TaperedIncreaser, TaperedReducer]
);

impl Fitting {
    /// From the live type. The source is always written, so that a file does not change its meaning with what is usual.
    pub fn of(fitting: &live::Fitting) -> Self {
        let by = match fitting.source {
            KSource::BordaCarnot => Source::BordaCarnot,
            KSource::Tp410 => Source::Tp410,
            KSource::Handbook(Joint::Screwed) => Source::HandbookScrewed,
            KSource::Handbook(Joint::Flanged) => Source::HandbookFlanged,
        };
        Self { is: Kind::of(fitting.kind), count: fitting.count, by: Some(by) }
    }

    /// To the live type.
    pub fn live(&self) -> live::Fitting {
        let usual = live::Fitting::new(self.is.live(), self.count);
        let source = match self.by {
            None => usual.source,
            Some(Source::BordaCarnot) => KSource::BordaCarnot,
            Some(Source::Tp410) => KSource::Tp410,
            Some(Source::HandbookScrewed) => KSource::Handbook(Joint::Screwed),
            Some(Source::HandbookFlanged) => KSource::Handbook(Joint::Flanged),
        };
        live::Fitting { source, ..usual }
    }
}
