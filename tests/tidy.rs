//! Keeps the house as `src/lib.rs` maps it: what each room may import, that every file says what it is, that none grows out of
//! hand, that nothing outside tests can panic and that only the command line prints.
//!
//! The rules of the rooms are read from the table in `src/lib.rs`, so that map and rule cannot part.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Most lines of a file.
const MOST_LINES: usize = 400;

/// What each room of the engine may import from its neighbours: units → fluid → links and pump → network.
const ENGINE: [(&str, &[&str]); 6] = [
    ("pipes", &[]),
    ("units", &[]),
    ("fluid", &["units"]),
    ("links", &["units", "fluid"]),
    ("pump", &["units", "fluid"]),
    ("network", &["units", "fluid", "links", "pump"]),
];

/// A source file.
struct Source {
    /// Path below `src`.
    name: String,
    /// The whole text.
    text: String,
    /// The text without comment lines.
    code: String,
    /// `code` up to its tests; empty for a file that is only compiled for tests.
    shipped: String,
}

impl Source {
    /// The room it lies in: the first part of its path.
    fn room(&self) -> &str {
        self.name.split('/').next().unwrap_or_default().trim_end_matches(".rs")
    }
}

fn sources() -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    collect(&root, &mut paths);
    paths.sort();
    let mut all: Vec<Source> = paths.iter().map(|path| read(&root, path)).collect();
    // `#[cfg(test)] mod sketch;` makes a whole file a test, and the files in its folder.
    let mut only_tests: BTreeSet<String> = BTreeSet::new();
    for source in &all {
        let folder = source.name.rsplit_once('/').map_or("", |(folder, _)| folder);
        let lines: Vec<&str> = source.code.lines().map(str::trim).collect();
        for pair in lines.windows(2).filter(|pair| pair[0] == "#[cfg(test)]") {
            if let Some(module) = pair[1].strip_prefix("mod ").and_then(|rest| rest.strip_suffix(';')) {
                only_tests.insert(format!("{folder}/{module}.rs"));
                let inside = format!("{folder}/{module}/");
                only_tests.extend(all.iter().filter(|s| s.name.starts_with(&inside)).map(|s| s.name.clone()));
            }
        }
    }
    for source in &mut all {
        if only_tests.contains(&source.name) {
            source.shipped.clear();
        }
    }
    all
}

fn collect(folder: &Path, paths: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(&path, paths);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            paths.push(path);
        }
    }
}

fn read(root: &Path, path: &Path) -> Source {
    let text = fs::read_to_string(path).unwrap();
    let parts = path.strip_prefix(root).unwrap().components();
    let name = parts.map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/");
    let code: String =
        text.lines().filter(|line| !line.trim_start().starts_with("//")).flat_map(|line| [line, "\n"]).collect();
    let shipped = code.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default().to_owned();
    Source { name, text, code, shipped }
}

/// Words of a code: runs of letters, digits and underscores.
fn words(code: &str) -> impl Iterator<Item = &str> {
    code.split(|character: char| !(character.is_alphanumeric() || character == '_'))
}

/// What stands behind every `crate::` in a code, as first and second part; a list in braces counts as several.
fn imports(code: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    for rest in code.split("crate::").skip(1) {
        for first in parts(rest) {
            let (room, inside) = first.split_once("::").unwrap_or((first.as_str(), ""));
            let seconds = parts(inside);
            let word = |text: &str| words(text).next().unwrap_or_default().to_owned();
            if seconds.is_empty() {
                found.push((word(room), String::new()));
            }
            found.extend(seconds.iter().map(|second| (word(room), word(second))));
        }
    }
    found
}

