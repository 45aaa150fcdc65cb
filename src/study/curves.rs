//! The curves of one pump, sampled for drawing: the speed family, the set-line, the capped, the power-limited and the
//! regulated curve, and the system curve that the pump sees at the present valve positions.

use super::lower::Lowered;
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::network::{PumpLaw, Solver};
use crate::engine::pump::{GoverningRange, PowerModel, PumpCurve, Regulated};

/// Flow in m³/s and head in m.
pub type CurvePoint = [f64; 2];

/// Points of a drawn curve.
const SAMPLES: u32 = 120;
/// Points of the system curve, each a solve.
const SYSTEM_SAMPLES: u32 = 48;
/// Step of head, of the plot's height, above which a point is put between, as long as their flows lie further apart than that share
/// of the plot's width; and how often.
const FINE_HEAD: f64 = 0.06;
const FINE_FLOW: f64 = 5e-4;
const REFINEMENTS: u32 = 8;
/// Steps by which its end is looked for.
const COARSE_SAMPLES: u32 = 24;
/// Speeds of the family, fractions of full speed.
const FAMILY: [f64; 8] = [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0];

/// All curves of one pump.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curves {
    /// Head curves at constant speed: speed fraction and points.
    pub family: Vec<(f64, Vec<CurvePoint>)>,
    /// Set-line up to the end of the capped curve; empty without a head limit.
    pub set_line: Vec<CurvePoint>,
    /// Capped curve.
    pub capped: Vec<CurvePoint>,
    /// Curve at the power limit, the full-speed curve where that takes less; empty without a power limit.
    pub power_limited: Vec<CurvePoint>,
    /// Curve at minimum speed.
    pub minimum: Vec<CurvePoint>,
    /// What the pump really gives.
    pub regulated: Vec<CurvePoint>,
    /// Electric power over flow along the regulated curve, (m³/s, W).
    pub power: Vec<CurvePoint>,
    /// System curve at the present valve positions.
    pub system: Vec<CurvePoint>,
    /// What governs over which stretch of flow.
    pub ranges: Vec<GoverningRange>,
    /// End of the catalogue data at full speed, m³/s and m.
    pub data_end: CurvePoint,
    /// Greatest flow and head of the full-speed curve: the plot's frame.
    pub frame: CurvePoint,
}

impl Curves {
    /// Traces what the pump alone decides; the system curve is [`system`]'s matter.
    pub(super) fn of_pump(regulated: &Regulated, power: &PowerModel) -> Self {
        let curve = regulated.curve();
        let mut curves = Self { frame: frame(curve), ..Self::default() };
        curves.take_settings(regulated, power);
        curves
    }

    /// Traces anew what depends on the settings and, where the water has become another, on the curve; the frame stays.
    pub(super) fn take_settings(&mut self, regulated: &Regulated, power: &PowerModel) {
        let settings = regulated.settings();
        let data_end = regulated.curve().data_end_m3_per_s();
        self.family = FAMILY.iter().map(|&n| (n, at_speed(regulated, n))).collect();
        self.data_end = [data_end, regulated.curve().full_speed(data_end).0];
        let end = regulated.curve().run_out_m3_per_s();
        self.capped = at_speed(regulated, settings.speed_cap);
        self.minimum =
            if settings.minimum_speed > 0.0 { at_speed(regulated, settings.minimum_speed) } else { Vec::new() };
        self.power_limited = regulated.power_limited_end_m3_per_s().map_or_else(Vec::new, |last| {
            samples(last, SAMPLES).filter_map(|q| Some([q, regulated.power_limited(q)?.0])).collect()
        });
        self.set_line = match (settings.head_limit_m, regulated.reference_m3_per_s()) {
            (Some(limit), Some(reference)) => {
                let mut line = vec![[0.0, limit * (1.0 - settings.slope)], [reference, limit]];
                if reference < end {
                    line.push([end, limit]);
                }
                line
            }
            _ => Vec::new(),
        };
        self.ranges = regulated.governing_ranges();
        // The kinks are sampled exactly: the regulated curve is drawn as it is solved.
        let last = regulated.end_m3_per_s();
        let mut flows: Vec<f64> = samples(last, SAMPLES).collect();
        flows.extend(self.ranges.iter().map(|r| r.to_m3_per_s));
        flows.extend(regulated.reference_m3_per_s().filter(|flow| *flow < last));
        flows.sort_by(f64::total_cmp);
        self.regulated = flows.iter().map(|&q| [q, regulated.head(q).0]).collect();
        self.power = self
            .regulated
            .iter()
            .filter(|point| point[1] > 0.0)
            .map(|&[q, head]| [q, power.electric_w(q, regulated.curve().speed_for(q, head))])
            .collect();
    }
}

