//! Units as people write them: one symbol for each spelling, with what a word may mean besides.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::units::{self, Dimension, Unit};

static UNITS: LazyLock<Vec<Unit>> = LazyLock::new(units::table);

/// Spellings of each symbol besides itself, with a blank between. Capitals, blanks, points, hyphens and raised dots do not
/// count: "ft-lbs", "Ft. Lbs" and "ft·lb" are one.
const SPELLINGS: [(&str, &str); 88] = [
    ("mm", "millimetre millimetres millimeter millimeters"),
    ("cm", "centimetre centimetres centimeter centimeters"),
    ("m", "metre metres meter meters"),
    ("km", "kilometre kilometres kilometer kilometers kms"),
    ("µm", "μm um micron microns"),
    ("in", "\" ″ ” '' inch inches ins"),
    ("thou", "mil mils thousandth thousandths thous"),
    ("ft", "' ′ ’ foot feet"),
    ("yd", "yard yards yds"),
    ("mile", "mi"),
    ("mm2", "sqmm sqmillimetre sqmillimetres"),
    ("cm2", "sqcm"),
    ("m2", "sqm"),
    ("in2", "sqin sqinch sqinches squareinches"),
    ("ft2", "sqft squarefeet"),
    ("L", "l ltr ltrs litre litres liter liters dm3"),
    ("mL", "millilitre millilitres milliliter milliliters"),
    ("cm3", "cc ccm ccs"),
    ("in3", "cuin ci cid cuinch cuinches cubicinch cubicinches"),
    ("ft3", "cuft cubicfoot cubicfeet"),
    ("US gal", "usgallon usgallons"),
    ("US qt", "usquart usquarts"),
    ("US pt", "uspint uspints"),
    ("US fl oz", "usoz usfluidounce usfluidounces"),
    ("imp gal", "impgallon impgallons imperialgallon imperialgallons ukgal ukgallon ukgallons"),
    ("imp qt", "impquart impquarts imperialquart imperialquarts ukqt"),
    ("imp pt", "imppint imppints imperialpint imperialpints ukpt ukpint ukpints"),
    ("imp fl oz", "impoz ukfloz imperialfloz"),
    ("kg", "kgs kilo kilos kilogram kilograms"),
    ("g", "gram grams"),
    ("lb", "lbs lbm pound pounds"),
    ("oz", "ounce ounces"),
    ("t", "tonne tonnes"),
    ("N", "newton newtons"),
    ("lbf", "lb lbs pound pounds poundforce"),
    ("kgf", "kp kg kgs"),
    ("Pa", "pascal pascals"),
    ("psi", "psig lb/in2 lbs/in2 lbf/in2 lb/sqin lbs/sqin lbf/sqin"),
    ("bar", "bars"),
    ("inHg", "\"hg inchhg incheshg inchesofmercury"),
    ("kgf/cm2", "kg/cm2 kg/sqcm kgf/sqcm kp/cm2"),
    ("deg", "° º degree degrees"),
    ("rad", "radian radians"),
    ("ms", "msec millisecond milliseconds"),
    ("s", "sec secs second seconds"),
    ("min", "mins minute minutes"),
    ("h", "hr hrs hour hours"),
    ("day", "days"),
    ("week", "weeks wk wks"),
    ("month", "months"),
    ("year", "years yr yrs"),
    ("km/h", "kmh kph kmph"),
    ("mph", "mile/h miles/h mi/h"),
    ("m/s", "mps metres/second meters/second"),
    ("ft/s", "fps feet/s"),
    ("rpm", "rev/min revs/min r/min 1/min"),
    ("N·m", "nm newtonmetre newtonmetres newtonmeter newtonmeters"),
    ("lbf·ft", "lbfft lbft ftlb ftlbs lbsft ftlbf footpound footpounds poundfoot poundfeet"),
    ("lbf·in", "lbfin lbin inlb inlbs lbsin inlbf inchpound inchpounds"),
    ("kgf·m", "kgm mkg kgfm mkgf kpm mkp"),
    ("W", "watt watts"),
    ("kW", "kilowatt kilowatts"),
    ("hp", "bhp horsepower"),
    ("PS", "cv pk ch metrichorsepower"),
    ("A", "amp amps ampere amperes"),
    ("mA", "milliamp milliamps"),
    ("V", "volt volts"),
    ("ohm", "ohms ω Ω Ω"),
    ("Ah", "amph amphour amphours amperehour amperehours"),
    ("L/min", "lpm litres/min liters/min l/minute"),
    ("L/h", "lph litres/h liters/h l/hr litres/hour liters/hour"),
    ("mL/min", "cc/min cm3/min"),
    ("m3/h", "cbm/h"),
    ("cfm", "cuft/min ft3/min"),
    ("US gpm", "gpm usgal/min"),
    ("US gph", "gph usgal/h"),
    ("imp gpm", "impgal/min"),
    ("imp gph", "impgal/h"),
    ("rev/mile", "revs/mile turns/mile rpmile rev/mi revs/mi"),
    ("rev/km", "revs/km turns/km"),
    ("N·m/MPa", "nm/mpa"),
    ("N/mm", "newton/mm newtons/mm kn/m"),
    ("lbf/in", "lb/in lbs/in pounds/inch pounds/in lb/inch lbs/inch"),
    ("kgf/mm", "kg/mm kp/mm"),
    ("AWG", "ga gauge awgauge"),
    ("°C", "c degc celsius degreesc degreescelsius degcelsius centigrade"),
    ("°F", "f degf fahrenheit degreesf degreesfahrenheit degfahrenheit"),
    ("%", "percent pct"),
];

