//! `index`: every printed step follows from those before it.

use super::*;

/// The steps of Regulation (EC) 641/2009 Annex II, worked here from the figures of the report.
#[test]
fn every_step_follows_from_the_one_before() {
    for name in [LIBRARY, GLYCOL, CLINIC] {
        let report = json(&["index", &sample(name), "--json"]);
        let (flow, head) = (number(&report, "reference_flow_m3_per_h"), number(&report, "reference_head_m"));
        let hydraulic = 1000.0 * 9.80665 * flow / 3600.0 * head;
        near(number(&report, "hydraulic_w"), hydraulic, 1e-6);
        let reference = 1.7 * hydraulic + 17.0 * (1.0 - (-0.3 * hydraulic).exp());
        near(number(&report, "reference_w"), reference, 1e-6);
        let mut average = 0.0;
        for (point, (share, weight)) in
            list(&report, "points").iter().zip([(1.0, 0.06), (0.75, 0.15), (0.5, 0.35), (0.25, 0.44)])
        {
            near(number(point, "flow_m3_per_h"), share * flow, 1e-9);
            near(number(point, "reference_head_m"), head * (0.5 + 0.5 * share), 1e-9);
            let charge = (number(point, "reference_head_m") / number(point, "head_m")).max(1.0);
            near(number(point, "compensated_w"), number(point, "electric_w") * charge, 1e-9);
            average += weight * number(point, "compensated_w");
        }
        near(number(&report, "average_w"), average, 1e-9);
        near(number(&report, "index"), 0.49 * average / reference, 1e-9);
        assert!(report["caution"].as_str().unwrap().contains("no certificate"));
    }
}

#[test]
fn the_text_shows_every_step_and_that_it_is_an_estimate() {
    let file = sample(LIBRARY);
    let report = json(&["index", &file, "--json"]);
    let ran = headwise(&["index", &file]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let rounded = format!("to two decimals {:.2}\n", number(&report, "index_rounded"));
    for words in ["estimated", "no certificate", "Q100 = 2.425\u{a0}m³/h", "P_hyd", "P_ref", "P_L,avg", &rounded] {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
    // The foot is 0.3048 m by definition.
    let feet = format!("H100 = {:.2}\u{a0}ft", number(&report, "reference_head_m") / 0.3048);
    assert!(headwise(&["index", &file, "--units", "inch-pound"]).out.contains(&feet));
    refused(&["index", &sample("thornwick-court.ron")], 1, &["2 circulators"]);
}
