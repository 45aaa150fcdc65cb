//! HTML as it is written: every text escaped, and data for the page's script so that no text can end it.

use serde::Serialize;

/// A text between tags or in a quoted attribute.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(character),
            control if control.is_control() => out.push(' '),
            other => out.push(other),
        }
    }
    out
}

/// Data as JSON in an element that a browser does not run: what means something to HTML stands there as an escape of JSON.
pub(super) fn data(id: &str, value: &impl Serialize) -> String {
    let text = serde_json::to_string(value)
        .unwrap_or_else(|error| serde_json::json!({ "error": error.to_string() }).to_string());
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' => out.push_str(&format!("\\u{:04x}", u32::from(character))),
            other => out.push(other),
        }
    }
    format!("<script type=\"application/json\" id=\"{id}\">{out}</script>\n")
}

/// A text of which each set of units has its own: the page shows one of them.
pub(super) fn both(texts: &[String; 2]) -> String {
    let [si, inch_pound] = texts.each_ref().map(|text| escaped(text));
    if si == inch_pound {
        return si;
    }
    format!(r#"<span data-in="si">{si}</span><span data-in="ip">{inch_pound}</span>"#)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_ends_its_element() {
        assert_eq!(escaped("a<b>\"'&\u{1b}"), "a&lt;b&gt;&quot;&#39;&amp; ");
        let text = data("x", &"</script><!--\u{2028}&");
        assert_eq!(
            text,
            "<script type=\"application/json\" id=\"x\">\"\\u003c/script\\u003e\\u003c!--\\u2028\\u0026\"</script>\n"
        );
        // It reads back as it was.
        let json = &text[text.find('>').unwrap() + 1..text.rfind("</script>").unwrap()];
        assert_eq!(serde_json::from_str::<String>(json).unwrap(), "</script><!--\u{2028}&");
    }
}
