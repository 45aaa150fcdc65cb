//! Cautions: each where the project calls for it, and not otherwise; short, and to the person who could be hurt. What calls for
//! which is common practice, no source.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{Command, ComponentChoice, ComponentId, ComponentKind, Duty, Project, Source, StartingStep};
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::file;
use headwise::study::{Caution, Hazard, Occasion, cautions};
use std::collections::BTreeSet;
use std::path::Path;

const OCCASIONS: [Occasion; 4] =
    [Occasion::BeforeFirstRun, Occasion::Checklist, Occasion::Electrical, Occasion::Record];

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn hazards(project: &Project, occasion: Occasion) -> Vec<Hazard> {
    cautions(project, occasion).into_iter().map(|caution| caution.hazard).collect()
}

fn text(project: &Project, hazard: Hazard) -> Option<String> {
    cautions(project, Occasion::Record).into_iter().find(|caution| caution.hazard == hazard).map(|caution| caution.text)
}

fn remove(project: &mut Project, is_one: impl Fn(&ComponentKind) -> bool) {
    let all: BTreeSet<ComponentId> =
        project.components.iter().filter(|(_, component)| is_one(&component.kind)).map(|(id, _)| *id).collect();
    project.apply(&Command::RemoveParts(all, BTreeSet::new())).unwrap();
}

#[test]
fn the_library_has_warm_floors_on_a_heat_pump() {
    use Hazard::{
        DrinkingWater, DryRunning, Electricity, Estimates, HeatAndPressure, HotFloor, Practice, ReturnLimits,
        SourceFlow,
    };
    let library = sample("fernhollow-library.ron");
    assert_eq!(
        hazards(&library, Occasion::Record),
        [
            Electricity,
            DryRunning,
            HeatAndPressure,
            SourceFlow,
            ReturnLimits,
            HotFloor,
            DrinkingWater,
            Estimates,
            Practice
        ]
    );
    assert_eq!(hazards(&library, Occasion::BeforeFirstRun), [DryRunning, SourceFlow, HotFloor, Practice]);
    assert_eq!(
        hazards(&library, Occasion::Checklist),
        [Electricity, DryRunning, HeatAndPressure, SourceFlow, HotFloor, Practice]
    );
    assert_eq!(hazards(&library, Occasion::Electrical), [Electricity, Practice]);
    assert!(text(&library, SourceFlow).unwrap().starts_with("Heat pump needs its minimum flow"));
    assert!(text(&library, HeatAndPressure).unwrap().starts_with("Hot water scalds you"));
}

#[test]
fn a_chilled_system_sweats_and_does_not_scald() {
    let clinic = sample("alder-point-clinic.ron");
    assert_eq!(clinic.design.duty, Duty::Cooling);
    let told = hazards(&clinic, Occasion::Record);
    assert!(told.contains(&Hazard::Cold) && !told.contains(&Hazard::ReturnLimits) && !told.contains(&Hazard::HotFloor));
    assert!(!text(&clinic, Hazard::HeatAndPressure).unwrap().contains("scald"));
    // Its buffer has no minimum flow.
    assert_eq!(text(&clinic, Hazard::SourceFlow), None);
    assert_eq!(text(&sample("fernhollow-library.ron"), Hazard::Cold), None);
}

#[test]
fn glycol_is_told_where_it_is_in_the_pipes() {
    let mut growers = sample("saltreed-growers.ron");
    let propylene = text(&growers, Hazard::Glycol).unwrap();
    assert!(propylene.contains("drinking water") && propylene.contains("backflow") && !propylene.contains("poison"));
    growers.apply(&Command::SetFluid(Fluid::new(FluidKind::EthyleneGlycol, 0.3).unwrap())).unwrap();
    assert!(text(&growers, Hazard::Glycol).unwrap().contains("poisonous"));
    growers.apply(&Command::SetFluid(Fluid::water())).unwrap();
    assert_eq!(text(&growers, Hazard::Glycol), None);
}

#[test]
fn what_is_not_there_cannot_hurt() {
    let blank = Project::blank();
    for occasion in OCCASIONS {
        assert_eq!(hazards(&blank, occasion), [Hazard::Practice], "{occasion:?}");
    }
    let mut library = sample("fernhollow-library.ron");
    remove(&mut library, |kind| matches!(kind, ComponentKind::Pump(_)));
    let told = hazards(&library, Occasion::Record);
    for of_pumps in [Hazard::Electricity, Hazard::DryRunning, Hazard::Estimates] {
        assert!(!told.contains(&of_pumps), "{of_pumps:?}");
    }
    remove(&mut library, |kind| ComponentChoice::of(kind) == ComponentChoice::FloorLoop);
    assert_eq!(text(&library, Hazard::HotFloor), None);
    remove(&mut library, |kind| matches!(kind, ComponentKind::Source(_)));
    assert_eq!((text(&library, Hazard::SourceFlow), text(&library, Hazard::ReturnLimits)), (None, None));
}

#[test]
fn two_sources_in_need_are_both_named() {
    let mut court = sample("thornwick-court.ron");
    let source = Source { loss: 0.0, rated_flow: 1e-4, minimum_flow: 1e-4, supply_c: None };
    let mut added = court.components.values().next().unwrap().clone();
    added.name = "Second boiler".to_owned();
    added.kind = ComponentKind::Source(source);
    court.apply(&Command::AddComponent(Box::new(added))).unwrap();
    let words = text(&court, Hazard::SourceFlow).unwrap();
    assert!(words.starts_with("Boiler and Second boiler need their minimum flow"), "{words}");
}

/// Never a wall of text: one or two sentences, and few of them at once but in the record.
#[test]
fn cautions_are_short_and_end_with_what_decides() {
    for name in ["alder-point-clinic", "fernhollow-library", "saltreed-growers", "thornwick-court"] {
        let project = sample(&format!("{name}.ron"));
        for occasion in OCCASIONS {
            let told = cautions(&project, occasion);
            assert_eq!(told.last().map(|caution| caution.hazard), Some(Hazard::Practice));
            assert!(told.len() <= if occasion == Occasion::Record { 11 } else { 7 }, "{name} {occasion:?}");
            for Caution { heading, text, .. } in &told {
                assert!(
                    text.len() <= 210 && text.ends_with('.') && text.matches(". ").count() <= 1,
                    "{heading}: {text}"
                );
            }
        }
        // At every step of the checklist something is told that belongs to it, and little.
        for step in StartingStep::ALL {
            let told = cautions(&project, Occasion::Checklist);
            let count = told.iter().filter(|caution| caution.hazard.steps().contains(&step)).count();
            assert!(count <= 3 && (count >= 1 || step == StartingStep::Flushed), "{name} {step:?}: {count}");
        }
    }
}
