//! The record as one HTML page that stands by itself: no network, no program, its typeface inside; its plot answers to the states of
//! the zone valves, each of which was computed when the page was made.
//!
//! - `states`: which states, solved; `told`: what the script shows of each;
//! - `plot`: what all states share of the plot; `answer`: the part that answers;
//! - `body`: the record's facts and tables; `picture`: the drawing, in the page's colours;
//! - `html`: escaping; `sealed`: digests for the security policy.
//!
//! The page's own script and style lie in `assets/page`.

mod answer;
mod body;
mod html;
mod picture;
mod plot;
mod sealed;
mod states;
mod told;

use super::CAUTION;
use super::record::{Record, RecordError};
use crate::document::{Duty, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::ValveState;
use crate::study::{Study, SweepError};
use html::{both, escaped};
use sealed::{base64, digest};
use std::collections::BTreeSet;
use told::in_both;

const STYLE: &str = include_str!("../../../assets/page/page.css");
const SCRIPT: &str = include_str!("../../../assets/page/page.js");
/// The typeface with its weights.
const FONTS: [(u32, &[u8]); 2] = [
    (500, include_bytes!("../../../assets/fonts/Inter-Medium.otf")),
    (600, include_bytes!("../../../assets/fonts/Inter-SemiBold.otf")),
];

/// The page as HTML. A reader sees the given units first; a switch shows the others. The date is the caller's.
///
/// # Errors
/// A project, or a state of its zone valves, that cannot be studied.
pub fn page(project: &Project, units: &Units, date: &str) -> Result<String, RecordError> {
    page_of(project, &Record::in_both_units(project, date)?, units, date)
}

/// The same of records that are made already, in SI and in inch-pound units.
///
/// # Errors
/// A state of the zone valves that cannot be studied.
pub fn page_of(project: &Project, records: &[Record; 2], units: &Units, date: &str) -> Result<String, RecordError> {
    let study = Study::new(project)?;
    let [answer, data] = answer::answer(project, &study)?;
    let open = all_open(project)?;
    let both_units = [("si", Units::si()), ("ip", Units::inch_pound())];
    let style = style();
    let units = if *units == Units::inch_pound() { "ip" } else { "si" };
    let title = escaped(&project.title);
    // The policy lets nothing in from outside, and of what is inside only this style and this script.
    let policy = format!(
        "default-src 'none'; style-src '{}'; script-src '{}'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'",
        digest(&style),
        digest(SCRIPT)
    );
    let mut text = format!(
        "<!doctype html>\n<html lang=\"en\" data-units=\"{units}\">\n<head>\n<meta charset=\"utf-8\">\n<meta \
         http-equiv=\"Content-Security-Policy\" content=\"{policy}\">\n<meta name=\"viewport\" \
         content=\"width=device-width, initial-scale=1\">\n<meta name=\"generator\" content=\"Headwise {}\">\n<title>{title}\
         </title>\n<link rel=\"icon\" href=\"data:,\">\n<style>{style}</style>\n</head>\n<body>\n",
        env!("CARGO_PKG_VERSION")
    );
    text += &head(project, date, units);
    text += "<main>\n<noscript><p class=\"card\">Scripts are switched off in this browser, so nothing can be switched; all else that \
             the record holds stands below.</p></noscript>\n";
    let in_each = |of: &dyn Fn(&Record, &Units) -> String| -> String {
        let each = both_units.iter().zip(records);
        each.map(|((which, units), record)| format!("<div data-in=\"{which}\">\n{}</div>\n", of(record, units)))
            .collect()
    };
    text += &in_each(&|record, _| body::settings(record));
    text += &answer;
    text += &in_each(&|record, units| {
        let drawing = picture::drawing(&open.0, &open.1, units);
        let drawn = format!("<figure class=\"wide drawing\" tabindex=\"0\">{drawing}</figure>");
        body::section("Drawing", "All zones open, in the design's weather.", &drawn) + &body::body(record)
    });
    text += "</main>\n";
    text += &format!(
        "<footer><p>{}</p><p>Headwise {} · {}</p></footer>\n",
        escaped(CAUTION),
        env!("CARGO_PKG_VERSION"),
        escaped(date)
    );
    // Without states the script still serves the switches in the head.
    text += &data;
    text += &format!("<script>{SCRIPT}</script>\n</body>\n</html>\n");
    Ok(text)
}

/// The project with all zones open in the design's weather, as the record has it.
fn all_open(project: &Project) -> Result<(Project, Study), RecordError> {
    let state = ValveState { name: String::new(), hours: 0.0, shut: BTreeSet::new(), outdoor_c: None };
    let mut open = project.clone();
    for command in state.commands(project) {
        open.apply(&command).map_err(SweepError::from)?;
    }
    let study = Study::new(&open)?;
    Ok((open, study))
}

fn style() -> String {
    let face = |(weight, bytes): (u32, &[u8])| {
        format!(
            "@font-face{{font-family:\"Inter\";font-weight:{weight};src:url(data:font/otf;base64,{}) format(\"opentype\")}}\n",
            base64(bytes)
        )
    };
    FONTS.into_iter().map(face).collect::<String>() + &picture::style() + STYLE
}

fn head(project: &Project, date: &str, units: &str) -> String {
    let basis = &project.design;
    let duty = match basis.duty {
        Duty::Heating => "Heating",
        Duty::Cooling => "Cooling",
    };
    let line = in_both(|units| {
        let temperature = |celsius| units.format(Quantity::Temperature, celsius);
        let [supply, back, room] = [basis.supply_c, basis.return_c, basis.room_c].map(temperature);
        format!("{duty} · supply {supply}, return {back}, room {room} · {} · {}", project.fluid, date)
    });
    let choose = |what: &str, label: &str, choices: &[(&str, &str, bool)]| {
        let button = |(value, name, pressed): &(&str, &str, bool)| {
            format!("<button type=\"button\" data-choose-{what}=\"{value}\" aria-pressed=\"{pressed}\">{name}</button>")
        };
        let buttons: String = choices.iter().map(button).collect();
        format!("<div class=\"choices\" role=\"group\" aria-label=\"{label}\">{buttons}</div>")
    };
    let unit_choice = choose("units", "Units", &[("si", "SI", units == "si"), ("ip", "Inch-pound", units == "ip")]);
    let theme_choice =
        choose("theme", "Colours", &[("auto", "Auto", true), ("light", "Light", false), ("dark", "Dark", false)]);
    format!(
        "<header class=\"head\"><div><h1>{}</h1><p>{}</p></div><div class=\"tools\">{unit_choice}{theme_choice}<button \
         type=\"button\" id=\"print\">Print</button></div></header>\n",
        escaped(&project.title),
        both(&line)
    )
}
