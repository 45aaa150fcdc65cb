//! The map of settings made out of a project, with the best setting, or the one that starves no zone where none serves all.

use super::MapView;
use crate::document::{ComponentId, Project};
use crate::engine::pump::Regulation;
use crate::study::part_load::{PartLoad, PartLoadError};
use crate::study::settings::{Axes, CELLS, Deciding, NoBest, Plane, SettingMap, Watch, best, least_starving};

/// Computes the map over a plane, the settings that are not on it held at `base` or as they are, and gives it to what tells of it.
///
/// # Errors
/// A project that cannot be studied.
pub fn with_map<T>(
    project: &Project,
    pump: ComponentId,
    axes: Axes,
    base: Option<Regulation>,
    tell: impl FnOnce(&MapView<'_>) -> T,
) -> Result<T, PartLoadError> {
    let mut part_load = PartLoad::new(project, pump)?;
    let watch = Watch::default();
    let found = match best(&mut part_load, &watch) {
        Ok(best) => Some(best),
        Err(NoBest::Lower(error)) => return Err(error.into()),
        Err(_) => least_starving(&mut part_load, &watch).ok(),
    };
    let deciding = Deciding::new(&part_load);
    let plane = Plane::new(&part_load, axes, base.unwrap_or(part_load.regulation));
    let map = SettingMap::new(&part_load, &deciding, plane, CELLS);
    let present = part_load.regulation;
    Ok(tell(&MapView { project, part_load: &part_load, deciding: &deciding, map: &map, present, best: found }))
}
