//! One moment of an exercise: what the walk asks, and what can be chosen instead.

use crate::knowledge::model::{State, TestIndex, TestKind};
use crate::practice::{Choice, Happened, Session};
use crate::walk::{Question, RespondentError, caution};

use super::super::blocks;
use super::super::pick::Picked;
use super::super::screen::Mark;
use super::{Apprentice, LETTERS, Turn, Waited, words};

impl Apprentice {
    /// Asks for the next choice; nothing when the person stops.
    pub(super) fn moment(&mut self, session: &Session<'_>) -> Result<Option<Choice>, RespondentError> {
        loop {
            let turn = match (session.waiting(), session.question().clone()) {
                (Some(test), _) => match session.walk().to_prepare(test) {
                    Some(state) => self.steps_first(session, state, test)?,
                    None => Turn::Do(Choice::Walk),
                },
                (None, Question::Caution { state, test }) => self.steps_first(session, state, test)?,
                (None, Question::Offer { tests, known }) => self.offered(session, &tests, known)?,
                (None, Question::Test { test, .. }) => self.asked(session, test)?,
                (None, Question::Fact { fact, .. }) => {
                    let known = &session.walk().knowledge().facts[fact];
                    self.head(session, "from the plate or panel")?;
                    self.screen.wrapped("", &known.ask, Some(Mark::Strong))?;
                    self.screen.wrapped("  where: ", &known.find, None)?;
                    self.explain(&format!("{} {}", known.ask, known.find))?;
                    self.entries(session, &[("Look it up", Choice::Walk)])?
                }
                (None, Question::Halt { advice, call }) => self.halted(session, &advice, &call)?,
                (None, _) => {
                    self.head(session, "nothing more to ask")?;
                    let text = "The walk would conclude here. What is it?";
                    self.screen.wrapped("", text, Some(Mark::Strong))?;
                    self.entries(session, &[("Let the walk go on asking", Choice::Walk)])?
                }
            };
            match turn {
                Turn::Do(choice) => return Ok(Some(choice)),
                Turn::Stay => {}
                Turn::Leave => return Ok(None),
            }
        }
    }

    /// What the walk asks: a look, a reading, or something to be told.
    fn asked(&mut self, session: &Session<'_>, test: TestIndex) -> Result<Turn, RespondentError> {
        let known = &session.walk().knowledge().tests[test];
        self.head(session, &words::takes(known))?;
        self.screen.wrapped("", &known.ask, Some(Mark::Strong))?;
        if !known.caution.is_empty() && known.state.is_prepared() {
            self.screen
                .wrapped("  ! caution: ", &known.caution, Some(Mark::Danger))?;
        }
        self.explain(&format!("{} {}", known.name, known.ask))?;
        let label = match (&known.kind, known.state) {
            (TestKind::Reading { .. }, _) => "Measure it",
            (_, State::Told) => "Ask the customer",
            _ => "Look",
        };
        self.entries(session, &[(label, Choice::Walk)])
    }

    /// Steps that come before a test, to be done or skipped.
    fn steps_first(
        &mut self,
        session: &Session<'_>,
        state: State,
        test: TestIndex,
    ) -> Result<Turn, RespondentError> {
        let name = &session.walk().knowledge().tests[test].name;
        self.head(session, words::steps(state))?;
        for caution in caution::cautions(state) {
            self.screen.wrapped("  ! ", caution, Some(Mark::Danger))?;
        }
        self.screen.wrapped("  next: ", name, None)?;
        let choices = [
            ("Do these steps, then make it", Choice::Walk),
            ("Straight to it, without the steps", Choice::Straight),
        ];
        self.entries(session, &choices)
    }

