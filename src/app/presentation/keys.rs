//! Keys while presenting, one table for what they do and for the help that names them beside what the mouse does.

use super::super::frame;
use super::super::view::{Intent, View};
use super::before::Before;
use super::text::{self, Type};
use super::{PresentationState, Side, plotted};
use crate::document::Command;
use crate::engine::units::Digits;
use egui::{self, Align2, Color32, Id, Key, LayerId, Order, Rect, Theme, Ui, ViewportCommand, WidgetInfo, pos2, vec2};

/// How much larger or smaller a key makes type, and within which bounds.
const LARGER: f32 = 1.08;
pub(super) const SIZES: std::ops::RangeInclusive<f32> = 0.55..=1.3;

/// What a key does.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Deed {
    NextScenario,
    ScenarioBefore,
    NextPump,
    OpenAll,
    Before,
    OtherSide,
    Spotlight,
    Ring,
    Wipe,
    Motion,
    Digits,
    Theme,
    Larger,
    Smaller,
    FullScreen,
    Help,
}

/// A line of the help: keys, how they are written, what they do.
struct Entry {
    keys: &'static [Key],
    written: &'static str,
    words: &'static str,
    deed: Option<Deed>,
}

const fn entry(keys: &'static [Key], written: &'static str, words: &'static str, deed: Deed) -> Entry {
    Entry { keys, written, words, deed: Some(deed) }
}

impl Entry {
    /// What its keys do; a lesson at work takes those of the scenarios for its own steps.
    fn words(&self, in_lesson: bool) -> &'static str {
        match self.deed {
            Some(Deed::NextScenario) if in_lesson => "next step of the lesson",
            Some(Deed::ScenarioBefore) if in_lesson => "step before",
            _ => self.words,
        }
    }
}

/// What the window or the hand does, not a key of this table.
const fn told(written: &'static str, words: &'static str) -> Entry {
    Entry { keys: &[], written, words, deed: None }
}

/// All keys. Those of the scenarios, F5 and Escape are also what a presenter's remote sends.
const KEYS: [Entry; 22] = [
    told("Drag", "a setting on the plot"),
    told("Click", "a valve or a row: shut, open"),
    told("Click a pump", "take it in hand"),
    told("F5, Esc", "end presenting"),
    entry(&[Key::PageDown], "Page down", "next scenario", Deed::NextScenario),
    entry(&[Key::PageUp], "Page up", "scenario before", Deed::ScenarioBefore),
    entry(&[Key::N], "N", "plot the next pump", Deed::NextPump),
    entry(&[Key::A], "A", "open all zones", Deed::OpenAll),
    entry(&[Key::B], "B", "keep as before, let go", Deed::Before),
    entry(&[Key::V], "V", "pair plots or drawings", Deed::OtherSide),
    entry(&[Key::S], "S", "spotlight", Deed::Spotlight),
    entry(&[Key::P], "P", "ring about the pointer", Deed::Ring),
    told("Other button", "or F held: write; marks fade"),
    entry(&[Key::C], "C", "wipe what was written", Deed::Wipe),
    entry(&[Key::E], "E", "full or round digits", Deed::Digits),
    entry(&[Key::M], "M", "flow moving or still", Deed::Motion),
    entry(&[Key::Plus, Key::Equals], "+", "larger type", Deed::Larger),
    entry(&[Key::Minus], "−", "smaller type", Deed::Smaller),
    entry(&[Key::T], "T", "light or dark", Deed::Theme),
    entry(&[Key::F11], "F11", "full screen", Deed::FullScreen),
    told("Tab, arrows", "take a setting and step it"),
    entry(&[Key::H, Key::F1], "H, F1", "these keys", Deed::Help),
];

/// Carries out what the keys pressed say.
pub(super) fn carry_out(ui: &Ui, view: &View<'_>, state: &mut PresentationState, intents: &mut Vec<Intent>) {
    let ctx = ui.ctx();
    if ctx.text_edit_focused() || frame::is_covered(ctx) {
        return;
    }
    let is_pressed = |key: &Key| ctx.input(|i| !i.modifiers.command && !i.modifiers.alt && i.key_pressed(*key));
    let deeds = KEYS.iter().filter(|entry| entry.keys.iter().any(is_pressed)).filter_map(|entry| entry.deed);
    for deed in deeds {
        match deed {
            Deed::NextScenario => intents.extend(scenario(view, true)),
            Deed::ScenarioBefore => intents.extend(scenario(view, false)),
            Deed::NextPump => intents.extend(plotted::next(view).map(Intent::TakeInHand)),
            Deed::OpenAll => intents.push(Intent::Change(Command::OpenAllZones)),
            Deed::Before => {
                state.before = if state.before.is_some() || view.is_stale() { None } else { Some(Before::keep(view)) };
            }
            Deed::OtherSide => {
                state.side = if state.side == Side::Plots { Side::Drawings } else { Side::Plots };
            }
            Deed::Spotlight => state.is_spot = !state.is_spot,
            Deed::Ring => state.has_ring = !state.has_ring,
            Deed::Wipe => state.marks.wipe(),
            Deed::Motion => state.motion.switch(),
            Deed::Digits => {
                state.digits = if state.digits == Digits::Full { Digits::Rounded } else { Digits::Full };
            }
            Deed::Theme => {
                ctx.set_theme(if ctx.theme() == Theme::Dark { Theme::Light } else { Theme::Dark });
            }
            Deed::Larger => state.size = (state.size * LARGER).min(*SIZES.end()),
            Deed::Smaller => state.size = (state.size / LARGER).max(*SIZES.start()),
            Deed::FullScreen => {
                let is_full = ctx.input(|i| i.viewport().fullscreen.unwrap_or(false));
                ctx.send_viewport_cmd(ViewportCommand::Fullscreen(!is_full));
            }
            Deed::Help => state.helps = !state.helps,
        }
        // What was painted so far in this pass knows nothing of it.
        ctx.request_discard("a key changes what is shown in its own frame");
        ctx.request_repaint();
    }
}

