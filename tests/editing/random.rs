//! Property: whatever commands come, on whatever drawing, it stays one that can be; a refused one changes nothing; what was
//! saved comes back; undo goes back to the first state and redo to the last.

use super::*;
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::engine::pump::Regulation;
use headwise::study::Study;
use proptest::prelude::*;
use proptest::sample::Index;

/// What a command is made of: which one, choices, numbers.
type Seed = (usize, [Index; 4], [f64; 4], bool);

fn seed() -> impl Strategy<Value = Seed> {
    let number = || prop_oneof![4 => (-6..20_i32).prop_map(f64::from), 4 => 0.0..1.0_f64, 1 => Just(f64::NAN), 1 => -1e3..1e3_f64];
    (0..38_usize, any::<[Index; 4]>(), [number(), number(), number(), number()], any::<bool>())
}

/// Picks one of a map; of an empty one an identity that is not there.
fn pick<Id: Copy, T>(index: &Index, map: &BTreeMap<Id, T>, missing: Id) -> Id {
    if map.is_empty() { missing } else { *map.keys().nth(index.index(map.len())).unwrap() }
}

fn figures([length, bore, roughness, minor_k]: [f64; 4]) -> PipeFigures {
    let (bore, roughness) = (bore * 1e-2, roughness * 1e-5);
    PipeFigures { length, size: None, bore, roughness, fittings: Vec::new(), minor_k }
}

fn command(project: &Project, copied: &Fragment, seed: &Seed) -> Command {
    let (which, picks, numbers, yes) = seed;
    let component = |n: usize| pick(&picks[n], &project.components, ComponentId(77));
    let pipe = |n: usize| pick(&picks[n], &project.pipes, PipeId(77));
    let zone = |n: usize| pick(&picks[n], &project.zones, ZoneId(77));
    let at = [numbers[0], numbers[1]];
    let turn = [Turn::Right, Turn::Down, Turn::Left, Turn::Up][picks[1].index(4)];
    let choice = *picks[3].get(&ComponentChoice::ALL);
    let name = || ["", "  ", "Kitchen", "Pump room", "Zone 1"][picks[2].index(5)].to_owned();
    let end = |n: usize| match picks[n].index(4) {
        0 => PipeEnd::Sheet([numbers[n], numbers[n + 1]]),
        1 => PipeEnd::OnPipe(pipe(n), numbers[n].abs() % 1.0),
        _ => {
            let id = component(n);
            let ports = project.components.get(&id).map_or(&[Port::Branch][..], Component::ports);
            PipeEnd::Port(PortRef { component: id, port: *picks[n + 1].get(ports) })
        }
    };
    let several = || (0..picks[0].index(6)).map(|n| component(n % 4)).collect::<BTreeSet<_>>();
    match which {
        0 => Command::AddComponent(Box::new(Component { name: name(), ..*new(project, choice, at) })),
        1 => Command::AddComponent(new(project, choice, at)),
        2 | 3 => Command::InsertIntoPipe(pipe(0), numbers[2].abs() % 1.2, new(project, choice, at)),
        4 | 5 => Command::RemoveParts(several(), if *yes { BTreeSet::from([pipe(0)]) } else { BTreeSet::new() }),
        6..=8 => Command::Connect(end(0), end(1), if *yes { Vec::new() } else { vec![[numbers[3], numbers[2]]] }),
        9..=11 => {
            let shift =
                |id: ComponentId| project.components.get(&id).map_or(at, |c| [c.at[0] + at[0], c.at[1] + at[1]]);
            Command::MoveComponents([0, 1, 2].map(component).into_iter().map(|id| (id, shift(id))).collect())
        }
        12 => Command::SetTurn(component(0), turn),
        13 => Command::Rename(component(0), name()),
        14 => Command::SetKind(component(0), Box::new(choice.with_usual_figures(project))),
        15 => Command::RenamePipe(pipe(0), name()),
        16 => Command::SetPipe(pipe(0), figures(*numbers)),
        17 => Command::SetBends(pipe(0), vec![at]),
        18 => {
            let valve = yes.then(|| component(1));
            Command::AddZone(Box::new(Zone { name: name(), valve, ..project.usual_zone(component(0)) }))
        }
        19 => {
            let mut to = project.zones.get(&zone(0)).cloned().unwrap_or_else(|| project.usual_zone(component(0)));
            to.load = 1e3 * numbers[0];
            to.room_c = yes.then_some(numbers[1]);
            Command::SetZone(zone(0), Box::new(to))
        }
        20 => Command::RemoveZone(zone(0)),
        21 => {
            let shut = BTreeSet::from([zone(0)]);
            let outdoor_c = yes.then_some(numbers[1]);
            let hours_per_year = 100.0 * numbers[0];
            Command::SetScenarios(vec![Scenario { name: name(), hours_per_year, shut, outdoor_c }])
        }
        22 => Command::SetDesign(DesignBasis { supply_c: 30.0 + numbers[0], room_c: numbers[1], ..project.design }),
        23 => Command::SetFluid(
            Fluid::new(FluidKind::PropyleneGlycol, (numbers[0].abs() % 0.6).max(0.0)).unwrap_or(Fluid::water()),
        ),
        24 => Command::SetAcceptance(Acceptance { low: numbers[0], ..project.acceptance.clone() }),
        26..=31 => judged_command(project, seed),
        33..=37 => site_command(project, seed),
        25 if *yes => Command::SetTitle(name()),
        25 => Command::SetNotes(name()),
        _ => Command::Paste(Box::new(copied.clone()), at),
    }
}

