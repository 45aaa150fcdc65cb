//! What picture is wished for.

/// What is pictured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PictureOf {
    /// The system.
    #[default]
    Drawing,
    /// The circulator's curves.
    Plot,
    /// The map of settings.
    Map,
    /// The whole window.
    Window,
}

impl PictureOf {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Drawing, Self::Plot, Self::Map, Self::Window];

    /// As it stands in a sentence.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Drawing => "the drawing",
            Self::Plot => "the plot",
            Self::Map => "the map of settings",
            Self::Window => "the whole window",
        }
    }

    /// As it stands in the name of a file.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Drawing => "drawing",
            Self::Plot => "plot",
            Self::Map => "map",
            Self::Window => "window",
        }
    }
}

/// What it is written as.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PictureForm {
    /// Dots.
    #[default]
    Png,
    /// Lines and text, sharp at any size.
    Svg,
}

impl PictureForm {
    /// The ending of its file.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Self::Png => "png",
            Self::Svg => "svg",
        }
    }
}

/// A picture that is wished for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PictureWish {
    /// What is pictured.
    pub of: PictureOf,
    /// As what.
    pub form: PictureForm,
    /// Width, pixels.
    pub width: u32,
    /// Whether on a dark ground.
    pub dark: bool,
}

impl Default for PictureWish {
    fn default() -> Self {
        Self { of: PictureOf::default(), form: PictureForm::default(), width: 2400, dark: false }
    }
}
