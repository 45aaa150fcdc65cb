//! Colours by role. The hues are those of the Okabe–Ito set (Color Universal Design, 2008), which stay apart for colour-blind
//! eyes; in the dark they are lightened a little. No state is told by colour alone: shapes and words go with it.

use egui::{Color32, Theme};

/// Colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// Behind everything.
    pub ground: Color32,
    /// Drawing and plot.
    pub sheet: Color32,
    /// Cards and buttons.
    pub raised: Color32,
    /// Hairlines.
    pub rule: Color32,
    /// Grid lines on sheets.
    pub grid: Color32,
    /// Text and the regulated curve.
    pub ink: Color32,
    /// Secondary text.
    pub quiet: Color32,
    /// Focus and links.
    pub accent: Color32,
    /// Supply side of a heating system, return side of a cooling system.
    pub warm: Color32,
    /// The other side.
    pub cold: Color32,
    /// Head limit.
    pub head_limit: Color32,
    /// Slope and set-line.
    pub slope: Color32,
    /// Speed cap.
    pub cap: Color32,
    /// A path or curve laid beside another.
    pub beside: Color32,
    /// System curve.
    pub system: Color32,
    /// A zone within its band.
    pub served: Color32,
    /// A zone below its band.
    pub starved: Color32,
    /// A zone above its band.
    pub overflowed: Color32,
    /// Something shut.
    pub shut: Color32,
}

impl Palette {
    /// The colours of a theme.
    #[must_use]
    pub fn of(theme: Theme) -> Self {
        let rgb = Color32::from_rgb;
        match theme {
            Theme::Light => Self {
                ground: rgb(0xF3, 0xF1, 0xEC),
                sheet: rgb(0xFD, 0xFC, 0xFA),
                raised: rgb(0xFF, 0xFF, 0xFF),
                rule: rgb(0xD9, 0xD5, 0xCC),
                grid: rgb(0xEA, 0xE7, 0xE0),
                ink: rgb(0x1E, 0x23, 0x2B),
                quiet: rgb(0x5E, 0x65, 0x70),
                accent: rgb(0x00, 0x72, 0xB2),
                warm: rgb(0xD5, 0x5E, 0x00),
                cold: rgb(0x00, 0x72, 0xB2),
                head_limit: rgb(0xC2, 0x7C, 0x00),
                slope: rgb(0x00, 0x8A, 0x65),
                cap: rgb(0xB4, 0x55, 0x8C),
                beside: rgb(0xC2, 0x7C, 0x00),
                system: rgb(0x00, 0x72, 0xB2),
                served: rgb(0x00, 0x8A, 0x65),
                starved: rgb(0xC4, 0x4E, 0x00),
                overflowed: rgb(0x9A, 0x4A, 0x7C),
                shut: rgb(0x98, 0x9C, 0xA3),
            },
            Theme::Dark => Self {
                ground: rgb(0x15, 0x19, 0x1F),
                sheet: rgb(0x1B, 0x20, 0x27),
                raised: rgb(0x25, 0x2B, 0x34),
                rule: rgb(0x3A, 0x42, 0x4D),
                grid: rgb(0x2A, 0x30, 0x39),
                ink: rgb(0xED, 0xEF, 0xF2),
                quiet: rgb(0xA3, 0xAB, 0xB7),
                accent: rgb(0x56, 0xB4, 0xE9),
                warm: rgb(0xF0, 0x84, 0x2C),
                cold: rgb(0x56, 0xB4, 0xE9),
                head_limit: rgb(0xF0, 0xB4, 0x2E),
                slope: rgb(0x2F, 0xC5, 0x98),
                cap: rgb(0xDD, 0x90, 0xBC),
                beside: rgb(0xF0, 0xB4, 0x2E),
                system: rgb(0x56, 0xB4, 0xE9),
                served: rgb(0x2F, 0xC5, 0x98),
                starved: rgb(0xF5, 0x8A, 0x3A),
                overflowed: rgb(0xDD, 0x90, 0xBC),
                shut: rgb(0x7A, 0x82, 0x8D),
            },
        }
    }
}
