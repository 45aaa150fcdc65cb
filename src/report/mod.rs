//! Reports: what a study found, as a text for people ([`table`]), as data for other programs ([`data`]) and as a picture ([`picture`]).
//!
//! Its part in the data's way: it reads a document, and its study, and gives back a text or the bytes of a picture. It writes no file
//! and prints nothing.

mod amounts;
mod beside;
mod best;
mod best_data;
mod columns;
mod data;
mod energy;
mod index;
mod instruments;
mod map;
mod map_made;
mod margins;
mod page;
pub mod picture;
mod pipes;
mod proof;
mod reasons;
pub mod record;
mod scenario_csv;
mod scenarios;
mod sized;
mod table;
mod today;

pub use beside::{Beside, all_beside, beside, settings_words};
pub use best::{BestView, Moved, best_text, valve_words};
pub use best_data::best_data;
pub use data::data;
pub use energy::YearEnergy;
pub use index::{TEST_WATER_KG_PER_M3, index_data, index_text};
pub use map::{MapView, axis_names, map_csv, map_text};
pub use map_made::with_map;
pub use page::{page, page_of};
pub use proof::{Fault, Proof, prove};
pub use scenario_csv::scenario_csv;
pub use scenarios::{Swept, scenario_data, scenario_table};
pub use sized::{sized, sized_notes};
pub use table::{check_lines, table};
pub use today::today;

/// What stands under every result.
pub const CAUTION: &str = "Estimates for a competent person: check them on the real system. Local codes, the device's own \
                           instructions and licensed practice decide.";
