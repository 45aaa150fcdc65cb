//! `record`: the settings sheet and commissioning record of a project, as PDF, and its tables as CSV.

use super::day::day;
use super::failure::Failure;
use super::record_arguments::RecordArguments;
use super::{print, saving};
use crate::file;
use crate::report::record::{Record, record_csv, record_pdf};
use std::ffi::OsStr;
use std::fs;
use std::io::Write;
use std::path::Path;

/// Makes the record and writes what is wanted of it.
pub(super) fn record(arguments: &RecordArguments, out: &mut dyn Write) -> Result<u8, Failure> {
    let source = ("the project file", arguments.file.as_path());
    if let Some(path) = &arguments.save {
        is_pdf(path)?;
        saving::check_place(path, source, arguments.replace)?;
    }
    let date = day(arguments.date.as_ref())?;
    let project = file::load(&arguments.file)?;
    let (record, pictures) = Record::with_pictures(&project, &arguments.units.chosen(), &date)?;
    let mut said = String::new();
    if let Some(path) = &arguments.save {
        let pdf = record_pdf(&record, &pictures, arguments.paper.chosen())?;
        write(path, &pdf)?;
        said += &format!("Recorded in {}: {}.\n", path.display(), project.title);
    }
    if let Some(folder) = &arguments.tables {
        let tables = record_csv(&record);
        fs::create_dir_all(folder).map_err(|error| Failure::Written { path: folder.clone(), error })?;
        for table in &tables {
            saving::check_option("--tables", &folder.join(&table.name), source, arguments.replace)?;
        }
        for table in &tables {
            write(&folder.join(&table.name), table.text.as_bytes())?;
        }
        said += &format!("Written to {}: {} tables.\n", folder.display(), tables.len());
    }
    print(out, &said)?;
    Ok(if record.converged { 0 } else { 3 })
}

/// Whether a file's name asks for PDF.
fn is_pdf(path: &Path) -> Result<(), Failure> {
    let ending = path.extension().and_then(OsStr::to_str).map(str::to_lowercase);
    match ending.as_deref() {
        Some("pdf") => Ok(()),
        _ => Err(Failure::Value {
            option: format!("--save {}", path.display()),
            flaw: "a record is written as PDF: end the file's name in .pdf".to_owned(),
        }),
    }
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    fs::write(path, bytes).map_err(|error| Failure::Written { path: path.to_owned(), error })
}
