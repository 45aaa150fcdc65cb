//! `best`: the settings in whole steps that take least energy while every zone keeps its band, proved by solving every state with them.

use super::best_arguments::BestArguments;
use super::failure::Failure;
use super::in_hand::in_hand;
use super::{print, saving};
use crate::document::{Command, ComponentId, ComponentKind, Project, ZoneId};
use crate::engine::pump::Regulation;
use crate::file;
use crate::report::{self, BestView, Moved, Proof, prove};
use crate::study::part_load::PartLoad;
use crate::study::settings::{
    Best, Deciding, NoBest, Watch, best, binding_zone, least_starving, remedies, robustness, with_presettings,
};
use crate::study::sweep;
use std::io::Write;

/// A system with the settings found for it.
struct Found {
    project: Project,
    part_load: PartLoad,
    deciding: Deciding,
    best: Option<Best>,
    serves: bool,
    moved: Vec<Moved>,
}

/// Searches, proves, prints and, if wanted, saves.
pub(super) fn best_setting(arguments: &BestArguments, out: &mut dyn Write, err: &mut dyn Write) -> Result<u8, Failure> {
    if let Some(path) = &arguments.save {
        saving::check_place(path, ("the project file", &arguments.file), arguments.replace)?;
    }
    let file = file::load(&arguments.file)?;
    let pump = in_hand(&file, arguments.pump.as_ref())?;
    let mut before = file.clone();
    before.every_combination |= arguments.every_combination;
    // Settings are made before a circulator is started: it is looked at as if it ran.
    before.apply(&Command::SetRunning(pump, true)).map_err(crate::study::SweepError::from)?;
    let watch = Watch::default();
    let found = search(&before, pump, arguments.presettings, &watch)?;
    let present = found.part_load.regulation;
    let settings = found.best.map_or(present, |best| best.settings);
    let proof = match found.best {
        Some(_) => prove(&found.project, &found.part_load, &settings, found.serves)?,
        None => Proof::default(),
    };
    let states: Vec<Vec<Command>> =
        found.part_load.tables.iter().map(|table| with(&found, pump, settings, table)).collect();
    let results = sweep(&found.project, &states)?;
    let mut beside = vec![report::beside(&before, pump, "Present settings", &present)?];
    if found.best.is_some() {
        let name = if found.serves { "Best settings" } else { "Starving none" };
        beside.push(report::beside(&found.project, pump, name, &settings)?);
    }
    let (robust, zone, helps) = further(arguments, &found, &watch)?;
    let view = BestView {
        project: &found.project,
        part_load: &found.part_load,
        deciding: &found.deciding,
        best: found.best,
        serves: found.serves,
        present,
        moved: &found.moved,
        results: &results,
        beside: &beside,
        proof: &proof,
        robust: robust.as_ref(),
        remedies: helps.as_deref().map(|helps| (zone, helps)),
        stands: file.pump(pump).is_some_and(|unit| !unit.running),
    };
    let units = arguments.units.chosen();
    let text = if arguments.json { report::best_data(&view) } else { report::best_text(&view, &units) };
    print(out, &text)?;
    let code = match found.best {
        None => 1,
        Some(_) if !proof.holds() => 3,
        Some(_) => 0,
    };
    if let Some(path) = &arguments.save {
        let said = save(&file, pump, &found, (path, code == 0), &units)?;
        print(if arguments.json { err } else { out }, &said)?;
    }
    Ok(code)
}

/// The best settings of a system, its presettings moved too if that is wanted.
fn search(before: &Project, pump: ComponentId, with_valves: bool, watch: &Watch) -> Result<Found, Failure> {
    let mut project = before.clone();
    let mut part_load = PartLoad::new(&project, pump)?;
    let mut moved = Vec::new();
    if with_valves && let Ok(preset) = with_presettings(&project, &part_load, watch)? {
        for (valve, kv) in preset.valves {
            let kind = ComponentKind::BalancingValve { kv };
            let old = project.components.get(&valve).map(|component| component.kind.clone());
            project.apply(&Command::SetKind(valve, Box::new(kind))).map_err(crate::study::SweepError::from)?;
            if let Some(ComponentKind::BalancingValve { kv: from }) = old {
                moved.push(Moved { valve, from, to: kv });
            }
        }
        part_load = PartLoad::new(&project, pump)?;
    }
    let served = match best(&mut part_load, watch) {
        Err(NoBest::Lower(error)) => return Err(error.into()),
        found => found.ok(),
    };
    let best = served.or_else(|| least_starving(&mut part_load, watch).ok());
    let deciding = Deciding::new(&part_load);
    Ok(Found { project, part_load, deciding, best, serves: served.is_some(), moved })
}

fn with(
    found: &Found,
    pump: ComponentId,
    settings: Regulation,
    table: &crate::study::part_load::StateTable,
) -> Vec<Command> {
    std::iter::once(Command::SetRegulation(pump, settings)).chain(table.state.commands(&found.project)).collect()
}

type Further =
    (Option<crate::study::settings::Robustness>, Option<ZoneId>, Option<Vec<crate::study::settings::Remedy>>);

/// What takes longer and is told only when it is asked for.
fn further(arguments: &BestArguments, found: &Found, watch: &Watch) -> Result<Further, Failure> {
    let Found { project, part_load, deciding, best, serves, .. } = found;
    let robust = match best {
        Some(best) if arguments.robust && *serves => Some(robustness(project, part_load, &best.settings, watch)?),
        _ => None,
    };
    if !arguments.why {
        return Ok((robust, None, None));
    }
    let lacking = || {
        let impossible = deciding.impossible.iter().find_map(|(_, served)| served.least.or(served.most)?.reason.zone());
        let settings = best.map_or(part_load.regulation, |best| best.settings);
        impossible.or_else(|| deciding.worst(&part_load.law(&settings))?.reason.zone())
    };
    let served = best.filter(|_| *serves);
    let zone = served.map_or_else(lacking, |best| binding_zone(part_load, deciding, &best));
    let units = arguments.units.chosen();
    let helps = zone.map(|zone| remedies(project, part_load, served.as_ref(), zone, &units, watch)).transpose()?;
    Ok((robust, zone, Some(helps.unwrap_or_default())))
}

/// Saves the file's project with the settings and presettings found, and nothing else.
fn save(
    file: &Project,
    pump: ComponentId,
    found: &Found,
    (path, holds): (&std::path::Path, bool),
    units: &crate::engine::units::Units,
) -> Result<String, Failure> {
    let Some(best) = found.best.filter(|_| holds) else {
        return Ok(format!("Not saved: without settings that hold {} was not written.\n", path.display()));
    };
    let mut project = file.clone();
    let mut changes = vec![report::settings_words(&best.settings, units)];
    let mut commands = vec![Command::SetRegulation(pump, best.settings)];
    for Moved { valve, to, .. } in &found.moved {
        commands.push(Command::SetKind(*valve, Box::new(ComponentKind::BalancingValve { kv: *to })));
        changes.push(report::valve_words(file, *valve, *to, units));
    }
    for command in &commands {
        project.apply(command).map_err(crate::study::SweepError::from)?;
    }
    saving::save(&project, path, &changes, true)
}
