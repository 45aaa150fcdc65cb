//! Pipes that say what they are made of: a size on sale and fittings, from the document to the law, the file and the report.

#![expect(clippy::unwrap_used, reason = "a test stops where something is missing")]

use headwise::document::{ComponentId, Fitting, PipeRun, Port, PortRef, Project, SizeOnSale, flaws};
use headwise::engine::links::fittings::{FittingKind, Joint, KSource};
use headwise::engine::units::Units;
use headwise::file;
use headwise::report;
use headwise::study::Study;
use std::f64::consts::PI;
use std::path::Path;

const TEXT: &str = include_str!("data/files/every_kind.ron");

#[track_caller]
fn check(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} instead of {expected}");
}

fn port(component: u32) -> PortRef {
    PortRef { component: ComponentId(component), port: Port::Branch }
}

fn named(project: &Project, from: &str, to: &str) -> PipeRun {
    let label = format!("{from} – {to}");
    project.pipes.values().find(|pipe| project.pipe_label(pipe) == label).unwrap().clone()
}

/// 1 in schedule 40: bore 26.64 mm (ASME B36.10M). Elbow K = 30 f_T with f_T = 0.0224 at 1 in, printed 0.022 to 0.023
/// (Crane TP-410, from memory); handbook's screwed elbow 1.5 and tee branch 1.9 at 1 in (HVAC Pump Handbook 2006, tables
/// 3.8 and 3.10); an exit is one velocity head (Borda–Carnot).
#[test]
fn fittings_add_up_by_their_sources() {
    let size = SizeOnSale::find("steel-40", "1").unwrap();
    check("bore", size.bore(), 0.026_64, 1e-9);
    let screwed = |kind, count| Fitting { kind, count, source: KSource::Handbook(Joint::Screwed) };
    let straight = PipeRun::straight(port(1), port(2), 3.0, size.bore(), size.roughness());
    let by_method = Fitting::new(FittingKind::Elbow90, 4);
    assert_eq!(by_method.source, KSource::Tp410);
    let mut pipe = PipeRun { size: Some(size), fittings: vec![by_method], minor_k: 0.5, ..straight };
    check("by TP-410", pipe.k(), 0.5 + 4.0 * 30.0 * 0.0225, 4.0 * 30.0 * 0.0005);
    pipe.fittings =
        vec![screwed(FittingKind::Elbow90, 4), screwed(FittingKind::TeeBranch, 1), Fitting::new(FittingKind::Exit, 2)];
    check("by the handbook", pipe.k(), 0.5 + 4.0 * 1.5 + 1.9 + 2.0, 1e-12);
    check("fittings alone", pipe.fittings_k().unwrap(), 4.0 * 1.5 + 1.9 + 2.0, 1e-12);
}

/// A bare exit and elbows between two points of a pipe without length take Σζ ρ v²/2, v = q/(π d²/4).
#[test]
fn the_law_takes_them() {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
    let mut project = file::load(&sample).unwrap();
    let (id, pipe) = project.pipes.iter_mut().find(|(_, pipe)| !pipe.is_joint()).unwrap();
    let id = *id;
    pipe.length = 0.0;
    pipe.minor_k = 0.0;
    pipe.fittings = vec![Fitting::new(FittingKind::Exit, 3)];
    assert!(!pipe.is_joint());
    let bore = pipe.bore;
    let study = Study::new(&project).unwrap();
    let result = study.results().pipes[&id];
    assert!(result.flow.abs() > 1e-5, "{}", result.flow);
    let velocity = result.flow / (PI * bore * bore / 4.0);
    let lowered = study.lowered();
    let link = lowered.owners.iter().position(|owner| *owner == headwise::study::LinkOwner::Pipe(id)).unwrap();
    let density = lowered.fluid_of(link).density_kg_per_m3;
    check("drop", result.drop, 3.0 * 0.5 * density * velocity * velocity, 1e-6 * result.drop.abs());
}

