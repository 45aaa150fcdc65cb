//! The site: where the job is, for whom and by whom, and what is written down of every circulator.

/// Basics of the job beside its name and notes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Site {
    /// Where the building stands.
    pub place: String,
    /// For whom it is done.
    pub client: String,
    /// Who answers for the design.
    pub designer: String,
    /// Day of the design, as ISO 8601 writes it; empty if none is given.
    pub date: String,
}

/// What is written down of a circulator in the building; its name and its address stand elsewhere in the document.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PumpRegister {
    /// Where in the building it sits.
    pub position: String,
    /// Serial number on its plate.
    pub serial: String,
    /// Supply voltage.
    pub supply: String,
    /// A note on its wiring: where it is fed from and switched off.
    pub wiring: String,
    /// What it does beside the others.
    pub standby: StandbyRole,
}

/// What a circulator does beside another one of the same task.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StandbyRole {
    /// There is no other.
    #[default]
    Alone,
    /// It runs, and another one stands by.
    Duty,
    /// It stands by.
    Standby,
    /// The two take turns.
    Alternating,
}

impl StandbyRole {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Alone, Self::Duty, Self::Standby, Self::Alternating];

    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Alone => "alone",
            Self::Duty => "duty",
            Self::Standby => "standby",
            Self::Alternating => "alternating",
        }
    }
}

impl Site {
    /// The same without spaces around its texts.
    #[must_use]
    pub(super) fn trimmed(&self) -> Self {
        let [place, client, designer, date] =
            [&self.place, &self.client, &self.designer, &self.date].map(|text| text.trim().to_owned());
        Self { place, client, designer, date }
    }
}

impl PumpRegister {
    /// The same without spaces around its texts.
    #[must_use]
    pub(super) fn trimmed(&self) -> Self {
        let [position, serial, supply, wiring] =
            [&self.position, &self.serial, &self.supply, &self.wiring].map(|text| text.trim().to_owned());
        Self { position, serial, supply, wiring, standby: self.standby }
    }
}
