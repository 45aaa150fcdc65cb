//! Tests: every entry is whole. What the figures come to is held against the engine in `tests/terms.rs`.

use super::{Entry, Formula, Measure, Term};
use std::collections::BTreeSet;

/// Words of a formula that are no symbols: functions, and what tells cases apart.
const NO_SYMBOLS: [&str; 15] =
    ["max", "min", "e", "where", "at", "full", "speed", "capped", "design", "flow", "as", "typed", "Σ", "set", "line"];

/// What could be a symbol: runs of letters with their indices and primes.
fn tokens(formula: &str) -> BTreeSet<String> {
    let is_part = |c: char| (c.is_alphanumeric() && !"²³".contains(c)) || "_′".contains(c);
    formula
        .split(|c: char| !is_part(c))
        .filter(|token| token.chars().any(char::is_alphabetic))
        .filter(|token| !NO_SYMBOLS.contains(token))
        .map(str::to_owned)
        .collect()
}

fn every() -> impl Iterator<Item = (Term, &'static Entry)> {
    Term::ALL.iter().map(|term| (*term, term.entry()))
}

#[test]
fn every_term_says_what_it_is_and_where_that_comes_from() {
    for (term, entry) in every() {
        assert!(!entry.name.is_empty(), "{term:?}");
        for text in [entry.text, entry.source] {
            assert!(text.len() > 10 && text.ends_with('.'), "{term:?}: {text}");
            assert!(!text.contains("  "), "{term:?}: {text}");
        }
        let sentences = entry.text.matches(". ").count() + 1;
        assert!(sentences <= 3, "{term:?} takes {sentences} sentences");
        if let Formula::None(why) = entry.formula {
            assert!(why.ends_with('.'), "{term:?}: {why}");
            assert!(entry.symbols.is_empty(), "{term:?} explains symbols of no formula");
        }
    }
}

#[test]
fn every_symbol_of_a_formula_is_explained_and_no_other() {
    for (term, entry) in every() {
        let Formula::Is(formula) = entry.formula else { continue };
        let found = tokens(formula);
        let told: BTreeSet<String> = entry.symbols.iter().map(|symbol| symbol.sign.to_owned()).collect();
        assert_eq!(found, told, "{term:?}: {formula}");
        assert_eq!(told.len(), entry.symbols.len(), "{term:?} explains a symbol twice");
    }
}

#[test]
fn a_symbol_means_one_thing_and_has_a_unit_or_is_plain() {
    let all: Vec<_> = every().flat_map(|(_, entry)| entry.symbols).collect();
    for symbol in &all {
        assert!(symbol.meaning.len() > 2, "{symbol:?}");
        if let Measure::In(unit) = symbol.measure {
            assert!(!unit.is_empty(), "{symbol:?}");
        }
        // The same sign stands for the same thing.
        let first = |words: &str| words.split([',', ':']).next().unwrap_or_default().to_owned();
        for other in all.iter().filter(|other| other.sign == symbol.sign) {
            assert_eq!(first(other.meaning), first(symbol.meaning));
        }
    }
}

#[test]
fn no_two_terms_have_one_name() {
    let names: BTreeSet<&str> = every().map(|(_, entry)| entry.name).collect();
    assert_eq!(names.len(), Term::ALL.len());
}
