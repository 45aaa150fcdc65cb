//! Format 1: a circulator's catalogue points, settings and steps.

use crate::document as live;
use crate::engine::pump::{ReferenceFlow as LiveReference, Regulation};
use crate::file::figure::{CubicMetresPerHour, Percents, Plain};
use serde::{Deserialize, Deserializer, Serialize};

/// One point of the catalogue.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Point {
    flow_m3_per_h: CubicMetresPerHour,
    head_m: Plain,
    power_w: Plain,
}

/// The settings of one pump.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Settings {
    /// `None` must be written: a limit lost by mistake would be a pump without limit.
    #[serde(deserialize_with = "must_be_there")]
    head_limit_m: Option<Plain>,
    slope_percent: Percents,
    speed_cap_percent: Percents,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    power_limit_w: Option<Plain>,
    minimum_speed_percent: Percents,
    #[serde(default)]
    reference_flow: ReferenceFlow,
}

/// Where the set-line reaches the head limit.
#[derive(Debug, Default, Deserialize, Serialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum ReferenceFlow {
    #[default]
    FullSpeed,
    CappedSpeed,
    DesignFlow {
        m3_per_h: CubicMetresPerHour,
    },
}

/// Steps in which the device takes its settings.
#[derive(Debug, Deserialize, PartialEq, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Steps {
    head_limit_m: Plain,
    slope_percent: Percents,
    speed_cap_percent: Percents,
}

/// Without this, serde takes a missing `Option` for `None`.
fn must_be_there<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<Plain>, D::Error> {
    Option::deserialize(deserializer)
}

impl Point {
    /// From the live type.
    pub fn of(point: &live::CataloguePoint) -> Self {
        Self {
            flow_m3_per_h: CubicMetresPerHour::new(point.flow),
            head_m: Plain::new(point.head),
            power_w: Plain::new(point.power),
        }
    }

    /// To the live type.
    pub fn live(&self) -> live::CataloguePoint {
        live::CataloguePoint { flow: self.flow_m3_per_h.si, head: self.head_m.si, power: self.power_w.si }
    }
}

impl Settings {
    /// From the live type.
    pub fn of(regulation: &Regulation) -> Self {
        Self {
            head_limit_m: regulation.head_limit_m.map(Plain::new),
            slope_percent: Percents::new(regulation.slope),
            speed_cap_percent: Percents::new(regulation.speed_cap),
            power_limit_w: regulation.power_limit_w.map(Plain::new),
            minimum_speed_percent: Percents::new(regulation.minimum_speed),
            reference_flow: match regulation.reference {
                LiveReference::FullSpeed => ReferenceFlow::FullSpeed,
                LiveReference::CappedSpeed => ReferenceFlow::CappedSpeed,
                LiveReference::DesignFlow(flow) => {
                    ReferenceFlow::DesignFlow { m3_per_h: CubicMetresPerHour::new(flow) }
                }
            },
        }
    }

    /// To the live type.
    pub fn live(&self) -> Regulation {
        Regulation {
            head_limit_m: self.head_limit_m.map(|head| head.si),
            slope: self.slope_percent.si,
            speed_cap: self.speed_cap_percent.si,
            power_limit_w: self.power_limit_w.map(|power| power.si),
            minimum_speed: self.minimum_speed_percent.si,
            reference: match &self.reference_flow {
                ReferenceFlow::FullSpeed => LiveReference::FullSpeed,
                ReferenceFlow::CappedSpeed => LiveReference::CappedSpeed,
                ReferenceFlow::DesignFlow { m3_per_h } => LiveReference::DesignFlow(m3_per_h.si),
            },
        }
    }
}

impl Default for Steps {
    fn default() -> Self {
        Self::of(&live::SettingSteps::default())
    }
}

impl Steps {
    /// From the live type.
    pub fn of(steps: &live::SettingSteps) -> Self {
        Self {
            head_limit_m: Plain::new(steps.head_limit),
            slope_percent: Percents::new(steps.slope),
            speed_cap_percent: Percents::new(steps.speed_cap),
        }
    }

    /// Whether leaving them out changes nothing.
    pub fn are_usual(&self) -> bool {
        *self == Self::default()
    }

    /// To the live type.
    pub fn live(&self) -> live::SettingSteps {
        live::SettingSteps {
            head_limit: self.head_limit_m.si,
            slope: self.slope_percent.si,
            speed_cap: self.speed_cap_percent.si,
        }
    }
}
