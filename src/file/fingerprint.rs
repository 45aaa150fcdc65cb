//! What a file looked like when it was last read or written, to notice that another program has changed it since.
//!
//! Length and time of change tell quickly that nothing happened; where they differ the contents decide, so that a file
//! that was merely copied back or touched counts as the same.

use super::load::MOST_BYTES;
use std::fs::{File, Metadata};
use std::io::{self, Read};
use std::path::Path;
use std::time::SystemTime;

/// The looks of a file.
#[derive(Clone, Copy, Debug)]
pub struct Fingerprint {
    length: u64,
    /// Time of change, where the system tells one.
    modified: Option<SystemTime>,
    hash: u64,
}

/// Two files are the same if their contents are; when they were written does not matter.
impl PartialEq for Fingerprint {
    fn eq(&self, other: &Self) -> bool {
        (self.length, self.hash) == (other.length, other.hash)
    }
}

impl Eq for Fingerprint {}

/// What has become of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// It holds what it held.
    Same(Fingerprint),
    /// It holds something else.
    Changed(Fingerprint),
    /// It is not there any more.
    Gone,
    /// It cannot be looked at: a drive that was pulled, a folder that is closed. Nothing is known.
    Unknown,
}

impl Fingerprint {
    /// Of contents, and what the system says of the file that holds them.
    pub(super) fn new(contents: &[u8], metadata: &Metadata) -> Self {
        let mut hash = Fnv::default();
        hash.take(contents);
        Self { length: contents.len() as u64, modified: metadata.modified().ok(), hash: hash.0 }
    }

    /// As it was noted down, without the time of change: the contents decide.
    pub(super) fn noted((length, hash): (u64, u64)) -> Self {
        Self { length, modified: None, hash }
    }

    /// To be noted down: length and hash of the contents.
    pub(super) fn note(&self) -> (u64, u64) {
        (self.length, self.hash)
    }

    /// Looks at a file without taking it into memory.
    ///
    /// # Errors
    /// A file that is not there or cannot be read.
    pub fn of(path: &Path) -> io::Result<Self> {
        let mut file = File::open(path)?;
        let metadata = file.metadata()?;
        let mut hash = Fnv::default();
        let mut piece = vec![0; 1 << 16];
        let mut length = 0;
        // What is longer than any project has changed anyway; it need not be read to its end.
        while length <= MOST_BYTES {
            let read = match file.read(&mut piece) {
                Ok(read) => read,
                Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
                Err(error) => return Err(error),
            };
            if read == 0 {
                break;
            }
            hash.take(&piece[..read]);
            length += read as u64;
        }
        Ok(Self { length, modified: metadata.modified().ok(), hash: hash.0 })
    }

    /// Looks whether a file has changed since, at no more cost than asking the system for length and time where they are
    /// as they were.
    #[must_use]
    pub fn look(&self, path: &Path) -> Seen {
        match std::fs::metadata(path) {
            Ok(now)
                if now.is_file()
                    && now.len() == self.length
                    && self.modified.is_some()
                    && now.modified().ok() == self.modified =>
            {
                Seen::Same(*self)
            }
            _ => self.look_inside(path),
        }
    }

    /// Looks whether the contents of a file have changed since.
    #[must_use]
    pub fn look_inside(&self, path: &Path) -> Seen {
        match Self::of(path) {
            Ok(now) if now == *self => Seen::Same(now),
            Ok(now) => Seen::Changed(now),
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => Seen::Gone,
            Err(_) => Seen::Unknown,
        }
    }
}

/// The 64-bit hash FNV-1a of Fowler, Noll and Vo: its numbers stay the same from version to version, so that they can be
/// noted down. It guards against chance, not against malice.
struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Fnv {
    fn take(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Check values of the hash's authors, from memory.
    #[test]
    fn the_hash_is_the_published_one() {
        for (text, expected) in
            [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
        {
            let mut hash = Fnv::default();
            hash.take(text.as_bytes());
            assert_eq!(hash.0, expected, "{text}");
        }
    }

    #[test]
    fn what_became_of_a_file_is_seen() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("house.ron");
        std::fs::write(&path, "one").unwrap();
        let first = Fingerprint::of(&path).unwrap();
        assert_eq!(first, Fingerprint::new(b"one", &std::fs::metadata(&path).unwrap()));
        assert_eq!(first.look(&path), Seen::Same(first));
        // Of the same length: only time and contents tell.
        std::fs::write(&path, "two").unwrap();
        let Seen::Changed(second) = first.look_inside(&path) else { panic!("not seen") };
        assert_ne!(first, second);
        // Written again with the same contents, and noted down in between.
        std::fs::write(&path, "one").unwrap();
        assert_eq!(Fingerprint::noted(first.note()).look(&path), Seen::Same(first));
        std::fs::write(&path, "one and more").unwrap();
        assert!(matches!(first.look(&path), Seen::Changed(_)));
        std::fs::remove_file(&path).unwrap();
        assert_eq!(first.look(&path), Seen::Gone);
        std::fs::create_dir(&path).unwrap();
        assert_eq!(first.look(&path), Seen::Unknown);
    }
}
