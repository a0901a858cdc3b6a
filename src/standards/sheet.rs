//! The sheet a calculation is worked out on: it checks the inputs, and gathers working, limits and sources.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Add;

use indexmap::IndexMap;

use super::amount::{Amount, Known, Leaf, Listed, Printed, Term, Text};
use super::calculation::{
    CANNOT_TELL, Calculation, Input, InputError, Inputs, Limit, Report, VerdictKind, Working, check_range,
};
use super::figure::keyed;
use super::handle::{Choice, In, List, Loads, OneOf, Out, Size, Symbol};
use super::measure::Measure;
use super::rule::{self, Edition};
use super::table::Table;
use crate::quantity::{ConductorSize, Kind, Load, Quantity, Value, ValueKind, Word, choice_among};

/// Name of the input that chooses the code edition, and of the fact that tells it.
pub const CODE_EDITION: &str = "code-edition";
/// Name of the input that gives the instrument's error.
pub(super) const METER_ERROR: &str = "meter-error";

/// What a calculation comes to.
pub(super) type Answer = Result<Report, InputError>;

/// One calculation being worked out.
pub(super) struct Sheet<'i> {
    calculation: &'static Calculation,
    inputs: &'i Inputs,
    /// The code edition used.
    pub(super) edition: Edition,
    /// Names of the inputs looked at so far: one given and never looked at is said to be unused.
    looked_at: RefCell<BTreeSet<&'static str>>,
    report: Report,
}

impl<'i> Sheet<'i> {
    /// Checks names, kinds, choices and ranges of the inputs and begins.
    pub(super) fn begin(calculation: &'static Calculation, inputs: &'i Inputs) -> Result<Self, InputError> {
        let rules = calculation.rules;
        for (name, value) in &inputs.0 {
            let input = calculation.known_input(name)?;
            check_kind(input, value)?;
            check_range(input, value)?;
            if let Some(other) = input.instead_of.iter().find(|other| inputs.get(other).is_some()) {
                return Err(InputError::Contradiction {
                    what: format!(
                        "`{other}` ({}) and `{name}` ({value}) say the same thing in two ways; give one of them",
                        inputs.get(other).map(Value::to_string).unwrap_or_default()
                    ),
                });
            }
        }
        let mut report = Report {
            calculation: calculation.name,
            outputs: IndexMap::new(),
            verdict: CANNOT_TELL,
            finding: String::new(),
            working: Vec::new(),
            limits: Vec::new(),
            assumptions: Vec::new(),
            notes: Vec::new(),
            sources: Vec::new(),
        };
        for input in calculation
            .inputs
            .iter()
            .filter(|input| inputs.get(input.name).is_none())
        {
            if input.is_required() {
                return Err(InputError::Missing {
                    input: input.name,
                    meaning: input.meaning,
                });
            }
            if let Some(other) = input.same_as {
                report.assumptions.push(format!(
                    "`{}` not given: taken to be the same as `{other}`",
                    input.name
                ));
            }
            if let Some(default) = input.default
                && input.matters(calculation, inputs)
            {
                report
                    .assumptions
                    .push(format!("`{}` not given: {default} assumed", input.name));
            }
        }
        let given = match inputs.get(CODE_EDITION) {
            Some(Value::Choice(id)) => Edition::of_word(id),
            _ => None,
        };
        let edition = given.unwrap_or_else(|| Edition::newest_checked(rules));
        if !rules.is_empty() {
            report.assumptions.push(match given {
                Some(edition) => format!("code edition {edition} as given; the local authority decides what is in force"),
                None => format!(
                    "`{CODE_EDITION}` not given: {edition}, the newest for which every rule used here was established; \
                     the local authority decides what is in force"
                ),
            });
        }
        Ok(Self {
            calculation,
            inputs,
            edition,
            looked_at: RefCell::default(),
            report,
        })
    }