/// The items of `{a, b::{c, d}}` at its outer level; a text without braces is one item up to the end of its path.
fn parts(text: &str) -> Vec<String> {
    let Some(list) = text.strip_prefix('{') else {
        let mut depth = 0_usize;
        let ends = |c: char| {
            depth = if c == '{' { depth + 1 } else { depth - usize::from(c == '}' && depth > 0) };
            depth == 0 && !(c.is_alphanumeric() || "_:}".contains(c))
        };
        let end = text.find(ends).unwrap_or(text.len());
        return Some(text[..end].to_owned()).filter(|path| !path.is_empty()).into_iter().collect();
    };
    let mut items = vec![String::new()];
    let mut depth = 0_usize;
    for character in list.chars() {
        match character {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => items.push(String::new()),
            _ => {}
        }
        if let Some(item) = items.last_mut().filter(|_| character != ',' || depth > 0) {
            item.push(character);
        }
    }
    items.iter().map(|item| item.trim().to_owned()).filter(|item| !item.is_empty()).collect()
}

/// The table in `src/lib.rs`: each room with the rooms it may import.
fn table() -> BTreeMap<String, BTreeSet<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs");
    let text = fs::read_to_string(root).unwrap();
    let rows = text.lines().filter_map(|line| line.strip_prefix("//! | ")).filter(|row| row.contains('`'));
    let rows: Vec<[&str; 2]> = rows
        .map(|row| {
            let cells: Vec<&str> = row.trim_end_matches([' ', '|']).split('|').map(str::trim).collect();
            [cells[0].trim_matches(['[', ']', '`']), cells[2]]
        })
        .collect();
    let rooms: BTreeSet<&str> = rows.iter().map(|row| row[0]).collect();
    let mut allowed = BTreeMap::new();
    for (index, [room, may]) in rows.iter().enumerate() {
        let mut here: BTreeSet<String> = BTreeSet::from([(*room).to_owned()]);
        match may.strip_prefix("all above") {
            Some(but) => {
                let above = rows[..index].iter().map(|row| row[0]);
                here.extend(above.filter(|other| !words(but).any(|word| word == *other)).map(str::to_owned));
            }
            None => here.extend(words(may).filter(|word| rooms.contains(word)).map(str::to_owned)),
        }
        allowed.insert((*room).to_owned(), here);
    }
    allowed
}

/// Stops the test with all findings at once.
#[track_caller]
fn none(findings: Vec<String>) {
    assert!(findings.is_empty(), "\n{}\n", findings.join("\n"));
}

#[test]
fn the_table_names_every_room() {
    let table = table();
    let rooms: BTreeSet<String> =
        sources().iter().filter(|s| s.name.contains('/')).map(|source| source.room().to_owned()).collect();
    assert_eq!(rooms, table.keys().cloned().collect());
    assert_eq!(table["engine"], BTreeSet::from(["engine".to_owned()]));
    assert!(!table["app"].contains("cli") && table["app"].contains("study"));
    assert!(!table["problems"].contains("study"));
}

#[test]
fn rooms_import_only_what_the_table_allows() {
    let table = table();
    let mut findings = Vec::new();
    for source in sources() {
        let Some(allowed) = table.get(source.room()) else { continue };
        for (room, _) in imports(&source.code) {
            if !allowed.contains(&room) {
                findings.push(format!("{} imports {room}; allowed are {allowed:?}", source.name));
            }
        }
        // As many steps up as the file lies deep would reach another room past the table.
        let depth = source.name.trim_end_matches("/mod.rs").matches('/').count() + 1;
        if source.shipped.contains(&"super::".repeat(depth)) {
            findings.push(format!("{} climbs out of its room with super::", source.name));
        }
    }
    none(findings);
}

#[test]
fn the_engine_builds_in_one_direction() {
    let order: BTreeMap<&str, &[&str]> = ENGINE.into_iter().collect();
    let mut findings = Vec::new();
    for source in sources().iter().filter(|source| source.name.starts_with("engine/")) {
        let Some(own) = source.name.split('/').nth(1).filter(|part| *part != "mod.rs") else { continue };
        let Some(allowed) = order.get(own) else {
            findings.push(format!("{}: the engine's order does not name {own}", source.name));
            continue;
        };
        for (_, inner) in imports(&source.code) {
            let is_constant = inner.chars().all(|c| c.is_uppercase() || c.is_ascii_digit() || c == '_');
            if inner != own && !is_constant && !allowed.contains(&inner.as_str()) {
                findings.push(format!("{} imports engine::{inner}", source.name));
            }
        }
    }
    none(findings);
}

