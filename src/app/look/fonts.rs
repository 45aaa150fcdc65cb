//! The typeface: Inter, reduced, with figures of equal width (SIL Open Font License, see `assets/fonts`).

use egui::{FontData, FontDefinitions, FontFamily};
use std::sync::Arc;

/// Name of the strong family.
pub(super) const STRONG: &str = "strong";

/// Regular for the body, semi-bold for what stands out.
pub(super) fn definitions() -> FontDefinitions {
    let mut fonts = FontDefinitions::empty();
    let regular = FontData::from_static(include_bytes!("../../../assets/fonts/Inter-Medium.otf"));
    let strong = FontData::from_static(include_bytes!("../../../assets/fonts/Inter-SemiBold.otf"));
    fonts.font_data.insert("body".to_owned(), Arc::new(regular));
    fonts.font_data.insert(STRONG.to_owned(), Arc::new(strong));
    let body = vec!["body".to_owned()];
    fonts.families.insert(FontFamily::Proportional, body.clone());
    fonts.families.insert(FontFamily::Monospace, body.clone());
    fonts.families.insert(FontFamily::Name(STRONG.into()), vec![STRONG.to_owned(), "body".to_owned()]);
    fonts
}
