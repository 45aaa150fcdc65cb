//! `picture`: the plot, the drawing or the map as SVG or PNG, without a display.

use super::day::day;
use super::failure::Failure;
use super::in_hand::in_hand;
use super::names::named;
use super::picture_arguments::{Of, PictureArguments};
use super::picture_file::{check_width, format_of, write_picture};
use super::window_painter::{WindowPainter, WindowPose};
use super::{print, saving};
use crate::document::{Command, Project};
use crate::file;
use crate::report::picture::{Heading, Look, Subject, subject_svg};
use crate::study::SweepError;
use std::io::Write;

/// Width of a picture where none is asked for, and at scale one.
const WIDTH: u32 = 1200;
const UNSCALED: f64 = 1000.0;

/// Size of the window where none is asked for, points.
const WINDOW: [u16; 2] = [1280, 800];

/// Draws one picture and says where it is.
pub(super) fn picture(
    arguments: &PictureArguments,
    painter: Option<WindowPainter>,
    out: &mut dyn Write,
) -> Result<u8, Failure> {
    let path = &arguments.save;
    let format = format_of("--save", path)?;
    saving::check_place(path, ("the project file", &arguments.file), arguments.replace)?;
    let (width, date) = (width(arguments)?, day(arguments.date.as_ref())?);
    let project = in_scenario(file::load(&arguments.file)?, arguments)?;
    let title = project.title.clone();
    let (svg, stands) = match arguments.of {
        Of::Window => (window(project, arguments, painter, width, date)?, true),
        of => drawn(&project, of, arguments, Look { width, dark: arguments.dark }, &date)?,
    };
    write_picture(path, &svg, format)?;
    print(out, &format!("Drawn to {}: {title}.\n", path.display()))?;
    Ok(if stands { 0 } else { 3 })
}

/// The picture of a subject, and whether its figures stand.
fn drawn(
    project: &Project,
    of: Of,
    arguments: &PictureArguments,
    look: Look,
    date: &str,
) -> Result<(String, bool), Failure> {
    let pump = match in_hand(project, arguments.pump.as_ref()) {
        Ok(pump) => Some(pump),
        // A drawing needs no circulator in hand.
        Err(_) if of == Of::Drawing && arguments.pump.is_none() => None,
        Err(failure) => return Err(failure),
    };
    let subject = match of {
        Of::Plot => Subject::Plot,
        Of::Map => Subject::Map(arguments.axes.unwrap_or_default().chosen(), None),
        Of::Drawing | Of::Window => Subject::Drawing,
    };
    let heading = Heading { title: arguments.title.as_deref().unwrap_or_default(), date };
    Ok(subject_svg(project, pump, subject, &arguments.units.chosen(), look, &heading)?)
}

/// The picture of the window.
fn window(
    project: Project,
    arguments: &PictureArguments,
    painter: Option<WindowPainter>,
    width: u32,
    date: String,
) -> Result<String, Failure> {
    let refuse = |flaw: String| Failure::Value { option: "--of window".to_owned(), flaw };
    for (option, is_given) in [("--pump", arguments.pump.is_some()), ("--axes", arguments.axes.is_some())] {
        if is_given {
            let flaw = "the window is pictured as it opens, and this would change nothing: leave it out, or picture the \
                        plot or the map";
            return Err(Failure::Value { option: option.to_owned(), flaw: flaw.to_owned() });
        }
    }
    let paint = painter.ok_or_else(|| {
        refuse("this build has no window: picture the plot, the drawing or the map instead".to_owned())
    })?;
    let [across, down] = arguments.window.map_or(WINDOW, |size| size.0);
    let pose = WindowPose {
        project,
        path: arguments.file.clone(),
        size: [f32::from(across), f32::from(down)],
        width,
        dark: arguments.dark,
        units: arguments.units.chosen(),
        date,
        title: arguments.title.clone().unwrap_or_default(),
    };
    paint(pose).map_err(refuse)
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
