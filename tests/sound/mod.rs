//! What must hold of every drawing out of a list of zones.

use headwise::document::{ComponentKind, Project, Turn, flaws};
use headwise::file;
use headwise::problems;
use headwise::study::Study;

/// A drawing that is sound: no flaw, no problem, no two things in one place, the same after saving, every zone at its design
/// flow within 0.5 %.
#[track_caller]
pub fn is_sound(project: &Project) {
    assert_eq!(flaws(project), []);
    assert_eq!(problems::find(project), []);
    apart(project);
    let text = file::to_text(project).unwrap();
    assert_eq!(file::parse(&text, "saved").unwrap(), *project);
    let study = Study::new(project).unwrap();
    let results = study.results();
    assert!(results.converged() && results.mass_error <= 1e-9, "{:?}", results.verdict);
    for (id, zone) in &results.zones {
        assert!((zone.share - 1.0).abs() <= 0.005, "{}: {}", project.zones[id].name, zone.share);
    }
}

/// A thing on the drawing: name, left, top, right, bottom in grid steps.
type Place = (String, [f64; 4]);

/// Symbols as large as they are drawn, cards 6.9 by 4.9 steps to the right of upright emitters; none may cover another,
/// and no pipe may run through a card.
#[track_caller]
fn apart(project: &Project) {
    let mut places: Vec<Place> = Vec::new();
    for component in project.components.values() {
        let [x, y] = component.at;
        // In the symbol's own frame, inlet left: drives and hand wheels of valves stand above them.
        let (left, top, right, bottom) = match component.kind {
            ComponentKind::Junction => (-0.2, -0.2, 0.2, 0.2),
            ComponentKind::Emitter(_) => (-1.0, -0.7, 1.0, 0.7),
            _ => (-1.0, -1.1, 1.0, 0.8),
        };
        let [[a, b], [c, d]] = [[left, top], [right, bottom]].map(|corner| component.turn.apply(corner));
        places.push((component.name.clone(), [x + a.min(c), y + b.min(d), x + a.max(c), y + b.max(d)]));
    }
    let mut cards: Vec<Place> = Vec::new();
    for zone in project.zones.values() {
        let emitter = &project.components[&zone.emitter];
        let [x, y] = emitter.at;
        assert_eq!(emitter.turn, Turn::Down);
        cards.push((format!("card of {}", zone.name), [x + 1.2, y - 2.45, x + 8.1, y + 2.45]));
    }
    for pipe in project.pipes.values() {
        let end = |port: headwise::document::PortRef| project.components[&port.component].port_at(port.port).unwrap();
        let points: Vec<[f64; 2]> =
            [end(pipe.from)].into_iter().chain(pipe.bends.iter().copied()).chain([end(pipe.to)]).collect();
        for pair in points.windows(2) {
            let ([a, b], [c, d]) = (pair[0], pair[1]);
            assert!(a == c || b == d, "{} runs aslant", project.pipe_label(pipe));
            let way = (project.pipe_label(pipe), [a.min(c), b.min(d), a.max(c), b.max(d)]);
            cards.iter().for_each(|card| assert!(!covers(&way, card), "{way:?} runs through {card:?}"));
        }
    }
    places.extend(cards);
    for (index, first) in places.iter().enumerate() {
        for second in &places[index + 1..] {
            assert!(!covers(first, second), "{first:?} covers {second:?}");
        }
    }
}

fn covers((_, a): &Place, (_, b): &Place) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}
