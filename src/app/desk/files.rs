//! The document and its file: read, written, recovered, and changed by another program meanwhile.

use super::Desk;
use crate::document::Project;
use crate::file::{self, FileError, Fingerprint};
use crate::study::Study;
use std::path::{Path, PathBuf};

/// A file that was read and studied.
#[derive(Debug)]
pub(in super::super) struct Read {
    project: Project,
    study: Study,
    mark: Fingerprint,
}

impl Desk {
    /// Takes a document that is in no file yet: it counts as changed until it is saved.
    pub(in super::super) fn unsaved(mut self) -> Self {
        self.is_changed = true;
        self.saved = None;
        self.path = None;
        self
    }

    /// Reads a file and studies it; for use beside the window.
    ///
    /// # Errors
    /// One sentence or more for the person who chose the file.
    pub(in super::super) fn read(path: &Path) -> Result<Read, String> {
        let (project, mark) = file::load_marked(path).map_err(|error| error.to_string())?;
        let study = Study::new(&project).map_err(|error| error.to_string())?;
        Ok(Read { project, study, mark })
    }

    /// Begins with a file that was read.
    pub(in super::super) fn opened(Read { project, study, mark }: Read, path: &Path) -> Self {
        Self { mark: Some(mark), ..Self::with(project, study, Some(path.to_owned())) }
    }

    /// Takes a document that was recovered, as a changed one of the file it came from; `mark` is what that file looked like
    /// to it.
    ///
    /// # Errors
    /// A document that cannot be studied, in a sentence.
    pub(in super::super) fn recovered(
        project: Project,
        path: Option<PathBuf>,
        mark: Option<Fingerprint>,
    ) -> Result<Self, String> {
        let on_disk = path.as_deref().and_then(|path| file::load_marked(path).ok());
        let mut desk = Self::new(project, path)?;
        desk.mark = mark;
        desk.saved = on_disk.map(|(saved, now)| {
            // The program ended after a save, before it could clear up.
            if saved == desk.project {
                desk.mark = Some(now);
            }
            saved
        });
        desk.is_changed = desk.differs();
        Ok(desk)
    }

    /// The file does not hold what was saved any more; `mark` is what it looks like now, if it is there.
    pub fn disown_file(&mut self, mark: Option<Fingerprint>) {
        self.saved = None;
        self.mark = mark.or(self.mark);
        self.is_changed = true;
    }

    pub(super) fn differs(&self) -> bool {
        self.saved.as_ref() != Some(&self.project)
    }

    /// Saves to a file and goes on with it.
    ///
    /// # Errors
    /// What kept the file from being written.
    pub fn save(&mut self, path: &Path) -> Result<(), FileError> {
        self.mark = Some(file::save_marked(&self.project, path)?);
        self.path = Some(path.to_owned());
        self.saved = Some(self.project.clone());
        self.is_changed = false;
        Ok(())
    }
}
