//! Ways to spoil a text.

use fastrand::Rng;

/// Numbers at the edges of what can be counted, and beyond.
const NUMBERS: [&str; 16] = [
    "0",
    "-1",
    "-0.0",
    "18446744073709551615",
    "18446744073709551616",
    "9223372036854775807",
    "-9223372036854775808",
    "4294967296",
    "1e308",
    "1e-320",
    "-1e999",
    "nan",
    "inf",
    "0x7fffffffffffffff",
    "1_000_000_000_000",
    "0.1e-400",
];

/// What ends lines, moves cursors, turns directions, or is no text at all.
const CONTROLS: [&[u8]; 12] = [
    b"\0",
    b"\x1b[2J",
    b"\x1b]0;x\x07",
    b"\r",
    b"\x08",
    b"\x7f",
    b"\xff\xfe",
    b"\xc3",
    b"\xed\xa0\x80",
    "\u{202e}".as_bytes(),
    "\u{2028}".as_bytes(),
    "\u{feff}".as_bytes(),
];

/// Bytes no spoiled text exceeds: more than the program reads of all but cases. The memory of this process counts as
/// that of its children until they are the program.
const LONGEST: usize = 6_000_000;

/// Brackets and keys that open and do not close.
const OPENERS: [&str; 7] = ["[", "{", "[[", "{\"a\":", "x={a=", "x=[", "a."];

/// Spoils a text in one to four ways, mostly in one: what is refused at its first line shows nothing of what comes
/// after. `other` is a text of the same kind to take pieces from.
pub(crate) fn spoil(text: &[u8], other: &[u8], rng: &mut Rng) -> Vec<u8> {
    let mut text = text.to_vec();
    let ways = if rng.u8(..3) == 0 { rng.usize(2..=4) } else { 1 };
    for _ in 0..ways {
        once(&mut text, other, rng);
        text.truncate(LONGEST);
    }
    text
}

fn once(text: &mut Vec<u8>, other: &[u8], rng: &mut Rng) {
    match rng.u8(0..13) {
        0 => flip_bits(text, rng),
        1 => lines(text, rng, |lines, rng| {
            lines.remove(rng.usize(..lines.len()));
        }),
        2 => lines(text, rng, |lines, rng| {
            let line = lines[rng.usize(..lines.len())].clone();
            lines.insert(rng.usize(..=lines.len()), line);
        }),
        3 => lines(text, rng, |lines, rng| {
            let (one, two) = (rng.usize(..lines.len()), rng.usize(..lines.len()));
            lines.swap(one, two);
        }),
        4 => text.truncate(rng.usize(..=text.len())),
        5 => replace_number(text, rng),
        6 => insert(text, rng.choice(CONTROLS).unwrap_or(b"\0"), rng),
        7 => {
            let times = 10_usize.pow(rng.u32(1..=5));
            let deep = rng.choice(OPENERS).unwrap_or("[").repeat(times);
            insert(text, deep.as_bytes(), rng);
        }
        8 => {
            let long = vec![b"ax9 "[rng.usize(..4)]; 10_usize.pow(rng.u32(2..=6))];
            insert(text, &long, rng);
        }
        9 => lines(text, rng, |lines, rng| {
            // One line many times: what is cheap once must not be dear a thousand times.
            let line = lines[rng.usize(..lines.len())].clone();
            let place = rng.usize(..=lines.len());
            let times = 10_usize.pow(rng.u32(1..=4)).min(LONGEST / line.len().max(1));
            lines.splice(place..place, std::iter::repeat_n(line, times));
        }),
        10 => swap_words(text, rng),
        11 if !other.is_empty() => {
            let from = rng.usize(..other.len());
            let length = rng.usize(..400).min(other.len() - from);
            insert(text, &other[from..from + length], rng);
        }
        _ => {
            let number = rng.choice(NUMBERS).unwrap_or("0");
            let event = format!(
                "{{\"at\":\"2026-02-03T04:05:06Z\",\"event\":{{\"kind\":\"undone\",\"steps\":{number}}}}}\n"
            );
            lines(text, rng, |lines, rng| {
                lines.insert(rng.usize(..=lines.len()), event.into_bytes());
            });
        }
    }
}

fn flip_bits(text: &mut [u8], rng: &mut Rng) {
    if text.is_empty() {
        return;
    }
    for _ in 0..rng.usize(1..=8) {
        text[rng.usize(..text.len())] ^= 1 << rng.u8(..8);
    }
}

fn lines(text: &mut Vec<u8>, rng: &mut Rng, change: impl FnOnce(&mut Vec<Vec<u8>>, &mut Rng)) {
    let mut lines: Vec<Vec<u8>> = text
        .split_inclusive(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    if !lines.is_empty() {
        change(&mut lines, rng);
        *text = lines.concat();
    }
}

fn insert(text: &mut Vec<u8>, piece: &[u8], rng: &mut Rng) {
    // Between words mostly, where a piece is likelier to be read than in the middle of an id.
    let mut place = rng.usize(..=text.len());
    if rng.bool() {
        place = (place..text.len())
            .find(|place| b" =\"\n".contains(&text[*place]))
            .map_or(place, |place| place + 1);
    }
    text.splice(place..place, piece.iter().copied());
}

fn replace_number(text: &mut Vec<u8>, rng: &mut Rng) {
    let start = rng.usize(..=text.len());
    let Some(from) = (start..text.len()).find(|place| text[*place].is_ascii_digit()) else {
        return;
    };
    let length = text[from..]
        .iter()
        .take_while(|byte| byte.is_ascii_digit() || **byte == b'.')
        .count();
    let long = "9".repeat(400);
    let number = if rng.u8(..8) == 0 {
        &long
    } else {
        rng.choice(NUMBERS).unwrap_or("0")
    };
    text.splice(from..from + length, number.bytes());
}

fn swap_words(text: &mut Vec<u8>, rng: &mut Rng) {
    let is_word = |byte: &u8| byte.is_ascii_alphanumeric() || *byte == b'-';
    let words: Vec<(usize, usize)> = {
        let mut words = Vec::new();
        let mut place = 0;
        for piece in text.split(|byte| !is_word(byte)) {
            if !piece.is_empty() {
                words.push((place, place + piece.len()));
            }
            place += piece.len() + 1;
        }
        words
    };
    if words.is_empty() {
        return;
    }
    let (from, to) = (words[rng.usize(..words.len())], words[rng.usize(..words.len())]);
    let word = text[from.0..from.1].to_vec();
    text.splice(to.0..to.1, word);
}
