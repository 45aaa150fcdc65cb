//! Between which speeds of the pump a state of the valves is served: from where the last zone has its least flow to where the first
//! has its greatest, or a pipe or a valve becomes too loud. Solved with the study itself, to 1e-9 of full speed.

use super::limits::{Allowed, Worst};
use super::probe::{Probe, Reading, excess, shortfall};
use crate::document::{Acceptance, ZoneId};
use crate::problems::Place;
use crate::study::lower::LowerError;

/// What keeps a state from being served on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// A zone would have less than its least flow, or its room would not get what it needs.
    Starves(ZoneId),
    /// A zone would have more than its greatest flow.
    Overflows(ZoneId),
    /// A pipe or a valve would pass its limit.
    TooLoud(Worst),
}

/// An end of the speeds at which a state is served.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    /// Speed, a fraction of full speed.
    pub speed: f64,
    /// Flow of the pump there, m³/s.
    pub flow: f64,
    /// Its head there, m.
    pub head: f64,
    /// Its electric power there, W.
    pub electric_w: f64,
    /// What lies beyond.
    pub reason: Reason,
}

/// Between which speeds a state is served.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Served {
    /// The least; `None` where nothing is asked for.
    pub least: Option<Edge>,
    /// Whether even full speed does not come up to the least; `least` is then at full speed.
    pub beyond: bool,
    /// The greatest; `None` where full speed is not too much.
    pub most: Option<Edge>,
    /// Whether even the slowest turning is too much, because other pumps bring it; `most` is then at the slowest that was probed.
    pub always: bool,
    /// The greatest by noise alone, whatever the zones get; `None` where full speed is quiet enough.
    pub loud: Option<Edge>,
}

impl Served {
    /// Whether there is a speed that serves it.
    #[must_use]
    pub fn is_possible(&self) -> bool {
        let least = self.least.map_or(0.0, |edge| edge.speed);
        !self.beyond && !self.always && self.most.is_none_or(|most| least <= most.speed)
    }

    /// Finds the ends, between nodes of rising speed.
    pub(super) fn find(
        probe: &mut Probe,
        nodes: &[(f64, Reading)],
        moved: &[bool],
        allowed: &Allowed,
    ) -> Result<Self, LowerError> {
        let band = probe.project().acceptance.clone();
        let zones: Vec<ZoneId> = probe.project().zones.keys().copied().collect();
        let short = |reading: &Reading| -greatest(reading, moved, |zone| shortfall(zone, &band)).1;
        let over = |reading: &Reading| too_much(reading, moved, &band).0;
        let mut served = Self::default();
        let edge = |speed: f64, reading: &Reading, reason| Edge {
            speed,
            flow: reading.point[0],
            head: reading.point[1],
            electric_w: reading.power[0],
            reason,
        };
        let starving = |reading: &Reading| {
            let zone = greatest(reading, moved, |zone| shortfall(zone, &band)).0;
            zone.and_then(|zone| zones.get(zone)).map(|zone| Reason::Starves(*zone))
        };
        let Some((full, at_full)) = nodes.last() else { return Ok(served) };
        if short(at_full) < 0.0 {
            served.beyond = true;
            served.least = starving(at_full).map(|reason| edge(*full, at_full, reason));
        } else if let Some((speed, below, reading)) = passes(probe, nodes, allowed, &short)? {
            served.least = starving(&below).map(|reason| edge(speed, &reading, reason));
        }
        let exceeding = |reading: &Reading| match too_much(reading, moved, &band).1 {
            Some(Excess::Zone(zone)) => zones.get(zone).map(|zone| Reason::Overflows(*zone)),
            Some(Excess::Loud(worst)) => Some(Reason::TooLoud(worst)),
            None => None,
        };
        // The fastest speeds that are not too much. Below them there may be too much as well: a thermostatic valve opens the wider
        // the cooler its water comes from another circuit.
        let fits: Vec<bool> = nodes.iter().map(|(_, reading)| over(reading) < 0.0).collect();
        match (fits.iter().rposition(|fits| *fits), nodes.first()) {
            (Some(last), _) => {
                let first = fits[..last].iter().rposition(|fits| !*fits).map_or(0, |before| before + 1);
                if let Some((speed, below, reading)) = passes(probe, &nodes[first..], allowed, &over)? {
                    served.most = exceeding(&reading).map(|reason| edge(speed, &below, reason));
                }
                let under = |reading: &Reading| -over(reading);
                if let Some(before) = first.checked_sub(1)
                    && let Some((speed, below, reading)) = passes(probe, &nodes[before..=first], allowed, &under)?
                    && !served.beyond
                    && served.least.is_none_or(|least| least.speed < speed)
                {
                    served.least = exceeding(&below).map(|reason| edge(speed, &reading, reason));
                }
            }
            (None, Some((slowest, reading))) => {
                served.most = exceeding(reading).map(|reason| edge(*slowest, reading, reason));
                served.always = true;
            }
            (None, None) => {}
        }
        let loud = |reading: &Reading| reading.worst.map_or(-1.0, |worst| worst.ratio() - 1.0);
        if let Some((speed, below, reading)) = passes(probe, nodes, allowed, &loud)? {
            served.loud = reading.worst.map(|worst| edge(speed, &below, Reason::TooLoud(worst)));
        }
        Ok(served)
    }
}

