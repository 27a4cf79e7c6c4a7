//! Limits: a named calculation over what is fitted, with three answers. A tolerance that leaves the answer open is told
//! with the accuracy that would settle it.

mod calculations;

use std::borrow::Cow;

use crate::explain::show;
use crate::value::{Kind, Value, Verdict3};

/// A calculation by its place among all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Calculation(usize);

/// Uncertain inputs looked at together; more are taken one by one.
const MOST_CORNERS: usize = 6;

/// What a limit comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Holds, open or broken.
    pub verdict: Verdict3,
    /// With the figures; empty where no words are wanted.
    pub text: String,
    /// What would clear it.
    pub clears: String,
}

/// Text and cure of an answer; `None` where no words are wanted.
type Words = Option<(String, String)>;

/// The inputs of a calculation by name, each a value and the number in it that is tried.
#[derive(Clone, Debug, Default)]
pub struct Inputs<'a> {
    list: Vec<(&'a str, Cow<'a, Value>, Option<f64>)>,
    words: bool,
}

impl<'a> Inputs<'a> {
    /// No inputs yet; with `words` the answer says its figures.
    #[must_use]
    pub fn new(words: bool) -> Self {
        Self { list: Vec::with_capacity(9), words }
    }

    /// Adds an input, taken at the middle of its tolerance.
    pub fn add(&mut self, name: &'a str, value: Cow<'a, Value>) {
        let middle = value.bounds().map(|(a, b)| f64::midpoint(a, b));
        self.list.push((name, value, middle));
    }

    fn get(&self, name: &str) -> Option<&Value> {
        self.list.iter().find(|(n, ..)| *n == name).map(|(_, v, _)| &**v)
    }

    fn number(&self, name: &str) -> Result<f64, String> {
        let found = self.list.iter().find(|(n, ..)| *n == name).and_then(|(.., x)| *x);
        found.ok_or_else(|| format!("{name} is not known"))
    }

    fn kind(&self, name: &str) -> Option<Kind> {
        match self.get(name) {
            Some(Value::Quantity(q)) => Some(Kind::Dimension(q.dimension)),
            _ => None,
        }
    }

    fn words(&self, text: impl Fn() -> String, clears: impl Fn() -> String) -> Words {
        self.words.then(|| (text(), clears()))
    }

    /// Places of the inputs whose tolerance leaves them open.
    fn uncertain(&self) -> Vec<usize> {
        let wide = |v: &Value| v.bounds().is_some_and(|(a, b)| b - a > 1e-12 * a.abs().max(b.abs()));
        (0..self.list.len()).filter(|i| wide(&self.list[*i].1)).take(MOST_CORNERS).collect()
    }

    /// Sets the numbers to a corner: each uncertain input at one end of its tolerance, which is scaled by `share`.
    fn set_corner(&mut self, uncertain: &[usize], corner: usize, share: f64) {
        for (bit, at) in uncertain.iter().enumerate() {
            let entry = &mut self.list[*at];
            if let Some((low, high)) = entry.1.bounds() {
                let half = (high - low) / 2.0 * share;
                let side = if corner >> bit & 1 == 0 { -half } else { half };
                entry.2 = Some(f64::midpoint(low, high) + side);
            }
        }
    }
}

impl Calculation {
    /// The calculation of a name, if its inputs are those given.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn new<'a>(calc: &str, inputs: impl Iterator<Item = &'a str>) -> Result<Self, String> {
        let Some(at) = calculations::ALL.iter().position(|(name, ..)| *name == calc) else {
            let known: Vec<&str> = calculations::ALL.iter().map(|(name, ..)| *name).collect();
            return Err(format!("there is no calculation \"{calc}\"; expected one of {}", known.join(", ")));
        };
        let wanted = calculations::ALL[at].1;
        let given: Vec<&str> = inputs.collect();
        let missing: Vec<&str> = wanted.iter().copied().filter(|w| !given.contains(w)).collect();
        let extra: Vec<&str> = given.iter().copied().filter(|g| !wanted.contains(g)).collect();
        if missing.is_empty() && extra.is_empty() {
            return Ok(Self(at));
        }
        Err(format!(
            "the calculation \"{calc}\" takes {}; missing: {}; not known: {}",
            wanted.join(", "),
            missing.join(", "),
            extra.join(", ")
        ))
    }

    /// Runs it over every corner of the tolerances. Figures it refuses leave the answer open, with the reason.
    #[must_use]
    pub fn run(self, mut inputs: Inputs<'_>) -> Outcome {
        let calc = calculations::ALL[self.0].2;
        let open = |text: String| Outcome { verdict: Verdict3::Open, text, clears: String::new() };
        let (holds, words) = match calc(&inputs) {
            Ok(answer) => answer,
            Err(text) => return open(text),
        };
        let (text, clears) = words.unwrap_or_default();
        let uncertain = inputs.uncertain();
        if uncertain.is_empty() {
            return Outcome { verdict: if holds { Verdict3::Holds } else { Verdict3::Broken }, text, clears };
        }
        let wants_words = std::mem::take(&mut inputs.words);
        match corners(calc, &mut inputs, &uncertain, 1.0) {
            Some(true) => Outcome { verdict: Verdict3::Holds, text, clears },
            Some(false) => Outcome { verdict: Verdict3::Broken, text, clears },
            None if wants_words => open(format!("{text}; {}", accuracy(calc, &mut inputs, &uncertain))),
            None => open(String::new()),
        }
    }
}

