//! What a page's script finds in a plot: a group for each state, hidden, with its system curve and point, and the scale of the axes.

use super::*;

#[test]
fn every_scenario_has_a_group_that_lies_where_its_study_says() {
    let project = sample(SAMPLES[0]);
    let svg = plot(&project, &Units::si(), false, true);
    let tree = Document::parse(&svg).unwrap();
    let scale = tree.descendants().find(|node| has_class(node, "scale")).unwrap();
    let place = |value: f64, end: &str, [from, to]: [&str; 2]| {
        number(scale, from) + value / number(scale, end) * (number(scale, to) - number(scale, from))
    };
    let groups: Vec<Node<'_, '_>> = tree.descendants().filter(|node| has_class(node, "scenario")).collect();
    assert_eq!(groups.len(), project.scenarios.len());
    for (index, group) in groups.into_iter().enumerate() {
        assert_eq!(group.attribute("data-scenario"), Some(index.to_string().as_str()));
        assert_eq!(group.attribute("visibility"), Some("hidden"));
        assert!(group.descendants().any(|node| has_class(&node, "system")));
        let mut case = project.clone();
        case.apply(&Command::EnterScenario(index)).unwrap();
        let study = Study::new(&case).unwrap();
        let result = study.results().pumps[&pump(&project)];
        let points: Vec<Node<'_, '_>> = group.descendants().filter(|node| has_class(node, "point")).collect();
        let x = place(result.flow, "data-flow-end", ["data-left", "data-right"]);
        let head = place(result.head, "data-head-end", ["data-bottom", "data-top"]);
        let power = place(result.electric_w, "data-power-end", ["data-power-bottom", "data-power-top"]);
        for (point, y) in points.iter().zip([head, power]) {
            assert!((number(*point, "cx") - x).abs() < 0.02 && (number(*point, "cy") - y).abs() < 0.02, "{index}");
        }
        assert_eq!(points.len(), 2);
    }
    assert!(tree.descendants().any(|node| has_class(&node, "present")));
    // Without layers nothing is hidden.
    let plain = plot(&project, &Units::si(), false, false);
    assert!(!plain.contains("visibility") && !plain.contains("data-scenario"));
}
