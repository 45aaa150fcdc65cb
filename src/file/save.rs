//! The way out: a file is never half written. The text goes to a new file in the same folder, onto the disk, and then
//! takes the old file's place in one step; whatever fails before that leaves the old file as it was.
//!
//! A program that is killed meanwhile leaves that new file behind, under a hidden name that nothing opens. Whoever writes
//! one holds its lock, so that the next save into the folder can tell what was left behind and clears it away.

use super::error::FileError;
use super::fingerprint::Fingerprint;
use super::v1;
use crate::document::Project;
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// How the passing name of a file being written begins; some letters by chance follow.
const PASSING: &str = ".headwise-saving-";

/// How many letters follow.
const LETTERS: usize = 6;

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
    save_marked(project, path).map(|_| ())
}

/// Saves like [`save`] and tells what the file looks like now.
///
/// # Errors
/// As [`save`].
pub fn save_marked(project: &Project, path: &Path) -> Result<Fingerprint, FileError> {
    let text = v1::write(project, &path.display().to_string())?;
    replace(path, text.as_bytes()).map_err(|source| FileError::write(path, source))
}

/// Puts a file with these contents in the place of what is there.
pub(super) fn replace(path: &Path, contents: &[u8]) -> io::Result<Fingerprint> {
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
    clear_away(folder);
    let mut file = new_file(folder)?;
    file.write_all(contents)?;
    file.flush()?;
    if let Some(before) = before {
        file.as_file().set_permissions(before.permissions())?;
    }
    file.as_file().sync_all()?;
    let mark = Fingerprint::new(contents, &file.as_file().metadata()?);
    file.persist(&target).map_err(|error| error.error)?;
    // The new name is on the disk once the folder is. Not every system can do that for a folder; the file is whole anyhow.
    #[cfg(unix)]
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    Ok(mark)
}

/// A file of passing name that goes away unless it is kept, as readable as any new file, with its lock held.
fn new_file(folder: &Path) -> io::Result<tempfile::NamedTempFile> {
    const MOST_TRIES: usize = 20;
    let mut builder = tempfile::Builder::new();
    builder.prefix(PASSING).rand_bytes(LETTERS);
    #[cfg(unix)]
    let builder = builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    for _ in 0..MOST_TRIES {
        let file = builder.tempfile_in(folder)?;
        // Between its making and its lock another save may have taken it for one left behind.
        match file.as_file().try_lock() {
            Ok(()) if !file.path().exists() => {}
            Err(TryLockError::WouldBlock) => {}
            // Where files cannot be locked none is cleared away either.
            Ok(()) | Err(TryLockError::Error(_)) => return Ok(file),
        }
    }
    Err(io::ErrorKind::ResourceBusy.into())
}

/// Removes files of passing name that nobody writes any more. What cannot be removed does no harm.
fn clear_away(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let letters = name.to_str().and_then(|name| name.strip_prefix(PASSING));
        let is_passing = letters.is_some_and(|letters| {
            letters.len() == LETTERS && letters.bytes().all(|letter| letter.is_ascii_alphanumeric())
        });
        if is_passing
            && entry.file_type().is_ok_and(|kind| kind.is_file())
            && let Ok(file) = File::options().read(true).write(true).open(entry.path())
            && file.try_lock().is_ok()
        {
            let _ = fs::remove_file(entry.path());
        }
    }
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
