//! The two sweeps of a step: lines together to the pump, pressures and flows back.

use super::super::Link;
use super::super::chains::Chains;
use super::super::curve::Curve;
use super::super::judge::{Floors, Limits, Mode};
use super::layout::NONE;
use super::{Bounds, Tree};
use crate::engine::links::Drop;

/// A linear chain: Δp = factor q − offset in series, q = factor Δp + offset in parallel.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Line {
    pub(super) factor: f64,
    pub(super) offset: f64,
}

impl Line {
    /// The tangent of a law at a flow.
    #[inline(always)]
    pub(super) fn tangent(law: Drop, floor: f64, flow: f64, in_series: bool) -> Self {
        let slope = if law.slope > floor { law.slope } else { floor };
        if in_series {
            Self { factor: slope, offset: slope * flow - law.pressure_pa }
        } else {
            let conductance = 1.0 / slope;
            Self { factor: conductance, offset: flow - conductance * law.pressure_pa }
        }
    }

    /// A flow that is held.
    pub(super) fn held(flow: f64) -> Self {
        Self { factor: 0.0, offset: flow }
    }
}

/// One chain in the sweeps. Two cache lines.
#[derive(Clone, Copy, Debug)]
#[repr(align(64))]
pub(super) struct Leaf {
    /// Its law near its present flow.
    pub(super) curve: Curve,
    pub(super) line: Line,
    pub(super) flow: f64,
    /// Pressure between its ends.
    pub(super) across: f64,
    pub(super) floors: Floors,
    /// Whether its range may end; no chain in series with a bundle has such a range.
    pub(super) is_bounded: bool,
    pub(super) in_series: bool,
}

impl Leaf {
    pub(super) fn new(in_series: bool) -> Self {
        Self {
            curve: Curve::NONE,
            line: Line::default(),
            flow: 0.0,
            across: 0.0,
            floors: Floors::default(),
            is_bounded: false,
            in_series,
        }
    }
}

/// A cell as one line q = g Δp + c, and how the pressure across it falls to its bundle or its first half:
/// share Δp + shift.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sum {
    pub(super) whole: Line,
    pub(super) share: f64,
    pub(super) shift: f64,
}

/// A line q = (g/d) Δp + c/d with its divisor apart: along a row of cells, each of which needs the line of the one behind it,
/// nothing then waits for a division.
#[derive(Clone, Copy, Debug)]
struct Fraction {
    factor: f64,
    offset: f64,
    divisor: f64,
}

impl Fraction {
    const NOTHING: Self = Self { factor: 0.0, offset: 0.0, divisor: 1.0 };

    fn of(line: Line) -> Self {
        Self { factor: line.factor, offset: line.offset, divisor: 1.0 }
    }

    /// The same with a divisor of one. Apart and rare, or else the compiler would select between the two and wait for both.
    #[cold]
    #[inline(never)]
    fn shortened(line: Line) -> Self {
        Self::of(line)
    }

    /// With a line beside it.
    #[inline(always)]
    fn and(self, line: Line) -> Self {
        Self {
            factor: self.factor + line.factor * self.divisor,
            offset: self.offset + line.offset * self.divisor,
            divisor: self.divisor,
        }
    }

    /// With a line Δp = r q − e before it: g/(1 + r g) and (e g + c)/(1 + r g).
    #[inline(always)]
    fn behind(self, before: Line) -> (Sum, Self) {
        let divisor = self.divisor + before.factor * self.factor;
        let offset = before.offset * self.factor + self.offset;
        let per = 1.0 / divisor;
        let sum = Sum {
            whole: Line { factor: self.factor * per, offset: offset * per },
            share: self.divisor * per,
            shift: (before.offset * self.divisor - before.factor * self.offset) * per,
        };
        let whole = Self { factor: self.factor, offset, divisor };
        if divisor > 1e60 {
            return (sum, Self::shortened(sum.whole));
        }
        (sum, whole)
    }
}

