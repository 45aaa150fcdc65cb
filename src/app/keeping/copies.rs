//! Recovery copies are written beside the window, by a thread that owns the latest snapshot: no pass waits for a disk.

use super::Pace;
use crate::document::Project;
use crate::file::Fingerprint;
use crate::file::recovery::{Keeper, LeftBehind, Origin};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

/// How long the end of the program waits for the thread.
const AT_MOST_AT_THE_END: Duration = Duration::from_secs(5);

/// A document as it was at one moment.
#[derive(Debug)]
pub(super) struct Snapshot {
    /// Which document of this window.
    pub document: u64,
    /// What it held.
    pub project: Arc<Project>,
    /// The file that it came from.
    pub path: Option<PathBuf>,
    /// What that file looked like.
    pub mark: Option<Fingerprint>,
    /// The copy that it was recovered from: it goes once this one is on the disk, which is then done without delay.
    pub recovered_from: Option<LeftBehind>,
}

enum Message {
    Keep(Snapshot),
    Forget(u64),
    Delete(LeftBehind),
}

/// The thread that keeps the copies, seen from the window.
#[derive(Debug)]
pub(super) struct Copies {
    /// `None` once the window has gone.
    to: Option<Sender<Message>>,
    trouble: Receiver<String>,
    /// Closed by the thread's end.
    end: Receiver<()>,
}

impl Copies {
    /// Starts the thread. `wake` lets the window look at its troubles.
    pub fn start(keeper: Keeper, pace: Pace, wake: impl Fn() + Send + 'static) -> Self {
        let (to, messages) = channel();
        let (troubles, trouble) = channel();
        let (ending, end) = channel();
        std::thread::spawn(move || {
            let mut writer = Writer { keeper, waiting: None, pace, troubled: false, troubles, wake };
            writer.run(&messages);
            drop(writer);
            drop::<Sender<()>>(ending);
        });
        Self { to: Some(to), trouble, end }
    }

    /// Gives a snapshot, in place of one that was not yet written.
    pub fn keep(&self, snapshot: Snapshot) {
        self.send(Message::Keep(snapshot));
    }

    /// Removes a document's copy.
    pub fn forget(&self, document: u64) {
        self.send(Message::Forget(document));
    }

    /// Removes a copy that was left behind by another window.
    pub fn delete(&self, copy: LeftBehind) {
        self.send(Message::Delete(copy));
    }

    /// What went wrong since the last question.
    pub fn trouble(&self) -> Option<String> {
        self.trouble.try_iter().last()
    }

    fn send(&self, message: Message) {
        if let Some(to) = &self.to {
            // Without a listener the thread has ended, which it only does at the window's end.
            let _ = to.send(message);
        }
    }
}

impl Drop for Copies {
    /// What still waits is written and what is to go is removed before the program ends.
    fn drop(&mut self) {
        self.to = None;
        let _ = self.end.recv_timeout(AT_MOST_AT_THE_END);
    }
}

#[derive(Debug)]
struct Waiting {
    snapshot: Snapshot,
    /// When the first change after the last copy came.
    since: Instant,
    due: Instant,
}

struct Writer<Wake> {
    keeper: Keeper,
    waiting: Option<Waiting>,
    pace: Pace,
    /// The last copy failed; told once, not again every few seconds.
    troubled: bool,
    troubles: Sender<String>,
    wake: Wake,
}

impl<Wake: Fn()> Writer<Wake> {
    fn run(&mut self, messages: &Receiver<Message>) {
        loop {
            let message = match &self.waiting {
                Some(waiting) => messages.recv_timeout(waiting.due.saturating_duration_since(Instant::now())),
                None => messages.recv().map_err(|_| RecvTimeoutError::Disconnected),
            };
            match message {
                Ok(Message::Keep(snapshot)) => self.take(snapshot),
                Ok(Message::Forget(document)) => {
                    if let Some(waiting) = self.waiting.take_if(|waiting| waiting.snapshot.document == document)
                        && let Some(copy) = waiting.snapshot.recovered_from
                    {
                        self.told(copy.delete().map_err(|error| error.to_string()));
                    }
                    let outcome = self.keeper.forget(document);
                    self.told(outcome.map_err(|error| error.to_string()));
                }
                Ok(Message::Delete(copy)) => self.told(copy.delete().map_err(|error| error.to_string())),
                Err(RecvTimeoutError::Timeout) => self.write(),
                Err(RecvTimeoutError::Disconnected) => {
                    self.write();
                    return;
                }
            }
        }
    }

    /// A change waits until the hand rests, but no longer than the pace allows.
    fn take(&mut self, mut snapshot: Snapshot) {
        let now = Instant::now();
        let mut since = now;
        if let Some(before) = self.waiting.take() {
            since = before.since;
            snapshot.recovered_from = snapshot.recovered_from.or(before.snapshot.recovered_from);
        }
        let at_once = snapshot.recovered_from.is_some();
        let due = if at_once { now } else { (now + self.pace.rest).min(since + self.pace.at_most) };
        self.waiting = Some(Waiting { snapshot, since, due });
    }

    fn write(&mut self) {
        let Some(Waiting { snapshot, .. }) = self.waiting.take() else { return };
        let Snapshot { document, project, path, mark, recovered_from } = &snapshot;
        let origin = Origin::now(&project.title, path.as_deref(), *mark);
        let outcome = self
            .keeper
            .keep(*document, project, &origin)
            .and_then(|()| recovered_from.as_ref().map_or(Ok(()), LeftBehind::delete));
        if outcome.is_err() {
            // The disk may have room again in a while; what this was recovered from stays until then.
            let now = Instant::now();
            self.waiting = Some(Waiting { snapshot, since: now, due: now + self.pace.at_most });
        }
        self.told(outcome.map_err(|error| error.to_string()));
    }

    fn told(&mut self, outcome: Result<(), String>) {
        let was_troubled = std::mem::replace(&mut self.troubled, outcome.is_err());
        if let Err(trouble) = outcome
            && !was_troubled
        {
            let _ = self.troubles.send(trouble);
            (self.wake)();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_change_waits_for_the_hand_to_rest_but_not_for_ever() {
        let folder = tempfile::tempdir().unwrap();
        let project = Arc::new(crate::file::parse(super::super::super::FIRST_SAMPLE, "sample").unwrap());
        let pace = Pace::default();
        let keeper = Keeper::new(folder.path()).unwrap();
        let (troubles, _) = channel();
        let mut writer = Writer { keeper, waiting: None, pace, troubled: false, troubles, wake: || () };
        let give = |writer: &mut Writer<_>| {
            let project = Arc::clone(&project);
            let snapshot = Snapshot { document: 0, project, path: None, mark: None, recovered_from: None };
            let now = Instant::now();
            writer.take(snapshot);
            (now, writer.waiting.as_ref().unwrap().due)
        };
        let (now, due) = give(&mut writer);
        assert!(due >= now + pace.rest && due < now + pace.at_most);
        // The first of a row of changes was nine seconds ago: one second is left of ten, though the hand does not rest.
        writer.waiting.as_mut().unwrap().since = now.checked_sub(Duration::from_secs(9)).unwrap();
        let (now, due) = give(&mut writer);
        assert!(due <= now + Duration::from_secs(1), "{:?}", due - now);
        writer.write();
        assert!(writer.waiting.is_none() && !writer.troubled);
        let (now, due) = give(&mut writer);
        assert!(due >= now + pace.rest, "a new row begins");
    }
}
