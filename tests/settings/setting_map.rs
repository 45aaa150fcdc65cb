//! The map of settings against the study itself: on which side of the region's edge settings serve, what they cost along a line of
//! equal energy, and that a region thinner than any raster is found.

use crate::judge::Judge;
use crate::systems::{Chance, composed, sample};
use headwise::document::{ComponentId, PlannedValve, Project};
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{Axes, CELLS, Deciding, Outline, Plane, SettingMap, Watch, best};

fn mapped(project: &Project, pump: ComponentId, axes: Axes, base: Regulation) -> (PartLoad, SettingMap) {
    let part_load = PartLoad::new(project, pump).unwrap();
    let deciding = Deciding::new(&part_load);
    let plane = Plane::new(&part_load, axes, base);
    let map = SettingMap::new(&part_load, &deciding, plane, CELLS);
    (part_load, map)
}

/// The least and the greatest y of an outline at an x.
fn stretch(outline: &Outline, x: f64) -> Option<[f64; 2]> {
    let ends = outline.iter().zip(outline.iter().cycle().skip(1));
    let crossings: Vec<f64> = ends
        .filter(|(a, b)| (a[0] <= x) != (b[0] <= x))
        .map(|(a, b)| a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]))
        .collect();
    let low = crossings.iter().copied().fold(f64::INFINITY, f64::min);
    let high = crossings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (crossings.len() >= 2).then_some([low, high])
}

/// Holds the region against the study: just inside its edge all is served, just outside something is not. How many places of each
/// kind were looked at.
fn check_region(judge: &mut Judge, axes: Axes, base: Regulation, chance: &mut Chance) -> [usize; 2] {
    /// How near to the edge, as a share of the height of the plane: twice what the edge may be off a straight line.
    const NEAR: f64 = 2e-3;
    let title = judge.project.title.clone();
    let (_, map) = mapped(&judge.project, judge.pump, axes, base);
    let height = map.plane.y[1] - map.plane.y[0];
    let mut seen = [0, 0];
    for outline in &map.region {
        let ends = outline.iter().fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], p| [a.min(p[0]), b.max(p[0])]);
        for _ in 0..4 {
            let x = chance.within(ends[0], ends[1]);
            let Some([low, high]) = stretch(outline, x) else { continue };
            for (y, serves) in [
                (low + NEAR * height, true),
                (high - NEAR * height, true),
                (low - NEAR * height, false),
                (high + NEAR * height, false),
            ] {
                let is_inside = y > low && y < high;
                if y <= map.plane.y[0] || y >= map.plane.y[1] || is_inside != serves {
                    continue;
                }
                let settings = map.plane.settings([x, y]);
                if settings.check().is_err() {
                    continue;
                }
                let clear = judge.clearance(settings);
                let what = format!("{title}, {axes:?}, {settings:?}, {low} to {high}: {clear:?}");
                if serves {
                    assert!(clear.least() > 0.0, "{what}");
                } else {
                    assert!(clear.least() < 0.0, "{what}");
                }
                seen[usize::from(serves)] += 1;
            }
        }
    }
    seen
}

#[test]
fn the_edge_of_the_region() {
    let mut chance = Chance::new(11);
    let mut seen = [0, 0];
    let mut count = |[out, into]: [usize; 2]| seen = [seen[0] + out, seen[1] + into];
    for (name, high) in [("fernhollow-library", 1.1), ("saltreed-growers", 1.6), ("alder-point-clinic", 1.1)] {
        let (mut project, pump) = sample(name);
        project.acceptance.high = high;
        let found = best(&mut PartLoad::new(&project, pump).unwrap(), &Watch::default()).unwrap();
        let mut judge = Judge::new(&project, pump);
        for axes in Axes::ALL {
            let base = Regulation { speed_cap: found.settings.speed_cap + 0.02, ..found.settings };
            let base = if axes == Axes::LimitOverSlope { base } else { found.settings };
            count(check_region(&mut judge, axes, base, &mut chance));
        }
        let capped = Regulation { reference: ReferenceFlow::CappedSpeed, ..found.settings };
        count(check_region(&mut judge, Axes::LimitOverSlope, Regulation { speed_cap: 0.95, ..capped }, &mut chance));
    }
    for seed in 60..63 {
        let mut chance = Chance::new(seed);
        let (mut project, pump) = composed(&mut chance, 3, 4, &[PlannedValve::Zone]);
        project.acceptance.high = 2.0;
        let own = project.pump(pump).unwrap().regulation;
        let greatest_w = project.pump(pump).unwrap().ranges().power_limit.1;
        let power_limit_w = (seed % 2 == 0).then_some(0.8 * greatest_w);
        let base = Regulation { speed_cap: 1.0, power_limit_w, ..own };
        let mut judge = Judge::new(&project, pump);
        count(check_region(&mut judge, Axes::ALL[seed as usize % 3], base, &mut chance));
    }
    assert!(seen[0] > 30 && seen[1] > 40, "{seen:?}");
}

