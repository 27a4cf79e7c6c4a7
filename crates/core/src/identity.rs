//! Identity: whether numbers and dates on a vehicle agree with each other and in time, and how far it has gone.
//!
//! In words. A thing that was cast or stamped with a day agrees with the vehicle where that lies before it was built and by no
//! more than six months (common practice); one of later was replaced, one of much earlier is of another vehicle or of old
//! stock; a day known to the year alone leaves it open. Marks of one thing bear one number. What the counter shows is what
//! was driven less a whole number of its rounds; what wear lets one believe says of how many.

mod practice;

use std::collections::{BTreeMap, BTreeSet};

use knockon_figures::identity::{self as chassis, ChassisNumber};
use knockon_figures::mileage::{Believed, counter};

use self::practice::PRACTICE;
pub use self::practice::thing_of;
use crate::date::{Date, Dated, Period};
use crate::quantity::Quantity;
use crate::sheet::{Identity, Mark, Wear};
use crate::units::Dimension;

/// A mile, in metres.
const MILE: f64 = 1609.344;
/// The other unit of counters.
const KM: &str = "km";

/// How the day of a mark goes with the day on which the vehicle was built.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum InTime {
    /// It was made shortly before.
    Agrees,
    /// It was made after: it was replaced.
    Replaced,
    /// It was made long before: of another vehicle, or of old stock.
    Older,
    /// The days are not known well enough.
    Open,
    /// It is of a day that has not been yet.
    Impossible,
    /// What is written is no day.
    Unread(String),
}

impl InTime {
    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Agrees => "agrees with the build".to_owned(),
            Self::Replaced => "made after the vehicle was built: it was replaced".to_owned(),
            Self::Older => "made long before: of another vehicle, or of old stock".to_owned(),
            Self::Open => "may agree: its day is not known well enough".to_owned(),
            Self::Impossible => "its day has not been yet: read it again".to_owned(),
            Self::Unread(why) => why.clone(),
        }
    }

    /// Nothing has to be looked into.
    #[must_use]
    pub fn is_fine(&self) -> bool {
        matches!(self, Self::Agrees | Self::Open)
    }
}

/// The unit that a counter counts in, by what it shows: "km", else "miles".
#[must_use]
pub fn unit_of(counter: Option<&str>) -> &'static str {
    if counter.is_some_and(|shown| shown.trim_end().ends_with(KM)) { KM } else { "miles" }
}

/// A distance as people write it, as a sheet holds it: "41,000", "41 000 miles", "66000 km". A bare number is in `unit`; nothing
/// where nothing is typed.
///
/// # Errors
/// A sentence with what was expected.
pub fn written_distance(text: &str, unit: &str) -> Result<Option<String>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let split = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, told) = text.split_at(split);
    let expected = || format!("Expected a distance such as 41000 miles or 66000 km, found \"{text}\".");
    // distances are whole: what stands between their figures parts thousands, and nothing else
    let groups: Vec<&str> = number.trim().split([' ', ',', '.', '\'', '\u{a0}', '\u{202f}']).collect();
    if groups.iter().skip(1).any(|group| group.len() != 3) {
        return Err(expected());
    }
    let whole = groups.concat().parse::<u32>().map_err(|_| expected())?;
    let told = match told.trim().to_lowercase().as_str() {
        "" => unit,
        "mi" | "mile" | "miles" => "miles",
        "km" | "kms" | "kilometres" | "kilometers" => "km",
        _ => return Err(expected()),
    };
    Ok(Some(format!("{whole} {told}")))
}

/// A distance with its thousands parted, as it is read: "41,000 miles" for "41000 miles". What does not begin with five
/// figures or more stays as it is, as years do; [`written_distance`] reads what this says.
#[must_use]
pub fn parted(distance: &str) -> String {
    let end = distance.find(|c: char| !c.is_ascii_digit()).unwrap_or(distance.len());
    let (whole, rest) = distance.split_at(end);
    if end < 5 || rest.starts_with(['.', ',']) {
        return distance.to_owned();
    }
    let mut out = String::with_capacity(distance.len() + end / 3);
    for (at, figure) in whole.chars().enumerate() {
        if at > 0 && (end - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(figure);
    }
    out + rest
}

/// What is made of the identity of a vehicle.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Told {
    /// Of each mark with a day, by its place among the marks, how it goes with the build.
    pub in_time: Vec<(usize, InTime)>,
    /// Things whose marks bear different numbers, with these.
    pub differ: Vec<(String, Vec<String>)>,
    /// How many things have two numbers or more, which were compared.
    pub compared: usize,
    /// What the chassis number says of itself, in words.
    pub chassis: Option<String>,
    /// The unit that the counter counts in: "miles" or "km".
    pub unit: &'static str,
    /// Distances that the counter can mean and wear lets one believe, in its unit; `None`: the counter cannot be read, or
    /// nobody has written down what it shows.
    pub distances: Option<Vec<f64>>,
    /// What wear lets one believe, in the counter's unit; `None`: it contradicts itself.
    pub believed: Option<(Option<f64>, Option<f64>)>,
    /// What cannot be read, in words.
    pub problems: Vec<String>,
}

