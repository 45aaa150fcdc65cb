//! Courses of pipes: level and upright, as few corners as there need be, and back as they were when components come back.

use super::*;
use proptest::prelude::*;

fn corners(project: &Project) -> usize {
    project.pipes.values().map(|pipe| pipe.bends.len()).sum()
}

/// Greatest distance between corners of the same pipe, infinite where their numbers differ.
fn difference(a: &Project, b: &Project) -> f64 {
    let mut most: f64 = 0.0;
    for (id, pipe) in &a.pipes {
        let other = &b.pipes[id];
        if pipe.bends.len() != other.bends.len() {
            return f64::INFINITY;
        }
        for (p, q) in pipe.bends.iter().zip(&other.bends) {
            most = most.max((p[0] - q[0]).hypot(p[1] - q[1]));
        }
    }
    most
}

#[test]
fn a_pipe_leaves_its_ports_straight_ahead_with_the_fewest_corners() {
    let valve = ComponentChoice::IsolationValve;
    for (to, turn, expected) in [
        // Ahead on one line; ahead beside it; above, entered from below; behind, round both.
        ([8.0, 0.0], Turn::Right, 0),
        ([8.0, 4.0], Turn::Right, 2),
        ([6.0, -6.0], Turn::Up, 1),
        ([6.0, 6.0], Turn::Left, 2),
        ([-8.0, 0.0], Turn::Right, 4),
        ([-8.0, 6.0], Turn::Right, 4),
    ] {
        let mut project = Project::blank();
        for at in [[0.0, 0.0], to] {
            let added = new(&project, valve, at);
            apply(&mut project, &Command::AddComponent(added));
        }
        let second = id(&project, "Isolation valve 2");
        apply(&mut project, &Command::SetTurn(second, turn));
        let ends =
            [port(&project, "Isolation valve 1", Port::Outlet), port(&project, "Isolation valve 2", Port::Inlet)];
        apply(&mut project, &Command::Connect(PipeEnd::Port(ends[0]), PipeEnd::Port(ends[1]), Vec::new()));
        let pipe = project.pipes.values().next().unwrap();
        assert_eq!(pipe.bends.len(), expected, "{to:?} {turn:?}: {:?}", pipe.bends);
        assert!(is_orthogonal(&project, pipe));
        let places = course(&project, pipe);
        assert!(places[1][0] > places[0][0] && places[1][1] == places[0][1], "{places:?}");
        // No segment passes the middle of either valve.
        for at in [[0.0, 0.0], to] {
            let (_, far) = nearest_share(&places, at).unwrap();
            assert!(far > 0.99, "{places:?} {at:?}");
        }
    }
}

#[test]
fn a_component_moved_there_and_back_leaves_the_drawing_as_it_was() {
    for start in buildings() {
        for (moved, component) in &start.components {
            let mut project = start.clone();
            let [x, y] = component.at;
            let way = [[1.0, 0.0], [1.0, 1.0], [2.0, 1.0], [1.0, 0.0], [0.0, 0.0]];
            for [dx, dy] in way {
                let places = BTreeMap::from([(*moved, [x + dx, y + dy])]);
                let changed = apply(&mut project, &Command::MoveComponents(places));
                assert!(changed.drawing && !changed.moves_water());
            }
            let (now, then) = (corners(&project), corners(&start));
            assert!(now <= then, "{} {}: {now} corners instead of {then}", start.title, component.name);
            for (id, pipe) in &project.pipes {
                assert!(is_orthogonal(&project, pipe), "{}: {}", component.name, project.pipe_label(pipe));
                let touches = pipe.from.component == *moved || pipe.to.component == *moved;
                assert!(touches || *pipe == start.pipes[id]);
            }
        }
    }
}

