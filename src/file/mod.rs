//! The project file: RON text that a person can read, change and compare, one component, pipe, zone or scenario a line.
//!
//! Its part in the data's way: [`load()`] and [`parse`] turn text into a [`Project`](crate::document::Project), [`save()`]
//! and [`to_text`] turn it back. The file's own types (`v1`) stand apart from the live ones, so that either can change
//! without the other; units are in the file's field names and end here.
//!
//! - `load`: the way in: size, encoding, format number, then the version that wrote it;
//! - `save`: the way out: written beside the old file, then put in its place in one step;
//! - `fingerprint`: whether another program has changed a file since;
//! - [`recovery`]: copies of unsaved work, for the case that the program ends without closing;
//! - `v1`: format 1, both ways. A later format gets a module of its own and is read by upgrading;
//! - `figure`: numbers in the file's units that come back to the last bit;
//! - `locate`: where in the text a thing stands; `wording`: the reader's complaints in plain sentences;
//! - `error`: every way it can fail;
//! - [`table`]: lists of zones and catalogue points out of a spreadsheet, the other way in.
//!
//! Comments of a hand-written file are read over and not kept: saving writes the project alone, in the order and spacing of
//! this program. What must stay belongs into `notes`.
//!
//! Identities are not in the file: components, pipes and zones are numbered 1, 2, 3 … in the order of the file, and are
//! written in the order of their numbers. A project that was loaded, or is numbered so, comes back equal after saving;
//! one with gaps comes back the same but for its numbers.

mod error;
mod figure;
mod fingerprint;
mod load;
mod locate;
pub mod recovery;
mod save;
pub mod table;
mod v1;
mod wording;

pub use error::{FileError, LocatedFlaw};
pub use fingerprint::{Fingerprint, Seen};
pub use load::{MOST_BYTES, NEWEST_FORMAT, load, load_marked, parse};
pub(crate) use load::{format_number, read};
pub(crate) use locate::Outline;
pub use save::{save, save_marked, to_text};
pub(crate) use wording::syntax;
