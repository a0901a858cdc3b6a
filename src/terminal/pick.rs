//! Picking from a list by arrow keys, digits, letters or words.

use std::io;

use console::{Key, Term};

use crate::walk::RespondentError;

use super::input::{Input, KeyByKey, key_at_once, key_unless_resized};
use super::line::Begun;
use super::screen::{Mark, Screen};
use super::signals::Signals;

/// The letter that stands for the Escape key, where that is among the letters.
pub(super) const ESCAPE: char = '\u{1b}';

/// The letter that leaves the program, which asks once more: it also begins words.
const LEAVE: char = 's';

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
    Words(String),
}

/// A list to pick from.
#[derive(Default)]
pub(super) struct List<'a> {
    /// The entries, numbered from 1.
    pub(super) entries: &'a [String],
    /// Their numbers, rising, where they are not counted from 1.
    pub(super) numbers: &'a [usize],
    /// Letters that mean something here.
    pub(super) letters: &'a [char],
    /// What the letters mean.
    pub(super) offers: &'a [String],
    /// The entry marked first, and then the one to go on at: the same after Enter, the first after a number.
    pub(super) at: usize,
    /// Letters that are not offered begin words to search by; set by how the list is picked from.
    pub(super) words: bool,
    /// Why an Enter that comes before any other key is not taken for an answer, if it is not; it is taken the second time.
    pub(super) doubt: Option<&'static str>,
    /// Set where one key was enough, so that an Enter after it is not meant for what comes next.
    pub(super) one_key: bool,
}

impl List<'_> {
    /// The number an entry is picked by.
    fn number(&self, place: usize) -> usize {
        self.numbers.get(place).copied().unwrap_or(place + 1)
    }

    fn all_numbers(&self) -> Vec<usize> {
        (0..self.entries.len()).map(|place| self.number(place)).collect()
    }
}

/// Lets the person pick an entry, or one of the letters.
///
/// A digit picks at once where no number has two; elsewhere a number is shown and Enter takes it. Enter picks what the mark
/// stands on.
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

/// Lets the person pick, or type words to search by. Once words are begun no letter means anything else.
pub(super) fn pick_or_search(
    screen: &mut Screen,
    input: &mut Input,
    list: &mut List<'_>,
) -> Result<Said, RespondentError> {
    list.words = true;
    match said(screen, input, list)? {
        // By keys only the first letter came yet.
        Said::Words(begun) if matches!(input, Input::Keys(_)) => Ok(Said::Words(input.text_from(
            screen,
            WORDS,
            Begun::Typed(&begun),
        )?)),
        said => Ok(said),
    }
}

fn said(screen: &mut Screen, input: &mut Input, list: &mut List<'_>) -> Result<Said, RespondentError> {
    list.one_key = false;
    match (screen.term().cloned(), &*input) {
        (Some(term), Input::Keys(signals)) => by_keys(screen, &term, signals, list),
        _ => by_lines(screen, input, list),
    }
}

/// What the prompt for words says. The Escape key does nothing in a line that is typed.
const WORDS: &str = "words, then Enter; empty to leave";

fn by_lines(screen: &mut Screen, input: &mut Input, list: &List<'_>) -> Result<Said, RespondentError> {
    for (place, entry) in list.entries.iter().enumerate() {
        screen.wrapped(&lead(list.number(place), false), entry, None)?;
    }
    for offer in screen.wrap_offers(list.offers) {
        screen.line(&offer)?;
    }
    let prompt = if list.words {
        "number, letter or words"
    } else {
        "number or letter"
    };
    let numbers = list.all_numbers();
    loop {
        let typed = input.text(screen, prompt)?;
        let mut characters = typed.chars();
        if let (Some(letter), None) = (characters.next(), characters.next())
            && list.letters.contains(&letter.to_ascii_lowercase())
        {
            return Ok(Said::Picked(Picked::Letter(letter.to_ascii_lowercase())));
        }
        match typed.parse::<usize>() {
            Ok(number) if numbers.contains(&number) => {
                let place = numbers.iter().position(|known| *known == number);
                return Ok(Said::Picked(Picked::Entry(place.unwrap_or_default())));
            }
            Err(_) if list.words && typed.chars().filter(|c| c.is_alphabetic()).count() > 1 => {
                return Ok(Said::Words(typed));
            }
            _ => screen.wrapped(
                "  not taken: ",
                &match from_to(&numbers) {
                    Some(ends) => format!("`{typed}` is neither a number from {ends} nor a letter offered"),
                    None => format!("`{typed}` is neither a number of the list nor a letter offered"),
                },
                None,
            )?,
        }
    }
}

/// The ends of numbers without gaps.
fn from_to(numbers: &[usize]) -> Option<String> {
    let (first, last) = (numbers.first()?, numbers.last()?);
    (last - first + 1 == numbers.len()).then(|| format!("{first} to {last}"))
}

