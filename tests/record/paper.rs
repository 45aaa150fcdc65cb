//! A PDF as other programs see it: the readers of the Poppler library (poppler-utils) tell its text, fonts and pages, and draw them.

use std::path::PathBuf;
use std::process::Command;
use tempfile::TempDir;

/// A PDF in a folder of its own.
pub struct Paper {
    folder: TempDir,
}

/// A page as it is drawn, from black (0) to white (255).
pub struct Page {
    pub width: usize,
    pub height: usize,
    grey: Vec<u8>,
}

/// Dots to an inch.
pub const DPI: f64 = 50.0;
/// What is darker is ink; the pale ground of pictures is not.
const INK: u8 = 235;

impl Paper {
    pub fn new(pdf: &[u8]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("record.pdf"), pdf).unwrap();
        Self { folder }
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("record.pdf")
    }

    fn run(&self, program: &str, before: &[&str], after: &[&str]) -> String {
        let output = Command::new(program).args(before).arg(self.path()).args(after).output();
        let output = output.unwrap_or_else(|error| {
            panic!("{program} could not be run: {error}; `.ci/packages test` installs poppler-utils")
        });
        assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    /// The text of a page, line by line as it stands, or of all pages.
    pub fn text(&self, page: Option<usize>) -> String {
        let number = page.map(|page| page.to_string());
        let mut options = vec!["-layout", "-enc", "UTF-8"];
        if let Some(number) = &number {
            options.extend(["-f", number, "-l", number]);
        }
        // No-break spaces are spaces to a reader.
        self.run("pdftotext", &options, &["-"]).replace('\u{a0}', " ")
    }

    /// The same without regard to where lines end.
    pub fn words(&self) -> String {
        self.text(None).split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// What is told of it under a name.
    pub fn told(&self, name: &str) -> String {
        let all = self.run("pdfinfo", &[], &[]);
        let line = all.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(':'));
        line.unwrap_or_else(|| panic!("no {name} in: {all}")).trim().to_owned()
    }

    pub fn count(&self) -> usize {
        self.told("Pages").parse().unwrap()
    }

    /// Each font with whether it is embedded.
    pub fn fonts(&self) -> Vec<(String, bool)> {
        let all = self.run("pdffonts", &[], &[]);
        let line = |line: &str| {
            let words: Vec<&str> = line.split_whitespace().collect();
            // Counted from the end, for names of types hold spaces: emb sub uni object ID.
            (words[0].to_owned(), words[words.len() - 5] == "yes")
        };
        all.lines().skip(2).map(line).collect()
    }

    /// All pages as they are drawn.
    pub fn pages(&self) -> Vec<Page> {
        let to = self.folder.path().join("page");
        self.run("pdftoppm", &["-r", &DPI.to_string(), "-gray"], &[to.to_str().unwrap()]);
        let mut files: Vec<PathBuf> =
            std::fs::read_dir(self.folder.path()).unwrap().map(|entry| entry.unwrap().path()).collect();
        files.retain(|file| file.extension().is_some_and(|extension| extension == "pgm"));
        files.sort();
        files.iter().map(|file| Page::read(&std::fs::read(file).unwrap())).collect()
    }
}

impl Page {
    /// A portable graymap: "P5", width, height, 255, then a byte a dot.
    fn read(bytes: &[u8]) -> Self {
        let mut at = 0;
        let mut word = || {
            let start = at;
            while !bytes[at].is_ascii_whitespace() {
                at += 1;
            }
            at += 1;
            String::from_utf8(bytes[start..at - 1].to_vec()).unwrap()
        };
        assert_eq!(word(), "P5");
        let [width, height, white] = [word(), word(), word()].map(|number| number.parse::<usize>().unwrap());
        assert_eq!(white, 255);
        Self { width, height, grey: bytes[at..].to_vec() }
    }

    /// The dots with ink, from the upper left corner, in millimetres.
    pub fn ink(&self) -> Vec<[f64; 2]> {
        assert_eq!(self.grey.len(), self.width * self.height);
        let place = |index: usize| [index % self.width, index / self.width].map(|dot| (dot as f64 + 0.5) * 25.4 / DPI);
        let dark = self.grey.iter().enumerate().filter(|(_, grey)| **grey < INK);
        dark.map(|(index, _)| place(index)).collect()
    }
}