#[test]
fn a_size_stands_for_bore_and_roughness_in_a_file() {
    let project = file::parse(TEXT, "every kind").unwrap();
    let up = named(&project, "Separator", "T1");
    let size = up.size.unwrap();
    assert_eq!((size.series().id, size.nominal()), ("copper-thin", "35 x 1.2"));
    // EN 1057: 35 mm outside, two walls of 1.2 mm; drawn tube 0.0015 mm.
    check("bore", up.bore, 0.0326, 1e-12);
    check("roughness", up.roughness, 1.5e-6, 1e-15);
    let sources: Vec<KSource> = up.fittings.iter().map(|fitting| fitting.source).collect();
    assert_eq!(sources, [KSource::Tp410, KSource::Handbook(Joint::Screwed), KSource::BordaCarnot]);
    // An old pipe keeps its size and has its own roughness.
    check("aged", named(&project, "T2", "Separator").roughness, 3e-4, 1e-15);
    let written = file::to_text(&project).unwrap();
    assert!(written.contains("size: (\"steel-40\", \"1-1/4\"), roughness_mm: 0.3"), "{written}");
    assert!(!written.contains("size: (\"copper-thin\", \"35 x 1.2\"), bore_mm"), "{written}");
    assert_eq!(file::parse(&written, "again").unwrap(), project);
}

#[test]
fn names_that_are_not_there_are_told_with_those_that_are() {
    let told = |from: &str, to: &str| {
        assert!(TEXT.contains(from), "{from}");
        file::parse(&TEXT.replace(from, to), "slip").unwrap_err().to_string()
    };
    let text = told("copper-thin", "coper");
    assert!(text.contains("no series of pipe “coper”") && text.contains("copper-thick, copper-type-k"), "{text}");
    assert!(text.contains("pipe Separator – T1"), "{text}");
    let text = told("35 x 1.2", "36");
    assert!(text.contains("has no size “36”") && text.contains("35 x 1.2, 42 x 1.2"), "{text}");
    let text = told("elbow_90,", "elbow_91,");
    assert!(text.contains("“elbow_91” is not known here") && text.contains("elbow_45"), "{text}");
    let text = told("handbook_screwed", "hearsay");
    assert!(text.contains("“hearsay” is not known here") && text.contains("tp410"), "{text}");
}

#[test]
fn what_cannot_be_is_a_flaw() {
    let mut project = file::parse(TEXT, "every kind").unwrap();
    assert!(flaws(&project).is_empty());
    let flaw_of = |project: &Project| flaws(project).first().map(ToString::to_string).unwrap_or_default();
    let pipe = |project: &mut Project| project.pipes.iter().find(|(_, pipe)| pipe.size.is_some()).map(|(id, _)| *id);
    let id = pipe(&mut project).unwrap();
    let mut wrong = project.clone();
    wrong.pipes.get_mut(&id).unwrap().bore = 0.02;
    assert!(flaw_of(&wrong).contains("name no size"), "{}", flaw_of(&wrong));
    let mut wrong = project.clone();
    wrong.pipes.get_mut(&id).unwrap().fittings[0].count = 0;
    assert!(flaw_of(&wrong).contains("at least one"), "{}", flaw_of(&wrong));
    let mut wrong = project.clone();
    wrong.pipes.get_mut(&id).unwrap().fittings[0].source = KSource::BordaCarnot;
    assert!(flaw_of(&wrong).contains("choose another source"), "{}", flaw_of(&wrong));
}

#[test]
fn the_report_says_what_pipes_are_made_of() {
    let project = file::parse(TEXT, "every kind").unwrap();
    let study = Study::new(&project).unwrap();
    let text = report::table(&project, &study, &Units::si());
    assert!(text.contains("2 × 90° elbow, 1 × tee, branch, 1 × sudden enlargement"), "{text}");
    assert!(text.contains("90° elbow by Crane TP-410"), "{text}");
    assert!(text.contains("EN 1057"), "{text}");
    let data: serde_json::Value = serde_json::from_str(&report::data(&project, &study, &Units::si())).unwrap();
    let pipes = data["pipes"].as_array().unwrap();
    let up = pipes.iter().find(|pipe| pipe["name"] == "Separator – T1").unwrap();
    assert_eq!(up["size"]["nominal"], "35 x 1.2");
    assert_eq!(up["fittings"][2]["source"], "Borda–Carnot");
    // (1 − (32.6/108)²)² by hand.
    check("K", up["fittings"][2]["loss_coefficient"].as_f64().unwrap(), 0.826_07, 1e-4);
}
