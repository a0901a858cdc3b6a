//! Picking from a list by arrow keys, digits, letters or words.

use std::io;

use console::{Key, Term};

use crate::walk::RespondentError;

use super::input::{Input, KeyByKey, key_unless_resized};
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

/// What was picked, or words to search by.
pub(super) enum Said {
    /// Something of the list.
    Picked(Picked),
    /// Words.
    Words(String),
}

/// A list to pick from.
#[derive(Default)]
pub(super) struct List<'a> {
    /// The entries, numbered from 1.
    pub(super) entries: &'a [String],
    /// Letters that mean something here.
    pub(super) letters: &'a [char],
    /// What the letters mean.
    pub(super) offers: &'a [String],
    /// The entry marked first, and then the one to go on at: the same after Enter, the first after a number.
    pub(super) at: usize,
    /// Letters that are not offered begin words to search by; set by how the list is picked from.
    pub(super) words: bool,
    /// Entries are marked and not taken for good: a digit that begins no longer number marks at once.
    pub(super) marks: bool,
    /// A first Enter belongs to the letter pressed before: typed answers want it there, lists do not.
    pub(super) after_letter: bool,
}

/// Lets the person pick an entry, or one of the letters.
///
/// A digit picks at once in a list of nine at most; in a longer one it waits for a second digit or Enter, unless it only marks. Enter picks what
/// the mark stands on.
pub(super) fn pick(
    screen: &mut Screen,
    input: &mut Input,
    list: &mut List<'_>,
) -> Result<Picked, RespondentError> {
    list.words = false;
    loop {
        if let Said::Picked(picked) = said(screen, input, list)? {
            return Ok(picked);
        }
    }
}

/// Lets the person pick, or type words to search the list by.
pub(super) fn pick_or_search(
    screen: &mut Screen,
    input: &mut Input,
    list: &mut List<'_>,
) -> Result<Said, RespondentError> {
    list.words = true;
    match said(screen, input, list)? {
        // By keys only the first letter came yet.
        Said::Words(begun) if matches!(input, Input::Keys(_)) => {
            Ok(Said::Words(input.text_from(screen, WORDS, &begun)?))
        }
        said => Ok(said),
    }
}

fn said(screen: &mut Screen, input: &mut Input, list: &mut List<'_>) -> Result<Said, RespondentError> {
    match (screen.term().cloned(), &*input) {
        (Some(term), Input::Keys(signals)) => by_keys(screen, &term, signals, list),
        _ => by_lines(screen, input, list),
    }
}

/// What the prompt for words says.
const WORDS: &str = "words, then Enter";

