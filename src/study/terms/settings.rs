//! Terms of what is set at the pump: the three settings, the reference flow, the lines they make, and what is kept of them.

use super::entry::{Entry, Formula};
use super::symbols as s;

pub(super) const HEAD_LIMIT: Entry = Entry {
    name: "Head limit",
    text: "The most head that the pump may give. The set-line reaches it at the reference flow; where the pump could give more, it \
           slows down.",
    formula: Formula::Is("H ≤ H_lim"),
    symbols: &[s::H, s::H_LIM],
    source: "Definition.",
};

pub(super) const SLOPE: Entry = Entry {
    name: "Slope",
    text: "How far the set-line has fallen at zero flow, as a share of the head limit. 0 % holds one head at every flow; more gives \
           less head while few zones are open, when the pipes take less.",
    formula: Formula::Is("H_set(0) = H_lim (1 − s)"),
    symbols: &[s::H_SET, s::H_LIM, s::SLOPE],
    source: "Definition; s = 50 % with the reference flow at design is the reference control curve of EN 16297 (from memory).",
};

pub(super) const SPEED_CAP: Entry = Entry {
    name: "Speed cap",
    text: "The pump never turns faster than this share of its full speed. Where its curve lies below the set-line, it governs, and \
           head limit and slope change nothing.",
    formula: Formula::Is("H_cap(Q) = n_cap² H₁(Q/n_cap)"),
    symbols: &[s::H_CAP, s::Q, s::N_CAP, s::H_1],
    source: "Affinity laws, a textbook identity.",
};

pub(super) const MINIMUM_SPEED: Entry = Entry {
    name: "Minimum speed",
    text: "The slowest that the motor turns while it runs. Where the settings ask for less than its curve, the pump gives more head \
           than they ask for, and may exceed its limits.",
    formula: Formula::Is("H_min(Q) = n_min² H₁(Q/n_min)"),
    symbols: &[s::H_MIN, s::Q, s::N_MIN, s::H_1],
    source: "Affinity laws, a textbook identity; the figure is the device's.",
};

pub(super) const POWER_LIMIT: Entry = Entry {
    name: "Power limit",
    text: "The most electric power that the motor takes. Where the settings ask for more, the pump turns just so slowly that it \
           takes this much.",
    formula: Formula::Is("P₀ + n³ (P_full(Q/n) − P₀) ≤ P_lim"),
    symbols: &[s::P_STANDBY, s::N, s::P_FULL, s::Q, s::P_LIM],
    source: "Affinity laws, a textbook identity; that P₀ does not follow speed is an assumption.",
};

pub(super) const REFERENCE_FLOW: Entry = Entry {
    name: "Reference flow",
    text: "The flow at which the set-line reaches the head limit. Devices define it in three ways: where the full-speed curve crosses \
           the head limit, where the capped curve does, or a flow that is typed. The same slope gives another head with each.",
    formula: Formula::Is(
        "at full speed: H₁(Q_ref) = H_lim\nat capped speed: n_cap² H₁(Q_ref/n_cap) = H_lim\ndesign flow: Q_ref as typed",
    ),
    symbols: &[s::H_1, s::Q_REF, s::H_LIM, s::N_CAP],
    source: "Definitions; the device's instructions say which it uses.",
};

pub(super) const REFERENCE_AT_FULL_SPEED: Entry = Entry {
    name: "Reference flow at full speed",
    text: "The set-line reaches the head limit where the full-speed curve crosses it. It stands still when the cap moves; the cap \
           cuts off what lies beyond its own curve.",
    formula: Formula::Is("H₁(Q_ref) = H_lim"),
    symbols: &[s::H_1, s::Q_REF, s::H_LIM],
    source: "Definition; the device's instructions say whether it uses this one.",
};

pub(super) const REFERENCE_AT_CAPPED_SPEED: Entry = Entry {
    name: "Reference flow at capped speed",
    text: "The set-line reaches the head limit where the capped curve crosses it, so it moves with the cap: lowering the cap makes \
           the line steeper and raises the head at a given low flow.",
    formula: Formula::Is("n_cap² H₁(Q_ref/n_cap) = H_lim"),
    symbols: &[s::N_CAP, s::H_1, s::Q_REF, s::H_LIM],
    source: "Definition; the device's instructions say whether it uses this one.",
};

pub(super) const REFERENCE_AS_DESIGN_FLOW: Entry = Entry {
    name: "Reference flow as design flow",
    text: "The set-line reaches the head limit at a flow that is typed, as a rule the design flow of all zones. It moves with nothing \
           else.",
    formula: Formula::Is("H_set(Q_ref) = H_lim"),
    symbols: &[s::H_SET, s::Q_REF, s::H_LIM],
    source: "Definition; with s = 50 % the reference control curve of EN 16297 (from memory).",
};

pub(super) const SET_LINE: Entry = Entry {
    name: "Set-line",
    text: "The head that the pump aims at over its flow: rising from the slope's end at zero flow to the head limit at the reference \
           flow, level from there on.",
    formula: Formula::Is("H_set(Q) = H_lim (1 − s (1 − Q/Q_ref))\nH_set(Q) = H_lim where Q ≥ Q_ref"),
    symbols: &[s::H_SET, s::Q, s::H_LIM, s::SLOPE, s::Q_REF],
    source: "Definition; s = 50 % with the reference flow at design is the reference control curve of EN 16297 (from memory).",
};

pub(super) const REGULATED_CURVE: Entry = Entry {
    name: "Regulated curve",
    text: "What the pump really gives at each flow: it slows down until no limit is exceeded, but no further than its minimum speed.",
    formula: Formula::Is("H_reg(Q) = max(min(H_set, H_cap, H_pow), H_min)"),
    symbols: &[s::H_REG, s::Q, s::H_SET, s::H_CAP, s::H_POW, s::H_MIN],
    source: "Follows from the definitions of the settings.",
};

pub(super) const GOVERNING_LIMIT: Entry = Entry {
    name: "What governs",
    text: "At each flow one limit decides the head: the lowest of set-line, capped curve and power limit, or the minimum speed where \
           that lies higher. Only what governs changes anything.",
    formula: Formula::Is("H_reg(Q) = max(min(H_set, H_cap, H_pow), H_min)"),
    symbols: &[s::H_REG, s::Q, s::H_SET, s::H_CAP, s::H_POW, s::H_MIN],
    source: "Follows from the definitions of the settings.",
};

pub(super) const SETTING_STEP: Entry = Entry {
    name: "Steps of the settings",
    text: "The steps in which the device takes a setting. What is dragged or found stops at whole steps, so that it can be set.",
    formula: Formula::None("A step is a figure of the device."),
    symbols: &[],
    source: "The device's instructions; 0.1 m and 1 % are common practice, no source.",
};

pub(super) const VARIANT: Entry = Entry {
    name: "Variant",
    text: "Settings of a pump kept under a name, to be laid beside the present ones over all scenarios. Swapping puts the one in the \
           place of the other.",
    formula: Formula::None("It is a set of settings; what it takes and does is reckoned as for the present ones."),
    symbols: &[],
    source: "A word of this program.",
};

pub(super) const ROBUST_SETTING: Entry = Entry {
    name: "Robust setting",
    text: "A setting that still keeps every zone in its band where the drawing is off: lengths, roughness, glycol or valves other \
           than drawn, each as far as the project says.",
    formula: Formula::Is("x_low ≤ x ≤ x_high"),
    symbols: &[s::LOW, s::SHARE, s::HIGH],
    source: "The bounds by which figures may be off are the project's own; the band is that of its acceptance.",
};
