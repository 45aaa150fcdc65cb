//! Tests: every stretch of every regulated curve is named, and no name lies over another or over a handle.

use super::super::desk::Standing;
use super::super::look::Palette;
use super::super::selection::Selection;
use super::super::view::{Above, Below, View, Work};
use super::{CurvesState, show};
use crate::document::{Command, Project};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::Units;
use crate::study::{Path, Study};
use egui::{Rect, Vec2, vec2};
use egui_kittest::Harness;

struct Bench {
    project: Project,
    study: Study,
    units: Units,
    state: CurvesState,
}

fn bench(project: Project, units: Units, size: Vec2) -> Harness<'static, Bench> {
    let study = Study::new(&project).unwrap();
    let bench = Bench { project, study, units, state: CurvesState::default() };
    let mut test = Harness::builder()
        .with_size(size)
        .with_step_dt(1.0 / 60.0)
        .with_context_setup(super::super::prepare)
        .build_ui_state(
            |ui, bench: &mut Bench| {
                let pump = bench.project.pumps().find(|(_, unit)| unit.running).map(|(id, _)| id);
                let view = View {
                    project: &bench.project,
                    study: &bench.study,
                    results: bench.study.results(),
                    units: &bench.units,
                    palette: Palette::of(egui::Theme::Light),
                    pump,
                    hovered: None,
                    path: &Path::default(),
                    alone: &[],
                    flowing: &super::super::drawing::Flowing::default(),
                    work: Work::Tune,
                    standing: &Standing::Current,
                    checks: &[],
                    selection: &Selection::default(),
                    below: Below::Zones,
                    lit: None,
                    revision: 0,
                    first_run: false,
                    scenario: None,
                    above: Above::Drawing,
                    presents: false,
                    scale: 1.0,
                    part_load: &super::super::part_load::PartLoadState::default(),
                    lesson: None,
                };
                show(ui, &view, &mut bench.state, &mut Vec::new());
            },
            bench,
        );
    test.run_steps(2);
    test
}

fn samples() -> [Project; 4] {
    [
        include_str!("../../../sample-projects/fernhollow-library.ron"),
        include_str!("../../../sample-projects/saltreed-growers.ron"),
        include_str!("../../../sample-projects/alder-point-clinic.ron"),
        include_str!("../../../sample-projects/thornwick-court.ron"),
    ]
    .map(|text| crate::file::parse(text, "the sample").unwrap())
}

/// Settings that make stretches of every kind, long ones and very short ones, as shares of what can be set.
fn settings() -> Vec<(f64, f64, f64, f64, Option<f64>, ReferenceFlow)> {
    let mut all = Vec::new();
    for (limit, cap) in [(0.68, 0.95), (0.98, 1.0), (0.3, 0.6), (0.5, 0.72), (0.9, 0.94), (0.06, 1.0)] {
        for (slope, minimum) in [(0.0, 0.2), (0.25, 0.2), (0.6, 0.5), (1.0, 0.35)] {
            all.push((limit, slope, cap, minimum, None, ReferenceFlow::FullSpeed));
            all.push((limit, slope, cap, minimum, Some(0.6), ReferenceFlow::CappedSpeed));
        }
    }
    all
}

#[test]
fn every_stretch_is_named_and_no_name_lies_over_another() {
    let mut stretches = 0;
    for project in samples() {
        for (index, (limit, slope, cap, minimum, power, reference)) in settings().into_iter().enumerate() {
            let mut project = project.clone();
            let (id, unit) =
                project.pumps().find(|(_, unit)| unit.running).map(|(id, unit)| (id, unit.clone())).unwrap();
            let ranges = unit.ranges();
            project.apply(&Command::SetMinimumSpeed(id, 0.0)).unwrap();
            for command in [
                Command::SetHeadLimit(id, Some((limit * ranges.head_limit.1).max(ranges.head_limit.0))),
                Command::SetSlope(id, slope),
                Command::SetSpeedCap(id, cap),
                Command::SetMinimumSpeed(id, minimum * cap),
                Command::SetPowerLimit(id, power.map(|share| (share * ranges.power_limit.1).max(ranges.power_limit.0))),
                Command::SetReferenceFlow(id, reference),
            ] {
                project.apply(&command).unwrap();
            }
            let (units, size) = if index % 2 == 0 {
                (Units::si(), vec2(560.0, 500.0))
            } else {
                (Units::inch_pound(), vec2(850.0, 700.0))
            };
            let test = bench(project, units, size);
            let bench = test.state();
            let of = &bench.study.curves(id).unwrap().ranges;
            let named = &bench.state.ranges;
            let told = format!("{}, settings {index}: {of:?}", bench.project.title);
            assert_eq!(named.len(), of.len(), "{told}");
            stretches += of.len();
            for range in of {
                assert!(named.iter().any(|label| label.limit == range.limit), "{told}");
            }
            for (place, label) in named.iter().enumerate() {
                let inside = |part: &Rect| part.left() > 0.0 && part.right() < size.x && part.top() > 0.0;
                assert!(label.boxes.iter().all(inside), "{told}");
                for other in &named[place + 1..] {
                    let meets = label.boxes.iter().any(|a| other.boxes.iter().any(|b| a.intersects(*b)));
                    assert!(!meets, "{told}: {:?} lies over {:?}", label.limit, other.limit);
                }
            }
        }
    }
    assert!(stretches > 300, "{stretches}");
}
