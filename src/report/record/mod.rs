//! The record: settings sheet and commissioning record of a project, as plain data in the reader's units. A printed page, a page for
//! the browser and tables for a spreadsheet are all made of it, so that they say the same.
//!
//! What is predicted is solved for the record: all zones open in the design's weather, each zone alone, all shut, and every
//! scenario. How the valves happen to stand in the window does not matter; what is read on site is written beside.

mod basis;
mod blank;
mod cautions;
mod csv;
mod energy;
mod open;
mod pdf;
mod pictures;
mod pumps;
pub(super) mod scenarios;
mod sheet;
mod site;
mod solved;
mod valves;
mod zones;

pub use cautions::CautionShown;
pub use csv::{Csv, record_csv};
pub use open::OpenCheck;
pub use pdf::{Paper, PdfError, record_pdf};
pub use pictures::Pictures;
pub use pumps::{PumpSheet, SettingShown};
pub use sheet::{Cell, Column, Fact, Holds, Sheet};

use super::CAUTION;
use crate::document::Project;
use crate::engine::units::Units;
use crate::problems::Severity;
use crate::study::part_load::PartLoadError;
use crate::study::{LowerError, SweepError};
use serde::Serialize;
use solved::Solved;
use thiserror::Error;

/// Everything that the settings sheet and commissioning record says.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Record {
    /// Name of the job.
    pub title: String,
    /// The date it was asked for with, as given.
    pub date: String,
    /// The program and its version.
    pub program: String,
    /// Where, for whom, by whom; empty texts are to be written in.
    pub site: Vec<Fact>,
    /// The system in a few lines.
    pub summary: Vec<Fact>,
    /// What the flows are meant for.
    pub basis: Vec<Fact>,
    /// The project's notes.
    pub notes: String,
    /// What the predicted figures stand for, and whether they do.
    pub predicted: String,
    /// Whether every state was solved.
    pub converged: bool,
    /// Each circulator with its settings.
    pub pumps: Vec<PumpSheet>,
    /// Zones with design and predicted flow, tolerance, and place for readings.
    pub zones: Sheet,
    /// Valves that are set once.
    pub presettings: Sheet,
    /// The scenarios with their worst zone.
    pub scenarios: Sheet,
    /// The least and the greatest that every zone gets over the scenarios.
    pub margins: Sheet,
    /// The year's energy with its basis.
    pub energy: Vec<Fact>,
    /// The present settings beside others.
    pub comparison: Sheet,
    /// Errors and warnings that are still open, then notes.
    pub open: Vec<OpenCheck>,
    /// What is said of them together.
    pub open_words: String,
    /// The checklist fill – vent – release.
    pub starting: Sheet,
    /// The register of circulators.
    pub register: Sheet,
    /// Water as filled.
    pub water: Sheet,
    /// Readings: all zones open, each alone, all shut.
    pub readings: Sheet,
    /// Instruments and their calibration.
    pub instruments: Sheet,
    /// Who answers for what.
    pub signatures: Sheet,
    /// Cautions, each beside what it concerns.
    pub cautions: Vec<CautionShown>,
    /// What stands under every result.
    pub caution: &'static str,
}

/// Why there is no record.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum RecordError {
    /// A drawing that cannot be studied.
    #[error(transparent)]
    Lower(#[from] LowerError),
    /// A state of the valves that cannot be studied.
    #[error(transparent)]
    Sweep(#[from] SweepError),
    /// Settings that cannot be compared.
    #[error(transparent)]
    PartLoad(#[from] PartLoadError),
}

impl Record {
    /// Makes the record of a project in a reader's units; the date is the caller's.
    ///
    /// # Errors
    /// A project that cannot be studied.
    pub fn new(project: &Project, units: &Units, date: &str) -> Result<Self, RecordError> {
        Ok(Self::of(&Solved::new(project)?, units, date))
    }

    /// The same, with its pictures.
    ///
    /// # Errors
    /// A project that cannot be studied.
    pub fn with_pictures(project: &Project, units: &Units, date: &str) -> Result<(Self, Pictures), RecordError> {
        let solved = Solved::new(project)?;
        Ok((Self::of(&solved, units, date), pictures::pictures(&solved, units)?))
    }

    /// The same twice, in SI and in inch-pound units.
    ///
    /// # Errors
    /// A project that cannot be studied.
    pub fn in_both_units(project: &Project, date: &str) -> Result<[Self; 2], RecordError> {
        let solved = Solved::new(project)?;
        Ok([Units::si(), Units::inch_pound()].map(|units| Self::of(&solved, &units, date)))
    }

    fn of(solved: &Solved, units: &Units, date: &str) -> Self {
        let project = &solved.project;
        let (open, open_words) = open::open(solved, units);
        let errors = open.iter().filter(|check| check.severity == Severity::Error.word()).count();
        Self {
            title: project.title.clone(),
            date: date.to_owned(),
            program: concat!("Headwise ", env!("CARGO_PKG_VERSION")).to_owned(),
            site: site::site(project),
            summary: basis::summary(solved, units),
            basis: basis::basis(solved, units),
            notes: project.notes.clone(),
            predicted: solved.words(),
            converged: solved.converged(),
            pumps: pumps::pumps(solved, units),
            zones: zones::zones(solved, units),
            presettings: valves::presettings(solved, units),
            scenarios: scenarios::scenarios(solved, units),
            margins: zones::margins(solved, units),
            energy: energy::energy(solved, units),
            comparison: energy::comparison(solved, units),
            open,
            open_words,
            register: site::register(solved),
            starting: site::starting(solved, units, errors),
            water: blank::water(solved, units),
            readings: blank::readings(solved, units),
            instruments: blank::instruments(),
            signatures: blank::signatures(),
            cautions: cautions::cautions(solved),
            caution: CAUTION,
        }
    }

    /// All its tables, in the order of the pages.
    #[must_use]
    pub fn sheets(&self) -> [&Sheet; 11] {
        [
            &self.zones,
            &self.presettings,
            &self.scenarios,
            &self.margins,
            &self.comparison,
            &self.starting,
            &self.register,
            &self.water,
            &self.readings,
            &self.instruments,
            &self.signatures,
        ]
    }
}
