//! The record on the page: settings, tables and facts as the record holds them, and the places that are written in by hand.

use super::super::record::{CautionShown, Cell, Column, Fact, Holds, OpenCheck, PumpSheet, Record, Sheet};
use super::html::escaped;
use crate::study::ZoneState;

/// Each circulator's settings, large.
pub(super) fn settings(record: &Record) -> String {
    let pump = |pump: &PumpSheet| {
        let setting = |setting: &super::super::record::SettingShown| {
            format!(
                "<div><dt>{}</dt><dd>{}</dd><dd class=\"quiet\">{}</dd><dd class=\"quiet\">as left: ______ by: ______</dd></div>",
                setting.name,
                escaped(&setting.value),
                escaped(&setting.step)
            )
        };
        let settings: String = pump.settings.iter().map(setting).collect();
        let remarks: String = pump.remarks.iter().map(|text| format!("<p>{}</p>", escaped(text))).collect();
        let state = if pump.runs { "" } else { " <small>stands still</small>" };
        format!(
            "<article class=\"pump keep\"><div class=\"pump-name\"><h3>{}{state}</h3><p>{}</p><p class=\"quiet\">Reference flow: \
             {}</p>{remarks}</div><dl class=\"settings\">{settings}</dl></article>\n",
            escaped(&pump.name),
            escaped(&pump.control),
            escaped(&pump.reference),
        )
    };
    let pumps: String = record.pumps.iter().map(pump).collect();
    section("Settings", "", &(cautions(record, "settings") + &pumps))
}

/// Everything below the drawing.
pub(super) fn body(record: &Record) -> String {
    let mut text = section("Still open", &record.open_words, &open(&record.open));
    let facts_of = |pump: &PumpSheet| format!("<div><h3>{}</h3>{}</div>", escaped(&pump.name), facts(&pump.facts));
    let pumps: String = record.pumps.iter().map(facts_of).collect();
    text += &section("Circulators", "", &format!("<div class=\"columns\">{pumps}</div>"));
    let intro = if record.zones.rows.is_empty() { String::new() } else { paragraph(&record.zones.intro) };
    text += &section("Zones", &record.predicted, &(cautions(record, "zones") + &intro + &sheet(&record.zones)));
    for of in [&record.presettings, &record.scenarios, &record.margins] {
        text += &titled(record, of);
    }
    text += &section("Energy", "", &(facts(&record.energy) + &captioned(&record.comparison)));
    let system = format!(
        "<div class=\"columns\"><div><h3>Job</h3>{}<h3>System</h3>{}</div><div><h3>Design basis</h3>{}</div></div>",
        facts(&record.site),
        facts(&record.summary),
        facts(&record.basis)
    );
    text += &section("Job and design", "", &(cautions(record, "system") + &system));
    if !record.notes.trim().is_empty() {
        let paragraphs = record.notes.split('\n').filter(|line| !line.trim().is_empty());
        let paragraphs: String = paragraphs.map(|line| format!("<p>{}</p>", escaped(line))).collect();
        text += &section("Notes", "", &paragraphs);
    }
    let on_site = [&record.starting, &record.register, &record.water, &record.readings];
    for of in on_site.into_iter().chain([&record.instruments, &record.signatures]) {
        text += &titled(record, of);
    }
    text
}

/// The cautions that stand beside a part.
fn cautions(record: &Record, beside: &str) -> String {
    let caution = |caution: &CautionShown| {
        let [heading, text] = [caution.heading, &caution.text].map(escaped);
        format!("<p class=\"caution\"><strong>{heading}</strong> {text}</p>")
    };
    record.cautions.iter().filter(|caution| caution.beside == beside).map(caution).collect()
}

/// A part of the page under its heading; nothing where it holds nothing.
pub(super) fn section(title: &str, intro: &str, inner: &str) -> String {
    if inner.is_empty() && intro.is_empty() {
        return String::new();
    }
    let intro = paragraph(intro);
    format!("<section class=\"card\"><h2>{}</h2>{intro}{inner}</section>\n", escaped(title))
}

fn paragraph(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("<p class=\"intro\">{}</p>", escaped(text)) }
}

fn titled(record: &Record, of: &Sheet) -> String {
    if of.rows.is_empty() {
        return String::new();
    }
    section(of.title, &of.intro, &(cautions(record, of.key) + &sheet(of)))
}

fn captioned(of: &Sheet) -> String {
    if of.rows.is_empty() {
        return String::new();
    }
    format!("<h3>{}</h3>{}{}", of.title, paragraph(&of.intro), sheet(of))
}

