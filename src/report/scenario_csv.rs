//! The scenarios as CSV: one row a scenario and zone, in the units that the headings name.

use super::energy::{HOUR_S, KWH_J, power_w};
use super::scenarios::Swept;
use crate::study::{ill_sources, limit_name};

/// Headings.
const HEADINGS: [&str; 18] = [
    "scenario",
    "hours_per_year",
    "converged",
    "pump",
    "pump_flow_m3_per_h",
    "pump_head_m",
    "pump_speed_percent",
    "pump_electric_w",
    "governing",
    "all_pumps_kwh",
    "zone",
    "state",
    "flow_m3_per_h",
    "share_percent",
    "heat_kw",
    "heat_share_percent",
    "return_c",
    "sources",
];

/// The scenarios as CSV.
#[must_use]
pub fn scenario_csv(swept: &Swept<'_>) -> String {
    let mut text = line(&HEADINGS.map(str::to_owned));
    let project = swept.project;
    for (scenario, results) in project.scenarios.iter().zip(swept.results) {
        let pump = swept.pump.and_then(|id| Some((project.components.get(&id)?, results.pumps.get(&id)?)));
        let sources = ill_sources(project, results).join(", ");
        let of_pump = |figure: fn(&crate::study::PumpResult) -> f64| pump.map_or(f64::NAN, |(_, pump)| figure(pump));
        for (id, zone) in &results.zones {
            // Standing water is nobody's return.
            let return_c = if zone.flow == 0.0 { f64::NAN } else { zone.return_c };
            text += &line(&[
                scenario.name.clone(),
                number(scenario.hours_per_year),
                results.converged().to_string(),
                pump.map_or_else(String::new, |(component, _)| component.name.clone()),
                number(of_pump(|pump| pump.flow * HOUR_S)),
                number(of_pump(|pump| pump.head)),
                number(of_pump(|pump| pump.speed * 100.0)),
                number(of_pump(|pump| pump.electric_w)),
                pump.and_then(|(_, pump)| pump.governing).map_or("", limit_name).to_owned(),
                number(power_w(results) * scenario.hours_per_year * HOUR_S / KWH_J),
                project.zones.get(id).map_or_else(String::new, |zone| zone.name.clone()),
                zone.state.word().to_owned(),
                number(zone.flow * HOUR_S),
                number(zone.share * 100.0),
                number(zone.heat / 1000.0),
                number(zone.heat_share * 100.0),
                number(return_c),
                sources.clone(),
            ]);
        }
    }
    text
}

/// A number in full; nothing where there is none.
pub(super) fn number(value: f64) -> String {
    if value.is_finite() { format!("{value}") } else { String::new() }
}

/// A line of CSV, quoted where RFC 4180 asks for it. A name from a project must not run as a formula in a spreadsheet: texts that
/// would be read as one get an apostrophe before them.
pub(super) fn line<T: AsRef<str>>(cells: &[T]) -> String {
    let quoted = |cell: &T| {
        let cell = &plain(cell.as_ref());
        let needs = cell.contains(['"', ',', '\n', '\r']) || cell.trim() != cell;
        if needs { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
    };
    cells.iter().map(quoted).collect::<Vec<_>>().join(",") + "\r\n"
}

/// A cell that no spreadsheet takes for a formula; numbers stay as they are.
fn plain(cell: &str) -> String {
    let is_number = cell.parse::<f64>().is_ok_and(f64::is_finite);
    if cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && !is_number { format!("'{cell}") } else { cell.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::line;

    #[test]
    fn texts_are_no_formulas_and_numbers_stay_numbers() {
        let written = line(&["=1+2", "+cmd", "-A1", "@SUM(A1)", "\tx", "-2.5", "-3e-7", "Office-north", ""]);
        assert_eq!(written, "'=1+2,'+cmd,'-A1,'@SUM(A1),'\tx,-2.5,-3e-7,Office-north,\r\n");
        assert_eq!(line(&["\r=1", "=\"a\",1"]), "\"'\r=1\",\"'=\"\"a\"\",1\"\r\n");
    }
}
