//! Tests: the sentence fits on its line in a window 1280 points wide, whatever the state, the settings and the units.

use super::super::look::{self, STEP, size};
use crate::document::{Command, Project};
use crate::engine::units::Units;
use crate::study::{Situation, Study, situation};

/// What a window 1280 points wide leaves between its margins.
const ROOM: f32 = 1280.0 - 6.0 * STEP;

fn samples() -> [Project; 4] {
    [
        include_str!("../../../sample-projects/fernhollow-library.ron"),
        include_str!("../../../sample-projects/saltreed-growers.ron"),
        include_str!("../../../sample-projects/alder-point-clinic.ron"),
        include_str!("../../../sample-projects/thornwick-court.ron"),
    ]
    .map(|text| crate::file::parse(text, "the sample").unwrap())
}

/// Situations of all kinds, each with what makes it.
fn situations() -> Vec<(String, Situation)> {
    let mut all = Vec::new();
    for base in samples() {
        let scenarios = (0..base.scenarios.len()).map(Some).chain([None]);
        for scenario in scenarios {
            for (limit, slope, cap, minimum, power) in [
                (0.65, 0.25, 0.95, 0.2, None),
                (0.95, 0.0, 0.6, 0.2, None),
                (0.2, 0.0, 1.0, 0.2, None),
                (0.1, 0.5, 1.0, 0.7, None),
                (0.9, 0.5, 1.0, 0.2, Some(0.3)),
            ] {
                let mut project = base.clone();
                let (id, ranges) =
                    project.pumps().find(|(_, unit)| unit.running).map(|(id, u)| (id, u.ranges())).unwrap();
                let mut commands = vec![
                    Command::SetHeadLimit(id, Some(limit * ranges.head_limit.1)),
                    Command::SetSlope(id, slope),
                    Command::SetSpeedCap(id, cap),
                    Command::SetMinimumSpeed(id, minimum * cap),
                    Command::SetPowerLimit(id, power.map(|share: f64| share * ranges.power_limit.1)),
                ];
                commands.extend(scenario.map(Command::EnterScenario));
                commands.iter().for_each(|command| _ = project.apply(command).unwrap());
                let study = Study::new(&project).unwrap();
                let name = scenario.map(|index| project.scenarios[index].name.clone());
                for units in [Units::si(), Units::inch_pound()] {
                    let at = situation(&project, &study, Some(id), name.as_deref(), &units);
                    all.push((format!("{}, {name:?}, {commands:?}", project.title), at));
                }
            }
        }
    }
    all
}

#[test]
fn two_lines_are_enough_at_1280_points() {
    let mut test = egui_kittest::Harness::builder().with_context_setup(super::super::prepare).build_ui(|_| {});
    test.run_steps(2);
    let ctx = &test.ctx;
    let wide = |text: &str, font: egui::FontId| {
        ctx.fonts_mut(|fonts| fonts.layout_no_wrap(text.to_owned(), font, egui::Color32::BLACK).size().x)
    };
    let mut widest = 0.0_f32;
    for (made_by, at) in situations() {
        let gap = if at.wrong.is_empty() { 0.0 } else { 2.0 * STEP };
        let first = wide(&at.wrong, look::strong(size::LEAD))
            + gap
            + wide(at.shorter.last().unwrap_or(&at.now), look::strong(size::LEAD));
        assert!(first <= ROOM, "{first} points: {at:?} by {made_by}");
        let second = wide(&at.more, look::font(size::BODY));
        assert!(second <= ROOM, "{second} points: {at:?}");
        assert!(!at.now.is_empty() && at.now.ends_with('.'), "{at:?}");
        widest = widest.max(first);
    }
    assert!(widest > 0.5 * ROOM, "only {widest} points: the samples do not try it");
}