    /// Returns an input, or its default, or nothing.
    pub(super) fn maybe<M: Measure>(&self, input: In<M>) -> Option<Known<M::Of>> {
        self.amount(&input.input).map(|quantity| {
            Amount(Leaf {
                symbol: input.symbol,
                value: M::of(quantity.base),
                kind: quantity.kind,
                printed: Printed::Keyed,
            })
        })
    }

    fn amount(&self, input: &Input) -> Option<Quantity> {
        self.look_at(input.name);
        match self.inputs.get(input.name) {
            Some(value) => value.quantity(),
            None => match input.same_as {
                Some(other) => self.amount(self.calculation.input(other)?),
                None => input.parse(input.default?).ok()?.quantity(),
            },
        }
    }

    /// Returns a required input or one with a default.
    pub(super) fn need<M: Measure>(&self, input: In<M>) -> Result<Known<M::Of>, InputError> {
        self.maybe(input).ok_or_else(|| self.missing(input))
    }

    /// Returns the error for an input that is needed in this case.
    pub(super) fn missing<T>(&self, input: In<T>) -> InputError {
        InputError::Missing {
            input: input.input.name,
            meaning: input.input.meaning,
        }
    }

    /// Says whether an input was given.
    pub(super) fn is_given<T>(&self, input: In<T>) -> bool {
        self.has(&input.input)
    }

    /// Says so of an input of any sort.
    pub(super) fn has(&self, input: &Input) -> bool {
        self.inputs.get(input.name).is_some()
    }

    fn look_at(&self, name: &'static str) {
        self.looked_at.borrow_mut().insert(name);
    }

