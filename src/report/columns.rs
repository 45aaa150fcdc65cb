//! Columns of plain text, aligned by the width that characters take on a screen.

/// Space between columns.
const GAP: &str = "  ";

/// Puts rows into columns: the first column to the left, numbers to the right, the last column to the left again. Every row
/// begins with `indent`.
pub(super) fn table(indent: &str, rows: &[Vec<String>]) -> String {
    let rows: Vec<Vec<String>> = rows.iter().map(|row| row.iter().map(|cell| plain(cell)).collect()).collect();
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns)
        .map(|column| rows.iter().filter_map(|row| row.get(column)).map(|cell| width(cell)).max().unwrap_or(0))
        .collect();
    let mut text = String::new();
    for row in &rows {
        let mut line = indent.to_owned();
        for (column, cell) in row.iter().enumerate() {
            let pad = " ".repeat(widths[column] - width(cell));
            let is_left = column == 0 || column + 1 == columns;
            let gap = if column == 0 { "" } else { GAP };
            line += gap;
            line += &if is_left { format!("{cell}{pad}") } else { format!("{pad}{cell}") };
        }
        text += line.trim_end();
        text.push('\n');
    }
    text
}

/// A text without line breaks and other control characters, which would break the columns or steer a terminal.
pub(super) fn plain(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// How many cells a text takes on a screen with characters of fixed width.
pub(super) fn width(text: &str) -> usize {
    text.chars().map(cells).sum()
}

/// Cells of one character: none for combining marks and joiners, two for the wide blocks of East Asian scripts and
/// pictographs, else one. Ranges after Unicode Standard Annex 11 (from memory, whole blocks).
fn cells(character: char) -> usize {
    match u32::from(character) {
        0x0300..=0x036F | 0x1AB0..=0x1AFF | 0x1DC0..=0x1DFF | 0x20D0..=0x20FF | 0xFE00..=0xFE0F | 0xFE20..=0xFE2F => 0,
        0x200B..=0x200F | 0x2060..=0x2064 | 0xFEFF => 0,
        0x1100..=0x115F | 0x2E80..=0x303E | 0x3041..=0xA4CF | 0xAC00..=0xD7A3 | 0xF900..=0xFAFF | 0xFE30..=0xFE6F => 2,
        0xFF00..=0xFF60 | 0xFFE0..=0xFFE6 | 0x1F300..=0x1F64F | 0x1F900..=0x1F9FF | 0x20000..=0x3FFFD => 2,
        _ => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_and_wide_characters_keep_the_columns() {
        let rows = [["Büro", "1", "a"], ["Bu\u{308}ro", "22", "b"], ["事務", "333", "c"], ["1\u{a0}m³/h", "4", "d"]];
        let rows: Vec<Vec<String>> = rows.iter().map(|row| row.iter().map(|s| (*s).to_owned()).collect()).collect();
        let text = table("", &rows);
        for (line, end) in text.lines().zip(["a", "b", "c", "d"]) {
            assert_eq!(width(line), 14, "{line}");
            assert!(line.ends_with(end));
        }
    }

    #[test]
    fn control_characters_do_not_reach_a_terminal() {
        assert_eq!(table("", &[vec!["a\u{1b}[31m\nb".to_owned(), "1".to_owned()]]), "a [31m b  1\n");
    }
}
