//! Ends and figures of pipes, as commands name them.

use crate::document::{Fitting, PipeId, PipeRun, PortRef, SizeOnSale};

/// Where a new pipe begins or ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PipeEnd {
    /// At a port of a component.
    Port(PortRef),
    /// On a pipe, at a share of its drawn length; a tee comes there.
    OnPipe(PipeId, f64),
    /// On the bare sheet; a tee comes there.
    Sheet([f64; 2]),
}

/// The figures of a pipe that a designer sets.
#[derive(Clone, Debug, PartialEq)]
pub struct PipeFigures {
    /// Length, m.
    pub length: f64,
    /// The size on sale that it is of, with that size's bore.
    pub size: Option<SizeOnSale>,
    /// Bore, m.
    pub bore: f64,
    /// Absolute roughness, m.
    pub roughness: f64,
    /// Its fittings, of which publications tell the loss.
    pub fittings: Vec<Fitting>,
    /// Sum of the loss coefficients of what is not among its fittings.
    pub minor_k: f64,
}

impl PipeFigures {
    /// The figures of a pipe.
    #[must_use]
    pub fn of(pipe: &PipeRun) -> Self {
        Self {
            length: pipe.length,
            size: pipe.size,
            bore: pipe.bore,
            roughness: pipe.roughness,
            fittings: pipe.fittings.clone(),
            minor_k: pipe.minor_k,
        }
    }
}