fn by_keys(
    screen: &mut Screen,
    term: &Term,
    signals: &Signals,
    list: &mut List<'_>,
) -> Result<Said, RespondentError> {
    let mut keys = Keys::of(list);
    let key_by_key = KeyByKey::begin();
    let mut size = term.size();
    let mut drawn = show(screen, list, &keys.hint)?;
    term.hide_cursor()?;
    let picked = loop {
        let step = match key_unless_resized(term, signals, size) {
            Ok(Some(Key::CtrlC)) => break Ok(Said::Picked(Picked::Stop)),
            Ok(Some(key)) => step(list, key, &mut keys, &drawn),
            Ok(None) => {
                // The terminal has moved the lines about: nothing can be cleared by counting them.
                size = term.size();
                screen.said_again()?;
                drawn = show(screen, list, &keys.hint)?;
                Step::Stay
            }
            Err(told) => break Err(told),
        };
        match step {
            Step::Stay => continue,
            Step::Said(Said::Picked(Picked::Letter(letter))) if list.words && letter.is_alphabetic() => {
                break letter_or_word(term, list, letter);
            }
            Step::Said(said) => break Ok(said),
            Step::Moved => {
                term.clear_last_lines(drawn.lines)?;
                drawn = show(screen, list, &keys.hint)?;
            }
        }
    };
    drop(key_by_key);
    term.show_cursor()?;
    term.clear_last_lines(drawn.lines)?;
    picked
}

/// A letter that is offered, or the beginning of a word to search by: then another letter comes at once.
fn letter_or_word(term: &Term, list: &mut List<'_>, letter: char) -> Result<Said, RespondentError> {
    Ok(match key_at_once(term)? {
        Some(Key::Char(next)) if next.is_alphabetic() => Said::Words(format!("{letter}{next}")),
        next => {
            // The Enter that came with it is not one too many.
            list.one_key &= next != Some(Key::Enter);
            Said::Picked(Picked::Letter(letter))
        }
    })
}

/// What a key does to a list.
enum Step {
    Stay,
    Moved,
    Said(Said),
}

/// What the keys before this one come to.
struct Keys {
    number: Number,
    /// Said below the list.
    hint: String,
    /// Why Enter is not taken now; it is the second time.
    doubt: Option<String>,
    /// The letter that leaves was pressed once.
    leaving: bool,
}

impl Keys {
    fn of(list: &List<'_>) -> Self {
        Self {
            number: Number::of(list.all_numbers()),
            hint: String::new(),
            doubt: list.doubt.map(str::to_owned),
            leaving: false,
        }
    }
}

fn step(list: &mut List<'_>, key: Key, keys: &mut Keys, drawn: &Drawn) -> Step {
    let count = list.entries.len();
    let said = !std::mem::take(&mut keys.hint).is_empty();
    let doubt = keys.doubt.take();
    let leaving = std::mem::take(&mut keys.leaving);
    if !matches!(key, Key::Char('0'..='9') | Key::Enter | Key::Backspace) {
        keys.number.clear();
    }
    match key {
        Key::Enter if leaving => return Step::Said(Said::Picked(Picked::Letter(LEAVE))),
        Key::Enter if doubt.is_some() => keys.hint = doubt.unwrap_or_default(),
        Key::Enter if keys.number.is_begun() => match keys.number.place() {
            Some(place) => {
                list.at = 0;
                return Step::Said(Said::Picked(Picked::Entry(place)));
            }
            None => keys.hint = keys.number.refused(),
        },
        Key::Enter if count > 0 => return Step::Said(Said::Picked(Picked::Entry(list.at))),
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
        Key::Backspace if keys.number.is_begun() => keys.number.clear(),
        // Who was asked about stopping may not mean the question behind that.
        Key::Char('0'..='9') if leaving => {
            keys.hint = "not stopped; now press the number".to_owned();
            keys.doubt = Some("no number was taken; Enter again takes the marked line".to_owned());
        }
        Key::Char(digit @ '0'..='9') => {
            let refused = keys.number.typed(digit);
            if let (Some(place), None, false) = (keys.number.place(), &refused, keys.number.waits()) {
                list.at = 0;
                list.one_key = true;
                return Step::Said(Said::Picked(Picked::Entry(place)));
            }
            list.at = keys.number.place().unwrap_or(list.at);
            keys.hint = refused
                .clone()
                .unwrap_or_else(|| format!("number: {}_, then Enter", keys.number.typed));
            keys.doubt = refused.map(|refused| format!("{refused}; Enter again takes the marked line"));
        }
        Key::Char(letter) => return letter_step(list, letter.to_ascii_lowercase(), leaving, said, keys),
        _ if said => {}
        _ => return Step::Stay,
    }
    Step::Moved
}

