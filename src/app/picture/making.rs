//! Making a picture that was wished for: the window's out of a pass painted for it, all others out of the project, beside the window.

use super::super::desk::Desk;
use super::super::frame::Notice;
use super::super::job::{Job, Progress};
use super::wish::{PictureForm, PictureOf, PictureWish};
use super::{PictureDialog, WindowLook, painted};
use crate::engine::units::Units;
use crate::report;
use crate::report::picture::{Heading, Look, Pixels, Subject, pixels, png, subject_svg};
use crate::study::settings::Axes;
use egui::{ColorImage, Context, Theme};
use std::path::{Path, PathBuf};

/// Where a picture goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(in super::super) enum Target {
    /// Onto the clipboard.
    Clipboard,
    /// Into a file.
    File(PathBuf),
}

/// A picture that is ready.
enum Made {
    Written(PathBuf),
    Dots(Pixels),
    Text(String),
}

/// How far the picture of the window is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    /// What lay over the window is going.
    Asked,
    /// The next pass is painted for it; afterwards the window has this theme again.
    Posing(Theme),
}

/// Pictures: the panel that asks for them, and those that are being made.
#[derive(Default)]
pub(in super::super) struct Pictures {
    pub(in super::super) dialog: PictureDialog,
    of_window: Option<(PictureWish, Target, Stage)>,
    job: Option<Job<Result<(Made, bool), String>>>,
}

impl Pictures {
    /// Begins to make a picture.
    pub(in super::super) fn make(&mut self, wish: PictureWish, target: Target, desk: &Desk, units: Units, axes: Axes) {
        if wish.of == PictureOf::Window {
            self.of_window = Some((wish, target, Stage::Asked));
            return;
        }
        let (project, pump) = (desk.project().clone(), desk.pump());
        let subject = match wish.of {
            PictureOf::Plot => Subject::Plot,
            PictureOf::Map => Subject::Map(axes, None),
            PictureOf::Drawing | PictureOf::Window => Subject::Drawing,
        };
        let work = move || {
            let look = Look { width: wish.width, dark: wish.dark };
            let heading = Heading { title: "", date: &report::today() };
            let drawn = subject_svg(&project, pump, subject, &units, look, &heading);
            let (svg, stands) = drawn.map_err(|error| error.to_string())?;
            Ok((finish(&svg, wish, target)?, stands))
        };
        self.job = Some(Job::start(work));
    }

    /// Lets the window pose after a pass, and takes its picture.
    pub(in super::super) fn after_pass(&mut self, ctx: &Context, title: &str, units: &Units) {
        let Some((wish, target, stage)) = self.of_window.take() else { return };
        match stage {
            Stage::Asked => {
                let present = ctx.theme();
                ctx.set_theme(if wish.dark { Theme::Dark } else { Theme::Light });
                self.of_window = Some((wish, target, Stage::Posing(present)));
            }
            Stage::Posing(_) if ctx.will_discard() => self.of_window = Some((wish, target, stage)),
            Stage::Posing(before) => {
                let size = ctx.content_rect().size();
                let look = WindowLook {
                    size: [size.x, size.y],
                    width: wish.width,
                    dark: wish.dark,
                    units: *units,
                    foot: foot(title, "", units, &report::today()),
                };
                let svg = painted(ctx, &look);
                ctx.set_theme(before);
                self.job = Some(Job::start(move || Ok((finish(&svg, wish, target)?, true))));
            }
        }
        // Nothing of the pose is seen: its passes are painted again before the frame is shown.
        ctx.request_discard("a picture of the window is taken");
        ctx.request_repaint();
    }

    /// Whether the window is to be pictured.
    pub(in super::super) fn is_of_window(&self) -> bool {
        self.of_window.is_some()
    }

    /// Whether a picture is being made.
    pub(in super::super) fn is_making(&self) -> bool {
        self.job.is_some()
    }

    /// Takes a picture that is ready; gives back what is to be said of it.
    pub(in super::super) fn poll(&mut self, ctx: &Context) -> Option<Notice> {
        let answer = match self.job.as_ref()?.poll() {
            Progress::Working => return None,
            Progress::Done(answer) => answer,
            Progress::Lost => Err("Making it ended without an answer: try once more.".to_owned()),
        };
        self.job = None;
        let (made, stands) = match answer {
            Ok(made) => made,
            Err(error) => return Some(Notice::problem("There is no picture.", &error)),
        };
        let words = match made {
            Made::Written(path) => format!("The picture is in {}.", path.display()),
            Made::Dots(dots) => {
                let size = [dots.width as usize, dots.height as usize];
                ctx.copy_image(ColorImage::from_rgba_premultiplied(size, &dots.rgba));
                "The picture is on the clipboard.".to_owned()
            }
            Made::Text(svg) => {
                ctx.copy_text(svg);
                "The picture is on the clipboard, as the text of an SVG file.".to_owned()
            }
        };
        Some(match stands {
            true => Notice::done(&words),
            false => Notice::problem("This picture shows figures that have not settled: do not use them.", &words),
        })
    }
}

/// The line below a picture of the window: project, title if one is given, units, day, program.
#[must_use]
pub fn foot(project: &str, title: &str, units: &Units, date: &str) -> String {
    let system = match *units {
        units if units == Units::si() => "SI units",
        units if units == Units::inch_pound() => "inch-pound units",
        _ => "mixed units",
    };
    let title = if title.is_empty() { String::new() } else { format!(" · {title}") };
    format!("{project}{title} · {system} · {date} · Headwise {}", env!("CARGO_PKG_VERSION"))
}

fn finish(svg: &str, wish: PictureWish, target: Target) -> Result<Made, String> {
    let words = |error: &dyn std::fmt::Display| error.to_string();
    match (target, wish.form) {
        (Target::Clipboard, PictureForm::Png) => Ok(Made::Dots(pixels(svg).map_err(|error| words(&error))?)),
        (Target::Clipboard, PictureForm::Svg) => Ok(Made::Text(svg.to_owned())),
        (Target::File(path), PictureForm::Png) => write(path, &png(svg).map_err(|error| words(&error))?),
        (Target::File(path), PictureForm::Svg) => write(path, svg.as_bytes()),
    }
}

fn write(path: PathBuf, bytes: &[u8]) -> Result<Made, String> {
    std::fs::write(&path, bytes).map_err(|error| refusal(&path, &error))?;
    Ok(Made::Written(path))
}

fn refusal(path: &Path, error: &std::io::Error) -> String {
    format!("{} could not be written ({error}): choose another folder or name.", path.display())
}
