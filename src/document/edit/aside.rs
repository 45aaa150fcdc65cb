//! A straight part of a pipe drawn to its side.

use super::course::{Place, corners, located, nearest_share, tidied};

/// The straight part of a course that lies nearest to a place, counted from its start.
#[must_use]
pub fn part_at(course: &[[f64; 2]], at: [f64; 2]) -> Option<usize> {
    let (share, _) = nearest_share(course, at)?;
    located(course, share).map(|(part, _)| part)
}

/// The corners of a course after one straight part was brought to a place at its side; both ends stay, so that a part at an
/// end gets a corner more. `None` if there is no such part.
#[must_use]
pub fn drawn_aside(course: &[[f64; 2]], part: usize, to: [f64; 2]) -> Option<Vec<[f64; 2]>> {
    let (a, b) = (*course.get(part)?, *course.get(part + 1)?);
    let is_level = (a[1] - b[1]).abs() <= (a[0] - b[0]).abs();
    let moved = |[x, y]: Place| if is_level { [x, to[1]] } else { [to[0], y] };
    let mut line: Vec<Place> = course[..part].to_vec();
    if part == 0 {
        line.push(a);
    }
    line.extend([moved(a), moved(b)]);
    if part + 2 == course.len() {
        line.push(b);
    }
    line.extend(&course[part + 2..]);
    Some(corners(&tidied(&line)))
}

#[cfg(test)]
mod tests {
    use super::{drawn_aside, part_at};

    #[test]
    fn a_part_at_an_end_gets_a_corner_and_a_part_between_slides() {
        let straight = [[0.0, 0.0], [10.0, 0.0]];
        assert_eq!(drawn_aside(&straight, 0, [5.0, 3.0]), Some(vec![[0.0, 3.0], [10.0, 3.0]]));
        let angled = [[0.0, 0.0], [4.0, 0.0], [4.0, 6.0], [10.0, 6.0]];
        assert_eq!(part_at(&angled, [4.3, 2.0]), Some(1));
        assert_eq!(drawn_aside(&angled, 1, [7.0, 2.0]), Some(vec![[7.0, 0.0], [7.0, 6.0]]));
        assert_eq!(drawn_aside(&angled, 1, [10.0, 2.0]), Some(vec![[10.0, 0.0]]));
        assert_eq!(drawn_aside(&angled, 3, [7.0, 2.0]), None);
    }
}
