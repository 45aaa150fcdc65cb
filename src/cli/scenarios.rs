//! `scenarios`: every scenario solved, side by side, with the zones' margins, the year's energy, and other settings beside the present.

use super::failure::Failure;
use super::in_hand::in_hand;
use super::scenarios_arguments::ScenariosArguments;
use super::{code_of, print};
use crate::document::{Command, ComponentId, Project};
use crate::file;
use crate::report::{self, Beside, Swept};
use crate::study::part_load::PartLoad;
use crate::study::sweep;
use std::io::Write;

/// Solves every scenario and prints them side by side.
pub(super) fn scenarios(arguments: &ScenariosArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let project = file::load(&arguments.file)?;
    let pump = match in_hand(&project, arguments.pump.as_ref()) {
        Ok(pump) => Ok(pump),
        Err(failure) if arguments.pump.is_some() => return Err(failure),
        // Without one in hand the scenarios are told all the same.
        Err(failure) => Err(format!("Nothing is compared: {failure}.")),
    };
    let cases: Vec<Vec<Command>> =
        (0..project.scenarios.len()).map(|index| vec![Command::EnterScenario(index)]).collect();
    let results = sweep(&project, &cases)?;
    let (beside, remark) = match &pump {
        _ if arguments.csv => (Vec::new(), None),
        Ok(pump) => compared(&project, *pump)?,
        Err(remark) => (Vec::new(), Some(remark.clone())),
    };
    let swept =
        Swept { project: &project, results: &results, pump: pump.ok(), beside: &beside, remark: remark.as_deref() };
    let text = match () {
        () if arguments.csv => report::scenario_csv(&swept),
        () if arguments.json => report::scenario_data(&swept),
        () => report::scenario_table(&swept, &arguments.units.chosen()),
    };
    print(out, &text)?;
    let converged = beside.iter().all(|one| one.converged);
    Ok(results.iter().map(code_of).max().unwrap_or(0).max(if converged { 0 } else { 3 }))
}

/// The present settings beside others, or why nothing can be compared.
fn compared(project: &Project, pump: ComponentId) -> Result<(Vec<Beside>, Option<String>), Failure> {
    if project.scenarios.is_empty() {
        return Ok((Vec::new(), None));
    }
    if project.pump(pump).is_some_and(|unit| !unit.running) {
        let name = project.components.get(&pump).map_or("", |component| component.name.as_str());
        let remark = format!("Nothing is compared: {name} does not run; start it, or name another with --pump.");
        return Ok((Vec::new(), Some(remark)));
    }
    match PartLoad::new(project, pump) {
        Ok(part_load) => Ok((report::all_beside(project, &part_load)?, None)),
        Err(error) => Ok((Vec::new(), Some(format!("Nothing is compared: {error}.")))),
    }
}
