//! Where things lie on a plot, read off by its own figures as a person would with a ruler, and held against the sample's file.

use super::*;

/// A straight scale through two of the figures at an axis.
struct Ruler {
    zero: f64,
    per_unit: f64,
}

impl Ruler {
    fn through(figures: &[(f64, f64)]) -> Self {
        let [(a, at_a), (b, at_b)] = [figures[0], figures[figures.len() - 1]];
        let per_unit = (at_b - at_a) / (b - a);
        Self { zero: at_a - a * per_unit, per_unit }
    }

    fn read(&self, at: f64) -> f64 {
        (at - self.zero) / self.per_unit
    }
}

/// Rulers for flow, head and power, from the figures written at the axes.
fn rulers(tree: &Document<'_>) -> [Ruler; 3] {
    let middle = tree.descendants().find(|node| node.text() == Some("0")).unwrap();
    let size = number(middle, "font-size");
    let mut along = Vec::new();
    let mut up = Vec::new();
    for node in tree.descendants().filter(|node| node.has_tag_name("text")) {
        let Some(value) = node.text().and_then(|text| text.parse::<f64>().ok()) else { continue };
        let is_figure = number(node, "font-size") == size && node.attribute("font-weight") == Some("500");
        match node.attribute("text-anchor") {
            Some("middle") if is_figure => along.push((value, number(node, "x"))),
            Some("end") if is_figure => up.push((value, number(node, "y") - 0.36 * size)),
            _ => {}
        }
    }
    // Heads are written first, from nothing up; then powers.
    let second = up.iter().skip(1).position(|(value, _)| *value == 0.0).unwrap() + 1;
    [Ruler::through(&along), Ruler::through(&up[..second]), Ruler::through(&up[second..])]
}

fn points(node: Node<'_, '_>) -> Vec<[f64; 2]> {
    let number = |text: &str| text.parse().unwrap();
    let path = node.attribute("d").unwrap().replace(['M', 'L'], " | ");
    let pairs = path.split('|').filter(|part| !part.trim().is_empty());
    pairs.map(|part| part.trim().split_once(' ').map(|(x, y)| [number(x), number(y)]).unwrap()).collect()
}

#[track_caller]
fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} for {wanted}");
}

/// The library's file: 7.5 m at no flow, head limit 5.1 m, slope 25 %, so that the set-line begins at 3.825 m; at 95 % of full speed the
/// head at no flow is 0.95² times 7.5 m (affinity laws). Rounded to a hundredth of a unit of the picture.
#[test]
fn lines_lie_where_the_file_says() {
    let project = sample(SAMPLES[0]);
    let per = [Units::si(), Units::inch_pound()];
    // The foot is 0.3048 m and the gallon 3.785411784 l by definition.
    for (units, metre, cubic_metre_per_h) in
        [(&per[0], 1.0, 1.0), (&per[1], 1.0 / 0.3048, 1000.0 / (3.785_411_784 * 60.0))]
    {
        let svg = plot(&project, units, false, false);
        let tree = Document::parse(&svg).unwrap();
        let [flow, head, power] = rulers(&tree);
        let heads = tree.descendants().find(|node| has_class(node, "heads")).unwrap();
        let line = |name: &str| points(heads.descendants().rfind(|node| has_class(node, name)).unwrap());
        let full = line("family");
        near(flow.read(full[0][0]), 0.0, 0.002 * cubic_metre_per_h);
        near(head.read(full[0][1]), 7.5 * metre, 0.01 * metre);
        near(head.read(line("set-line")[0][1]), 3.825 * metre, 0.01 * metre);
        near(head.read(line("head-limit")[0][1]), 5.1 * metre, 0.01 * metre);
        near(head.read(line("speed-cap")[0][1]), 0.95 * 0.95 * 7.5 * metre, 0.01 * metre);
        // The regulated curve is the set-line up to where the cap takes over.
        near(head.read(line("regulated")[0][1]), 3.825 * metre, 0.01 * metre);
        // The catalogue: 69.61 W at 3.15 m³/h is its last point.
        let powers = tree.descendants().find(|node| has_class(node, "powers")).unwrap();
        let full = points(powers.descendants().find(|node| has_class(node, "family")).unwrap());
        let [x, y] = full[full.len() - 1];
        near(flow.read(x), 3.15 * cubic_metre_per_h, 0.005 * cubic_metre_per_h);
        near(power.read(y), 69.61, 0.1);
    }
}

/// The operating point lies where the figures of the axes put the study's answer, on the system curve and on the regulated one.
#[test]
fn the_operating_point_lies_where_the_study_says() {
    for name in SAMPLES {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        let result = study.results().pumps[&pump(&project)];
        let svg = plot(&project, &Units::si(), true, false);
        let tree = Document::parse(&svg).unwrap();
        let [flow, head, power] = rulers(&tree);
        let circles: Vec<[f64; 2]> = tree
            .descendants()
            .filter(|node| has_class(node, "point"))
            .map(|node| [number(node, "cx"), number(node, "cy")])
            .collect();
        let [upper, lower] = [circles[0], circles[1]];
        near(flow.read(upper[0]) / 3600.0, result.flow, 1e-3 * result.flow);
        near(head.read(upper[1]), result.head, 2e-3 * result.head);
        near(flow.read(lower[0]) / 3600.0, result.flow, 1e-3 * result.flow);
        near(power.read(lower[1]), result.electric_w, 4e-3 * result.electric_w);
        for class in ["system", "regulated"] {
            let heads = tree.descendants().find(|node| has_class(node, "heads")).unwrap();
            let line = points(heads.descendants().find(|node| has_class(node, class)).unwrap());
            let off = line.windows(2).map(|pair| off(upper, pair)).fold(f64::INFINITY, f64::min);
            assert!(off < 1.5, "{name}: {off} off the {class} line");
        }
    }
}

/// How far a point is off a stretch.
fn off(point: [f64; 2], pair: &[[f64; 2]]) -> f64 {
    let along = [0, 1].map(|axis: usize| pair[1][axis] - pair[0][axis]);
    let from = [0, 1].map(|axis: usize| point[axis] - pair[0][axis]);
    let length = along[0].hypot(along[1]).max(1e-12);
    let share = ((from[0] * along[0] + from[1] * along[1]) / (length * length)).clamp(0.0, 1.0);
    (from[0] - share * along[0]).hypot(from[1] - share * along[1])
}
