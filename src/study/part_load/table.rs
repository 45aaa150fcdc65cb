//! A table of one state of the valves over the pump's speed: flow, head, power, and what every zone gets.
//!
//! Flow goes nearly with n, head with n², power above standby with n³; what is left of them after that changes slowly with speed
//! (friction, temperatures) and is taken in straight lines between nodes. Nodes are put in until the line between two meets what the
//! study itself gives half-way to [`CLOSE`]. The speeds between which the state is served are not read off the table but solved.

use super::limits::Allowed;
use super::probe::{Probe, Reading};
use super::served::{self, Served};
use super::states::ValveState;
use crate::study::lower::LowerError;

/// Speeds that every table begins with, fractions of full speed.
const FIRST_SPEEDS: [f64; 8] = [0.05, 0.12, 0.24, 0.4, 0.55, 0.7, 0.85, 1.0];
/// How far a share of design flow may be off between two nodes, and a flow, of that at full speed.
const CLOSE: f64 = 2e-4;
/// By how much more the line between two nodes may be off half-way, where a node then stands: halving a stretch leaves a quarter of
/// the error.
const HALVED: f64 = 3.0;
/// Speeds below which the heat need not be met: pumps do not run there, and their zones get next to nothing.
const SLOW: f64 = 0.4;
/// Speeds nearer to each other than this get no node between.
const NARROW: f64 = 1e-3;

/// One state of the valves over the pump's speed.
#[derive(Clone, Debug)]
pub struct StateTable {
    /// The state.
    pub state: ValveState,
    /// Between which speeds it is served.
    pub served: Served,
    /// Whether every node's answer stands.
    pub stands: bool,
    speeds: Vec<f64>,
    /// Flow, m³/s, and head, m, at each node.
    points: Vec<[f64; 2]>,
    /// What is left of flow, head and power when they are divided by n, n² and n³.
    scaled: Vec<[f64; 3]>,
    standby_w: f64,
    others_w: Vec<f64>,
    /// Least flow of a source over its minimum, divided by n; infinite where none has one.
    sources: Vec<f64>,
    /// Share of design flow, divided by n, share of heat, and by how much its room is missed, K (not a number without a thermostatic
    /// valve), of each zone, node by node.
    zones: Vec<[f64; 3]>,
    /// Whether each zone is open and this pump moves its water.
    pub(super) moved: Vec<bool>,
}

/// A place between two nodes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Between {
    left: usize,
    right: usize,
    share: f64,
    pub(super) speed: f64,
}

impl StateTable {
    /// Probes a state. `standby_w` is the pump's power that does not follow speed.
    pub(super) fn new(
        probe: &mut Probe,
        state: ValveState,
        allowed: &Allowed,
        standby_w: f64,
    ) -> Result<Self, LowerError> {
        probe.enter(&state)?;
        let mut nodes: Vec<(f64, Reading)> = Vec::with_capacity(2 * FIRST_SPEEDS.len());
        for speed in FIRST_SPEEDS.iter().rev() {
            nodes.push((*speed, probe.at(*speed, allowed)?));
        }
        nodes.reverse();
        let whole = nodes.last().map_or(0.0, |(_, reading)| reading.point[0]);
        let mut at = 0;
        while at + 1 < nodes.len() {
            let (low, high) = (nodes[at].0, nodes[at + 1].0);
            let middle = 0.5 * (low + high);
            if high - low <= NARROW {
                at += 1;
                continue;
            }
            let reading = probe.at(middle, allowed)?;
            let is_close = is_between(&nodes[at], (middle, &reading), &nodes[at + 1], whole);
            nodes.insert(at + 1, (middle, reading));
            at += if is_close { 2 } else { 0 };
        }
        let moved = served::moved(&nodes);
        let served = Served::find(probe, &nodes, &moved, allowed)?;
        let per = |(speed, reading): &(f64, Reading)| {
            let [flow, head] = reading.point;
            [flow / speed, head / speed.powi(2), (reading.power[0] - standby_w) / speed.powi(3)]
        };
        let zones = nodes.iter().flat_map(|(speed, reading)| {
            reading
                .zones
                .iter()
                .map(move |zone| [zone.share / speed, zone.heat_share, zone.room_miss_k.unwrap_or(f64::NAN)])
        });
        Ok(Self {
            state,
            served,
            stands: nodes.iter().all(|(_, reading)| reading.stands),
            speeds: nodes.iter().map(|(speed, _)| *speed).collect(),
            points: nodes.iter().map(|(_, reading)| reading.point).collect(),
            scaled: nodes.iter().map(per).collect(),
            standby_w,
            sources: nodes.iter().map(|(speed, reading)| reading.source / speed).collect(),
            others_w: nodes.iter().map(|(_, reading)| reading.power[1]).collect(),
            zones: zones.collect(),
            moved,
        })
    }

    /// Where a speed lies between the nodes; below the first all that is scaled stays.
    pub(super) fn between(&self, speed: f64) -> Between {
        let last = self.speeds.len() - 1;
        let right = self.speeds.partition_point(|node| *node < speed).min(last);
        let left = right.saturating_sub(1);
        self.at_share(left, right, speed)
    }

