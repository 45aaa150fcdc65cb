//! The file at work is looked at every few seconds by a thread of its own: a drive that does not answer holds up no pass
//! and no recovery copy.

use crate::file::{Fingerprint, Seen};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

/// A file and what it looked like when the window last read or wrote it.
pub(super) type Watched = (PathBuf, Fingerprint);

/// The thread, seen from the window. It ends soon after this is dropped; nobody waits for it.
#[derive(Debug)]
pub(super) struct Watch {
    to: Sender<Option<Watched>>,
    seen: Receiver<(Watched, Seen)>,
}

impl Watch {
    /// Starts the thread. `wake` lets the window look at what was seen.
    pub fn start(every: Duration, wake: impl Fn() + Send + 'static) -> Self {
        let (to, messages) = channel();
        let (tell, seen) = channel();
        std::thread::spawn(move || {
            let mut look: Option<Look> = None;
            loop {
                let message = match look {
                    Some(_) => messages.recv_timeout(every),
                    None => messages.recv().map_err(|_| RecvTimeoutError::Disconnected),
                };
                match message {
                    Ok(watched) => look = Option::map(watched, Look::new),
                    Err(RecvTimeoutError::Timeout) => {
                        if let Some(look) = &mut look
                            && let Some(seen) = look.again()
                        {
                            if tell.send((look.watched.clone(), seen)).is_err() {
                                return;
                            }
                            wake();
                        }
                    }
                    Err(RecvTimeoutError::Disconnected) => return,
                }
            }
        });
        Self { to, seen }
    }

    /// Looks at this file from now on.
    pub fn on(&self, watched: Option<Watched>) {
        // Without a listener there is nothing to look at either.
        let _ = self.to.send(watched);
    }

    /// What was seen since the last question, of which file.
    pub fn seen(&self) -> Option<(Watched, Seen)> {
        self.seen.try_iter().last()
    }
}

/// One file under watch.
struct Look {
    watched: Watched,
    /// What it looked like last, so that a changed file is not read through again and again.
    last: Fingerprint,
    told: Seen,
    missed: bool,
}

impl Look {
    fn new(watched: Watched) -> Self {
        let mark = watched.1;
        Self { watched, last: mark, told: Seen::Same(mark), missed: false }
    }

    /// What has become of the file, if that is something new.
    fn again(&mut self) -> Option<Seen> {
        let (path, mark) = &self.watched;
        let seen = match self.last.look(path) {
            Seen::Same(now) | Seen::Changed(now) => {
                self.last = now;
                if now == *mark { Seen::Same(now) } else { Seen::Changed(now) }
            }
            // Some programs save by taking the old file away first: gone is what is gone twice.
            Seen::Gone if self.missed => Seen::Gone,
            other => {
                self.missed = other == Seen::Gone;
                return None;
            }
        };
        self.missed = seen == Seen::Gone;
        (seen != self.told).then(|| {
            self.told = seen;
            seen
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn what_becomes_of_a_file_is_told_once() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        fs::write(&path, "one").unwrap();
        let mark = Fingerprint::of(&path).unwrap();
        let mut look = Look::new((path.clone(), mark));
        assert_eq!(look.again(), None);
        fs::write(&path, "another").unwrap();
        let other = Fingerprint::of(&path).unwrap();
        assert_eq!((look.again(), look.again()), (Some(Seen::Changed(other)), None));
        fs::remove_file(&path).unwrap();
        assert_eq!((look.again(), look.again(), look.again()), (None, Some(Seen::Gone), None));
        fs::write(&path, "one").unwrap();
        assert_eq!((look.again(), look.again()), (Some(Seen::Same(mark)), None));
    }
}
