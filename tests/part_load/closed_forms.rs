//! Closed forms of systems whose losses go with the square of flow, with the reference flow at design flow and the head limit at
//! design head (derived for these tests: H = R Q² and the set-line through design; textbook algebra).

use crate::ladder::{HEAD_M, Ladder};
use crate::systems::exact;
use headwise::document::{Acceptance, ComponentId, ComponentKind, Project, Zone, ZoneId};
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::study::part_load::{PartLoad, ValveState};
use headwise::study::settings::Deciding;
use std::collections::BTreeSet;

/// A state in which only these zones are open, counted from one at the pump.
fn only(project: &Project, open: &[usize]) -> ValveState {
    let is_open = |zone: &Zone| open.iter().any(|number| zone.name == format!("Zone {number}"));
    let shut: BTreeSet<ZoneId> = project.zones.iter().filter(|(_, zone)| !is_open(zone)).map(|(id, _)| *id).collect();
    ValveState { name: format!("{open:?}"), hours: 0.0, shut, outdoor_c: None }
}

fn through_design(zones: usize, slope: f64) -> Regulation {
    Regulation {
        head_limit_m: Some(HEAD_M),
        slope,
        speed_cap: 1.0,
        power_limit_w: None,
        minimum_speed: 0.0,
        reference: ReferenceFlow::DesignFlow(zones as f64 * Ladder::zone_flow()),
    }
}

/// The steepest slope at which every state is served, found through the deciding edges.
fn steepest(part_load: &PartLoad, deciding: &Deciding, zones: usize) -> f64 {
    let settings = at_design_head(deciding);
    let serves = |slope: f64| deciding.serves(&part_load.law(&Regulation { slope, ..settings(zones) }));
    assert!(serves(0.0), "{deciding:?}");
    last(serves)
}

/// The last slope at which something holds that holds up to there.
fn last(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}

/// Settings without slope, a hair above what the state that asks for most asks for: edges of combinations are solved to 1e-6 of flow.
fn at_design_head(deciding: &Deciding) -> impl Fn(usize) -> Regulation {
    let most = deciding.floors.iter().map(|floor| floor.edge.head).fold(0.0, f64::max);
    // That of all zones is design head, but for next to nothing that tees and emitters take.
    assert!(most <= HEAD_M * (1.0 + 5e-5), "{most}");
    move |zones| Regulation { head_limit_m: Some(most * (1.0 + 5e-6)), ..through_design(zones, 0.0) }
}

fn strict(project: &mut Project) {
    project.acceptance = Acceptance { low: 1.0, high: 5.0, source: "strict".to_owned() };
    project.limits.valve_drop = 1e6;
    project.every_combination = true;
}

/// Two balanced zones, half of design head lost in pipe that both share (c = ½): the far one alone, at half the flow (x = ½), gets
/// y of its design flow where (c x² + 1 − c) y² = 1 − s (1 − x y): 126.5, 111.7, 100 and 80 % at slopes of 0, 50, 75 and 100 %.
#[test]
fn one_of_two_zones_alone() {
    let (project, pump) = Ladder { zones: 2, common: 0.5, mains: 0.0, is_limited: false }.draw();
    let state = only(&project, &[2]);
    let far = project.zone_named("Zone 2").unwrap();
    let part_load = PartLoad::of_states(&project, pump, vec![state.clone()]).unwrap();
    for (slope, expected) in [(0.0, 1.265), (0.5, 1.117), (0.75, 1.0), (1.0, 0.8)] {
        let settings = through_design(2, slope);
        let [share, _] = part_load.zone_in(&part_load.law(&settings), 0, far).unwrap();
        assert!((share - expected).abs() < 1e-3, "{slope}: {share}");
        // By the closed form itself, to more figures: 0.625 y² − ½ s y − (1 − s) = 0.
        let closed = (0.5 * slope + (0.25 * slope * slope + 2.5 * (1.0 - slope)).sqrt()) / 1.25;
        let found = exact(&project, pump, settings, &state).results().zones[&far].share;
        assert!((found - closed).abs() < 2e-5, "{slope}: {found} instead of {closed}");
        assert!((share - closed).abs() < 3e-4, "{slope}: {share} instead of {closed}");
    }
}