    #[inline]
    fn at_share(&self, left: usize, right: usize, speed: f64) -> Between {
        let (low, high) = (self.speeds[left], self.speeds[right]);
        let share = if right > left { ((speed - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 };
        Between { left, right, share, speed }
    }

    /// Flow, m³/s, and head, m.
    #[inline]
    pub(super) fn point(&self, at: Between) -> [f64; 2] {
        let (a, b) = (self.scaled[at.left], self.scaled[at.right]);
        let mix = |k: usize| a[k] + at.share * (b[k] - a[k]);
        [mix(0) * at.speed, mix(1) * at.speed * at.speed]
    }

    /// Electric power of the pump, W.
    #[inline]
    pub(super) fn power_w(&self, at: Between) -> f64 {
        let (a, b) = (self.scaled[at.left][2], self.scaled[at.right][2]);
        self.standby_w + (a + at.share * (b - a)) * at.speed.powi(3)
    }

    /// Electric power of all other pumps, W.
    #[inline]
    pub(super) fn others_w(&self, at: Between) -> f64 {
        let (a, b) = (self.others_w[at.left], self.others_w[at.right]);
        a + at.share * (b - a)
    }

    /// Least flow of a source over its minimum.
    pub(super) fn source(&self, at: Between) -> f64 {
        let (a, b) = (self.sources[at.left], self.sources[at.right]);
        if a.is_finite() && b.is_finite() { (a + at.share * (b - a)) * at.speed } else { a.min(b) * at.speed }
    }

    /// How many zones there are.
    pub(super) fn zone_count(&self) -> usize {
        self.moved.len()
    }

    /// By how much a zone's room is missed, K; `None` where no thermostatic valve serves it.
    pub(super) fn room_miss_k(&self, at: Between, zone: usize) -> Option<f64> {
        let count = self.zone_count();
        let (a, b) = (self.zones[at.left * count + zone][2], self.zones[at.right * count + zone][2]);
        Some(a + at.share * (b - a)).filter(|miss_k| miss_k.is_finite())
    }

    /// Share of design flow and share of heat of a zone.
    #[inline]
    pub(super) fn zone(&self, at: Between, zone: usize) -> [f64; 2] {
        let count = self.zone_count();
        let (a, b) = (self.zones[at.left * count + zone], self.zones[at.right * count + zone]);
        [(a[0] + at.share * (b[0] - a[0])) * at.speed, a[1] + at.share * (b[1] - a[1])]
    }

    /// The lowest speed at which the head of the system comes up to `line` (head in m over flow in m³/s): where the pump comes to
    /// stand when it starts from rest. `None` where it never does.
    #[inline]
    pub(super) fn meets(&self, line: impl Fn(f64) -> f64) -> Option<f64> {
        let over = |[flow, head]: [f64; 2]| head - line(flow);
        let (mut low, mut below) = (0.0, -line(0.0));
        for (node, point) in self.points.iter().enumerate() {
            let above = over(*point);
            if above >= 0.0 {
                let left = node.saturating_sub(1);
                let at = |speed: f64| over(self.point(self.at_share(left, node, speed)));
                return Some(root(at, (low, below), (self.speeds[node], above)));
            }
            (low, below) = (self.speeds[node], above);
        }
        None
    }

    /// The speed at which the pump takes so much power, W; `None` where it does not up to full speed.
    pub(super) fn at_power(&self, power_w: f64) -> Option<f64> {
        let over = |speed: f64| self.power_w(self.between(speed)) - power_w;
        let first = self.speeds.iter().position(|speed| over(*speed) >= 0.0)?;
        let low = if first == 0 { 0.0 } else { self.speeds[first - 1] };
        let high = self.speeds[first];
        Some(root(over, (low, over(low)), (high, over(high))))
    }
}

/// Whether the lines will do once what lies half-way is a node too.
fn is_between(left: &(f64, Reading), (speed, there): (f64, &Reading), right: &(f64, Reading), whole: f64) -> bool {
    let line = |a: f64, b: f64| 0.5 * (a / left.0 + b / right.0) * speed;
    let close = HALVED * CLOSE;
    let flow = line(left.1.point[0], right.1.point[0]);
    let mut zones = left.1.zones.iter().zip(&right.1.zones).zip(&there.zones);
    (flow - there.point[0]).abs() <= close * whole
        && zones.all(|((a, b), zone)| {
            let heat = 0.5 * (a.heat_share + b.heat_share);
            (line(a.share, b.share) - zone.share).abs() <= close
                && ((heat - zone.heat_share).abs() <= 10.0 * HALVED * CLOSE || speed < SLOW)
        })
}

/// Where a function that is below zero at `low` and not below at `high` passes zero (Illinois' regula falsi).
#[inline]
fn root(over: impl Fn(f64) -> f64, low: (f64, f64), high: (f64, f64)) -> f64 {
    let ((mut a, mut fa), (mut b, mut fb)) = (low, high);
    for round in 0..60 {
        let middle = if round % 12 == 11 { 0.5 * (a + b) } else { (a * fb - b * fa) / (fb - fa) };
        let value = over(middle);
        if value.abs() <= 1e-12 || b - a <= 1e-12 {
            return middle;
        }
        if value < 0.0 {
            if middle - a < 1e-9 {
                return middle;
            }
            (a, fa, fb) = (middle, value, 0.5 * fb);
        } else {
            if b - middle < 1e-9 {
                return middle;
            }
            (b, fb, fa) = (middle, value, 0.5 * fa);
        }
    }
    0.5 * (a + b)
}
