//! The tables of a record as CSV, one file each: numbers in full, in the units that the headings name.

use super::Record;
use super::sheet::{Cell, Column, Fact, Sheet};
use crate::report::scenario_csv::line;

/// A file of CSV.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Csv {
    /// Name of the file.
    pub name: String,
    /// What stands in it.
    pub text: String,
}

/// All tables of a record, and its facts as a table of their own. A table without rows is its headings alone, so that it replaces
/// an older one that had some.
#[must_use]
pub fn record_csv(record: &Record) -> Vec<Csv> {
    let of = |sheet: &Sheet| Csv { name: format!("{}.csv", sheet.key), text: sheet_csv(sheet) };
    [Csv { name: "facts.csv".to_owned(), text: facts(record) }].into_iter().chain(record.sheets().map(of)).collect()
}

fn sheet_csv(sheet: &Sheet) -> String {
    let headings: Vec<String> = sheet.columns.iter().map(heading).collect();
    let rows = sheet.rows.iter().map(|row| line(&row.iter().map(cell).collect::<Vec<_>>()));
    line(&headings) + &rows.collect::<String>()
}

/// "predicted: flow (m³/h)".
fn heading(column: &Column) -> String {
    let name = match column.group {
        "" => column.heading.clone(),
        group => format!("{group}: {}", column.heading),
    };
    match column.unit {
        "" => name,
        unit => format!("{name} ({unit})"),
    }
}

/// A number in full, without the noise of its last bits.
fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Number { value: Some(value), .. } => full(*value),
        Cell::Number { value: None, .. } => String::new(),
        other => other.shown().to_owned(),
    }
}

/// Ten figures, more than anything here is good for.
fn full(value: f64) -> String {
    format!("{value:.9e}").parse::<f64>().map_or_else(|_| String::new(), |value| format!("{value}"))
}

fn facts(record: &Record) -> String {
    let mut text = line(&["part", "what", "is"]);
    let mut add = |part: &str, facts: &[Fact]| {
        for fact in facts {
            text += &line(&[part, &fact.label, &fact.text]);
        }
    };
    add(
        "record",
        &[
            Fact::new("Title", &*record.title),
            Fact::new("Date", &*record.date),
            Fact::new("Program", &*record.program),
            Fact::new("Converged", if record.converged { "yes" } else { "no" }),
            Fact::new("Predicted", &*record.predicted),
            Fact::new("Caution", record.caution),
            Fact::new("Notes", &*record.notes),
        ],
    );
    add("site", &record.site);
    add("summary", &record.summary);
    add("design basis", &record.basis);
    add("energy", &record.energy);
    for pump in &record.pumps {
        let settings: Vec<Fact> = pump.settings.iter().map(|one| Fact::new(one.name, &*one.value)).collect();
        add(&pump.name, &settings);
        // To be written in, as on the page.
        for setting in &pump.settings {
            let [left, by] = ["as left", "as left, date and by"].map(|what| format!("{}, {what}", setting.name));
            add(&pump.name, &[Fact::new(&left, ""), Fact::new(&by, "")]);
        }
        add(&pump.name, &[Fact::new("Control", &*pump.control), Fact::new("Reference flow", &*pump.reference)]);
        add(&pump.name, &pump.facts);
    }
    for caution in &record.cautions {
        add("caution", &[Fact::new(caution.heading, &*caution.text)]);
    }
    for check in &record.open {
        add("open", &[Fact::new(&format!("{}: {}", check.severity, check.place), check.sentence())]);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::full;

    #[test]
    fn numbers_lose_the_noise_of_their_last_bits() {
        assert_eq!(full(0.1 + 0.2), "0.3");
        assert_eq!(full(1.985), "1.985");
        assert_eq!(full(0.0), "0");
    }
}
