//! Edits and water: what only moves on the sheet moves no water, what takes no pressure changes no flow, what takes less lets
//! more through.

use super::*;
use headwise::study::Study;

fn flows(project: &Project) -> BTreeMap<String, f64> {
    let study = Study::new(project).unwrap();
    assert!(study.results().converged(), "{}", project.title);
    study.results().zones.iter().map(|(id, zone)| (project.zones[id].name.clone(), zone.flow)).collect()
}

#[test]
fn a_valve_that_takes_nothing_changes_no_flow() {
    for text in SAMPLES {
        let start = file::parse(text, "sample").unwrap();
        let before = flows(&start);
        let pipes: Vec<PipeId> = start.pipes.keys().copied().collect();
        for pipe in [pipes[0], pipes[pipes.len() / 2], pipes[pipes.len() - 1]] {
            let mut project = start.clone();
            // 1e6 m³/h: at 10 m³/h it takes 1e-5 Pa.
            let kind = ComponentKind::IsolationValve { kv: 1e6, open: true };
            let valve = Component::new("Wide valve", [-99.0, 0.0], Turn::Right, kind);
            apply(&mut project, &Command::InsertIntoPipe(pipe, 0.4, Box::new(valve)));
            for (zone, flow) in flows(&project) {
                let off = (flow - before[&zone]).abs() / before[&zone].abs().max(1e-9);
                assert!(off < 1e-6, "{} {zone}: {off:e}", start.title);
            }
            let inserted = id(&project, "Wide valve");
            let study = Study::new(&project).unwrap();
            // It stands as the water runs wherever the pipe was drawn so.
            assert!(study.results().components[&inserted].flow.is_finite());
        }
    }
}

#[test]
fn a_balancing_valve_taken_away_lets_more_through_its_zone() {
    let start = library();
    let before = flows(&start);
    for (zone, flow) in &before {
        let mut project = start.clone();
        remove(&[&format!("{zone} balancing valve")], &mut project);
        assert!(flows(&project)[zone] > *flow * (1.0 + 1e-9), "{zone}");
    }
}

#[test]
fn what_only_moves_on_the_sheet_moves_no_water() {
    for text in SAMPLES {
        let mut project = file::parse(text, "sample").unwrap();
        let mut study = Study::new(&project).unwrap();
        let before = study.results().clone();
        let moved: BTreeMap<ComponentId, [f64; 2]> =
            project.components.iter().take(3).map(|(id, c)| (*id, [c.at[0] + 2.0, c.at[1] - 1.0])).collect();
        let first = *project.components.keys().next().unwrap();
        for command in [
            Command::MoveComponents(moved),
            Command::SetTurn(first, Turn::Left),
            Command::Rename(first, "Renamed".to_owned()),
            Command::SetTitle("Another".to_owned()),
        ] {
            let changed = apply(&mut project, &command);
            assert!(!changed.moves_water());
            study.update(&project, changed).unwrap();
            // As text, for what has no flow has no temperature and no number is equal to none.
            assert_eq!(format!("{:?}", study.results()), format!("{before:?}"));
        }
        // And it is so: a new study of the moved drawing has the same flows.
        let again = Study::new(&project).unwrap();
        for (id, zone) in &again.results().zones {
            assert!((zone.flow - before.zones[id].flow).abs() <= 1e-9 * zone.flow.abs());
        }
    }
}

/// Whatever a command tells of itself, following it gives the same as studying anew.
#[test]
fn following_what_changed_is_as_good_as_starting_anew() {
    let start = clinic();
    let pipe = pipe_id(&start, "Riser 2 flow");
    let figures = PipeFigures::of(&start.pipes[&pipe]);
    let zone = start.zone_named("Floor 2").unwrap();
    let [pump, coil, valve] = ["Duty circulator", "Floor 3 coil", "Floor 1 valve"].map(|name| id(&start, name));
    let ComponentKind::Emitter(emitter) = start.components[&coil].kind.clone() else { panic!() };
    let commands = [
        Command::SetPipe(pipe, PipeFigures { bore: 0.03, ..figures.clone() }),
        Command::SetPipe(pipe, PipeFigures { length: 0.0, minor_k: 0.0, ..figures }),
        Command::SetZone(zone, Box::new(Zone { load: 3e4, ..start.zones[&zone].clone() })),
        Command::SetKind(coil, Box::new(ComponentKind::Emitter(Emitter { loss: 4e4, ..emitter }))),
        Command::SetKind(valve, Box::new(ComponentKind::ZoneValve { kv: 4.0, open: true })),
        Command::SetAcceptance(Acceptance { low: 0.99, ..start.acceptance.clone() }),
        Command::SetDesign(DesignBasis { return_c: 12.0, ..start.design }),
        Command::SetHeadLimit(pump, Some(4.0)),
    ];
    let mut project = start;
    let mut study = Study::new(&project).unwrap();
    for command in commands {
        let changed = apply(&mut project, &command);
        study.update(&project, changed).unwrap();
        let anew = Study::new(&project).unwrap();
        for (id, zone) in &anew.results().zones {
            let followed = &study.results().zones[id];
            assert!((zone.flow - followed.flow).abs() <= 1e-6 * zone.flow, "{command:?}");
            assert!((zone.share - followed.share).abs() <= 1e-6, "{command:?}");
            assert_eq!(zone.state, followed.state, "{command:?}");
        }
    }
}