/// Scenarios entered, variants, and what results are judged by.
fn judged_command(project: &Project, (which, picks, numbers, yes): &Seed) -> Command {
    let name = ["", "  ", "Flat", "Steep"][picks[2].index(4)];
    match which {
        26 => Command::EnterScenario(picks[0].index(2)),
        27 => {
            let pump = pick(&picks[0], &project.components, ComponentId(77));
            let regulation = project.pumps().next().map(|(_, unit)| unit.regulation);
            let Some(regulation) = regulation else { return Command::SwapVariant(picks[0].index(7)) };
            let count = picks[1].index(MOST_VARIANTS + 2);
            let pumps: Vec<_> = project.pumps().map(|(id, _)| id).collect();
            let variant = |number: usize| Variant {
                name: if *yes { format!("{number}") } else { name.to_owned() },
                pump: *pumps.get(number).unwrap_or(&pump),
                regulation: Regulation { slope: numbers[0].abs() % 1.0, ..regulation },
            };
            Command::SetVariants((0..count).map(variant).collect())
        }
        28 => Command::SwapVariant(picks[0].index(3)),
        29 => Command::SetEveryCombination(*yes),
        30 => Command::SetUncertainty(Uncertainty { length: numbers[0] / 50.0, ..Uncertainty::default() }),
        _ => {
            let price_per_kwh = yes.then_some(numbers[0]);
            Command::SetEnergyBasis(EnergyBasis { price_per_kwh, currency: name.to_owned(), ..EnergyBasis::default() })
        }
    }
}

/// What is written down of the site and its circulators, and ticks of the checklist.
fn site_command(project: &Project, (which, picks, numbers, yes): &Seed) -> Command {
    let pump = match project.pumps().next() {
        Some((id, _)) if *yes => id,
        _ => pick(&picks[0], &project.components, ComponentId(77)),
    };
    let text = ["", " ", "Cellar", "230 V"][picks[1].index(4)].to_owned();
    let date = ["", "2026-03-31", "2026-02-30", "soon"][picks[2].index(4)].to_owned();
    let step = *picks[3].get(&StartingStep::ALL);
    match which {
        33 => Command::SetSite(Site { place: text, date, ..Site::default() }),
        34 => Command::SetAddress(pump, text),
        35 => {
            let standby = *picks[3].get(&StandbyRole::ALL);
            Command::SetRegister(pump, PumpRegister { position: text, standby, ..PumpRegister::default() })
        }
        36 => Command::SetFillPressure(yes.then_some(1e5 * numbers[0])),
        _ => Command::SetTick(step, (*yes || picks[0].index(3) > 0).then_some(Tick { date, by: text })),
    }
}