fn by_lines(screen: &mut Screen, input: &mut Input, list: &List<'_>) -> Result<Said, RespondentError> {
    for (place, entry) in list.entries.iter().enumerate() {
        screen.wrapped(&lead(place, false), entry, None)?;
    }
    for offer in screen.wrap_offers(list.offers) {
        screen.line(&offer)?;
    }
    let prompt = if list.words {
        "number, letter or words"
    } else {
        "number or letter"
    };
    loop {
        let typed = input.text(screen, prompt)?;
        let mut characters = typed.chars();
        if let (Some(letter), None) = (characters.next(), characters.next())
            && list.letters.contains(&letter.to_ascii_lowercase())
        {
            return Ok(Said::Picked(Picked::Letter(letter.to_ascii_lowercase())));
        }
        match typed.parse::<usize>() {
            Ok(number @ 1..) if number <= list.entries.len() => {
                return Ok(Said::Picked(Picked::Entry(number - 1)));
            }
            Err(_) if list.words && typed.chars().filter(|c| c.is_alphabetic()).count() > 1 => {
                return Ok(Said::Words(typed));
            }
            _ => screen.wrapped(
                "  not taken: ",
                &format!(
                    "`{typed}` is neither a number from 1 to {} nor a letter offered",
                    list.entries.len()
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
    list: &mut List<'_>,
) -> Result<Said, RespondentError> {
    let mut number = Number::of(list.entries.len(), list.marks);
    let mut hint = String::new();
    let key_by_key = KeyByKey::begin();
    let mut size = term.size();
    let mut drawn = draw(screen, list, &hint)?;
    term.hide_cursor()?;
    let picked = loop {
        let step = match key_unless_resized(term, signals, size) {
            Ok(Some(Key::CtrlC)) => break Ok(Said::Picked(Picked::Stop)),
            Ok(Some(key)) => step(list, key, &mut number, &drawn, &mut hint),
            Ok(None) => {
                // The terminal has moved the lines about: nothing can be cleared by counting them.
                size = term.size();
                screen.said_again()?;
                drawn = draw(screen, list, &hint)?;
                Step::Stay
            }
            Err(told) => break Err(told),
        };
        match step {
            Step::Stay => continue,
            Step::Said(said) => break Ok(said),
            Step::Moved => {
                term.clear_last_lines(drawn.lines)?;
                drawn = draw(screen, list, &hint)?;
            }
        }
    };
    drop(key_by_key);
    term.show_cursor()?;
    term.clear_last_lines(drawn.lines)?;
    picked
}

/// What a key does to a list.
enum Step {
    Stay,
    Moved,
    Said(Said),
}

fn step(list: &mut List<'_>, key: Key, number: &mut Number, drawn: &Drawn, hint: &mut String) -> Step {
    let count = list.entries.len();
    let said = !hint.is_empty();
    hint.clear();
    let after_letter = std::mem::take(&mut list.after_letter);
    if !matches!(key, Key::Char('0'..='9') | Key::Enter | Key::Backspace) {
        number.clear();
    }
    match key {
        Key::Enter if after_letter && count > 0 => {
            "the letter was enough; Enter again takes the marked line".clone_into(hint);
        }
        Key::Enter if count > 0 => {
            let by_number = number.is_begun();
            let picked = list.at;
            if by_number {
                list.at = 0;
            }
            return Step::Said(Said::Picked(Picked::Entry(picked)));
        }
        Key::Escape if list.letters.contains(&ESCAPE) => {
            return Step::Said(Said::Picked(Picked::Letter(ESCAPE)));
        }
        Key::ArrowUp if count > 0 => list.at = (list.at + count - 1) % count,
        Key::ArrowDown | Key::Tab if count > 0 => list.at = (list.at + 1) % count,
        Key::PageDown | Key::Char(' ') if drawn.last < count => list.at = drawn.last,
        Key::Char(' ') => list.at = 0,
        Key::PageUp => list.at = drawn.first.saturating_sub(1),
        Key::Home => list.at = 0,
        Key::End => list.at = count.saturating_sub(1),
        Key::Backspace if number.is_begun() => {
            number.clear();
        }
        Key::Char(digit @ '0'..='9') => {
            if number.typed(digit) {
                let picked = number.place();
                if let (Some(place), true) = (picked, number.is_whole()) {
                    list.at = 0;
                    return Step::Said(Said::Picked(Picked::Entry(place)));
                }
                list.at = picked.unwrap_or(list.at);
                *hint = format!("number: {}_", number.shown());
            } else {
                *hint = format!("no {digit} here: 1 to {count}");
            }
        }
        Key::Char(letter) if list.letters.contains(&letter.to_ascii_lowercase()) => {
            return Step::Said(Said::Picked(Picked::Letter(letter.to_ascii_lowercase())));
        }
        Key::Char(letter) if list.words && letter.is_alphabetic() => {
            return Step::Said(Said::Words(letter.to_string()));
        }
        _ if said => {}
        _ => return Step::Stay,
    }
    Step::Moved
}

/// The number of an entry, as far as it is typed.
struct Number {
    entries: usize,
    /// A digit that begins no longer number is not waited after.
    at_once: bool,
    typed: String,
}

impl Number {
    fn of(entries: usize, at_once: bool) -> Self {
        Self {
            entries,
            at_once,
            typed: String::new(),
        }
    }

    /// Takes a digit; whether a number of the list begins so. A pair out of range starts again from the second digit.
    fn typed(&mut self, digit: char) -> bool {
        self.typed.push(digit);
        if self.place().is_none() {
            self.typed = digit.to_string();
        }
        let fits = self.place().is_some();
        if !fits {
            self.typed.clear();
        }
        fits
    }

    fn place(&self) -> Option<usize> {
        let number: usize = self.typed.parse().ok()?;
        (1..=self.entries).contains(&number).then(|| number - 1)
    }

    /// Whether no further digit is waited for.
    fn is_whole(&self) -> bool {
        let begins_no_other = |place: usize| (place + 1) * 10 > self.entries;
        self.typed.len() >= self.entries.to_string().len()
            || (self.at_once && self.place().is_some_and(begins_no_other))
    }

    fn is_begun(&self) -> bool {
        !self.typed.is_empty()
    }

    fn shown(&self) -> &str {
        &self.typed
    }

    fn clear(&mut self) {
        self.typed.clear();
    }
}

/// Lines kept for what stands above a list, however little it is.
const LEAST_HEAD: usize = 5;

/// Lines of a list shown however much stands above it.
const LEAST_ROOM: usize = 3;

/// What stands on the screen of a list.
struct Drawn {
    /// Lines it took.
    lines: usize,
    /// The first entry shown.
    first: usize,
    /// One past the last entry shown.
    last: usize,
}

/// Draws the page of the list that holds the marked entry.
fn draw(screen: &mut Screen, list: &List<'_>, hint: &str) -> io::Result<Drawn> {
    let at = list.at;
    let blocks: Vec<Vec<String>> = list
        .entries
        .iter()
        .enumerate()
        .map(|(place, entry)| screen.wrap(&lead(place, place == at), entry))
        .collect();
    let offers = screen.wrap_offers(list.offers);
    // The question stays in sight above its answers; two lines say how many more there are, one says what is typed, and
    // one holds the cursor.
    let above = screen.head().max(LEAST_HEAD);
    let room = screen
        .rows()
        .saturating_sub(offers.len() + above + 4)
        .max(LEAST_ROOM);
    let (first, last) = page(&blocks, at, room);
    let mut lines = Vec::new();
    if first > 0 {
        lines.push(format!("      ({first} more above: PageUp)"));
    }
    for (place, block) in blocks.iter().enumerate().take(last).skip(first) {
        let mark = (place == at).then_some(Mark::Strong);
        lines.extend(block.iter().map(|line| screen.mark(line, mark)));
    }
    if last < blocks.len() {
        lines.push(format!(
            "      ({} more below: PageDown or space)",
            blocks.len() - last
        ));
    }
    lines.extend(offers.iter().map(|offer| screen.mark(offer, Some(Mark::Quiet))));
    if !hint.is_empty() {
        lines.extend(screen.wrap("  ", hint));
    }
    for line in &lines {
        screen.passing_line(line)?;
    }
    Ok(Drawn {
        lines: lines.len(),
        first,
        last,
    })
}

/// The page of at most `room` lines that holds an entry: its first entry, and one past its last. Every page begins where the one
/// before ends, so that entries keep their places while the mark moves.
fn page(blocks: &[Vec<String>], at: usize, room: usize) -> (usize, usize) {
    let (mut first, mut lines) = (0, 0);
    for (place, block) in blocks.iter().enumerate() {
        if place > first && lines + block.len() > room {
            if place > at {
                return (first, place);
            }
            (first, lines) = (place, 0);
        }
        lines += block.len();
    }
    (first, blocks.len())
}

fn lead(place: usize, marked: bool) -> String {
    format!("{} {:>2}  ", if marked { ">" } else { " " }, place + 1)
}

#[cfg(test)]
mod tests {
    use super::{Number, page};

    #[test]
    fn the_page_holds_the_marked_entry_and_fits() {
        let blocks: Vec<Vec<String>> = (0..20).map(|n| vec![String::new(); 1 + n % 3]).collect();
        for at in 0..blocks.len() {
            for room in 3..30 {
                let (first, last) = page(&blocks, at, room);
                assert!(first <= at && at < last);
                assert!(blocks[first..last].iter().map(Vec::len).sum::<usize>() <= room);
            }
        }
        assert_eq!(page(&blocks[..2], 0, 10), (0, 2));
        assert_eq!(page(&[], 0, 10), (0, 0));
    }

    #[test]
    fn a_digit_waits_for_a_second_one_in_a_list_of_ten_or_more() {
        let mut number = Number::of(9, false);
        assert!(number.typed('9') && number.is_whole());
        let mut number = Number::of(12, false);
        assert!(number.typed('1') && !number.is_whole());
        assert!(number.typed('2') && number.is_whole());
        assert_eq!(number.place(), Some(11));
        let mut number = Number::of(12, true);
        assert!(number.typed('1') && !number.is_whole() && number.typed('3') && number.is_whole());
    }

    #[test]
    fn a_pair_out_of_range_starts_again_from_the_second_digit() {
        let mut number = Number::of(12, false);
        assert!(number.typed('1') && number.typed('5') && !number.is_whole());
        assert_eq!(number.place(), Some(4));
        assert!(!Number::of(4, false).typed('5') && !Number::of(40, false).typed('0'));
    }
}
