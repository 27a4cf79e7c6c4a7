//! The fields of what the vehicle is: each by its name, what stands in it, and the identity that it makes of what is typed.

use knockon_core::date::Dated;
use knockon_core::identity::{parted, thing_of, unit_of, written_distance};
use knockon_core::sheet::{Identity, Mark, Wear};

/// Whole figures a counter can have.
const DIGITS: std::ops::RangeInclusive<u32> = 3..=7;

/// A field; those of a number or of wear with its place, one behind the last for another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// When the vehicle was built.
    Built,
    /// What the counter shows.
    Counter,
    /// Its whole figures.
    Digits,
    /// Where a number stands.
    Where(usize),
    /// What it is of.
    Of(usize),
    /// As it stands there.
    Text(usize),
    /// The day it tells.
    Dated(usize),
    /// What shows it.
    Evidence(usize),
    /// What is worn.
    Worn(usize),
    /// At least so far.
    Least(usize),
    /// At most so far.
    Most(usize),
}

impl Field {
    /// All of an identity.
    pub fn all(identity: &Identity) -> Vec<Self> {
        let mut all = vec![Self::Built, Self::Counter, Self::Digits];
        for at in 0..=identity.marks.len() {
            all.extend([Self::Where(at), Self::Of(at), Self::Text(at), Self::Dated(at), Self::Evidence(at)]);
        }
        for at in 0..=identity.wear.len() {
            all.extend([Self::Worn(at), Self::Least(at), Self::Most(at)]);
        }
        all
    }

    /// Its name, the only one of the page.
    pub fn name(self) -> String {
        let of = |what: &str, kind: &str, at: usize| format!("{what}, {kind} {}", at + 1);
        match self {
            Self::Built => "Built".to_owned(),
            Self::Counter => "The counter shows".to_owned(),
            Self::Digits => "Whole figures of the counter".to_owned(),
            Self::Where(at) => of("Where it stands", "number", at),
            Self::Of(at) => of("What it is of", "number", at),
            Self::Text(at) => of("As it stands there", "number", at),
            Self::Dated(at) => of("The day it tells", "number", at),
            Self::Evidence(at) => of("What shows it", "number", at),
            Self::Worn(at) => of("What is worn", "wear", at),
            Self::Least(at) => of("At least", "wear", at),
            Self::Most(at) => of("At most", "wear", at),
        }
    }

    /// What stands in it.
    pub fn now(self, identity: &Identity) -> String {
        let mark = |at: usize| identity.marks.get(at).cloned().unwrap_or_default();
        let wear = |at: usize| identity.wear.get(at).cloned().unwrap_or_default();
        match self {
            Self::Built => identity.built.clone().unwrap_or_default(),
            Self::Counter => identity.counter.clone().unwrap_or_default(),
            Self::Digits => identity.digits.map_or_else(String::new, |n| n.to_string()),
            Self::Where(at) => mark(at).what,
            Self::Of(at) => mark(at).of,
            Self::Text(at) => mark(at).text,
            Self::Dated(at) => mark(at).dated.unwrap_or_default(),
            Self::Evidence(at) => mark(at).evidence,
            Self::Worn(at) => wear(at).what,
            Self::Least(at) => wear(at).least.unwrap_or_default(),
            Self::Most(at) => wear(at).most.unwrap_or_default(),
        }
    }

    /// What stands in it, as it is shown: distances with their thousands parted.
    pub fn shown(self, identity: &Identity) -> String {
        let now = self.now(identity);
        match self {
            Self::Counter | Self::Least(_) | Self::Most(_) => parted(&now),
            _ => now,
        }
    }

    /// Where Enter leads: from a row to the first field of the one below it, so that rows can be typed one after the other.
    pub fn next(self) -> Self {
        match (self, self.row()) {
            (Self::Built, _) => Self::Counter,
            (Self::Counter, _) => Self::Digits,
            (_, None) => Self::Where(0),
            (_, Some((true, at))) => Self::Where(at + 1),
            (_, Some((false, at))) => Self::Worn(at + 1),
        }
    }

