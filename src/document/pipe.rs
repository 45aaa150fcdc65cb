//! Pipe runs: what joins the ports of two components.

use super::ComponentId;

/// Identity of a pipe run within its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PipeId(pub u32);

/// A place where pipes join a component.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Port {
    /// Where flow is meant to enter.
    Inlet,
    /// Where flow is meant to leave.
    Outlet,
    /// The one meeting point of a tee or a vessel.
    Branch,
    /// Where a hydraulic separator gives to its secondary circuit.
    SecondaryOutlet,
    /// Where the secondary circuit comes back to it.
    SecondaryInlet,
}

/// A port of a component.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PortRef {
    /// Which component.
    pub component: ComponentId,
    /// Which of its ports.
    pub port: Port,
}

/// A pipe run. Without length and loss it is a bare joint.
#[derive(Clone, Debug, PartialEq)]
pub struct PipeRun {
    /// Name; empty for a run that needs none.
    pub name: String,
    /// Where it starts; flow is positive from here.
    pub from: PortRef,
    /// Where it ends.
    pub to: PortRef,
    /// Length, m.
    pub length: f64,
    /// Bore, m.
    pub bore: f64,
    /// Absolute roughness, m.
    pub roughness: f64,
    /// Sum of the loss coefficients of its fittings.
    pub minor_k: f64,
    /// Corners on the drawing between its ends, in grid steps.
    pub bends: Vec<[f64; 2]>,
}

impl PipeRun {
    /// Whether it takes no pressure at all.
    #[must_use]
    pub fn is_joint(&self) -> bool {
        self.length == 0.0 && self.minor_k == 0.0
    }
}
