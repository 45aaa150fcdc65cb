//! Zones whose water runs backwards, and rooms that stay too cold or too warm though their zones have their flow.

use super::Sight;
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::zones::ZoneState;

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    for (id, zone) in &sight.results.zones {
        if zone.state == ZoneState::Backwards {
            let flow = sight.says(Quantity::Flow, -zone.flow);
            found.push(sight.zone(Severity::Error, *id, "Water runs backwards").says(
                format!("It has water running backwards, {flow}."),
                "Its emitter or a pump is drawn the wrong way round.",
                "Turn what stands the wrong way round.",
            ));
        }
    }
    rooms(sight, found);
}

/// Rooms that stay off, all in one check.
fn rooms(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let off = sight.results.zones.iter().filter_map(|(id, zone)| match zone.state {
        ZoneState::TooCold => Some((*id, zone, zone.room_c?)),
        ZoneState::TooWarm => Some((*id, zone, -zone.room_c?)),
        _ => None,
    });
    let off: Vec<_> = off.collect();
    let Some((id, worst, _)) = off.iter().min_by(|a, b| a.2.total_cmp(&b.2)) else { return };
    let is_cold = worst.state == ZoneState::TooCold;
    let (too, help, heading) = if is_cold {
        ("cold", "warmer", "Too cold though it has its flow")
    } else {
        ("warm", "colder", "Too warm though it has its flow")
    };
    let celsius = |celsius| sight.says(Quantity::Temperature, celsius);
    let (room, supply) = (celsius(worst.room_c.unwrap_or(f64::NAN)), celsius(worst.supply_c));
    let check = sight.zone(Severity::Warning, *id, heading);
    found.push(match off.len() {
        1 => check.says(
            format!(
                "It has {} of its design flow, yet its room settles at {room}.",
                sight.says(Quantity::Share, worst.share)
            ),
            format!("With water of {supply} its emitter gives no more."),
            format!("It needs {help} water or a larger emitter, not more flow."),
        ),
        count => check.says(
            format!("{count} rooms stay too {too} though their zones have their flow, this one at {room}."),
            format!("With water of {supply} their emitters give no more."),
            format!("They need {help} water or larger emitters, not more flow."),
        ),
    });
}
