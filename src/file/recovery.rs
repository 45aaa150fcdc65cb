//! Copies of unsaved work in a folder of the user's, so that a crash or a power cut costs seconds.
//!
//! Every running window keeps its copies under a name of its own, `window-LETTERS-NUMBER.ron`, and holds the lock of
//! `window-LETTERS.lock` for as long as it lives. Whatever ends the program gives the lock back: a copy whose lock can be
//! taken was left behind. Who looks for such copies holds their locks meanwhile, so that two windows do not offer the same.
//!
//! A copy is a project file with a comment in front that says what it is of; it can be opened by hand as well.

use super::error::FileError;
use super::fingerprint::Fingerprint;
use super::load::{self, parse};
use super::save::{replace, to_text};
use crate::document::Project;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, TryLockError};
use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

/// What the comment in front begins with; an object in JSON follows on the same line.
const MARK: &str = "// Headwise recovery copy: ";

/// The newest form of that comment.
const NEWEST: u32 = 1;

/// Most bytes that the comment may take.
const MOST_HEADER: u64 = 1 << 20;

const WINDOW: &str = "window-";
const LOCK: &str = ".lock";
const COPY: &str = ".ron";

/// What a copy is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// Title of the project.
    pub title: String,
    /// The file that the document came from, if it came from one.
    pub path: Option<PathBuf>,
    /// What that file looked like when it was last read or written.
    pub mark: Option<Fingerprint>,
    /// When the copy was written.
    pub time: SystemTime,
    /// Number of the process that wrote it, for the person who looks into the file.
    pub process: u32,
}

impl Origin {
    /// Of a document as it is now, in this process.
    #[must_use]
    pub fn now(title: &str, path: Option<&Path>, mark: Option<Fingerprint>) -> Self {
        // The next start may be in another folder.
        let path = path.map(|path| std::path::absolute(path).unwrap_or_else(|_| path.to_owned()));
        Self { title: title.to_owned(), path, mark, time: SystemTime::now(), process: std::process::id() }
    }
}

/// The comment in front.
#[derive(Serialize, Deserialize)]
struct Header {
    version: u32,
    title: String,
    #[serde(default)]
    path: Option<String>,
    /// The path where it is no text.
    #[serde(default)]
    path_bytes: Option<Vec<u8>>,
    seconds_since_1970: u64,
    process: u32,
    /// Length and hash of that file.
    #[serde(default)]
    file: Option<(u64, u64)>,
}

fn to_line(origin: &Origin) -> Result<String, io::Error> {
    let path = origin.path.as_deref();
    let text = path.and_then(Path::to_str);
    let since = origin.time.duration_since(UNIX_EPOCH).unwrap_or_default();
    let header = Header {
        version: NEWEST,
        title: origin.title.clone(),
        path: text.map(str::to_owned),
        path_bytes: path.filter(|_| text.is_none()).and_then(bytes_of),
        seconds_since_1970: since.as_secs(),
        process: origin.process,
        file: origin.mark.map(|mark| mark.note()),
    };
    // JSON writes line breaks within text as \n, so that the comment stays one line.
    Ok(format!("{MARK}{}\n", serde_json::to_string(&header)?))
}

fn from_line(line: &str) -> Option<Origin> {
    let header: Header = serde_json::from_str(line.strip_prefix(MARK)?.trim_end()).ok()?;
    (header.version == NEWEST).then(|| Origin {
        title: header.title,
        path: header.path.map(PathBuf::from).or_else(|| header.path_bytes.and_then(path_of)),
        mark: header.file.map(Fingerprint::noted),
        time: UNIX_EPOCH.checked_add(Duration::from_secs(header.seconds_since_1970)).unwrap_or(UNIX_EPOCH),
        process: header.process,
    })
}

#[cfg(unix)]
fn bytes_of(path: &Path) -> Option<Vec<u8>> {
    Some(std::os::unix::ffi::OsStrExt::as_bytes(path.as_os_str()).to_owned())
}

#[cfg(unix)]
fn path_of(bytes: Vec<u8>) -> Option<PathBuf> {
    Some(PathBuf::from(<std::ffi::OsString as std::os::unix::ffi::OsStringExt>::from_vec(bytes)))
}

