//! The site, the register of circulators, and the ticks of the checklist.

use super::{DRAWING, refused};
use crate::document::{
    Changed, CommandError, ComponentId, ComponentKind, Project, PumpRegister, PumpUnit, Site, StartingStep, Tick,
    date_flaw, steps_in_words,
};
use crate::engine::pump::STANDARD_ATMOSPHERE_PA;

impl Project {
    /// Gives the project other site basics, without spaces around them.
    pub(super) fn set_site(&mut self, site: &Site) -> Result<Changed, CommandError> {
        let site = site.trimmed();
        check_date("The date of the design", &site.date)?;
        Ok(exchanged(&mut self.site, site))
    }

    /// Gives a circulator's device another address, without spaces around it, or none.
    pub(super) fn set_address(&mut self, id: ComponentId, address: &str) -> Result<Changed, CommandError> {
        Ok(exchanged(&mut self.circulator(id)?.address, address.trim().to_owned()))
    }

    /// Writes down something else of a circulator, without spaces around it.
    pub(super) fn set_register(&mut self, id: ComponentId, register: &PumpRegister) -> Result<Changed, CommandError> {
        Ok(exchanged(&mut self.circulator(id)?.register, register.trimmed()))
    }

    /// Ticks a step of the checklist or says otherwise when and by whom it was done; `None` takes it back, and what needs it.
    pub(super) fn set_tick(&mut self, step: StartingStep, tick: Option<&Tick>) -> Result<Changed, CommandError> {
        let mut starting = self.starting.clone();
        let Some(tick) = tick else {
            starting.take_back(step);
            return Ok(exchanged(&mut self.starting, starting));
        };
        let waits = starting.waits_for(step);
        if !waits.is_empty() {
            let waits = steps_in_words(&waits);
            return Err(refused(format!("“{}” waits for {waits}: do that at the pump and tick it first", step.name())));
        }
        let (date, by) = (tick.date.trim().to_owned(), tick.by.trim().to_owned());
        check_date(step.name(), &date)?;
        starting.ticks.insert(step, Tick { date, by });
        Ok(exchanged(&mut self.starting, starting))
    }

    /// Sets the pressure read when the system was filled, Pa above the air around.
    pub(super) fn set_fill_pressure(&mut self, pressure: Option<f64>) -> Result<Changed, CommandError> {
        if pressure.is_some() && !self.starting.is_done(StartingStep::Filled) {
            let filled = StartingStep::Filled.name();
            return Err(refused(format!(
                "Tick “{filled}” first: the fill pressure is read when the system has been filled"
            )));
        }
        if pressure.is_some_and(|pressure| !pressure.is_finite()) {
            return Err(refused("The fill pressure is no number: give it as the gauge shows it".to_owned()));
        }
        if pressure.is_some_and(|pressure| pressure < -STANDARD_ATMOSPHERE_PA) {
            return Err(refused(
                "The fill pressure lies below a vacuum: give it as the gauge shows it, zero for that of the air"
                    .to_owned(),
            ));
        }
        Ok(exchanged(&mut self.starting.fill_pressure, pressure))
    }

    fn circulator(&mut self, id: ComponentId) -> Result<&mut PumpUnit, CommandError> {
        match self.components.get_mut(&id).map(|component| &mut component.kind) {
            Some(ComponentKind::Pump(unit)) => Ok(unit),
            _ => Err(CommandError::Missing("circulator")),
        }
    }
}

fn check_date(what: &str, date: &str) -> Result<(), CommandError> {
    date_flaw(date).map_or(Ok(()), |flaw| Err(refused(format!("{what}: {flaw}"))))
}

/// Puts a value in the place of another; nothing of this moves water.
fn exchanged<T: PartialEq>(place: &mut T, value: T) -> Changed {
    if *place == value {
        return Changed::default();
    }
    *place = value;
    DRAWING
}