type Calc = fn(&Inputs<'_>) -> Result<(bool, Words), String>;

/// Whether all corners hold, or none; `None` where they differ or one is refused.
fn corners(calc: Calc, inputs: &mut Inputs<'_>, uncertain: &[usize], share: f64) -> Option<bool> {
    let mut first = None;
    for corner in 0..1_usize << uncertain.len() {
        inputs.set_corner(uncertain, corner, share);
        let Ok((holds, _)) = calc(inputs) else { return None };
        if first.is_some_and(|f| f != holds) {
            return None;
        }
        first = Some(holds);
    }
    first
}

/// How close the uncertain inputs must be known to settle the answer: the widest share of their tolerances that does.
fn accuracy(calc: Calc, inputs: &mut Inputs<'_>, uncertain: &[usize]) -> String {
    let (mut settled, mut open) = (0.0_f64, 1.0_f64);
    for _ in 0..24 {
        let share = f64::midpoint(settled, open);
        if corners(calc, inputs, uncertain, share).is_some() {
            settled = share;
        } else {
            open = share;
        }
    }
    let named: Vec<String> = uncertain
        .iter()
        .map(|at| {
            let (name, value, _) = &inputs.list[*at];
            let half = value.bounds().map_or(0.0, |(a, b)| (b - a) / 2.0 * settled);
            let name = name.replace('-', " ");
            if settled < 1e-3 {
                format!("{name} as closely as it can be measured")
            } else {
                format!("{name} to ±{}", show(half, inputs.kind(inputs.list[*at].0)))
            }
        })
        .collect();
    format!("the tolerance leaves it open: measure {}", named.join(", "))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::units::Dimension;

    fn run(calc: &str, inputs: &[(&str, &str, Dimension)]) -> Outcome {
        let values: Vec<Value> =
            inputs.iter().map(|(_, text, d)| Value::read_text(text, Kind::Dimension(*d)).unwrap()).collect();
        let mut list = Inputs::new(true);
        for ((name, ..), value) in inputs.iter().zip(&values) {
            list.add(name, Cow::Borrowed(value));
        }
        Calculation::new(calc, inputs.iter().map(|(n, ..)| *n)).unwrap().run(list)
    }

    #[test]
    fn a_tolerance_that_leaves_it_open_says_how_close_to_measure() {
        use Dimension::Length;
        let gap = |wheel| {
            let inputs = [
                ("wheel-inside", wheel, Length),
                ("caliper-envelope", "340 mm", Length),
                ("gap", "3 mm", Length),
            ];
            run("wheel-over-caliper", &inputs)
        };
        assert_eq!(gap("350 mm ±2 mm").verdict, Verdict3::Holds);
        assert_eq!(gap("340 mm ±2 mm").verdict, Verdict3::Broken);
        let open = gap("347 mm ±2 mm");
        assert_eq!(open.verdict, Verdict3::Open);
        // 347 mm stands 1 mm above the 346 mm that is wanted
        assert!(open.text.ends_with("measure wheel inside to ±1 mm"), "{}", open.text);
    }

    #[test]
    fn refused_figures_and_wrong_inputs_are_told() {
        let refused =
            run("at-least", &[("have", "unknown", Dimension::Length), ("want", "1 mm", Dimension::Length)]);
        assert_eq!((refused.verdict, refused.text.as_str()), (Verdict3::Open, "have is not known"));
        let wrong = Calculation::new("at-least", ["have", "much"].into_iter()).unwrap_err();
        assert!(wrong.contains("missing: want; not known: much"), "{wrong}");
        assert!(Calculation::new("at-last", std::iter::empty()).unwrap_err().contains("at-least"));
    }
}
