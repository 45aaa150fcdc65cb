//! Names of circulators that mislead at the pump: two that read alike on a label, and one of several that is still called as it
//! came onto the sheet.

use super::drawing::Drawing;
use super::register::{Doubles, Mark};
use super::{Check, Severity};
use crate::document::{ComponentChoice, ComponentKind};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    for (id, first) in Doubles::of(drawing.project).later(Mark::Name) {
        found.push(drawing.at(Severity::Warning, id, "Names that read alike").says(
            format!("Its name differs from that of {} by blanks or capitals alone.", drawing.name(first)),
            "On the labels at the pumps the two are the same, and one is taken for the other.",
            "Give one another name, and write it down at the pump.",
        ));
    }
    if drawing.project.pumps().count() < 2 {
        return;
    }
    for (id, component) in &drawing.project.components {
        if matches!(component.kind, ComponentKind::Pump(_)) && is_as_it_came(&component.name) {
            found.push(drawing.at(Severity::Note, *id, "Name as it came").says(
                "It still has the name that the program gave it, and it is not the only circulator.",
                "",
                "Name it after what it serves, and write the name down at the pump.",
            ));
        }
    }
}

/// The trade's word alone or with a number.
fn is_as_it_came(name: &str) -> bool {
    let rest = name.trim().strip_prefix(ComponentChoice::Pump.word());
    rest.is_some_and(|rest| rest.trim_start().bytes().all(|byte| byte.is_ascii_digit()))
}

#[cfg(test)]
mod tests {
    use super::is_as_it_came;
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn names_that_only_a_program_tells_apart() {
        let mut sketch = Sketch::two_zones();
        sketch.pump("Flats North");
        sketch.pump("Flats South");
        assert!(titles(&sketch.project, "by blanks or capitals").is_empty());
        sketch.pump("flats  north");
        assert_eq!(titles(&sketch.project, "differs from that of Flats North by blanks or capitals"), ["flats  north"]);
        // A tee called so is no matter: nobody sets a tee.
        sketch.tee("flats south");
        assert_eq!(titles(&sketch.project, "by blanks or capitals"), ["flats  north"]);
    }

    #[test]
    fn a_name_as_it_came_is_told_among_several() {
        let mut sketch = Sketch::two_zones();
        assert!(titles(&sketch.project, "still has the name").is_empty());
        sketch.pump("Flats");
        assert_eq!(titles(&sketch.project, "still has the name"), ["Circulator"]);
        sketch.pump("Circulator 2");
        assert_eq!(titles(&sketch.project, "still has the name"), ["Circulator", "Circulator 2"]);
        assert!(!is_as_it_came("Circulator of flats") && !is_as_it_came("Circulator 2 b"));
    }
}