    /// Several things to ask or to check, any number of them.
    fn offered(
        &mut self,
        session: &Session<'_>,
        tests: &[TestIndex],
        known: bool,
    ) -> Result<Turn, RespondentError> {
        let knowledge = session.walk().knowledge();
        let (what, ask) = if known {
            (
                "the customer",
                "What do you ask first? Its number and Enter mark it; each takes its time.",
            )
        } else {
            ("what can be checked", "Which of these do you check? Mark them.")
        };
        self.head(session, what)?;
        self.screen.wrapped("", ask, Some(Mark::Strong))?;
        let names: Vec<&str> = tests
            .iter()
            .map(|test| knowledge.tests[*test].name.as_str())
            .collect();
        self.explain(&names.join(" "))?;
        let mut marked: Vec<usize> = Vec::new();
        let (letters, lines) = letters();
        loop {
            let end = if marked.is_empty() {
                "None of these"
            } else {
                "That is all"
            };
            let mut labels = vec![end.to_owned()];
            labels.extend(names.iter().enumerate().map(|(place, name)| {
                format!("[{}] {name}", if marked.contains(&place) { "x" } else { " " })
            }));
            labels.push(NAME.to_owned());
            match self.pick(&labels, &letters, &lines)? {
                Picked::Entry(0) => {
                    let ids = marked
                        .iter()
                        .map(|place| knowledge.tests[tests[*place]].id.clone());
                    return Ok(Turn::Do(Choice::Ask(ids.collect())));
                }
                Picked::Entry(last) if last == names.len() + 1 => match self.name(session)? {
                    Turn::Stay => {}
                    turn => return Ok(turn),
                },
                Picked::Entry(place) => match marked.iter().position(|known| *known == place - 1) {
                    Some(known) => {
                        marked.remove(known);
                    }
                    None => marked.push(place - 1),
                },
                Picked::Letter(letter) => match self.letter(session, letter)? {
                    // What was marked stays marked.
                    Turn::Stay => {
                        self.head(session, what)?;
                        self.screen.wrapped("", ask, Some(Mark::Strong))?;
                    }
                    turn => return Ok(turn),
                },
                Picked::Stop => return Ok(Turn::Leave),
            }
        }
    }

    /// The walk stops for safety.
    fn halted(&mut self, session: &Session<'_>, advice: &str, call: &str) -> Result<Turn, RespondentError> {
        self.head(session, "STOP")?;
        self.screen.wrapped("  ! ", advice, Some(Mark::Danger))?;
        self.screen.wrapped("  call: ", call, Some(Mark::Danger))?;
        if session.is_halted() {
            self.screen.wrapped(
                "",
                "Nothing is done here any more. What is it?",
                Some(Mark::Strong),
            )?;
            let entries = [NAME.to_owned(), "I cannot tell: show me".to_owned()];
            return Ok(match self.pick(&entries, &['s'], &["s stop".to_owned()])? {
                Picked::Entry(0) => self.name(session)?,
                Picked::Entry(_) => Turn::Do(Choice::GiveUp),
                Picked::Letter(_) | Picked::Stop => Turn::Leave,
            });
        }
        self.entries(session, &[("Stop as it says", Choice::Walk)])
    }

    /// An entry for each of these choices, and a last one that names a cause.
    fn entries(
        &mut self,
        session: &Session<'_>,
        choices: &[(&str, Choice)],
    ) -> Result<Turn, RespondentError> {
        let labels = choices.iter().map(|(label, _)| *label).chain([NAME]);
        let labels: Vec<String> = labels.map(str::to_owned).collect();
        let (letters, lines) = letters();
        Ok(match self.pick(&labels, &letters, &lines)? {
            Picked::Entry(place) => match choices.get(place) {
                Some((_, choice)) => Turn::Do(choice.clone()),
                None => self.name(session)?,
            },
            Picked::Letter(letter) => self.letter(session, letter)?,
            Picked::Stop => Turn::Leave,
        })
    }

    fn letter(&mut self, session: &Session<'_>, letter: char) -> Result<Turn, RespondentError> {
        Ok(match letter {
            'o' => self.other_test(session)?,
            'f' => self.fact(session)?,
            'c' => self.calculation(session)?,
            'l' => Turn::Do(Choice::Hint),
            'g' => self.give_up()?,
            '?' | 'w' | 'k' => {
                let (title, lines) = match letter {
                    '?' => ("why it is asked, and how it is done", self.why(session)),
                    'w' => ("words", self.meanings(session)),
                    _ => ("known so far", self.known(session)),
                };
                match self.page(title, &lines, "back to the question")? {
                    Some(()) => Turn::Stay,
                    None => Turn::Leave,
                }
            }
            _ => Turn::Leave,
        })
    }

