//! Limits that hold a figure to a bound. Inputs and formula are those of the figure; the limit says what library files call
//! them, the bound, the sentence, and what can be changed.

use super::Inputs;
use super::entry::{Answer, Input, Lever, Takes, Text, close};
use crate::figure::{Figure, Given, Output, Typed, Values};
use crate::phrase;
use crate::phrase::{Number, Phrase, Piece, next_hole};
use crate::value::Kind;

/// A figure held to a bound.
pub(super) struct Declared {
    /// As library files write it.
    pub name: &'static str,
    /// Id of the figure.
    pub figure: &'static str,
    /// What library files call an input, and what the figure does, where these differ.
    pub called: &'static [(&'static str, &'static str)],
    /// Inputs of the figure that no library gives, with their values; empty: what stands where they are left out.
    pub fixed: &'static [(&'static str, &'static str)],
    /// What library files give besides.
    pub asks: &'static [Input],
    /// When it holds.
    pub holds: Holds,
    /// Its sentence. In braces stands a result or an input, `{line pressure}`, behind a colon how it is told: `.2` so many
    /// decimals without a unit, `%` in hundredths, `fit` as on a calliper, `degrees` without decimals, `size` without its
    /// sign, `written` as it stands in its file, `plain` as a bare number. `{wanted}` is the window of what is between,
    /// `{short}` ", 2 A short" where it is broken.
    pub says: &'static str,
    /// What can be changed to clear it, the likeliest first.
    pub levers: &'static [Lever],
}

/// A comparison of a result or input with another. A bound that there is none of holds.
#[derive(Clone, Copy)]
pub(super) enum Holds {
    /// The first is no more than the second.
    AtMost(&'static str, &'static str),
    /// The first is no less than the second.
    AtLeast(&'static str, &'static str),
    /// The first without its sign is no more than the second.
    Within(&'static str, &'static str),
    /// The first lies between the others.
    Between(&'static str, &'static str, &'static str),
}

impl Declared {
    /// What library files give: the inputs of the figure by their names there, and what is asked besides.
    pub fn inputs(&self, figure: &Figure) -> Vec<Input> {
        let free = figure.inputs.iter().filter(|i| self.fixed.iter().all(|(name, _)| *name != i.name));
        let takes = |takes| match takes {
            crate::figure::Takes::One(d) | crate::figure::Takes::Several(d) => Takes::One(d),
            crate::figure::Takes::Pairs(crate::units::Dimension::Length, _) => Takes::Outline,
            crate::figure::Takes::Pairs(..) => Takes::Curve,
            _ => Takes::One(crate::units::Dimension::Ratio),
        };
        let mut inputs: Vec<Input> =
            free.map(|i| Input { name: self.in_library(i.name), takes: takes(i.takes) }).collect();
        let more = self.asks.iter().filter(|ask| inputs.iter().all(|i| i.name != ask.name));
        let more: Vec<Input> = more.copied().collect();
        inputs.extend(more);
        inputs.sort_by_key(|i| i.name);
        inputs
    }

    fn in_library(&self, name: &'static str) -> &'static str {
        self.called.iter().find(|(_, figure)| *figure == name).map_or(name, |(library, _)| *library)
    }

    /// Whether it holds, with its sentence where that is wanted.
    pub fn answer(
        &'static self,
        figure: &Figure,
        fixed: &Typed,
        wanted: &[Input],
        inputs: &Inputs<'_>,
    ) -> Answer {
        for input in wanted {
            match input.takes {
                Takes::Curve | Takes::Outline => inputs.curve(input.name).map(drop)?,
                _ => inputs.number(input.name).map(drop)?,
            }
        }
        let given = Bound { called: self.called, fixed, inputs };
        let given: &Given<'_> = &given;
        let outputs = figure.work(given).map_err(|trouble| trouble.to_string())?;
        let found = Found { limit: self, outputs: &outputs, inputs };
        let holds = found.holds();
        Ok((holds, inputs.says_words().then(|| Text(found.say(holds)))))
    }
}

/// The inputs of a limit, by the names of its figure.
struct Bound<'l, 'i, 'a> {
    called: &'static [(&'static str, &'static str)],
    fixed: &'l Typed,
    inputs: &'i Inputs<'a>,
}

impl Bound<'_, '_, '_> {
    fn library<'n>(&self, name: &'n str) -> &'n str {
        self.called.iter().find(|(_, figure)| *figure == name).map_or(name, |(library, _)| *library)
    }
}

impl Values for Bound<'_, '_, '_> {
    fn known(&self, name: &str) -> Option<f64> {
        if self.fixed.has(name) {
            self.fixed.known(name)
        } else {
            self.inputs.number(self.library(name)).ok()
        }
    }

    fn numbers(&self, name: &str) -> &[f64] {
        if self.fixed.has(name) {
            self.fixed.numbers(name)
        } else {
            self.inputs.one_number(self.library(name))
        }
    }

    fn pairs(&self, name: &str) -> &[(f64, f64)] {
        if self.fixed.has(name) { self.fixed.pairs(name) } else { self.inputs.points(self.library(name)) }
    }

    fn word(&self, name: &str) -> &str {
        self.fixed.word(name)
    }
}

/// What a figure came to.
struct Found<'l, 'i, 'a> {
    limit: &'static Declared,
    outputs: &'l [Output],
    inputs: &'i Inputs<'a>,
}

