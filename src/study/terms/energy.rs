//! Terms of power and energy.

use super::entry::{Entry, Formula};
use super::symbols as s;

pub(super) const ELECTRIC_POWER: Entry = Entry {
    name: "Electric power",
    text: "What the pump takes from the mains: hydraulic power, the losses of wheel and motor, and the electronics, which take theirs \
           at any speed.",
    formula: Formula::Is("P₁ = P₀ + n³ (P_full(Q/n) − P₀)"),
    symbols: &[s::P_1, s::P_STANDBY, s::N, s::P_FULL, s::Q],
    source: "Affinity laws, a textbook identity; that P₀ does not follow speed is an assumption.",
};

pub(super) const HYDRAULIC_POWER: Entry = Entry {
    name: "Hydraulic power",
    text: "What the water gets of the power: flow times pressure.",
    formula: Formula::Is("P_u = ρ g Q H"),
    symbols: &[s::POWER_SI, s::DENSITY, s::GRAVITY, s::FLOW_SI, s::HEAD_SI],
    source: "Textbook identity; the name as in ISO 17769-1 (from memory).",
};

pub(super) const EFFICIENCY: Entry = Entry {
    name: "Efficiency, wire to water",
    text: "What the water gets of the power that the pump takes, motor and electronics included.",
    formula: Formula::Is("η = P_u/P₁"),
    symbols: &[s::EFFICIENCY, s::P_U, s::P_1],
    source: "Definition.",
};

pub(super) const YEAR_ENERGY: Entry = Entry {
    name: "Energy of a year",
    text: "The electric energy of all circulators: what they take in each scenario, for as long as it lasts, and standing by for the \
           rest of the year where the project counts that.",
    formula: Formula::Is("E = Σ P₁ t"),
    symbols: &[s::ENERGY, s::P_1, s::HOURS],
    source: "Definition; the hours are the designer's.",
};

pub(super) const ENERGY_EFFICIENCY_INDEX: Entry = Entry {
    name: "Energy efficiency index (EEI)",
    text: "How much a circulator takes over a standard load profile, against a reference for its size; less is better. Reckoned from \
           catalogue figures it is an estimate, never a certificate.",
    formula: Formula::Is("EEI = 0.49 P_avg/P_ref\nP_ref = 1.7 P_u + 17 (1 − e^(−0.3 P_u))"),
    symbols: &[s::INDEX, s::P_AVERAGE, s::P_REF, s::P_U],
    source: "Regulation (EC) 641/2009 as amended by (EU) 622/2012, EN 16297-1 and -2; 0.49 and P_ref from memory.",
};

pub(super) const EQUAL_ENERGY: Entry = Entry {
    name: "Line of equal energy",
    text: "Settings on one such line take the same electric energy in a year. Of all settings that serve every zone, the one on the \
           lowest line is the best.",
    formula: Formula::Is("E = Σ P₁ t"),
    symbols: &[s::ENERGY, s::P_1, s::HOURS],
    source: "Definition; the hours are those of the scenarios.",
};
