//! Pipes in the report: what each is made of, and by which publications the loss of its fittings is reckoned.

use super::columns;
use crate::document::{Fitting, PipeRun, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::Results;
use std::collections::BTreeSet;

/// The pipes with what flows through them, once one of them says what it is made of; empty otherwise.
pub(super) fn pipes(project: &Project, results: &Results, units: &Units) -> String {
    if project.pipes.values().all(|pipe| pipe.size.is_none() && pipe.fittings.is_empty()) {
        return String::new();
    }
    let heading = ["Pipe", "Size", "Bore", "Length", "Flow", "Velocity", "Pressure drop", "K", "Fittings"];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    for (id, pipe) in project.pipes.iter().filter(|(_, pipe)| !pipe.is_joint()) {
        let Some(result) = results.pipes.get(id) else { continue };
        rows.push(vec![
            project.pipe_label(pipe),
            pipe.size.map_or_else(|| "–".to_owned(), |size| size.nominal().to_owned()),
            units.format(Quantity::Bore, pipe.bore),
            units.format(Quantity::Length, pipe.length),
            units.format(Quantity::Flow, result.flow),
            units.format(Quantity::Velocity, result.velocity),
            units.format(Quantity::Pressure, result.drop),
            format!("{:.2}", pipe.k()),
            fittings(pipe),
        ]);
    }
    let mut text = "\nPipes\n".to_owned() + &columns::table("  ", &rows);
    let sold = project.pipes.values().filter_map(|pipe| pipe.size.map(|size| size.series()));
    let series: BTreeSet<String> = sold.map(|series| format!("{} ({})", series.name, series.source)).collect();
    if !series.is_empty() {
        text += &format!("  Sizes: {}\n", series.into_iter().collect::<Vec<_>>().join("; "));
    }
    let all = project.pipes.values().flat_map(|pipe| &pipe.fittings);
    let sources: BTreeSet<String> = all.map(|fitting| format!("{} by {}", fitting.kind, fitting.source)).collect();
    if !sources.is_empty() {
        text += &format!("  Loss of fittings: {}\n", sources.into_iter().collect::<Vec<_>>().join("; "));
    }
    text
}

/// `4 × 90° elbow, 1 × exit`, and what is not among them.
fn fittings(pipe: &PipeRun) -> String {
    let one = |fitting: &Fitting| format!("{} × {}", fitting.count, fitting.kind);
    let other = (pipe.minor_k > 0.0).then(|| format!("other K {:.2}", pipe.minor_k));
    pipe.fittings.iter().map(one).chain(other).collect::<Vec<_>>().join(", ")
}
