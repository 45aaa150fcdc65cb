//! The map: a plane of two settings, what each place of it does to the zones, and what it costs a year.

use super::contours::{Raster, levels};
use super::deciding::{Deciding, Miss};
use super::plane::Plane;
use super::region::{Outline, region};
use crate::study::part_load::PartLoad;
use rayon::prelude::*;

/// Columns and rows of the map.
pub const CELLS: usize = 60;

/// One place of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapCell {
    /// Mean electric power of all pumps over the hours, W.
    pub mean_w: f64,
    /// The worst of what is missed; `None` where every zone keeps its band in every state.
    pub miss: Option<Miss>,
}

/// A line of equal mean power.
#[derive(Clone, Debug, PartialEq)]
pub struct Contour {
    /// Mean electric power, W.
    pub mean_w: f64,
    /// The year's energy, J, where hours are given.
    pub energy_j: Option<f64>,
    /// Its pieces, in x and y.
    pub lines: Vec<Vec<[f64; 2]>>,
}

/// A plane of two settings with what they do.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingMap {
    /// The plane.
    pub plane: Plane,
    /// Places, row by row from the bottom; each stands in the middle of its cell.
    pub cells: Vec<MapCell>,
    /// Cells a row.
    pub columns: usize,
    /// Where every zone keeps its band in every state.
    pub region: Vec<Outline>,
    /// Lines of equal energy.
    pub contours: Vec<Contour>,
    /// Why no setting serves at all, where that is so: states that none serves, by number.
    pub impossible: Vec<usize>,
}

/// Lines of equal energy, about.
const CONTOURS: f64 = 8.0;

impl SettingMap {
    /// Computes the map of a plane.
    #[must_use]
    pub fn new(part_load: &PartLoad, deciding: &Deciding, plane: Plane) -> Self {
        let columns = CELLS;
        let cell = |index: usize| {
            let middle = |k: usize| (k as f64 + 0.5) / columns as f64;
            let law = plane.law(part_load, plane.at([middle(index % columns), middle(index / columns)]));
            MapCell { mean_w: part_load.mean_power_w(&law), miss: deciding.worst(&law) }
        };
        let (cells, region): (Vec<MapCell>, Vec<Outline>) = rayon::join(
            || (0..columns * columns).into_par_iter().with_min_len(columns).map(cell).collect(),
            || region(part_load, deciding, &plane),
        );
        let values: Vec<f64> = cells.iter().map(|cell| cell.mean_w).collect();
        let contours = contours(part_load, &plane, Raster { values: &values, columns });
        let impossible = deciding.impossible.iter().map(|(state, _)| *state).collect();
        Self { plane, cells, columns, region, contours, impossible }
    }

    /// The cell under a place of the plane.
    #[must_use]
    pub fn cell(&self, [x, y]: [f64; 2]) -> Option<&MapCell> {
        let share = |value: f64, [low, high]: [f64; 2]| (value - low) / (high - low);
        let index = |share: f64| {
            let index = (share * self.columns as f64).floor();
            (0.0..=1.0).contains(&share).then_some((index as usize).min(self.columns - 1))
        };
        let (column, row) = (index(share(x, self.plane.x))?, index(share(y, self.plane.y))?);
        self.cells.get(row * self.columns + column)
    }
}

fn contours(part_load: &PartLoad, plane: &Plane, raster: Raster<'_>) -> Vec<Contour> {
    let (low, high) = raster.values.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), v| (a.min(*v), b.max(*v)));
    // Round numbers of what is read beside the line: energy in kWh where hours are given, else watts.
    let per = if part_load.has_hours() { part_load.energy_of_mean_j(1.0) / 3.6e6 } else { 1.0 };
    let half = 0.5 / raster.columns as f64;
    // The raster's corners are middles of cells.
    let place = |share: [f64; 2]| plane.at(share.map(|s| half + s * (1.0 - 2.0 * half)));
    let contour = |level: f64| {
        let mean_w = level / per;
        let lines = raster.lines(mean_w).into_iter().map(|line| line.into_iter().map(place).collect()).collect();
        let energy_j = part_load.has_hours().then_some(level * 3.6e6);
        Contour { mean_w, energy_j, lines }
    };
    levels(low * per, high * per, CONTOURS).into_iter().map(contour).collect()
}
