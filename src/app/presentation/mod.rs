//! The presentation view: what people who look on need, and nothing else. Drawing, plot and zones large, a sentence about the rooms,
//! a line about comfort and cost; everything can still be dragged and clicked. Type and lines grow with the window by one factor, so
//! that they can be read where the screen is shown at a quarter of its size.

mod before;
mod cost;
mod keys;
mod marks;
mod motion;
mod plotted;
mod pointer;
mod rooms;
mod sentence;
mod source;
mod system_motion;
mod text;
mod warmth;
mod zones;

use super::curves::{self, CurvesState};
use super::drawing::{self, DrawingState};
use super::look;
use super::view::{Intent, View, Work};
use crate::engine::units::{Digits, Units};
use crate::study::Path;
use before::Before;
use egui::{self, Align2, Rect, Ui, UiBuilder, Vec2, pos2, vec2};
use marks::Marks;
use motion::Motion;
use text::Type;

/// The window for which the factor of type is [`FACTOR`]: in others it grows and shrinks with the narrower side.
const WINDOW: Vec2 = vec2(1280.0, 800.0);
/// How much larger type is there than at work: 13.5 points become 33, a quarter of which can still be read.
const FACTOR: f32 = 2.45;

/// Under what names is kept what the person has switched.
const KEPT_DIGITS: &str = "presentation digits";
const KEPT_SIZE: &str = "presentation type";

/// What stands beside each other when a "before" is kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Side {
    /// The plot before and now.
    #[default]
    Plots,
    /// The drawing before and now.
    Drawings,
}

/// What the view remembers between passes.
#[derive(Debug)]
pub(super) struct PresentationState {
    /// What the person was at when presenting began; `None` while nothing is presented.
    from: Option<Work>,
    /// Type beside that of [`FACTOR`].
    size: f32,
    digits: Digits,
    motion: Motion,
    before: Option<Before>,
    side: Side,
    is_spot: bool,
    has_ring: bool,
    helps: bool,
    marks: Marks,
    chosen: zones::Chosen,
}

impl Default for PresentationState {
    fn default() -> Self {
        Self {
            from: None,
            size: 1.0,
            digits: Digits::Rounded,
            motion: Motion::default(),
            before: None,
            side: Side::default(),
            is_spot: false,
            has_ring: true,
            helps: false,
            marks: Marks::default(),
            chosen: zones::Chosen::default(),
        }
    }
}

impl PresentationState {
    /// Whether something is presented.
    pub(super) fn is_on(&self) -> bool {
        self.from.is_some()
    }

    /// Begins; `from` is what the person goes back to afterwards.
    pub(super) fn begin(&mut self, from: Work) {
        self.from = Some(from);
    }

    /// Ends; what the person was at before, if something was presented. How it is shown stays for the next time.
    pub(super) fn end(&mut self) -> Option<Work> {
        self.helps = false;
        self.is_spot = false;
        self.marks.wipe();
        self.from.take()
    }

    /// Takes away the help; `true` if it was there.
    pub(super) fn close_help(&mut self) -> bool {
        std::mem::take(&mut self.helps)
    }

    /// Forgets what belongs to another document.
    pub(super) fn forget(&mut self) {
        self.before = None;
        self.chosen = zones::Chosen::default();
        self.marks.wipe();
    }

    /// How large type is in a window of such a size: 1 while nothing is presented.
    pub(super) fn scale(&self, window: Vec2) -> f32 {
        if !self.is_on() {
            return 1.0;
        }
        let share = (window / WINDOW).min_elem();
        FACTOR * self.size * share.max(0.1)
    }

    /// Units with the digits that are shown.
    pub(super) fn units(&self, units: &Units) -> Units {
        if self.is_on() { units.with_digits(self.digits) } else { *units }
    }

    /// Whether nothing is to move.
    pub(super) fn is_still(&self) -> bool {
        self.motion.is_still()
    }

