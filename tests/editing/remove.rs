//! Taking away: what heals, what goes, and what becomes of zones.

use super::*;
use headwise::engine::links::fittings::FittingKind;

#[test]
fn a_valve_taken_away_leaves_one_pipe() {
    let mut project = clinic();
    let [flow, back] =
        ["Floor 2 branch return", "Floor 2 coil – Floor 2 valve"].map(|label| pipe(&project, label).clone());
    let sum = sums(&project);
    assert!(remove(&["Floor 2 valve"], &mut project).structure);
    same_sums(sum, sums(&project));
    let healed = pipe(&project, "Floor 2 branch return");
    assert_eq!((healed.from, healed.to), (back.from, flow.to));
    assert_eq!((healed.bore, healed.length, healed.roughness), (flow.bore, flow.length, flow.roughness));
    assert_eq!(healed.bends, [[31.0, 10.0], [31.0, 12.0]]);
    let zone = &project.zones[&project.zone_named("Floor 2").unwrap()];
    assert_eq!(zone.valve, None);
}

/// A change of section that the other pipe's bore does not have is no reason to keep the valve: its loss stays.
#[test]
fn fittings_of_another_bore_leave_their_loss() {
    let mut project = clinic();
    let flow = pipe(&project, "Floor 2 branch return").clone();
    let id = pipe_id(&project, "Floor 2 coil – Floor 2 valve");
    let narrow = 0.5 * flow.bore;
    let fitting = Fitting::new(FittingKind::SuddenEnlargement { large_bore_m: 1.25 * narrow }, 1);
    let run = project.pipes[&id].clone();
    let figures = PipeFigures { size: None, bore: narrow, fittings: vec![fitting], ..PipeFigures::of(&run) };
    apply(&mut project, &Command::SetPipe(id, figures));
    remove(&["Floor 2 valve"], &mut project);
    let healed = pipe(&project, "Floor 2 branch return");
    // Twice the bore has a quarter of the velocity: the same pressure needs sixteen times the coefficient (continuity).
    let k = flow.minor_k + 16.0 * (run.minor_k + fitting.k(narrow).unwrap());
    assert!(healed.fittings.is_empty() && (healed.k() - k).abs() < 1e-12);
}

/// Names of the first zone and of its valve.
fn first_zone(project: &Project) -> (String, String) {
    let zone = project.zones.values().next().unwrap();
    (zone.name.clone(), project.components[&zone.valve.unwrap()].name.clone())
}

#[test]
fn a_row_heals_as_a_whole() {
    let mut project = library();
    let (zone, valve) = first_zone(&project);
    let sum = sums(&project);
    let row = [format!("{zone} balancing valve"), valve];
    remove(&[&row[0], &row[1]], &mut project);
    same_sums(sum, sums(&project));
    let healed = pipe(&project, &format!("{zone} branch return"));
    assert_eq!(healed.from, port(&project, &format!("{zone} emitter"), Port::Outlet));
    assert_eq!(healed.to.component, id(&project, &format!("{zone} return tee")));
    assert!(healed.bends.is_empty());
}

#[test]
fn an_emitter_takes_its_pipes_and_its_zone() {
    let mut project = clinic();
    let zone = project.zone_named("Floor 3").unwrap();
    assert!(project.scenarios.iter().any(|scenario| scenario.shut.contains(&zone)));
    let (pipes, scenarios) = (project.pipes.len(), project.scenarios.len());
    remove(&["Floor 3 coil"], &mut project);
    // No short circuit: the pipes on both sides go, the valve stays and waits.
    assert_eq!(project.pipes.len(), pipes - 2);
    assert!(project.component_named("Floor 3 valve").is_some());
    assert_eq!(project.zone_named("Floor 3"), None);
    assert!(project.scenarios.iter().all(|scenario| !scenario.shut.contains(&zone)));
    assert_eq!(project.scenarios.len(), scenarios);
}

#[test]
fn a_pump_with_its_check_valve_leaves_no_way_past_the_other() {
    let mut project = clinic();
    let pipes = project.pipes.len();
    remove(&["Standby circulator", "Standby check valve"], &mut project);
    assert_eq!(project.pipes.len(), pipes - 3);
    let tee = id(&project, "Suction tee");
    assert_eq!(project.pipes.values().filter(|p| p.from.component == tee || p.to.component == tee).count(), 2);
}

