//! What a frame of the window costs with large drawings, in milliseconds of CPU: one pass or two of our code and the
//! toolkit's tessellation, without the graphics driver. 60 frames a second leave 16.7 ms; a drawing of 1,000 zones is to take
//! less than 8.
//!
//! Each row: the whole drawing, and a part of it as large as can be worked in; moved, zoomed, a component dragged, a setting
//! dragged, a valve shut. Median and greatest of the frames.

#![cfg(feature = "gui")]
#![expect(clippy::expect_used, clippy::unwrap_used, reason = "a benchmark may stop at what it did not expect")]
#![expect(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../plans/copies.rs"]
mod copies;
#[path = "../plans/mod.rs"]
#[expect(dead_code, reason = "it takes one of the two buildings")]
mod plans;

use egui::{
    Context, Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, RawInput, Rect, TouchPhase, Vec2, pos2, vec2,
};
use headwise::app::{Desk, Standing, Window, prepare};
use headwise::document::{Arrangement, Command, Project, compose};
use headwise::engine::units::Units;
use headwise::file;
use std::path::Path;
use std::time::{Duration, Instant};

/// The library's zones over and over, in one row; from 1,000 on in several circuits below each other.
fn building(zones: usize) -> Project {
    /// Most zones of one circuit, and how far apart circuits are drawn, grid steps.
    const CIRCUIT: usize = 1_000;
    const ROW: f64 = 24.0;
    if zones > CIRCUIT {
        let circuit = building(CIRCUIT);
        let last = |project: &Project| project.components.keys().next_back().map_or(1, |id| id.0);
        let (own, mut all) = (last(&circuit), copies::copies(&circuit, zones / CIRCUIT));
        for (id, component) in &mut all.components {
            component.at[1] += ROW * f64::from((id.0 - 1) / (own + 1));
        }
        for (id, pipe) in &mut all.pipes {
            let row = f64::from((id.0 - 1) / (circuit.pipes.keys().next_back().map_or(1, |id| id.0) + 1));
            pipe.bends.iter_mut().for_each(|bend| bend[1] += ROW * row);
        }
        return all;
    }
    let mut plan = plans::library(Arrangement::DirectReturn, false);
    let pattern = plan.zones.clone();
    plan.zones = (0..zones)
        .map(|index| {
            let mut zone = pattern[index % pattern.len()].clone();
            zone.name = format!("Zone {index}");
            zone
        })
        .collect();
    compose(&plan).expect("the plan can be drawn").project
}

/// The window with a hand on it.
struct Bench {
    ctx: Context,
    window: Option<Window>,
    size: Vec2,
    time: f64,
}

impl Bench {
    fn new(size: Vec2) -> Self {
        let ctx = Context::default();
        prepare(&ctx);
        Self { ctx, window: None, size, time: 0.0 }
    }

    /// One frame with some events; what it took.
    fn frame(&mut self, events: Vec<Event>) -> Duration {
        self.time += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, self.size)),
            time: Some(self.time),
            events,
            ..RawInput::default()
        };
        let begun = Instant::now();
        let output = self.ctx.run_ui(input, |ui| {
            self.window.get_or_insert_with(|| Window::new(ui.ctx()).unwrap()).show(ui);
        });
        let mut output = output;
        let shapes = std::mem::take(&mut output.shapes);
        let meshes = self.ctx.tessellate(shapes, output.pixels_per_point);
        let took = begun.elapsed();
        std::hint::black_box(&meshes);
        output.textures_delta.set.clear();
        output.textures_delta.free.clear();
        took
    }

    fn window(&mut self) -> &mut Window {
        self.window.as_mut().unwrap()
    }

    /// Opens a file; how long until it is on screen, and the longest frame meanwhile.
    fn open(&mut self, path: &Path) -> (Duration, Duration) {
        let begun = Instant::now();
        self.frame(Vec::new());
        self.window().open(path);
        let mut longest = Duration::ZERO;
        while self.window().desk().path() != Some(path) || *self.window().desk().standing() != Standing::Current {
            longest = longest.max(self.frame(Vec::new()));
            std::thread::sleep(Duration::from_millis(5));
        }
        longest = longest.max(self.frame(Vec::new()));
        (begun.elapsed(), longest)
    }

    fn press(&mut self, key: Key, modifiers: Modifiers) -> Duration {
        let event = |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
        let took = self.frame(vec![event(true)]);
        self.frame(vec![event(false)]);
        took
    }

    fn button(&mut self, pos: Pos2, button: PointerButton, pressed: bool) -> Duration {
        self.frame(vec![
            Event::PointerMoved(pos),
            Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE },
        ])
    }

    /// Drags from one place to another in small steps.
    fn drag(&mut self, from: Pos2, to: Pos2, button: PointerButton) -> Vec<Duration> {
        self.frame(vec![Event::PointerMoved(from)]);
        self.button(from, button, true);
        let steps = (1..=30).map(|i| from.lerp(to, i as f32 / 30.0));
        let taken = steps.map(|pos| self.frame(vec![Event::PointerMoved(pos)])).collect();
        self.button(to, button, false);
        taken
    }

    fn zoom(&mut self, at: Pos2, by: f32) -> Vec<Duration> {
        self.frame(vec![Event::PointerMoved(at)]);
        let wheel = || Event::MouseWheel {
            unit: MouseWheelUnit::Point,
            source: egui::MouseWheelSource::Unknown,
            delta: vec2(0.0, by),
            phase: TouchPhase::Move,
            modifiers: Modifiers::NONE,
        };
        (0..30).map(|_| self.frame(vec![wheel()])).collect()
    }
}

