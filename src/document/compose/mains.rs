//! The mains: what joins the tees of the branches to each other and to the plant.
//!
//! The flow main runs above from near to far. Direct return: the return main runs back below it, section by section as long.
//! Reverse return: it runs on with the flow, from the first zone to past the last, and then comes back below everything.
//! Manifold: the tees of either side are one collector, without loss.

use super::branch::Drawn;
use super::plan::{Arrangement, PlannedRun, SystemPlan};
use super::plant::Plant;
use super::sheet::{Sheet, branch};
use super::{RETURN_Y, REVERSE_Y, ZONE_STEP, ZONE_X};
use crate::document::PortRef;

/// How far past the last tee a reverse return turns back, in grid steps.
const PAST: f64 = 3.0;

/// Draws the mains of a plan.
pub(super) fn draw(plan: &SystemPlan, plant: &Plant, drawn: &[Drawn], sheet: &mut Sheet) {
    let mains: Vec<PlannedRun> = plan.zones.iter().filter_map(|zone| zone.main).collect();
    match plan.arrangement {
        Arrangement::DirectReturn => direct(plant, drawn, &mains, sheet),
        Arrangement::ReverseReturn => reverse(plant, drawn, &mains, sheet),
        Arrangement::Manifold => manifold(plant, drawn, &mains, sheet),
    }
}

/// Tee after tee on the flow; each section is drawn before what comes back beside it.
fn direct(plant: &Plant, drawn: &[Drawn], mains: &[PlannedRun], sheet: &mut Sheet) {
    let (mut from, mut to) = (plant.flow, plant.back);
    for (number, (zone, run)) in (1..).zip(drawn.iter().zip(mains)) {
        sheet.pipe(format!("Main {number} flow"), from, branch(zone.flow_tee), *run, Vec::new());
        sheet.pipe(format!("Main {number} return"), branch(zone.return_tee), to, *run, Vec::new());
        (from, to) = (branch(zone.flow_tee), branch(zone.return_tee));
    }
}

fn reverse(plant: &Plant, drawn: &[Drawn], mains: &[PlannedRun], sheet: &mut Sheet) {
    let mut from = plant.flow;
    let mut before: Option<PortRef> = None;
    for (number, (zone, run)) in (1..).zip(drawn.iter().zip(mains)) {
        sheet.pipe(format!("Main {number} flow"), from, branch(zone.flow_tee), *run, Vec::new());
        if let Some(before) = before {
            // A bore that the plan lays down is that of the flow: here the return carries what lies before, not behind.
            let run = PlannedRun { bore: None, ..*run };
            let to = branch(zone.return_tee);
            sheet.pipe(format!("Main {number} return"), before, to, run, Vec::new());
        }
        from = branch(zone.flow_tee);
        before = Some(branch(zone.return_tee));
    }
    let (Some(last), Some(first)) = (before, mains.first()) else { return };
    let length = mains.iter().map(|run| run.length).sum();
    let x = ZONE_X + ZONE_STEP * drawn.len().saturating_sub(1) as f64 + PAST;
    let bends = vec![[x, RETURN_Y], [x, REVERSE_Y]];
    sheet.pipe("Main return to the plant".to_owned(), last, plant.back, PlannedRun { length, ..*first }, bends);
}

fn manifold(plant: &Plant, drawn: &[Drawn], mains: &[PlannedRun], sheet: &mut Sheet) {
    let none = PlannedRun { length: 0.0, minor_k: 0.0, bore: None };
    let run = mains.first().copied().unwrap_or(none);
    let (mut from, mut to) = (plant.flow, plant.back);
    for (index, zone) in drawn.iter().enumerate() {
        let (flow_tee, return_tee) = (branch(zone.flow_tee), branch(zone.return_tee));
        if index == 0 {
            sheet.pipe("Main flow".to_owned(), from, flow_tee, run, Vec::new());
            sheet.pipe("Main return".to_owned(), return_tee, to, run, Vec::new());
        } else {
            sheet.joint(from, flow_tee, Vec::new());
            sheet.joint(return_tee, to, Vec::new());
        }
        (from, to) = (flow_tee, return_tee);
    }
}