    /// Returns a choice, or its default.
    pub(super) fn choice(&self, input: In<Choice>) -> Option<&'i str> {
        self.look_at(input.input.name);
        match self.inputs.get(input.input.name) {
            // A kept case may hold another spelling of the choice.
            Some(Value::Choice(id)) => choice_among(id, input.input.choices),
            Some(_) => None,
            None => input.input.default,
        }
    }

    /// Returns what a choice means, or its default.
    pub(super) fn one_of<W: Word>(&self, input: In<OneOf<W>>) -> Option<W> {
        let In { input, symbol, .. } = input;
        W::of_word(self.choice(In::new(symbol, input))?)
    }

    /// Returns what a choice that is needed in this case means.
    pub(super) fn need_one<W: Word>(&self, input: In<OneOf<W>>) -> Result<W, InputError> {
        self.one_of(input).ok_or_else(|| self.missing(input))
    }

    /// Returns a conductor size.
    pub(super) fn size(&self, input: In<Size>) -> Option<ConductorSize> {
        self.look_at(input.input.name);
        match self.inputs.get(input.input.name) {
            Some(Value::Size(size)) => Some(*size),
            _ => None,
        }
    }

    /// Returns a conductor size that is needed in this case.
    pub(super) fn need_size(&self, input: In<Size>) -> Result<ConductorSize, InputError> {
        self.size(input).ok_or_else(|| self.missing(input))
    }

    /// Returns the loads of a circuit.
    pub(super) fn loads(&self, input: In<Loads>) -> &'i [Load] {
        self.look_at(input.input.name);
        match self.inputs.get(input.input.name) {
            Some(Value::Loads(loads)) => loads,
            _ => &[],
        }
    }

    /// Returns several amounts of one kind; none where none was given.
    pub(super) fn list<M: Measure>(&self, input: In<List<M>>) -> Listed<M::Of>
    where
        M::Of: Add<Output = M::Of>,
    {
        self.look_at(input.input.name);
        let all: &[Quantity] = match self.inputs.get(input.input.name) {
            Some(Value::Quantities(all)) => all,
            Some(Value::Quantity(one)) => std::slice::from_ref(one),
            _ => &[],
        };
        Listed::new(input.symbol, all.iter().map(|one| M::of(one.base)).collect())
    }

    /// Takes the working back, where it turned out that nothing can be worked out.
    pub(super) fn no_working(&mut self) {
        self.report.working.clear();
    }

    /// Adds a line of working that is no formula of amounts.
    pub(super) fn line(&mut self, formula: &str, substituted: impl Into<String>, result: impl Into<String>) {
        self.report.working.push(Working {
            formula: formula.to_owned(),
            substituted: substituted.into(),
            result: result.into(),
        });
    }

    /// Works an expression out on a line of its own; the result goes by its symbol from then on.
    pub(super) fn work<E: Term>(&mut self, symbol: impl Into<Symbol>, made: Amount<E>) -> Known<E::Value>
    where
        E::Value: Measure<Of = E::Value>,
    {
        let symbol = symbol.into();
        let found = Leaf {
            symbol: symbol.text,
            value: made.value(),
            kind: symbol.kind.unwrap_or(E::Value::KIND),
            printed: symbol.printed,
        };
        self.report.working.push(Working {
            formula: made.after(symbol.text, Text::Symbols),
            substituted: made.text(Text::Numbers),
            result: symbol.printed.text(Amount(found).quantity()),
        });
        Amount(found)
    }

    /// Works an expression out on a line of its own, with a symbol that is put together.
    pub(super) fn work_out<E: Term>(&mut self, symbol: &str, made: Amount<E>)
    where
        E::Value: Measure<Of = E::Value>,
    {
        self.line(
            &made.after(symbol, Text::Symbols),
            made.text(Text::Numbers),
            keyed(made),
        );
    }

    /// Works an output out on a line of its own, and gives it.
    pub(super) fn give<M: Measure, E: Term<Value = M::Of>>(
        &mut self,
        output: Out<M>,
        made: Amount<E>,
    ) -> Known<M::Of> {
        let kind = Some(M::KIND);
        let found = self.work(
            Symbol {
                kind,
                ..output.symbol
            },
            made,
        );
        self.output(output, found);
        found
    }

    /// Adds an output that is a number with a unit.
    pub(super) fn output<M: Measure>(&mut self, output: Out<M>, amount: impl Into<Quantity>) {
        let quantity = Quantity {
            kind: M::KIND,
            ..amount.into()
        };
        // A report never holds a number that is none: what cannot be worked out is left out.
        if quantity.base.is_finite() {
            self.output_value(output, quantity);
        }
    }

    /// Adds an output of any sort.
    pub(super) fn output_value<T>(&mut self, output: Out<T>, value: impl Into<Value>) {
        self.report.outputs.insert(output.output.name, value.into());
    }

    /// Adds an upper limit.
    pub(super) fn at_most(
        &mut self,
        what: &str,
        value: impl Into<Quantity>,
        limit: impl Into<Quantity>,
        source: impl Into<String>,
    ) {
        let (value, limit) = (value.into(), limit.into());
        let text = format!("{what} at most {limit}");
        self.limit(text, source.into(), limit.base - value.base, limit);
    }

    /// Adds a lower limit.
    pub(super) fn at_least(
        &mut self,
        what: &str,
        value: impl Into<Quantity>,
        limit: impl Into<Quantity>,
        source: impl Into<String>,
    ) {
        let (value, limit) = (value.into(), limit.into());
        let text = format!("{what} at least {limit}");
        self.limit(text, source.into(), value.base - limit.base, limit);
    }

    fn limit(&mut self, text: String, source: String, left: f64, limit: Quantity) {
        let margin = left / limit.base.abs();
        let margin = if margin.is_finite() { margin } else { 0.0 };
        self.report.limits.push(Limit { text, source, margin });
    }

    /// Cites a code rule: returns its name in the edition used and lists it among the sources.
    pub(super) fn rule(&mut self, id: &str) -> String {
        // A rule that was not named at the start had no say in which edition is used.
        debug_assert!(self.calculation.rules.contains(&id), "undeclared rule {id}");
        let Some(rule) = rule::find(id) else {
            debug_assert!(false, "no rule {id}");
            return id.to_owned();
        };
        if rule.checked == "from memory" {
            let cited = rule.cite(self.edition);
            let note = format!("{cited} is stated from memory and was not checked against a source");
            if !self.report.notes.contains(&note) {
                self.report.notes.push(note);
            }
        }
        self.source(rule.citation(self.edition));
        rule.cite(self.edition)
    }

    /// Cites a table: returns its name and lists it among the sources.
    pub(super) fn table<Row, More>(&mut self, table: &Table<Row, More>) -> String {
        self.source(table.citation());
        table.name()
    }

    /// Lists a source, once.
    pub(super) fn source(&mut self, source: impl Into<String>) {
        let source = source.into();
        if !self.report.sources.contains(&source) {
            self.report.sources.push(source);
        }
    }

    /// Says what was assumed.
    pub(super) fn assume(&mut self, text: impl Into<String>) {
        self.report.assumptions.push(text.into());
    }

    /// Adds advice.
    pub(super) fn note(&mut self, text: impl Into<String>) {
        self.report.notes.push(text.into());
    }

    /// Ends with a verdict.
    pub(super) fn verdict(self, verdict: VerdictKind, finding: impl Into<String>) -> Answer {
        self.end(verdict.id, finding.into())
    }

    /// Ends without a verdict; the finding says what would tell.
    pub(super) fn cannot_tell(self, finding: impl Into<String>) -> Answer {
        self.end(CANNOT_TELL, finding.into())
    }

    fn end(mut self, id: &'static str, finding: String) -> Answer {
        for (name, value) in &self.report.outputs {
            possible(name, value)?;
        }
        let unused: Vec<String> = {
            let looked_at = self.looked_at.borrow();
            let is_unused = |name: &&String| {
                !looked_at.contains(name.as_str()) && ![CODE_EDITION, METER_ERROR].contains(&name.as_str())
            };
            self.inputs.0.keys().filter(is_unused).cloned().collect()
        };
        for name in unused {
            self.report.notes.push(format!(
                "`{name}` was given; this answer does not need it and takes no account of it"
            ));
        }
        self.report.verdict = id;
        self.report.finding = finding;
        Ok(self.report)
    }
}

