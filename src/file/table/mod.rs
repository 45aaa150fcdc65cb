//! Tables from a spreadsheet: text with tabs, semicolons or commas, a heading row, one thing a row.
//!
//! Its part in the data's way: [`read_zones`] and [`read_pump`] turn pasted text into what a plan is made of, [`read_bins`] and
//! [`read_profile`] into what scenarios are made of; [`load_zones`], [`load_pump`] and [`load_bins`] do so for a file. Headings are plain words in any order, with the unit in brackets behind them; decimals
//! have a point or a comma. All faults are told at once, each with row, column and what to do.
//!
//! - `grid`: text into cells; `headings`: what each column holds, and in which unit; `cells`: figures, decimal point or comma;
//! - `error`: faults of a table; `text`: a file as text; `zones` (with `columns` and `words`) and
//!   `pump`, `bins`: the kinds of table; `profile`: lines of a load profile; `sheet`: a list of zones as cells under fixed headings, for an editor.

mod bins;
mod cells;
mod columns;
mod error;
mod grid;
mod headings;
mod profile;
mod pump;
mod sheet;
mod text;
mod words;
mod zones;

pub use bins::{load_bins, read_bins};
pub use columns::Key as ZoneField;
pub use error::{TableError, TableFault};
pub use profile::read_profile;
pub use pump::{PumpTable, load_pump, read_pump, read_pump_of_speed};
pub use sheet::{Holding, Pasted, ZONE_FIELDS, cells_in_units, few_figures, load_cells, pasted, read_zone_cells};
pub use zones::{load_zones, read_zones};
