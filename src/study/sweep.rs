//! Sweeps: the same drawing under many lists of commands (scenarios, settings, positions), spread over the machine's cores.
//!
//! Each case starts from the document as it is. Within a piece of the sweep a case is solved from the answer of the one before
//! it; pieces are cut by number and not by how many cores there are, so that the answers are the same on every machine.

use super::answer::Answer;
use super::lower::LowerError;
use super::results::Results;
use crate::document::{Changed, Command, CommandError, Project};
use rayon::prelude::*;
use thiserror::Error;

/// Cases of one piece: enough to make lowering the drawing anew cheap beside them.
const PIECE: usize = 64;

/// Why a case of a sweep has no results.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum SweepError {
    /// A command that does not fit the document.
    #[error(transparent)]
    Command(#[from] CommandError),
    /// A document that cannot be lowered.
    #[error(transparent)]
    Lower(#[from] LowerError),
}

/// What comes of each list of commands, carried out on the document as it is.
///
/// # Errors
/// The first case, in order, that cannot be studied.
pub fn sweep(project: &Project, cases: &[Vec<Command>]) -> Result<Vec<Results>, SweepError> {
    sweep_for(project, cases, |_, results| results.clone())
}

/// The same, keeping of each case only what is asked for: `keep` sees the document of the case and its results.
///
/// # Errors
/// The first case, in order, that cannot be studied.
pub fn sweep_for<T: Send>(
    project: &Project,
    cases: &[Vec<Command>],
    keep: impl Fn(&Project, &Results) -> T + Sync,
) -> Result<Vec<T>, SweepError> {
    let pieces: Vec<Result<Vec<T>, SweepError>> =
        cases.par_chunks(PIECE).map(|piece| one_after_another(project, piece, &keep)).collect();
    let mut all = Vec::with_capacity(cases.len());
    for piece in pieces {
        all.extend(piece?);
    }
    Ok(all)
}

fn one_after_another<T>(
    project: &Project,
    cases: &[Vec<Command>],
    keep: &impl Fn(&Project, &Results) -> T,
) -> Result<Vec<T>, SweepError> {
    let mut answer: Option<Answer> = None;
    let mut before = Changed::default();
    cases
        .iter()
        .map(|commands| {
            let mut case = project.clone();
            let mut changed = Changed::default();
            for command in commands {
                changed = changed.and(case.apply(command)?);
            }
            // What the case before it changed is changed back.
            let touched = changed.and(before);
            before = changed;
            let answer = match &mut answer {
                Some(answer) => {
                    answer.follow(&case, touched)?;
                    answer
                }
                None => answer.insert(Answer::new(&case)?),
            };
            Ok(keep(&case, &answer.results))
        })
        .collect()
}
