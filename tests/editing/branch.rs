//! A zone knows the valve in its branch as soon as the two are joined.

use super::{apply, id, new};
use headwise::document::{Command, ComponentChoice, PipeEnd, Port, PortRef, Project};

fn end(project: &Project, name: &str, port: Port) -> PipeEnd {
    PipeEnd::Port(PortRef { component: id(project, name), port })
}

fn drawn(choices: &[ComponentChoice]) -> Project {
    let mut project = Project::blank();
    for (i, choice) in choices.iter().enumerate() {
        let component = new(&project, *choice, [0.0, 4.0 * i as f64]);
        apply(&mut project, &Command::AddComponent(component));
    }
    project
}

#[test]
fn joining_a_zone_valve_gives_it_to_the_zone_and_an_isolation_valve_not() {
    for (choice, name, is_taken) in [
        (ComponentChoice::ZoneValve, "Zone valve 1", true),
        (ComponentChoice::ControlValve, "Control valve 1", true),
        (ComponentChoice::IsolationValve, "Isolation valve 1", false),
    ] {
        let mut project = drawn(&[ComponentChoice::Radiator, ComponentChoice::BalancingValve, choice]);
        let join = |project: &mut Project, from: &str, to: &str| {
            let ends = [end(project, from, Port::Outlet), end(project, to, Port::Inlet)];
            apply(project, &Command::Connect(ends[0], ends[1], Vec::new()));
        };
        join(&mut project, "Radiator 1", "Balancing valve 1");
        assert!(project.zones.values().all(|zone| zone.valve.is_none()));
        join(&mut project, "Balancing valve 1", name);
        let valve = project.zones.values().next().unwrap().valve;
        assert_eq!(valve, is_taken.then(|| id(&project, name)), "{name}");
    }
}

#[test]
fn a_valve_put_into_a_branch_is_its_zones_but_a_second_one_changes_nothing() {
    let mut project = drawn(&[ComponentChoice::Radiator, ComponentChoice::BalancingValve]);
    let ends = [end(&project, "Radiator 1", Port::Outlet), end(&project, "Balancing valve 1", Port::Inlet)];
    apply(&mut project, &Command::Connect(ends[0], ends[1], Vec::new()));
    for _ in 0..2 {
        let pipe = *project.pipes.keys().next().unwrap();
        let valve = new(&project, ComponentChoice::ZoneValve, [0.0, 2.0]);
        apply(&mut project, &Command::InsertIntoPipe(pipe, 0.5, valve));
        let zone = project.zones.values().next().unwrap();
        assert_eq!(zone.valve, Some(id(&project, "Zone valve 1")));
    }
}
