//! `map`: a plane of two settings in words, as CSV or as a picture.

use super::failure::Failure;
use super::in_hand::in_hand;
use super::map_arguments::MapArguments;
use super::picture_file::{Format, check_width, format_of, write, write_picture};
use super::{print, saving};
use crate::document::{Command, ComponentId, Project};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::file;
use crate::report::picture::{Look, map_svg};
use crate::report::{self, MapView};
use crate::study::settings::Axes;
use std::io::Write;
use std::path::Path;

/// Computes the map and prints, writes or draws it.
pub(super) fn map(arguments: &MapArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let format = arguments.picture.as_deref().map(|path| format_of("--picture", path)).transpose()?;
    for (option, path) in [("--csv", &arguments.csv), ("--picture", &arguments.picture)] {
        let Some(path) = path.as_deref().filter(|path| *path != Path::new("-")) else { continue };
        saving::check_option(option, path, ("the project file", &arguments.file), arguments.replace)?;
    }
    check_width(&format!("--width {}", arguments.width), arguments.width)?;
    let mut project = file::load(&arguments.file)?;
    project.every_combination |= arguments.every_combination;
    let pump = in_hand(&project, arguments.pump.as_ref())?;
    let units = arguments.units.chosen();
    let base = held(&project, pump, arguments, &units)?;
    report::with_map(&project, pump, arguments.axes.chosen(), Some(base), |view| tell(view, arguments, format, out))?
}

/// Prints, writes or draws it.
fn tell(
    view: &MapView<'_>,
    arguments: &MapArguments,
    format: Option<Format>,
    out: &mut dyn Write,
) -> Result<u8, Failure> {
    let units = arguments.units.chosen();
    let is_standard_output = arguments.csv.as_deref() == Some(Path::new("-"));
    let mut said = String::new();
    if let Some(path) = &arguments.csv {
        let text = report::map_csv(view);
        if is_standard_output {
            print(out, &text)?;
        } else {
            write(path, text.as_bytes())?;
            said += &format!("Written to {}: {} cells.\n", path.display(), view.map.cells.len());
        }
    }
    if let (Some(path), Some(format)) = (&arguments.picture, format) {
        let svg = map_svg(view, &units, Look { width: arguments.width, dark: arguments.dark }, None);
        write_picture(path, &svg, format)?;
        said += &format!("Drawn to {}: {}.\n", path.display(), view.project.title);
    }
    if arguments.csv.is_none() && arguments.picture.is_none() {
        said = report::map_text(view, &units);
    }
    // Data on standard output stay data.
    print(out, if is_standard_output { "" } else { &said })?;
    Ok(0)
}

/// The settings that are held: the present ones, or those that were given.
fn held(project: &Project, pump: ComponentId, arguments: &MapArguments, units: &Units) -> Result<Regulation, Failure> {
    let axes = arguments.axes.chosen();
    let mut other = project.clone();
    let given = [
        ("--at-head-limit", &arguments.at_head_limit, Quantity::Head, axes == Axes::SlopeOverCap),
        ("--at-slope", &arguments.at_slope, Quantity::Share, axes == Axes::LimitOverCap),
        ("--at-speed-cap", &arguments.at_speed_cap, Quantity::Speed, axes == Axes::LimitOverSlope),
    ];
    for (option, text, quantity, is_held) in given {
        let Some(text) = text else { continue };
        let refuse = |flaw: String| Failure::Value { option: format!("{option} {text}"), flaw };
        if !is_held {
            let flaw = "this setting stands on an axis and is not held: leave it out, or choose other --axes";
            return Err(refuse(flaw.to_owned()));
        }
        let value = units.parse(quantity, text).map_err(|flaw| Failure::Number { option: option.to_owned(), flaw })?;
        let command = match quantity {
            Quantity::Head => Command::SetHeadLimit(pump, Some(value)),
            Quantity::Share => Command::SetSlope(pump, value),
            _ => Command::SetSpeedCap(pump, value),
        };
        other.apply(&command).map_err(|flaw| refuse(flaw.to_string()))?;
    }
    Ok(other.pump(pump).map_or_else(|| Regulation::at_speed(1.0), |unit| unit.regulation))
}