fn facts(facts: &[Fact]) -> String {
    let fact = |fact: &Fact| {
        let blank = if fact.text.is_empty() { " class=\"blank\"" } else { "" };
        format!("<div><dt>{}</dt><dd{blank}>{}</dd></div>", escaped(&fact.label), escaped(&fact.text))
    };
    format!("<dl class=\"facts\">{}</dl>", facts.iter().map(fact).collect::<String>())
}

fn open(checks: &[OpenCheck]) -> String {
    if checks.is_empty() {
        return String::new();
    }
    let check = |check: &OpenCheck| {
        format!(
            "<li class=\"{}\"><strong>{}: {}</strong> <span class=\"quiet\">{}. {}</span><br>{}</li>",
            check.severity,
            escaped(&check.place),
            escaped(check.heading),
            check.severity,
            escaped(&check.holds),
            escaped(&check.text)
        )
    };
    format!(
        "<ul class=\"open\" aria-label=\"What calls for a look\">{}</ul>",
        checks.iter().map(check).collect::<String>()
    )
}

/// A table with its heads, and its notes below.
fn sheet(of: &Sheet) -> String {
    if of.rows.is_empty() {
        return String::new();
    }
    let rows: String = of.rows.iter().map(|row| line(of, row)).collect();
    let notes: String = of.notes.iter().map(|note| format!("<p class=\"quiet\">{}</p>", escaped(note))).collect();
    format!(
        "<div class=\"wide\" role=\"region\" tabindex=\"0\" aria-label=\"{}\"><table>{}<tbody>{rows}</tbody></table></div>{notes}",
        escaped(of.title),
        heads(&of.columns)
    )
}

/// One row of heads, or two where columns have one in common.
fn heads(columns: &[Column]) -> String {
    let head = |column: &Column, rows: &str| {
        let class = if column.holds == Holds::Number { " class=\"number\"" } else { "" };
        let unit =
            if column.unit.is_empty() { String::new() } else { format!(" <small>{}</small>", escaped(column.unit)) };
        format!("<th scope=\"col\"{class}{rows}>{}{unit}</th>", escaped(&column.heading))
    };
    if columns.iter().all(|column| column.group.is_empty()) {
        let heads: String = columns.iter().map(|column| head(column, "")).collect();
        return format!("<thead><tr>{heads}</tr></thead>");
    }
    let (mut upper, mut lower) = (String::new(), String::new());
    for same in columns.chunk_by(|a, b| !a.group.is_empty() && a.group == b.group) {
        match same {
            [alone] if alone.group.is_empty() => upper += &head(alone, " rowspan=\"2\""),
            _ => {
                let count = same.len();
                upper += &format!(
                    "<th scope=\"colgroup\" class=\"group\" colspan=\"{count}\">{}</th>",
                    escaped(same[0].group)
                );
                lower += &same.iter().map(|column| head(column, "")).collect::<String>();
            }
        }
    }
    format!("<thead><tr>{upper}</tr><tr>{lower}</tr></thead>")
}

fn line(of: &Sheet, row: &[Cell]) -> String {
    let cell = |(at, cell): (usize, &Cell)| {
        let text = escaped(cell.shown());
        let is_blank = of.columns.get(at).is_some_and(|column| column.holds == Holds::Blank);
        match cell {
            Cell::Text { .. } if at == 0 => format!("<th scope=\"row\">{text}</th>"),
            Cell::Number { .. } => format!("<td class=\"number\">{text}</td>"),
            Cell::State { missed: true, text: word } if word == ZoneState::Overflowed.word() => {
                format!("<td class=\"missed over\">{text}</td>")
            }
            Cell::State { missed: true, .. } => format!("<td class=\"missed\">{text}</td>"),
            Cell::Blank => "<td class=\"blank\"></td>".to_owned(),
            _ if is_blank => format!("<td class=\"blank\">{text}</td>"),
            _ => format!("<td>{text}</td>"),
        }
    };
    format!("<tr>{}</tr>\n", row.iter().enumerate().map(cell).collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_in_common_span_their_columns() {
        let column = |group, heading: &str| Column { group, heading: heading.to_owned(), unit: "", holds: Holds::Text };
        let columns = [column("", "A"), column("", "B"), column("G", "C"), column("G", "D"), column("H", "E")];
        let text = heads(&columns);
        assert_eq!(text.matches("rowspan=\"2\"").count(), 2);
        assert!(text.contains("colspan=\"2\">G</th>") && text.contains("colspan=\"1\">H</th>"), "{text}");
        assert_eq!(text.matches("<th ").count(), 7);
    }
}
