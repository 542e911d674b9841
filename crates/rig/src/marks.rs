//! Digests on the way: from which second on two runs differ.

use crate::rig::Rig;

/// Time between two marks [µs].
const EVERY: u64 = 1_000_000;
/// Most marks that are taken: an hour of them tells enough of a longer run.
const MOST: usize = 3600;

/// The digest of a run so far at each whole second, first that at 1 s.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Marks(Vec<u64>);

impl Marks {
    /// Looks at a run after a tick and takes its digest where a second is full.
    pub fn look(&mut self, rig: &Rig) {
        let taken = self.0.len();
        // Exact: no more than `MOST`.
        if taken < MOST && rig.time_us() >= (taken as u64 + 1) * EVERY {
            self.0.push(rig.digest());
        }
    }

    /// The marks, one for each whole second.
    #[must_use]
    pub fn list(&self) -> &[u64] {
        &self.0
    }

    /// Up to which second two runs are equal [s]; where one has fewer marks, up to its last.
    #[must_use]
    pub fn equal_up_to(&self, other: &[u64]) -> usize {
        self.0.iter().zip(other).take_while(|(a, b)| a == b).count()
    }
}

#[cfg(test)]
mod tests {
    use kickstill_robot::{View, demo};

    use super::*;
    use crate::event::Event;

    fn marks(kick_at: Option<u64>) -> Marks {
        let mut rig = Rig::new(demo("cobnut").unwrap(), View::Side, 1);
        let mut marks = Marks::default();
        while rig.time_us() < 4_500_000 {
            if Some(rig.time_us()) == kick_at {
                rig.apply(Event::Bump { impulse: 0.1 });
            }
            rig.tick();
            marks.look(&rig);
        }
        marks
    }

    #[test]
    fn one_for_each_second_and_equal_up_to_the_input_that_differs() {
        let quiet = marks(None);
        assert_eq!(quiet.list().len(), 4);
        assert_eq!(quiet.equal_up_to(marks(None).list()), 4);
        assert_eq!(quiet.equal_up_to(marks(Some(2_500_000)).list()), 2);
        assert_eq!(quiet.equal_up_to(&[]), 0);
    }
}
