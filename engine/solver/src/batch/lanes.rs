//! As many designs as a register holds, from their numbers to their answers.

use super::block::{
    self, Block, Read, SIDE, divide, divide_transposed, subtract_plain_products, subtract_products,
};
use super::element::{Stiffness, add_member, add_spring, hold, stiffness};
use super::num::Num;
use super::recovery::{Natural, movement, spring_forces};
use super::run::Piece;
use super::topology::FrameBatch;
use pulp::{NullaryFnOnce, Simd};

/// What a worker keeps from one group of designs to the next; its size hangs on the frame alone.
#[derive(Debug)]
pub(super) struct Scratch<S: Simd> {
    numbers: Vec<Num<S>>,
    blocks: Vec<Block<S>>,
    stiffness: Vec<Stiffness<S>>,
    /// By step: roots of the diagonal before elimination, and their inverses.
    roots: Vec<[[Num<S>; SIDE]; 2]>,
    /// Loads less what the members need at the nodes, in blocks like the right-hand sides.
    left: Vec<Block<S>>,
    /// By case: square of the largest stress, and which end that is.
    worst: Vec<[Num<S>; 2]>,
    /// By case: largest left over, and largest movement, both scaled.
    rest: Vec<[Num<S>; 2]>,
    smallest_pivot: Num<S>,
    /// Not a number where anything left over isn't.
    sum: Num<S>,
}

impl<S: Simd> Scratch<S> {
    pub(super) fn new(simd: S, batch: &FrameBatch) -> Self {
        let zero = Num::of(simd, 0.0);
        let nothing = [[zero; SIDE]; SIDE];
        let stiffness = Stiffness { natural: [zero; SIDE], stress: [zero; 4] };
        Scratch {
            numbers: batch.numbers.iter().map(|&number| Num::of(simd, number)).collect(),
            blocks: vec![nothing; batch.schedule.blocks],
            stiffness: vec![stiffness; batch.members.len()],
            roots: vec![[[zero; SIDE]; 2]; batch.schedule.steps.len()],
            left: vec![nothing; batch.loads.len()],
            worst: vec![[zero; 2]; batch.cases],
            rest: vec![[zero; 2]; batch.cases],
            smallest_pivot: zero,
            sum: zero,
        }
    }
}

/// The designs of a piece from `first` on, as many as there are lanes.
pub(super) struct Group<'a, 'p, S: Simd> {
    pub(super) simd: S,
    pub(super) batch: &'a FrameBatch,
    pub(super) scratch: &'a mut Scratch<S>,
    pub(super) piece: &'a mut Piece<'p>,
    pub(super) first: usize,
}

impl<S: Simd> NullaryFnOnce for Group<'_, '_, S> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let Group { simd, batch, scratch, piece, first } = self;
        load_numbers(batch, scratch, piece, first);
        assemble(simd, batch, scratch);
        eliminate(simd, batch, scratch);
        recover(simd, batch, scratch, piece, first);
        judge(simd, batch, scratch);
        tell(batch, scratch, piece, first);
    }
}

/// How many designs of the piece there are from `first` on, at most a register full.
#[inline(always)]
fn taken<S: Simd>(piece: &Piece<'_>, first: usize) -> usize {
    Ord::min(S::F64_LANES, piece.designs() - first)
}

/// Lanes beyond the last design repeat it.
#[inline(always)]
fn load_numbers<S: Simd>(
    batch: &FrameBatch,
    scratch: &mut Scratch<S>,
    piece: &Piece<'_>,
    first: usize,
) {
    let width = batch.slots.len();
    let last = piece.designs() - 1;
    for lane in 0..S::F64_LANES {
        let design = Ord::min(first + lane, last);
        let given = &piece.values[design * width..(design + 1) * width];
        for (&slot, &value) in batch.slots.iter().zip(given) {
            scratch.numbers[slot].lanes_mut()[lane] = value;
        }
    }
}

