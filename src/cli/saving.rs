//! Saving what was tried: to another file, never over the one that was read.

use super::arguments::TryArguments;
use super::failure::Failure;
use crate::document::Project;
use crate::file;
use std::fs;
use std::path::Path;

/// Refuses a place that must not be written to, before anything is solved or printed.
pub(super) fn check(arguments: &TryArguments) -> Result<(), Failure> {
    let Some(path) = &arguments.save else { return Ok(()) };
    check_place(path, ("the project file", &arguments.file), arguments.replace)
}

/// Refuses the file that was read, and one that is there unless it may be replaced.
pub(super) fn check_place(path: &Path, source: (&str, &Path), replace: bool) -> Result<(), Failure> {
    check_option("--save", path, source, replace)
}

/// The same for another option that writes a file.
pub(super) fn check_option(
    option: &str,
    path: &Path,
    (what, source): (&str, &Path),
    replace: bool,
) -> Result<(), Failure> {
    let refuse = |flaw: &str| {
        Err(Failure::Value {
            option: format!("{option} {}", path.display()),
            flaw: format!("{flaw}; nothing was changed"),
        })
    };
    // Resolved through symbolic links and "..": another spelling is still the same file.
    let real = |path: &Path| fs::canonicalize(path).ok();
    match real(path) {
        None => Ok(()),
        there if there == real(source) => {
            refuse(&format!("this is {what} itself, which stays as it is: name another file"))
        }
        Some(there) if there.is_file() && !replace => {
            refuse("this file is there already: name another file, or add --replace")
        }
        Some(_) => Ok(()),
    }
}

/// Saves the project with its changes and says what went where; figures that did not converge are not worth keeping.
pub(super) fn save(project: &Project, path: &Path, changes: &[String], converged: bool) -> Result<String, Failure> {
    if !converged {
        return Ok(format!("Not saved: without an answer {} was not written.\n", path.display()));
    }
    file::save(project, path)?;
    let with = if changes.is_empty() { "unchanged".to_owned() } else { format!("with {}", changes.join(", ")) };
    Ok(format!("Saved to {}: {}, {with}.\n", path.display(), project.title))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_did_not_converge_is_not_saved() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tried.ron");
        let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
        let project = file::load(&sample).unwrap();
        let said = save(&project, &path, &[], false).unwrap();
        assert!(said.starts_with("Not saved") && !path.exists(), "{said}");
        let said = save(&project, &path, &["--slope 40".to_owned()], true).unwrap();
        assert!(said.contains("tried.ron: Fernhollow Library, with --slope 40.") && path.exists(), "{said}");
    }
}
