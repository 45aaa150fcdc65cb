//! What is wished for of the record.

use crate::report::record::Paper;

/// What a record is written as.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RecordForm {
    /// Pages to print and sign.
    #[default]
    Pdf,
    /// A page for the browser.
    Page,
    /// Its tables as CSV, in a folder.
    Tables,
}

impl RecordForm {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Pdf, Self::Page, Self::Tables];

    /// What it is, in a few words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Pdf => "PDF, to print and sign",
            Self::Page => "HTML, a page for the browser",
            Self::Tables => "CSV, its tables in a folder",
        }
    }
}

/// A record that is wished for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct RecordWish {
    /// As what.
    pub form: RecordForm,
    /// On which paper, where it is printed.
    pub paper: Paper,
}

impl RecordWish {
    /// What it is called in a heading.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self.form {
            RecordForm::Pdf | RecordForm::Page => "the record",
            RecordForm::Tables => "the record's tables into a folder",
        }
    }

    /// The ending of its file; none for a folder.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self.form {
            RecordForm::Pdf => "pdf",
            RecordForm::Page => "html",
            RecordForm::Tables => "",
        }
    }

    /// The name suggested for it beside a project's file of a name.
    #[must_use]
    pub fn file_name(self, stem: &str) -> String {
        match self.form {
            RecordForm::Pdf | RecordForm::Page => format!("{stem}-record.{}", self.ending()),
            RecordForm::Tables => format!("{stem}-tables"),
        }
    }
}