#[inline(always)]
fn assemble<S: Simd>(simd: S, batch: &FrameBatch, scratch: &mut Scratch<S>) {
    let zero = Num::of(simd, 0.0);
    let (matrix, loads) = scratch.blocks.split_at_mut(batch.schedule.first_load);
    matrix.fill([[zero; SIDE]; SIDE]);
    for ((block, left), given) in loads.iter_mut().zip(&mut scratch.left).zip(&batch.loads) {
        for c in 0..SIDE {
            for r in 0..SIDE {
                block[c][r] = Num::of(simd, given[c][r]);
                left[c][r] = block[c][r];
            }
        }
    }
    for (member, place) in batch.members.iter().zip(&mut scratch.stiffness) {
        *place = stiffness(member, &scratch.numbers);
        add_member(member, place, matrix);
    }
    for spring in &batch.springs {
        add_spring(spring, &scratch.numbers, matrix);
    }
    hold(batch, matrix, Num::of(simd, 1.0));
    for (step, [roots, inverses]) in batch.schedule.steps.iter().zip(&mut scratch.roots) {
        for i in 0..SIDE {
            roots[i] = matrix[step.diagonal.block][i][i].root();
            inverses[i] = Num::of(simd, 1.0) / roots[i];
        }
    }
}

/// Factors and solves.
#[inline(always)]
fn eliminate<S: Simd>(simd: S, batch: &FrameBatch, scratch: &mut Scratch<S>) {
    let schedule = &batch.schedule;
    let blocks = &mut scratch.blocks;
    let mut smallest = Num::of(simd, 1.0);
    for (step, [_, inverses]) in schedule.steps.iter().zip(&scratch.roots) {
        let target = &step.diagonal;
        let (before, rest) = blocks.split_at_mut(target.block);
        let from = Read { blocks: before, first: 0 };
        subtract_products(&mut rest[0], &schedule.pairs[target.pairs.clone()], from);
        block::factor(&mut rest[0], inverses, &mut smallest);
        for target in &schedule.below[step.below.clone()] {
            let (before, rest) = blocks.split_at_mut(target.block);
            let from = Read { blocks: before, first: 0 };
            subtract_products(&mut rest[0], &schedule.pairs[target.pairs.clone()], from);
            divide_transposed(&mut rest[0], &before[step.diagonal.block]);
        }
    }
    let (matrix, loads) = blocks.split_at_mut(schedule.first_load);
    let of_matrix = Read { blocks: matrix, first: 0 };
    let mut targets = schedule.back.iter();
    for step in schedule.steps.iter().rev() {
        for target in targets.by_ref().take(schedule.groups) {
            let place = target.block - schedule.first_load;
            let (before, after) = loads.split_at_mut(place + 1);
            let from = Read { blocks: after, first: target.block + 1 };
            let pairs = &schedule.pairs[target.pairs.clone()];
            subtract_plain_products(&mut before[place], pairs, from, of_matrix);
            divide(&mut before[place], &of_matrix.blocks[step.diagonal.block]);
        }
    }
    scratch.smallest_pivot = smallest;
}

/// Stress and forces of all members; takes what they need at the nodes off the loads.
#[inline(always)]
fn recover<S: Simd>(
    simd: S,
    batch: &FrameBatch,
    scratch: &mut Scratch<S>,
    piece: &mut Piece<'_>,
    first: usize,
) {
    let zero = Num::of(simd, 0.0);
    let schedule = &batch.schedule;
    let solved = &scratch.blocks;
    scratch.worst.fill([zero; 2]);
    for (index, (member, stiffness)) in batch.members.iter().zip(&scratch.stiffness).enumerate() {
        let [start, end] = member.at.steps;
        let codes = [Num::of(simd, 2.0 * index as f64), Num::of(simd, 2.0 * index as f64 + 1.0)];
        for group in 0..schedule.groups {
            let from = start.map(|step| schedule.load(step, group));
            let to = end.map(|step| schedule.load(step, group));
            let of_group = SIDE * group..Ord::min(SIDE * (group + 1), batch.cases);
            for (row, case) in of_group.enumerate() {
                let moved_from = movement(from.map(|block| &solved[block]), row, zero);
                let moved_to = movement(to.map(|block| &solved[block]), row, zero);
                let natural = Natural::of(member, stiffness, moved_from, moved_to);
                let squares = natural.stress(stiffness);
                let [mut top, mut place] = scratch.worst[case];
                for end in 0..2 {
                    place = squares[end].where_above(top, codes[end], place);
                    top = squares[end].where_above(top, squares[end], top);
                }
                scratch.worst[case] = [top, place];
                let (force, moment_from, moment_to) = natural.at_nodes(member);
                if let Some(block) = from {
                    let left = &mut scratch.left[block - schedule.first_load];
                    for i in 0..3 {
                        left[i][row] = left[i][row] + force[i];
                        left[3 + i][row] = left[3 + i][row] - moment_from[i];
                    }
                }
                if let Some(block) = to {
                    let left = &mut scratch.left[block - schedule.first_load];
                    for i in 0..3 {
                        left[i][row] = left[i][row] - force[i];
                        left[3 + i][row] = left[3 + i][row] - moment_to[i];
                    }
                }
                if batch.asked.end_forces {
                    let place = (case * batch.members.len() + index) * 2 * SIDE;
                    let each = batch.cases * batch.members.len() * 2 * SIDE;
                    let forces = natural.end_forces(member);
                    for lane in 0..taken::<S>(piece, first) {
                        let base = (first + lane) * each + place;
                        let told = &mut piece.end_forces[base..base + 2 * SIDE];
                        for (told, force) in told.iter_mut().zip(&forces) {
                            *told = force.lanes()[lane];
                        }
                    }
                }
            }
        }
    }
    for spring in &batch.springs {
        let [a, b] = spring.at.steps;
        for group in 0..schedule.groups {
            let blocks = [a.map(|s| schedule.load(s, group)), b.map(|s| schedule.load(s, group))];
            for row in 0..SIDE {
                let moved_a = movement(blocks[0].map(|block| &solved[block]), row, zero);
                let moved_b = movement(blocks[1].map(|block| &solved[block]), row, zero);
                let forces = spring_forces(spring, &scratch.numbers, moved_a, moved_b);
                for (block, force) in blocks.into_iter().zip(forces) {
                    let Some(block) = block else { continue };
                    let left = &mut scratch.left[block - schedule.first_load];
                    for i in 0..SIDE {
                        left[i][row] = left[i][row] - force[i];
                    }
                }
            }
        }
    }
}