/// No starving means s ≤ c (1 + x): for c = ½ and x = ½ 75 %; for other shares c likewise.
#[test]
fn the_right_slope_of_two_zones() {
    for common in [0.5, 0.3, 0.65] {
        let (mut project, pump) = Ladder { zones: 2, common, mains: 0.0, is_limited: false }.draw();
        strict(&mut project);
        let part_load = PartLoad::new(&project, pump).unwrap();
        let found = steepest(&part_load, &Deciding::new(&part_load), 2);
        assert!((found - 1.5 * common).abs() < 2e-4, "{found} instead of {}", 1.5 * common);
    }
}

/// N equal zones evenly along a direct-return main that takes the share d of design head, no balancing loss at the near ones:
/// the far one alone bears d (1 − 6/((N+1)(2N+1)))/(1 − 1/N), all but the nearest d (2N−1) 6/((N+1)(2N+1)): for N = 4 1.156 d and
/// 0.933 d, so that no zone alone decides.
#[test]
fn the_strictest_combination_along_a_main() {
    for (zones, mains) in [(4, 0.6), (3, 0.5), (5, 0.75)] {
        let (mut project, pump) = Ladder { zones, common: 0.0, mains, is_limited: true }.draw();
        strict(&mut project);
        let n = zones as f64;
        let sum = 6.0 / ((n + 1.0) * (2.0 * n + 1.0));
        let nearest_shut = mains * (2.0 * n - 1.0) * sum;
        let far_alone = mains * (1.0 - sum) / (1.0 - 1.0 / n);
        if zones == 4 {
            assert!((far_alone / mains - 1.156).abs() < 5e-4 && (nearest_shut / mains - 0.933).abs() < 5e-4);
        }
        let part_load = PartLoad::new(&project, pump).unwrap();
        let deciding = Deciding::new(&part_load);
        let found = steepest(&part_load, &deciding, zones);
        let least = nearest_shut.min(far_alone);
        assert!((found - least).abs() < 5e-4, "{zones}: {found} instead of {least}");
        // What is missed first beyond it is that combination.
        let settings = Regulation { slope: found + 0.01, ..at_design_head(&deciding)(zones) };
        let miss = deciding.worst(&part_load.law(&settings)).unwrap();
        assert_eq!(part_load.state_name(miss.state), "all but Zone 1", "{zones}");
        // The far one alone, by its state alone and by the study itself.
        let alone = only(&project, &[zones]);
        project.every_combination = false;
        let of_one = PartLoad::of_states(&project, pump, vec![alone.clone()]).unwrap();
        let settings = at_design_head(&deciding);
        let alone_serves =
            |slope: f64| Deciding::new(&of_one).serves(&of_one.law(&Regulation { slope, ..settings(zones) }));
        let found = last(alone_serves);
        assert!((found - far_alone).abs() < 2e-4, "{zones}: {found} instead of {far_alone}");
        let far = project.zone_named(&format!("Zone {zones}")).unwrap();
        let all_but_nearest: Vec<usize> = (2..=zones).collect();
        for (slope, state) in [(far_alone, alone), (nearest_shut, only(&project, &all_but_nearest))] {
            let share = exact(&project, pump, through_design(zones, slope), &state).results().zones[&far].share;
            assert!((share - 1.0).abs() < 5e-5, "{}: {share}", state.name);
        }
    }
}

/// At design dQ/Q = −(dR/R)/(2 − s), for R that rises; where the set-line is level, s = 0.
#[test]
fn a_change_of_resistance_at_design() {
    let (project, pump) = Ladder { zones: 1, common: 0.4, mains: 0.0, is_limited: false }.draw();
    let state = only(&project, &[1]);
    let flow = |project: &Project, slope: f64| {
        exact(project, pump, through_design(1, slope), &state).results().pumps[&pump].flow
    };
    for slope in [0.0, 0.25, 0.5, 0.8, 1.0] {
        let rise = 1e-3;
        let resisting = scaled(&project, rise);
        let change = flow(&resisting, slope) / flow(&project, slope) - 1.0;
        let closed = -rise / (2.0 - slope);
        // The next term of the series is of the order of the rise.
        assert!((change / closed - 1.0).abs() < 2.0 * rise, "{slope}: {change} instead of {closed}");
    }
}

