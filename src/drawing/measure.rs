//! How wide a text is and where it breaks, without a font at hand.
//!
//! Whoever opens a picture has fonts of their own, so widths are those of a wide one: DejaVu Sans, upright and bold,
//! whose letters are at least as wide as those of the usual interface fonts. A text that fits here fits there.

/// Weight of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Upright.
    Plain,
    /// Bold, which is wider.
    Bold,
}

/// Advance widths of the characters from space to tilde, in thousandths of the font size, rounded up.
///
/// Source: the `hmtx` table of DejaVu Sans 2.37, read with fontTools.
const PLAIN: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637,
    637, 637, 637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775, 752, 295,
    295, 656, 558, 863, 749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838,
    500, 500, 613, 635, 550, 635, 616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521,
    393, 634, 592, 818, 592, 592, 525, 637, 337, 637, 838,
];

/// The same of DejaVu Sans Bold 2.37.
const BOLD: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366, 696, 696, 696, 696, 696,
    696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831, 684, 684, 821, 837, 373,
    373, 775, 638, 996, 837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838,
    500, 500, 675, 716, 593, 716, 679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688, 716, 716, 494, 596,
    479, 712, 652, 924, 646, 652, 583, 712, 366, 712, 838,
];

/// Width of a character that the tables do not hold, as wide as the widest letter.
const OTHER: u16 = 1110;

/// Width of a text in pixels at a font size in pixels.
#[must_use]
pub fn width(text: &str, size: f64, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Plain => &PLAIN,
        Weight::Bold => &BOLD,
    };
    let thousandths: u32 = text
        .chars()
        .map(|letter| {
            (letter as usize)
                .checked_sub(32)
                .and_then(|place| table.get(place))
                .copied()
                .unwrap_or(OTHER)
        })
        .map(u32::from)
        .sum();
    f64::from(thousandths) * size / 1000.0
}

/// Breaks a text into lines no wider than `most` pixels; words too wide for a line are broken too, behind a hyphen or
/// slash where there is one.
///
/// There is at least one line.
#[must_use]
pub fn wrap(text: &str, most: f64, size: f64, weight: Weight) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width(&longer, size, weight) <= most {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut pieces = pieces(word, most, size, weight);
        line = pieces.pop().unwrap_or_default();
        lines.extend(pieces);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Breaks a word into pieces that fit a line.
fn pieces(word: &str, most: f64, size: f64, weight: Weight) -> Vec<String> {
    let mut pieces = Vec::new();
    let mut piece = String::new();
    for letter in word.chars() {
        piece.push(letter);
        // Once is not always enough: what is behind an early hyphen can still be too wide.
        while width(&piece, size, weight) > most
            && let Some((last, _)) = piece.char_indices().next_back()
            && last > 0
        {
            // A hyphen as the last letter is too much itself, so it is no place to break behind.
            let at = piece[..last].rfind(['-', '/']).map_or(last, |hyphen| hyphen + 1);
            let rest = piece.split_off(at);
            pieces.push(std::mem::replace(&mut piece, rest));
        }
    }
    pieces.push(piece);
    pieces
}

/// Breaks a text into lines as narrow as it goes without more of them than `most` pixels would give.
///
/// A box around three lines of like length is smaller than one around two long lines and a word. No word is broken
/// for it.
#[must_use]
pub fn wrap_even(text: &str, most: f64, size: f64, weight: Weight) -> Vec<String> {
    let mut best = wrap(text, most, size, weight);
    let least = text
        .split_whitespace()
        .map(|word| width(word, size, weight))
        .fold(4.0 * size, f64::max);
    let mut narrower = most;
    while narrower - size / 2.0 >= least {
        narrower -= size / 2.0;
        let tried = wrap(text, narrower, size, weight);
        if tried.len() > best.len() {
            break;
        }
        best = tried;
    }
    best
}

/// Width of the widest of some lines.
#[must_use]
pub fn widest(lines: &[String], size: f64, weight: Weight) -> f64 {
    lines
        .iter()
        .map(|line| width(line, size, weight))
        .fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn lines_fit_and_lose_nothing(text in "[ -~]{0,200}", most in 20.0..400.0f64) {
            for lines in [wrap(&text, most, 14.0, Weight::Bold), wrap_even(&text, most, 14.0, Weight::Bold)] {
                for line in &lines {
                    prop_assert!(width(line, 14.0, Weight::Bold) <= most || line.chars().count() == 1);
                }
                let squeezed = |text: &str| text.split_whitespace().collect::<String>();
                prop_assert_eq!(squeezed(&lines.concat()), squeezed(&text));
            }
        }
    }

    #[test]
    fn an_id_breaks_behind_a_hyphen() {
        let lines = wrap("ground-fault-device-opens/which", 130.0, 12.0, Weight::Bold);
        assert_eq!(lines, ["ground-fault-", "device-opens/", "which"]);
    }

    #[test]
    fn evening_out_breaks_no_word() {
        let lines = wrap_even("Compressor at a stop", 150.0, 14.0, Weight::Bold);
        assert_eq!(lines, ["Compressor", "at a stop"]);
    }

    /// Widths of Helvetica, which Arial shares, as its publisher gives them.
    /// Source: Adobe Font Metrics for Helvetica and Helvetica-Bold (core 14), from memory.
    #[test]
    fn a_usual_font_is_no_wider() {
        let helvetica = [
            ('a', 556),
            ('m', 833),
            ('W', 944),
            (' ', 278),
            ('i', 222),
            ('0', 556),
        ];
        for (letter, published) in helvetica {
            assert!(width(&letter.to_string(), 1000.0, Weight::Plain) >= f64::from(published));
        }
        let bold = [
            ('a', 556),
            ('m', 889),
            ('W', 944),
            (' ', 278),
            ('i', 278),
            ('0', 556),
        ];
        for (letter, published) in bold {
            assert!(width(&letter.to_string(), 1000.0, Weight::Bold) >= f64::from(published));
        }
    }
}
