//! Names of sources and circulators with what they do, beside their symbols; of other components where there is room.

use super::super::room::Room;
use super::super::svg::{Svg, Type};
use super::super::symbols;
use super::super::width::{broken, text_width};
use super::Sheet;
use super::cards::SMALL;
use crate::document::{Component, ComponentId, ComponentKind};
use crate::engine::units::Quantity;

/// Height of a line.
const LINE: f64 = 17.0;
/// Width that a name may take in a line.
const MOST: f64 = 150.0;

/// Draws all names.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room) {
    let all = || sheet.view.project.components.iter();
    let is_first = |component: &Component| matches!(component.kind, ComponentKind::Source(_) | ComponentKind::Pump(_));
    let is_second = |component: &Component| {
        matches!(component.kind, ComponentKind::Separator { .. } | ComponentKind::ThreeWayValve(_))
            || component.kind.is_gauge()
    };
    for (id, component) in all().filter(|(_, component)| is_first(component)) {
        name(svg, sheet, room, *id, component);
    }
    for (id, component) in all().filter(|(_, component)| is_second(component)) {
        name(svg, sheet, room, *id, component);
    }
}

/// What stands below a name.
fn does(sheet: &Sheet<'_>, id: ComponentId) -> Option<String> {
    let (results, units) = (sheet.view.study.results(), sheet.units);
    if let Some(source) = results.sources.get(&id) {
        let enters = units.number(Quantity::Temperature, source.enters_c);
        return Some(format!("{enters} → {}", units.format(Quantity::Temperature, source.leaves_c)));
    }
    let pump = results.pumps.get(&id)?;
    if !pump.running {
        return Some("off".to_owned());
    }
    Some(format!("{} · {}", units.format(Quantity::Flow, pump.flow), units.format(Quantity::Head, pump.head)))
}

fn name(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, id: ComponentId, component: &Component) {
    let broken_at = |most: f64, lines: usize| -> Vec<(String, bool)> {
        broken(&component.name, SMALL, most).into_iter().take(lines).map(|line| (line, true)).collect()
    };
    let (alone, narrow) = (broken_at(MOST, 2), broken_at(0.0, 3));
    let mut all = alone.clone();
    all.extend(does(sheet, id).map(|line| (line, false)));
    // Rather the name alone than all across a pipe, and rather across a pipe than nothing.
    let forms = [&all, &alone, &narrow];
    let clear = forms.into_iter().find_map(|lines| Some((lines, room.find_clear(&places(sheet, component, lines))?)));
    let mut across = || forms.into_iter().find_map(|lines| Some((lines, room.find(&places(sheet, component, lines))?)));
    let found = clear.or_else(&mut across);
    let Some((lines, [left, top, right, _])) = found else { return };
    let [x, _] = sheet.scale.at(component.at);
    let (x, anchor) = match () {
        () if right <= x => (right, "end"),
        () if left >= x => (left, "start"),
        () => (0.5 * (left + right), "middle"),
    };
    for (index, (line, is_strong)) in lines.iter().enumerate() {
        let fill = if *is_strong { sheet.colours.ink } else { sheet.colours.quiet };
        let kind = Type { anchor, is_strong: *is_strong, rim: Some(sheet.colours.sheet), ..Type::new(SMALL, fill) };
        svg.text([x, top + LINE * index as f64 + 0.78 * LINE], line, kind);
    }
}

/// Where lines may stand about a symbol, the best first.
fn places(sheet: &Sheet<'_>, component: &Component, lines: &[(String, bool)]) -> Vec<[f64; 4]> {
    let width = lines.iter().map(|(line, _)| text_width(line, SMALL)).fold(0.0, f64::max);
    let height = LINE * lines.len() as f64;
    let [x, y] = sheet.scale.at(component.at);
    let [half_width, half_height] = symbols::half_size(component).map(|half| half * sheet.scale.step);
    let mut places = Vec::new();
    for away in [5.0, 12.0, 24.0] {
        let (above, below) = (y - half_height - away - height, y + half_height + away);
        let (before, after) = (x - half_width - away - width, x + half_width + away);
        let centred = x - 0.5 * width;
        let beside = y - 0.5 * height;
        for (left, top) in [
            (centred, above),
            (centred, below),
            (after, beside),
            (before, beside),
            (after, above),
            (after, below),
            (before, above),
            (before, below),
        ] {
            places.push([left, top, left + width, top + height]);
        }
    }
    places
}
