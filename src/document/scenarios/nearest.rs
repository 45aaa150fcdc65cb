//! The set of open zones whose flows come nearest to a wanted flow. Of few zones every set is tried, so that it is the nearest
//! there is; of many the greatest go first and single zones are then exchanged while that helps. Both always find the same set.

use super::switched::Zones;

/// The most zones of which every set is tried: 16,384 sets.
const MOST_TRIED: usize = 14;
/// Flows that differ by less than this share of all flow are equal.
const SAME: f64 = 1e-9;

/// The places of the zones to be open for a share of the whole flow, rising. Something is always open.
pub(super) fn nearest(zones: &Zones<'_>, flow_share: f64) -> Vec<usize> {
    let flows: Vec<f64> = zones.switched.iter().map(|zone| zone.flow).collect();
    let wanted = flow_share * zones.total() - zones.always;
    let same = SAME * zones.total();
    let least = usize::from(!zones.has_always);
    if flows.len() <= MOST_TRIED { tried(&flows, wanted, same, least) } else { exchanged(&flows, wanted, same, least) }
}

/// Tries every set. Among equally near ones that with the fewest open zones is taken, then that whose zones come first.
fn tried(flows: &[f64], wanted: f64, same: f64, least: usize) -> Vec<usize> {
    let count = flows.len();
    // The first zone is the highest bit, so that of two sets of one size the greater number is the one that comes first.
    let places = |set: u32| (0..count).filter(move |place| set >> (count - 1 - place) & 1 == 1);
    let off = |set: u32| (places(set).map(|place| flows[place]).sum::<f64>() - wanted).abs();
    let sets = || (0..1_u32 << count).filter(|set| set.count_ones() as usize >= least);
    let best = sets().map(off).fold(f64::INFINITY, f64::min);
    let near = sets().filter(|set| off(*set) <= best + same);
    near.min_by_key(|set| (set.count_ones(), std::cmp::Reverse(*set)))
        .map(|set| places(set).collect())
        .unwrap_or_default()
}

/// Opens the greatest first, each if that brings the sum nearer, then adds, takes away or exchanges one at a time.
fn exchanged(flows: &[f64], wanted: f64, same: f64, least: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..flows.len()).collect();
    order.sort_by(|a, b| flows[*b].total_cmp(&flows[*a]).then(a.cmp(b)));
    let mut open = vec![false; flows.len()];
    let mut lacking = wanted;
    for place in &order {
        if (lacking - flows[*place]).abs() < lacking.abs() - same {
            open[*place] = true;
            lacking -= flows[*place];
        }
    }
    if least > 0 && !open.contains(&true) {
        // The smallest alone is nearest to what was too little for any.
        if let Some(smallest) = order.last() {
            open[*smallest] = true;
            lacking -= flows[*smallest];
        }
    }
    // Each step brings the sum nearer; the bound only guards against steps that do so endlessly little.
    for _ in 0..4 * flows.len() {
        let Some(step) = best_step(flows, &order, &open, lacking, least) else { break };
        if (lacking - step.change).abs() >= lacking.abs() - same {
            break;
        }
        lacking -= step.change;
        for place in [step.opened, step.shut].into_iter().flatten() {
            open[place] = !open[place];
        }
    }
    (0..flows.len()).filter(|place| open[*place]).collect()
}

/// One zone opened, one shut, or both.
#[derive(Clone, Copy)]
struct Step {
    opened: Option<usize>,
    shut: Option<usize>,
    change: f64,
}

/// The step that brings the sum nearest; `order` holds the zones by falling flow.
fn best_step(flows: &[f64], order: &[usize], open: &[bool], lacking: f64, least: usize) -> Option<Step> {
    let rising: Vec<usize> = order.iter().rev().copied().filter(|place| !open[*place]).collect();
    let count = open.iter().filter(|open| **open).count();
    let alone = |place: &usize| Step { opened: Some(*place), shut: None, change: flows[*place] };
    let mut steps: Vec<Step> = nearest_of(flows, &rising, lacking).map(|place| alone(&place)).collect();
    for shut in (0..flows.len()).filter(|place| open[*place]) {
        if count > least {
            steps.push(Step { opened: None, shut: Some(shut), change: -flows[shut] });
        }
        let partners = nearest_of(flows, &rising, lacking + flows[shut]);
        steps.extend(partners.map(|opened| Step {
            opened: Some(opened),
            shut: Some(shut),
            change: flows[opened] - flows[shut],
        }));
    }
    steps.into_iter().min_by(|a, b| (lacking - a.change).abs().total_cmp(&(lacking - b.change).abs()))
}

/// Of zones by rising flow the two on either side of a flow.
fn nearest_of<'a>(flows: &'a [f64], rising: &'a [usize], wanted: f64) -> impl Iterator<Item = usize> + 'a {
    let at = rising.partition_point(|place| flows[*place] < wanted);
    [at.checked_sub(1), Some(at)].into_iter().flatten().filter_map(|at| rising.get(at).copied())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equally_near_sets_are_told_apart() {
        // 3 is one zone or two; 5 is {0, 2}, {1, 2} or – of the same size – the first.
        assert_eq!(tried(&[1.0, 2.0, 3.0], 3.0, 1e-9, 1), [2]);
        assert_eq!(tried(&[2.0, 2.0, 3.0], 5.0, 1e-9, 1), [0, 2]);
        // 0.1 + 0.2 and 0.3 differ in the last bit only.
        assert_eq!(tried(&[0.1, 0.2, 0.3], 0.3, 1e-9, 1), [2]);
        // Halfway between one and two of three equal zones: fewer.
        assert_eq!(tried(&[1.0, 1.0, 1.0], 1.5, 1e-9, 1), [0]);
        assert_eq!(tried(&[4.0, 3.0], 0.5, 1e-9, 1), [1]);
        assert_eq!(tried(&[4.0, 3.0], 0.5, 1e-9, 0), [0_usize; 0]);
    }

    /// Of many zones of whole flows every whole sum can be made exactly.
    #[test]
    fn many_zones_come_near_too() {
        let flows: Vec<f64> = (0..40).map(|n| f64::from(1 + n * 7 % 13)).collect();
        let total: f64 = flows.iter().sum();
        for share in [0.02, 0.1, 0.25, 0.333, 0.5, 0.75, 0.9, 1.0] {
            let wanted = (share * total).round();
            let open = exchanged(&flows, wanted, 1e-9, 1);
            let sum: f64 = open.iter().map(|place| flows[*place]).sum();
            assert!((sum - wanted).abs() < 1e-9, "{share}: {sum} of {wanted}");
        }
        assert_eq!(exchanged(&flows, 0.0, 1e-9, 1).len(), 1);
        assert_eq!(exchanged(&flows, 0.0, 1e-9, 0).len(), 0);
    }
}
