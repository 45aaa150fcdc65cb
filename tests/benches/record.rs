//! What a record costs, in milliseconds: a building of 12 zones with 8 scenarios, from the project to the bytes of the PDF. It is to be
//! made in under a second.

#![expect(clippy::unwrap_used, reason = "a benchmark may stop at what it did not expect")]
#![expect(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../record/building.rs"]
mod building;
#[path = "../plans/mod.rs"]
#[expect(dead_code, reason = "it takes one of the two buildings")]
mod plans;

use headwise::engine::units::Units;
use headwise::report::record::{Paper, Record, record_csv, record_pdf};
use std::time::Instant;

fn main() {
    let project = building::building(12, 8);
    let units = Units::si();
    // The first of all makes the library of the typesetter, too.
    for run in 1..=4 {
        let begun = Instant::now();
        let (record, pictures) = Record::with_pictures(&project, &units, "2026-03-31").unwrap();
        let solved = begun.elapsed();
        let pdf = record_pdf(&record, &pictures, Paper::A4).unwrap();
        let set = begun.elapsed() - solved;
        let tables = record_csv(&record).len();
        let [solved, set] = [solved, set].map(|time| time.as_secs_f64() * 1e3);
        println!("run {run}: solved and drawn {solved:8.1} ms, set {set:8.1} ms, {} bytes, {tables} tables", pdf.len());
    }
}