/// Elsewhere such a path cannot be noted down: the recovered document asks where to be saved.
#[cfg(not(unix))]
fn bytes_of(_: &Path) -> Option<Vec<u8>> {
    None
}

#[cfg(not(unix))]
fn path_of(_: Vec<u8>) -> Option<PathBuf> {
    None
}

/// The copies of one running window. What is still kept when it is dropped is there for the next window to offer.
#[derive(Debug)]
pub struct Keeper {
    folder: PathBuf,
    window: String,
    kept: BTreeSet<u64>,
    /// Its lock is held as long as this lives.
    lock: File,
}

impl Keeper {
    /// Begins in a folder, which is made if it is not there.
    ///
    /// # Errors
    /// A folder that cannot be written to.
    pub fn new(folder: &Path) -> Result<Self, FileError> {
        let failed = |source| FileError::Recovery { folder: folder.to_owned(), source };
        make_private(folder).map_err(failed)?;
        let (lock, window) = own_lock(folder).map_err(failed)?;
        Ok(Self { folder: folder.to_owned(), window, kept: BTreeSet::new(), lock })
    }

    /// Writes the copy of a document, in place of the one before it.
    ///
    /// # Errors
    /// A project that could not be loaded again, or a folder that cannot be written to.
    pub fn keep(&mut self, document: u64, project: &Project, origin: &Origin) -> Result<(), FileError> {
        let failed = |source| FileError::Recovery { folder: self.folder.clone(), source };
        let text = to_line(origin).map_err(failed)? + &to_text(project)?;
        replace(&self.place(document), text.as_bytes()).map_err(failed)?;
        self.kept.insert(document);
        Ok(())
    }

    /// Removes the copy of a document, if there is one.
    ///
    /// # Errors
    /// A copy that cannot be removed.
    pub fn forget(&mut self, document: u64) -> Result<(), FileError> {
        if self.kept.contains(&document) {
            remove(&self.place(document))
                .map_err(|source| FileError::Recovery { folder: self.folder.clone(), source })?;
            self.kept.remove(&document);
        }
        Ok(())
    }

    fn place(&self, document: u64) -> PathBuf {
        self.folder.join(format!("{}-{document}{COPY}", self.window))
    }
}

impl Drop for Keeper {
    fn drop(&mut self) {
        if self.kept.is_empty() {
            // While the lock is held, so that nobody takes it in between.
            let _ = fs::remove_file(lock_file(&self.folder, &self.window));
        }
        let _ = self.lock.unlock();
    }
}

/// A copy that was left behind.
#[derive(Clone, Debug)]
pub struct LeftBehind {
    path: PathBuf,
    /// What it is of, or why that cannot be told.
    origin: Result<Origin, String>,
    /// The lock of the window that wrote it; `None` where files cannot be locked.
    _claim: Option<Arc<File>>,
}

impl LeftBehind {
    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// What it is of.
    ///
    /// # Errors
    /// Why that cannot be told, in a sentence.
    pub fn origin(&self) -> Result<&Origin, &str> {
        self.origin.as_ref().map_err(String::as_str)
    }

    /// Reads what it holds; the copy stays.
    ///
    /// # Errors
    /// A copy that cannot be read or is damaged.
    pub fn read(&self) -> Result<Project, FileError> {
        let (text, _) = load::read(&self.path)?;
        parse(&text, &self.path.display().to_string())
    }

    /// Notes why it cannot be recovered, in place of what it is of.
    pub fn refuse(&mut self, why: &str) {
        self.origin = Err(why.to_owned());
    }

    /// Removes it for good.
    ///
    /// # Errors
    /// A copy that cannot be removed.
    pub fn delete(&self) -> Result<(), FileError> {
        let folder = self.path.parent().unwrap_or(Path::new("")).to_owned();
        remove(&self.path).map_err(|source| FileError::Recovery { folder, source })
    }
}

