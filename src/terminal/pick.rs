//! Picking from a list by arrow keys, digits or letters.

use std::io;

use console::{Key, Term};

use crate::walk::RespondentError;

use super::input::{Input, ended, unless_told_to_end};
use super::screen::{Mark, Screen};
use super::signals::Signals;

/// The letter that stands for the Escape key, where that is among the letters.
pub(super) const ESCAPE: char = '\u{1b}';

/// What was picked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Picked {
    /// An entry of the list, by place.
    Entry(usize),
    /// One of the letters offered beside it.
    Letter(char),
    /// Ctrl-C: end here and keep the case, whatever list is open.
    Stop,
}

/// Lets the person pick an entry, or one of the letters.
///
/// A digit picks at once unless a longer number could still be meant; Enter picks what the mark stands on.
pub(super) fn pick(
    screen: &mut Screen,
    input: &mut Input,
    entries: &[String],
    letters: &[char],
    offers: &[String],
) -> Result<Picked, RespondentError> {
    match (screen.term().cloned(), &*input) {
        (Some(term), Input::Keys(signals)) => by_keys(screen, &term, signals, entries, letters, offers),
        _ => by_lines(screen, input, entries, letters, offers),
    }
}

fn by_lines(
    screen: &mut Screen,
    input: &mut Input,
    entries: &[String],
    letters: &[char],
    offers: &[String],
) -> Result<Picked, RespondentError> {
    for (place, entry) in entries.iter().enumerate() {
        screen.wrapped(&lead(place, false), entry, None)?;
    }
    for offer in offers {
        screen.line(offer)?;
    }
    loop {
        let typed = input.text(screen, "number or letter")?;
        let mut characters = typed.chars();
        if let (Some(letter), None) = (characters.next(), characters.next())
            && letters.contains(&letter.to_ascii_lowercase())
        {
            return Ok(Picked::Letter(letter.to_ascii_lowercase()));
        }
        match typed.parse::<usize>() {
            Ok(number @ 1..) if number <= entries.len() => return Ok(Picked::Entry(number - 1)),
            _ => screen.wrapped(
                "  not taken: ",
                &format!(
                    "`{typed}` is neither a number from 1 to {} nor a letter offered",
                    entries.len()
                ),
                None,
            )?,
        }
    }
}

fn by_keys(
    screen: &mut Screen,
    term: &Term,
    signals: &Signals,
    entries: &[String],
    letters: &[char],
    offers: &[String],
) -> Result<Picked, RespondentError> {
    let mut at = 0;
    let mut typed = String::new();
    let mut shown = draw(screen, entries, at, offers)?;
    term.hide_cursor()?;
    let picked = loop {
        if let Err(told) = unless_told_to_end(signals) {
            break Err(told);
        }
        let key = match term.read_key_raw() {
            Ok(key) => key,
            Err(error) => break Err(ended(error)),
        };
        match key {
            // A wait that a signal broke off comes back as this key.
            Key::CtrlC => break unless_told_to_end(signals).map(|()| Picked::Stop),
            Key::Enter if !entries.is_empty() => break Ok(Picked::Entry(at)),
            Key::Escape if letters.contains(&ESCAPE) => break Ok(Picked::Letter(ESCAPE)),
            Key::ArrowUp => at = (at + entries.len().max(1) - 1) % entries.len().max(1),
            Key::ArrowDown | Key::Tab => at = (at + 1) % entries.len().max(1),
            Key::Home => at = 0,
            Key::End => at = entries.len().saturating_sub(1),
            Key::Char(digit) if digit.is_ascii_digit() => {
                typed.push(digit);
                let number: usize = match typed.parse() {
                    Ok(number @ 1..) if number <= entries.len() => number,
                    _ => {
                        typed.clear();
                        continue;
                    }
                };
                at = number - 1;
                if number * 10 > entries.len() {
                    break Ok(Picked::Entry(at));
                }
            }
            Key::Char(letter) if letters.contains(&letter.to_ascii_lowercase()) => {
                break Ok(Picked::Letter(letter.to_ascii_lowercase()));
            }
            _ => continue,
        }
        if !matches!(key, Key::Char(_)) {
            typed.clear();
        }
        term.clear_last_lines(shown)?;
        screen.cleared(shown);
        shown = draw(screen, entries, at, offers)?;
    };
    term.show_cursor()?;
    term.clear_last_lines(shown)?;
    screen.cleared(shown);
    picked
}

/// Lines kept for what stands above a list, however little it is.
const LEAST_HEAD: usize = 5;

/// Lines of a list shown however much stands above it.
const LEAST_ROOM: usize = 3;

/// Draws the list and gives back how many lines it took.
fn draw(screen: &mut Screen, entries: &[String], at: usize, offers: &[String]) -> io::Result<usize> {
    let blocks: Vec<Vec<String>> = entries
        .iter()
        .enumerate()
        .map(|(place, entry)| screen.wrap(&lead(place, place == at), entry))
        .collect();
    // The question stays in sight above its answers; two lines say how many more there are, one holds the cursor.
    let above = screen.head().max(LEAST_HEAD);
    let room = screen
        .rows()
        .saturating_sub(offers.len() + above + 3)
        .max(LEAST_ROOM);
    let (first, last) = window(&blocks, at, room);
    let mut lines = 0;
    if first > 0 {
        screen.line(&format!("      ({first} more above)"))?;
        lines += 1;
    }
    for (place, block) in blocks.iter().enumerate().take(last).skip(first) {
        for line in block {
            let line = screen.mark(line, (place == at).then_some(Mark::Strong));
            screen.line(&line)?;
            lines += 1;
        }
    }
    if last < blocks.len() {
        screen.line(&format!("      ({} more below)", blocks.len() - last))?;
        lines += 1;
    }
    for offer in offers {
        let offer = screen.mark(offer, Some(Mark::Quiet));
        screen.line(&offer)?;
        lines += 1;
    }
    Ok(lines)
}

/// The entries around the marked one that fit into `room` lines: first, and one past the last.
fn window(blocks: &[Vec<String>], at: usize, room: usize) -> (usize, usize) {
    let height = |from: usize, to: usize| blocks[from..to].iter().map(Vec::len).sum::<usize>();
    if blocks.is_empty() || height(0, blocks.len()) <= room {
        return (0, blocks.len());
    }
    let (mut first, mut last) = (at, at + 1);
    loop {
        let before = (first, last);
        if first > 0 && height(first - 1, last) <= room {
            first -= 1;
        }
        if last < blocks.len() && height(first, last + 1) <= room {
            last += 1;
        }
        if before == (first, last) {
            return (first, last);
        }
    }
}

fn lead(place: usize, marked: bool) -> String {
    format!("{} {:>2}  ", if marked { ">" } else { " " }, place + 1)
}

#[cfg(test)]
mod tests {
    use super::window;

    #[test]
    fn the_window_holds_the_marked_entry_and_fits() {
        let blocks: Vec<Vec<String>> = (0..20).map(|n| vec![String::new(); 1 + n % 3]).collect();
        for at in 0..blocks.len() {
            for room in 3..30 {
                let (first, last) = window(&blocks, at, room);
                assert!(first <= at && at < last);
                assert!(blocks[first..last].iter().map(Vec::len).sum::<usize>() <= room);
            }
        }
        assert_eq!(window(&blocks[..2], 0, 10), (0, 2));
        assert_eq!(window(&[], 0, 10), (0, 0));
    }
}
