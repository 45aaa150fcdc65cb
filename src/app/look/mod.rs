//! The look: colours, type and spacing. Panes ask it for a role ("the set-line", "supply"), never for a colour value.

mod fonts;
mod palette;

pub use palette::Palette;

use std::num::NonZeroUsize;

use egui::{self, Color32, CornerRadius, FontFamily, FontId, Margin, Stroke, TextStyle, Theme, Visuals};

/// How much of its strength is left to what is old.
pub const OLD: f32 = 0.45;

/// One step of the spacing scale, points.
pub const STEP: f32 = 4.0;

/// Sizes of type in points: small print, body, emphasised, the three settings.
pub mod size {
    /// Axis marks, notes.
    pub const SMALL: f32 = 11.5;
    /// Everything ordinary.
    pub const BODY: f32 = 13.5;
    /// The sentence, headings.
    pub const LEAD: f32 = 15.5;
    /// The three settings.
    pub const FIGURE: f32 = 27.0;
}

/// The most passes of one frame.
const MOST_PASSES: NonZeroUsize = NonZeroUsize::MIN.saturating_add(3);

/// A font of the body family.
#[must_use]
pub fn font(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

/// A font of the strong family.
#[must_use]
pub fn strong(size: f32) -> FontId {
    FontId::new(size, FontFamily::Name(fonts::STRONG.into()))
}

/// Installs type, spacing and colours for light and dark.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts::definitions());
    ctx.set_theme(Theme::Light);
    // One that paints a change, one for what is pointed at, two in which the window poses for a picture.
    ctx.options_mut(|options| options.max_passes = MOST_PASSES);
    for theme in [Theme::Light, Theme::Dark] {
        let palette = Palette::of(theme);
        ctx.style_mut_of(theme, |style| {
            style.text_styles = [
                (TextStyle::Small, font(size::SMALL)),
                (TextStyle::Body, font(size::BODY)),
                (TextStyle::Button, font(size::BODY)),
                (TextStyle::Monospace, font(size::BODY)),
                (TextStyle::Heading, strong(size::LEAD)),
            ]
            .into();
            style.spacing.item_spacing = egui::vec2(2.0 * STEP, 1.5 * STEP);
            style.spacing.button_padding = egui::vec2(2.5 * STEP, 1.25 * STEP);
            style.spacing.menu_margin = Margin::same(6);
            style.spacing.window_margin = Margin::same(16);
            style.spacing.interact_size.y = 26.0;
            style.visuals = visuals(theme, &palette);
            style.interaction.selectable_labels = false;
        });
    }
}

/// A dialog over the window, with room about what stands in it.
#[must_use]
pub fn modal(ctx: &egui::Context, name: &str) -> egui::Modal {
    let frame = egui::Frame::popup(&ctx.global_style()).inner_margin(4.0 * STEP);
    egui::Modal::new(egui::Id::unique(name)).frame(frame)
}

fn visuals(theme: Theme, palette: &Palette) -> Visuals {
    let mut visuals = if theme == Theme::Dark { Visuals::dark() } else { Visuals::light() };
    visuals.panel_fill = palette.ground;
    visuals.window_fill = palette.raised;
    visuals.window_stroke = Stroke::new(1.0, palette.rule);
    visuals.extreme_bg_color = palette.sheet;
    visuals.faint_bg_color = palette.ground;
    visuals.override_text_color = Some(palette.ink);
    visuals.weak_text_color = Some(palette.quiet);
    visuals.hyperlink_color = palette.accent;
    visuals.selection.bg_fill = palette.accent.gamma_multiply(0.35);
    visuals.selection.stroke = Stroke::new(1.0, palette.ink);
    visuals.warn_fg_color = palette.starved;
    visuals.error_fg_color = palette.starved;
    let radius = CornerRadius::same(5);
    let widgets = &mut visuals.widgets;
    for (state, fill, rule) in [
        (&mut widgets.noninteractive, palette.ground, palette.rule),
        (&mut widgets.inactive, palette.raised, palette.rule),
        (&mut widgets.hovered, palette.raised, palette.quiet),
        (&mut widgets.active, palette.rule, palette.ink),
        (&mut widgets.open, palette.raised, palette.quiet),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, rule);
        state.fg_stroke = Stroke::new(1.5, palette.ink);
        state.corner_radius = radius;
        state.expansion = 0.0;
    }
    visuals.window_corner_radius = CornerRadius::same(8);
    visuals.menu_corner_radius = CornerRadius::same(8);
    visuals
}

/// A colour between two, `share` of the way to the second.
#[must_use]
pub fn between(from: Color32, to: Color32, share: f32) -> Color32 {
    from.lerp_to_gamma(to, share.clamp(0.0, 1.0))
}