/// Units that two systems write alike: the bare word, and what it may be.
const BARE: [(&str, [&str; 2]); 13] = [
    ("gal", ["US gal", "imp gal"]),
    ("gals", ["US gal", "imp gal"]),
    ("gallon", ["US gal", "imp gal"]),
    ("gallons", ["US gal", "imp gal"]),
    ("qt", ["US qt", "imp qt"]),
    ("qts", ["US qt", "imp qt"]),
    ("quart", ["US qt", "imp qt"]),
    ("quarts", ["US qt", "imp qt"]),
    ("pt", ["US pt", "imp pt"]),
    ("pts", ["US pt", "imp pt"]),
    ("pint", ["US pt", "imp pt"]),
    ("pints", ["US pt", "imp pt"]),
    ("floz", ["US fl oz", "imp fl oz"]),
];

/// What a unit as written may be: its symbols, the likeliest first.
static MEANT: LazyLock<BTreeMap<String, Vec<&'static str>>> = LazyLock::new(|| {
    let mut meant: BTreeMap<String, Vec<&'static str>> = BTreeMap::new();
    let mut add = |spelled: &str, symbol: &'static str| {
        let list = meant.entry(key(spelled)).or_default();
        if !list.contains(&symbol) {
            list.push(symbol);
        }
    };
    for unit in UNITS.iter() {
        add(unit.symbol, unit.symbol);
    }
    for (symbol, spelled) in SPELLINGS {
        add(symbol, symbol);
        for word in spelled.split(' ') {
            add(word, symbol);
        }
    }
    meant
});

/// A unit as written, without what does not count.
fn key(written: &str) -> String {
    let lower = written.to_lowercase().replace(" per ", "/").replace('²', "2").replace('³', "3");
    lower.chars().filter(|c| !matches!(c, ' ' | '.' | '-' | '·' | '⋅' | '*' | '^' | '_')).collect()
}

/// The symbol of a unit as written, of a dimension where one is wanted; `None` where it is not known, or of another
/// dimension alone. An empty text is no unit.
pub(super) fn symbol(written: &str, wanted: Option<Dimension>) -> Option<&'static str> {
    // as this program writes it: no spelling to look for
    if wanted.is_none()
        && let Some(unit) = UNITS.iter().find(|u| u.symbol == written)
    {
        return Some(unit.symbol);
    }
    let known = MEANT.get(&key(written))?;
    let of = |symbol: &&&'static str| wanted.is_none_or(|w| dimension(symbol) == Some(w));
    known.iter().find(of).or_else(|| known.first()).copied()
}

/// What a bare word of two systems may be.
pub(super) fn either(written: &str) -> Option<[&'static str; 2]> {
    let key = key(written);
    BARE.iter().find(|(word, _)| *word == key).map(|(_, both)| *both)
}

/// What a symbol measures.
pub(super) fn dimension(symbol: &str) -> Option<Dimension> {
    match symbol {
        "AWG" => Some(Dimension::Area),
        "°C" | "°F" => Some(Dimension::Temperature),
        "%" => Some(Dimension::Ratio),
        other => UNITS.iter().find(|u| u.symbol == other).map(|u| u.dimension),
    }
}

/// The number of a symbol in SI, with what it measures; degrees Celsius for a temperature.
pub(super) fn to_si(number: f64, symbol: &str) -> Option<(Dimension, f64)> {
    let dimension = dimension(symbol)?;
    let si = match symbol {
        "AWG" => {
            // ASTM B258: diameter in mm = 0.127 * 92^((36 - n) / 39)
            let diameter = 0.127e-3 * 92_f64.powf((36.0 - number) / 39.0);
            std::f64::consts::FRAC_PI_4 * diameter * diameter
        }
        "°C" => number,
        "°F" => (number - 32.0) / 1.8,
        "%" => number / 100.0,
        other => number * UNITS.iter().find(|u| u.symbol == other)?.factor,
    };
    Some((dimension, si))
}

/// The symbol nearest to an unknown word, if any is near.
pub(super) fn nearest(written: &str) -> Option<&'static str> {
    let typed = written.to_lowercase();
    UNITS
        .iter()
        .filter_map(|u| {
            let symbol = u.symbol.to_lowercase();
            let alike = strsim::jaro_winkler(&typed, &symbol);
            // a slip changes a letter more often than it adds one
            let longer = typed.len().abs_diff(symbol.len());
            Some(((letters_off(&typed, &symbol)?, longer), alike, u.symbol))
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)))
        .map(|(.., symbol)| symbol)
}

/// How many letters a word is off a unit that may be meant: at most two, and half of the letters; `None`: more.
fn letters_off(typed: &str, symbol: &str) -> Option<usize> {
    // "km" for "km/h"
    if typed.len() > 1 && symbol.split([' ', '/']).any(|word| word == typed) {
        return Some(0);
    }
    let off = strsim::osa_distance(typed, symbol);
    let longer = typed.chars().count().max(symbol.chars().count());
    (off <= 2 && off * 2 <= longer).then_some(off)
}

/// Every spelling with the symbol it stands for, for tests.
#[cfg(test)]
pub(super) fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    SPELLINGS.iter().flat_map(|(symbol, words)| words.split(' ').map(move |word| (word, *symbol)))
}
