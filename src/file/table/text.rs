//! A table's file as text: UTF-8, or UTF-16 where a spreadsheet saved "Unicode text", told by its first two bytes.

use super::error::TableError;
use crate::file::FileError;
use std::fs;
use std::io::Read;
use std::path::Path;

/// Most bytes of a table.
const MOST_BYTES: u64 = 4 << 20;

pub(super) fn read(path: &Path) -> Result<String, TableError> {
    let wrong = |source| TableError::File(FileError::read(path, source));
    let file = fs::File::open(path).map_err(wrong)?;
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(wrong)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(TableError::TooLarge(path.to_owned()));
    }
    decoded(bytes).ok_or_else(|| TableError::NotText(path.to_owned()))
}

fn decoded(bytes: Vec<u8>) -> Option<String> {
    let wide = |from: fn([u8; 2]) -> u16| {
        let pairs = bytes.get(2..)?.chunks(2).map(|pair| pair.try_into().ok().map(from));
        String::from_utf16(&pairs.collect::<Option<Vec<u16>>>()?).ok()
    };
    match bytes.as_slice() {
        [0xFF, 0xFE, ..] => wide(u16::from_le_bytes),
        [0xFE, 0xFF, ..] => wide(u16::from_be_bytes),
        _ => String::from_utf8(bytes).ok().filter(|text| !text.contains('\0')),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn utf_8_and_both_kinds_of_utf_16() {
        let text = "zone;ΔT (K)";
        assert_eq!(decoded(text.as_bytes().to_vec()).as_deref(), Some(text));
        let little = [0xFF, 0xFE].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes));
        assert_eq!(decoded(little.collect()).as_deref(), Some(text));
        let big = [0xFE, 0xFF].into_iter().chain(text.encode_utf16().flat_map(u16::to_be_bytes));
        assert_eq!(decoded(big.collect()).as_deref(), Some(text));
        assert_eq!(decoded(vec![0x66, 0xFC, 0x72]), None);
        assert_eq!(decoded(vec![0xFF, 0xFE, 0x41]), None);
    }
}
