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
    /// The present settings, the operating point.
    pub present: &'static str,
    /// Grid lines on the sheet.
    pub grid: &'static str,
    /// Cards.
    pub raised: &'static str,
    /// Supply side of a heating system, return side of a cooling system.
    pub warm: &'static str,
    /// The other side.
    pub cold: &'static str,
    /// Head limit.
    pub head_limit: &'static str,
    /// Set-line.
    pub set_line: &'static str,
    /// Speed cap and power limit.
    pub cap: &'static str,
    /// System curve.
    pub system: &'static str,
    /// Something shut.
    pub shut: &'static str,
    /// A circulator that is off.
    pub off: &'static str,
    /// A zone within its band, below it and above it, dark enough for words.
    pub words: [&'static str; 3],
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
                grid: "#2a3039",
                raised: "#252b34",
                warm: "#f0842c",
                cold: "#56b4e9",
                head_limit: "#f0b42e",
                set_line: "#2fc598",
                cap: "#dd90bc",
                system: "#56b4e9",
                shut: "#7a828d",
                off: "#414750",
                words: ["#2fc598", "#f58a3a", "#dd90bc"],
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
            grid: "#e6e2da",
            raised: "#ffffff",
            warm: "#d55e00",
            cold: "#0072b2",
            head_limit: "#a86a00",
            set_line: "#008a65",
            cap: "#a5477d",
            system: "#0072b2",
            shut: "#888d95",
            off: "#cfd1d4",
            words: ["#007a59", "#b84900", "#8f4473"],
        }
    }

    /// All of them.
    fn all(&self) -> Vec<&'static str> {
        let [served, starved, overflowed] = self.words;
        vec![
            self.ground,
            self.sheet,
            self.ink,
            self.quiet,
            self.rule,
            self.served,
            self.starved,
            self.overflowed,
            self.loud,
            self.present,
            self.grid,
            self.raised,
            self.warm,
            self.cold,
            self.head_limit,
            self.set_line,
            self.cap,
            self.system,
            self.shut,
            served,
            starved,
            overflowed,
        ]
    }
}

/// Every light colour with the dark one in its place, for who shows a picture in both.
#[must_use]
pub fn colour_pairs() -> Vec<[&'static str; 2]> {
    Colours::new(false).all().into_iter().zip(Colours::new(true).all()).map(|(light, dark)| [light, dark]).collect()
}
