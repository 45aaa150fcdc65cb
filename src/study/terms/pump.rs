//! Terms of the pump itself: flow, head, its curves, speed, the affinity laws, suction head.

use super::entry::{Entry, Formula};
use super::symbols as s;

pub(super) const FLOW: Entry = Entry {
    name: "Flow",
    text: "The volume of fluid that passes in a unit of time. It carries the heat; a zone's flow decides what it can give.",
    formula: Formula::Is("Q = v π d²/4"),
    symbols: &[s::FLOW_SI, s::VELOCITY, s::PI, s::BORE],
    source: "Continuity, a textbook identity; the name as in ISO 17769-1 (from memory).",
};

pub(super) const HEAD: Entry = Entry {
    name: "Head",
    text: "The energy that the pump gives to each unit of weight of the fluid, as the height that this would lift it. In a closed \
           system no height is lifted: all of it goes into friction.",
    formula: Formula::Is("H = Δp/(ρ g)"),
    symbols: &[s::HEAD_SI, s::DROP, s::DENSITY, s::GRAVITY],
    source: "Definition, ISO 17769-1 (from memory).",
};

pub(super) const FULL_SPEED_CURVE: Entry = Entry {
    name: "Full-speed curve",
    text: "The head that the pump gives at each flow while it turns at full speed, laid through the points of its catalogue. \
           Nothing that is set can lift the pump above it.",
    formula: Formula::Is("H = H₁(Q)"),
    symbols: &[s::H, s::H_1, s::Q],
    source: "The maker's catalogue points; between them least squares, or a cubic by Fritsch and Carlson (1980) where those miss.",
};

pub(super) const SPEED_FAMILY: Entry = Entry {
    name: "Curves at lower speed",
    text: "What the pump would give at a constant share of its full speed: the full-speed curve shrunk towards the origin.",
    formula: Formula::Is("H(Q, n) = n² H₁(Q/n)"),
    symbols: &[s::H, s::Q, s::N, s::H_1],
    source: "Affinity laws, a textbook identity.",
};

pub(super) const SPEED: Entry = Entry {
    name: "Speed",
    text: "How fast the pump turns, as a share of its full speed. It turns just fast enough for the head of its regulated curve.",
    formula: Formula::Is("n = N/N_full"),
    symbols: &[s::N, s::TURNS, s::TURNS_FULL],
    source: "Definition.",
};

pub(super) const AFFINITY_LAWS: Entry = Entry {
    name: "Affinity laws",
    text: "With the speed, flow changes in proportion, head by its square and the hydraulic part of the power by its cube. So a \
           little less speed takes much less power.",
    formula: Formula::Is("H(Q, n) = n² H₁(Q/n)\nP₁(Q, n) = P₀ + n³ (P_full(Q/n) − P₀)"),
    symbols: &[s::H, s::H_1, s::Q, s::N, s::P_1, s::P_FULL, s::P_STANDBY],
    source: "Textbook identity for like flow patterns; that P₀ does not follow speed is an assumption.",
};

pub(super) const END_OF_DATA: Entry = Entry {
    name: "End of data",
    text: "Where the catalogue's points end. Beyond it head and power are extrapolated, and nobody has measured them.",
    formula: Formula::Is("Q ≤ n Q_end"),
    symbols: &[s::Q, s::N, s::Q_END],
    source: "The maker's catalogue points; at lower speed by the affinity laws.",
};

pub(super) const SUCTION_HEAD: Entry = Entry {
    name: "Net positive suction head (NPSH)",
    text: "How far the fluid at the pump's inlet is from boiling. If less is there than the pump requires, vapour bubbles form and \
           collapse in it: it rattles, loses head and wears.",
    formula: Formula::Is("NPSHA = (p + p_atm − p_v)/(ρ g) + v²/(2 g)"),
    symbols: &[s::SUCTION, s::P_INLET, s::P_AIR, s::P_VAPOUR, s::DENSITY, s::GRAVITY, s::VELOCITY],
    source: "Textbook definition, as in ISO 17769-1 and ISO 9906 (from memory); a margin of 0.5 m is common practice, no source.",
};