/// What is made of an identity on a day. `None`: no day was given, and nothing is impossible.
#[must_use]
pub fn told(identity: &Identity, on: Option<Date>) -> Told {
    let mut out = Told::default();
    let built = identity.built.as_deref().map(Dated::parse);
    if let Some(Err(why)) = &built {
        out.problems.push(format!("built: {why}"));
    }
    let built = built.and_then(Result::ok);
    for (at, mark) in identity.marks.iter().enumerate() {
        if let Some(text) = &mark.dated {
            out.in_time.push((at, in_time(text, built.as_ref(), on)));
        }
    }
    let numbers = numbers(&identity.marks);
    out.compared = numbers.iter().filter(|(.., marks)| *marks > 1).count();
    out.differ = numbers
        .into_iter()
        .filter(|(_, texts, _)| texts.len() > 1)
        .map(|(of, texts, _)| (of, texts))
        .collect();
    let year = built.as_ref().and_then(|built| u16::try_from(built.first.year()).ok());
    let number = identity.marks.iter().find(|mark| thing(mark) == "chassis" && !mark.text.trim().is_empty());
    out.chassis = number.map(|mark| match chassis::read(&mark.text, year) {
        Ok(ChassisNumber::BeforeTheRule { .. }) => {
            "before there were check digits: compare it with the plate, the frame and the papers".to_owned()
        }
        Ok(read) => read.to_string(),
        Err(why) => why.to_string(),
    });
    // it rolls over at so many of its own unit, whatever the wear was told in
    let unit = unit_of(identity.counter.as_deref());
    let metres = if unit == KM { 1000.0 } else { MILE };
    out.unit = unit;
    let told = |wear| believed(wear, metres, &mut out.problems);
    let wear = identity.wear.iter().map(told).collect::<Vec<_>>();
    let all = wear.into_iter().try_fold(Believed::default(), Believed::and);
    out.believed = all.map(|all| (all.least, all.most));
    if let Some((shown, all)) = identity.counter.as_deref().map(|text| distance(text, metres)).zip(all) {
        let can = shown.and_then(|shown| {
            counter(shown, identity.digits.unwrap_or(PRACTICE.counter_figures), all)
                .map_err(|why| why.to_string())
        });
        match can {
            Ok(can) => out.distances = Some(can),
            Err(why) => out.problems.push(format!("counter: {why}")),
        }
    }
    out
}

fn in_time(text: &str, built: Option<&Dated>, on: Option<Date>) -> InTime {
    let made = match Dated::parse(text) {
        Ok(made) => made,
        Err(why) => return InTime::Unread(why.to_string()),
    };
    if on.is_some_and(|on| made.first > on) {
        return InTime::Impossible;
    }
    let Some(built) = built else { return InTime::Open };
    let Ok(before) = Period::parse(&PRACTICE.cast_before) else { return InTime::Open };
    let (Some(early), Some(late)) = (before.after(made.first), before.after(made.last)) else {
        return InTime::Open;
    };
    if made.first > built.last {
        InTime::Replaced
    } else if late < built.first {
        InTime::Older
    } else if made.last <= built.first && early >= built.last {
        InTime::Agrees
    } else {
        InTime::Open
    }
}

/// A number as it is compared: without blanks and hyphens, in capitals.
fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_uppercase).collect()
}

/// What a mark is of, as it is compared.
fn thing(mark: &Mark) -> String {
    mark.of.trim().to_lowercase()
}