    /// Asks the system whether it wants less motion.
    pub(super) fn ask_system(&mut self) {
        self.motion.ask_system();
    }

    /// Takes the system's answer when it has come; `true` while it is awaited.
    pub(super) fn poll(&mut self) -> bool {
        self.motion.poll()
    }

    /// Takes what was switched the last time.
    pub(super) fn restore(&mut self, storage: &dyn eframe::Storage) {
        self.motion.restore(storage);
        if storage.get_string(KEPT_DIGITS).as_deref() == Some("full") {
            self.digits = Digits::Full;
        }
        let size = storage.get_string(KEPT_SIZE).and_then(|size| size.parse::<f32>().ok());
        self.size = size.filter(|size| keys::SIZES.contains(size)).unwrap_or(1.0);
    }

    /// Keeps it for the next time.
    pub(super) fn keep(&self, storage: &mut dyn eframe::Storage) {
        self.motion.keep(storage);
        let digits = if self.digits == Digits::Full { "full" } else { "rounded" };
        storage.set_string(KEPT_DIGITS, digits.to_owned());
        storage.set_string(KEPT_SIZE, self.size.to_string());
    }
}

/// Shows it in what room there is: what takes a strip of the window beforehand has it.
pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    state: &mut PresentationState,
    sheet: &mut DrawingState,
    plot: &mut CurvesState,
    intents: &mut Vec<Intent>,
) {
    let whole = ui.available_rect_before_wrap();
    ui.painter().rect_filled(whole, 0, view.palette.ground);
    // Beside a strip that has taken its room first, all of it is so much smaller.
    let view = &View { scale: state.scale(whole.size()), ..*view };
    keys::carry_out(ui, view, state, intents);
    state.before = state.before.take().filter(|before| before.is_of(view));
    if let Some(before) = &mut state.before {
        before.follow(view);
    }
    let places = Places::new(whole, view);
    sentence::show(ui, places.sentence, view, state.before.as_ref());
    if view.is_stale() {
        ui.set_opacity(look::OLD);
    }
    let nothing = Path::default();
    match &state.before {
        None => {
            within(ui, "drawing", places.left, |ui| drawing::show(ui, view, sheet, intents));
            let right = plotted::caption(ui, places.right, view, "", intents);
            within(ui, "plot", right, |ui| curves::show(ui, view, plot, intents));
        }
        Some(before) => {
            let was = before.view(view, &nothing);
            let names = before.scenarios(view);
            let named =
                |word: &str, i: usize| names.as_ref().map_or(word.to_owned(), |names| format!("{word}: {}", names[i]));
            let left = caption(ui, places.left, view, &named("Before", 0));
            let right = match state.side {
                Side::Plots => plotted::caption(ui, places.right, view, &named("Now", 1), intents),
                Side::Drawings => caption(ui, places.right, view, &named("Now", 1)),
            };
            match state.side {
                Side::Plots => {
                    within(ui, "plot before", left, |ui| curves::picture(ui, &was, plot));
                    within(ui, "plot", right, |ui| curves::show(ui, view, plot, intents));
                }
                Side::Drawings => {
                    within(ui, "drawing before", left, |ui| drawing::picture(ui, &was));
                    within(ui, "drawing", right, |ui| drawing::show(ui, view, sheet, intents));
                }
            }
        }
    }
    let before = state.before.as_ref().map(|before| before.study.results());
    zones::show(ui, places.zones, view, &mut state.chosen, before, intents);
    cost::show(ui, places.cost, view, state.before.as_ref());
    ui.set_opacity(1.0);
    state.marks.show(ui, whole, view);
    pointer::show(ui, whole, view, state.has_ring, state.is_spot);
    if state.helps {
        keys::help(ui, whole, view);
    }
}

/// Where everything lies. It depends on the window and on how many zones there are, so that nothing moves when figures change.
struct Places {
    sentence: Rect,
    left: Rect,
    right: Rect,
    zones: Rect,
    cost: Rect,
}

