//! Colours of pictures: hues of the Okabe–Ito set (Color Universal Design, 2008), which stay apart for colour-blind eyes; in the dark
//! lightened a little. Nothing is told by colour alone: hatching, shapes and words go with it.

/// Colours of one picture, as SVG writes them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Colours {
    /// Behind everything.
    pub ground: &'static str,
    /// The plane.
    pub sheet: &'static str,
    /// Text, axes, contour lines.
    pub ink: &'static str,
    /// Secondary text.
    pub quiet: &'static str,
    /// Hairlines.
    pub rule: &'static str,
    /// Where every zone is served.
    pub served: &'static str,
    /// Where a zone starves.
    pub starved: &'static str,
    /// Where a zone overflows.
    pub overflowed: &'static str,
    /// Where a pipe or a valve is too loud.
    pub loud: &'static str,
    /// The present settings.
    pub present: &'static str,
}

impl Colours {
    pub(super) fn new(dark: bool) -> Self {
        if dark {
            return Self {
                ground: "#15191f",
                sheet: "#1b2027",
                ink: "#edeff2",
                quiet: "#a3abb7",
                rule: "#4a525d",
                served: "#2fc598",
                starved: "#f58a3a",
                overflowed: "#dd90bc",
                loud: "#f0b42e",
                present: "#56b4e9",
            };
        }
        Self {
            ground: "#fdfcfa",
            sheet: "#ffffff",
            ink: "#1e232b",
            quiet: "#5e6570",
            rule: "#b9b5ac",
            served: "#009e73",
            starved: "#d55e00",
            overflowed: "#b4558c",
            loud: "#c27c00",
            present: "#0072b2",
        }
    }
}