/// Of each thing with a number what its marks bear, each number once; in the order of the marks.
fn numbers(marks: &[Mark]) -> Vec<(String, Vec<String>, usize)> {
    let mut out: Vec<(String, Vec<String>, usize)> = Vec::new();
    let mut at: BTreeMap<String, usize> = BTreeMap::new();
    let mut seen: BTreeSet<(usize, String)> = BTreeSet::new();
    for mark in marks.iter().filter(|mark| !thing(mark).is_empty() && !plain(&mark.text).is_empty()) {
        let n = *at.entry(thing(mark)).or_insert_with(|| {
            out.push((thing(mark), Vec::new(), 0));
            out.len() - 1
        });
        if let Some((_, texts, marks)) = out.get_mut(n) {
            *marks += 1;
            if seen.insert((n, plain(&mark.text))) {
                texts.push(mark.text.clone());
            }
        }
    }
    out
}

/// In a unit of so many metres.
fn distance(text: &str, metres: f64) -> Result<f64, String> {
    let distance = Quantity::parse_as(text, Dimension::Length).map_err(|why| why.to_string())?;
    // a counter shows whole miles or kilometres: the hair of a machine is no distance
    Ok((distance.si / metres * 1e6).round() / 1e6)
}

fn believed(wear: &Wear, metres: f64, problems: &mut Vec<String>) -> Believed {
    let mut end = |text: &Option<String>| match text.as_deref().map(|text| distance(text, metres)) {
        None => None,
        Some(Ok(so_far)) => Some(so_far),
        Some(Err(why)) => {
            problems.push(format!("{}: {why}", wear.what));
            None
        }
    };
    Believed { least: end(&wear.least), most: end(&wear.most) }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::date::day;

    fn of(json: serde_json::Value) -> Told {
        told(&serde_json::from_value(json).unwrap(), Some(day("2026-03-01").unwrap()))
    }

    fn engine(built: &str, cast: &str) -> InTime {
        let marks = json!([{"what": "casting date", "of": "engine", "dated": cast}]);
        of(json!({"built": built, "marks": marks})).in_time[0].1.clone()
    }

    /// Common practice: casting goes before building by up to six months. Worked by hand.
    #[test]
    fn a_casting_date_goes_with_the_build_or_the_unit_was_replaced() {
        assert_eq!(engine("1958-06", "1958-04-17"), InTime::Agrees);
        assert_eq!(engine("1958-06-20", "1957-12-20"), InTime::Agrees);
        assert_eq!(engine("1958-06-20", "1957-12-19"), InTime::Older);
        // cast fourteen months after the vehicle was built
        assert_eq!(engine("1971-05", "1972-07"), InTime::Replaced);
        // known to the year alone
        assert_eq!(engine("1958", "1958"), InTime::Open);
        assert_eq!(engine("1958", "1956"), InTime::Older);
        assert_eq!(engine("1958-06", "2031"), InTime::Impossible);
        assert!(matches!(engine("1958-06", "in spring"), InTime::Unread(_)));
        let no_build = json!({"marks": [{"what": "casting date", "of": "engine", "dated": "1958"}]});
        assert_eq!(of(no_build).in_time, [(0, InTime::Open)]);
    }

    #[test]
    fn a_distance_is_read_as_people_write_it() {
        let read = |text| written_distance(text, "miles");
        for (text, wanted) in [
            ("41000", "41000 miles"),
            ("41,000", "41000 miles"),
            ("41 000 mi", "41000 miles"),
            ("66.000 km", "66000 km"),
            ("12'000 kilometres", "12000 km"),
        ] {
            assert_eq!(read(text).unwrap().as_deref(), Some(wanted), "{text}");
            assert!(distance(wanted, 1000.0).is_ok(), "what is written can be read again");
        }
        assert_eq!(read("  "), Ok(None));
        for text in [
            "many",
            "-4 miles",
            "41000 ft",
            "4e9 km",
            "99999999999",
            "miles",
            "41.5 km",
            "1,5",
            "41000.3",
            "1..000",
        ] {
            assert!(read(text).unwrap_err().contains("41000 miles"), "{text}");
        }
    }

    #[test]
    fn a_distance_is_shown_with_its_thousands_parted_and_read_again() {
        for (text, shown) in [
            ("41000 miles", "41,000 miles"),
            ("141000 miles", "141,000 miles"),
            ("1234567 km", "1,234,567 km"),
            ("9000 km", "9000 km"),
            ("0 miles", "0 miles"),
            ("many", "many"),
            ("", ""),
        ] {
            assert_eq!(parted(text), shown);
            if let Ok(Some(read)) = written_distance(shown, "miles") {
                assert_eq!(read, text);
            }
        }
        assert_eq!(parted("41000.5 miles"), "41000.5 miles");
    }

    fn same_twice() -> serde_json::Value {
        json!({"marks": [
            {"what": "plate", "of": "chassis", "text": "7"}, {"what": "stamp", "of": "chassis", "text": "7"}
        ]})
    }

    #[test]
    fn marks_of_one_thing_bear_one_number() {
        let mark = |what: &str, of: &str, text: &str| json!({"what": what, "of": of, "text": text});
        let same = json!({"marks": [mark("plate", "chassis", "WL16/61/2208"), mark("stamp", "chassis", "wl16 61 2208")]});
        assert_eq!(of(same).differ, []);
        let cased = json!({"marks": [mark("plate", "Engine", "A1"), mark("stamp", "engine ", "B2")]});
        assert_eq!(of(cased).differ, [("engine".to_owned(), vec!["A1".to_owned(), "B2".to_owned()])]);
        let alone = json!({"marks": [mark("plate", "chassis", "7"), mark("block", "engine", "8")]});
        assert_eq!(
            (of(same_twice()).compared, of(alone).compared),
            (1, 0),
            "one number each is no agreement"
        );
        let other = json!({"marks": [
            mark("plate", "chassis", "WL16/61/2208"), mark("stamp", "chassis", "WL16/61/2280"), mark("block", "engine", "7")
        ]});
        let told = of(other);
        assert_eq!(
            told.differ,
            [("chassis".to_owned(), vec!["WL16/61/2208".to_owned(), "WL16/61/2280".to_owned()])]
        );
    }

    /// 49 CFR 565.15(c): the sample number of the regulation's table V, and the same with a slip.
    #[test]
    fn a_check_digit_is_held_to_the_rule_from_1981_on() {
        let chassis = |built: &str, text: &str| {
            let marks = json!([{"what": "plate", "of": "chassis", "text": text}]);
            of(json!({"built": built, "marks": marks})).chassis.unwrap()
        };
        assert!(chassis("1986", "1G4AH59H45G118341").contains("agrees"));
        assert!(chassis("1986", "1G4AH59H45G118342").contains("would be"));
        assert!(chassis("1961", "WL16/61/2208").contains("before there were check digits"));
    }

    /// 5 figures roll over at 100,000 of what they count: 41,000 km are 141,000 km the second time, not 202,000.
    #[test]
    fn a_counter_of_kilometres_rolls_over_in_kilometres() {
        let wear = json!([{"what": "bore ridge just felt", "least": "75000 miles", "most": "100000 miles"}]);
        let told = of(json!({"counter": "41000 km", "wear": wear}));
        assert_eq!((told.unit, told.distances), ("km", Some(vec![141_000.0])));
        let (least, most) = told.believed.unwrap();
        assert!((least.unwrap() - 120_700.8).abs() < 0.1 && (most.unwrap() - 160_934.4).abs() < 0.1);
    }

    #[test]
    fn a_counter_that_rolled_over_is_believed_by_the_wear() {
        let wear = |what: &str, least: Option<&str>, most: Option<&str>| json!({"what": what, "least": least, "most": most});
        let worn = json!({"counter": "41000 miles", "wear": [
            wear("pedal pads through to the steel", Some("100000 miles"), None),
            wear("bore ridge just felt", Some("120000 miles"), Some("160000 miles")),
            wear("engine rebuilt: it proves nothing", None, None)
        ]});
        let told = of(worn);
        assert_eq!((told.unit, told.distances), ("miles", Some(vec![141_000.0])));
        assert_eq!(told.believed, Some((Some(120_000.0), Some(160_000.0))));
        let against = json!({"counter": "41000 miles", "wear": [
            wear("pads", Some("100000 miles"), None), wear("seat as new", None, Some("50000 miles"))
        ]});
        assert_eq!(of(against).believed, None);
        let wrong = of(json!({"counter": "41 psi", "wear": [wear("pads", Some("much"), None)]}));
        assert_eq!(wrong.problems.len(), 2, "{:?}", wrong.problems);
        let beyond = of(json!({"counter": "141000 miles"}));
        assert!(beyond.problems[0].contains("counter"), "{:?}", beyond.problems);
    }
}
