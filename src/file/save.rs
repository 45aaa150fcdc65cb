//! The way out: a file is never half written. The text goes to a new file in the same folder, onto the disk, and then
//! takes the old file's place in one step; whatever fails before that leaves the old file as it was.

use super::error::FileError;
use super::v1;
use crate::document::Project;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A project as text, the same for the same project.
///
/// # Errors
/// A project with values that cannot be: it could not be loaded again.
pub fn to_text(project: &Project) -> Result<String, FileError> {
    v1::write(project, "the project")
}

/// Saves a project, keeping the permissions of a file that is there; a symbolic link stays, and its target is written.
///
/// # Errors
/// A project with values that cannot be, or a place that cannot be written to.
pub fn save(project: &Project, path: &Path) -> Result<(), FileError> {
    let text = v1::write(project, &path.display().to_string())?;
    replace(path, text.as_bytes()).map_err(|source| FileError::write(path, source))
}

/// Puts a file with these contents in the place of what is there.
fn replace(path: &Path, contents: &[u8]) -> io::Result<()> {
    let target = target(path)?;
    let before = match fs::metadata(&target) {
        Ok(metadata) => Some(metadata),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(error),
    };
    if let Some(before) = &before {
        if before.is_dir() {
            return Err(io::ErrorKind::IsADirectory.into());
        }
        // Taking its place would get round a file's own protection, which only guards against writing into it.
        if before.permissions().readonly() {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
    }
    let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = new_file(folder)?;
    file.write_all(contents)?;
    file.flush()?;
    if let Some(before) = before {
        file.as_file().set_permissions(before.permissions())?;
    }
    file.as_file().sync_all()?;
    file.persist(&target).map_err(|error| error.error)?;
    Ok(())
}

/// A file of passing name that goes away unless it is kept, as readable as any new file.
fn new_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".saving-");
    #[cfg(unix)]
    let builder = builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

/// The file that a path leads to through symbolic links, even where it is not there yet.
fn target(path: &Path) -> io::Result<PathBuf> {
    const MOST_LINKS: usize = 40;
    let mut target = path.to_owned();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&target) {
            Ok(link) => target = target.parent().unwrap_or(Path::new("")).join(link),
            // Not a link, or not there.
            Err(_) => return Ok(target),
        }
    }
    Err(io::Error::other("its symbolic links lead in a circle"))
}
