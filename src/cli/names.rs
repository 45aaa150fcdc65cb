//! Names that a person types: found exactly, or without regard to capitals, or answered with the nearest there is.

use super::failure::Failure;
use crate::document::nearest_name;

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
    let hint = match nearest_name(wanted, all.iter().map(|(name, _)| *name)) {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_found_guessed_or_listed() {
        let all = [("Office radiators", 1), ("Children's floor", 2)];
        assert_eq!(named("zone", "office RADIATORS", &all).unwrap(), 1);
        let guess = named("zone", "Ofice radiator", &all).unwrap_err().to_string();
        assert_eq!(guess, "there is no zone named “Ofice radiator”; did you mean “Office radiators”?");
        let list = named("zone", "Kitchen", &all).unwrap_err().to_string();
        assert!(list.ends_with("there is “Office radiators”, “Children's floor”"), "{list}");
        let none: [(&str, i32); 0] = [];
        assert!(named("scenario", "x", &none).unwrap_err().to_string().ends_with("the project has no scenario"));
    }
}
