//! The inputs of one run, read from text as a person writes it.

use std::collections::BTreeMap;

use knockon_figures::fasteners::names;

use super::entry::Figure;
use super::error::FigureInputError;
use super::given::Values;
use super::input::{Input, Takes, nearest};
use super::trouble::Trouble;
use crate::quantity::{Quantity, echo};
use crate::units::Dimension;

/// Largest whole number an input takes.
const MOST: f64 = 1e6;

/// Longest text of one input: a curve of forty points.
const LONGEST: usize = 1_000;

/// An input as read.
#[derive(Clone, Debug)]
enum Read {
    Number(f64),
    Numbers(Vec<f64>),
    Pairs(Vec<(f64, f64)>),
    Word(String),
    Unknown,
}

/// An input with the text it was read from, as a file may hold it.
#[derive(Clone, Debug)]
struct Taken {
    name: &'static str,
    read: Read,
    text: String,
}

/// The inputs of one run, as a person wrote them.
#[derive(Clone, Debug)]
pub(crate) struct Typed(Vec<Taken>);

impl Typed {
    pub(super) fn read(
        figure: &'_ Figure,
        inputs: &BTreeMap<String, String>,
    ) -> Result<Self, FigureInputError> {
        if let Some(given) = inputs.keys().find(|name| figure.input(name).is_none()) {
            let known: Vec<&'static str> = figure.inputs.iter().map(|i| i.name).collect();
            return Err(FigureInputError::Unknown {
                figure: figure.id,
                given: echo(given),
                nearest: nearest(given, known.iter().copied()),
                known,
                example: figure.example(),
            });
        }
        let mut read = Vec::with_capacity(figure.inputs.len());
        for input in figure.inputs {
            let (figure, wanted, example) = (figure.id, input.meaning, input.example);
            let text = inputs.get(input.name).map(String::as_str).or(input.default);
            let Some(text) = text else {
                return Err(FigureInputError::Missing { figure, input: input.name, wanted, example });
            };
            let (value, text) = one(input, text.trim()).map_err(|why| FigureInputError::Unreadable {
                figure,
                input: input.name,
                why,
                wanted,
                example,
            })?;
            read.push(Taken { name: input.name, read: value, text });
        }
        Ok(Self(read))
    }

    /// Some inputs of a figure, those with an empty text as they stand where they are left out.
    pub(crate) fn some(figure: &Figure, inputs: &[(&'static str, &str)]) -> Self {
        let taken = |(name, text): &(&'static str, &str)| {
            let input = figure.input(name)?;
            let text = if text.is_empty() { input.default? } else { *text };
            let (read, text) = one(input, text).ok()?;
            Some(Taken { name, read, text })
        };
        Self(inputs.iter().filter_map(taken).collect())
    }

    /// Whether an input is among them.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    fn get(&self, name: &str) -> Option<&Read> {
        self.0.iter().find(|t| t.name == name).map(|t| &t.read)
    }

    /// An input as it is taken.
    pub(super) fn text(&self, name: &str) -> &str {
        self.0.iter().find(|t| t.name == name).map_or("", |t| &t.text)
    }

    /// What went wrong in words: a number that was refused stands there as it was typed, in its own unit.
    pub(super) fn told(&self, trouble: Trouble) -> String {
        let error = match trouble {
            Trouble::Words(words) => return words,
            Trouble::Number(error) => error,
        };
        let found = match Quantity::parse(&format!("{} {}", error.found, error.expected.unit())) {
            Ok(found) => found.si,
            Err(_) => return error.to_string(),
        };
        let typed = self.0.iter().find(|t| match t.read {
            Read::Number(si) => (si - found).abs() <= 1e-9 * found.abs(),
            _ => false,
        });
        match typed {
            Some(typed) => error.told_as(&echo(&typed.text)),
            None => error.to_string(),
        }
    }
}

impl Values for Typed {
    fn known(&self, name: &str) -> Option<f64> {
        match self.get(name) {
            Some(Read::Number(x)) => Some(*x),
            _ => None,
        }
    }

    fn numbers(&self, name: &str) -> &[f64] {
        match self.get(name) {
            Some(Read::Numbers(list)) => list,
            _ => &[],
        }
    }

    fn pairs(&self, name: &str) -> &[(f64, f64)] {
        match self.get(name) {
            Some(Read::Pairs(list)) => list,
            _ => &[],
        }
    }

