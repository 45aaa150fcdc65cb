//! Adding to the sheet and into pipes, usual figures, copies.

use super::*;

#[test]
fn a_blank_sheet_is_a_document() {
    let project = Project::blank();
    assert_eq!(flaws(&project), []);
    assert_eq!(file::parse(&file::to_text(&project).unwrap(), "blank").unwrap(), project);
}

#[test]
fn everything_that_can_be_chosen_can_be_added_anywhere() {
    for mut project in buildings().into_iter().chain([Project::blank()]) {
        for choice in ComponentChoice::ALL {
            let zones = project.zones.len();
            let added = new(&project, choice, [-20.0, -20.0]);
            assert!(added.name.starts_with(choice.word()) && !choice.word().is_empty());
            assert_eq!(ComponentChoice::of(&added.kind), choice);
            let greatest = project.components.keys().next_back().map_or(0, |id| id.0);
            let changed = apply(&mut project, &Command::AddComponent(added.clone()));
            assert!(changed.structure);
            let (new_id, new) = project.components.iter().next_back().unwrap();
            assert_eq!((new_id.0, new), (greatest + 1, &*added));
            let is_emitter = matches!(added.kind, ComponentKind::Emitter(_));
            assert_eq!(project.zones.len(), zones + usize::from(is_emitter));
            assert_eq!(project.zone_of(*new_id).is_some(), is_emitter);
            let sentence = refusal(&mut project, &Command::AddComponent(added));
            assert!(sentence.contains("already: choose a name"), "{sentence}");
        }
    }
}

#[test]
fn a_component_in_a_pipe_parts_length_and_losses() {
    for (share, asked) in [(0.25, [-50.0, 0.0]), (0.5, [12.0, 0.3]), (0.9, [-50.0, 0.0])] {
        for choice in ComponentChoice::ALL.into_iter().filter(|choice| *choice != ComponentChoice::Separator) {
            let mut project = library();
            let name = "Main 1 flow";
            let (pipe_id, before) = (pipe_id(&project, name), pipe(&project, name).clone());
            let sum = sums(&project);
            let inserted = new(&project, choice, asked);
            apply(&mut project, &Command::InsertIntoPipe(pipe_id, share, inserted.clone()));
            same_sums(sum, sums(&project));
            let first = &project.pipes[&pipe_id];
            assert_eq!((first.name.as_str(), first.from, first.bore), (name, before.from, before.bore));
            assert!((first.length - share * before.length).abs() < 1e-12, "{share} {choice:?}");
            assert!((first.minor_k - share * before.minor_k).abs() < 1e-12, "{share} {choice:?}");
            let (_, second) = project
                .pipes
                .iter()
                .find(|(id, pipe)| **id != pipe_id && pipe.to == before.to && pipe.bore > 0.0)
                .unwrap();
            let new_id = id(&project, &inserted.name);
            let placed = &project.components[&new_id];
            if placed.ports().len() >= 2 {
                let ports = [Port::Inlet, Port::Outlet].map(|port| PortRef { component: new_id, port });
                assert_eq!([first.to, second.from], ports);
                // The main runs from the pump to the right.
                assert_eq!((placed.turn, placed.at[1]), (Turn::Right, 0.0));
                assert!(first.bends.is_empty() && second.bends.is_empty());
                assert_eq!(placed.at[0], if asked[0] > 0.0 { 12.0 } else { placed.at[0].round() });
            } else {
                assert_eq!(first.to, second.from);
                assert_eq!(project.components[&first.to.component].kind, ComponentKind::Junction);
            }
        }
    }
}

#[test]
fn a_component_stands_in_the_pipe_as_the_water_runs() {
    let mut project = clinic();
    // Drawn from (22, 2) down to (22, 7), with the water.
    let label = "Riser 4 return";
    let strainer = new(&project, ComponentChoice::Strainer, [22.0, 5.0]);
    let into = pipe_id(&project, label);
    apply(&mut project, &Command::InsertIntoPipe(into, 0.5, strainer));
    let placed = &project.components[&id(&project, "Strainer 1")];
    assert_eq!((placed.at, placed.turn), ([22.0, 5.0], Turn::Down));
    assert!(project.pipes.values().all(|pipe| is_orthogonal(&project, pipe)));
    // A vessel hangs on a tee of its own.
    let vessel = new(&project, ComponentChoice::ExpansionVessel, [30.0, 20.0]);
    let into = pipe_id(&project, "Common return");
    apply(&mut project, &Command::InsertIntoPipe(into, 0.3, vessel));
    let joint = pipe(&project, "Tee 1 – Expansion vessel 1");
    assert!(joint.is_joint());
    assert_eq!(project.components[&joint.to.component].at, [30.0, 20.0]);
    // A separator joins circuits.
    let separator = new(&project, ComponentChoice::Separator, [22.0, 5.0]);
    let sentence = refusal(&mut project, &Command::InsertIntoPipe(into, 0.3, separator));
    assert!(sentence.contains("does not fit into one pipe: put it beside"), "{sentence}");
    let valve = new(&project, ComponentChoice::IsolationValve, [22.0, 5.0]);
    let sentence = refusal(&mut project, &Command::InsertIntoPipe(into, f64::NAN, valve));
    assert!(sentence.contains("choose a place on the pipe"), "{sentence}");
}

