//! Random sites, registers of circulators and checklists.

use super::text;
use headwise::document::*;
use proptest::collection::btree_map;
use proptest::option;
use proptest::prelude::*;

/// A sheet with a site and a checklist, and nothing else.
pub fn written() -> impl Strategy<Value = Project> {
    (site(), starting()).prop_map(|(site, starting)| Project { site, starting, ..Project::blank() })
}

fn site() -> impl Strategy<Value = Site> {
    let given = (text(), text(), text(), date()).prop_map(|(place, client, designer, date)| Site {
        place,
        client,
        designer,
        date,
    });
    prop_oneof![Just(Site::default()), given]
}

pub fn register() -> impl Strategy<Value = PumpRegister> {
    let role = prop::sample::select(StandbyRole::ALL.to_vec());
    let given = (text(), text(), text(), text(), role).prop_map(|(position, serial, supply, wiring, standby)| {
        PumpRegister { position, serial, supply, wiring, standby }
    });
    prop_oneof![Just(PumpRegister::default()), given]
}

/// Steps in any order, without those that wait for others.
fn starting() -> impl Strategy<Value = Starting> {
    let tick = (date(), text()).prop_map(|(date, by)| Tick { date, by });
    let ticks = btree_map(prop::sample::select(StartingStep::ALL.to_vec()), tick, 0..7);
    (ticks, option::of(-1e5..1e6_f64)).prop_map(|(mut ticks, fill_pressure)| {
        let has = |ticks: &std::collections::BTreeMap<_, _>, step| ticks.contains_key(&step);
        if !has(&ticks, StartingStep::Filled) {
            ticks.remove(&StartingStep::Vented);
        }
        if !has(&ticks, StartingStep::Vented) {
            ticks.remove(&StartingStep::Released);
        }
        let fill_pressure = fill_pressure.filter(|_| has(&ticks, StartingStep::Filled));
        Starting { ticks, fill_pressure }
    })
}

/// A day of the calendar, or none.
fn date() -> impl Strategy<Value = String> {
    let given = (1..9999_u32, 1..=12_u32, 1..=28_u32);
    prop_oneof![Just(String::new()), given.prop_map(|(year, month, day)| format!("{year:04}-{month:02}-{day:02}"))]
}
