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
    heat(sight, found);
}

/// Zones that have their flow and yet lack heat, for their water is not that of the design; the worst in one check.
fn heat(sight: &Sight<'_>, found: &mut Vec<Check>) {
    /// Share of the load below which a zone lacks heat, and how far its supply is off then, K (common practice, no source).
    const LACKS: f64 = 0.9;
    const OFF_K: f64 = 1.0;
    let design_c = sight.project.design.supply_c;
    let lacks = sight.results.zones.iter().filter(|(_, zone)| {
        let has_flow = matches!(zone.state, ZoneState::Served | ZoneState::Overflowed);
        has_flow && zone.room_c.is_none() && zone.heat_share < LACKS && (zone.supply_c - design_c).abs() > OFF_K
    });
    let lacks: Vec<_> = lacks.collect();
    let Some((id, worst)) = lacks.iter().min_by(|a, b| a.1.heat_share.total_cmp(&b.1.heat_share)) else { return };
    let celsius = |celsius| sight.says(Quantity::Temperature, celsius);
    let others = match lacks.len() {
        1 => String::new(),
        2 => " Another zone lacks heat too.".to_owned(),
        count => format!(" {} other zones lack heat too.", count - 1),
    };
    found.push(sight.zone(Severity::Warning, **id, "Has its flow but not its heat").says(
        format!(
            "It has its flow but {} of its heat, for its water is {} instead of {}.{others}",
            sight.says(Quantity::Share, worst.heat_share),
            celsius(worst.supply_c),
            celsius(design_c)
        ),
        "More flow hardly helps.",
        "Look at what mixes its water, or at its source's own supply.",
    ));
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
