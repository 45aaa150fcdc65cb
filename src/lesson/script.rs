//! The text of a lesson as it is written: names as words, units in the names of the fields.
//!
//! Optional: a lesson's and a step's `pump` (the only circulator, or the first that runs), a step's `set`, `look_at` and `task`
//! (nothing, nothing, `read`), `offered` (all limits that can govern), `hint`, `solution` and
//! `because` wherever they stand, and all fields of a `set`.

use serde::{Deserialize, Deserializer};

/// The whole text.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Script {
    #[expect(dead_code, reason = "read before, and named so that it is no unknown field")]
    lesson: u32,
    pub title: String,
    pub about: String,
    pub project: String,
    #[serde(default, deserialize_with = "bare")]
    pub pump: Option<String>,
    pub steps: Vec<StepForm>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StepForm {
    pub title: String,
    pub text: String,
    #[serde(default, deserialize_with = "bare")]
    pub pump: Option<String>,
    #[serde(default)]
    pub afresh: bool,
    #[serde(default)]
    pub set: Vec<SetForm>,
    #[serde(default)]
    pub look_at: Vec<LookForm>,
    #[serde(default)]
    pub task: TaskForm,
}

/// What is set; of several fields all.
#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct SetForm {
    #[serde(deserialize_with = "bare")]
    pub pump: Option<String>,
    #[serde(deserialize_with = "bare")]
    pub runs: Option<bool>,
    #[serde(deserialize_with = "bare")]
    pub head_limit_m: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub slope_percent: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub speed_cap_percent: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub minimum_speed_percent: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub reference_flow: Option<ReferenceForm>,
    #[serde(deserialize_with = "bare")]
    pub scenario: Option<String>,
    pub open_all: bool,
    pub open: Vec<String>,
    pub shut: Vec<String>,
    pub pipes: Vec<String>,
    #[serde(deserialize_with = "bare")]
    pub bore_mm: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub size: Option<(String, String)>,
    #[serde(deserialize_with = "bare")]
    pub valve: Option<String>,
    #[serde(deserialize_with = "bare")]
    pub kv_m3_per_h: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum ReferenceForm {
    FullSpeed,
    CappedSpeed,
    DesignFlow { m3_per_h: f64 },
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum LookForm {
    Plot,
    OperatingPoint,
    SetLine,
    HeadLimit,
    Slope,
    SpeedCap,
    MinimumSpeed,
    ReferenceFlow,
    SystemCurve,
    RegulatedCurve,
    Power,
    Zones,
    Zone(String),
    Component(String),
    Pipe(String),
    Sentence,
    Settings,
    Scenarios,
    Drawing,
}

#[derive(Debug, Default, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum TaskForm {
    #[default]
    Read,
    Do {
        goals: Vec<GoalForm>,
        #[serde(default)]
        hint: String,
        #[serde(default)]
        solution: Vec<SetForm>,
        #[serde(default)]
        because: String,
    },
    Choose {
        question: String,
        answers: Vec<ChoiceForm>,
    },
    WhichGoverns {
        question: String,
        #[serde(default)]
        offered: Vec<LimitForm>,
        #[serde(default)]
        after: Vec<SetForm>,
        #[serde(default)]
        because: String,
    },
    PlacePoint {
        question: String,
        #[serde(default)]
        after: Vec<SetForm>,
        #[serde(default)]
        because: String,
    },
    PredictZone {
        zone: String,
        question: String,
        #[serde(default)]
        after: Vec<SetForm>,
        #[serde(default)]
        because: String,
    },
    FindFault {
        seed: u64,
        question: String,
        suspects: Vec<FaultForm>,
        #[serde(default)]
        because: String,
    },
    FindSetting {
        seed: u64,
        question: String,
        within_percent: f64,
        #[serde(default)]
        vary: VaryForm,
        #[serde(default)]
        because: String,
    },
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ChoiceForm {
    pub text: String,
    #[serde(default)]
    pub right: bool,
    #[serde(default)]
    pub because: String,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct VaryForm {
    pub lengths_percent: f64,
    pub presettings_percent: f64,
    pub loads_percent: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum LimitForm {
    SetLine,
    HeadLimit,
    SpeedCap,
    PowerLimit,
    MinimumSpeed,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum SettingForm {
    HeadLimit,
    Slope,
    SpeedCap,
    MinimumSpeed,
}

/// From a least to a most, each optional.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct BandForm {
    #[serde(deserialize_with = "bare")]
    pub least: Option<f64>,
    #[serde(deserialize_with = "bare")]
    pub most: Option<f64>,
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum GoalForm {
    Governs(LimitForm),
    ZoneShare {
        zone: String,
        #[serde(default, deserialize_with = "bare")]
        least_percent: Option<f64>,
        #[serde(default, deserialize_with = "bare")]
        most_percent: Option<f64>,
    },
    AllZonesServed,
    AllScenariosServed,
    Stable,
    #[serde(rename = "power_w")]
    Power(BandForm),
    #[serde(rename = "flow_m3_per_h")]
    Flow(BandForm),
    #[serde(rename = "head_m")]
    Head(BandForm),
    ZoneOpen(String),
    ZoneShut(String),
    Runs(String),
    Stands(String),
    #[serde(rename = "head_limit_m")]
    HeadLimit(BandForm),
    #[serde(rename = "slope_percent")]
    Slope(BandForm),
    #[serde(rename = "speed_cap_percent")]
    SpeedCap(BandForm),
    #[serde(rename = "minimum_speed_percent")]
    MinimumSpeed(BandForm),
    ReferenceFlow(ReferenceKind),
    Kept(SettingForm),
    NearBestPercent(f64),
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum ReferenceKind {
    FullSpeed,
    CappedSpeed,
    DesignFlow,
}

#[derive(Debug, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum FaultForm {
    Nothing,
    FouledStrainer { component: String, kv_percent: f64 },
    BlockedEmitter { zone: String, kv_percent: f64 },
    WrongPresetting { valve: String, kv_percent: f64 },
    LeakingValve { zone: String, kv_percent: f64 },
    StuckValve { zone: String, kv_percent: f64 },
    LowCap { pump: String, cap_percent: f64 },
    WornPump { pump: String, head_percent: f64 },
}

/// A value that is written without “Some”.
fn bare<'de, D: Deserializer<'de>, T: Deserialize<'de>>(deserializer: D) -> Result<Option<T>, D::Error> {
    T::deserialize(deserializer).map(Some)
}
