//! Names beside the lines: the settings with their figures, the system curve, the speeds of the family.

use super::super::labels::Space;
use super::super::room::Room;
use super::super::svg::{Svg, Type, figure};
use super::super::width::text_width;
use super::Plot;
use crate::engine::units::Quantity;
use crate::study::share_as_set;

/// Size of names and of the family's speeds.
const SIZE: f64 = 15.0;
const SPEED: f64 = 14.0;

fn write(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room, (text, size, fill): (&str, f64, &str), places: &[Space]) {
    let Some([left, top, ..]) = room.find_clear(places) else { return };
    let kind = Type { is_strong: size >= SIZE, rim: Some(plot.colours.sheet), ..Type::new(size, fill) };
    svg.text([left, top + 9.0 + 0.36 * size], text, kind);
}

/// A space of a text's size whose left end and middle are given.
fn space(width: f64, [left, middle]: [f64; 2]) -> Space {
    [left, middle - 9.0, left + width, middle + 9.0]
}

/// Head limit, slope and speed cap as they are set, each at its line.
pub(super) fn settings(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    let Some(unit) = plot.view.project.pump(plot.view.pump) else { return };
    let [left, _, right, _] = plot.chart.head_frame();
    let set = &unit.regulation;
    if let Some(limit) = set.head_limit_m {
        let text = format!("head limit {}", plot.units.format(Quantity::Head, limit));
        let width = text_width(&text, SIZE);
        let [_, y] = plot.chart.head_at([0.0, limit]);
        let mut places = Vec::new();
        for side in [-14.0, 14.0] {
            for x in [right - 10.0 - width, left + 12.0, 0.5 * (left + right - width)] {
                places.push(space(width, [x, y + side]));
            }
        }
        write(svg, plot, room, (&text, SIZE, plot.colours.head_limit), &places);
    }
    if let (Some(start), Some(_)) = (plot.curves.set_line.first(), set.head_limit_m) {
        let text = format!("slope {}", share_as_set(set.slope, plot.units));
        let width = text_width(&text, SIZE);
        let [x, y] = plot.chart.head_at(*start);
        let places = [20.0, 34.0, -18.0, 50.0].map(|by| space(width, [x + 12.0, y + by]));
        write(svg, plot, room, (&text, SIZE, plot.colours.set_line), &places);
    }
    let text = format!("speed cap {}", plot.units.format(Quantity::Speed, set.speed_cap));
    along(
        svg,
        plot,
        room,
        &plot.curves.capped,
        (&text, plot.colours.cap),
        &[0.06, 0.12, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8],
    );
    if let Some(limit) = set.power_limit_w {
        let text = format!("power limit {}", plot.units.format(Quantity::Power, limit));
        let shares = [0.5, 0.6, 0.7, 0.4, 0.8, 0.3];
        along(svg, plot, room, &plot.curves.power_limited, (&text, plot.colours.cap), &shares);
    }
}

/// Names a line somewhere along it.
fn along(
    svg: &mut Svg,
    plot: &Plot<'_>,
    room: &mut Room,
    points: &[[f64; 2]],
    (text, fill): (&str, &str),
    shares: &[f64],
) {
    let width = text_width(text, SIZE);
    let mut places = Vec::new();
    for share in shares {
        let Some(at) = points.get((share * points.len().saturating_sub(1) as f64).round() as usize) else { continue };
        let [x, y] = plot.chart.head_at(*at);
        places.extend([space(width, [x + 6.0, y - 15.0]), space(width, [x - width - 6.0, y + 15.0])]);
    }
    write(svg, plot, room, (text, SIZE, fill), &places);
}

