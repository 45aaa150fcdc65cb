//! `record`: what is written where, and what is refused.

use super::*;

/// The PDF and the tables are written; a second time only with a word.
#[test]
fn it_writes_the_record_and_its_tables() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (pdf, tables, file) = (at("library.pdf"), at("tables"), sample(LIBRARY));
    let arguments = ["record", &file, "--save", &pdf, "--tables", &tables, "--date", "2026-03-31"];
    let ran = headwise(&arguments);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("library.pdf: Fernhollow Library") && ran.out.contains("12 tables"), "{}", ran.out);
    let first = fs::read(&pdf).unwrap();
    assert!(first.starts_with(b"%PDF-"));
    let zones = fs::read_to_string(Path::new(&tables).join("zones.csv")).unwrap();
    assert!(zones.starts_with("Zone,Design: Heat load (kW),Design: Flow (m³/h)"), "{zones}");
    refused(&arguments, 1, &["there already", "--replace"]);
    let ran = headwise(&[arguments.as_slice(), &["--replace"]].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    // With the date given, the same bytes.
    assert_eq!(fs::read(&pdf).unwrap(), first);
}

/// One refused place is enough: nothing is written to the others either.
#[test]
fn a_refusal_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (pdf, tables, file) = (at("library.pdf"), at("tables"), sample(LIBRARY));
    let arguments = ["record", &file, "--save", &pdf, "--tables", &tables];
    fs::write(&tables, "mine").unwrap();
    refused(&arguments, 1, &["is a file", "nothing was changed"]);
    fs::remove_file(&tables).unwrap();
    fs::create_dir(&tables).unwrap();
    fs::write(Path::new(&tables).join("zones.csv"), "mine").unwrap();
    refused(&arguments, 1, &["zones.csv", "there already", "nothing was changed"]);
    assert!(!Path::new(&pdf).exists());
    assert_eq!(fs::read_dir(&tables).unwrap().count(), 1);
}

/// Paper and units are the reader's.
#[test]
fn paper_and_units_are_chosen() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (pdf, tables, file) = (at("a.pdf"), at("t"), sample(LIBRARY));
    let ran =
        headwise(&["record", &file, "--save", &pdf, "--tables", &tables, "--paper", "letter", "--units", "inch-pound"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let zones = fs::read_to_string(Path::new(&tables).join("zones.csv")).unwrap();
    assert!(zones.starts_with("Zone,Design: Heat load (kBtu/h),Design: Flow (gpm)"), "{zones}");
}

#[test]
fn it_refuses_what_it_cannot_write() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let file = sample(LIBRARY);
    refused(&["record", &file], 2, &["--save"]);
    refused(&["record", &file, "--save", &at("a.docx")], 1, &["--save", ".pdf"]);
    refused(&["record", &file, "--save", &at("a.pdf"), "--date", "31.3.2026"], 1, &["--date", "2026-03-31"]);
    refused(&["record", &file, "--save", &at("none/a.pdf")], 1, &["could not be written"]);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}
