//! The site, the register of circulators and the checklist: what is written down moves no water, and nothing is released to run
//! that is not filled and vented.

use super::*;
use StartingStep::{Filled, Flushed, HeldOff, PressureTested, Released, Vented};

fn tick(date: &str) -> Option<Tick> {
    Some(Tick { date: date.to_owned(), by: " R. Ash ".to_owned() })
}

/// The clinic with nothing ticked.
fn unstarted() -> Project {
    Project { starting: Starting::default(), ..clinic() }
}

#[test]
fn running_waits_for_filled_and_vented() {
    let mut project = unstarted();
    let set = |step| Command::SetTick(step, tick("2026-04-02"));
    let sentence = refusal(&mut project, &set(Released));
    assert_eq!(sentence, "“Released to run” waits for filled and vented: do that at the pump and tick it first");
    assert!(refusal(&mut project, &set(Vented)).contains("“Vented” waits for filled:"));
    let changed = apply(&mut project, &set(Filled));
    assert!(changed.drawing && !changed.moves_water());
    assert!(refusal(&mut project, &set(Released)).contains("waits for vented:"));
    apply(&mut project, &set(Vented));
    apply(&mut project, &set(Released));
    assert!(project.starting.is_released());
    assert_eq!(project.starting.ticks[&Released], Tick { date: "2026-04-02".to_owned(), by: "R. Ash".to_owned() });
    assert_eq!(project.starting.left_out(), [PressureTested, Flushed]);
    assert!(!apply(&mut project, &set(Released)).any());
    assert!(apply(&mut project, &Command::SetTick(Released, tick(""))).drawing);
}

#[test]
fn opening_the_system_takes_the_release_back() {
    let mut project = unstarted();
    for step in StartingStep::ALL {
        apply(&mut project, &Command::SetTick(step, tick("")));
    }
    apply(&mut project, &Command::SetFillPressure(Some(1.5e5)));
    let all = project.clone();
    assert_eq!(Command::SetTick(Flushed, None).step_name(&project), "take back “flushed”");
    apply(&mut project, &Command::SetTick(Flushed, None));
    assert!(project.starting.is_released());

    let (mut vented, mut filled) = (all.clone(), all);
    let back = Command::SetTick(Vented, None);
    assert_eq!(back.step_name(&vented), "take back “vented”, and with it “released to run”");
    apply(&mut vented, &back);
    assert_eq!((vented.starting.is_released(), vented.starting.fill_pressure), (false, Some(1.5e5)));
    let back = Command::SetTick(Filled, None);
    assert_eq!(back.step_name(&filled), "take back “filled”, and with it “vented and released to run”");
    apply(&mut filled, &back);
    let left: Vec<_> = filled.starting.ticks.keys().copied().collect();
    assert_eq!((left, filled.starting.fill_pressure), (vec![HeldOff, PressureTested, Flushed], None));
    // Whatever fell is back at one step of undo.
    let mut history = History::new(&vented);
    history.record("take back", &filled);
    assert_eq!(*history.undo().unwrap(), vented);
}

#[test]
fn no_sequence_of_ticks_releases_what_is_not_filled_and_vented() {
    // Every state of the list, every tick and every taking back.
    for state in 0..64_u32 {
        let mut project = unstarted();
        for (bit, step) in StartingStep::ALL.into_iter().enumerate() {
            if state >> bit & 1 == 1 {
                let _ = project.apply(&Command::SetTick(step, tick("")));
            }
        }
        for step in StartingStep::ALL {
            for wanted in [tick(""), None] {
                let mut after = project.clone();
                let _ = after.apply(&Command::SetTick(step, wanted));
                let done = |step| after.starting.ticks.contains_key(&step);
                assert!(!done(Released) || done(Filled) && done(Vented), "{state} {step:?}");
                assert_eq!(flaws(&after), vec![]);
            }
        }
    }
}

#[test]
fn dates_and_pressures_that_cannot_be_are_refused() {
    let mut project = unstarted();
    let sentence = refusal(&mut project, &Command::SetTick(Flushed, tick("2026-02-29")));
    assert!(sentence.starts_with("Flushed: there is no day 2026-02-29"), "{sentence}");
    let site = Site { date: "31.3.2026".to_owned(), ..Site::default() };
    assert!(refusal(&mut project, &Command::SetSite(site)).contains("The date of the design: “31.3.2026” is no date"));
    assert!(refusal(&mut project, &Command::SetFillPressure(Some(1e5))).contains("Tick “Filled” first"));
    apply(&mut project, &Command::SetTick(Filled, tick("")));
    assert!(refusal(&mut project, &Command::SetFillPressure(Some(-2e5))).contains("below a vacuum"));
    for none in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(refusal(&mut project, &Command::SetFillPressure(Some(none))).contains("fill pressure is no number"));
    }
    assert!(apply(&mut project, &Command::SetFillPressure(Some(1e5))).drawing);
}

#[test]
fn what_is_written_down_of_a_circulator() {
    let mut project = unstarted();
    let [duty, coil] = ["Duty circulator", "Floor 1 coil"].map(|name| id(&project, name));
    let serial = " 00-17 ".to_owned();
    let register = PumpRegister { serial, standby: StandbyRole::Alternating, ..PumpRegister::default() };
    let set = Command::SetRegister(duty, register.clone());
    assert_eq!(set.step_name(&project), "register of Duty circulator");
    let changed = apply(&mut project, &set);
    assert!(changed.drawing && !changed.moves_water());
    assert_eq!(project.pump(duty).unwrap().register.serial, "00-17");
    assert!(!apply(&mut project, &Command::SetAddress(duty, " 7 ".to_owned())).moves_water());
    assert_eq!(project.pump(duty).unwrap().address, "7");
    assert!(refusal(&mut project, &Command::SetRegister(coil, register)).contains("no circulator"));
    assert!(refusal(&mut project, &Command::SetAddress(coil, String::new())).contains("no circulator"));

    // A copy is another device: where it sits may be the same, its number and address are not.
    let copied = Fragment::of(&project, &BTreeSet::from([duty]));
    apply(&mut project, &Command::Paste(Box::new(copied), [0.0, 40.0]));
    let (_, copy) = project.pumps().last().unwrap();
    assert_eq!((&*copy.address, &*copy.register.serial, copy.register.standby), ("", "", StandbyRole::Alternating));
}

#[test]
fn every_sample_is_written_down() {
    for project in SAMPLES.map(|text| file::parse(text, "sample").unwrap()) {
        let Site { place, client, designer, date } = &project.site;
        assert!([place, client, designer, date].into_iter().all(|text| !text.is_empty()), "{}", project.title);
        for (_, unit) in project.pumps() {
            let PumpRegister { position, supply, wiring, .. } = &unit.register;
            assert!([&unit.address, position, supply, wiring].into_iter().all(|text| !text.is_empty()));
        }
        assert_eq!(headwise::problems::register::Doubles::of(&project), Default::default(), "{}", project.title);
    }
    let roles: Vec<_> = clinic().pumps().map(|(_, unit)| (unit.running, unit.register.standby)).collect();
    assert_eq!(roles, [(true, StandbyRole::Duty), (false, StandbyRole::Standby)]);
}
