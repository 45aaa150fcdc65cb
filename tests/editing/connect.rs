//! Joining ends by pipes.

use super::*;

fn two_valves() -> Project {
    let mut project = Project::blank();
    for at in [[0.0, 0.0], [10.0, 0.0]] {
        let added = new(&project, ComponentChoice::IsolationValve, at);
        apply(&mut project, &Command::AddComponent(added));
    }
    let ends = ends(&project);
    apply(&mut project, &Command::Connect(ends[0], ends[1], Vec::new()));
    project
}

/// The outlet of the first valve and the inlet of the second.
fn ends(project: &Project) -> [PipeEnd; 2] {
    [("Isolation valve 1", Port::Outlet), ("Isolation valve 2", Port::Inlet)]
        .map(|(name, at)| PipeEnd::Port(port(project, name, at)))
}

#[test]
fn a_new_pipe_has_figures_to_start_from() {
    let mut project = two_valves();
    let run = project.pipes[&PipeId(1)].clone();
    // Eight steps at half a metre; steel DN 20: 26.7 − 2 · 2.87 mm (ASME B36.10M).
    assert_eq!((run.length, run.minor_k, run.roughness), (4.0, 0.0, 45e-6));
    assert!((run.bore - 20.96e-3).abs() < 1e-9);
    apply(
        &mut project,
        &Command::SetPipe(
            PipeId(1),
            PipeFigures { length: 3.0, size: None, bore: 0.04, roughness: 1e-6, fittings: Vec::new(), minor_k: 1.0 },
        ),
    );
    // The next pipe is as its neighbour.
    let from = PipeEnd::Port(port(&project, "Isolation valve 2", Port::Outlet));
    apply(&mut project, &Command::Connect(from, PipeEnd::Sheet([11.0, 6.0]), Vec::new()));
    let run = &project.pipes[&PipeId(2)];
    assert_eq!((run.bore, run.roughness), (0.04, 1e-6));
    assert_eq!(project.components[&run.to.component].kind, ComponentKind::Junction);
    assert_eq!(run.bends.len(), 2);
}

#[test]
fn ports_that_touch_are_joined_without_length() {
    let mut project = Project::blank();
    for at in [[0.0, 0.0], [2.0, 0.0]] {
        let added = new(&project, ComponentChoice::IsolationValve, at);
        apply(&mut project, &Command::AddComponent(added));
    }
    let ends = ends(&project);
    apply(&mut project, &Command::Connect(ends[0], ends[1], Vec::new()));
    assert!(project.pipes[&PipeId(1)].is_joint());
}

#[test]
fn a_port_that_is_taken_gets_a_tee() {
    let mut project = two_valves();
    let sum = sums(&project);
    let [from, _] = ends(&project);
    apply(&mut project, &Command::Connect(from, PipeEnd::Sheet([4.0, 5.0]), Vec::new()));
    // One step off the port, in the pipe of eight steps and four metres.
    let tee = &project.components[&id(&project, "Tee 1")];
    assert_eq!(tee.at, [2.0, 0.0]);
    let new_length = project.pipes.values().find(|pipe| pipe.to.component == id(&project, "Tee 2")).unwrap().length;
    same_sums([sum[0] + new_length, sum[1]], sums(&project));
    assert_eq!(project.pipes[&PipeId(1)].length, 0.5);
    // The next one takes the tee that is there, until it joins four.
    apply(&mut project, &Command::Connect(from, PipeEnd::Sheet([4.0, -5.0]), Vec::new()));
    let at_tee = |project: &Project, name: &str| {
        let tee = id(project, name);
        project.pipes.values().filter(|pipe| pipe.from.component == tee || pipe.to.component == tee).count()
    };
    assert_eq!(at_tee(&project, "Tee 1"), 4);
    let full = PipeEnd::Port(port(&project, "Tee 1", Port::Branch));
    let sentence = refusal(&mut project, &Command::Connect(full, PipeEnd::Sheet([4.0, 9.0]), Vec::new()));
    assert!(sentence.contains("joins 4 pipes already"), "{sentence}");
    assert!(project.pipes.values().all(|pipe| is_orthogonal(&project, pipe)));
}