/// The scenario after or before the present one.
fn scenario(view: &View<'_>, next: bool) -> Option<Intent> {
    let count = view.project.scenarios.len();
    let last = count.checked_sub(1)?;
    let to = match (view.scenario, next) {
        (None, true) => 0,
        (None, false) => last,
        (Some(here), true) => (here + 1) % count,
        (Some(here), false) => here.checked_sub(1).unwrap_or(last),
    };
    Some(Intent::Change(Command::EnterScenario(to)))
}

/// Lays the keys over everything.
pub(super) fn help(ui: &Ui, place: Rect, view: &View<'_>) {
    let palette = &view.palette;
    let layer = LayerId::new(Order::Foreground, Id::unique("keys while presenting"));
    let painter = ui.ctx().layer_painter(layer).with_clip_rect(place);
    painter.rect_filled(place, 0, Color32::from_black_alpha(150));
    let pad = 10.0 * view.scale;
    let panel = place.shrink(pad);
    painter.rect_filled(panel, 10, palette.raised);
    let inner = panel.shrink(pad);
    let columns = 2;
    let rows = KEYS.len().div_ceil(columns);
    let size = vec2(inner.width() / columns as f32, inner.height() / rows as f32);
    // In the type of what stands below, unless the rows are too low for that.
    let kind = (12.5 * view.scale).min(0.7 * size.y);
    let in_lesson = view.lesson.is_some();
    let widest = |kind: Type, text: &dyn Fn(&Entry) -> &'static str| {
        KEYS.iter().map(|entry| kind.width(&painter, text(entry))).fold(0.0, f32::max)
    };
    let (written, words) = (
        widest(Type::strong(kind), &|entry| entry.written),
        widest(Type::plain(kind), &|entry| entry.words(in_lesson)),
    );
    // All alike, so that they read as one list.
    let smaller = ((size.x - 2.0 * pad) / (written + words)).min(1.0);
    let (kind, written) = (smaller * kind, smaller * written);
    for (i, entry) in KEYS.iter().enumerate() {
        let at = inner.min + vec2((i / rows) as f32 * size.x, ((i % rows) as f32 + 0.5) * size.y);
        let key = (at, Align2::LEFT_CENTER);
        text::line(&painter, key, written, entry.written, Type::strong(kind), palette.accent);
        let words = (pos2(at.x + written + pad, at.y), Align2::LEFT_CENTER);
        text::line(
            &painter,
            words,
            size.x - written - 2.0 * pad,
            entry.words(in_lesson),
            Type::plain(kind),
            palette.ink,
        );
    }
    let told = KEYS
        .iter()
        .map(|entry| format!("{}: {}", entry.written, entry.words(in_lesson)))
        .collect::<Vec<_>>()
        .join("; ");
    let response = ui.interact(place, Id::unique("keys told"), egui::Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Label, true, format!("Keys. {told}")));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A lesson takes these keys before the scenarios can.
    #[test]
    fn in_a_lesson_the_help_names_its_steps_not_the_scenarios() {
        let words = |in_lesson| {
            let of_scenarios = |entry: &&Entry| matches!(entry.deed, Some(Deed::NextScenario | Deed::ScenarioBefore));
            KEYS.iter().filter(of_scenarios).map(|entry| entry.words(in_lesson)).collect::<Vec<_>>()
        };
        assert_eq!(words(false), ["next scenario", "scenario before"]);
        assert_eq!(words(true), ["next step of the lesson", "step before"]);
    }

    #[test]
    fn no_key_does_two_things_or_is_the_one_that_writes() {
        let mut all: Vec<Key> = KEYS.iter().flat_map(|entry| entry.keys).copied().collect();
        all.push(super::super::marks::WRITES);
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}