fn starts() -> Vec<Project> {
    buildings().into_iter().chain([Project::blank()]).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_command_makes_a_drawing_that_cannot_be(
        start in 0..7_usize,
        seeds in prop::collection::vec(seed(), 1..40),
        copied in prop::collection::vec(any::<Index>(), 0..8),
    ) {
        let first = starts().swap_remove(start);
        let copied = copied.iter().map(|index| pick(index, &first.components, ComponentId(77))).collect();
        let copied = Fragment::of(&first, &copied);
        let mut project = first.clone();
        let mut history = History::new(&project);
        for seed in &seeds {
            let command = command(&project, &copied, seed);
            let before = project.clone();
            let name = command.step_name(&project);
            prop_assert!(!name.is_empty() && name != "edit", "{:?}", command);
            match project.apply(&command) {
                Ok(changed) => {
                    prop_assert_eq!(flaws(&project), vec![], "{:?}", command);
                    prop_assert_eq!(changed.any(), before != project, "{:?}", command);
                    prop_assert!(covers(changed, Changed::between(&before, &project)), "{:?} {:?}", command, changed);
                }
                Err(error) => {
                    prop_assert_eq!(&project, &before, "{:?}", command);
                    prop_assert!(error.to_string().len() > 15, "{}", error);
                }
            }
            history.record(&name, &project);
        }
        let text = file::to_text(&project).unwrap();
        let back = file::parse(&text, "saved").unwrap();
        prop_assert_eq!(file::to_text(&back).unwrap(), text);
        if project.pumps().filter(|(_, unit)| unit.running).count() <= 2 {
            // It may be a drawing that makes no sense, but it can be looked at.
            let _ = Study::new(&project);
        }
        let last = project;
        let mut now = last.clone();
        while let Some(before) = history.undo() {
            now = (*before).clone();
        }
        prop_assert_eq!(&now, &first);
        while let Some(after) = history.redo() {
            now = (*after).clone();
        }
        prop_assert_eq!(now, last);
    }
}

/// What a study is made of, without figures.
fn shape(study: &Study) -> impl PartialEq + std::fmt::Debug + use<> {
    let lowered = study.lowered();
    let links: Vec<_> =
        lowered.network.links.iter().map(|link| (link.from, link.to, std::mem::discriminant(&link.law))).collect();
    let pumps: Vec<_> = lowered.pumps.iter().map(|pump| pump.id).collect();
    (lowered.nodes.clone(), lowered.owners.clone(), links, pumps, lowered.network.reference)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// A study that is told what each edit touched has the network of one from scratch.
    #[test]
    fn a_study_follows_every_edit(start in 0..7_usize, seeds in prop::collection::vec(seed(), 1..16)) {
        let mut project = starts().swap_remove(start);
        let copied = Fragment::of(&project, &project.components.keys().take(3).copied().collect());
        let mut study = Study::new(&project).unwrap();
        for seed in &seeds {
            let command = command(&project, &copied, seed);
            let Ok(changed) = project.apply(&command) else { continue };
            if project.pumps().filter(|(_, unit)| unit.running).count() > 2 {
                break;
            }
            let Ok(fresh) = Study::new(&project) else { break };
            if changed.moves_water() {
                study.update(&project, changed).unwrap();
            }
            prop_assert_eq!(shape(&study), shape(&fresh), "{:?} {:?}", command, changed);
            let most = fresh.results().pumps.values().map(|pump| pump.flow.abs()).fold(0.0, f64::max);
            if study.results().converged() && fresh.results().converged() && fresh.results().points.len() < 2 {
                for (id, pipe) in &fresh.results().pipes {
                    let off = (pipe.flow - study.results().pipes[id].flow).abs();
                    prop_assert!(off <= 1e-5 * most || off.is_nan(), "{:?} {:?}: {} {}", command, changed, pipe.flow, off);
                }
            }
        }
    }
}
