//! How the rooms fare, in one sentence: comfort by heat, what is off in water told as water, and a room by its name only where it stands
//! out from the others.

use super::super::frame::capital;
use super::super::view::View;
use super::warmth::{self, Comfort, Kind};
use crate::document::Zone;
use crate::engine::units::{Quantity, Units};
use crate::study::{ZoneResult, ZoneState};

/// By how much less heat than the next one a room gets that stands out.
const STANDS_OUT: f64 = 0.05;
/// Shares of design flow no further apart than this are told as one.
const ALIKE: f64 = 0.03;
/// Share of design flow from which on too little water is a little less.
const A_LITTLE: f64 = 0.8;

/// An open zone with what it gets.
type Open<'a> = (&'a Zone, &'a ZoneResult);

/// The sentence, and whether it tells of someone who has not what he needs.
pub(super) fn sentence(view: &View<'_>) -> (String, bool) {
    let kind = Kind::of(view.project);
    let zones = view.project.zones.iter().filter_map(|(id, zone)| Some((zone, view.results.zones.get(id)?)));
    let open: Vec<Open<'_>> = zones.filter(|(_, zone)| zone.state != ZoneState::Shut).collect();
    if view.project.zones.is_empty() {
        return ("There is no room yet.".to_owned(), false);
    }
    if open.is_empty() {
        let runs = view.results.pumps.values().any(|pump| pump.running);
        let pump = if runs { ": the pump runs against shut valves" } else { "" };
        return (format!("No {} is open{pump}.", kind.one()), false);
    }
    let mut lacking: Vec<Open<'_>> =
        open.iter().filter(|(_, zone)| warmth::comfort(zone) > Comfort::Fine).copied().collect();
    lacking.sort_by(|a, b| {
        let worse = warmth::comfort(b.1).cmp(&warmth::comfort(a.1));
        worse.then(a.1.heat_share.total_cmp(&b.1.heat_share))
    });
    match lacking.as_slice() {
        [] => (fine(view, kind, &open), false),
        lacking => (lacks(view, kind, &open, lacking), true),
    }
}

/// All have what they need; some of them more or less water than planned.
fn fine(view: &View<'_>, kind: Kind, open: &[Open<'_>]) -> String {
    let one = kind.one();
    let every =
        if open.len() < view.results.zones.len() { format!("Every open {one}") } else { format!("Every {one}") };
    let of = |states: &[ZoneState]| -> Vec<Open<'_>> {
        open.iter().filter(|(_, zone)| states.contains(&zone.state)).copied().collect()
    };
    let less = of(&[ZoneState::Starved, ZoneState::Backwards]);
    if !less.is_empty() {
        let enough = kind.comfort_word(Comfort::Fine, view.project.design.duty);
        let is_little = less.iter().all(|(_, zone)| zone.share >= A_LITTLE);
        let what = if is_little { "a little less water than planned" } else { "less water than planned" };
        return format!("{every} is {enough}. {}: {what}.", who(view.units, kind, open, &less));
    }
    let more = of(&[ZoneState::Overflowed]);
    if more.is_empty() {
        return format!("{every} gets what it needs.");
    }
    format!("{every} gets what it needs. {}: more water than needed.", who(view.units, kind, open, &more))
}

/// "Bay 4, 138 %" or "2 of 4 rooms" or "All 4 rooms".
fn who(units: &Units, kind: Kind, open: &[Open<'_>], some: &[Open<'_>]) -> String {
    match some {
        [(zone, result)] => format!("{}, {}", zone.name, units.format(Quantity::Share, result.share)),
        some if some.len() == open.len() => format!("All {}", kind.count(open.len())),
        some => format!("{} of {}", some.len(), kind.count(open.len())),
    }
}

/// Some have not what they need, the worst first.
fn lacks(view: &View<'_>, kind: Kind, open: &[Open<'_>], lacking: &[Open<'_>]) -> String {
    let Some(((zone, worst), others)) = lacking.split_first() else { return String::new() };
    let word = capital(kind.comfort_word(warmth::comfort(worst), view.project.design.duty));
    let well = open.len() - lacking.len();
    let stands_out = others.first().is_none_or(|(_, next)| next.heat_share - worst.heat_share >= STANDS_OUT);
    if stands_out {
        let (one, many) = (kind.one(), kind.many());
        let rest = match (others.len(), well) {
            (0, 0) => String::new(),
            (0, 1) => format!(" The other {one} gets what it needs."),
            (0, well) => format!(" The other {well} {many} get what they need."),
            (_, 0) => format!(" None of {} {many} gets what it needs.", open.len()),
            (_, well) => format!(" {well} of {} {many} get what they need.", open.len()),
        };
        return format!("{word}: {}.{rest}", zone.name);
    }
    let all = match well {
        0 => format!("all {}", kind.count(open.len())),
        _ => format!("{} of {}", lacking.len(), kind.count(open.len())),
    };
    if warmth::comfort(worst) == Comfort::Nothing {
        return format!("{word}: nothing flows through {all}.");
    }
    let shares = || lacking.iter().map(|(_, zone)| zone.share);
    let (least, most) = (shares().fold(f64::INFINITY, f64::min), shares().fold(f64::NEG_INFINITY, f64::max));
    let units = view.units;
    if least >= view.project.acceptance.low {
        return format!("{word}: {all}, with their planned flow.");
    }
    let share = if most - least <= ALIKE {
        units.format(Quantity::Share, 0.5 * (least + most))
    } else {
        format!("{}–{}", units.number(Quantity::Share, least), units.format(Quantity::Share, most))
    };
    format!("{word}: {all} get {share} of their planned flow.")
}
