//! What results are judged by and compared with: energy, uncertainty, variants of settings.

use super::Found;
use crate::document::{MOST_VARIANTS, Project, Variant};

pub(super) fn flaws(project: &Project, found: &mut Found) {
    found.at("energy");
    let energy = &project.energy;
    for (name, value) in [("price", energy.price_per_kwh), ("emission factor", energy.co2_kg_per_kwh)] {
        if let Some(value) = value {
            found.at_least_zero(&format!("{name} of a kilowatt-hour"), value);
        }
    }
    found.at("uncertainty");
    let off = &project.uncertainty;
    let shares = [("lengths", off.length), ("roughness", off.roughness), ("glycol", off.glycol), ("valves", off.valve)];
    for (name, share) in shares {
        if !(0.0..1.0).contains(&share) {
            found.say(format!("that of {name} must lie from 0 to below 100 %: give such a share"));
        }
    }
    found.at("variants");
    let count = project.variants.len();
    if count > MOST_VARIANTS {
        found.say(format!("there are {count} of them: keep {MOST_VARIANTS} at most, and delete the others"));
    }
    for variant in &project.variants {
        found.at(&format!("variant {}", variant.name));
        settings(project, variant, found);
    }
}

fn settings(project: &Project, variant: &Variant, found: &mut Found) {
    match project.pump(variant.pump) {
        None => found.say("its circulator is not there: name one of this project".to_owned()),
        Some(unit) => {
            if let Err(error) = variant.regulation.check_for(unit.standby_power) {
                found.say(error.to_string());
            }
        }
    }
}
