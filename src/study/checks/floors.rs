//! Floors behind something that mixes: too hot or too cold by the water that they get.

use super::Sight;
use crate::problems::temperatures::{floor, is_floor, mixes};
use crate::problems::{Check, Severity};

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    if !mixes(sight.project) {
        return;
    }
    for (id, zone) in &sight.project.zones {
        let supply_c = sight.results.zones.get(id).map(|zone| zone.supply_c).filter(|supply_c| supply_c.is_finite());
        if let Some(supply_c) = supply_c.filter(|_| is_floor(sight.project, zone)) {
            found.extend(floor(supply_c, |heading| sight.zone(Severity::Warning, *id, heading)));
        }
    }
}