impl Places {
    fn new(whole: Rect, view: &View<'_>) -> Self {
        let gap = 4.0 * view.scale;
        let inner = whole.shrink2(vec2(1.5 * gap, gap));
        let strip =
            |top: f32, height: f32| Rect::from_min_max(pos2(inner.left(), top), pos2(inner.right(), top + height));
        let sentence = strip(inner.top(), sentence::height(view.scale));
        let cost_height = 22.0 * view.scale;
        let cost = strip(inner.bottom() - cost_height, cost_height);
        // Drawing and plot keep half of what is left, however many zones there are.
        let left_over = cost.top() - sentence.bottom() - 3.0 * gap;
        let zones_height = zones::height(view.project.zones.len(), view.scale).min(0.5 * left_over).max(0.0);
        let zones = strip(cost.top() - gap - zones_height, zones_height);
        let middle = Rect::from_min_max(
            pos2(inner.left(), sentence.bottom() + gap),
            pos2(inner.right(), (zones.top() - gap).max(sentence.bottom() + 2.0 * gap)),
        );
        let half = 0.5 * (middle.width() - gap);
        let left = Rect::from_min_size(middle.min, vec2(half, middle.height()));
        let right = Rect::from_min_max(pos2(middle.right() - half, middle.top()), middle.max);
        Self { sentence, left, right, zones, cost }
    }
}

/// A pane in its place.
fn within(ui: &mut Ui, name: &str, place: Rect, show: impl FnOnce(&mut Ui)) {
    ui.scope_builder(UiBuilder::new().max_rect(place).id_salt(name), show);
}

/// A word above a pane; what is left for the pane.
fn caption(ui: &Ui, place: Rect, view: &View<'_>, word: &str) -> Rect {
    // With room for half of the axis's uppermost figure below it.
    let height = 20.0 * view.scale;
    let at = (pos2(place.left(), place.top() + 0.4 * height), Align2::LEFT_CENTER);
    text::line(ui.painter(), at, place.width(), word, Type::strong(13.0 * view.scale), view.palette.quiet);
    Rect::from_min_max(place.min + vec2(0.0, height), place.max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use eframe::Storage;
    use std::collections::BTreeMap;

    /// What is kept, in memory.
    #[derive(Default)]
    struct Kept(BTreeMap<String, String>);

    impl Storage for Kept {
        fn get_string(&self, key: &str) -> Option<String> {
            self.0.get(key).cloned()
        }

        fn set_string(&mut self, key: &str, value: String) {
            self.0.insert(key.to_owned(), value);
        }

        fn remove_string(&mut self, key: &str) {
            self.0.remove(key);
        }

        fn flush(&mut self) {}
    }

    #[test]
    fn what_is_switched_is_kept_and_nonsense_is_not_taken() {
        let mut kept = Kept::default();
        let mut state = PresentationState { size: 0.8, digits: Digits::Full, ..PresentationState::default() };
        state.motion.switch();
        state.keep(&mut kept);
        let mut next = PresentationState::default();
        next.restore(&kept);
        assert_eq!((next.size, next.digits, next.is_still()), (0.8, Digits::Full, true));
        for size in ["40", "NaN", "large"] {
            kept.set_string(KEPT_SIZE, size.to_owned());
            next.restore(&kept);
            assert_eq!(next.size, 1.0, "{size}");
        }
    }

    #[test]
    fn type_grows_with_the_window_and_is_as_at_work_outside() {
        let mut state = PresentationState::default();
        assert_eq!(state.scale(WINDOW), 1.0);
        state.begin(Work::Tune);
        assert_eq!(state.scale(WINDOW), FACTOR);
        assert_eq!(state.scale(2.0 * WINDOW), 2.0 * FACTOR);
        // The narrower side counts.
        assert_eq!(state.scale(vec2(4.0 * WINDOW.x, 0.5 * WINDOW.y)), 0.5 * FACTOR);
        assert_eq!(state.end(), Some(Work::Tune));
        assert!(!state.is_on());
    }
}