/// The system curve, from its upper end down.
pub(super) fn system(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    let points = &plot.curves.system;
    let results = plot.view.study.results();
    let others = results.pumps.iter().filter(|(id, pump)| pump.running && **id != plot.view.pump).count();
    let text = match others {
        0 => "system",
        1 => "system with the other circulator running",
        _ => "system with the other circulators running",
    };
    let width = text_width(text, SIZE);
    let mut places = Vec::new();
    for height in [0.97, 0.9, 0.83, 0.76, 0.7, 0.62, 0.54, 0.45, 0.36, 0.28] {
        let head = height * plot.curves.frame[1];
        let Some(pair) = points.windows(2).find(|pair| pair[0][1] <= head && head <= pair[1][1]) else { continue };
        let share = (head - pair[0][1]) / (pair[1][1] - pair[0][1]).max(1e-9);
        let [x, y] = plot.chart.head_at([pair[0][0] + share * (pair[1][0] - pair[0][0]), head]);
        places.extend([space(width, [x + 10.0, y + 5.0]), space(width, [x - 10.0 - width, y - 5.0])]);
    }
    svg.open("g", r#"class="present""#);
    write(svg, plot, room, (text, SIZE, plot.colours.system), &places);
    svg.close("g");
}

/// Where the catalogue data end: beyond, head and power are extrapolated.
pub(super) fn end_of_data(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    // Where the data reach down to no head there is nothing beyond them to warn of.
    if plot.curves.data_end[1] <= 0.05 * plot.curves.frame[1] {
        return;
    }
    let [x, y] = plot.chart.head_at(plot.curves.data_end);
    let at = [x, y].map(figure);
    svg.element("circle", &format!(r#"cx="{}" cy="{}" r="3" fill="{}""#, at[0], at[1], plot.colours.quiet));
    let text = "end of data";
    let width = text_width(text, SPEED);
    let places = [
        [x + 7.0, y - 12.0],
        [x + 7.0, y + 12.0],
        [x - 7.0 - width, y - 12.0],
        [x + 12.0, y - 24.0],
        [x - 7.0 - width, y + 12.0],
    ];
    write(svg, plot, room, (text, SPEED, plot.colours.quiet), &places.map(|at| space(width, at)));
}

/// Says what the thin line among the powers is, above its beginning.
pub(super) fn full_power(svg: &mut Svg, plot: &Plot<'_>) {
    let Some(unit) = plot.view.project.pump(plot.view.pump) else { return };
    let text = "at full speed";
    let width = text_width(text, SPEED);
    let mut room = Room::new(plot.chart.power_frame());
    for points in [
        unit.catalogue.iter().map(|point| plot.chart.power_at([point.flow, point.power])).collect::<Vec<_>>(),
        plot.curves.power.iter().map(|at| plot.chart.power_at(*at)).collect(),
    ] {
        room.line(&points);
    }
    if let Some(pump) = plot.running() {
        // The label of the operating point and its hair lines keep the middle.
        let [x, y] = plot.chart.power_at([pump.flow, pump.electric_w]);
        room.take([x - 16.0, y - 60.0, x + 120.0, y + 60.0]);
        room.line(&[[plot.chart.power_frame()[0], y], [x, y]]);
    }
    let along = || unit.catalogue.iter().map(|point| plot.chart.power_at([point.flow, point.power]));
    let end = along().next_back().map(|[x, y]| space(width, [x + 8.0, y]));
    let places = along().flat_map(|[x, y]| [space(width, [x + 8.0, y - 16.0]), space(width, [x + 8.0, y + 22.0])]);
    let places: Vec<Space> = end.into_iter().chain(places).collect();
    write(svg, plot, &mut room, (text, SPEED, plot.colours.quiet), &places);
}

/// Speeds of the family near the lower end of each curve.
pub(super) fn family(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    for (speed, points) in &plot.curves.family {
        let text = plot.units.format(Quantity::Share, *speed);
        let width = text_width(&text, SPEED);
        let place = |part: usize| {
            let [x, y] = plot.chart.head_at(points.get(points.len() * part / 15).copied().unwrap_or_default());
            space(width, [x - 0.5 * width, y])
        };
        write(svg, plot, room, (&text, SPEED, plot.colours.quiet), &[place(14), place(13), place(12), place(11)]);
    }
}