/// The pressures by which laws missed at one step.
struct Errors {
    settled: bool,
    worst: f64,
}

impl Tree {
    /// Sweeps from the far ends to the pump: the whole system as one line. `None` where flows that are held contradict one
    /// another.
    #[inline(never)]
    pub(super) fn gather(&mut self) -> Option<Line> {
        // A cell's first child stands right behind it: its line need not go through memory.
        let mut carried = Fraction::NOTHING;
        for index in (0..self.cells.len()).rev() {
            let cell = &self.cells[index];
            let gathered = std::mem::take(&mut self.gathered[index]);
            let parent = cell.parent as usize;
            let is_next = parent.wrapping_add(1) == index;
            let (sum, whole) = if cell.second == NONE {
                let (first, end) = (cell.first as usize, cell.end as usize);
                let mut bundled = gathered;
                for Leaf { line, .. } in &self.leaves[first..end] {
                    bundled.factor += line.factor;
                    bundled.offset += line.offset;
                }
                let before = if cell.has_series { self.leaves[end].line } else { Line::default() };
                carried.and(bundled).behind(before)
            } else {
                let Some(sum) = joint(self.sums[index + 1].whole, self.sums[cell.second as usize].whole) else {
                    self.gathered.fill(Line::default());
                    return None;
                };
                (sum, Fraction::of(sum.whole))
            };
            self.sums[index] = sum;
            carried = Fraction::NOTHING;
            if is_next {
                carried = whole;
            } else if let Some(gathered) = self.gathered.get_mut(parent) {
                gathered.factor += sum.whole.factor;
                gathered.offset += sum.whole.offset;
            }
        }
        self.sums.first().map(|sum| sum.whole)
    }

    /// Sweeps from the pump to the far ends with the pressure across the system: new flows, laws and lines. Returns whether
    /// every law fits the pressure across it.
    #[inline(never)]
    pub(super) fn spread(&mut self, rise_pa: f64, limits: &Limits) -> bool {
        let mut errors = Errors { settled: true, worst: 0.0 };
        let count = self.cells.len();
        let mut laws = Laws { chains: &mut self.chains, links: &self.laws, limits };
        for (index, (cell, sum)) in self.cells.iter().zip(&self.sums).enumerate() {
            let across = if index == 0 { rise_pa } else { self.across_cells[cell.source as usize] };
            let inner = across * sum.share + sum.shift;
            self.across_cells[index] = inner;
            let flow = sum.whole.factor * across + sum.whole.offset;
            self.cell_flows[index] = flow;
            if cell.second != NONE {
                self.across_cells[count + index] = across - inner;
                continue;
            }
            let (first, end) = (cell.first as usize, cell.end as usize);
            for (leaf, chain) in self.leaves[first..end].iter_mut().zip(first..) {
                let next = leaf.line.factor * inner + leaf.line.offset;
                if leaf.is_bounded {
                    let bounds = &mut self.bounds[chain];
                    self.is_regrouped |= laws.bounded(chain, leaf, bounds, next, inner, &mut errors);
                } else {
                    laws.free(chain, leaf, next, inner, false, &mut errors);
                }
            }
            if cell.has_series {
                let leaf = &mut self.leaves[end];
                let across = leaf.line.factor * flow - leaf.line.offset;
                laws.free(end, leaf, flow, across, true, &mut errors);
            }
        }
        self.worst_pa = errors.worst;
        errors.settled
    }

    /// The line of a chain at its present flow and mode.
    pub(super) fn renew_line(&mut self, chain: usize, before: f64) {
        let leaf = &mut self.leaves[chain];
        leaf.line = match self.bounds[chain].mode {
            Mode::Free => {
                let law = self.chains.follow(chain, &self.laws, &mut leaf.curve, leaf.flow, before);
                Line::tangent(law, leaf.floors.least, leaf.flow, leaf.in_series)
            }
            _ => Line::held(leaf.flow),
        };
    }

