//! Pipe runs: what joins the ports of two components.

use super::{ComponentId, Fitting, SizeOnSale};
use crate::engine::links::fittings::FittingError;

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
    /// The size on sale that it is of; its bore is that of the size, its roughness may be another, as that of an old pipe is.
    pub size: Option<SizeOnSale>,
    /// Bore, m.
    pub bore: f64,
    /// Absolute roughness, m.
    pub roughness: f64,
    /// Its fittings, of which publications tell the loss.
    pub fittings: Vec<Fitting>,
    /// Sum of the loss coefficients of what is not among its fittings.
    pub minor_k: f64,
    /// Corners on the drawing between its ends, in grid steps.
    pub bends: Vec<[f64; 2]>,
}

impl PipeRun {
    /// A bare joint: no length, no loss, no name.
    #[must_use]
    pub fn joint(from: PortRef, to: PortRef) -> Self {
        Self::straight(from, to, 0.0, 0.0, 0.0)
    }

    /// A pipe without a name, fittings and corners; length, bore and roughness in m.
    #[must_use]
    pub fn straight(from: PortRef, to: PortRef, length: f64, bore: f64, roughness: f64) -> Self {
        Self {
            name: String::new(),
            from,
            to,
            length,
            size: None,
            bore,
            roughness,
            fittings: Vec::new(),
            minor_k: 0.0,
            bends: Vec::new(),
        }
    }

    /// Sum of the loss coefficients of its fittings.
    ///
    /// # Errors
    /// The first fitting that its source does not have at this bore.
    pub fn fittings_k(&self) -> Result<f64, FittingError> {
        self.fittings.iter().map(|fitting| fitting.k(self.bore)).sum()
    }

    /// Sum of all its loss coefficients. A fitting without one counts nothing; [`super::flaws`] tells of it.
    #[must_use]
    pub fn k(&self) -> f64 {
        self.minor_k + self.fittings.iter().filter_map(|fitting| fitting.k(self.bore).ok()).sum::<f64>()
    }

    /// Whether it takes no pressure at all.
    #[must_use]
    pub fn is_joint(&self) -> bool {
        self.length == 0.0 && self.k() == 0.0
    }

    /// Gives it another bore, of a size on sale or of none. Fittings that are not to be had there keep the loss that they had.
    pub fn rebore(&mut self, bore: f64, size: Option<SizeOnSale>) {
        let before = self.k();
        (self.bore, self.size) = (bore, size);
        if self.fittings_k().is_err() {
            self.minor_k = before;
            self.fittings.clear();
        }
    }
}