/// Which zones are open and have water that this pump moves.
pub(super) fn moved(nodes: &[(f64, Reading)]) -> Vec<bool> {
    /// Change of a share of design flow that counts, from the first speed to the last.
    const COUNTS: f64 = 1e-3;
    let (Some((_, first)), Some((_, last))) = (nodes.first(), nodes.last()) else { return Vec::new() };
    first.zones.iter().zip(&last.zones).map(|(first, last)| (last.share - first.share).abs() > COUNTS).collect()
}

/// The greatest of something over the zones that are moved, and whose it is.
fn greatest(reading: &Reading, moved: &[bool], of: impl Fn(&crate::study::ZoneResult) -> f64) -> (Option<usize>, f64) {
    let each = reading.zones.iter().enumerate().filter(|(zone, _)| moved.get(*zone) == Some(&true));
    each.map(|(zone, result)| (Some(zone), of(result)))
        .fold((None, f64::NEG_INFINITY), |a, b| if b.1 > a.1 { b } else { a })
}

/// What is too much first.
enum Excess {
    Zone(usize),
    Loud(Worst),
}

/// How far the first thing is beyond what may be, and what it is.
fn too_much(reading: &Reading, moved: &[bool], band: &Acceptance) -> (f64, Option<Excess>) {
    let (zone, by) = greatest(reading, moved, |zone| excess(zone, band));
    match reading.worst {
        Some(worst) if worst.ratio() - 1.0 > by => (worst.ratio() - 1.0, Some(Excess::Loud(worst))),
        _ => (by, zone.map(Excess::Zone)),
    }
}

/// The first speed at which something that is below zero at first no longer is, with what is read just below and there; `None`
/// where it is so from the first node on, or never.
fn passes(
    probe: &mut Probe,
    nodes: &[(f64, Reading)],
    allowed: &Allowed,
    of: &impl Fn(&Reading) -> f64,
) -> Result<Option<(f64, Reading, Reading)>, LowerError> {
    let Some(first) = nodes.iter().position(|(_, reading)| of(reading) >= 0.0).filter(|first| *first > 0) else {
        return Ok(None);
    };
    let [(mut low, below), (mut high, there)] = [nodes[first - 1].clone(), nodes[first].clone()];
    let (mut f_low, mut f_high) = (of(&below), of(&there));
    let (mut below, mut there) = (below, there);
    for round in 0..60 {
        if high - low <= 1e-9 || f_high == 0.0 {
            break;
        }
        let line = low - f_low * (high - low) / (f_high - f_low);
        let middle = if round % 3 == 2 || !line.is_finite() { 0.5 * (low + high) } else { line };
        // Aimed a little beyond the root, so that the bracket closes from both sides.
        let aimed = middle + if round % 2 == 0 { 1e-10 } else { -1e-10 };
        let middle = aimed.clamp(low, high);
        let reading = probe.at(middle, allowed)?;
        let value = of(&reading);
        if value >= 0.0 {
            (high, f_high, there) = (middle, value, reading);
        } else {
            (low, f_low, below) = (middle, value, reading);
        }
    }
    Ok(Some((high, below, there)))
}

impl Reason {
    /// The zone it speaks of.
    #[must_use]
    pub fn zone(&self) -> Option<ZoneId> {
        match self {
            Self::Starves(zone) | Self::Overflows(zone) => Some(*zone),
            Self::TooLoud(_) => None,
        }
    }

    /// The place it speaks of.
    #[must_use]
    pub fn place(&self) -> Place {
        match self {
            Self::Starves(zone) | Self::Overflows(zone) => Place::Zone(*zone),
            Self::TooLoud(worst) => worst.place,
        }
    }
}
