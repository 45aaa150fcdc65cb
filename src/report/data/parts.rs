//! The parts of the data report, one type each, and how they are made from what the study found.

use crate::document::{Acceptance, Fitting, PipeRun, PumpUnit};
use crate::engine::fluid::{Fluid, FluidProperties};
use crate::engine::pump::{GoverningLimit, ReferenceFlow};
use crate::problems::Check;
use crate::report::amounts::Amounts;
use crate::study::{ComponentResult, Curves, PipeResult, PumpResult, SourceResult, ZoneState};
use serde::Serialize;

/// Temperatures and duty of the design.
#[derive(Serialize)]
pub(super) struct Design {
    pub duty: &'static str,
    pub supply_c: f64,
    pub return_c: f64,
    pub room_c: f64,
    /// Outdoor temperature of the design, and now.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outdoor_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub outdoor_now_c: Option<f64>,
}

/// A source through which water flows.
#[derive(Serialize)]
pub(super) struct SourcePart<'a> {
    name: &'a str,
    flow_m3_per_h: f64,
    enters_c: f64,
    leaves_c: f64,
    heat_kw: f64,
}

/// The fluid at the mean of supply and return temperature.
#[derive(Serialize)]
pub(super) struct FluidPart {
    name: String,
    glycol_mass_percent: f64,
    density_kg_per_m3: f64,
    viscosity_mpa_s: f64,
    specific_heat_kj_per_kg_k: f64,
}

/// A pump.
#[derive(Serialize)]
pub(super) struct PumpPart<'a> {
    name: &'a str,
    running: bool,
    settings: SettingsPart,
    reference_flow_m3_per_h: Option<f64>,
    flow_m3_per_h: f64,
    head_m: f64,
    speed_percent: f64,
    speed_r_per_min: f64,
    governing: Option<&'static str>,
    ranges: Vec<RangePart>,
    hydraulic_w: f64,
    electric_w: f64,
    wire_to_water_percent: f64,
    /// Slope of the system curve less that of the regulated curve.
    stability_margin_m_per_m3_per_h: f64,
    beyond_data: bool,
    /// The water of its circuit at the circuit's mean temperature.
    circuit_mean_c: f64,
    density_kg_per_m3: f64,
    viscosity_mpa_s: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    viscous_correction: Option<ViscousPart>,
}

/// What a pump's catalogue curve was multiplied with for a viscous fluid, ISO/TR 17766.
#[derive(Serialize)]
struct ViscousPart {
    parameter_b: f64,
    flow_factor: f64,
    efficiency_factor: f64,
    within_tested_range: bool,
}

/// A pump's settings.
#[derive(Serialize)]
struct SettingsPart {
    head_limit_m: Option<f64>,
    slope_percent: f64,
    speed_cap_percent: f64,
    power_limit_w: Option<f64>,
    minimum_speed_percent: f64,
    reference_flow: &'static str,
}

/// A stretch of flow over which one limit governs.
#[derive(Serialize)]
struct RangePart {
    limit: &'static str,
    from_m3_per_h: f64,
    to_m3_per_h: f64,
}

/// A zone, or all of them.
#[derive(Serialize)]
pub(super) struct ZonePart<'a> {
    name: &'a str,
    flow_m3_per_h: f64,
    design_flow_m3_per_h: f64,
    share_percent: f64,
    heat_kw: f64,
    heat_share_percent: f64,
    supply_c: f64,
    return_c: f64,
    /// Where a thermostatic valve serves it.
    #[serde(skip_serializing_if = "Option::is_none")]
    room_c: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    state: Option<&'static str>,
}

/// A component with inlet and outlet, except a running pump.
#[derive(Serialize)]
pub(super) struct LinkPart<'a> {
    name: &'a str,
    kind: &'static str,
    flow_m3_per_h: f64,
    drop_kpa: f64,
    /// Of a three-way valve, whose other flow is that of its controlled way.
    #[serde(skip_serializing_if = "Option::is_none")]
    bypass_flow_m3_per_h: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bypass_drop_kpa: Option<f64>,
}

