//! What typst sees of the world: the template, the files of one record, and the two cuts of the typeface. Nothing else.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

/// How the pages are set.
const TEMPLATE: &str = include_str!("../../../../assets/record.typ");
/// The cuts of the typeface.
const CUTS: [&[u8]; 2] = [
    include_bytes!("../../../../assets/fonts/Inter-Medium.otf"),
    include_bytes!("../../../../assets/fonts/Inter-SemiBold.otf"),
];

/// The same for every record: typst's library, and the typeface.
struct Shop {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

static SHOP: LazyLock<Shop> = LazyLock::new(|| {
    let fonts: Vec<Font> = CUTS.iter().flat_map(|cut| Font::iter(Bytes::new(*cut))).collect();
    let book = LazyHash::new(FontBook::from_fonts(&fonts));
    Shop { library: LazyHash::new(Library::default()), book, fonts }
});

/// The template with the files of one record.
pub(super) struct Desk {
    template: Source,
    files: BTreeMap<String, Bytes>,
}

impl Desk {
    /// Lays the files out, by their names.
    pub(super) fn new(files: BTreeMap<String, Vec<u8>>) -> Option<Self> {
        let path = VirtualPath::new("record.typ").ok()?;
        let id = RootedPath::new(VirtualRoot::Project, path).intern();
        let files = files.into_iter().map(|(name, bytes)| (name, Bytes::new(bytes))).collect();
        Some(Self { template: Source::new(id, TEMPLATE.to_owned()), files })
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHOP.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &SHOP.book
    }

    fn main(&self) -> FileId {
        self.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.template.id() { Ok(self.template.clone()) } else { Err(FileError::NotSource) }
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.vpath().get_without_slash();
        self.files.get(name).cloned().ok_or_else(|| FileError::NotFound(PathBuf::from(name)))
    }

    fn font(&self, index: usize) -> Option<Font> {
        SHOP.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
