//! Names that a person types: found exactly, or without regard to capitals, or answered with the nearest there is.

use super::failure::Failure;

/// Most names that a hint lists.
const MOST_LISTED: usize = 8;

/// The thing of that name among all things of a kind.
pub(super) fn named<T: Copy>(what: &'static str, wanted: &str, all: &[(&str, T)]) -> Result<T, Failure> {
    let wanted = wanted.trim();
    if let Some((_, thing)) = all.iter().find(|(name, _)| *name == wanted) {
        return Ok(*thing);
    }
    let lower = wanted.to_lowercase();
    let mut alike = all.iter().filter(|(name, _)| name.to_lowercase() == lower);
    if let (Some((_, thing)), None) = (alike.next(), alike.next()) {
        return Ok(*thing);
    }
    let hint = match nearest(wanted, all.iter().map(|(name, _)| *name)) {
        Some(name) => format!("; did you mean “{name}”?"),
        None if all.is_empty() => format!(": the project has no {what}"),
        None => {
            let names: Vec<String> = all.iter().take(MOST_LISTED).map(|(name, _)| format!("“{name}”")).collect();
            let more = if all.len() > MOST_LISTED { " and others" } else { "" };
            format!("; there is {}{more}", names.join(", "))
        }
    };
    Err(Failure::Unknown { what, wanted: wanted.to_owned(), hint })
}

/// The name that differs least, if it differs by no more than a third of its letters or holds the wanted word.
pub(super) fn nearest<'a>(wanted: &str, all: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let wanted = wanted.to_lowercase();
    let length = wanted.chars().count();
    all.filter_map(|name| {
        let lower = name.to_lowercase();
        let off = difference(&wanted, &lower);
        let near = off <= (length.max(lower.chars().count()) / 3).max(1);
        let holds = length >= 3 && lower.contains(&wanted);
        (near || holds).then_some((if holds { 1 } else { off }, name))
    })
    .min_by_key(|(off, _)| *off)
    .map(|(_, name)| name)
}

/// How many letters must be put in, taken out, replaced or swapped with their neighbour (optimal string alignment distance,
/// textbook).
fn difference(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
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
            assert_eq!(difference(a, b), off, "{a} {b}");
        }
    }

    #[test]
    fn a_name_is_found_guessed_or_listed() {
        let all = [("Office radiators", 1), ("Children's floor", 2)];
        assert_eq!(named("zone", "office RADIATORS", &all).unwrap(), 1);
        let guess = named("zone", "Ofice radiator", &all).unwrap_err().to_string();
        assert_eq!(guess, "there is no zone named “Ofice radiator”; did you mean “Office radiators”?");
        let list = named("zone", "Kitchen", &all).unwrap_err().to_string();
        assert!(list.ends_with("there is “Office radiators”, “Children's floor”"), "{list}");
        assert_eq!(nearest("office", all.iter().map(|(name, _)| *name)), Some("Office radiators"));
        let none: [(&str, i32); 0] = [];
        assert!(named("scenario", "x", &none).unwrap_err().to_string().ends_with("the project has no scenario"));
    }
}