/// A pipe run.
#[derive(Serialize)]
pub(super) struct PipePart<'a> {
    name: String,
    from: &'a str,
    to: &'a str,
    length_m: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    size: Option<SizePart>,
    bore_mm: f64,
    roughness_mm: f64,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fittings: Vec<FittingPart>,
    /// Of its fittings and of what is not among them.
    loss_coefficient: f64,
    flow_m3_per_h: f64,
    drop_kpa: f64,
    velocity_m_per_s: f64,
    reynolds: f64,
    friction_pa_per_m: f64,
}

/// The size on sale that a pipe is of.
#[derive(Serialize)]
struct SizePart {
    series: &'static str,
    nominal: &'static str,
}

/// Some equal fittings of a pipe; the loss coefficient is of one.
#[derive(Serialize)]
struct FittingPart {
    kind: String,
    count: u32,
    loss_coefficient: Option<f64>,
    source: String,
}

/// What share of design flow counts as served, and who says so.
#[derive(Serialize)]
pub(super) struct AcceptancePart<'a> {
    low_percent: f64,
    high_percent: f64,
    source: &'a str,
}

/// Gauge pressures of a component at its own height.
#[derive(Serialize)]
pub(super) struct PressurePart<'a> {
    name: &'a str,
    inlet_kpa: f64,
    outlet_kpa: f64,
}

impl<'a> PressurePart<'a> {
    pub fn new(name: &'a str, [inlet, outlet]: [f64; 2]) -> Self {
        Self { name, inlet_kpa: kilo(inlet), outlet_kpa: kilo(outlet) }
    }
}

/// Something that calls for a look.
#[derive(Serialize)]
pub(super) struct CheckPart {
    severity: &'static str,
    place: String,
    heading: &'static str,
    what: String,
    meaning: String,
    remedy: String,
}

impl CheckPart {
    pub fn new(check: Check) -> Self {
        let Check { severity, title, heading, what, meaning, remedy, .. } = check;
        Self { severity: severity.word(), place: title, heading, what, meaning, remedy }
    }
}

/// From m³/s; the addition makes a negative zero a plain one.
pub(super) fn m3_per_h(m3_per_s: f64) -> f64 {
    m3_per_s * 3600.0 + 0.0
}

fn percent(fraction: f64) -> f64 {
    fraction * 100.0 + 0.0
}

/// From W to kW or from Pa to kPa.
pub(super) fn kilo(value: f64) -> f64 {
    value / 1000.0 + 0.0
}

fn limit_key(limit: GoverningLimit) -> &'static str {
    match limit {
        GoverningLimit::SetLine => "set_line",
        GoverningLimit::HeadLimit => "head_limit",
        GoverningLimit::SpeedCap => "speed_cap",
        GoverningLimit::PowerLimit => "power_limit",
        GoverningLimit::MinimumSpeed => "minimum_speed",
    }
}

impl<'a> AcceptancePart<'a> {
    pub fn new(band: &'a Acceptance) -> Self {
        Self { low_percent: percent(band.low), high_percent: percent(band.high), source: &band.source }
    }
}

impl FluidPart {
    pub fn new(fluid: &Fluid, properties: &FluidProperties) -> Self {
        Self {
            name: fluid.kind().to_string(),
            glycol_mass_percent: percent(fluid.glycol_mass_fraction()),
            density_kg_per_m3: properties.density_kg_per_m3,
            viscosity_mpa_s: properties.dynamic_viscosity_pa_s * 1000.0,
            specific_heat_kj_per_kg_k: kilo(properties.heat_capacity_j_per_kg_k),
        }
    }
}

