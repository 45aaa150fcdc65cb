//! Text into cells, after RFC 4180 with any of three separators: the one that parts the heading row, tabs before semicolons
//! before commas. A cell in quotation marks may hold separators, line ends and doubled quotation marks.

use super::error::Faults;

/// A row with the number that the spreadsheet gives it.
pub(super) struct Row {
    pub(super) number: usize,
    pub(super) cells: Vec<String>,
}

/// The rows that hold anything.
pub(super) fn rows(text: &str, faults: &mut Faults) -> Vec<Row> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let heading = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let separator = ['\t', ';', ','].into_iter().find(|separator| outside_quotes(heading, *separator)).unwrap_or('\t');
    separated(text, separator, faults)
}

/// The rows that hold anything, their cells parted by a separator.
pub(super) fn separated(text: &str, separator: char, faults: &mut Faults) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut cells: Vec<String> = Vec::new();
    let mut cell = String::new();
    let (mut number, mut opened) = (1, None);
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if opened.is_some() && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if opened.is_some() => opened = None,
            // Elsewhere in a cell it is a sign for inch.
            '"' if cell.trim().is_empty() => {
                cell.clear();
                opened = Some(number);
            }
            '\r' if opened.is_none() && letters.peek() == Some(&'\n') => {}
            '\n' | '\r' if opened.is_none() => {
                cells.push(std::mem::take(&mut cell));
                rows.push(Row { number, cells: std::mem::take(&mut cells) });
                number += 1;
            }
            _ if letter == separator && opened.is_none() => cells.push(std::mem::take(&mut cell)),
            _ => cell.push(letter),
        }
    }
    cells.push(cell);
    rows.push(Row { number, cells });
    if let Some(row) = opened {
        faults.say(Some(row), None, "a quotation mark begins a cell here that has no end: close the cell with another");
    }
    for row in &mut rows {
        row.cells.iter_mut().for_each(|cell| *cell = plain(cell));
    }
    rows.retain(|row| row.cells.iter().any(|cell| !cell.is_empty()));
    rows
}

fn outside_quotes(line: &str, separator: char) -> bool {
    line.split('"').step_by(2).any(|part| part.contains(separator))
}

/// A cell in one line, without spaces around it.
fn plain(cell: &str) -> String {
    cell.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        rows(text, &mut Faults::default()).into_iter().map(|row| row.cells).collect()
    }

    #[test]
    fn three_separators_and_quotation_marks() {
        for text in ["a\tb\n1,5\t2;3", "a;b\r\n1,5;\"2;3\"", "a,b\n\"1,5\",2;3\n"] {
            assert_eq!(cells(text), [["a", "b"], ["1,5", "2;3"]], "{text}");
        }
        assert_eq!(cells("a;b\n\" say \"\"x\"\"\n twice\";3\""), [["a", "b"], ["say \"x\" twice", "3\""]]);
    }

    #[test]
    fn empty_rows_are_left_out_but_counted() {
        let found = rows("\u{feff}\na;b\n;;\n\n1;2\n", &mut Faults::default());
        assert_eq!(found.iter().map(|row| row.number).collect::<Vec<_>>(), [2, 5]);
    }
}