    /// Scales all flows and takes the tangents there.
    #[inline(never)]
    pub(super) fn scale(&mut self, factor: f64) {
        for (chain, (leaf, bounds)) in self.leaves[..self.moving].iter_mut().zip(&self.bounds).enumerate() {
            let before = leaf.flow;
            if !leaf.is_bounded {
                leaf.flow = before * factor;
            } else if bounds.mode == Mode::Free {
                leaf.flow = (before * factor).max(bounds.range.low).min(bounds.range.high);
            } else {
                leaf.line = Line::held(before);
                continue;
            }
            let law = self.chains.follow(chain, &self.laws, &mut leaf.curve, leaf.flow, before);
            leaf.line = Line::tangent(law, leaf.floors.least, leaf.flow, leaf.in_series);
        }
    }
}

/// What is needed to ask for laws.
struct Laws<'a> {
    chains: &'a mut Chains,
    links: &'a [Link],
    limits: &'a Limits,
}

impl Laws<'_> {
    /// A chain that follows its law.
    #[inline(always)]
    fn free(&mut self, chain: usize, leaf: &mut Leaf, flow: f64, across: f64, in_series: bool, errors: &mut Errors) {
        let law = self.chains.follow(chain, self.links, &mut leaf.curve, flow, leaf.flow);
        (leaf.flow, leaf.across) = (flow, across);
        let error = (across - law.pressure_pa).abs();
        errors.settled &= self.limits.is_met(error, law.slope, leaf.floors);
        errors.take(error);
        leaf.line = Line::tangent(law, leaf.floors.least, flow, in_series);
    }

    /// A chain whose range ends. Returns whether it took or left an end.
    #[inline(never)]
    fn bounded(
        &mut self,
        chain: usize,
        leaf: &mut Leaf,
        bounds: &mut Bounds,
        next: f64,
        across: f64,
        errors: &mut Errors,
    ) -> bool {
        let Bounds { range, mode } = *bounds;
        leaf.across = across;
        if range.is_shut() {
            return false;
        }
        if mode == Mode::Free {
            if next >= range.low && next <= range.high {
                self.free(chain, leaf, next, across, false, errors);
                return false;
            }
            let (mode, flow) = if next < range.low { (Mode::AtLow, range.low) } else { (Mode::AtHigh, range.high) };
            bounds.mode = mode;
            leaf.flow = flow;
            leaf.line = Line::held(flow);
            errors.settled = false;
            return true;
        }
        let law = self.chains.follow(chain, self.links, &mut leaf.curve, leaf.flow, leaf.flow);
        let over = across - law.pressure_pa;
        errors.take(mode.error(over, false));
        let called_back = if mode == Mode::AtLow { over } else { -over };
        let is_called = called_back > self.limits.call_back;
        if is_called {
            bounds.mode = Mode::Free;
            leaf.line = Line::tangent(law, leaf.floors.least, leaf.flow, false);
            errors.settled = false;
        }
        is_called
    }
}

impl Errors {
    #[inline(always)]
    fn take(&mut self, error: f64) {
        // What is not a number is passed over; it has already failed to settle.
        self.worst = if error > self.worst { error } else { self.worst };
    }
}

/// Two cells in series. `None` where both hold a flow, and not the same.
fn joint(a: Line, b: Line) -> Option<Sum> {
    let both = a.factor + b.factor;
    if both <= 0.0 {
        return (a.offset == b.offset).then_some(Sum { whole: a, share: 0.0, shift: 0.0 });
    }
    let per = 1.0 / both;
    let whole = Line { factor: a.factor * b.factor * per, offset: (a.offset * b.factor + b.offset * a.factor) * per };
    // Across the first: (g₂ Δp + c₂ − c₁)/(g₁ + g₂).
    Some(Sum { whole, share: b.factor * per, shift: (b.offset - a.offset) * per })
}
