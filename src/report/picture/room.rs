//! Room for labels in a frame: never on one another, and off the lines as long as there is a place beside them.

use super::labels::{Space, Taken};

/// Room in a frame.
#[derive(Clone, Debug)]
pub(super) struct Room {
    bounds: Space,
    taken: Taken,
    lines: Vec<[[f64; 2]; 2]>,
}

impl Room {
    /// An empty frame.
    pub(super) fn new(bounds: Space) -> Self {
        Self { bounds, taken: Taken::default(), lines: Vec::new() }
    }

    /// A line that labels should leave free.
    pub(super) fn line(&mut self, points: &[[f64; 2]]) {
        self.lines.extend(points.windows(2).map(|pair| [pair[0], pair[1]]));
    }

    /// A space that no label may touch.
    pub(super) fn take(&mut self, space: Space) {
        self.taken.take(space);
    }

    /// Takes the first of the places that meets nothing; where all meet a line, the first that meets no other label.
    pub(super) fn find(&mut self, places: &[Space]) -> Option<Space> {
        self.look(places, true)
    }

    /// Takes the first of the places that meets nothing.
    pub(super) fn find_clear(&mut self, places: &[Space]) -> Option<Space> {
        self.look(places, false)
    }

    /// Places for all, each list holding those of one from the best on: at the same number in every list if that can be, else each for
    /// itself; `None` where one finds no place that meets nothing.
    pub(super) fn find_all(&mut self, all: &[Vec<Space>]) -> Option<Vec<Space>> {
        let numbers = all.iter().map(Vec::len).min().unwrap_or(0);
        let alike = (0..numbers).map(|number| all.iter().map(|places| vec![places[number]]).collect());
        for wanted in alike.chain([all.to_vec()]) {
            let wanted: Vec<Vec<Space>> = wanted;
            let mut tried = self.clone();
            if let Some(found) = wanted.iter().map(|places| tried.find_clear(places)).collect() {
                *self = tried;
                return Some(found);
            }
        }
        None
    }

    fn look(&mut self, places: &[Space], may_cross: bool) -> Option<Space> {
        let [left, top, right, bottom] = self.bounds;
        let is_free = |at: &&Space| {
            at[0] >= left && at[1] >= top && at[2] <= right && at[3] <= bottom && self.taken.is_free(**at)
        };
        let meets_line = |at: &&Space| self.lines.iter().any(|line| meets(*line, **at));
        let found = places.iter().filter(is_free).find(|at| !meets_line(at));
        let found = found.or_else(|| places.iter().filter(|_| may_cross).find(is_free)).copied()?;
        self.taken.take(found);
        Some(found)
    }
}

/// Whether a stretch of a line meets a space (Liang and Barsky 1984).
fn meets([a, b]: [[f64; 2]; 2], space: Space) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for axis in [0, 1] {
        let (step, start) = (b[axis] - a[axis], a[axis]);
        let (low, high) = (space[axis] - start, space[axis + 2] - start);
        if step == 0.0 {
            if low > 0.0 || high < 0.0 {
                return false;
            }
            continue;
        }
        let (first, last) = (low / step, high / step);
        from = from.max(first.min(last));
        to = to.min(first.max(last));
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_belongs_together_stands_alike() {
        let mut room = Room::new([0.0, 0.0, 100.0, 100.0]);
        room.line(&[[0.0, 5.0], [8.0, 5.0]]);
        let places = |left: f64| vec![[left, 0.0, left + 8.0, 10.0], [left, 20.0, left + 8.0, 30.0]];
        let found = room.find_all(&[places(0.0), places(20.0)]).unwrap();
        assert_eq!(found, [places(0.0)[1], places(20.0)[1]]);
        assert_eq!(room.find_all(&[places(0.0), places(40.0)]), None);
        assert!(room.find_clear(&places(40.0)).is_some(), "nothing is taken in vain");
    }

    #[test]
    fn labels_keep_off_each_other_and_off_lines() {
        let mut room = Room::new([0.0, 0.0, 100.0, 100.0]);
        room.line(&[[0.0, 50.0], [100.0, 50.0]]);
        let on_line = [10.0, 45.0, 30.0, 55.0];
        let beside = [10.0, 30.0, 30.0, 40.0];
        assert_eq!(room.find(&[on_line, beside]), Some(beside));
        assert_eq!(room.find(&[[-1.0, 0.0, 5.0, 5.0], [25.0, 35.0, 35.0, 45.0], on_line]), Some(on_line));
        assert_eq!(room.find(&[on_line, beside]), None);
        let other = [40.0, 45.0, 60.0, 55.0];
        assert_eq!((room.find_clear(&[other]), room.find(&[other])), (None, Some(other)));
        assert!(
            !meets([[0.0, 0.0], [10.0, 10.0]], [5.0, 6.0, 5.5, 8.0])
                && meets([[0.0, 0.0], [9.0, 9.0]], [4.0, 3.0, 6.0, 5.0])
        );
    }
}
