//! The record as PDF, set by typst from `assets/record.typ`: the record goes in as JSON, the pictures as SVG. Nothing of the machine
//! does: no clock, no fonts of its own, no files; so the same record gives the same bytes.

mod world;

use super::{Pictures, Record};
use crate::document::date_flaw;
use serde::Serialize;
use std::collections::BTreeMap;
use thiserror::Error;
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;
use world::Desk;

/// Compilations that what typst remembers of one is kept for: enough for a second look at the same record.
const REMEMBERED: usize = 2;

/// The paper that a record is printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm × 297 mm.
    #[default]
    A4,
    /// 8.5 in × 11 in.
    Letter,
}

impl Paper {
    /// Its name in typst.
    fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "us-letter",
        }
    }
}

/// That a record could not be set; a fault of the program and not of the project.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("the record could not be set as PDF, which is a fault of this program; please report it: {0}")]
pub struct PdfError(String);

/// What the template reads.
#[derive(Serialize)]
struct Told<'a> {
    record: &'a Record,
    paper: &'static str,
    /// Year, month and day, where the date is one.
    day: Option<[u32; 3]>,
    drawing: bool,
    plots: Vec<&'a str>,
}

/// Sets a record on pages.
///
/// # Errors
/// A fault of this program.
pub fn record_pdf(record: &Record, pictures: &Pictures, paper: Paper) -> Result<Vec<u8>, PdfError> {
    let told = Told {
        record,
        paper: paper.name(),
        day: day(&record.date),
        drawing: pictures.drawing.is_some(),
        plots: pictures.plots.iter().map(|(name, _)| name.as_str()).collect(),
    };
    let told = serde_json::to_vec(&told).map_err(|error| PdfError(error.to_string()))?;
    let mut files = BTreeMap::from([("record.json".to_owned(), told)]);
    files.extend(pictures.drawing.iter().map(|svg| ("drawing.svg".to_owned(), svg.clone().into_bytes())));
    let plots = pictures.plots.iter().enumerate();
    files.extend(plots.map(|(index, (_, svg))| (format!("plot-{index}.svg"), svg.clone().into_bytes())));
    let desk = Desk::new(files).ok_or_else(|| PdfError("its template has no name".to_owned()))?;
    let set = typst::compile::<PagedDocument>(&desk).output.map_err(|flaws| said(&flaws));
    let options = PdfOptions { creator: Smart::Custom(Some(record.program.clone())), ..PdfOptions::default() };
    let pdf = set.and_then(|pages| typst_pdf::pdf(&pages, &options).map_err(|flaws| said(&flaws)));
    typst::comemo::evict(REMEMBERED);
    pdf
}

fn said(flaws: &[SourceDiagnostic]) -> PdfError {
    PdfError(flaws.iter().map(|flaw| flaw.message.to_string()).collect::<Vec<_>>().join("; "))
}

/// Year, month and day of a date that can be.
fn day(date: &str) -> Option<[u32; 3]> {
    if date_flaw(date).is_some() {
        return None;
    }
    let parts: Vec<u32> = date.split('-').filter_map(|part| part.parse().ok()).collect();
    parts.try_into().ok()
}
