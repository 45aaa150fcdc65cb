//! A circulator on site: address, position, serial number, supply, wiring, standby role, and what it has in common with another.

use super::form::Form;
use crate::document::{Command, ComponentId, PumpRegister, PumpUnit, StandbyRole};
use crate::problems::register::{Doubles, Mark};
use crate::study::{Hazard, Occasion, cautions};

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, unit: &PumpUnit) {
    form.section("On site");
    let doubles = Doubles::of(form.view.project);
    alike(form, &doubles, (id, Mark::Name), "a name that reads like this one");
    let hint = "Address on its bus or in the building's list.";
    if let Some(address) = form.entry("Address", hint, &unit.address, "none") {
        form.change(Command::SetAddress(id, address));
    }
    alike(form, &doubles, (id, Mark::Address), "this address too");
    let register = &unit.register;
    let mut wanted: Option<PumpRegister> = None;
    if let Some(position) = form.entry("Position", "Where in the building it sits.", &register.position, "not given") {
        wanted = Some(PumpRegister { position, ..register.clone() });
    }
    if let Some(serial) = form.entry("Serial number", "On the plate of the device.", &register.serial, "not given") {
        wanted = Some(PumpRegister { serial, ..register.clone() });
    }
    alike(form, &doubles, (id, Mark::Serial), "this serial number too");
    if let Some(supply) =
        form.entry("Supply", "Supply voltage and frequency.", &register.supply, "such as 230 V, 50 Hz")
    {
        wanted = Some(PumpRegister { supply, ..register.clone() });
    }
    let hint = "Where it is fed from and where it is switched off.";
    if let Some(wiring) = form.lines("Wiring", hint, &register.wiring, 2) {
        wanted = Some(PumpRegister { wiring, ..register.clone() });
    }
    let options = StandbyRole::ALL.map(|role| (role, role.word().to_owned()));
    let hint = "What it does beside another circulator of the same task.";
    let word = register.standby.word();
    let chosen = form.entry_row("Standby role", hint, |form, named| form.combo(named, word, &options));
    if let Some(standby) = chosen {
        wanted = Some(PumpRegister { standby, ..register.clone() });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetRegister(id, wanted));
    }
    form.note("Write name and address down at the pump too.");
    for caution in cautions(form.view.project, Occasion::Electrical) {
        if caution.hazard == Hazard::Electricity {
            form.note(&caution.text);
        }
    }
}

/// Says which other circulator has the same.
fn alike(form: &mut Form<'_, '_>, doubles: &Doubles, (id, mark): (ComponentId, Mark), what: &str) {
    if let Some(other) = doubles.of_circulator(id, mark) {
        let name = form.view.project.components.get(&other).map_or("", |component| component.name.as_str());
        form.fault(&format!("{name} has {what}."));
    }
}