#[test]
fn only_the_window_names_its_toolkit() {
    let mut findings = Vec::new();
    for source in sources().iter().filter(|source| !["app", "lib"].contains(&source.room())) {
        for word in words(&source.code) {
            if ["egui", "eframe", "rfd"].contains(&word) || word.starts_with("egui_") {
                findings.push(format!("{} names {word}", source.name));
            }
        }
    }
    none(findings);
}

#[test]
fn every_file_says_what_it_is_and_stays_short() {
    let mut findings = Vec::new();
    for source in sources() {
        let lines = source.text.lines().count();
        if !source.text.starts_with("//! ") {
            findings.push(format!("{} does not open with //!", source.name));
        }
        if lines > MOST_LINES {
            findings.push(format!("{} has {lines} lines, more than {MOST_LINES}", source.name));
        }
    }
    none(findings);
}

#[test]
fn nothing_outside_tests_panics_on_purpose_and_only_the_command_line_prints() {
    let panics = [".unwrap()", ".expect(", "panic!", "todo!", "unimplemented!", "unreachable!", ".unwrap_unchecked("];
    let prints = ["println!", "print!", "dbg!", "io::stdout", "io::stderr"];
    let mut findings = Vec::new();
    for source in sources() {
        let may_print = source.room() == "cli";
        for word in panics.iter().chain(prints.iter().filter(|_| !may_print)) {
            if source.shipped.contains(word) {
                findings.push(format!("{} holds {word}", source.name));
            }
        }
    }
    none(findings);
}

/// Paths that a page names: targets of its links, and code that ends like a file of ours and has a folder in front.
fn paths_in(page: &str) -> Vec<String> {
    let links = page.split("](").skip(1).filter_map(|rest| rest.split_once(')')).map(|(target, _)| target);
    let links = links.map(|target| target.split(['#', ' ']).next().unwrap_or_default());
    let links = links.filter(|target| !target.is_empty() && !target.contains("://") && !target.starts_with("mailto:"));
    let code = page.split('`').skip(1).step_by(2).flat_map(str::split_whitespace);
    let code = code.filter(|word| {
        let (folder, name) = word.rsplit_once('/').unwrap_or_default();
        !folder.is_empty() && [".rs", ".ron", ".md", ".png", ".txt"].iter().any(|end| name.ends_with(end))
    });
    links.chain(code).map(str::to_owned).collect()
}

#[test]
fn pages_name_only_files_that_are_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut findings = Vec::new();
    for page in ["README.md", "DEVELOPERS.md"] {
        for path in paths_in(&fs::read_to_string(root.join(page)).unwrap()) {
            // Rooms are named as they lie in `src`.
            if !root.join(&path).exists() && !root.join("src").join(&path).exists() {
                findings.push(format!("{page} names {path}, which is not there"));
            }
        }
    }
    none(findings);
}

#[test]
fn the_reader_of_pages_understands_links_and_code() {
    let page = "![a](b/c.png) [d](https://e.org) [f](g.md#h) [i](#j)\n`cargo run -- k/l.ron` `m/n` `o.rs` `p/q.rs`";
    assert_eq!(paths_in(page), ["b/c.png", "g.md", "k/l.ron", "p/q.rs"]);
}

#[test]
fn the_reader_of_imports_understands_lists() {
    let code =
        "use crate::engine::{units::{Quantity, Units}, GRAVITY};\nlet x = crate::study::Study::new(crate::file);";
    let found: Vec<String> = imports(code).iter().map(|(a, b)| format!("{a}/{b}")).collect();
    assert_eq!(found, ["engine/units", "engine/GRAVITY", "study/Study", "file/"]);
    let found: Vec<String> = imports("use crate::{cli, document::{Zone}};").into_iter().map(|(a, _)| a).collect();
    assert_eq!(found, ["cli", "document"]);
}
