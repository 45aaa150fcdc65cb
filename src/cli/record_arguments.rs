//! The arguments of `record`.

use super::arguments::UnitSet;
use crate::report::record::Paper;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// What becomes of the record.
#[derive(Debug, Args)]
pub(super) struct RecordArguments {
    /// Project file
    pub file: PathBuf,
    /// Write the record to a file; its ending, .pdf or .html, says as what
    #[arg(long, value_name = "FILE", required_unless_present = "tables")]
    pub save: Option<PathBuf>,
    /// Write its tables as CSV into a folder, which is made if need be
    #[arg(long, value_name = "FOLDER")]
    pub tables: Option<PathBuf>,
    /// The paper that the PDF is printed on
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperSize,
    /// The date that stands on it, as 2026-03-31, instead of today's
    #[arg(long, value_name = "DATE")]
    pub date: Option<String>,
    /// Let --save and --tables replace files that are there; never the project file itself
    #[arg(long)]
    pub replace: bool,
    /// Units of its numbers
    #[arg(long, value_enum, default_value_t)]
    pub units: UnitSet,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(super) enum PaperSize {
    /// 210 mm by 297 mm
    #[default]
    A4,
    /// 8.5 in by 11 in
    Letter,
}

impl PaperSize {
    pub fn chosen(self) -> Paper {
        match self {
            Self::A4 => Paper::A4,
            Self::Letter => Paper::Letter,
        }
    }
}
