//! Symbols: every kind has one.

use super::*;
use headwise::document::{Component, ComponentChoice, Duty, Turn};
use headwise::report::picture::symbols::{Part, half_size, symbol};

fn points(part: &Part) -> Vec<[f64; 2]> {
    match part {
        Part::Line(points, _) | Part::Shape(points, _) => points.clone(),
        Part::Circle([x, y], radius, _) => vec![[x - radius, y - radius], [x + radius, y + radius]],
        Part::Letter(at, _) => vec![*at],
        Part::Point => vec![[0.0, 0.0]],
    }
}

/// It stays within what is told of its size, stems and drives aside, however the component stands.
#[test]
fn every_kind_has_a_symbol_of_its_size() {
    let project = sample(SAMPLES[0]);
    for choice in ComponentChoice::ALL {
        for turn in [Turn::Right, Turn::Down, Turn::Left, Turn::Up] {
            let component = Component::new("C", [0.0, 0.0], turn, choice.with_usual_figures(&project));
            let [width, height] = half_size(&component);
            let parts = symbol(&component, Duty::Cooling);
            assert!(!parts.is_empty());
            for [x, y] in parts.iter().flat_map(points) {
                assert!(x.abs() <= width + 0.25 && y.abs() <= height + 0.25, "{choice:?} {turn:?}: {x} {y}");
            }
        }
    }
}
