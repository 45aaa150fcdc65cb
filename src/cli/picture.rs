//! `picture`: the plot, the drawing or the map as SVG or PNG, without a display.

use super::day::day;
use super::failure::Failure;
use super::in_hand::in_hand;
use super::map::with_map;
use super::names::named;
use super::picture_arguments::{Of, PictureArguments};
use super::picture_file::{check_width, format_of, write_picture};
use super::{code_of, print, saving};
use crate::document::{Command, Project};
use crate::file;
use crate::report::picture::{DrawingView, Heading, Look, PlotView, drawing_svg, map_svg, plot_states, plot_svg};
use crate::study::{Study, SweepError};
use std::io::Write;

/// Width of a picture where none is asked for, and at scale one.
const WIDTH: u32 = 1200;
const UNSCALED: f64 = 1000.0;

/// Draws one picture and says where it is.
pub(super) fn picture(arguments: &PictureArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let path = &arguments.save;
    let format = format_of("--save", path)?;
    saving::check_place(path, ("the project file", &arguments.file), arguments.replace)?;
    let look = Look { width: width(arguments)?, dark: arguments.dark };
    let date = day(arguments.date.as_ref())?;
    let heading = Heading { title: arguments.title.as_deref().unwrap_or_default(), date: &date };
    let project = in_scenario(file::load(&arguments.file)?, arguments)?;
    let (svg, code) = draw(&project, arguments, look, &heading)?;
    write_picture(path, &svg, format)?;
    print(out, &format!("Drawn to {}: {}.\n", path.display(), project.title))?;
    Ok(code)
}

/// The picture; the code tells whether its figures stand.
fn draw(
    project: &Project,
    arguments: &PictureArguments,
    look: Look,
    heading: &Heading<'_>,
) -> Result<(String, u8), Failure> {
    let units = arguments.units.chosen();
    match arguments.of {
        Of::Plot => {
            let pump = in_hand(project, arguments.pump.as_ref())?;
            let study = Study::new(project)?;
            let states = plot_states(project, pump)?;
            let view = PlotView { project, study: &study, pump, states: &states, layers: false };
            Ok((plot_svg(&view, &units, look, Some(heading)), code_of(study.results())))
        }
        Of::Drawing => {
            let pump = match in_hand(project, arguments.pump.as_ref()) {
                Ok(pump) => Some(pump),
                Err(failure) if arguments.pump.is_some() => return Err(failure),
                // A drawing needs no circulator in hand.
                Err(_) => None,
            };
            let study = Study::new(project)?;
            let view = DrawingView { project, study: &study, pump };
            Ok((drawing_svg(&view, &units, look, Some(heading)), code_of(study.results())))
        }
        Of::Map => {
            let pump = in_hand(project, arguments.pump.as_ref())?;
            let base = project.pump(pump).map(|unit| unit.regulation);
            let axes = arguments.axes.chosen();
            let svg = with_map(project, pump, axes, base, |view| map_svg(view, &units, look, Some(heading)))?;
            Ok((svg, 0))
        }
    }
}

fn width(arguments: &PictureArguments) -> Result<u32, Failure> {
    match (arguments.width, arguments.scale) {
        (Some(width), _) => check_width(&format!("--width {width}"), width).map(|()| width),
        (None, Some(scale)) => {
            // What is no number of pixels becomes none, which is refused.
            let width = (UNSCALED * scale).round() as u32;
            check_width(&format!("--scale {scale}"), width).map(|()| width)
        }
        (None, None) => Ok(WIDTH),
    }
}

/// The project with its valves as a scenario says, if one is named.
fn in_scenario(mut project: Project, arguments: &PictureArguments) -> Result<Project, Failure> {
    let Some(name) = &arguments.scenario else { return Ok(project) };
    let scenarios: Vec<(&str, usize)> =
        project.scenarios.iter().enumerate().map(|(index, scenario)| (scenario.name.as_str(), index)).collect();
    let index = named("scenario", name, &scenarios)?;
    project.apply(&Command::EnterScenario(index)).map_err(SweepError::from)?;
    Ok(project)
}