/// What a letter does: it is one that is offered, it begins words, or it means nothing.
fn letter_step(list: &mut List<'_>, letter: char, leaving: bool, said: bool, keys: &mut Keys) -> Step {
    let offered = list.letters.contains(&letter);
    match letter {
        LEAVE if offered && leaving => return Step::Said(Said::Picked(Picked::Letter(LEAVE))),
        LEAVE if offered => {
            keys.leaving = true;
            keys.hint = "stop here? s again or Enter".to_owned();
            if list.words {
                keys.hint.push_str("; another letter begins words");
            }
        }
        _ if leaving && list.words && letter.is_alphabetic() => {
            return Step::Said(Said::Words(format!("{LEAVE}{letter}")));
        }
        _ if offered => {
            list.one_key = true;
            return Step::Said(Said::Picked(Picked::Letter(letter)));
        }
        _ if list.words && letter.is_alphabetic() => return Step::Said(Said::Words(letter.to_string())),
        // Words typed where none are read end with an Enter that must not answer anything.
        _ if letter.is_alphabetic() => {
            keys.doubt = Some("no words here; Enter again takes the marked line".to_owned());
        }
        _ if said => {}
        _ => return Step::Stay,
    }
    Step::Moved
}

/// The number of an entry, as far as it is typed.
struct Number {
    numbers: Vec<usize>,
    typed: String,
}

impl Number {
    fn of(numbers: Vec<usize>) -> Self {
        Self {
            numbers,
            typed: String::new(),
        }
    }

    /// Takes a digit. Where no number of the list begins so, it is said, and the next digit begins a new one.
    fn typed(&mut self, digit: char) -> Option<String> {
        self.typed.push(digit);
        let begins = |number: &usize| number.to_string().starts_with(&self.typed);
        if self.numbers.iter().any(begins) {
            return None;
        }
        let refused = self.refused();
        self.typed.clear();
        Some(refused)
    }

    /// That the number typed is none of the list.
    fn refused(&self) -> String {
        let ends = from_to(&self.numbers).map_or_else(String::new, |ends| format!(": {ends}"));
        format!("no {} here{ends}", self.typed)
    }

    fn place(&self) -> Option<usize> {
        let number: usize = self.typed.parse().ok()?;
        self.numbers.iter().position(|known| *known == number)
    }

    /// Whether a number is only taken by Enter: there are some of two digits.
    fn waits(&self) -> bool {
        self.numbers.last().is_some_and(|last| *last > 9)
    }

    fn is_begun(&self) -> bool {
        !self.typed.is_empty()
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
fn show(screen: &mut Screen, list: &List<'_>, hint: &str) -> io::Result<Drawn> {
    let at = list.at;
    let blocks: Vec<Vec<String>> = list
        .entries
        .iter()
        .enumerate()
        .map(|(place, entry)| screen.wrap(&lead(list.number(place), place == at), entry))
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

fn lead(number: usize, marked: bool) -> String {
    format!("{} {number:>2}  ", if marked { ">" } else { " " })
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

    fn list(count: usize) -> Number {
        Number::of((1..=count).collect())
    }

    #[test]
    fn a_number_waits_for_enter_in_a_list_of_ten_or_more() {
        let mut number = list(9);
        assert!(number.typed('9').is_none() && !number.waits());
        for count in [10, 13, 40] {
            let mut number = list(count);
            assert!(number.typed('1').is_none() && number.place() == Some(0) && number.waits());
            assert!(number.typed('0').is_none() && number.place() == Some(9) && number.waits());
        }
    }

    #[test]
    fn a_number_no_entry_has_is_said_and_the_next_digit_begins_a_new_one() {
        let mut number = list(11);
        assert!(number.typed('1').is_none());
        assert_eq!(number.typed('3').as_deref(), Some("no 13 here: 1 to 11"));
        assert!(!number.is_begun());
        assert!(number.typed('1').is_none() && number.typed('0').is_none());
        assert_eq!(number.place(), Some(9));
        let mut number = list(10);
        assert!(number.typed('1').is_none());
        assert_eq!(number.typed('2').as_deref(), Some("no 12 here: 1 to 10"));
        assert_eq!(list(4).typed('5').as_deref(), Some("no 5 here: 1 to 4"));
        let mut number = list(40);
        assert!(number.typed('0').is_some() && !number.is_begun());
    }

    #[test]
    fn numbers_with_gaps_are_those_shown() {
        let mut number = Number::of(vec![2, 3, 14]);
        assert!(number.typed('1').is_none() && number.place().is_none());
        assert!(number.typed('4').is_none() && number.place() == Some(2));
        assert_eq!(
            Number::of(vec![2, 3, 14]).typed('4').as_deref(),
            Some("no 4 here")
        );
    }
}
