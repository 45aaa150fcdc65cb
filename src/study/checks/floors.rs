//! Floors that may get another supply than the design's: too hot or too cold by the water that they get, and where nothing flows
//! by the hottest or coldest that a source gives.

use super::Sight;
use crate::document::{ComponentKind, Duty};
use crate::problems::temperatures::{floor, is_floor, mixes};
use crate::problems::{Check, Severity};

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    if !mixes(sight.project) {
        return;
    }
    let utmost_c = utmost_supply(sight);
    for (id, zone) in &sight.project.zones {
        if is_floor(sight.project, zone) {
            let gets = sight.results.zones.get(id).map(|zone| zone.supply_c).filter(|supply_c| supply_c.is_finite());
            found.extend(floor(gets.unwrap_or(utmost_c), |heading| sight.zone(Severity::Warning, *id, heading)));
        }
    }
}

/// The hottest supply of any source when heating, the coldest when cooling, °C.
fn utmost_supply(sight: &Sight<'_>) -> f64 {
    let basis = &sight.project.design;
    let own = sight.project.components.values().filter_map(|component| match &component.kind {
        ComponentKind::Source(source) => source.supply_c,
        _ => None,
    });
    match basis.duty {
        Duty::Heating => own.fold(basis.supply_c, f64::max),
        Duty::Cooling => own.fold(basis.supply_c, f64::min),
    }
}
