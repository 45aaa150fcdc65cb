//! Terms of the system that the pump works on: its curve, where both meet, and what pipes and valves take.

use super::entry::{Entry, Formula};
use super::symbols as s;

pub(super) const SYSTEM_CURVE: Entry = Entry {
    name: "System curve",
    text: "The head that the system takes at each flow with the valves as they are. Shutting a zone makes it steeper; turbulent \
           losses grow with the square of the flow.",
    formula: Formula::Is("H_sys(Q) ≈ R Q²"),
    symbols: &[s::H_SYS, s::RESISTANCE, s::Q],
    source: "Textbook identity where all losses are turbulent; drawn is the solved curve, point by point.",
};

pub(super) const ZONE_ALONE: Entry = Entry {
    name: "Zone alone",
    text: "The system curve that the pump would see with this zone open and all others shut. How far the set-line lies above it at \
           the zone's design flow tells what it gets too much.",
    formula: Formula::Is("H_sys(Q) ≈ R Q²"),
    symbols: &[s::H_SYS, s::RESISTANCE, s::Q],
    source: "Textbook identity where all losses are turbulent; drawn is the solved curve, point by point.",
};

pub(super) const OPERATING_POINT: Entry = Entry {
    name: "Operating point",
    text: "Where the regulated curve meets the system curve: the pump gives just the head that the system takes at that flow.",
    formula: Formula::Is("H_reg(Q) = H_sys(Q)"),
    symbols: &[s::H_REG, s::H_SYS, s::Q],
    source: "Textbook identity; the name as in ISO 17769-1 (from memory).",
};

pub(super) const LOOP_GAIN: Entry = Entry {
    name: "Loop gain and stability",
    text: "How strongly the regulated curve answers a disturbance of the flow, against the system. Below 1 it dies out and the point \
           holds; at 1 and above it grows, and the pump hunts or runs away.",
    formula: Formula::Is("K = H_reg′/H_sys′"),
    symbols: &[s::GAIN, s::REG_RISE, s::SYS_RISE],
    source: "Textbook identity of static stability; delays of the control are left out.",
};

pub(super) const INDEX_CIRCUIT: Entry = Entry {
    name: "Index circuit",
    text: "The zone whose way round takes most head at design flows. It sets the head of the pump; the others have pressure to spare \
           and are throttled.",
    formula: Formula::Is("H = max Σ Δp/(ρ g)"),
    symbols: &[s::HEAD_SI, s::DROP, s::DENSITY, s::GRAVITY],
    source: "Common practice, no source; the sum round a circuit is a textbook identity.",
};

pub(super) const HEAD_PATH: Entry = Entry {
    name: "Head path",
    text: "What every pipe and component takes of the pump's head on the way of one zone, from the discharge round to the suction. \
           All steps together come to the head.",
    formula: Formula::Is("ρ g H = Σ Δp"),
    symbols: &[s::DENSITY, s::GRAVITY, s::HEAD_SI, s::DROP],
    source: "Round a circuit pressures come back to where they began: a textbook identity.",
};

pub(super) const AUTHORITY: Entry = Entry {
    name: "Authority",
    text: "How much of the pressure across its branch a valve that regulates takes itself when open. With little authority most of \
           its travel changes little, and near shut it hunts.",
    formula: Formula::Is("a = Δp_v/(Δp_v + Δp_rest)"),
    symbols: &[s::AUTHORITY, s::DROP_VALVE, s::DROP_REST],
    source: "Textbook definition; 0.3 to 0.5 or more is common practice, no source.",
};

pub(super) const FLOW_COEFFICIENT: Entry = Entry {
    name: "Flow coefficient, Kv and Cv",
    text: "What a valve lets through: the flow of water that takes a pressure drop of 1 bar. Cv is the same with gallons a minute \
           and 1 psi.",
    formula: Formula::Is("Q = Kv √(1000 Δp/ρ)\nKv = 0.865 Cv"),
    symbols: &[s::FLOW_HOUR, s::KV, s::DROP_BAR, s::DENSITY, s::CV],
    source: "IEC 60534-1 (from memory).",
};

pub(super) const PRESETTING: Entry = Entry {
    name: "Presetting",
    text: "How far a balancing valve is throttled for good, so that its zone gets its design flow and no more while all zones are \
           open. The maker's chart tells the turns of the hand wheel for it.",
    formula: Formula::Is("Kv = Q √(ρ/(1000 Δp))"),
    symbols: &[s::KV, s::FLOW_HOUR, s::DENSITY, s::DROP_BAR],
    source: "IEC 60534-1; throttle least, then slow the pump: ASHRAE 90.1 §6.7.2.3 (both from memory).",
};

pub(super) const VELOCITY: Entry = Entry {
    name: "Velocity",
    text: "How fast the fluid runs, on the mean over the pipe's section. Too slow and air stays behind; too fast and it is heard.",
    formula: Formula::Is("v = Q/(π d²/4)"),
    symbols: &[s::VELOCITY, s::FLOW_SI, s::PI, s::BORE],
    source: "Continuity, a textbook identity.",
};

pub(super) const FRICTION: Entry = Entry {
    name: "Friction",
    text: "The pressure that a straight pipe takes for each unit of its length. It sets what the mains cost to pump through for \
           decades.",
    formula: Formula::Is("Δp/L = f ρ v²/(2 d)\nRe = ρ v d/μ"),
    symbols: &[s::DROP, s::LENGTH, s::FACTOR, s::DENSITY, s::VELOCITY, s::BORE, s::REYNOLDS, s::VISCOSITY],
    source: "Darcy and Weisbach; f is 64/Re where the flow is laminar, by Colebrook and White where it is turbulent (textbook).",
};

pub(super) const PRESSURE_DROP: Entry = Entry {
    name: "Pressure drop",
    text: "What a pipe or component takes of the pressure at its present flow. Doubling the flow takes about four times as much.",
    formula: Formula::Is("Δp = (f L/d + Σ ζ) ρ v²/2"),
    symbols: &[s::DROP, s::FACTOR, s::LENGTH, s::BORE, s::LOSSES, s::DENSITY, s::VELOCITY],
    source: "Darcy and Weisbach, a textbook identity; valves by their Kv (IEC 60534-1, from memory).",
};

pub(super) const MINIMUM_FLOW: Entry = Entry {
    name: "Minimum flow of a source",
    text: "The least flow that a boiler, heat pump or chiller needs while it runs. With less it trips or comes to harm; a bypass or \
           a zone that stays open keeps it up.",
    formula: Formula::Is("Q ≥ Q_min"),
    symbols: &[s::Q, s::Q_MIN],
    source: "The maker's data sheet.",
};
