//! Several components: how many of which kind, bringing them onto a line, and the figures that those of one kind share.

use super::super::frame::capital;
use super::super::view::Intent;
use super::component::heading;
use super::figures::figures;
use super::form::Form;
use super::number::{Measure, Number};
use super::pipes::{self, spread};
use crate::document::{Command, Component, ComponentId, Line, PipeId, Project, aligned, distributed};
use std::collections::{BTreeMap, BTreeSet};

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>, components: &BTreeSet<ComponentId>, runs: &BTreeSet<PipeId>) {
    let project = form.view.project;
    heading(form, &told(components.len(), runs.len()));
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let all: Vec<(ComponentId, &Component)> =
        components.iter().filter_map(|id| Some((*id, project.components.get(id)?))).collect();
    for (_, component) in &all {
        *counts.entry(component.kind_name()).or_default() += 1;
    }
    for (kind, count) in &counts {
        form.fact(&capital(kind), "", &count.to_string());
    }
    place(form, components);
    if counts.len() == 1 {
        shared(form, &all);
    }
    if !runs.is_empty() {
        form.section("Pipes");
        form.group("pipes", |form| pipes::figures(form, runs));
    }
}

/// How many there are.
fn told(components: usize, pipes: usize) -> String {
    let many = |count: usize, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
    match pipes {
        0 => many(components, "component"),
        _ => format!("{}, {}", many(components, "component"), many(pipes, "pipe")),
    }
}

fn place(form: &mut Form<'_, '_>, components: &BTreeSet<ComponentId>) {
    type Places = fn(&Project, &BTreeSet<ComponentId>, Line) -> BTreeMap<ComponentId, [f64; 2]>;
    let words = [
        ("Align in a row", "Brings all to one height"),
        ("Align in a column", "Brings all below each other"),
        ("Space level", "Equal distances from left to right"),
        ("Space upright", "Equal distances from top to bottom"),
        ("Turn", "Turns each a quarter clockwise (R)"),
    ];
    if components.len() < 2 {
        return;
    }
    let choices: [(Places, Line); 4] =
        [(aligned, Line::Row), (aligned, Line::Column), (distributed, Line::Row), (distributed, Line::Column)];
    let project = form.view.project;
    let Some(pressed) = form.buttons("place", &words) else { return };
    match choices.get(pressed) {
        Some((places, line)) => {
            let places = places(project, components, *line);
            if !places.is_empty() {
                form.change(Command::MoveComponents(places));
            }
        }
        None => {
            let turns = components.iter().filter_map(|id| Some((*id, project.components.get(id)?.turn)));
            form.change_all(turns.map(|(id, turn)| Command::SetTurn(id, turn.next())).collect());
        }
    }
}

/// The figures of components that are all of one kind: what is set holds for all.
fn shared(form: &mut Form<'_, '_>, all: &[(ComponentId, &Component)]) {
    let Some((_, first)) = all.first() else { return };
    let figures = figures(&first.kind);
    if all.len() < 2 || figures.is_empty() {
        return;
    }
    form.section("For all of them");
    for figure in figures {
        let values: Vec<f64> = all.iter().filter_map(|(_, component)| figure.value(&component.kind)).collect();
        let Some(value) = common(form, (figure.label, figure.hint), figure.measure, &values, figure.range) else {
            continue;
        };
        form.change_all(all.iter().filter_map(|(id, component)| figure.set(*id, &component.kind, value)).collect());
    }
}

/// A number that several things share; an empty field that tells the least and the greatest where they differ.
pub(super) fn common(
    form: &mut Form<'_, '_>,
    (label, hint): (&str, &str),
    measure: Measure,
    values: &[f64],
    range: (f64, f64),
) -> Option<f64> {
    let first = *values.first()?;
    if values.iter().all(|value| *value == first) {
        return form.row(label, hint, |form, named| {
            let width = form.ui.available_width();
            Number { name: label, measure, value: first, range, drags: true, with_unit: true }.show(form, named, width)
        });
    }
    let spread = spread(form, measure, values);
    let text = form.text(label, hint, "", &spread)?;
    match measure.parse(form.view.units, &text, range) {
        Ok(value) => Some(value),
        Err(why) => {
            form.intents.push(Intent::Reject(format!("{label}: {why}")));
            None
        }
    }
}
