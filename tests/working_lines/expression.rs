//! Reads what a line of working prints: sums of numbers with units, and formulas in symbols and words.
//!
//! One grammar serves both. `x` and `/` bind closer than `+` and `-`, `^` closest; a number takes the unit behind
//! it; what is neither is a symbol, which may have several words (`sum of heaters`).

/// What a printed expression means.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Expression {
    /// A number as printed, and its unit, which may be empty.
    Number(String, String),
    /// A symbol of a formula.
    Symbol(String),
    /// `+`, `-`, `x`, `/` or `^`.
    Binary(char, Box<Self>, Box<Self>),
    /// `sqrt`, `ln`, `exp`, `acos`, `atan`, `sin`, `cos`, `-`, `larger of`, `lower of`.
    Call(&'static str, Vec<Self>),
}

/// Units a working prints besides those a person may type, and what one is in base units.
///
/// A circular mil counts as 1, and horsepower too, so that their units cancel as printed.
const UNITS: &[(&str, f64)] = &[
    ("V", 1.0),
    ("mV", 1e-3),
    ("kV", 1e3),
    ("MV", 1e6),
    ("A", 1.0),
    ("mA", 1e-3),
    ("uA", 1e-6),
    ("kA", 1e3),
    ("ohm", 1.0),
    ("mohm", 1e-3),
    ("kohm", 1e3),
    ("Mohm", 1e6),
    ("W", 1.0),
    ("kW", 1e3),
    ("MW", 1e6),
    ("VA", 1.0),
    ("kVA", 1e3),
    ("MVA", 1e6),
    ("var", 1.0),
    ("kvar", 1e3),
    ("Mvar", 1e6),
    ("deg", std::f64::consts::PI / 180.0),
    ("pF", 1e-12),
    ("nF", 1e-9),
    ("uF", 1e-6),
    ("F", 1.0),
    ("uH", 1e-6),
    ("mH", 1e-3),
    ("H", 1.0),
    ("Hz", 1.0),
    ("kHz", 1e3),
    ("in", 0.3048 / 12.0),
    ("ft", 0.3048),
    ("km", 1e3),
    ("C", 1.0),
    ("ms", 1e-3),
    ("s", 1.0),
    ("min", 60.0),
    ("h", 3600.0),
    ("d", 86_400.0),
    ("%", 0.01),
    ("hp", 1.0),
    ("cfm", 0.3048 * 0.3048 * 0.3048 / 60.0),
    ("A2s", 1.0),
    ("cmil", 1.0),
    ("ohm-cmil/ft", 1.0 / 0.3048),
    ("J/m3K", 1.0),
];

/// One of a unit, in base units.
pub(crate) fn unit(symbol: &str) -> Option<f64> {
    if symbol.is_empty() {
        return Some(1.0);
    }
    if let Some(part) = symbol.strip_suffix("/km") {
        return Some(unit(part)? / 1e3);
    }
    if let Some(part) = symbol.strip_suffix("/hp") {
        return unit(part);
    }
    UNITS.iter().find(|unit| unit.0 == symbol).map(|unit| unit.1)
}

/// Reads a whole text.
pub(crate) fn parse(text: &str) -> Result<Expression, String> {
    let tokens = tokens(text);
    let mut reader = Reader { tokens, at: 0 };
    let found = reader.sum()?;
    match reader.peek() {
        None => Ok(found),
        Some(left) => Err(format!("`{left}` left over in `{text}`")),
    }
}

/// Splits at spaces and around signs; a sign within a unit or a name (`J/m3K`, `kVA/hp`) stays with it.
fn tokens(text: &str) -> Vec<String> {
    let spaced: String = text
        .chars()
        .map(|c| {
            if "()^,".contains(c) {
                format!(" {c} ")
            } else {
                c.to_string()
            }
        })
        .collect();
    spaced.split_whitespace().map(str::to_owned).collect()
}

struct Reader {
    tokens: Vec<String>,
    at: usize,
}

impl Reader {
    fn peek(&self) -> Option<&str> {
        self.tokens.get(self.at).map(String::as_str)
    }

    fn take(&mut self, token: &str) -> bool {
        let found = self.peek() == Some(token);
        self.at += usize::from(found);
        found
    }

    fn sum(&mut self) -> Result<Expression, String> {
        let mut left = self.product()?;
        loop {
            let sign = match self.peek() {
                Some("+") => '+',
                Some("-") => '-',
                _ => return Ok(left),
            };
            self.at += 1;
            left = Expression::Binary(sign, Box::new(left), Box::new(self.product()?));
        }
    }

    fn product(&mut self) -> Result<Expression, String> {
        let mut left = self.power()?;
        loop {
            let sign = match self.peek() {
                Some("x") => 'x',
                Some("/") => '/',
                _ => return Ok(left),
            };
            self.at += 1;
            left = Expression::Binary(sign, Box::new(left), Box::new(self.power()?));
        }
    }

    fn power(&mut self) -> Result<Expression, String> {
        let base = self.atom()?;
        if self.take("^") {
            return Ok(Expression::Binary('^', Box::new(base), Box::new(self.atom()?)));
        }
        Ok(base)
    }