/// Run-out flow and greatest head at full speed: the frame of the plot.
fn frame(curve: &PumpCurve) -> CurvePoint {
    let greatest = curve.points().iter().map(|p| p[1]).fold(curve.full_speed(0.0).0, f64::max);
    [curve.run_out_m3_per_s(), greatest]
}

fn samples(end: f64, count: u32) -> impl Iterator<Item = f64> {
    (0..=count).map(move |i| end * f64::from(i) / f64::from(count))
}

fn at_speed(regulated: &Regulated, speed: f64) -> Vec<CurvePoint> {
    let curve = regulated.curve();
    samples(curve.run_out_m3_per_s() * speed, SAMPLES).map(|q| [q, curve.at_speed(q, speed).0]).collect()
}

/// Holds the pump's flow at one value after another and asks what head the system takes; other pumps keep their settings.
/// Ends where nothing more can pass or the head leaves the plot.
pub(super) fn system(lowered: &Lowered, index: usize) -> Vec<CurvePoint> {
    let Some(curve) = lowered.regulated(index).map(Regulated::curve) else { return Vec::new() };
    let frame = frame(curve);
    let mut network = lowered.network.clone();
    let mut solver = Solver::new(&network);
    let per_head = lowered.network.pumps[index].density_kg_per_m3 * GRAVITY_M_PER_S2;
    let mut head_at = |flow: f64| {
        network.pumps[index].law = PumpLaw::FixedFlow(flow);
        let outcome = solver.solve(&network);
        let head = outcome.pumps[index].rise_pa / per_head;
        (outcome.converged() && head.is_finite() && outcome.mass_error < 1e-6).then_some(head)
    };
    let top = 1.3 * frame[1];
    // A steep curve leaves the plot early: its points are spent where it is seen.
    let least = 1e-4 * frame[0];
    let leaves = |flow: &f64, head_at: &mut dyn FnMut(f64) -> Option<f64>| head_at(*flow).is_none_or(|head| head > top);
    let end = samples(frame[0], COARSE_SAMPLES).skip(1).find(|flow| leaves(flow, &mut head_at)).unwrap_or(frame[0]);
    let mut points: Vec<CurvePoint> = Vec::new();
    for flow in samples(end, SYSTEM_SAMPLES).map(|q| q.max(least)) {
        match head_at(flow) {
            Some(head) => points.push([flow, head]),
            None => {
                finish_upright(&mut points, flow, top, &mut head_at);
                break;
            }
        }
        if points.last().is_some_and(|point| point[1] > top) {
            break;
        }
    }
    refine(&mut points, frame, top, head_at);
    points
}

/// Puts points between those that lie far apart in head: valves that throttle and flow limiters make a curve that turns upright
/// between two samples of flow.
fn refine(points: &mut Vec<CurvePoint>, frame: CurvePoint, top: f64, mut head_at: impl FnMut(f64) -> Option<f64>) {
    let is_wide = |a: &CurvePoint, b: &CurvePoint| {
        a[1] < top && (b[1] - a[1]).abs() > FINE_HEAD * frame[1] && b[0] - a[0] > FINE_FLOW * frame[0]
    };
    for _ in 0..REFINEMENTS {
        let mut finer: Vec<CurvePoint> = Vec::with_capacity(2 * points.len());
        for pair in points.windows(2) {
            finer.push(pair[0]);
            if is_wide(&pair[0], &pair[1]) {
                let middle = 0.5 * (pair[0][0] + pair[1][0]);
                finer.extend(head_at(middle).map(|head| [middle, head]));
            }
        }
        finer.extend(points.last());
        if finer.len() == points.len() {
            break;
        }
        *points = finer;
    }
}

/// Where flow limiters let nothing more pass the curve goes straight up: finds that flow and draws it so.
fn finish_upright(points: &mut Vec<CurvePoint>, beyond: f64, top: f64, mut head_at: impl FnMut(f64) -> Option<f64>) {
    let (mut low, mut high) = (points.last().map_or(0.0, |p| p[0]), beyond);
    let mut last = None;
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        match head_at(middle) {
            Some(head) => {
                last = Some([middle, head.min(top)]);
                low = middle;
            }
            None => high = middle,
        }
    }
    points.extend(last);
    if points.last().is_some_and(|point| point[1] < top) {
        points.push([low, top]);
    }
}
