//! What a record says of the site: where, for whom and by whom; the register of circulators; how far the start-up is.

use super::basis::counted;
use super::sheet::{Cell, Column, Fact, Sheet};
use super::solved::Solved;
use crate::document::{Project, PumpRegister, PumpUnit, StandbyRole, Starting, StartingStep};
use crate::engine::units::{Quantity, Units};

/// Where, for whom, by whom.
pub(super) fn site(project: &Project) -> Vec<Fact> {
    let site = &project.site;
    vec![
        Fact::new("Place", &*site.place),
        Fact::new("Designer", &*site.designer),
        Fact::new("Client", &*site.client),
        Fact::new("Date of design", &*site.date),
    ]
}

/// A text, or room to write it in.
fn given(text: &str) -> Cell {
    if text.is_empty() { Cell::Blank } else { Cell::text(text) }
}

/// The circulators as they are told apart on site.
pub(super) fn register(solved: &Solved) -> Sheet {
    let columns = vec![
        Column::text("Circulator"),
        Column::text("Address"),
        Column::text("Position"),
        Column::text("Serial number"),
        Column::text("Supply"),
        Column::text("Wiring"),
        Column::text("Beside others"),
        Column::blank("Written down at it"),
    ];
    let row = |(id, unit): (_, &PumpUnit)| {
        let PumpRegister { position, serial, supply, wiring, standby } = &unit.register;
        let role = match standby {
            StandbyRole::Alone => Cell::text("–"),
            role => Cell::text(role.word()),
        };
        vec![
            Cell::text(solved.name(id)),
            given(&unit.address),
            given(position),
            given(serial),
            given(supply),
            given(wiring),
            role,
            Cell::Blank,
        ]
    };
    let rows = solved.project.pumps().map(row).collect();
    let intro = "Write name and address down at each circulator too.".to_owned();
    Sheet { key: "register", title: "Register of circulators", intro, columns, rows, notes: Vec::new() }
}

/// What a release lacks, in words: the name of who released, and that no error is open.
fn lacks(starting: &Starting, errors: usize) -> String {
    let is_signed = starting.ticks.get(&StartingStep::Released).is_some_and(|tick| !tick.by.trim().is_empty());
    let errors = match errors {
        0 => None,
        1 => Some("an error is open".to_owned()),
        many => Some(format!("{} are open", counted(many, "error"))),
    };
    let name = (!is_signed).then(|| "no name is given".to_owned());
    [name, errors].into_iter().flatten().collect::<Vec<_>>().join(" and ")
}

/// The checklist fill – vent – release, as far as it is ticked.
pub(super) fn starting(solved: &Solved, units: &Units, errors: usize) -> Sheet {
    let columns = vec![
        Column::text("Step"),
        Column::text("Waits for"),
        Column::text("Done"),
        Column::text("On"),
        Column::text("By"),
    ];
    let starting = &solved.project.starting;
    let lacks = lacks(starting, errors);
    let row = |step: &StartingStep| {
        let needs: Vec<&str> = step.needs().iter().map(|needed| needed.word()).collect();
        let needs = if needs.is_empty() { "–".to_owned() } else { needs.join(", ") };
        let done = match (starting.ticks.get(step), starting.fill_pressure) {
            (None, _) => [Cell::Blank, Cell::Blank, Cell::Blank],
            (Some(tick), Some(pressure)) if *step == StartingStep::Filled => {
                let done = format!("done, {}", units.format(Quantity::Pressure, pressure));
                [Cell::text(done), given(&tick.date), given(&tick.by)]
            }
            (Some(tick), _) if *step == StartingStep::Released && !lacks.is_empty() => {
                [Cell::mark(format!("released, but {lacks}")), given(&tick.date), given(&tick.by)]
            }
            (Some(tick), _) => [Cell::text("done"), given(&tick.date), given(&tick.by)],
        };
        [Cell::text(step.name()), Cell::text(needs)].into_iter().chain(done).collect()
    };
    let rows = StartingStep::ALL.iter().map(row).collect();
    let intro = match starting.is_released() {
        true if !lacks.is_empty() => format!("The circulators are released to run, but {lacks}."),
        true => "The circulators are released to run.".to_owned(),
        false => "The circulators are not released to run.".to_owned(),
    };
    Sheet { key: "starting", title: "Fill, vent, release", intro, columns, rows, notes: Vec::new() }
}