    fn atom(&mut self) -> Result<Expression, String> {
        if self.take("(") {
            let inner = self.sum()?;
            return self
                .take(")")
                .then_some(inner)
                .ok_or_else(|| "`)` missing".to_owned());
        }
        for name in ["sqrt", "ln", "exp", "acos", "atan", "sin", "cos"] {
            if self.peek() == Some(name) && self.tokens.get(self.at + 1).is_some_and(|next| next == "(") {
                self.at += 1;
                return Ok(Expression::Call(name, vec![self.atom()?]));
            }
        }
        for name in ["larger of", "lower of"] {
            let (word, _) = name.split_once(' ').unwrap_or((name, ""));
            if self.peek() == Some(word) && self.tokens.get(self.at + 1).is_some_and(|next| next == "of") {
                self.at += 2;
                let first = self.sum()?;
                if !self.take("and") {
                    return Err(format!("`{name}` without `and`"));
                }
                return Ok(Expression::Call(name, vec![first, self.sum()?]));
            }
        }
        if self.take("-") {
            return Ok(Expression::Call("-", vec![self.power()?]));
        }
        let Some(first) = self.peek().map(str::to_owned) else {
            return Err("an operand is missing".to_owned());
        };
        if first.parse::<f64>().is_ok() && !first.starts_with('i') {
            self.at += 1;
            let symbol = self.peek().filter(|next| unit(next).is_some()).map(str::to_owned);
            self.at += usize::from(symbol.is_some());
            // What stands in parentheses right behind a number says what it is.
            if self.peek() == Some("(") {
                let mut open = 0;
                loop {
                    open += match self.peek() {
                        Some("(") => 1,
                        Some(")") => -1,
                        Some(_) => 0,
                        None => return Err("`)` missing".to_owned()),
                    };
                    self.at += 1;
                    if open == 0 {
                        break;
                    }
                }
            }
            return Ok(Expression::Number(first, symbol.unwrap_or_default()));
        }
        let mut words = Vec::new();
        while let Some(word) = self.peek() {
            let ends = ["+", "-", "x", "/", "^", "(", ")", ",", "and", "=", "<=", ">="].contains(&word);
            if ends {
                break;
            }
            words.push(word.to_owned());
            self.at += 1;
        }
        if words.is_empty() {
            return Err(format!("`{first}` is no operand"));
        }
        Ok(Expression::Symbol(words.join(" ")))
    }
}

impl Expression {
    /// Works the expression out; `number` says what each printed number counts as.
    pub(crate) fn value(&self, number: &mut impl FnMut(&str, &str) -> f64) -> Result<f64, String> {
        Ok(match self {
            Self::Number(text, unit) => number(text, unit),
            Self::Symbol(name) if name == "pi" => std::f64::consts::PI,
            Self::Symbol(name) => return Err(format!("`{name}` is no number")),
            Self::Binary(sign, left, right) => {
                let (left, right) = (left.value(number)?, right.value(number)?);
                match sign {
                    '+' => left + right,
                    '-' => left - right,
                    'x' => left * right,
                    '/' => left / right,
                    _ => left.powf(right),
                }
            }
            Self::Call(name, of) => {
                let of = of
                    .iter()
                    .map(|one| one.value(number))
                    .collect::<Result<Vec<_>, _>>()?;
                match *name {
                    "sqrt" => of[0].sqrt(),
                    "ln" => of[0].ln(),
                    "exp" => of[0].exp(),
                    "acos" => of[0].acos(),
                    "atan" => of[0].atan(),
                    "sin" => of[0].sin(),
                    "cos" => of[0].cos(),
                    "larger of" => of[0].max(of[1]),
                    "lower of" => of[0].min(of[1]),
                    _ => -of[0],
                }
            }
        })
    }

    /// Says where the numbers put in do not stand as the formula says.
    ///
    /// A symbol stands for one number, the same wherever it stands again; `sum of ...` for one number or a sum.
    pub(crate) fn differs<'e>(
        &'e self,
        put_in: &'e Self,
        bound: &mut Vec<(&'e str, &'e Self)>,
    ) -> Option<String> {
        match (self, put_in) {
            (Self::Symbol(pi), Self::Symbol(other)) if pi == "pi" && other == "pi" => None,
            (Self::Symbol(name), other) => {
                let fits = match other {
                    Self::Number(..) => true,
                    Self::Call("-", of) => matches!(of[0], Self::Number(..)),
                    sum => name.contains("sum of") && sum.is_sum(),
                };
                if !fits {
                    return Some(format!("`{name}` stands for more than a number: {other:?}"));
                }
                match bound.iter().find(|pair| pair.0 == name) {
                    Some((_, before)) if *before != other => {
                        Some(format!("`{name}` is {before:?} and then {other:?}"))
                    }
                    _ => {
                        bound.push((name, other));
                        None
                    }
                }
            }
            (Self::Number(a, unit_a), Self::Number(b, unit_b)) if a == b && unit_a == unit_b => None,
            (Self::Binary(a, left_a, right_a), Self::Binary(b, left_b, right_b)) if a == b => left_a
                .differs(left_b, bound)
                .or_else(|| right_a.differs(right_b, bound)),
            (Self::Call(a, of_a), Self::Call(b, of_b)) if a == b => {
                of_a.iter().zip(of_b).find_map(|(a, b)| a.differs(b, bound))
            }
            (a, b) => Some(format!("{a:?} became {b:?}")),
        }
    }

    fn is_sum(&self) -> bool {
        match self {
            Self::Number(..) => true,
            Self::Binary('+', left, right) => left.is_sum() && right.is_sum(),
            _ => false,
        }
    }
}