fn row(what: &str, mut taken: Vec<Duration>) {
    taken.sort();
    let ms = |time: &Duration| 1e3 * time.as_secs_f64();
    let (median, greatest) = (taken.get(taken.len() / 2).map_or(0.0, ms), taken.last().map_or(0.0, ms));
    println!("  {what:<44} {median:8.2} {greatest:8.2}");
}

/// What the desk takes for a change, without anything painted.
fn at_the_desk(project: &Project) {
    let units = Units::si();
    let mut desk = Desk::new(project.clone(), None).unwrap();
    let (pump, unit) = project.pumps().next().unwrap();
    let limit = unit.regulation.head_limit_m.unwrap_or(5.0);
    let valve =
        project.zones.values().nth(project.zones.len().min(1_000) / 8 * 4 + 2).and_then(|zone| zone.valve).unwrap();
    let mut timed = |what: &str, command: &dyn Fn(usize) -> Command| {
        let taken = (0..10).map(|i| {
            let begun = Instant::now();
            desk.apply(&command(i), &units).unwrap();
            begun.elapsed()
        });
        row(what, taken.collect());
    };
    timed("desk: head limit", &|i| Command::SetHeadLimit(pump, Some(limit - 0.01 * i as f64)));
    timed("desk: a valve shut or opened", &|i| Command::SetOpen(valve, i % 2 == 1));
    let begun = Instant::now();
    let checks = desk.checks(&units).len();
    println!("  {:<44} {:8.2}  {checks} of them", "desk: the checks", 1e3 * begun.elapsed().as_secs_f64());
}

/// The middle of the sheet while drawing, at 1920 by 1080 points.
const SHEET: Pos2 = pos2(842.0, 446.0);

/// The sizes asked for on the command line, or the usual ones.
fn sizes() -> Vec<usize> {
    let asked: Vec<usize> = std::env::args().filter_map(|word| word.parse().ok()).collect();
    if asked.is_empty() { vec![100, 1_000, 10_000] } else { asked }
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    for zones in sizes() {
        let path = folder.path().join(format!("{zones}.ron"));
        file::save(&building(zones), &path).unwrap();
        let mut bench = Bench::new(vec2(1920.0, 1080.0));
        let (opened, longest) = bench.open(&path);
        println!(
            "{zones} zones: on screen after {:.2} s, longest frame {:.0} ms",
            opened.as_secs_f64(),
            1e3 * longest.as_secs_f64()
        );
        println!("  {:<44} {:>8} {:>8}", "milliseconds a frame", "median", "greatest");
        row("tune: at rest, whole drawing", (0..20).map(|_| bench.frame(Vec::new())).collect());
        bench.press(Key::F2, Modifiers::NONE);
        for _ in 0..5 {
            bench.frame(Vec::new());
        }
        row("draw: at rest, whole drawing", (0..20).map(|_| bench.frame(Vec::new())).collect());
        let middle = pos2(700.0, 400.0);
        row("draw: whole drawing moved", bench.drag(middle, middle + vec2(120.0, 60.0), PointerButton::Secondary));
        row("draw: zoomed in", bench.zoom(middle, 120.0));
        row("draw: a part moved", bench.drag(middle, middle + vec2(-200.0, 40.0), PointerButton::Secondary));
        row(
            "draw: pointer moved over a part",
            (0..30).map(|i| bench.frame(vec![Event::PointerMoved(middle + vec2(3.0 * i as f32, 0.0))])).collect(),
        );
        // What the search finds comes to the middle of the sheet and is selected.
        bench.press(Key::F, Modifiers::COMMAND);
        bench.frame(vec![Event::Text(format!("Zone {} zone valve", zones.min(1_000) / 8 * 4 + 2))]);
        bench.frame(Vec::new());
        row("draw: found by name", vec![bench.press(Key::Enter, Modifiers::NONE)]);
        assert!(bench.window().selection().only_component().is_some(), "the search has found nothing");
        let arrows = [Key::ArrowDown, Key::ArrowUp];
        row("draw: nudged by a key", (0..10).map(|i| bench.press(arrows[i % 2], Modifiers::NONE)).collect());
        let dragged = bench.drag(SHEET, SHEET + vec2(60.0, 30.0), PointerButton::Primary);
        assert!(
            bench.window().desk().history().undo_name().is_some_and(|name| name.starts_with("move")),
            "nothing was dragged"
        );
        row("draw: a component dragged", dragged);
        row("draw: undone", vec![bench.press(Key::Z, Modifiers::COMMAND)]);
        at_the_desk(&building(zones));
    }
}
