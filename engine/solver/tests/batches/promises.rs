//! The same bits whatever the width, the threads and the neighbours; memory that does not grow;
//! a wish to stop that is heard.

use crate::build::*;
use fishplate_solver::Cancel;
use fishplate_solver::batch::{BatchError, Effort, Width};
use std::sync::atomic::{AtomicUsize, Ordering};

#[test]
fn one_lane_and_many_give_the_same_bits() {
    let mut lots = Lots(5);
    let model = tower(3, 8, &mut lots);
    let values = numbers(21, &mut lots);
    let batch = batch_of(&model);
    assert_eq!(bits(&solve(&batch, &values, ONE)), bits(&solve(&batch, &values, SINGLE)));
}

#[test]
fn threads_change_no_bit() {
    let mut lots = Lots(6);
    let model = tower(2, 7, &mut lots);
    let values = numbers(333, &mut lots);
    let batch = batch_of(&model);
    let one = bits(&solve(&batch, &values, ONE));
    for threads in [2, 4] {
        let effort = Effort { threads, width: Width::Widest };
        assert_eq!(bits(&solve(&batch, &values, effort)), one);
    }
}

#[test]
fn neighbours_and_place_change_no_bit() {
    let mut lots = Lots(8);
    let model = tower(2, 5, &mut lots);
    let values = numbers(19, &mut lots);
    let batch = batch_of(&model);
    let together = solve(&batch, &values, ONE);
    let width = batch.numbers_per_design();
    for (design, own) in values.chunks_exact(width).enumerate() {
        let alone = solve(&batch, own, ONE);
        assert_eq!(alone.worst_stress, together.worst_stress[5 * design..5 * (design + 1)]);
        assert_eq!(alone.judged[0], together.judged[design]);
    }
}

#[test]
fn a_worker_takes_its_memory_once() {
    let mut lots = Lots(9);
    let model = tower(5, 12, &mut lots);
    let batch = batch_of(&model);
    let used = [64, 1024].map(|designs| {
        let values = numbers(designs, &mut lots);
        allocation_counter::measure(|| {
            let answer = solve(&batch, &values, ONE);
            assert!(answer.judged.iter().all(|j| !j.alone));
        })
    });
    assert_eq!(used[0].count_total, used[1].count_total);
}

/// A space frame of 600 free movements, 12 load cases: what a worker keeps beside its answers.
#[test]
fn a_worker_keeps_two_megabytes_at_most() {
    let mut lots = Lots(10);
    let model = tower(25, 12, &mut lots);
    let batch = batch_of(&model);
    let values = numbers(8, &mut lots);
    let mut answers = 0;
    let used = allocation_counter::measure(|| {
        let answer = solve(&batch, &values, ONE);
        answers = 8
            * (answer.worst_stress.len() * 3
                + answer.displacements.len()
                + answer.end_forces.len()
                + answer.judged.len() * 3);
    });
    let kept = used.bytes_max as usize - answers;
    assert!(kept <= 2 * 1024 * 1024, "{kept} bytes");
}

/// Stops when asked for the third time.
struct Impatient(AtomicUsize);

impl Cancel for Impatient {
    fn cancelled(&self) -> bool {
        self.0.fetch_add(1, Ordering::Relaxed) >= 2
    }
}

#[test]
fn a_wish_to_stop_ends_the_work() {
    let mut lots = Lots(12);
    let model = tower(1, 1, &mut lots);
    let batch = batch_of(&model);
    let values = numbers(640, &mut lots);
    let impatient = Impatient(AtomicUsize::new(0));
    assert_eq!(batch.solve(&values, ONE, &impatient), Err(BatchError::Cancelled));
    assert_eq!(impatient.0.into_inner(), 3, "asked between pieces, no longer once stopped");
}
