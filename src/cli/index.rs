//! `index`: the energy efficiency index of a circulator, step by step.

use super::failure::Failure;
use super::in_hand::in_hand;
use super::index_arguments::IndexArguments;
use super::print;
use crate::engine::pump::EnergyIndex;
use crate::file;
use crate::report::{self, TEST_WATER_KG_PER_M3};
use std::io::Write;

/// Reckons the index of a circulator by its catalogue and prints it.
pub(super) fn index(arguments: &IndexArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let project = file::load(&arguments.file)?;
    let pump = in_hand(&project, arguments.pump.as_ref())?;
    let name = project.components.get(&pump).map_or("", |component| component.name.as_str());
    let refuse = |flaw: String| Failure::Value { option: name.to_owned(), flaw };
    let unit = project.pump(pump).ok_or_else(|| refuse("this is no circulator".to_owned()))?;
    let fitted = unit.fitted().map_err(|flaw| refuse(flaw.to_string()))?;
    let index = EnergyIndex::of_pump(&fitted.curve, &fitted.power, TEST_WATER_KG_PER_M3)
        .map_err(|flaw| refuse(flaw.to_string()))?;
    let text = match arguments.json {
        true => report::index_data(&project, pump, &index),
        false => report::index_text(&project, pump, &index, &arguments.units.chosen()),
    };
    print(out, &text)?;
    Ok(0)
}