    /// The identity with what is typed into it. A row whose first field is emptied is gone where nothing else stands in it.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn put(self, identity: &Identity, text: &str) -> Result<Identity, String> {
        let mut now = identity.clone();
        let text = text.trim();
        let unit = unit_of(identity.counter.as_deref());
        match self {
            Self::Built => now.built = day(text)?,
            Self::Counter => now.counter = written_distance(text, unit)?,
            Self::Digits => now.digits = digits(text)?,
            Self::Where(at) => match now.marks.get_mut(at) {
                Some(mark) => text.clone_into(&mut mark.what),
                None => {
                    let of = thing_of(text);
                    now.marks.push(Mark { what: text.to_owned(), of, ..Mark::default() });
                }
            },
            Self::Of(at) => mark(&mut now, at, |mark| text.clone_into(&mut mark.of)),
            Self::Text(at) => mark(&mut now, at, |mark| text.clone_into(&mut mark.text)),
            Self::Evidence(at) => mark(&mut now, at, |mark| text.clone_into(&mut mark.evidence)),
            Self::Dated(at) => {
                let dated = day(text)?;
                mark(&mut now, at, |mark| mark.dated = dated);
            }
            Self::Worn(at) => match now.wear.get_mut(at) {
                Some(wear) => text.clone_into(&mut wear.what),
                None => now.wear.push(Wear { what: text.to_owned(), ..Wear::default() }),
            },
            Self::Least(at) => {
                let least = written_distance(text, unit)?;
                wear(&mut now, at, |wear| wear.least = least);
            }
            Self::Most(at) => {
                let most = written_distance(text, unit)?;
                wear(&mut now, at, |wear| wear.most = most);
            }
        }
        match self {
            Self::Where(at) => {
                let says_nothing = |mark: &Mark| *mark == Mark { of: mark.of.clone(), ..Mark::default() };
                if now.marks.get(at).is_some_and(says_nothing) {
                    now.marks.remove(at);
                }
            }
            Self::Worn(at) if now.wear.get(at) == Some(&Wear::default()) => drop(now.wear.remove(at)),
            _ => {}
        }
        Ok(now)
    }

    /// The identity without the row of this field.
    pub fn without(self, identity: &Identity) -> Identity {
        let mut now = identity.clone();
        match self.row() {
            Some((true, at)) if at < now.marks.len() => drop(now.marks.remove(at)),
            Some((false, at)) if at < now.wear.len() => drop(now.wear.remove(at)),
            _ => {}
        }
        now
    }

    /// The same field once the row of another is out; `None`: it went with it.
    pub fn after(self, out: Self) -> Option<Self> {
        match (self.row(), out.row()) {
            (Some((mine, at)), Some((its, gone))) if mine == its => match at.cmp(&gone) {
                std::cmp::Ordering::Less => Some(self),
                std::cmp::Ordering::Equal => None,
                std::cmp::Ordering::Greater => Some(self.at(at - 1)),
            },
            _ => Some(self),
        }
    }

    /// Its row: whether it is one of the numbers, and which.
    fn row(self) -> Option<(bool, usize)> {
        match self {
            Self::Built | Self::Counter | Self::Digits => None,
            Self::Where(at) | Self::Of(at) | Self::Text(at) | Self::Dated(at) | Self::Evidence(at) => {
                Some((true, at))
            }
            Self::Worn(at) | Self::Least(at) | Self::Most(at) => Some((false, at)),
        }
    }

    /// The same field of another row.
    fn at(self, at: usize) -> Self {
        match self {
            Self::Built | Self::Counter | Self::Digits => self,
            Self::Where(_) => Self::Where(at),
            Self::Of(_) => Self::Of(at),
            Self::Text(_) => Self::Text(at),
            Self::Dated(_) => Self::Dated(at),
            Self::Evidence(_) => Self::Evidence(at),
            Self::Worn(_) => Self::Worn(at),
            Self::Least(_) => Self::Least(at),
            Self::Most(_) => Self::Most(at),
        }
    }
}

