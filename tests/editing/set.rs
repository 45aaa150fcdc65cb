//! Names and figures: what is refused, and what a change tells of itself.

use super::*;
use headwise::engine::fluid::{Fluid, FluidKind};

#[test]
fn names_are_kept_apart() {
    let mut project = clinic();
    let coil = id(&project, "Floor 1 coil");
    assert!(
        refusal(&mut project, &Command::Rename(coil, "Floor 2 coil".to_owned()))
            .contains("choose a name that none has")
    );
    assert!(refusal(&mut project, &Command::Rename(coil, " ".to_owned())).contains("type one"));
    let changed = apply(&mut project, &Command::Rename(coil, " East coil ".to_owned()));
    assert_eq!((changed.drawing, changed.moves_water()), (true, false));
    assert_eq!(project.component_named("East coil"), Some(coil));
    let pipe = pipe_id(&project, "Common flow");
    assert!(refusal(&mut project, &Command::RenamePipe(pipe, "Common return".to_owned())).contains("another pipe"));
    assert!(!apply(&mut project, &Command::RenamePipe(pipe, String::new())).moves_water());
    assert_eq!(project.new_zone_name(), "Zone 1");
}

#[test]
fn figures_tell_what_they_touch() {
    let mut project = clinic();
    let pipe = pipe_id(&project, "Common flow");
    let figures = PipeFigures::of(&project.pipes[&pipe]);
    let longer = PipeFigures { length: 9.0, ..figures.clone() };
    assert_eq!(apply(&mut project, &Command::SetPipe(pipe, longer)), Changed { laws: true, ..Changed::default() });
    let joint = PipeFigures { length: 0.0, minor_k: 0.0, ..figures.clone() };
    assert!(apply(&mut project, &Command::SetPipe(pipe, joint.clone())).structure);
    let wider = PipeFigures { bore: 0.08, ..joint };
    assert!(!apply(&mut project, &Command::SetPipe(pipe, wider)).moves_water());
    assert!(apply(&mut project, &Command::SetPipe(pipe, figures.clone())).structure);
    let sentence = refusal(&mut project, &Command::SetPipe(pipe, PipeFigures { bore: 0.0, ..figures }));
    assert_eq!(sentence, "pipe Common flow: the bore is 0: give more than zero");
    let valve = id(&project, "Duty check valve");
    let kind = ComponentKind::CheckValve { kv: 100.0, cracking: 500.0 };
    assert_eq!(
        apply(&mut project, &Command::SetKind(valve, Box::new(kind.clone()))),
        Changed { laws: true, ..Changed::default() }
    );
    assert!(!apply(&mut project, &Command::SetKind(valve, Box::new(kind))).any());
    let kind = ComponentKind::IsolationValve { kv: 100.0, open: true };
    assert!(apply(&mut project, &Command::SetKind(valve, Box::new(kind))).structure);
    assert!(refusal(&mut project, &Command::SetKind(valve, Box::new(ComponentKind::Junction))).contains("other ports"));
}

#[test]
fn a_pump_tells_what_it_touches() {
    let mut project = clinic();
    let pump = id(&project, "Duty circulator");
    let unit = project.pump(pump).unwrap().clone();
    let set = |change: fn(&mut PumpUnit)| {
        let mut unit = unit.clone();
        change(&mut unit);
        let mut project = project.clone();
        apply(&mut project, &Command::SetKind(pump, Box::new(ComponentKind::Pump(Box::new(unit)))))
    };
    assert_eq!(set(|unit| unit.regulation.slope = 0.5), Changed { settings: true, ..Changed::default() });
    assert_eq!(set(|unit| unit.address.push('7')), Changed { drawing: true, ..Changed::default() });
    assert!(set(|unit| unit.running = false).structure);
    assert!(set(|unit| unit.catalogue[0].head += 0.1).structure);
    let mut broken = unit;
    broken.catalogue.clear();
    refusal(&mut project, &Command::SetKind(pump, Box::new(ComponentKind::Pump(Box::new(broken)))));
}

