//! The shape of the pages: their sizes, numbers and fonts, that none is empty, that nothing stands in the margins, that heads of tables
//! come again and no row is left alone.

use super::*;

/// Margins of the pages, mm: nothing stands beyond them but the foot below.
const SIDE: f64 = 17.0;
const TOP: f64 = 15.0;
/// Where the foot ends.
const FOOT: f64 = 8.0;
/// A dot of the drawn page, and a hairline's half width.
const DOT: f64 = 0.8;

/// Projects of all shapes, with names that are long.
fn projects() -> Vec<(String, Project)> {
    let mut all: Vec<(String, Project)> = SAMPLES.iter().map(|name| ((*name).to_owned(), sample(name))).collect();
    all.push(("forty zones".to_owned(), building(40, 6)));
    let mut long = sample("fernhollow-library");
    long.title =
        "A title that goes on and on until no line of any page can hold it, however wide it may be set".to_owned();
    for zone in long.zones.values_mut() {
        zone.name += " Donaudampfschifffahrtsgesellschaftskapitänskajütenschlüssel in the far corner of the building";
    }
    for scenario in &mut long.scenarios {
        scenario.name += " with a name that nobody would choose who had to write it by hand";
    }
    all.push(("long names".to_owned(), long));
    all.push(("blank".to_owned(), Project::blank()));
    all
}

#[test]
fn pages_are_numbered_filled_and_within_their_margins() {
    for (name, project) in projects() {
        for (size, told, [width, height]) in [
            (Size::A4, "595.276 x 841.89 pts (A4)", [210.0, 297.0]),
            (Size::Letter, "612 x 792 pts (letter)", [215.9, 279.4]),
        ] {
            let paper = Paper::new(&pdf(&project, &Units::si(), size));
            assert_eq!(paper.told("Page size"), told, "{name}");
            let count = paper.count();
            let pages = paper.pages();
            assert_eq!(pages.len(), count, "{name}");
            for (index, page) in pages.iter().enumerate() {
                let number = index + 1;
                let text = paper.text(Some(number));
                assert!(text.contains(&format!("page {number} of {count}")), "{name}, page {number}: {text}");
                assert!(text.contains(DATE) && text.contains(env!("CARGO_PKG_VERSION")), "{name}, page {number}");
                let ink = page.ink();
                // The foot alone is a line and a few words.
                let body = ink.iter().filter(|[_, y]| *y < height - 20.0).count();
                assert!(body > 400, "{name}, {told}, page {number} is all but empty: {body} dots");
                for [x, y] in ink {
                    let within =
                        (SIDE - DOT..=width - SIDE + DOT).contains(&x) && (TOP - DOT..=height - FOOT).contains(&y);
                    assert!(within, "{name}, {told}, page {number}: ink at {x:.1} mm, {y:.1} mm");
                }
            }
        }
    }
}

#[test]
fn fonts_are_embedded() {
    for name in SAMPLES {
        let fonts = set(&sample(name), &Units::si()).fonts();
        assert!(!fonts.is_empty(), "{name}");
        for (font, embedded) in fonts {
            assert!(embedded && font.contains("Inter"), "{name}: {font} is not embedded");
        }
    }
}

/// On every page that a long table reaches, its head stands above at least three rows.
#[test]
fn long_tables_keep_their_heads_and_leave_no_row_alone() {
    let paper = set(&building(40, 6), &Units::si());
    let mut rows = 0;
    for page in 1..=paper.count() {
        let text = paper.text(Some(page));
        // Rows of the table of zones end in how the zone stands, after six numbers; its head names the tolerance.
        let states = ["served", "starved", "overflowed"];
        let is_row = |line: &&str| {
            let line = line.trim();
            let numbers = line.split_whitespace().filter(|word| word.parse::<f64>().is_ok()).count();
            line.starts_with("Zone ") && numbers >= 6 && states.iter().any(|state| line.ends_with(state))
        };
        let on_page = text.lines().filter(is_row).count();
        if on_page > 0 {
            assert!(on_page >= 3, "{on_page} rows alone on page {page}:\n{text}");
            assert!(text.contains("Accepted") && text.contains("At least"), "no head on page {page}:\n{text}");
        }
        rows += on_page;
    }
    assert_eq!(rows, 40);
}