#[test]
fn small_steps_and_one_leap_come_to_the_same() {
    let start = library();
    let moved = id(
        &start,
        start
            .components
            .values()
            .find(|c| matches!(c.kind, ComponentKind::Emitter(_)))
            .map(|c| c.name.as_str())
            .unwrap(),
    );
    let [x, y] = start.components[&moved].at;
    let mut stepped = start.clone();
    for step in 1..=40 {
        let share = f64::from(step) / 40.0;
        let places = BTreeMap::from([(moved, [x + 3.0 * share, y + 1.0 * share])]);
        apply(&mut stepped, &Command::MoveComponents(places));
    }
    let mut leapt = start.clone();
    apply(&mut leapt, &Command::MoveComponents(BTreeMap::from([(moved, [x + 3.0, y + 1.0])])));
    assert!(difference(&stepped, &leapt) < 1e-9);
    apply(&mut stepped, &Command::MoveComponents(BTreeMap::from([(moved, [x, y])])));
    assert!(difference(&stepped, &start) < 1e-9);
}

#[test]
fn a_course_that_a_person_shaped_keeps_its_shape() {
    let mut project = Project::blank();
    for at in [[0.0, 0.0], [20.0, 0.0]] {
        let added = new(&project, ComponentChoice::IsolationValve, at);
        apply(&mut project, &Command::AddComponent(added));
    }
    let ends = [port(&project, "Isolation valve 1", Port::Outlet), port(&project, "Isolation valve 2", Port::Inlet)];
    let around = vec![[5.0, 0.0], [5.0, -7.0], [12.0, -7.0], [12.0, 0.0]];
    apply(&mut project, &Command::Connect(PipeEnd::Port(ends[0]), PipeEnd::Port(ends[1]), around.clone()));
    assert_eq!(project.pipes[&PipeId(1)].bends, around);
    place(&mut project, "Isolation valve 1", [-3.0, 2.0]);
    assert_eq!(project.pipes[&PipeId(1)].bends, [[5.0, 2.0], [5.0, -7.0], [12.0, -7.0], [12.0, 0.0]]);
    // Both together: everything goes along.
    let places = BTreeMap::from([(ends[0].component, [0.0, 3.0]), (ends[1].component, [23.0, 1.0])]);
    apply(&mut project, &Command::MoveComponents(places));
    assert_eq!(project.pipes[&PipeId(1)].bends, [[8.0, 3.0], [8.0, -6.0], [15.0, -6.0], [15.0, 1.0]]);
    // Past its corner the pipe would lead back through the valve.
    place(&mut project, "Isolation valve 1", [10.0, 3.0]);
    let places = course(&project, &project.pipes[&PipeId(1)]);
    assert!(places[1][0] > places[0][0], "{places:?}");
}

#[test]
fn a_component_turned_there_and_back_leaves_the_drawing_as_it_was() {
    for start in buildings() {
        for (turned, component) in &start.components {
            for turn in [Turn::Right, Turn::Down, Turn::Left, Turn::Up] {
                let mut project = start.clone();
                for turn in [turn, component.turn] {
                    let changed = apply(&mut project, &Command::SetTurn(*turned, turn));
                    assert!(!changed.moves_water());
                    for pipe in project.pipes.values() {
                        assert!(is_orthogonal(&project, pipe), "{}: {pipe:?}", component.name);
                    }
                }
                assert!(corners(&project) <= corners(&start), "{} {} {turn:?}", start.title, component.name);
            }
        }
    }
}

