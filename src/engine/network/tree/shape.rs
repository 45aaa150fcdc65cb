//! Whether a network is a tree in the sense of the trade: between the pump's two nodes nothing but chains in series and in
//! parallel, as in every two-pipe, reverse-free system of mains and branches. Found by merging: two chains between the same
//! nodes become one in parallel, two chains at a node where nothing else hangs become one in series, and what hangs on one node
//! alone carries no flow. If one chain between the pump's nodes is left, the order of merging is the tree (series-parallel
//! graphs: Valdes, Tarjan, Lawler, SIAM J. Comput. 11 (1982) 298; from memory). The work is proportional to the number of chains.

use super::super::chains::Chain;
use std::collections::HashMap;

/// A chain or what several were merged to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joined {
    pub(super) from: u32,
    pub(super) to: u32,
    pub(super) kind: Kind,
}

/// What a [`Joined`] is made of.
#[derive(Clone, Copy, Debug)]
pub(super) enum Kind {
    /// One chain.
    Chain(usize),
    /// Two in series, each with whether it is turned round.
    Series([(usize, bool); 2]),
    /// Two in parallel.
    Parallel([(usize, bool); 2]),
}

/// The tree of a network.
#[derive(Debug)]
pub(super) struct Shape {
    /// Chains first, by their index, then what they were merged to.
    pub(super) joined: Vec<Joined>,
    /// The one that is left.
    pub(super) root: usize,
}

struct Merging {
    joined: Vec<Joined>,
    alive: Vec<bool>,
    /// What leaves each node, with what has meanwhile been merged.
    leaving: Vec<Vec<usize>>,
    degree: Vec<u32>,
    between: HashMap<(u32, u32), usize>,
}

impl Merging {
    fn key(&self, index: usize) -> (u32, u32) {
        let Joined { from, to, .. } = self.joined[index];
        (from.min(to), from.max(to))
    }

    fn remove(&mut self, index: usize) {
        self.between.remove(&self.key(index));
        self.alive[index] = false;
        let Joined { from, to, .. } = self.joined[index];
        self.degree[from as usize] -= 1;
        self.degree[to as usize] -= 1;
    }

    fn push(&mut self, joined: Joined) -> usize {
        self.joined.push(joined);
        self.alive.push(true);
        self.joined.len() - 1
    }

    /// Enters a new one, in parallel with what already joins its nodes.
    fn enter(&mut self, index: usize) {
        let Joined { from, to, .. } = self.joined[index];
        let mut entered = index;
        if let Some(&other) = self.between.get(&self.key(index)) {
            self.remove(other);
            self.alive[index] = false;
            let beside = self.joined[other];
            let kind = Kind::Parallel([(other, false), (index, beside.from != from)]);
            entered = self.push(Joined { kind, ..beside });
        }
        self.between.insert(self.key(entered), entered);
        for node in [from, to] {
            self.leaving[node as usize].push(entered);
            self.degree[node as usize] += 1;
        }
    }

    /// Merges in series what meets at a node, or drops what ends there. Returns the nodes that lost something.
    fn dissolve(&mut self, node: u32) -> [Option<u32>; 2] {
        let leaving = std::mem::take(&mut self.leaving[node as usize]);
        let mut alive = leaving.into_iter().filter(|&index| self.alive[index]);
        let (first, second) = (alive.next(), alive.next());
        let other_end = |joined: Joined| if joined.from == node { joined.to } else { joined.from };
        match (first, second) {
            (Some(a), None) => {
                self.remove(a);
                [Some(other_end(self.joined[a])), None]
            }
            (Some(a), Some(b)) => {
                self.remove(a);
                self.remove(b);
                let (before, after) = (self.joined[a], self.joined[b]);
                let kind = Kind::Series([(a, before.to != node), (b, after.from != node)]);
                let (from, to) = (other_end(before), other_end(after));
                let new = self.push(Joined { from, to, kind });
                self.enter(new);
                [Some(from), Some(to)]
            }
            _ => [None, None],
        }
    }
}

impl Shape {
    /// Finds the tree between two nodes.
    pub(super) fn find(chains: &[Chain], nodes: usize, ends: [usize; 2]) -> Option<Self> {
        let joined: Vec<Joined> = chains
            .iter()
            .enumerate()
            .map(|(i, c)| Joined { from: c.from() as u32, to: c.to() as u32, kind: Kind::Chain(i) })
            .collect();
        let mut merging = Merging {
            alive: vec![true; joined.len()],
            joined,
            leaving: vec![Vec::new(); nodes],
            degree: vec![0; nodes],
            between: HashMap::with_capacity(chains.len()),
        };
        for (index, chain) in chains.iter().enumerate() {
            // A ring on one node moves nothing.
            if chain.from() != chain.to() {
                merging.enter(index);
            }
        }
        let inner = |merging: &Merging, node: usize| merging.degree[node] <= 2 && !ends.contains(&node);
        let mut waiting: Vec<usize> = (0..nodes).filter(|&node| inner(&merging, node)).collect();
        while let Some(node) = waiting.pop() {
            if merging.degree[node] == 0 {
                continue;
            }
            for next in merging.dissolve(node as u32).into_iter().flatten() {
                if inner(&merging, next as usize) {
                    waiting.push(next as usize);
                }
            }
        }
        let [a, b] = ends.map(|node| node as u32);
        let root = *merging.between.get(&(a.min(b), a.max(b)))?;
        (merging.between.len() == 1).then_some(Self { joined: merging.joined, root })
    }
}