/// The copies in a folder whose window lives no more, the latest first. Their locks are held until they are dropped.
/// A folder that is not there, or cannot be read, has none.
#[must_use]
pub fn left_behind(folder: &Path) -> Vec<LeftBehind> {
    let names = fs::read_dir(folder).into_iter().flatten().flatten();
    let names: BTreeSet<String> = names.filter_map(|entry| entry.file_name().into_string().ok()).collect();
    let mut windows: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for name in &names {
        let copy = name.strip_suffix(COPY).and_then(|stem| stem.rsplit_once('-'));
        let copy = copy.filter(|(_, number)| number.parse::<u64>().is_ok()).map(|(window, _)| window);
        match (copy, name.strip_suffix(LOCK)) {
            (Some(window), _) if window.starts_with(WINDOW) => windows.entry(window).or_default().push(name),
            (_, Some(window)) if window.starts_with(WINDOW) => drop(windows.entry(window).or_default()),
            _ => {}
        }
    }
    let mut found = Vec::new();
    for (window, copies) in windows {
        let lock = lock_file(folder, window);
        let claim = match claim(&lock) {
            Claim::Taken(file) if copies.is_empty() => {
                let _ = fs::remove_file(&lock);
                drop(file);
                continue;
            }
            Claim::Taken(file) => Some(Arc::new(file)),
            Claim::Alive => continue,
            Claim::NoLocks => None,
        };
        found.extend(copies.iter().map(|name| {
            let path = folder.join(name);
            LeftBehind { origin: origin_of(&path).map_err(|error| error.to_string()), path, _claim: claim.clone() }
        }));
    }
    let time = |copy: &LeftBehind| copy.origin.as_ref().map_or(UNIX_EPOCH, |origin| origin.time);
    found.sort_by_key(|copy| std::cmp::Reverse(time(copy)));
    found
}

fn origin_of(path: &Path) -> Result<Origin, FileError> {
    let mut line = Vec::new();
    File::open(path)
        .and_then(|file| BufReader::new(file.take(MOST_HEADER)).read_until(b'\n', &mut line))
        .map_err(|source| FileError::read(path, source))?;
    let origin = std::str::from_utf8(&line).ok().and_then(from_line);
    origin.ok_or_else(|| FileError::NoRecovery { path: path.to_owned() })
}

enum Claim {
    Taken(File),
    /// Its window lives, or another window is offering its copies.
    Alive,
    /// This folder's files cannot be locked, so that nothing is known: better to offer twice than never.
    NoLocks,
}

fn claim(lock: &Path) -> Claim {
    let Ok(file) = File::options().read(true).write(true).create(true).truncate(false).open(lock) else {
        return Claim::NoLocks;
    };
    match file.try_lock() {
        // Gone in between: another window has settled it.
        Ok(()) if !lock.exists() => Claim::Alive,
        Ok(()) => Claim::Taken(file),
        Err(TryLockError::WouldBlock) => Claim::Alive,
        Err(TryLockError::Error(_)) => Claim::NoLocks,
    }
}

fn lock_file(folder: &Path, window: &str) -> PathBuf {
    folder.join(format!("{window}{LOCK}"))
}

/// A lock of a name not used before, held, and the window's name in it.
fn own_lock(folder: &Path) -> io::Result<(File, String)> {
    const MOST_TRIES: usize = 20;
    for _ in 0..MOST_TRIES {
        let file = tempfile::Builder::new().prefix(WINDOW).suffix(LOCK).tempfile_in(folder)?;
        // Between its making and its lock another window may have taken it for one left behind.
        match file.as_file().try_lock() {
            Ok(()) if !file.path().exists() => continue,
            Err(TryLockError::WouldBlock) => continue,
            Ok(()) | Err(TryLockError::Error(_)) => {}
        }
        let name = file.path().file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        let (file, _) = file.keep().map_err(|error| error.error)?;
        return Ok((file, name.trim_end_matches(LOCK).to_owned()));
    }
    Err(io::ErrorKind::ResourceBusy.into())
}

/// Work that lies in a file only its owner can read must not be open to others in its copy.
fn make_private(folder: &Path) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder)
}

/// Removes a file that may be gone already.
fn remove(path: &Path) -> io::Result<()> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}