/// What the cells say is what the study says, but for cells through which an edge may run.
#[test]
fn the_cells_of_the_map() {
    let (project, pump) = sample("fernhollow-library");
    let own = project.pump(pump).unwrap().regulation;
    let (_, map) = mapped(&project, pump, Axes::LimitOverSlope, own);
    let mut judge = Judge::new(&project, pump);
    let mut chance = Chance::new(3);
    for _ in 0..60 {
        let [column, row] = [chance.below(CELLS), chance.below(CELLS)];
        let middle = |place: usize| (place as f64 + 0.5) / CELLS as f64;
        let at = map.plane.at([middle(column), middle(row)]);
        let cell = map.cell(at).unwrap();
        assert_eq!(Some(cell), map.cells.get(row * CELLS + column));
        let (clear, mean_w) = judge.weigh(map.plane.settings(at), f64::NEG_INFINITY).unwrap();
        assert!((cell.mean_w / mean_w - 1.0).abs() < 5e-4, "{at:?}: {cell:?} {mean_w}");
        assert!(
            cell.miss().is_none() == (clear.least() >= 0.0) || clear.least().abs() < 1e-6,
            "{at:?}: {cell:?} {clear:?}"
        );
    }
}

/// Along a line of equal energy the study finds that energy: within 1 %, for the line runs straight between places of a raster.
#[test]
fn lines_of_equal_energy() {
    for name in ["fernhollow-library", "alder-point-clinic"] {
        let (project, pump) = sample(name);
        let own = project.pump(pump).unwrap().regulation;
        let (part_load, map) = mapped(&project, pump, Axes::LimitOverSlope, own);
        let mut judge = Judge::new(&project, pump);
        let mut chance = Chance::new(8);
        assert!(map.contours.len() >= 3);
        for contour in &map.contours {
            let energy_j = contour.energy_j.unwrap();
            let hours: f64 = part_load.tables.iter().map(|table| table.state.hours).sum();
            // Standing by counts in the rest of 8,760 h.
            let standby_w: f64 = project.pumps().map(|(_, unit)| unit.standby_power).sum();
            let year_j = 3600.0 * (contour.mean_w * hours + standby_w * (8760.0 - hours));
            assert!((energy_j / year_j - 1.0).abs() < 1e-9);
            for line in &contour.lines {
                let at = line[chance.below(line.len())];
                let mean_w = judge.weigh(map.plane.settings(at), f64::NEG_INFINITY).unwrap().1;
                assert!((mean_w / contour.mean_w - 1.0).abs() < 0.01, "{name}, {at:?}: {mean_w} on {}", contour.mean_w);
            }
        }
    }
}

/// Bands so narrow that a setting just fits are made around what the study itself gives under a setting out of chance. The region
/// around it is far thinner than a cell of the map, and is found.
#[test]
fn a_region_thinner_than_a_cell() {
    let mut thinnest = f64::INFINITY;
    for seed in 0..6_u64 {
        let (mut project, pump) = sample("fernhollow-library");
        let mut chance = Chance::new(70 + seed);
        let own = project.pump(pump).unwrap().regulation;
        let settings = Regulation {
            head_limit_m: Some(chance.within(3.5, 5.5)),
            slope: chance.within(0.1, 0.6),
            speed_cap: 1.0,
            reference: [ReferenceFlow::FullSpeed, ReferenceFlow::CappedSpeed][seed as usize % 2],
            ..own
        };
        (project.acceptance.low, project.acceptance.high) = (0.5, 1.5);
        let (low, high) = Judge::new(&project, pump).shares(settings);
        (project.acceptance.low, project.acceptance.high) = (low - 2e-5, high + 2e-5);
        project.limits.valve_drop = 1e6;
        project.limits.velocity[1] = 10.0;
        let (_, map) = mapped(&project, pump, Axes::LimitOverSlope, settings);
        let at = map.plane.place(&settings).unwrap();
        assert_eq!(map.impossible, Vec::<usize>::new());
        let area = |outline: &Outline| {
            let pairs = outline.iter().zip(outline.iter().cycle().skip(1));
            0.5 * pairs.map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs()
        };
        let cell = (map.plane.x[1] - map.plane.x[0]) * (map.plane.y[1] - map.plane.y[0]) / (CELLS * CELLS) as f64;
        let all: f64 = map.region.iter().map(area).sum::<f64>() / cell;
        assert!(!map.region.is_empty(), "{settings:?}, {low} to {high}");
        thinnest = thinnest.min(all);
        // It comes within a hair of the setting.
        let [width, height] = [map.plane.x[1] - map.plane.x[0], map.plane.y[1] - map.plane.y[0]];
        let away = |p: &[f64; 2]| ((p[0] - at[0]) / width).hypot((p[1] - at[1]) / height);
        let nearest = map.region.iter().flatten().map(away).fold(f64::INFINITY, f64::min);
        let is_inside = map.region.iter().any(|o| stretch(o, at[0]).is_some_and(|[l, h]| l <= at[1] && at[1] <= h));
        assert!(nearest < 2e-3 || is_inside, "{settings:?}: {nearest}, {:?}", map.region);
    }
    // All of it together is less than one cell.
    assert!(thinnest < 1.0, "{thinnest}");
}