/// Refuses a result that nature does not allow: it tells that what was given is wrong, however it is worked out.
fn possible(name: &str, value: &Value) -> Result<(), InputError> {
    let all: &[Quantity] = match value {
        Value::Quantity(quantity) => std::slice::from_ref(quantity),
        Value::Quantities(all) => all,
        _ => return Ok(()),
    };
    for quantity in all {
        let why = match quantity.kind {
            // A hair of tolerance: a difference of two equal amounts may come out a rounding below zero.
            Kind::Temperature if quantity.base < -273.15 - 1e-6 => "nothing is colder than absolute zero",
            Kind::Temperature | Kind::TemperatureRise | Kind::Ratio => continue,
            _ if quantity.base < -1e-6 => "it is below zero",
            _ => continue,
        };
        return Err(InputError::Impossible {
            what: format!("`{name}` = {quantity}"),
            why: why.to_owned(),
        });
    }
    Ok(())
}

/// Checks that a value is of the kind an input takes.
fn check_kind(input: &Input, value: &Value) -> Result<(), InputError> {
    let fits = match (input.kind, value) {
        (ValueKind::Quantity(kind), Value::Quantity(quantity)) => quantity.kind == kind,
        (ValueKind::Quantities(kind), Value::Quantities(all)) => {
            !all.is_empty() && all.iter().all(|quantity| quantity.kind == kind)
        }
        (ValueKind::Quantities(kind), Value::Quantity(quantity)) => quantity.kind == kind,
        (ValueKind::Size, Value::Size(_)) | (ValueKind::Loads, Value::Loads(_)) => true,
        (ValueKind::Choice, Value::Choice(id)) => choice_among(id, input.choices).is_some(),
        _ => false,
    };
    if fits {
        return Ok(());
    }
    let expected = match input.kind {
        ValueKind::Choice => input.choices.join(" or "),
        kind => kind.wanted(),
    };
    Err(InputError::WrongKind {
        input: input.name.to_owned(),
        value: value.to_string(),
        expected,
    })
}