impl Found<'_, '_, '_> {
    fn output(&self, name: &str) -> Option<&Output> {
        self.outputs.iter().find(|o| o.name == name)
    }

    /// A result, else an input, SI.
    fn si(&self, name: &str) -> Option<f64> {
        match self.output(name) {
            Some(output) => output.number(),
            None => self.inputs.number(name).ok(),
        }
    }

    fn holds(&self) -> bool {
        let slack = |name: &str, a: f64, b: f64| {
            // lengths, angles, shares and temperatures to a billionth of their unit
            let small = self.output(name).is_some_and(|o| matches!(o.unit(), "m" | "rad" | "" | "°C" | "K"));
            close(a, b) + if small { 1e-9 } else { 0.0 }
        };
        let no_more = |x: &str, most: &str, size: bool| match (self.si(x), self.si(most)) {
            (Some(a), Some(b)) => {
                let a = if size { a.abs() } else { a };
                a <= b + slack(x, a, b).max(slack(most, a, b))
            }
            _ => true,
        };
        match self.limit.holds {
            Holds::AtMost(x, most) => no_more(x, most, false),
            Holds::AtLeast(x, least) => no_more(least, x, false),
            Holds::Within(x, most) => no_more(x, most, true),
            Holds::Between(x, least, most) => no_more(least, x, false) && no_more(x, most, false),
        }
    }

    /// What a number is compared with.
    fn beside(&self, name: &str) -> Option<&'static str> {
        match self.limit.holds {
            Holds::AtMost(a, b) | Holds::AtLeast(a, b) | Holds::Within(a, b) if a == name => Some(b),
            Holds::AtMost(a, b) | Holds::AtLeast(a, b) | Holds::Within(a, b) if b == name => Some(a),
            Holds::Between(x, least, most) if x == name => {
                let low = self.si(x).zip(self.si(least)).is_some_and(|(x, least)| x < least);
                Some(if low { least } else { most })
            }
            _ => None,
        }
    }

    fn say(&self, holds: bool) -> Phrase {
        let (mut pieces, mut rest) = (Vec::new(), self.limit.says);
        while let Some((before, hole, after)) = next_hole(rest) {
            pieces.push(Piece::from(before));
            match hole {
                "short" => pieces.extend(self.short(holds)),
                // of one that is held between two bounds, both
                "wanted" if matches!(self.limit.holds, Holds::Between(..)) => pieces.extend(self.window()),
                _ => {
                    let (name, how) = hole.split_once(':').unwrap_or((hole, ""));
                    pieces.push(self.piece(name, how));
                }
            }
            rest = after;
        }
        pieces.push(Piece::from(rest));
        Phrase(pieces)
    }

    /// A number as it is told, beside what it is compared with.
    fn number(&self, name: &str) -> Option<Number> {
        let plain = |name: &str| match self.output(name) {
            Some(output) => output.told(),
            None => Some(Number::of(self.inputs.number(name).ok()?, self.inputs.kind(name))),
        };
        let mut number = plain(name)?;
        let size = matches!(self.limit.holds, Holds::Within(x, _) if x == name);
        if size {
            number.si = number.si.abs();
        }
        if let Some((by, other)) = self.beside(name).and_then(|by| Some((by, plain(by)?))) {
            number.percent |= other.percent;
            number.difference |= other.difference;
            let size = matches!(self.limit.holds, Holds::Within(x, _) if x == by);
            number = number.beside(if size { other.si.abs() } else { other.si });
        }
        Some(number)
    }

    fn piece(&self, name: &str, how: &str) -> Piece {
        let Some(number) = self.number(name) else {
            return Piece::from(self.output(name).map_or_else(String::new, Output::shown));
        };
        if let Some(decimals) = how.strip_prefix('.').and_then(|d| d.parse::<usize>().ok()) {
            let unit = match (self.output(name), self.inputs.kind(name)) {
                (Some(output), _) => output.in_unit().factor,
                (None, Some(Kind::Dimension(crate::units::Dimension::RotationalSpeed))) => {
                    std::f64::consts::TAU / 60.0
                }
                _ => 1.0,
            };
            return Piece::from(format!("{:.decimals$}", number.si / unit));
        }
        match how {
            "%" => number.percent().into(),
            "fit" => number.fit().into(),
            "degrees" => number.decimals(0).into(),
            "size" => Number { si: number.si.abs(), ..number }.into(),
            "written" => self.inputs.written(name),
            "plain" => Piece::from(number.si.to_string()),
            _ => number.into(),
        }
    }

    /// Between what and what it is wanted.
    fn window(&self) -> Option<Piece> {
        let Holds::Between(x, least, most) = self.limit.holds else { return None };
        let (low, high) = (self.inputs.number(least).ok()?, self.inputs.number(most).ok()?);
        Some(Number::of(low, self.inputs.kind(least)).beside(self.si(x)?).to(high).into())
    }

    /// By how much the first is too little.
    fn short(&self, holds: bool) -> Phrase {
        let Holds::AtLeast(x, least) = self.limit.holds else { return phrase![] };
        match (self.number(x), self.si(x), self.si(least)) {
            (Some(number), Some(x), Some(least)) if !holds => {
                phrase![", ", Number::new(least - x, number.dimension), " short"]
            }
            _ => phrase![],
        }
    }
}
