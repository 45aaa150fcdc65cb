//! Which term stands behind the label of a row, so that forms explain themselves wherever they name one.

use crate::study::terms::Term;

/// The term of a row, by its label; by the hint where two kinds of rows bear the same label.
pub(super) fn of_label(label: &str, hint: &str) -> Option<Term> {
    if hint.starts_with("Step in which") {
        return Some(Term::SettingStep);
    }
    Some(match label {
        "Head limit" => Term::HeadLimit,
        "Slope" => Term::Slope,
        "Speed cap" => Term::SpeedCap,
        "Minimum speed" => Term::MinimumSpeed,
        "Power limit" => Term::PowerLimit,
        "Reference" | "Reference flow" => Term::ReferenceFlow,
        "NPSH required" => Term::SuctionHead,
        "Full speed" | "Speed" => Term::Speed,
        "Standby power" | "Electric power" => Term::ElectricPower,
        "Wire to water" => Term::Efficiency,
        "Kv as set" => Term::Presetting,
        label if label.starts_with("Kv") => Term::FlowCoefficient,
        "Flow" => Term::Flow,
        "Head" => Term::Head,
        label if label.starts_with("Velocity") => Term::Velocity,
        label if label.starts_with("Friction") => Term::Friction,
        "Pressure drop" => Term::PressureDrop,
        "Minimum flow" => Term::MinimumFlow,
        "Design flow" => Term::DesignFlow,
        "Share of it" => Term::ShareOfDesignFlow,
        "Heat" => Term::Heat,
        "Share of load" => Term::HeatShare,
        "Room" => Term::RoomTemperature,
        label if label.starts_with("Authority") => Term::Authority,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::app::inspector::figures::STEPS;

    #[test]
    fn the_steps_of_the_settings_are_not_taken_for_the_settings() {
        for figure in STEPS {
            assert_eq!(of_label(figure.label, figure.hint), Some(Term::SettingStep), "{}", figure.label);
        }
        assert_eq!(of_label("Slope", "How far the set-line has fallen at zero flow."), Some(Term::Slope));
        assert_eq!(of_label("Kv nominal", ""), Some(Term::FlowCoefficient));
        assert_eq!(of_label("Name", ""), None);
    }
}
