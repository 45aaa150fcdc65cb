//! Tables of K by nominal size: HVAC Pump Handbook, 2nd ed. (McGraw-Hill 2006), tables 3.7 to 3.13.
//!
//! K refers to the velocity in pipe of that nominal size. For tapered reducers and increasers the source as known here does
//! not name the pipe; they are taken on the smaller one, where they come out below the sudden change of the same bores (on
//! the larger they would lose next to nothing). Entrances, ball valves and reducers are not told apart by joint there.

use super::{FittingError, FittingKind, Joint, KSource, NominalSize};

/// What the handbook says of a fitting.
pub(super) fn k(kind: FittingKind, bore_m: f64, joint: Joint) -> Result<f64, FittingError> {
    let source_asked = KSource::Handbook(joint);
    let no_size = FittingError::SizeNotInTable { kind, source_asked, bore_m };
    let tapered = match kind {
        FittingKind::TaperedIncreaser { large_bore_m } => Some((large_bore_m, 0)),
        FittingKind::TaperedReducer { large_bore_m } => Some((large_bore_m, 1)),
        _ => None,
    };
    if let Some((large_bore_m, direction)) = tapered {
        let sizes = NominalSize::of_bore(bore_m).zip(NominalSize::of_bore(large_bore_m));
        return sizes.and_then(|(small, large)| taper(small, large)).map(|k| k[direction]).ok_or(no_size);
    }
    if let Some(k) = of_all_sizes(kind, joint) {
        return Ok(k);
    }
    let row = row(kind, joint).ok_or(FittingError::KindNotInSource { kind, source_asked })?;
    // Rows that begin late are short at the front.
    let absent = NominalSize::ALL.len() - row.len();
    let place = NominalSize::of_bore(bore_m).and_then(|size| size.index().checked_sub(absent));
    place.and_then(|place| row.get(place)).copied().ok_or(no_size)
}

/// Entrances (table 3.7) and what has one K for all sizes.
fn of_all_sizes(kind: FittingKind, joint: Joint) -> Option<f64> {
    match (kind, joint) {
        (FittingKind::EntranceBellMouth, _) => Some(0.05),
        (FittingKind::EntranceSquareEdged, _) => Some(0.5),
        (FittingKind::EntranceInwardProjecting, _) => Some(1.0),
        (FittingKind::TeeRun, Joint::Screwed) => Some(0.9),
        // Printed as "check valve"; taken for the swing check, the ordinary one.
        (FittingKind::SwingCheckValve, Joint::Flanged) => Some(2.0),
        _ => None,
    }
}

/// K by size up to 4 in (tables 3.8 to 3.12); a row ends at 4 in and begins at the least size printed.
fn row(kind: FittingKind, joint: Joint) -> Option<&'static [f64]> {
    use FittingKind as Kind;
    use Joint::{Flanged, Screwed};
    Some(match (kind, joint) {
        (Kind::Elbow90, Screwed) => &[2.1, 1.7, 1.5, 1.3, 1.2, 1.0, 0.85, 0.76, 0.65],
        (Kind::Elbow90, Flanged) => &[0.43, 0.4, 0.39, 0.37, 0.35, 0.33, 0.32],
        (Kind::Elbow90LongRadius, Screwed) => &[0.85, 0.76, 0.65, 0.53, 0.43, 0.36, 0.29, 0.23],
        (Kind::Elbow90LongRadius, Flanged) => &[0.37, 0.35, 0.31, 0.27, 0.25, 0.22],
        (Kind::Elbow45, Screwed) => &[0.36, 0.35, 0.33, 0.32, 0.31, 0.3, 0.29, 0.28, 0.27],
        (Kind::TeeBranch, Screwed) => &[2.4, 2.1, 1.9, 1.7, 1.6, 1.4, 1.3, 1.2, 1.1],
        (Kind::TeeBranch, Flanged) => &[1.0, 0.94, 0.9, 0.83, 0.8, 0.75, 0.7],
        (Kind::TeeRun, Flanged) => &[0.27, 0.25, 0.23, 0.2, 0.18, 0.17, 0.15],
        (Kind::GlobeValve, Screwed) => &[14.0, 10.0, 8.7, 8.0, 7.5, 6.9, 6.5, 6.0, 5.8],
        (Kind::GlobeValve, Flanged) => &[14.0, 12.0, 10.0, 8.5, 7.9, 7.0, 6.4],
        (Kind::GateValve, Screwed) => &[0.32, 0.28, 0.24, 0.22, 0.2, 0.17, 0.15, 0.14, 0.12],
        (Kind::SwingCheckValve, Screwed) => &[5.6, 3.7, 3.0, 2.7, 2.5, 2.3, 2.2, 2.2, 2.2],
        (Kind::AngleValve, Screwed) => &[5.5, 4.7, 3.8, 3.0, 2.2, 1.7, 1.4, 1.0],
        (Kind::BallValve, _) => &[0.11, 0.1, 0.09, 0.09, 0.08, 0.07, 0.07, 0.06],
        _ => return None,
    })
}

/// Tapered cast-iron fittings between two sizes (table 3.13): as increaser and as reducer.
fn taper(small: NominalSize, large: NominalSize) -> Option<[f64; 2]> {
    use NominalSize::{Four, OneAndHalf, Three, Two, TwoAndHalf};
    Some(match (small, large) {
        (OneAndHalf, TwoAndHalf) => [0.11, 0.05],
        (Two, TwoAndHalf) => [0.02, 0.01],
        (OneAndHalf, Three) => [0.18, 0.07],
        (Two, Three) => [0.07, 0.04],
        (TwoAndHalf, Three) => [0.01, 0.01],
        (OneAndHalf, Four) => [0.34, 0.12],
        (Two, Four) => [0.21, 0.08],
        (TwoAndHalf, Four) => [0.1, 0.05],
        (Three, Four) => [0.04, 0.02],
        _ => return None,
    })
}