#[test]
fn an_end_on_a_pipe_makes_a_tee_there() {
    let mut project = two_valves();
    let sum = sums(&project)[0];
    // At 5 and 7 steps of a pipe from 1 to 9: both ends on one pipe make a bypass.
    for (first, second) in [(0.5, 0.75), (0.75, 0.5)] {
        let mut project = project.clone();
        let ends = [first, second].map(|share| PipeEnd::OnPipe(PipeId(1), share));
        apply(&mut project, &Command::Connect(ends[0], ends[1], vec![[5.0, 4.0], [7.0, 4.0]]));
        let mut tees: Vec<f64> =
            project.components.values().filter(|c| c.kind == ComponentKind::Junction).map(|c| c.at[0]).collect();
        tees.sort_by(f64::total_cmp);
        assert_eq!(tees, [5.0, 7.0]);
        let main: f64 = project
            .pipes
            .values()
            .filter(|pipe| course(&project, pipe).iter().all(|at| at[1] == 0.0))
            .map(|pipe| pipe.length)
            .sum();
        assert!((main - sum).abs() < 1e-12, "{main}");
    }
    let same = PipeEnd::OnPipe(PipeId(1), 0.5);
    assert!(refusal(&mut project, &Command::Connect(same, same, Vec::new())).contains("choose two different ends"));
    // From tee to tee; then beside a tee is that tee.
    apply(&mut project, &Command::Connect(same, PipeEnd::Sheet([5.0, 6.0]), Vec::new()));
    let pipes = project.pipes.len();
    apply(&mut project, &Command::Connect(PipeEnd::OnPipe(PipeId(1), 0.98), PipeEnd::Sheet([0.0, -6.0]), Vec::new()));
    assert_eq!(project.pipes.len(), pipes + 1);
    let end = PipeEnd::Port(port(&project, "Tee 1", Port::Branch));
    assert!(refusal(&mut project, &Command::Connect(end, end, Vec::new())).contains("begin and end at one place"));
}

#[test]
fn a_system_drawn_from_a_blank_sheet_runs() {
    let mut project = Project::blank();
    let parts = [
        (ComponentChoice::Source, [0.0, 8.0], Turn::Up),
        (ComponentChoice::Pump, [6.0, 0.0], Turn::Right),
        (ComponentChoice::Radiator, [14.0, 4.0], Turn::Down),
        (ComponentChoice::ZoneValve, [14.0, 9.0], Turn::Down),
    ];
    for (choice, at, turn) in parts {
        let added = Component { turn, ..*new(&project, choice, at) };
        apply(&mut project, &Command::AddComponent(Box::new(added)));
    }
    for (from, to) in [
        ("Source 1", "Circulator 1"),
        ("Circulator 1", "Radiator 1"),
        ("Radiator 1", "Zone valve 1"),
        ("Zone valve 1", "Source 1"),
    ] {
        let ends = [port(&project, from, Port::Outlet), port(&project, to, Port::Inlet)].map(PipeEnd::Port);
        apply(&mut project, &Command::Connect(ends[0], ends[1], Vec::new()));
    }
    let vessel = new(&project, ComponentChoice::ExpansionVessel, [-4.0, 2.0]);
    let into = pipe_id(&project, "Source 1 – Circulator 1");
    apply(&mut project, &Command::InsertIntoPipe(into, 0.3, vessel));
    let zone = ZoneId(1);
    assert_eq!(project.zones[&zone].valve, Some(id(&project, "Zone valve 1")));
    let without = Zone { valve: None, ..project.zones[&zone].clone() };
    assert!(apply(&mut project, &Command::SetZone(zone, Box::new(without))).structure);
    let found: Vec<String> = headwise::problems::find(&project).into_iter().map(|problem| problem.text()).collect();
    assert!(found.is_empty(), "{found:?}");
    let study = headwise::study::Study::new(&project).unwrap();
    assert!(study.results().converged());
    assert!(study.results().zones[&zone].share > 1.0);
}
