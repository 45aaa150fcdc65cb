//! A load profile as typed: one load point a line, its share of the flow and its share of the time, such as `75 : 15`.

use crate::engine::pump::LoadPoint;
use crate::engine::units::{Quantity, Units};

/// What parts the two shares of a line.
const SEPARATORS: [char; 4] = [':', ';', '\t', '='];

/// Reads the lines of a load profile, shares in per cent.
///
/// # Errors
/// A sentence about the first line that cannot be read, or about shares of time that do not come to 100 %.
pub fn read_profile(text: &str) -> Result<Vec<LoadPoint>, String> {
    let mut profile = Vec::new();
    for (number, line) in (1..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty()) {
        let Some((flow, time)) = line.split_once(SEPARATORS) else {
            return Err(format!("line {number}: write flow % : time %, such as 75 : 15"));
        };
        let share = |what: &str, text: &str| {
            let read = Units::si().parse(Quantity::Share, text);
            read.map_err(|flaw| format!("line {number}, share of {what}: {flaw}"))
        };
        let point = LoadPoint { flow_share: share("flow", flow)?, weight: share("time", time)? };
        for (what, share) in [("flow", point.flow_share), ("time", point.weight)] {
            if !(share > 0.0 && share <= 1.0) {
                return Err(format!("line {number}: the share of {what} must lie above 0 and up to 100 %"));
            }
        }
        profile.push(point);
    }
    if profile.is_empty() {
        return Err("type one load point a line: flow % : time %, such as 75 : 15".to_owned());
    }
    let sum: f64 = profile.iter().map(|load| load.weight).sum();
    if (sum - 1.0).abs() > 1e-6 {
        return Err(format!("the shares of time come to {:.1} %: let them come to 100 %", 100.0 * sum));
    }
    Ok(profile)
}