fn mark(identity: &mut Identity, at: usize, change: impl FnOnce(&mut Mark)) {
    if let Some(mark) = identity.marks.get_mut(at) {
        change(mark);
    }
}

fn wear(identity: &mut Identity, at: usize, change: impl FnOnce(&mut Wear)) {
    if let Some(wear) = identity.wear.get_mut(at) {
        change(wear);
    }
}

fn day(text: &str) -> Result<Option<String>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    Dated::parse(text).map(|dated| Some(dated.text)).map_err(|why| format!("{why}."))
}

fn digits(text: &str) -> Result<Option<u32>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let read = text.parse::<u32>().ok().filter(|n| DIGITS.contains(n));
    read.map(Some).ok_or_else(|| {
        format!(
            "Expected the whole figures of the counter, {} to {}, found \"{text}\".",
            DIGITS.start(),
            DIGITS.end()
        )
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn what_stands_in_a_field_puts_nothing_new_into_it() {
        let mark = Mark {
            what: "plate".into(),
            of: "chassis".into(),
            dated: Some("1958".into()),
            ..Mark::default()
        };
        let wear = Wear { what: "pads".into(), least: Some("100000 miles".into()), ..Wear::default() };
        let identity = Identity {
            built: Some("1958".into()),
            counter: Some("41000 miles".into()),
            digits: Some(5),
            marks: vec![mark],
            wear: vec![wear],
            ..Identity::default()
        };
        let mut names = Vec::new();
        for field in Field::all(&identity) {
            assert_eq!(field.put(&identity, &field.now(&identity)).as_ref(), Ok(&identity), "{field:?}");
            names.push(field.name());
        }
        let all = names.len();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), all, "no two fields have one name");
    }

    #[test]
    fn an_emptied_first_field_loses_nothing_that_stands_behind_it() {
        let mark = Mark { what: "plate".into(), of: "chassis".into(), text: "F10".into(), ..Mark::default() };
        let nameless = Mark { what: String::new(), text: "7".into(), ..Mark::default() };
        let identity = Identity { marks: vec![mark, nameless], ..Identity::default() };
        let now = Field::Where(0).put(&identity, "").unwrap();
        assert_eq!((now.marks.len(), now.marks[0].text.as_str()), (2, "F10"));
        let built = Field::Built.put(&identity, "1958").unwrap();
        assert_eq!(built.marks, identity.marks, "no other row is touched");
        assert_eq!(Field::Text(0).without(&identity).marks, identity.marks[1..]);
    }

    #[test]
    fn what_is_typed_goes_with_its_row() {
        let out = Field::Where(1);
        assert_eq!(Field::Dated(0).after(out), Some(Field::Dated(0)));
        assert_eq!(Field::Dated(1).after(out), None);
        assert_eq!(Field::Dated(2).after(out), Some(Field::Dated(1)));
        assert_eq!(Field::Worn(1).after(out), Some(Field::Worn(1)));
        assert_eq!(Field::Built.after(out), Some(Field::Built));
    }

    #[test]
    fn a_row_comes_by_its_first_word_and_goes_with_it() {
        let none = Identity::default();
        let one = Field::Where(0).put(&none, " frame stamp ").unwrap();
        assert_eq!((one.marks[0].what.as_str(), one.marks[0].of.as_str()), ("frame stamp", "chassis"));
        assert_eq!(Field::Where(0).put(&one, "").unwrap(), none);
        assert_eq!(Field::Text(3).put(&one, "lost").unwrap(), one, "there is no such row");
        assert_eq!(Field::Worn(0).put(&none, "").unwrap(), none);
    }
}