#[test]
fn components_come_into_line_and_at_equal_distances() {
    let mut project = Project::blank();
    for at in [[0.0, 0.0], [3.0, 5.0], [10.0, 1.0], [4.0, 2.0]] {
        let added = new(&project, ComponentChoice::Strainer, at);
        apply(&mut project, &Command::AddComponent(added));
    }
    let all: BTreeSet<ComponentId> = project.components.keys().copied().collect();
    let row = aligned(&project, &all, Line::Row);
    assert!(row.values().all(|place| place[1] == 3.0));
    assert_eq!(row.values().map(|place| place[0]).collect::<Vec<_>>(), [0.0, 3.0, 10.0, 4.0]);
    let column = aligned(&project, &all, Line::Column);
    assert!(column.values().all(|place| place[0] == 5.0));
    let apart = distributed(&project, &all, Line::Row);
    let third = 10.0 / 3.0;
    let expected = [[0.0, 0.0], [third, 5.0], [10.0, 1.0], [2.0 * third, 2.0]];
    for (place, expected) in apart.values().zip(expected) {
        assert!((place[0] - expected[0]).abs() < 1e-12 && place[1] == expected[1], "{apart:?}");
    }
    assert!(aligned(&project, &BTreeSet::new(), Line::Row).is_empty());
    assert_eq!(distributed(&project, &BTreeSet::from([ComponentId(2)]), Line::Column).len(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    /// However two components stand, the pipe between them is level and upright, leaves both straight ahead and passes through
    /// neither.
    #[test]
    fn a_route_goes_round_its_ends(x in -9..10_i32, y in -9..10_i32, turns in [0..4_usize, 0..4_usize]) {
        prop_assume!(x.abs().max(y.abs()) > 3);
        let all = [Turn::Right, Turn::Down, Turn::Left, Turn::Up];
        let mut project = Project::blank();
        for (at, turn) in [([0.0, 0.0], turns[0]), ([f64::from(x), f64::from(y)], turns[1])] {
            let added = Component { turn: all[turn], ..*new(&project, ComponentChoice::Strainer, at) };
            apply(&mut project, &Command::AddComponent(Box::new(added)));
        }
        let ends = [port(&project, "Strainer 1", Port::Outlet), port(&project, "Strainer 2", Port::Inlet)];
        apply(&mut project, &Command::Connect(PipeEnd::Port(ends[0]), PipeEnd::Port(ends[1]), Vec::new()));
        let pipe = &project.pipes[&PipeId(1)];
        prop_assert!(is_orthogonal(&project, pipe));
        prop_assert!(pipe.bends.len() <= 4, "{:?}", pipe.bends);
        let places = course(&project, pipe);
        for (component, pair) in [(1, [places[0], places[1]]), (2, [places[places.len() - 1], places[places.len() - 2]])] {
            let center = project.components[&ComponentId(component)].at;
            let ahead = (0..2).map(|axis| (pair[0][axis] - center[axis]) * (pair[1][axis] - pair[0][axis])).sum::<f64>();
            prop_assert!(ahead > 0.0, "{:?}", places);
            let (_, far) = nearest_share(&places, center).unwrap();
            prop_assert!(far > 0.99, "{:?}", places);
        }
    }

    /// Dragging to and fro for however long leaves no heap of corners behind.
    #[test]
    fn long_drags_pile_up_no_corners(
        building in 0..6_usize,
        moved in any::<prop::sample::Index>(),
        way in prop::collection::vec([-12..13_i32, -12..13_i32], 1..30),
        home in any::<bool>(),
    ) {
        let start = buildings().swap_remove(building);
        let id = *moved.get(&start.components.keys().copied().collect::<Vec<_>>());
        let [x, y] = start.components[&id].at;
        let mut project = start.clone();
        let home = home.then_some([0, 0]);
        for [dx, dy] in way.iter().copied().chain(home) {
            let places = BTreeMap::from([(id, [x + f64::from(dx) / 2.0, y + f64::from(dy) / 2.0])]);
            apply(&mut project, &Command::MoveComponents(places));
            for (pipe_id, pipe) in &project.pipes {
                prop_assert!(is_orthogonal(&project, pipe), "{}", project.pipe_label(pipe));
                prop_assert!(pipe.bends.len() <= start.pipes[pipe_id].bends.len().max(4), "{}", project.pipe_label(pipe));
            }
        }
    }
}

#[test]
fn turned_round_a_check_valve_keeps_its_pipes_and_stops_the_water() {
    let mut project = library();
    let at = pipe_id(&project, "Main 1 flow");
    let valve = new(&project, headwise::document::ComponentChoice::CheckValve, [12.0, 0.0]);
    apply(&mut project, &Command::InsertIntoPipe(at, 0.5, valve));
    let courses = |project: &Project| project.pipes.values().map(|pipe| course(project, pipe)).collect::<Vec<_>>();
    let flow =
        |project: &Project| headwise::study::Study::new(project).unwrap().results().pumps.values().next().unwrap().flow;
    let (before, runs) = (courses(&project), flow(&project));
    let valve = id(&project, "Check valve 1");
    apply(&mut project, &Command::TurnRound(valve));
    assert_eq!(courses(&project), before);
    assert!(flow(&project).abs() < 1e-6 * runs, "the water still runs");
    apply(&mut project, &Command::TurnRound(valve));
    assert!((flow(&project) - runs).abs() < 1e-9 * runs);
}
