//! Text made safe for SVG and HTML.

/// Escapes a text for element content and quoted attributes; characters that XML does not allow are left out.
#[must_use]
pub(crate) fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' | '\t' => safe.push(letter),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {}
            letter => safe.push(letter),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::escape;

    #[test]
    fn nothing_ends_an_element_or_an_attribute() {
        assert_eq!(
            escape("a<b> & \"c\" 'd'\u{0}"),
            "a&lt;b&gt; &amp; &quot;c&quot; &#39;d&#39;"
        );
    }
}
