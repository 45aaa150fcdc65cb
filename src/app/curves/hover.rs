//! What the lines of the plot are: hovering one lights it up and shows its card; by keyboard F1 goes through them all.

use super::super::term_card::TermCard;
use super::super::view::View;
use super::{Chart, CurvesState};
use crate::study::terms::Term;
use egui::{self, Color32, Key, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui, pos2, vec2};

/// How near to a line the pointer means it, points.
const REACH: f32 = 6.0;

/// Something drawn that has a card.
struct Drawn {
    term: Term,
    points: Vec<Pos2>,
    color: Color32,
}

/// Shows the card of what lies under the pointer, or of what F1 has come to. `moving`: a setting is in the hand.
pub(super) fn show(ui: &Ui, chart: &Chart<'_>, response: &Response, state: &mut CurvesState, moving: bool) {
    let all = drawn(chart);
    let by_key = by_key(ui, chart, response, state, all.len());
    let pointed = response.hover_pos().filter(|_| !moving).and_then(|pos| under(chart, state, &all, pos));
    let lit = by_key.and_then(|index| all.get(index)).or_else(|| pointed.and_then(|(_, index)| all.get(index?)));
    if let Some(of) = lit {
        let stroke = Stroke::new(9.0, of.color.gamma_multiply(0.3));
        ui.painter().with_clip_rect(chart.rect()).add(Shape::line(of.points.clone(), stroke));
    }
    let term = by_key.and_then(|index| all.get(index)).map(|of| of.term);
    match (term, pointed) {
        (Some(term), _) => TermCard::new(chart.view, term).beside(chart.rect()).show(response),
        (None, Some((term, _))) => TermCard::new(chart.view, term).beside(chart.rect()).on(response),
        (None, None) => {}
    }
}

/// Which of the drawn things F1 has come to while the plot has the focus.
fn by_key(ui: &Ui, chart: &Chart<'_>, response: &Response, state: &mut CurvesState, count: usize) -> Option<usize> {
    if !response.has_focus() {
        state.explained = None;
        return None;
    }
    let ring = Stroke::new(2.0, chart.view.palette.accent);
    ui.painter().rect_stroke(chart.rect(), 2, ring, StrokeKind::Inside);
    if ui.input(|i| i.key_pressed(Key::F1)) {
        state.explained = Some(state.explained.map_or(0, |index| index + 1)).filter(|index| *index < count);
    }
    state.explained
}

/// What lies under the pointer: words first, then the point, then the nearest line, of lines that coincide the one in front.
fn under(chart: &Chart<'_>, state: &CurvesState, all: &[Drawn], pos: Pos2) -> Option<(Term, Option<usize>)> {
    let is_named = |label: &&super::ranges::RangeLabel| label.boxes.iter().any(|part| part.expand(1.0).contains(pos));
    if let Some(label) = state.ranges.iter().find(is_named) {
        return Some((Term::of_limit(label.limit), None));
    }
    let view = chart.view;
    if let Some(pump) = view.pump_result().filter(|pump| pump.running)
        && chart.at([pump.flow, pump.head]).distance(pos) < 11.0
    {
        return Some((Term::OperatingPoint, None));
    }
    if let Some(curves) = view.curves()
        && chart.at(curves.data_end).distance(pos) < REACH
    {
        return Some((Term::EndOfData, None));
    }
    let near = all.iter().enumerate().map(|(index, of)| (super::grab::far(&of.points, pos), index));
    // A point further off still loses to a line in front that is nearly as near: the first in the list is the one in front.
    let (_, index) = near.filter(|(far, _)| *far <= REACH).min_by(|a, b| (a.0.floor()).total_cmp(&b.0.floor()))?;
    Some((all[index].term, Some(index)))
}

/// All lines with a card, those in front first.
fn drawn(chart: &Chart<'_>) -> Vec<Drawn> {
    let view = chart.view;
    let (Some(curves), Some(unit)) = (view.curves(), view.unit()) else { return Vec::new() };
    let palette = &view.palette;
    let place = |points: &[[f64; 2]]| points.iter().map(|point| chart.at(*point)).collect::<Vec<Pos2>>();
    let mut all = Vec::new();
    let mut add = |term: Term, points: &[[f64; 2]], color: Color32| {
        if points.len() > 1 {
            all.push(Drawn { term, points: place(points), color });
        }
    };
    add(Term::RegulatedCurve, &curves.regulated, palette.ink);
    add(Term::SystemCurve, &curves.system, palette.system);
    if view.shows_path() {
        add(Term::ZoneAlone, view.alone, palette.system);
    }
    add(Term::SetLine, &curves.set_line, palette.slope);
    if let Some(limit) = unit.regulation.head_limit_m {
        add(Term::HeadLimit, &[[0.0, limit], [1.02 * curves.frame[0], limit]], palette.head_limit);
    }
    add(Term::SpeedCap, &curves.capped, palette.cap);
    add(Term::PowerLimit, &curves.power_limited, palette.cap);
    add(Term::MinimumSpeed, &curves.minimum, palette.quiet);
    for (_, points) in super::cloud::ghosts(view) {
        add(Term::Variant, &points, palette.quiet);
    }
    for (speed, points) in curves.family.iter().rev() {
        let term = if *speed >= 1.0 { Term::FullSpeedCurve } else { Term::SpeedFamily };
        add(term, points, palette.quiet);
    }
    all
}

/// The axes of both plots name what they measure.
pub(super) fn axes(ui: &Ui, view: &View<'_>, head: Rect, power: Rect) {
    for (rect, salt, term) in [
        (left_of(head), "head axis", Term::Head),
        (left_of(power), "power axis", Term::ElectricPower),
        (Rect::from_min_max(power.left_bottom(), power.right_bottom() + vec2(0.0, 34.0)), "flow axis", Term::Flow),
    ] {
        let response = ui.interact(rect, ui.scope_id().with(salt), Sense::hover());
        TermCard::new(view, term).beside(head.union(power).expand2(vec2(58.0, 0.0))).on(&response);
    }
    let response = ui.interact(power, ui.scope_id().with("power plot"), Sense::hover());
    TermCard::new(view, Term::ElectricPower).beside(head.union(power).expand2(vec2(58.0, 0.0))).on(&response);
}

fn left_of(plot: Rect) -> Rect {
    Rect::from_min_max(pos2(plot.left() - 58.0, plot.top()), plot.left_bottom())
}