#[test]
fn a_zone_keeps_its_emitter_and_its_valve() {
    let mut project = clinic();
    let [coil, valve] = ["Floor 1 coil", "Floor 1 valve"].map(|name| id(&project, name));
    let strainer = Box::new(ComponentKind::Strainer { kv: 10.0, fouled_kv: 7.0, fouling: 0.0 });
    let sentence = refusal(&mut project, &Command::SetKind(coil, strainer.clone()));
    assert!(sentence.contains("serves zone Floor 1") && sentence.contains("remove the zone first"), "{sentence}");
    let sentence = refusal(&mut project, &Command::SetKind(valve, strainer.clone()));
    assert!(sentence.contains("shuts zone Floor 1"), "{sentence}");
    let zone = project.zone_named("Floor 1").unwrap();
    apply(&mut project, &Command::RemoveZone(zone));
    assert!(project.scenarios.iter().all(|scenario| !scenario.shut.contains(&zone)));
    // An emitter that comes about brings a zone.
    apply(&mut project, &Command::SetKind(valve, strainer));
    let radiator = ComponentChoice::PlainEmitter.with_usual_figures(&project);
    assert!(apply(&mut project, &Command::SetKind(valve, Box::new(radiator))).structure);
    assert!(project.zone_of(valve).is_some());
    let second = project.zone_named("Floor 2").unwrap();
    let taken = project.zones[&second].clone();
    let sentence = refusal(&mut project, &Command::AddZone(Box::new(Zone { name: "New".to_owned(), ..taken.clone() })));
    assert!(sentence.contains("belongs to zone Floor 2 already"), "{sentence}");
    let warmer = Zone { load: 2.0 * taken.load, ..taken.clone() };
    assert_eq!(
        apply(&mut project, &Command::SetZone(second, Box::new(warmer))),
        Changed { laws: true, ..Changed::default() }
    );
    let sentence = refusal(&mut project, &Command::SetZone(second, Box::new(Zone { load: -1.0, ..taken })));
    assert!(sentence.contains("heat load"), "{sentence}");
}

#[test]
fn the_whole_is_checked_with_its_parts() {
    let mut project = clinic();
    let frozen = Fluid::new(FluidKind::PropyleneGlycol, 0.3).unwrap();
    assert!(apply(&mut project, &Command::SetFluid(frozen)).structure);
    // 7 °C would heat a room of 5 °C.
    let too_cold = DesignBasis { room_c: 5.0, ..project.design };
    let sentence = refusal(&mut project, &Command::SetDesign(too_cold));
    assert!(sentence.starts_with("design: a supply of 7"), "{sentence}");
    let scenario = Scenario { hours_per_year: 9000.0, ..Scenario::all_open("A") };
    assert!(refusal(&mut project, &Command::SetScenarios(vec![scenario.clone()])).contains("do not fit into a year"));
    let scenario = Scenario { hours_per_year: 10.0, ..scenario };
    assert!(!apply(&mut project, &Command::SetScenarios(vec![scenario])).moves_water());
    let narrow = Acceptance { low: 0.95, ..project.acceptance.clone() };
    assert!(apply(&mut project, &Command::SetAcceptance(narrow)).laws);
    assert!(!apply(&mut project, &Command::SetTitle("East clinic".to_owned())).moves_water());
}

#[test]
fn steps_are_called_what_they_do() {
    let project = clinic();
    let [coil, tee] = ["Floor 1 coil", "Vessel tee"].map(|name| id(&project, name));
    let pipe = pipe_id(&project, "Common flow");
    let strainer = new(&project, ComponentChoice::Strainer, [0.0, 0.0]);
    let nothing = BTreeSet::new;
    let of = |command: Command| command.step_name(&project);
    assert_eq!(of(Command::MoveComponents(BTreeMap::from([(coil, [0.0, 0.0])]))), "move Floor 1 coil");
    assert_eq!(
        of(Command::MoveComponents(BTreeMap::from([(coil, [0.0, 0.0]), (tee, [0.0, 0.0])]))),
        "move 2 components"
    );
    assert_eq!(of(Command::InsertIntoPipe(pipe, 0.5, strainer)), "insert Strainer 1");
    assert_eq!(
        of(Command::RemoveParts(BTreeSet::from([coil]), BTreeSet::from([pipe]))),
        "delete 1 component and 1 pipe"
    );
    assert_eq!(of(Command::RemoveParts(nothing(), BTreeSet::from([pipe]))), "delete Common flow");
    let ends =
        [port(&project, "Vessel tee", Port::Branch), port(&project, "Floor 1 coil", Port::Inlet)].map(PipeEnd::Port);
    assert_eq!(of(Command::Connect(ends[0], ends[1], Vec::new())), "join Vessel tee and Floor 1 coil");
    let copied = Fragment::of(&project, &BTreeSet::from([coil, tee]));
    assert_eq!(of(Command::Paste(Box::new(copied), [0.0, 0.0])), "paste 2 components");
    assert_eq!(of(Command::Rename(coil, "X".to_owned())), "rename Floor 1 coil");
    assert_eq!(of(Command::SetOpen(tee, true)), "open Vessel tee");
}