    fn word(&self, name: &str) -> &str {
        match self.get(name) {
            Some(Read::Word(word)) => word,
            _ => "",
        }
    }
}

/// What an input reads as, and its text as a file may hold it.
fn one(input: &Input, text: &str) -> Result<(Read, String), String> {
    if text == "unknown" && input.default == Some("unknown") {
        return Ok((Read::Unknown, text.to_owned()));
    }
    if text.is_empty() && input.takes != Takes::Text {
        return Err("nothing is given".to_owned());
    }
    if text.len() > LONGEST {
        return Err(format!("\"{}\" is too long for one value", echo(text)));
    }
    let same = |read| (read, text.to_owned());
    match input.takes {
        Takes::One(Dimension::Ratio) if is_share(input) => {
            let share = number(text, Dimension::Ratio)?;
            // nobody means fifty times the whole
            if share.si > 1.0 && !text.contains('%') {
                return Err(format!("\"{text}\" is more than the whole: is it {text} %?"));
            }
            Ok((Read::Number(share.si), share.text))
        }
        Takes::One(dimension) => number(text, dimension).map(|q| (Read::Number(q.si), q.text)),
        Takes::Several(dimension) => {
            let one = |t: &str| number(t, dimension).map(|q| q.si);
            pieces(text)?.into_iter().map(one).collect::<Result<_, _>>().map(Read::Numbers).map(same)
        }
        Takes::Pairs(left, right) => {
            let pairs = pieces(text)?.into_iter().map(|t| pair(t, left, right));
            pairs.collect::<Result<_, _>>().map(Read::Pairs).map(same)
        }
        Takes::Whole => {
            let q = number(text, Dimension::Ratio)?;
            if q.si.fract() == 0.0 && (0.0..=MOST).contains(&q.si) {
                Ok((Read::Number(q.si), q.text))
            } else {
                Err(format!("expected a whole number, found \"{}\"", echo(text)))
            }
        }
        Takes::Thread => names::read(text)
            .map(|named| (Read::Word(named.name.clone()), named.name))
            .map_err(|e| format!("found \"{}\": {e}", echo(text))),
        Takes::Choice(words) => match words.iter().find(|w| choice(w) == choice(text)) {
            Some(word) => Ok((Read::Word((*word).to_owned()), (*word).to_owned())),
            None => Err(format!("expected {}, found \"{}\"", input.takes.words(), echo(text))),
        },
        Takes::Text => Ok(same(Read::Word(text.to_owned()))),
    }
}

/// Whether an input is a share of a whole: its example is in per cent.
fn is_share(input: &Input) -> bool {
    input.example.contains('%') && !input.signed
}

/// A word as it is compared: "SAE5", "sae 5" and "SAE grade 5" are one; a point tells 8.8 from 88.
fn choice(word: &str) -> String {
    let plain = word.to_lowercase().replace("grade", "").replace("class", "");
    plain.chars().filter(|c| !matches!(c, ' ' | '-' | '_')).collect()
}

/// The values of a list. A semicolon separates and leaves the commas to the numbers; else each comma separates.
fn pieces(text: &str) -> Result<Vec<&str>, String> {
    let split = |mark: char| text.split(mark).map(str::trim).filter(|t| !t.is_empty()).collect();
    if text.contains(';') {
        return Ok(split(';'));
    }
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let inside = |at: usize| digit(text[..at].chars().next_back()) && digit(text[at + 1..].chars().next());
    // "2,94, 1,68, 1": some commas have a blank behind them and some a digit
    if !text.contains('.') && text.match_indices(',').any(|(at, _)| inside(at)) {
        return Err(format!(
            "a comma between two digits of \"{}\" may separate or be a decimal one: write semicolons between the values",
            echo(text)
        ));
    }
    Ok(split(','))
}

fn number(text: &str, dimension: Dimension) -> Result<Quantity, String> {
    let quantity = Quantity::typed(text, dimension).map_err(|e| e.to_string())?;
    // half of what was written would be lost in silence
    if quantity.tolerance > 0.0 {
        return Err(format!("a figure takes one value without a tolerance, found \"{}\"", echo(text)));
    }
    Ok(quantity)
}

fn pair(text: &str, left: Dimension, right: Dimension) -> Result<(f64, f64), String> {
    let Some((x, y)) = text.split_once(':') else {
        return Err(format!("expected two values with a colon between them, found \"{}\"", echo(text)));
    };
    Ok((number(x.trim(), left)?.si, number(y.trim(), right)?.si))
}
