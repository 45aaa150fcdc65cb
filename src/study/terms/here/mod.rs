//! The present figures of each term, put into its formula. The numbers come from the engine's own functions; what is written
//! before the equals sign is rounded for reading.

mod energy;
mod pump;
mod settings;
mod system;
mod zones;

use super::Here;
use super::entry::Term;
use super::subject::Subject;
use crate::engine::units::Quantity;

/// The figures; `None` where the project has none.
pub(super) fn of(term: Term, of: &Subject<'_>) -> Option<Here> {
    if !of.study.results().converged() {
        return None;
    }
    match term {
        Term::Flow => pump::flow(of),
        Term::Head => pump::head(of),
        Term::FullSpeedCurve => pump::full_speed(of),
        Term::SpeedFamily | Term::AffinityLaws => pump::affinity(of),
        Term::Speed => pump::speed(of),
        Term::EndOfData => pump::end_of_data(of),
        Term::SuctionHead => pump::suction_head(of),
        Term::HeadLimit => settings::head_limit(of),
        Term::Slope => settings::slope(of),
        Term::SpeedCap => settings::speed_cap(of),
        Term::MinimumSpeed => settings::minimum_speed(of),
        Term::PowerLimit => settings::power_limit(of),
        Term::ReferenceFlow => settings::reference(of),
        Term::ReferenceAtFullSpeed => settings::reference_at(of, true),
        Term::ReferenceAtCappedSpeed => settings::reference_at(of, false),
        Term::ReferenceAsDesignFlow => settings::reference_as_design(of),
        Term::SetLine => settings::set_line(of),
        Term::RegulatedCurve | Term::GoverningLimit => settings::governing(of),
        Term::SettingStep => settings::steps(of),
        Term::Variant => settings::variants(of),
        Term::SystemCurve => system::curve(of),
        Term::ZoneAlone => system::alone(of),
        Term::OperatingPoint => system::point(of),
        Term::LoopGain => system::gain(of),
        Term::IndexCircuit => system::index(of),
        Term::HeadPath => system::path(of),
        Term::Authority => system::authority(of),
        Term::FlowCoefficient => system::coefficient(of),
        Term::Presetting => system::presetting(of),
        Term::Velocity => system::velocity(of),
        Term::Friction => system::friction(of),
        Term::PressureDrop => system::drop(of),
        Term::MinimumFlow => system::minimum_flow(of),
        Term::Zone => zones::zone(of),
        Term::DesignFlow => zones::design_flow(of),
        Term::ShareOfDesignFlow => zones::share(of),
        Term::Heat => zones::heat(of),
        Term::HeatShare => zones::heat_share(of),
        Term::ReturnTemperature => zones::return_temperature(of),
        Term::RoomTemperature => zones::room(of),
        Term::ToleranceBand | Term::RobustSetting => zones::band(of),
        Term::Scenario => zones::scenarios(of),
        Term::ElectricPower => energy::electric(of),
        Term::HydraulicPower => energy::hydraulic(of),
        Term::Efficiency => energy::efficiency(of),
        Term::EnergyEfficiencyIndex => energy::index(of),
        // What the year takes is reckoned by part load, beside the study of one state.
        Term::Margin | Term::YearEnergy | Term::EqualEnergy => None,
    }
}

/// "left = value".
fn equals(of: &Subject<'_>, left: &str, quantity: Quantity, value: f64) -> Option<Here> {
    let right = of.says(quantity, value);
    value.is_finite().then(|| Here { words: format!("{left} = {right}"), value: Some((quantity, value)) })
}

/// A plain number with so many decimals in words.
fn plainly(left: &str, value: f64, decimals: usize) -> Option<Here> {
    value.is_finite().then(|| Here { words: format!("{left} = {value:.decimals$}").replace('-', "−"), value: None })
}

/// Words that end in no number.
fn words(words: String) -> Option<Here> {
    Some(Here { words, value: None })
}