#[test]
fn an_insertion_taken_back_by_hand_leaves_the_pipe_as_it_was() {
    let start = library();
    for (pipe_id, before) in &start.pipes {
        for share in [0.25, 0.5] {
            let mut project = start.clone();
            let valve = new(&project, ComponentChoice::IsolationValve, [-99.0, 0.0]);
            let name = valve.name.clone();
            apply(&mut project, &Command::InsertIntoPipe(*pipe_id, share, valve));
            remove(&[&name], &mut project);
            let healed = &project.pipes[pipe_id];
            assert_eq!(
                (&healed.name, healed.from, healed.to, healed.bore),
                (&before.name, before.from, before.to, before.bore)
            );
            assert!((healed.length - before.length).abs() < 1e-12 && (healed.minor_k - before.minor_k).abs() < 1e-12);
            assert_eq!(healed.bends, before.bends);
            assert_eq!(project.pipes.len(), start.pipes.len());
        }
    }
}

#[test]
fn a_branch_copied_brings_its_zone() {
    let mut project = library();
    let zone = project.zones.values().next().unwrap().clone();
    let valve = project.components[&zone.valve.unwrap()].name.clone();
    let branch = [format!("{} emitter", zone.name), format!("{} balancing valve", zone.name), valve.clone()];
    let branch = branch.map(|name| id(&project, &name));
    let copied = Fragment::of(&project, &branch.into());
    assert_eq!((copied.components().len(), copied.is_empty()), (3, false));
    assert_eq!(copied.center(), [14.0, 7.0]);
    let (components, pipes, zones) = (project.components.len(), project.pipes.len(), project.zones.len());
    for (number, at) in [(2, [100.3, 20.2]), (3, [120.0, 20.0])] {
        apply(&mut project, &Command::Paste(Box::new(copied.clone()), at));
        let name = format!("{} {number}", zone.name);
        let pasted = project.zones[&project.zone_named(&name).unwrap()].clone();
        assert_eq!((pasted.load, pasted.room_c, pasted.return_c), (zone.load, zone.room_c, zone.return_c));
        let emitter = &project.components[&pasted.emitter];
        assert_eq!(emitter.at, [at[0].round(), at[1].round() - 3.0]);
        assert_eq!(emitter.name, format!("{} emitter {number}", zone.name));
        assert_eq!(project.components[&pasted.valve.unwrap()].name, format!("{valve} {number}"));
    }
    // Two joints lie between the three; the pipes to the tees stay behind.
    assert_eq!(project.components.len(), components + 6);
    assert_eq!(project.pipes.len(), pipes + 4);
    assert_eq!(project.zones.len(), zones + 2);
    // An emitter alone: its zone has no valve.
    let alone = Fragment::of(&project, &BTreeSet::from([branch[0]]));
    apply(&mut project, &Command::Paste(Box::new(alone), [0.0, 50.0]));
    assert_eq!(project.zones.values().next_back().unwrap().valve, None);
    assert!(!apply(&mut project, &Command::Paste(Box::default(), [0.0, 0.0])).any());
}

#[test]
fn closely_spaced_tees_keep_length_and_losses_and_leave_four_bores_between() {
    let mut project = library();
    let (id, before) = (pipe_id(&project, "Main 1 flow"), pipe(&project, "Main 1 flow").clone());
    let (sum, count) = (sums(&project), project.components.len());
    apply(&mut project, &Command::InsertCloseTees(id, 0.4));
    same_sums(sum, sums(&project));
    assert_eq!(project.components.len(), count + 2);
    let between = &project.pipes[&PipeId(id.0.max(project.pipes.keys().next_back().unwrap().0) - 1)];
    // Four diameters: common practice, from memory.
    assert!((between.length - 4.0 * before.bore).abs() < 1e-12 && between.minor_k == 0.0, "{between:?}");
    assert!((project.pipes[&id].length - 0.4 * before.length).abs() < 1e-12);
    let tees = [between.from, between.to].map(|end| project.components[&end.component].at);
    assert!((tees[0][0] - tees[1][0]).abs() + (tees[0][1] - tees[1][1]).abs() >= 1.0, "{tees:?} lie on each other");
}
