//! `record`: the settings sheet and commissioning record of a project, as PDF or as a page for the browser, and its tables as CSV.

use super::day::day;
use super::failure::Failure;
use super::record_arguments::RecordArguments;
use super::{print, saving};
use crate::engine::units::Units;
use crate::file;
use crate::report;
use crate::report::record::{Record, record_csv, record_pdf};
use std::ffi::OsStr;
use std::fs;
use std::io::Write;
use std::path::Path;

/// What a record is written as.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Format {
    Pdf,
    Html,
}

/// Makes the record and writes what is wanted of it.
pub(super) fn record(arguments: &RecordArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let source = ("the project file", arguments.file.as_path());
    let format = arguments.save.as_deref().map(format_of).transpose()?;
    if let Some(path) = &arguments.save {
        saving::check_place(path, source, arguments.replace)?;
    }
    let date = day(arguments.date.as_ref())?;
    let project = file::load(&arguments.file)?;
    let units = arguments.units.chosen();
    let (record, bytes) = match format {
        Some(Format::Pdf) => {
            let (record, pictures) = Record::with_pictures(&project, &units, &date)?;
            let pdf = record_pdf(&record, &pictures, arguments.paper.chosen())?;
            (record, pdf)
        }
        Some(Format::Html) => {
            let records = Record::in_both_units(&project, &date)?;
            let page = report::page_of(&project, &records, &units, &date)?;
            let [si, inch_pound] = records;
            (if units == Units::inch_pound() { inch_pound } else { si }, page.into_bytes())
        }
        None => (Record::new(&project, &units, &date)?, Vec::new()),
    };
    // Every place is looked at before anything is written, so that a refusal leaves all as it was.
    let tables = arguments.tables.as_ref().map(|folder| (folder, record_csv(&record)));
    if let Some((folder, tables)) = &tables {
        check_folder(folder)?;
        for table in tables {
            saving::check_option("--tables", &folder.join(&table.name), source, arguments.replace)?;
        }
    }
    let mut said = String::new();
    if let Some(path) = &arguments.save {
        write(path, &bytes)?;
        said += &format!("Recorded in {}: {}.\n", path.display(), project.title);
    }
    if let Some((folder, tables)) = &tables {
        fs::create_dir_all(folder).map_err(|error| Failure::Written { path: (*folder).clone(), error })?;
        for table in tables {
            write(&folder.join(&table.name), table.text.as_bytes())?;
        }
        said += &format!("Written to {}: {} tables.\n", folder.display(), tables.len());
    }
    print(out, &said)?;
    Ok(if record.converged { 0 } else { 3 })
}

/// Refuses a place for tables that is a file.
fn check_folder(folder: &Path) -> Result<(), Failure> {
    if !folder.exists() || folder.is_dir() {
        return Ok(());
    }
    Err(Failure::Value {
        option: format!("--tables {}", folder.display()),
        flaw: "this is a file, and the tables go into a folder: name another place; nothing was changed".to_owned(),
    })
}

/// What a file's name asks for.
fn format_of(path: &Path) -> Result<Format, Failure> {
    let ending = path.extension().and_then(OsStr::to_str).map(str::to_lowercase);
    match ending.as_deref() {
        Some("pdf") => Ok(Format::Pdf),
        Some("html" | "htm") => Ok(Format::Html),
        _ => Err(Failure::Value {
            option: format!("--save {}", path.display()),
            flaw: "a record is written as PDF or as a page for the browser: end the file's name in .pdf or .html"
                .to_owned(),
        }),
    }
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    fs::write(path, bytes).map_err(|error| Failure::Written { path: path.to_owned(), error })
}
