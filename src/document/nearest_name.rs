//! The nearest name: what a person may have meant by a name that nothing has. File and command line ask it alike.

/// Letters beyond which a name is not compared: the work grows with their product.
const LONGEST: usize = 200;

/// The known name that differs least, if it differs by one letter or a third of its letters at most, or holds the wanted word.
/// Capitals do not count; of several that differ alike it is the first.
#[must_use]
pub fn nearest_name<'a>(wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let lower = wanted.to_lowercase();
    let wanted: Vec<char> = lower.chars().collect();
    if wanted.len() > LONGEST {
        return None;
    }
    let off = |name: &str| {
        let name = name.to_lowercase();
        if wanted.len() >= 3 && name.contains(&lower) {
            return Some(1);
        }
        let name: Vec<char> = name.chars().take(LONGEST + 1).collect();
        let off = difference(&wanted, &name);
        let most = (wanted.len().max(name.len()) / 3).max(1);
        (off <= most && off < name.len()).then_some(off)
    };
    known.into_iter().filter_map(|name| Some((off(name)?, name))).min_by_key(|(off, _)| *off).map(|(_, name)| name)
}

/// How many letters must be put in, taken out, replaced or swapped with their neighbour (optimal string alignment distance,
/// textbook).
fn difference(a: &[char], b: &[char]) -> usize {
    let mut before_last: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut least = (last[j] + usize::from(x != y)).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                least = least.min(before_last[j - 1] + 1);
            }
            row.push(least);
        }
        before_last = std::mem::replace(&mut last, row);
    }
    last[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn differences_count_letters() {
        for (a, b, off) in [("", "abc", 3), ("kitten", "sitting", 3), ("slove", "solve", 1), ("büro", "buro", 1)] {
            let [x, y] = [a, b].map(|text| text.chars().collect::<Vec<char>>());
            assert_eq!(difference(&x, &y), off, "{a} {b}");
        }
    }

    #[test]
    fn a_slip_is_understood_and_another_word_is_not() {
        let known = ["Office radiators", "T1", "T2", "Floor"];
        for (wanted, found) in [
            ("Ofice radiator", Some("Office radiators")),
            ("OFFICE", Some("Office radiators")),
            ("t9", Some("T1")),
            ("x", None),
            ("Door", None),
            ("", None),
        ] {
            assert_eq!(nearest_name(wanted, known), found, "{wanted}");
        }
        assert_eq!(nearest_name(&"a".repeat(100_000), known), None);
    }
}