impl<'a> PumpPart<'a> {
    pub fn new(name: &'a str, unit: &PumpUnit, result: &PumpResult, curves: Option<&Curves>) -> Self {
        let settings = &unit.regulation;
        // A given flow is known even while the circulator stands.
        let given = match settings.reference {
            ReferenceFlow::DesignFlow(flow) if settings.head_limit_m.is_some() => Some(flow),
            _ => None,
        };
        let ranges = curves.map(|curves| curves.ranges.as_slice()).unwrap_or_default();
        Self {
            name,
            running: result.running,
            settings: SettingsPart {
                head_limit_m: settings.head_limit_m,
                slope_percent: percent(settings.slope),
                speed_cap_percent: percent(settings.speed_cap),
                power_limit_w: settings.power_limit_w,
                minimum_speed_percent: percent(settings.minimum_speed),
                reference_flow: match settings.reference {
                    ReferenceFlow::FullSpeed => "full_speed",
                    ReferenceFlow::CappedSpeed => "capped_speed",
                    ReferenceFlow::DesignFlow(_) => "design_flow",
                },
            },
            reference_flow_m3_per_h: result.reference_flow.or(given).map(m3_per_h),
            flow_m3_per_h: m3_per_h(result.flow),
            head_m: result.head + 0.0,
            speed_percent: percent(result.speed),
            speed_r_per_min: result.speed_rpm,
            governing: result.governing.map(limit_key),
            ranges: ranges
                .iter()
                .map(|range| RangePart {
                    limit: limit_key(range.limit),
                    from_m3_per_h: m3_per_h(range.from_m3_per_s),
                    to_m3_per_h: m3_per_h(range.to_m3_per_s),
                })
                .collect(),
            hydraulic_w: result.hydraulic_w,
            electric_w: result.electric_w,
            wire_to_water_percent: percent(result.wire_to_water),
            stability_margin_m_per_m3_per_h: result.stability_margin / 3600.0,
            beyond_data: result.beyond_data,
            circuit_mean_c: result.water.mean_c,
            density_kg_per_m3: result.water.fluid.density_kg_per_m3,
            viscosity_mpa_s: result.water.fluid.dynamic_viscosity_pa_s * 1000.0,
            viscous_correction: result.viscous.map(|(factors, within_tested_range)| ViscousPart {
                parameter_b: factors.b,
                flow_factor: factors.flow,
                efficiency_factor: factors.efficiency,
                within_tested_range,
            }),
        }
    }
}

impl<'a> ZonePart<'a> {
    pub fn new(name: &'a str, zone: &Amounts, state: Option<ZoneState>) -> Self {
        Self {
            name,
            flow_m3_per_h: m3_per_h(zone.flow),
            design_flow_m3_per_h: m3_per_h(zone.design_flow),
            share_percent: percent(zone.share),
            heat_kw: kilo(zone.heat),
            heat_share_percent: percent(zone.heat_share),
            supply_c: zone.supply_c,
            return_c: zone.return_c,
            room_c: zone.room_c,
            state: state.map(ZoneState::word),
        }
    }
}

impl<'a> SourcePart<'a> {
    pub fn new(name: &'a str, source: &SourceResult) -> Self {
        Self {
            name,
            flow_m3_per_h: m3_per_h(source.flow),
            enters_c: source.enters_c,
            leaves_c: source.leaves_c,
            heat_kw: kilo(source.heat),
        }
    }
}

impl<'a> LinkPart<'a> {
    pub fn new(name: &'a str, kind: &'static str, result: &ComponentResult, bypass: Option<&ComponentResult>) -> Self {
        Self {
            name,
            kind,
            flow_m3_per_h: m3_per_h(result.flow),
            drop_kpa: kilo(result.drop),
            bypass_flow_m3_per_h: bypass.map(|bypass| m3_per_h(bypass.flow)),
            bypass_drop_kpa: bypass.map(|bypass| kilo(bypass.drop)),
        }
    }
}

impl<'a> PipePart<'a> {
    pub fn new(name: String, [from, to]: [&'a str; 2], pipe: &PipeRun, result: &PipeResult) -> Self {
        let fitting = |fitting: &Fitting| FittingPart {
            kind: fitting.kind.to_string(),
            count: fitting.count,
            loss_coefficient: fitting.k_each(pipe.bore).ok(),
            source: fitting.source.to_string(),
        };
        Self {
            name,
            from,
            to,
            length_m: pipe.length,
            size: pipe.size.map(|size| SizePart { series: size.series().id, nominal: size.nominal() }),
            bore_mm: 1000.0 * pipe.bore,
            roughness_mm: 1000.0 * pipe.roughness,
            fittings: pipe.fittings.iter().map(fitting).collect(),
            loss_coefficient: pipe.k(),
            flow_m3_per_h: m3_per_h(result.flow),
            drop_kpa: kilo(result.drop),
            velocity_m_per_s: result.velocity + 0.0,
            reynolds: result.reynolds,
            friction_pa_per_m: result.friction_gradient + 0.0,
        }
    }
}
