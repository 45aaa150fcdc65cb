//! Terms of the zones: what they should get, what they get, and how far off that may be.

use super::entry::{Entry, Formula};
use super::symbols as s;

pub(super) const ZONE: Entry = Entry {
    name: "Zone",
    text: "A part of the building with one heat load, one emitter and its valves. It is open or shut as a whole.",
    formula: Formula::None("It is a part of the building; see design flow and share of design flow."),
    symbols: &[],
    source: "Common practice, no source.",
};

pub(super) const DESIGN_FLOW: Entry = Entry {
    name: "Design flow",
    text: "The flow that carries the zone's load at the temperatures of the design.",
    formula: Formula::Is("Q_d = Φ_d/(ρ c_p ΔT)"),
    symbols: &[s::DESIGN_FLOW_SI, s::HEAT_DESIGN, s::DENSITY, s::CAPACITY, s::DESIGN_DROP],
    source: "Heat balance, a textbook identity.",
};

pub(super) const SHARE_OF_DESIGN_FLOW: Entry = Entry {
    name: "Share of design flow",
    text: "What a zone gets of the flow that it was designed for. Below the band it counts as starved, above it as overflowed.",
    formula: Formula::Is("x = Q/Q_d"),
    symbols: &[s::SHARE, s::Q, s::Q_DESIGN],
    source: "Definition.",
};

pub(super) const HEAT: Entry = Entry {
    name: "Heat",
    text: "What the zone's emitter gives to its room at the present flow, or takes from it when cooling.",
    formula: Formula::Is("Φ = ρ c_p Q (T_s − T_r)"),
    symbols: &[s::HEAT_NOW, s::DENSITY, s::CAPACITY, s::FLOW_SI, s::SUPPLY, s::RETURN],
    source: "Heat balance, a textbook identity; T_r follows from the emitter's law (radiators: EN 442, from memory).",
};

pub(super) const HEAT_SHARE: Entry = Entry {
    name: "Share of heat",
    text: "What a zone gets of the heat that it was designed for. It follows the flow only weakly: half the flow still gives a \
           radiator two thirds to nine tenths of it, the less the wider the design's temperature drop.",
    formula: Formula::Is("φ = Φ/Φ_d"),
    symbols: &[s::HEAT_SHARE, s::HEAT_NOW, s::HEAT_DESIGN],
    source: "Definition; the emitter's law is that of its kind (radiators: EN 442, from memory).",
};

pub(super) const RETURN_TEMPERATURE: Entry = Entry {
    name: "Return temperature",
    text: "The temperature of the water that leaves the zone. Less flow is cooled further; a zone that gets too much sends its water \
           back nearly as it came.",
    formula: Formula::Is("T_r = T_s − Φ/(ρ c_p Q)"),
    symbols: &[s::RETURN, s::SUPPLY, s::HEAT_NOW, s::DENSITY, s::CAPACITY, s::FLOW_SI],
    source: "Heat balance, a textbook identity; when cooling the sign turns round.",
};

pub(super) const ROOM_TEMPERATURE: Entry = Entry {
    name: "Room temperature",
    text: "Where the room settles that a thermostatic valve serves: its emitter and what people, sun and devices bring make up for \
           what it loses outdoors.",
    formula: Formula::None(
        "It comes out of the balance of valve, emitter and room, which is solved together with the flows.",
    ),
    symbols: &[],
    source: "Heat balance, a textbook identity; the valve's band of 2 K is common practice, no source.",
};

pub(super) const TOLERANCE_BAND: Entry = Entry {
    name: "Tolerance band",
    text: "How far a zone's flow may be off its design flow and still count as served. It is a figure of the contract, not of nature.",
    formula: Formula::Is("x_low ≤ x ≤ x_high"),
    symbols: &[s::LOW, s::SHARE, s::HIGH],
    source: "Bands differ by guide; ±10 % is common in balancing specifications (NEBB, from memory).",
};

pub(super) const SCENARIO: Entry = Entry {
    name: "Scenario",
    text: "A state of the zone valves, and of the weather if it says so, with the hours of a year in it. Together the scenarios show \
           part load, which is most of the year.",
    formula: Formula::None("It is a state with its hours; see energy of a year for what they come to."),
    symbols: &[],
    source: "A word of this program; the states and hours are the designer's.",
};

pub(super) const MARGIN: Entry = Entry {
    name: "Margin",
    text: "The least and the greatest that a zone gets over all scenarios in which it is open, and in which of them. What lies inside \
           the band at both ends is always served.",
    formula: Formula::Is("x = Q/Q_d\nx_low ≤ min x, max x ≤ x_high"),
    symbols: &[s::SHARE, s::Q, s::Q_DESIGN, s::LOW, s::HIGH],
    source: "Definition; the band is that of the project's acceptance.",
};
