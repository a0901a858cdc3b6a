//! What a choice does to a run: carried out, refused, or stopped and counted.

use crate::inference::gain;
use crate::inference::price::FACT_MINUTES;
use crate::knowledge::model::{FactIndex, Hazard, HoldIndex, State, TestIndex, TestKind};
use crate::quantity::{Value, Word};
use crate::rig::bench::Because;
use crate::walk::{self, Ability, Event, Question, Refusal, Reply, Resolution};

use super::step::{Did, Ending, Happened, Step, Unsafe};
use super::{Choice, Session};

impl Session<'_> {
    /// Does what was chosen.
    ///
    /// # Errors
    /// When it makes no sense here; nothing has changed then, and it costs nothing.
    pub fn act(&mut self, choice: &Choice) -> Result<Vec<Happened>, Refusal> {
        if self.ended.is_some() {
            return Err(refusal("the exercise is over"));
        }
        let happened = match choice {
            Choice::Walk => self.go_on()?,
            Choice::Ask(ids) => self.ask(ids)?,
            Choice::Test(id) => self.pick(id)?,
            Choice::Straight => self.straight()?,
            Choice::Fact(id) => self.look_up(id)?,
            Choice::Calculation(id) => self.calculate(id)?,
            Choice::Hint => self.hint(),
            Choice::Name(id) => self.name(id)?,
            Choice::GiveUp => self.end(Ending::GaveUp),
        };
        if !matches!(choice, Choice::Walk | Choice::Test(_)) {
            self.waiting = None;
        }
        self.choices.push(choice.clone());
        Ok(happened)
    }

    /// What the walk asks, or the steps before the test picked.
    fn go_on(&mut self) -> Result<Vec<Happened>, Refusal> {
        if let Some(test) = self.waiting.take() {
            let mut happened = Vec::new();
            if let Some(state) = self.walk.to_prepare(test) {
                happened.push(self.prepare(state)?);
            }
            happened.extend(self.make(test, false)?);
            return Ok(happened);
        }
        match self.walk.question().clone() {
            Question::Offer { .. } => Err(refusal("mark what to ask")),
            Question::Test { test, .. } => self.make(test, true),
            Question::Fact { fact, .. } => self.read(fact, true),
            Question::Caution { state, test } => {
                let mut happened = vec![self.prepare(state)?];
                if matches!(self.walk.question(), Question::Test { test: next, .. } if *next == test) {
                    happened.extend(self.make(test, true)?);
                }
                Ok(happened)
            }
            Question::Halt { .. } if !self.halted => {
                self.halted = true;
                Ok(Vec::new())
            }
            Question::Halt { .. } => Err(refusal(
                "it was stopped for safety: nothing is done here any more",
            )),
            Question::Finish => self.further(),
            Question::Complaint | Question::Equipment | Question::Accessories | Question::Able { .. } => {
                Err(refusal("this is given with the exercise"))
            }
        }
    }

    /// The walk goes on asking, where anything left would tell enough.
    fn further(&mut self) -> Result<Vec<Happened>, Refusal> {
        let mut further = self.walk.clone();
        let taken = further.receive(&Reply::Further)?;
        let known = further.apply(&taken.event);
        if known.is_err() || *further.question() == Question::Finish {
            return Err(refusal(
                "nothing left to ask would tell enough: name it, or pick a test yourself",
            ));
        }
        self.take(&Reply::Further)
    }

    fn ask(&mut self, ids: &[String]) -> Result<Vec<Happened>, Refusal> {
        if !matches!(self.walk.question(), Question::Offer { .. }) {
            return Err(refusal("nothing is offered to be asked"));
        }
        self.take(&Reply::listed(ids.iter().map(String::as_str)))?;
        Ok(Vec::new())
    }

    /// A look or reading picked freely.
    fn pick(&mut self, id: &str) -> Result<Vec<Happened>, Refusal> {
        let test = self.find(id)?;
        if let TestKind::Calculation { .. } = self.knowledge.tests[test].kind {
            return Err(refusal("this is calculated, not looked at or measured"));
        }
        self.waiting = None;
        let told = self.knowledge.tests[test].state == State::Told;
        if let Some(hold) = self.walk.ending_hold().filter(|_| !told && !self.is_asked(test)) {
            return Ok(self.stop(test, Some(hold), None));
        }
        if !told {
            self.refuse_after_halt()?;
        }
        if let Some(stopped) = self.walk.stopped(test) {
            return Ok(self.stop(test, Some(stopped.hold), stopped.first));
        }
        if let Some(state) = self.walk.to_prepare(test) {
            self.waiting = Some(test);
            return Ok(vec![Happened::StepsFirst { state, test }]);
        }
        self.make(test, false)
    }

    /// Where the walk was stopped for safety, nobody goes back for a plate or a look.
    fn refuse_after_halt(&self) -> Result<(), Refusal> {
        match self.walk.question() {
            Question::Halt { .. } => Err(refusal(
                "it was stopped for safety: nothing is done here any more",
            )),
            _ => Ok(()),
        }
    }

    /// The test that waits for steps, without them: never made.
    fn straight(&mut self) -> Result<Vec<Happened>, Refusal> {
        let asked = match self.walk.question() {
            Question::Caution { test, .. } => Some(*test),
            _ => None,
        };
        match self.waiting.take().or(asked) {
            Some(test) => Ok(self.stop(test, None, None)),
            None => Err(refusal("no steps come before this")),
        }
    }

    fn stop(&mut self, test: TestIndex, hold: Option<HoldIndex>, first: Option<TestIndex>) -> Vec<Happened> {
        let wrong = Unsafe {
            test,
            hold,
            first,
            before: self.steps.len(),
        };
        self.wrong.push(wrong);
        vec![Happened::Stopped(wrong)]
    }

    fn look_up(&mut self, id: &str) -> Result<Vec<Happened>, Refusal> {
        let fact = self
            .knowledge
            .fact(id)
            .ok_or_else(|| refusal(&format!("there is no fact `{id}`")))?;
        let own = self.walk.installation();
        if !own.is_some_and(|own| self.knowledge.facts[fact].applies_to(own)) {
            return Err(refusal("this equipment has no such fact"));
        }
        self.refuse_after_halt()?;
        self.read(fact, false)
    }

    /// A calculation: facts it lacks are looked up; readings are named, to be taken first.
    fn calculate(&mut self, id: &str) -> Result<Vec<Happened>, Refusal> {
        let test = self.find(id)?;
        if !matches!(self.knowledge.tests[test].kind, TestKind::Calculation { .. }) {
            return Err(refusal("this is no calculation"));
        }
        self.refuse_after_halt()?;
        let takes = self.walk.takes(test);
        if !takes.readings.is_empty() {
            return Ok(vec![Happened::Lacks {
                test,
                readings: takes.readings,
            }]);
        }
        let mut happened = Vec::new();
        for fact in takes.facts {
            happened.extend(self.read(fact, false)?);
        }
        let made = |happened: &[Happened]| {
            happened
                .iter()
                .any(|one| matches!(one, Happened::Calculated { test: of, .. } if *of == test))
        };
        if !made(&happened) {
            happened.push(self.finding(test));
        }
        Ok(happened)
    }

    fn finding(&self, test: TestIndex) -> Happened {
        let made = self.walk.calculated().iter().find(|made| made.test == test);
        let finding = match made.map(|made| &made.result) {
            Some(Ok(report)) => report.finding.clone(),
            Some(Err(error)) => format!("cannot tell: {error}"),
            None => "cannot be worked out: a fact it needs is not to be found".to_owned(),
        };
        Happened::Calculated { test, finding }
    }

    fn hint(&mut self) -> Vec<Happened> {
        self.hints += 1;
        vec![Happened::Leads {
            leaders: self.leaders(3),
        }]
    }

    fn name(&mut self, id: &str) -> Result<Vec<Happened>, Refusal> {
        let cause = self
            .knowledge
            .cause(id)
            .ok_or_else(|| refusal(&format!("there is no cause `{id}`")))?;
        Ok(self.end(Ending::Named(cause)))
    }

    fn end(&mut self, ending: Ending) -> Vec<Happened> {
        self.ended = Some(ending);
        vec![Happened::Over(ending)]
    }

    fn find(&self, id: &str) -> Result<TestIndex, Refusal> {
        let test = self
            .knowledge
            .test(id)
            .ok_or_else(|| refusal(&format!("there is no test `{id}`")))?;
        if !self.walk.applies(test) {
            Err(refusal("this does not apply to the equipment"))
        } else if !self.has(test) {
            Err(refusal("this belongs to another complaint"))
        } else {
            Ok(test)
        }
    }

    /// Does the steps for a state.
    fn prepare(&mut self, state: State) -> Result<Happened, Refusal> {
        let minutes = gain::change_of_state(state, self.walk.state());
        let test = match self.walk.question() {
            Question::Caution { state: asked, test } if *asked == state => {
                Some(self.knowledge.tests[*test].id.clone())
            }
            _ => None,
        };
        self.give(&Event::Acknowledged { state, test })?;
        self.pending_minutes += minutes;
        Ok(Happened::Prepared { state, minutes })
    }

    /// Makes a look or reading: the fault answers. `asked`: it is what the walk asks.
    fn make(&mut self, test: TestIndex, asked: bool) -> Result<Vec<Happened>, Refusal> {
        let known = &self.knowledge.tests[test];
        let own = gain::ASKING_MINUTES + known.minutes;
        let again = !asked && self.walk.resolution(test) != Resolution::Open && !self.walk.is_wanted(test);
        // A proof that clears a danger may have to come out anew; anything else asked twice says the same.
        if again {
            let minutes = own + std::mem::take(&mut self.pending_minutes);
            let found = self.found(test);
            let truth = self.truth();
            self.steps.push(self.step(
                Did::Test(test),
                found.clone(),
                asked,
                minutes,
                (truth, truth),
                0.0,
            ));
            return Ok(vec![Happened::Again { test, found, minutes }]);
        }
        let mut happened = Vec::new();
        // What the reading is held against is looked up with it.
        if !asked {
            for fact in self.walk.takes(test).facts {
                happened.extend(self.read(fact, false)?);
            }
        }
        let answer = self.hidden().answer(self.knowledge, test);
        let reply = |answer: Option<String>| match (asked, answer) {
            (true, Some(answer)) => Reply::Answer(answer),
            (true, None) => Reply::CouldNotCheck,
            (false, answer) => Reply::Volunteer {
                test: known.id.clone(),
                answer,
            },
        };
        let (followed, before) = (asked || self.is_asked(test), self.snapshot());
        let made = self.take(&reply(answer.clone()));
        // A figure of the meter that the walk takes from nobody is as good as none.
        let more = match answer {
            Some(_) => made.or_else(|_| self.take(&reply(None)))?,
            None => made?,
        };
        let waits = self.wait(known.state);
        if waits > 0.0 {
            happened.push(Happened::LetRun { minutes: waits });
        }
        let minutes = own + waits + std::mem::take(&mut self.pending_minutes);
        let found = self.found(test);
        let step = self.step_since(Did::Test(test), found.clone(), followed, minutes, &before);
        self.steps.push(step);
        happened.push(Happened::Made { test, found, minutes });
        happened.extend(more);
        Ok(happened)
    }

    /// Looks up a fact.
    fn read(&mut self, fact: FactIndex, asked: bool) -> Result<Vec<Happened>, Refusal> {
        let known = &self.knowledge.facts[fact];
        let value = self.hidden().fact(fact);
        let reply = match (asked, value) {
            (true, Some(value)) => Reply::Answer(value),
            (true, None) => Reply::CouldNotCheck,
            (false, value) => Reply::Correct {
                fact: known.id.clone(),
                value,
            },
        };
        let before = self.snapshot();
        let more = self.take(&reply)?;
        let value = match self.walk.fact(fact) {
            Some(Some(Value::Choice(id))) => {
                let choice = known.choices.iter().find(|choice| choice.id == *id);
                choice.map_or_else(|| id.clone(), |choice| choice.label.clone())
            }
            Some(Some(value)) => value.to_string(),
            _ => "not to be found".to_owned(),
        };
        let step = self.step_since(Did::Fact(fact), value.clone(), asked, FACT_MINUTES, &before);
        self.steps.push(step);
        let mut happened = vec![Happened::Read { fact, value }];
        happened.extend(more);
        Ok(happened)
    }

    /// Minutes it is let run before the first test that meets it running.
    fn wait(&self, state: State) -> f64 {
        let runs = |state: State| matches!(state, State::Running | State::Energised);
        let ran = self.steps.iter().any(|step| runs(step.state));
        if ran { 0.0 } else { self.fault.waits(state) }
    }

    /// Whether the walk asks for a test now, the steps before it included.
    fn is_asked(&self, test: TestIndex) -> bool {
        matches!(self.walk.question(), Question::Test { test: asked, .. } | Question::Caution { test: asked, .. } if *asked == test)
    }

    /// What a test came to, in words.
    fn found(&self, test: TestIndex) -> String {
        let outcomes = &self.knowledge.tests[test].outcomes;
        let label = match self.walk.resolution(test) {
            Resolution::Known(outcome) => Some(outcomes[outcome].label.as_str()),
            _ => None,
        };
        match (self.walk.reading(test), label) {
            (Some(read), Some(label)) => format!("{read}: {label}"),
            (Some(read), None) => read.to_string(),
            (None, Some(label)) => label.to_owned(),
            (None, None) => match self.hidden().why_not(self.knowledge, test) {
                Some(Because::Trips) => "cannot be read: the breaker trips at once".to_owned(),
                Some(Because::DoesNotRun) => "cannot be read: it does not run".to_owned(),
                Some(Because::NoSuchPart) => "cannot be read: there is no such part here".to_owned(),
                _ => "cannot be checked here".to_owned(),
            },
        }
    }

    fn snapshot(&self) -> Vec<f64> {
        self.walk
            .standing()
            .map(|standing| standing.probabilities().to_vec())
            .unwrap_or_default()
    }

    fn step_since(&self, did: Did, found: String, followed: bool, minutes: f64, before: &[f64]) -> Step {
        let after = self.snapshot();
        let place = self
            .walk
            .model()
            .and_then(|model| model.place(self.hidden().truth()));
        let of = |shares: &[f64]| place.and_then(|place| shares.get(place).copied()).unwrap_or(0.0);
        let moved = before.iter().zip(&after).map(|(a, b)| (a - b).abs()).sum::<f64>() / 2.0;
        self.step(did, found, followed, minutes, (of(before), of(&after)), moved)
    }

    fn step(
        &self,
        did: Did,
        found: String,
        followed: bool,
        minutes: f64,
        truth: (f64, f64),
        moved: f64,
    ) -> Step {
        let (hazard, state) = match did {
            Did::Test(test) => {
                let known = &self.knowledge.tests[test];
                (known.hazard, known.state)
            }
            Did::Fact(_) => (Hazard::None, State::Any),
        };
        Step {
            did,
            found,
            followed,
            minutes,
            hazard,
            state,
            truth,
            leader: self.leaders(1).first().map(|(cause, _)| *cause),
            moved,
        }
    }

    /// Lets the walk take a reply and what follows from it; what can be done is always everything.
    fn take(&mut self, reply: &Reply) -> Result<Vec<Happened>, Refusal> {
        let event = self.walk.receive(reply)?.event;
        let happened = self.give(&event)?;
        if matches!(self.walk.question(), Question::Able { .. }) {
            self.give(&Event::Able {
                to: Ability::ALL.to_vec(),
            })?;
        }
        Ok(happened)
    }

    fn give(&mut self, event: &Event) -> Result<Vec<Happened>, Refusal> {
        let follows = walk::follow(&mut self.walk, event).map_err(|error| refusal(&error.to_string()))?;
        Ok(follows
            .into_iter()
            .filter_map(|event| match event {
                Event::Calculated { test, finding, .. } => Some(Happened::Calculated {
                    test: self.knowledge.test(&test)?,
                    finding,
                }),
                Event::DefectFound { name, .. } => Some(Happened::Defect { name }),
                _ => None,
            })
            .collect())
    }
}

fn refusal(reason: &str) -> Refusal {
    Refusal {
        reason: reason.to_owned(),
    }
}