#[test]
fn a_whole_branch_goes_and_the_mains_heal() {
    let mut project = library();
    let zones = project.zones.len();
    let (zone, valve) = first_zone(&project);
    let branch = ["flow tee", "emitter", "balancing valve", "return tee"].map(|part| format!("{zone} {part}"));
    let mains: f64 = ["Main 1 flow", "Main 2 flow", "Main 1 return", "Main 2 return"]
        .iter()
        .map(|label| pipe(&project, label).length)
        .sum();
    let branch: Vec<&str> = branch.iter().map(String::as_str).chain([valve.as_str()]).collect();
    remove(&branch, &mut project);
    assert_eq!(project.zones.len(), zones - 1);
    let healed: f64 = project
        .pipes
        .values()
        .filter(|p| p.name.starts_with("Main 1 ") || p.name.starts_with("Main 2 "))
        .map(|p| p.length)
        .sum();
    assert!((healed - mains).abs() < 1e-12);
    let problems = headwise::problems::find(&project);
    assert!(problems.is_empty(), "{problems:?}");
}

#[test]
fn a_tee_heals_only_with_two_pipes() {
    let mut project = clinic();
    let pipes = project.pipes.len();
    remove(&["Floor 2 flow tee"], &mut project);
    assert_eq!(project.pipes.len(), pipes - 3);
    let mut project = clinic();
    remove(&["Floor 4 flow tee"], &mut project);
    // Riser and branch make one run with the corner where the tee was.
    assert_eq!(project.pipes.len(), pipes - 1);
    let healed = pipe(&project, "Floor 4 branch flow");
    assert_eq!((healed.length, healed.bore), (14.0, 36.0e-3));
    // The branch's 5 and the riser's 1, which was told for a bore of 41.9 mm.
    assert!((healed.minor_k - 5.0 - (36.0_f64 / 41.9).powi(4)).abs() < 1e-9, "{}", healed.minor_k);
    assert_eq!(healed.bends, [[19.0, 0.0]]);
    assert_eq!(healed.from.component, id(&project, "Floor 3 flow tee"));
}

#[test]
fn pipes_and_vessels_simply_go() {
    let mut project = clinic();
    let (components, pipes) = (project.components.len(), project.pipes.len());
    remove(&["Expansion vessel"], &mut project);
    assert_eq!((project.components.len(), project.pipes.len()), (components - 1, pipes - 1));
    let gone = pipe_id(&project, "Common flow");
    apply(&mut project, &Command::RemoveParts(BTreeSet::new(), BTreeSet::from([gone])));
    assert_eq!((project.components.len(), project.pipes.len()), (components - 1, pipes - 2));
    // With a pipe of a tee its tee heals.
    let gone = pipe_id(&project, "Floor 2 branch flow");
    let tee = id(&project, "Floor 2 flow tee");
    apply(&mut project, &Command::RemoveParts(BTreeSet::from([tee]), BTreeSet::from([gone])));
    assert_eq!(project.pipes.len(), pipes - 4);
    assert!(!apply(&mut project, &Command::RemoveParts(BTreeSet::new(), BTreeSet::new())).any());
    assert!(
        refusal(&mut project, &Command::RemoveParts(BTreeSet::from([tee]), BTreeSet::new())).contains("no component")
    );
}

#[test]
fn everything_can_go() {
    for text in SAMPLES {
        let mut project = file::parse(text, "sample").unwrap();
        let all = project.components.keys().copied().collect();
        apply(&mut project, &Command::RemoveParts(all, BTreeSet::new()));
        assert!(project.components.is_empty() && project.pipes.is_empty() && project.zones.is_empty());
    }
}

#[test]
fn loss_coefficients_of_another_bore_take_the_same_pressure_when_a_pipe_heals() {
    let mut project = library();
    let at = pipe_id(&project, "Main 1 flow");
    let valve = new(&project, headwise::document::ComponentChoice::IsolationValve, [12.0, 0.0]);
    apply(&mut project, &Command::InsertIntoPipe(at, 0.6, valve));
    let valve = id(&project, "Isolation valve 1");
    let second = project.pipes.values_mut().find(|pipe| pipe.from.component == valve).unwrap();
    second.bore *= 2.0;
    let (k, bore) = (second.minor_k, second.bore);
    let (first_k, first_bore) = (project.pipes[&at].minor_k, project.pipes[&at].bore);
    remove(&["Isolation valve 1"], &mut project);
    // v = Q/A and Δp = K ρ v²/2: K/d⁴ is what counts (continuity).
    let healed = &project.pipes[&at];
    let both = first_k / first_bore.powi(4) + k / bore.powi(4);
    assert!((healed.minor_k / healed.bore.powi(4) / both - 1.0).abs() < 1e-12);
}
