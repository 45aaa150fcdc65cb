//! Pictures of the window: what a pass has painted, as SVG, whether there is a display or not.

mod dialog;
mod making;
mod shapes;
mod text;
mod wish;

use dialog::PictureDialog;
pub use making::foot;
pub(super) use making::{Pictures, Target};
pub use wish::{PictureForm, PictureOf, PictureWish};

use super::desk::Desk;
use super::window::Window;
use crate::document::Project;
use crate::engine::units::Units;
use egui::{Context, LayerId, Order, RawInput, Rect, Shape, Theme, Vec2, pos2};
use shapes::Written;
use std::path::Path;
use std::time::{Duration, Instant};

/// Height of the line below the window that tells what it shows, points.
const FOOT: f32 = 28.0;

/// Passes until sizes have settled and what is reckoned beside the window has had its time.
const PASSES: u32 = 12;

/// Longest that a picture waits for what is reckoned beside the window.
const PATIENCE: Duration = Duration::from_secs(60);

/// How a picture of the window is to look.
#[derive(Clone, Debug, PartialEq)]
pub struct WindowLook {
    /// Width and height of the window, points.
    pub size: [f32; 2],
    /// Width of the picture, pixels.
    pub width: u32,
    /// Whether on a dark ground.
    pub dark: bool,
    /// Units of the shown figures.
    pub units: Units,
    /// The line below it, such as project, units and date.
    pub foot: String,
}

/// The window with a project in it as SVG, without a display.
///
/// # Errors
/// A project that cannot be shown, in one sentence.
pub fn window_svg(project: Project, path: &Path, look: &WindowLook) -> Result<String, String> {
    let ctx = Context::default();
    let theme = if look.dark { Theme::Dark } else { Theme::Light };
    let mut window = Window::new(&ctx)?;
    ctx.set_theme(theme);
    window.show_still(Desk::new(project, Some(path.to_owned()))?, look.units);
    let begun = Instant::now();
    let mut svg = None;
    for pass in 0_u32.. {
        let rests = pass >= PASSES && !window.is_reckoning();
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), Vec2::from(look.size))),
            // The clock of the picture, which stands while something is awaited: the same in every run.
            time: Some(100.0 + f64::from(pass.min(PASSES))),
            ..RawInput::default()
        };
        let output = ctx.run_ui(input, |ui| {
            window.show(ui);
            // A pass that is painted again is not the last of its frame.
            if rests && !ctx.will_discard() {
                svg = Some(painted(&ctx, look));
            }
        });
        output.drop_without_applying_deltas();
        if svg.is_some() {
            break;
        }
        if begun.elapsed() > PATIENCE {
            return Err("the window did not come to rest: picture the drawing or the plot instead".to_owned());
        }
        if pass >= PASSES {
            std::thread::sleep(Duration::from_millis(10));
        }
    }
    svg.ok_or_else(|| "the window was not painted".to_owned())
}

/// What the present pass has painted so far, as SVG.
pub(super) fn painted(ctx: &Context, look: &WindowLook) -> String {
    let mut written = Written::default();
    for (clip, shapes) in runs(ctx) {
        written.clipped(clip, &shapes);
    }
    let [width, height] = look.size;
    let foot = Rect::from_min_max(pos2(0.0, height), pos2(width, height + FOOT));
    let palette = super::look::Palette::of(if look.dark { Theme::Dark } else { Theme::Light });
    let words = ctx.fonts_mut(|fonts| {
        let font = super::look::font(super::look::size::SMALL);
        fonts.layout_no_wrap(look.foot.clone(), font, palette.quiet)
    });
    let place = pos2(12.0, height + 0.5 * (FOOT - words.size().y));
    written.clipped(foot, &[Shape::rect_filled(foot, 0, palette.ground), Shape::galley(place, words, palette.quiet)]);
    written.svg.finish([width, height + FOOT].map(f64::from), f64::from(look.width), &look.foot)
}

/// All shapes in the order in which they lie on each other, those of one clip rectangle together.
fn runs(ctx: &Context) -> Vec<(Rect, Vec<Shape>)> {
    let known: Vec<LayerId> = ctx.memory(|memory| memory.layer_ids().collect());
    let mut runs: Vec<(Rect, Vec<Shape>)> = Vec::new();
    for order in [Order::Background, Order::Middle, Order::Foreground, Order::Tooltip, Order::Debug] {
        let background = (order == Order::Background).then(LayerId::background);
        let others = known.iter().copied().filter(|layer| layer.order == order && Some(*layer) != background);
        for layer in background.into_iter().chain(others) {
            let moved = ctx.layer_transform_to_global(layer);
            let entries = ctx.graphics(|layers| {
                layers.get(layer).map_or_else(Vec::new, |list| list.all_entries().cloned().collect())
            });
            for mut entry in entries.into_iter().filter(|entry| entry.shape != Shape::Noop) {
                if let Some(moved) = moved {
                    entry.clip_rect = moved * entry.clip_rect;
                    entry.shape.transform(moved);
                }
                match runs.last_mut() {
                    Some((clip, shapes)) if *clip == entry.clip_rect => shapes.push(entry.shape),
                    _ => runs.push((entry.clip_rect, vec![entry.shape])),
                }
            }
        }
    }
    runs
}