/// All resistances higher by a share.
fn scaled(project: &Project, rise: f64) -> Project {
    let mut project = project.clone();
    for component in project.components.values_mut() {
        if let ComponentKind::IsolationValve { kv, .. } | ComponentKind::ZoneValve { kv, .. } = &mut component.kind {
            *kv /= (1.0 + rise).sqrt();
        }
    }
    project
}

/// The static loop gain, slope of the set-line over slope of the system curve, is s Q/(2 ((1 − s) Q_ref + s Q)), never above a half;
/// read from the margin between the two slopes that the study tells.
#[test]
fn the_static_loop_gain() {
    let (project, pump) = Ladder { zones: 4, common: 0.3, mains: 0.3, is_limited: false }.draw();
    let reference = 4.0 * Ladder::zone_flow();
    for open in [vec![4], vec![1, 2], vec![2, 3, 4]] {
        for slope in [0.2, 0.5, 0.9, 1.0] {
            let state = only(&project, &open);
            let study = exact(&project, pump, through_design(4, slope), &state);
            let found = study.results().pumps[&pump];
            // Along H = R Q² the system's slope is 2 H/Q.
            let system = 2.0 * found.head / found.flow;
            let gain = 1.0 - found.stability_margin / system;
            let closed = slope * found.flow / (2.0 * ((1.0 - slope) * reference + slope * found.flow));
            assert!(found.flow < reference, "{open:?}: {found:?}");
            assert!(
                (gain - closed).abs() < 1e-4 && gain <= 0.5 + 1e-4,
                "{open:?}, {slope}: {gain} instead of {closed}"
            );
        }
    }
}

/// The pump of the worked figures: H = 7.5 n² − 0.4252 Q² (Q in m³/h), 4.873 m at design flow. At half slope and the reference flow
/// of the full-speed curve a pump set to design head passes only 93 % of design flow with all zones open; it needs 5.238 m for
/// that, and 5.085 m at 25 % (worked by hand: 1 − s (1 − Q/Q_ref) with Q_ref where the curve crosses the limit).
#[test]
fn a_head_limit_at_design_head_is_too_low_for_a_slope_with_a_far_reference() {
    let (project, pump) = crate::systems::sample("fernhollow-library");
    let (part_load, design) = crate::buildings::at_design(&project, pump);
    let all = &part_load.tables[0];
    let share = |limit: f64, slope: f64| {
        let settings = Regulation {
            head_limit_m: Some(limit),
            slope,
            reference: ReferenceFlow::FullSpeed,
            ..through_design(1, 0.0)
        };
        part_load.law(&settings).point(all).flow / design.flow
    };
    // As a share of the design head that this drawing has.
    let scale = design.head / 4.873;
    let short = share(design.head, 0.5);
    assert!((short - 0.93).abs() < 0.005, "{short}");
    for (limit, slope) in [(5.238, 0.5), (5.085, 0.25)] {
        let found = share(limit * scale, slope);
        assert!((found - 1.0).abs() < 2e-3, "{limit}: {found}");
    }
}

/// Where a pump comes to stand when nothing lets water through: nothing flows, the head is that of the set-line at no flow.
#[test]
fn nothing_open() {
    let (project, pump) = Ladder { zones: 2, common: 0.5, mains: 0.0, is_limited: false }.draw();
    let state = only(&project, &[]);
    check_standing(&project, pump, &state, 0.5);
    check_standing(&project, pump, &state, 0.0);
}

fn check_standing(project: &Project, pump: ComponentId, state: &ValveState, slope: f64) {
    let part_load = PartLoad::of_states(project, pump, vec![state.clone()]).unwrap();
    let point = part_load.law(&through_design(2, slope)).point(&part_load.tables[0]);
    assert!(point.flow.abs() < 1e-9 && (point.head - (1.0 - slope) * HEAD_M).abs() < 1e-6, "{point:?}");
    // H₀ n² = H.
    assert!((point.speed - ((1.0 - slope) * HEAD_M / 10.0).sqrt()).abs() < 1e-6, "{point:?}");
    let served = part_load.tables[0].served;
    assert!(served.least.is_none() && served.most.is_none() && served.is_possible(), "{served:?}");
}
