//! Why a drawing cannot be sized or balanced, with what to do.

use crate::document::Flaw;
use crate::study::LowerError;
use thiserror::Error;

/// Why a drawing cannot be sized or balanced.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SizingError {
    /// The document cannot be lowered.
    #[error(transparent)]
    Lower(#[from] LowerError),
    /// Not exactly one running circulator.
    #[error(
        "{0} circulators run, but design flows follow from continuity only where exactly one does: start one alone"
    )]
    Pumps(usize),
    /// No zone.
    #[error("there is no zone whose flow could be reckoned: give the drawing a zone")]
    NoZone,
    /// Water has two ways, so that continuity does not tell its flow.
    #[error(
        "{0} lies on a way round beside the zones, so its design flow does not follow from theirs: shut it or take it out of \
         the drawing"
    )]
    WayRound(String),
    /// A zone's water does not reach it.
    #[error(
        "the design flow of zone {0} finds no way from the circulator and back: join its emitter to flow and return"
    )]
    NoWay(String),
    /// Design flow runs against a part that lets water through one way only.
    #[error("{0} stands against the design flow: turn it round")]
    Against(String),
    /// A part lets less through than its zones need.
    #[error("{0} holds less than the design flow through it: set it to the design flow of its zones")]
    Holds(String),
    /// No size of a series keeps the limits.
    #[error(
        "{run}: no size of {series} carries {flow_m3_per_h:.2} m³/h within the limits: choose a series with larger sizes"
    )]
    TooLarge {
        /// The run.
        run: String,
        /// The series.
        series: &'static str,
        /// The design flow, m³/h.
        flow_m3_per_h: f64,
    },
    /// What was planned cannot be drawn.
    #[error("{}", listed(.0))]
    Plan(Vec<Flaw>),
}

fn listed(flaws: &[Flaw]) -> String {
    flaws.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}
