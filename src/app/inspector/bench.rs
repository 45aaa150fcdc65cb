//! Tests: the inspector driven as a person would: fields typed in, menus opened, buttons pressed. It is held against what it asks for.

pub(super) use super::super::desk::Standing;
pub(super) use super::super::look::Palette;
pub(super) use super::super::selection::Selection;
pub(super) use super::super::view::{Below, Intent, View, Work};
pub(super) use super::{InspectorState, show};
pub(super) use crate::document::{Command, ComponentId, PipeId, Project};
pub(super) use crate::engine::units::Units;
pub(super) use crate::file;
pub(super) use crate::study::{Path, Study};
pub(super) use egui::accesskit::Role;
pub(super) use egui::{Event, Key, vec2};
pub(super) use egui_kittest::Harness;
pub(super) use egui_kittest::kittest::{NodeT, Queryable};

/// What stands behind the pane under test.
pub(super) struct Bench {
    pub(super) project: Project,
    pub(super) study: Study,
    pub(super) units: Units,
    pub(super) selection: Selection,
    pub(super) state: InspectorState,
    pub(super) intents: Vec<Intent>,
}

pub(super) type Test = Harness<'static, Bench>;

pub(super) fn library() -> Project {
    file::parse(include_str!("../../../sample-projects/fernhollow-library.ron"), "the sample").unwrap()
}

pub(super) fn bench(project: Project, units: Units, selection: Selection) -> Test {
    let study = Study::new(&project).unwrap();
    let bench = Bench { project, study, units, selection, state: InspectorState::default(), intents: Vec::new() };
    let mut test = Harness::builder()
        .with_size(vec2(330.0, 3400.0))
        .with_step_dt(1.0 / 60.0)
        .with_context_setup(super::super::prepare)
        .build_ui_state(
            |ui, bench: &mut Bench| {
                let view = View {
                    project: &bench.project,
                    study: &bench.study,
                    results: bench.study.results(),
                    units: &bench.units,
                    palette: Palette::of(egui::Theme::Light),
                    pump: None,
                    hovered: None,
                    path: &Path::default(),
                    alone: &[],
                    flowing: &super::super::drawing::Flowing::default(),
                    work: Work::Draw,
                    standing: &Standing::Current,
                    checks: &[],
                    selection: &bench.selection,
                    below: Below::Zones,
                    lit: None,
                    revision: 0,
                    first_run: false,
                    scenario: None,
                    above: super::super::view::Above::Drawing,
                    presents: false,
                    scale: 1.0,
                    part_load: &super::super::part_load::PartLoadState::default(),
                    lesson: None,
                };
                show(ui, &view, &bench.selection, &mut bench.state, &mut bench.intents);
            },
            bench,
        );
    test.run_steps(3);
    test.state_mut().intents.clear();
    test
}

pub(super) fn components(project: &Project, names: &[&str]) -> Selection {
    let ids = names.iter().map(|name| project.component_named(name).unwrap());
    Selection { components: ids.collect(), ..Selection::default() }
}

pub(super) fn pipe_named(project: &Project, name: &str) -> PipeId {
    *project.pipes.iter().find(|(_, pipe)| pipe.name == name).unwrap().0
}

pub(super) fn pipes(project: &Project, names: &[&str]) -> Selection {
    Selection { pipes: names.iter().map(|name| pipe_named(project, name)).collect(), ..Selection::default() }
}

/// The test on the library with some components selected, and the first of them.
pub(super) fn on(names: &[&str]) -> (Test, ComponentId) {
    let project = library();
    let selection = components(&project, names);
    let id = project.component_named(names[0]).unwrap();
    (bench(project, Units::si(), selection), id)
}

/// Types into the field of a label and presses Enter.
pub(super) fn type_into(test: &mut Test, role: Role, label: &str, text: &str) {
    test.get_by_role_and_label(role, label).click();
    test.run_steps(2);
    test.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    test.step();
    test.event(Event::Text(text.to_owned()));
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
}

pub(super) fn type_number(test: &mut Test, label: &str, text: &str) {
    type_into(test, Role::SpinButton, label, text);
}

pub(super) fn click(test: &mut Test, label: &str) {
    test.get_by_role_and_label(Role::Button, label).click();
    test.run_steps(3);
}

/// The commands asked for, and none more than once.
pub(super) fn commands(test: &Test) -> Vec<Command> {
    let changes = test.state().intents.iter().flat_map(|intent| match intent {
        Intent::Change(command) => vec![command.clone()],
        Intent::ChangeAll(commands) => commands.clone(),
        _ => Vec::new(),
    });
    changes.collect()
}

/// The one command asked for.
#[track_caller]
pub(super) fn the_command(test: &Test) -> Command {
    let mut all = commands(test);
    assert_eq!(all.len(), 1, "{:?}", test.state().intents);
    all.remove(0)
}

/// What was refused.
pub(super) fn refusals(test: &Test) -> Vec<String> {
    let refusals = test.state().intents.iter().filter_map(|intent| match intent {
        Intent::Reject(why) => Some(why.clone()),
        _ => None,
    });
    refusals.collect()
}

/// Everything that can be set has a name for a screen reader.
#[test]
fn every_field_is_named() {
    let project = library();
    let everything = Selection {
        components: project.components.keys().copied().collect(),
        pipes: project.pipes.keys().copied().collect(),
    };
    let each = project.components.keys().map(|id| Selection { components: [*id].into(), ..Selection::default() });
    let run = pipes(&project, &["Common return"]);
    for selection in each.chain([run, everything, Selection::default()]) {
        let test = bench(project.clone(), Units::inch_pound(), selection.clone());
        for role in [Role::SpinButton, Role::TextInput, Role::MultilineTextInput, Role::ComboBox, Role::CheckBox] {
            for node in test.query_all_by_role(role) {
                let label = node.accesskit_node().label().unwrap_or_default();
                assert!(!label.trim().is_empty(), "a {role:?} without a name: {selection:?}");
            }
        }
    }
}

/// Nothing is wider than the pane.
#[test]
fn everything_fits_into_330_points() {
    let project = library();
    let each = project.components.keys().map(|id| Selection { components: [*id].into(), ..Selection::default() });
    let runs = project.pipes.keys().map(|id| Selection { pipes: [*id].into(), ..Selection::default() });
    for units in [Units::si(), Units::inch_pound()] {
        for selection in each.clone().chain(runs.clone()).chain([Selection::default()]) {
            let test = bench(project.clone(), units, selection.clone());
            for role in [Role::SpinButton, Role::TextInput, Role::ComboBox, Role::Button, Role::Label] {
                for node in test.query_all_by_role(role) {
                    let right = node.rect().right();
                    assert!(right <= 330.0, "{:?} ends at {right}: {selection:?}", node.accesskit_node().label());
                }
            }
        }
    }
}
