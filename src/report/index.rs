//! The energy efficiency index of a circulator with every step towards it, in words and as JSON; an estimate, no certificate.

use super::columns::{self, plain, width};
use crate::document::{ComponentId, Project};
use crate::engine::pump::{CALIBRATION, EnergyIndex, IndexPoint, SCOPE_HYDRAULIC_W};
use crate::engine::units::{Quantity, SPACE, Units};
use serde_json::json;

/// Density of the water for which the index is reckoned, kg/m³: the regulation leaves it open.
pub const TEST_WATER_KG_PER_M3: f64 = 1000.0;

/// What the figure is not.
const NO_CERTIFICATE: &str = "An estimate from catalogue figures and no certificate: the index that may be declared is measured on a \
                              test rig by EN 16297.";

/// Where the steps come from.
const SOURCE: &str = "EN 16297-1 and -2; Regulation (EC) 641/2009, Annex II point 2, as amended by (EU) 622/2012. The reference power, the \
                      factor 0.49 and the charge for missing head are given from memory.";

fn name(project: &Project, pump: ComponentId) -> &str {
    project.components.get(&pump).map_or("", |component| component.name.as_str())
}

/// The index in words, step by step.
#[must_use]
pub fn index_text(project: &Project, pump: ComponentId, index: &EnergyIndex, units: &Units) -> String {
    let title = plain(&project.title);
    // Two decimals, so that each step can be followed with what is printed.
    let power = |watts: f64| format!("{watts:.2}{SPACE}W");
    let [flow, head] = [
        units.format(Quantity::Flow, index.reference.flow_m3_per_s),
        units.format(Quantity::Head, index.reference.head_m),
    ];
    let mut text = format!("{title}\n{}\n", "=".repeat(width(&title)));
    text += &format!("{}: energy efficiency index, estimated\n\n", plain(name(project, pump)));
    text += "1. Where flow times head is greatest on the full-speed curve, in water:\n";
    text += &format!("     Q100 = {flow}, H100 = {head}\n");
    if index.reference.beyond_data {
        text += "     This lies past the last catalogue point, on the curve carried on: the index is a guess.\n";
    }
    text += &format!("2. Hydraulic power there, with {TEST_WATER_KG_PER_M3:.0} kg/m³:\n");
    text += &format!("     P_hyd = ρ g Q100 H100 = {}\n", power(index.hydraulic_w));
    if !index.in_scope {
        let (least, most) = (SCOPE_HYDRAULIC_W.start(), SCOPE_HYDRAULIC_W.end());
        text +=
            &format!("     The regulation covers {least} to {most} W only: for this circulator there is no index.\n");
    }
    text += "3. Reference power of a circulator of this hydraulic power:\n";
    text +=
        &format!("     P_ref = 1.7 P_hyd + 17 (1 − e^(−0.3 P_hyd)) = {}, powers in watts\n", power(index.reference_w));
    text +=
        "4. Electric power along the load profile, on the reference control curve H_ref = H100 (0.5 + 0.5 Q/Q100);\n";
    text += "   where the head given falls short of it, the power is charged by H_ref/H:\n";
    let headings =
        ["Q/Q100", "Share of time", "Flow", "H_ref", "H given", "P_1", "P_L, charged", "Share of time × P_L"];
    let row = |point: &IndexPoint| {
        let percent = |share: f64| format!("{:.0}{SPACE}%", 100.0 * share);
        vec![
            percent(point.load.flow_share),
            percent(point.load.weight),
            units.format(Quantity::Flow, point.flow_m3_per_s),
            units.format(Quantity::Head, point.reference_head_m),
            units.format(Quantity::Head, point.head_m),
            power(point.electric_w),
            power(point.compensated_w),
            power(point.weighted_w),
        ]
    };
    let rows = std::iter::once(headings.map(str::to_owned).to_vec()).chain(index.points.iter().map(row));
    text += &columns::table("     ", &rows.collect::<Vec<_>>());
    text += &format!("5. Average over the profile:\n     P_L,avg = {}\n", power(index.average_w));
    text += &format!(
        "6. Index, with the factor {CALIBRATION} that calibrates it:\n     EEI = {CALIBRATION} P_L,avg / P_ref = {:.4}, to two decimals {:.2}\n",
        index.index,
        index.rounded()
    );
    text += &format!("\n{NO_CERTIFICATE}\nSources: {SOURCE}\n");
    text
}

/// The index as JSON, in the units that the key names say.
#[must_use]
pub fn index_data(project: &Project, pump: ComponentId, index: &EnergyIndex) -> String {
    let point = |point: &IndexPoint| {
        json!({
            "flow_share_percent": 100.0 * point.load.flow_share,
            "time_share_percent": 100.0 * point.load.weight,
            "flow_m3_per_h": 3600.0 * point.flow_m3_per_s,
            "reference_head_m": point.reference_head_m,
            "head_m": point.head_m,
            "electric_w": point.electric_w,
            "compensated_w": point.compensated_w,
            "weighted_w": point.weighted_w,
        })
    };
    let whole = json!({
        "title": project.title,
        "caution": NO_CERTIFICATE,
        "sources": SOURCE,
        "pump": name(project, pump),
        "density_kg_per_m3": TEST_WATER_KG_PER_M3,
        "reference_flow_m3_per_h": 3600.0 * index.reference.flow_m3_per_s,
        "reference_head_m": index.reference.head_m,
        "beyond_data": index.reference.beyond_data,
        "hydraulic_w": index.hydraulic_w,
        "in_scope": index.in_scope,
        "reference_w": index.reference_w,
        "points": index.points.iter().map(point).collect::<Vec<_>>(),
        "average_w": index.average_w,
        "calibration": CALIBRATION,
        "index": index.index,
        "index_rounded": index.rounded(),
    });
    format!("{whole:#}\n")
}
