//! The map: a plane of two settings, what each place of it does to the zones, and what it costs a year.

use super::contours::{Raster, levels};
use super::deciding::{Deciding, Miss};
use super::plane::Plane;
use super::region::{Outline, region};
use crate::study::part_load::PartLoad;
use rayon::prelude::*;

/// Columns and rows of a map at once; one that has time may have more.
pub const CELLS: usize = 60;

/// One place of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MapCell {
    /// Mean electric power of all pumps over the hours, W.
    pub mean_w: f64,
    /// The worst of what is missed, or what comes nearest to it where nothing is.
    pub nearest: Option<Miss>,
}

impl MapCell {
    /// The worst of what is missed; `None` where every zone keeps its band in every state.
    #[must_use]
    pub fn miss(&self) -> Option<Miss> {
        self.nearest.filter(Miss::counts)
    }
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
    /// Where no zone starves and nothing is too loud, whatever zones get too much.
    pub starves_none: Vec<Outline>,
    /// Why no setting serves at all, where that is so: states that none serves, by number.
    pub impossible: Vec<usize>,
}

/// Lines of equal energy, about.
const CONTOURS: f64 = 8.0;

impl SettingMap {
    /// Computes the map of a plane with so many columns and rows.
    #[must_use]
    pub fn new(part_load: &PartLoad, deciding: &Deciding, plane: Plane, columns: usize) -> Self {
        let columns = columns.max(2);
        let cell = |index: usize| {
            let middle = |k: usize| (k as f64 + 0.5) / columns as f64;
            let law = plane.law(part_load, plane.at([middle(index % columns), middle(index / columns)]));
            MapCell { mean_w: part_load.mean_power_w(&law), nearest: deciding.nearest(&law) }
        };
        let (cells, (region, starves_none)): (Vec<MapCell>, (Vec<Outline>, Vec<Outline>)) = rayon::join(
            || (0..columns * columns).into_par_iter().with_min_len(columns).map(cell).collect(),
            || {
                let letting = Deciding::letting_overflow(part_load);
                (region(part_load, deciding, &plane), region(part_load, &letting, &plane))
            },
        );
        let values: Vec<f64> = cells.iter().map(|cell| cell.mean_w).collect();
        let contours = contours(part_load, &plane, Raster { values: &values, columns });
        let impossible = deciding.impossible.iter().map(|(state, _)| *state).collect();
        Self { plane, cells, columns, region, starves_none, contours, impossible }
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
    // Round numbers of what is read beside the line: the year's energy in kWh where hours are given, else watts.
    let has_hours = part_load.has_hours();
    let read = |mean_w: f64| if has_hours { part_load.year_of_mean_j(mean_w) / 3.6e6 } else { mean_w };
    let half = 0.5 / raster.columns as f64;
    // The raster's corners are middles of cells.
    let place = |share: [f64; 2]| plane.at(share.map(|s| half + s * (1.0 - 2.0 * half)));
    let contour = |level: f64| {
        let mean_w = if has_hours { part_load.mean_of_year_w(level * 3.6e6) } else { level };
        let lines = raster.lines(mean_w).into_iter().map(|line| line.into_iter().map(place).collect()).collect();
        let energy_j = has_hours.then_some(level * 3.6e6);
        Contour { mean_w, energy_j, lines }
    };
    levels(read(low), read(high), CONTOURS).into_iter().map(contour).collect()
}