/// Largest of what is left over and largest movement, case by case.
#[inline(always)]
fn judge<S: Simd>(simd: S, batch: &FrameBatch, scratch: &mut Scratch<S>) {
    let zero = Num::of(simd, 0.0);
    let schedule = &batch.schedule;
    let mut sum = zero;
    scratch.rest.fill([zero; 2]);
    for (step, held) in batch.held.iter().enumerate() {
        let [roots, inverses] = &scratch.roots[step];
        for group in 0..schedule.groups {
            let block = schedule.load(step, group);
            let (moved, left) =
                (&scratch.blocks[block], &scratch.left[block - schedule.first_load]);
            for i in 0..SIDE {
                if held[i] {
                    continue;
                }
                let cases = SIDE * group..Ord::min(SIDE * (group + 1), batch.cases);
                for (row, case) in cases.enumerate() {
                    let rest = left[i][row].size() * inverses[i];
                    let size = moved[i][row].size() * roots[i];
                    sum = sum + rest;
                    let [most_rest, most_size] = scratch.rest[case];
                    scratch.rest[case] = [
                        rest.where_above(most_rest, rest, most_rest),
                        size.where_above(most_size, size, most_size),
                    ];
                }
            }
        }
    }
    scratch.sum = sum;
}

/// Hands the answers out, lane by lane.
#[inline(always)]
fn tell<S: Simd>(batch: &FrameBatch, scratch: &Scratch<S>, piece: &mut Piece<'_>, first: usize) {
    let nodes = &batch.asked.displacements;
    for lane in 0..taken::<S>(piece, first) {
        let design = first + lane;
        let mut residual = if scratch.sum.lanes()[lane].is_nan() { f64::NAN } else { 0.0 };
        for [rest, size] in &scratch.rest {
            let (rest, size) = (rest.lanes()[lane], size.lanes()[lane]);
            // Nothing moves where nothing acts.
            let part = if rest > 0.0 { rest / size } else { 0.0 };
            residual = fishplate_quantity::algebra::larger(residual, part);
        }
        for (case, [square, place]) in scratch.worst.iter().enumerate() {
            let place = place.lanes()[lane] as usize;
            piece.tell_worst(design * batch.cases + case, square.lanes()[lane].sqrt(), place);
        }
        let each = batch.cases * nodes.len() * SIDE;
        let told = &mut piece.displacements[design * each..(design + 1) * each];
        let mut told = told.chunks_exact_mut(SIDE);
        for case in 0..batch.cases {
            for node in nodes {
                let Some(told) = told.next() else { continue };
                let Some(step) = batch.step_of[node.0] else { continue };
                let block = &scratch.blocks[batch.schedule.load(step, case / SIDE)];
                for (i, told) in told.iter_mut().enumerate() {
                    *told = block[i][case % SIDE].lanes()[lane];
                }
            }
        }
        piece.judge(design, residual, scratch.smallest_pivot.lanes()[lane]);
    }
}
