//! What one step would take if only its numbers counted: factorising the reduced network's matrix and substituting once, by
//! faer's sparse Cholesky with everything prepared and no allocation. The faster of its two ways counts.

use super::measure;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{CholeskySymbolicParams, SymmetricOrdering, factorize_symbolic_cholesky};
use faer::sparse::{SparseColMat, Triplet};
use faer::{Conj, Mat, Par, Side};

/// Seconds of a factorisation and a substitution for a pattern, node 0 being the ground.
pub fn seconds(meshes: &[(usize, usize)]) -> f64 {
    let mut number = vec![usize::MAX; 1 + meshes.iter().fold(0, |most, &(a, b)| most.max(a).max(b))];
    let mut size = 0;
    for &(a, b) in meshes {
        for node in [a, b] {
            if node != 0 && number[node] == usize::MAX {
                number[node] = size;
                size += 1;
            }
        }
    }
    let mut entries = Vec::new();
    for (index, &(a, b)) in meshes.iter().enumerate() {
        let conductance = 1.0 + (index as f64).sin().abs();
        let (a, b) = (number[a], number[b]);
        for node in [a, b] {
            if node != usize::MAX {
                entries.push(Triplet::new(node, node, conductance));
            }
        }
        if a != usize::MAX && b != usize::MAX {
            entries.push(Triplet::new(a.max(b), a.min(b), -conductance));
        }
    }
    let matrix = SparseColMat::<usize, f64>::try_new_from_triplets(size, size, &entries).expect("a matrix");
    let ways = [SupernodalThreshold::FORCE_SIMPLICIAL, SupernodalThreshold::FORCE_SUPERNODAL];
    ways.map(|threshold| one_way(&matrix, threshold)).into_iter().fold(f64::INFINITY, f64::min)
}

fn one_way(matrix: &SparseColMat<usize, f64>, threshold: SupernodalThreshold) -> f64 {
    let params = CholeskySymbolicParams { supernodal_flop_ratio_threshold: threshold, ..Default::default() };
    let symbolic = factorize_symbolic_cholesky(matrix.symbolic(), Side::Lower, SymmetricOrdering::Amd, params)
        .expect("a symmetric pattern");
    let mut values = vec![0.0; symbolic.len_val()];
    let factor = symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default());
    let mut memory = MemBuffer::new(factor.or(symbolic.solve_in_place_scratch::<f64>(1, Par::Seq)));
    let mut right = Mat::<f64>::zeros(matrix.nrows(), 1);
    let (seconds, _) = measure(|turn| {
        right.fill(1.0 + turn as f64);
        let stack = MemStack::new(&mut memory);
        let factor = symbolic
            .factorize_numeric_llt(
                &mut values,
                matrix.as_ref(),
                Side::Lower,
                Default::default(),
                Par::Seq,
                stack,
                Default::default(),
            )
            .expect("a positive matrix");
        factor.solve_in_place_with_conj(Conj::No, right.as_mut(), Par::Seq, MemStack::new(&mut memory));
        1
    });
    seconds
}