    fn why(&self, session: &Session<'_>) -> Vec<String> {
        let knowledge = session.walk().knowledge();
        match Self::about(session) {
            Some(test) => blocks::why(&self.screen, knowledge, &knowledge.tests[test]),
            None => self.screen.wrap(
                "why       ",
                "What tells most for its time and hazard comes first. What a customer can tell costs least.",
            ),
        }
    }

    fn meanings(&self, session: &Session<'_>) -> Vec<String> {
        let knowledge = session.walk().knowledge();
        let text = match (Self::about(session), session.question()) {
            (Some(test), _) => {
                let known = &knowledge.tests[test];
                format!(
                    "{} {} {} {}",
                    known.name,
                    known.ask,
                    known.why,
                    known.how.join(" ")
                )
            }
            (None, Question::Fact { fact, .. }) => {
                let known = &knowledge.facts[*fact];
                format!("{} {}", known.ask, known.find)
            }
            (None, Question::Offer { tests, .. }) => {
                let names: Vec<&str> = tests
                    .iter()
                    .map(|test| knowledge.tests[*test].name.as_str())
                    .collect();
                names.join(" ")
            }
            _ => knowledge.equipment[session.exercise().equipment].name.clone(),
        };
        let lines: Vec<String> = crate::practice::catalog::explained(&text)
            .into_iter()
            .flat_map(|(word, meaning)| self.screen.wrap(&format!("{word}: "), meaning))
            .collect();
        if lines.is_empty() {
            vec!["No word of this question is in the list of words.".to_owned()]
        } else {
            lines
        }
    }

    fn known(&self, session: &Session<'_>) -> Vec<String> {
        let customer =
            crate::practice::catalog::customer(session.walk().knowledge(), session.exercise().complaint);
        let mut lines = self.screen.wrap("customer: ", customer);
        for entry in session.known() {
            lines.extend(self.screen.wrap("- ", &blocks::step_words(session.walk(), entry)));
        }
        lines
    }

    /// Shows what came of a choice. What was stopped gets a screen of its own. `false`: the person stops there.
    pub(super) fn show(
        &mut self,
        session: &Session<'_>,
        happened: &[Happened],
    ) -> Result<bool, RespondentError> {
        for one in happened {
            let lines = words::happened_lines(session, one, self.screen.width());
            if let Happened::Stopped(_) = one {
                self.head(session, "STOPPED, not carried out")?;
                for line in &lines {
                    let line = self.screen.mark(line, Some(Mark::Danger));
                    self.screen.line(&line)?;
                }
                if self.wait("understood; go on")? == Waited::Stop {
                    return Ok(false);
                }
                continue;
            }
            for line in &lines {
                let mark = match one {
                    Happened::Made { .. } | Happened::Again { .. } => Some(Mark::Strong),
                    Happened::Defect { .. } => Some(Mark::Danger),
                    _ => None,
                };
                let line = self.screen.mark(line, mark);
                self.screen.line(&line)?;
            }
            if let Happened::Made { test, .. } = one {
                self.interpret(session, *test)?;
            }
        }
        Ok(true)
    }
}

impl Apprentice {
    /// Says, in the first exercise, what an answer means for the fault.
    fn interpret(&mut self, session: &Session<'_>, test: TestIndex) -> std::io::Result<()> {
        let Some(outcome) = session.hidden().outcome(test).filter(|_| self.guided) else {
            return Ok(());
        };
        let knowledge = session.walk().knowledge();
        let shown = &knowledge.tests[test].outcomes[outcome].shows;
        // Where it leaves several states open it says too little for a sentence.
        let says: Vec<&str> = shown
            .iter()
            .filter_map(|shown| match shown.states.as_slice() {
                [only] => Some(knowledge.effects[shown.effect].states[*only].says.as_str()),
                _ => None,
            })
            .collect();
        if says.is_empty() {
            return Ok(());
        }
        self.screen
            .wrapped("  that says: ", &says.join("; "), Some(Mark::Quiet))
    }
}

/// The letters beside every moment, and each with what it means.
fn letters() -> (Vec<char>, Vec<String>) {
    let letters = LETTERS.iter();
    letters
        .map(|(letter, words)| (*letter, format!("{letter} {words}")))
        .unzip()
}

/// The entry that ends an exercise.
const NAME: &str = "I know what it is";
