//! The bounds of an inspection at one place: those of the maker, of a case, or of the library, as numbers and in words.

use super::around::Around;
use crate::catalogue::survey::bands;
use crate::catalogue::{Bands, PositionId, ReadAs, Span};
use crate::library::CountedBy;
use crate::quantity::Quantity;
use crate::units::Dimension;

/// Bounds at a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Settled {
    pub bands: Bands,
    /// Who says so, where it is not the library.
    pub whose: String,
    /// The case they are of; empty where there is none.
    pub case: String,
}

/// The bounds of an inspection at a place.
///
/// # Errors
/// A sentence where what they are counted from is not known, or what the sheet says of the maker cannot be read.
pub(super) fn settled(around: &Around<'_>, id: &str, pos: PositionId) -> Result<Settled, String> {
    let nothing = || Settled { bands: Bands::default(), whose: String::new(), case: String::new() };
    let Some(entry) = around.cat.inspections.get(id) else { return Ok(nothing()) };
    let ReadAs::Quantity(dimension, plain) = entry.read else {
        return Ok(nothing());
    };
    let place = &around.v.positions[pos].id;
    let own = around.sheet.own_bounds.get(place).and_then(|of| of.get(id));
    if let Some(own) = own {
        let read = bands([Some(&own.good), own.watch.as_ref(), own.renew.as_ref()], dimension);
        let bands = read.map_err(|(word, why)| format!("the limit of your own, {word}: {why}"))?;
        return Ok(Settled { bands, whose: own.source.clone(), case: String::new() });
    }
    let (mut settled, mut open) = (None, None);
    for case in &entry.cases {
        let by_fact = match &case.known {
            None => Some(true),
            Some(of) => {
                let value = if of.of_part { around.figure(pos, &of.figure) } else { around.fact(&of.figure) };
                let known = value.and_then(|value| value.bounds());
                if known.is_none() {
                    open.get_or_insert_with(|| of.figure.clone());
                }
                known.map(|(low, high)| of.span.holds(low) && of.span.holds(high))
            }
        };
        let by_port = case.port_type.as_ref().is_none_or(|of| around.has_port(pos, of));
        if by_fact == Some(true) && by_port {
            settled = Some((case.bands, case.name.clone()));
            break;
        }
    }
    let (bands, case) = match (settled, open) {
        (Some(found), _) => found,
        (None, Some(figure)) if plain == Bands::default() => {
            let name = around.cat.figure_names.get(&figure).and_then(|ix| around.cat.figures.get(ix));
            let name = name.map_or(figure.as_str(), |figure| figure.0.as_str());
            return Err(format!("its limit depends on what is not known: {name}"));
        }
        (None, None) if plain == Bands::default() => {
            return Err("the library has no limit for this one; look in the maker's manual".to_owned());
        }
        (None, _) => (plain, String::new()),
    };
    let Some(against) = &entry.def.against else {
        return Ok(Settled { bands, whose: String::new(), case });
    };
    let Some((low, high)) = around.counted_from(against, pos) else {
        let of = against.fact.as_ref().or(against.figure.as_ref());
        let named = of.and_then(|of| around.cat.figures.get(around.cat.figure_names.get(of)?));
        let what = named.map_or("what is not known of this vehicle", |figure| figure.0.as_str());
        return Err(format!("its limit depends on {what}: state that, or give the maker's limit"));
    };
    let bands = match against.by {
        CountedBy::Difference => bands.map(|end| low + end, |end| high + end),
        CountedBy::Share => bands.map(|end| low * end, |end| high * end),
        CountedBy::Each => bands.map(|end| end * low / entry.each, |end| end * high / entry.each),
    };
    Ok(Settled { bands, whose: String::new(), case })
}

/// The bounds in words, in the unit in which a bare number is read.
pub(super) fn in_words(settled: &Settled, dimension: Dimension, unit: &str, stop: bool) -> String {
    let mut all = vec![span("good ", settled.bands.good, dimension, unit)];
    match settled.bands.watch {
        Some(watch) if watch.is_open() => all.push("else watch".to_owned()),
        watch => {
            all.extend(watch.map(|watch| span("watch ", watch, dimension, unit)));
            match settled.bands.renew.filter(|_| !stop) {
                Some(renew) => all.push(span("renew ", renew, dimension, unit) + ", beyond that stop"),
                None => all.push(if stop { "else stop" } else { "else renew" }.to_owned()),
            }
        }
    }
    let case = if settled.case.is_empty() { String::new() } else { format!(" ({})", settled.case) };
    all.join("; ") + &case
}

fn span(word: &str, span: Span, dimension: Dimension, unit: &str) -> String {
    let number = |si: f64| in_unit(si, dimension, unit);
    match (span.least, span.most) {
        (Some(least), Some(most)) => format!("{word}{} to {}", number(least), number(most)),
        (Some(least), None) => format!("{word}from {}", number(least)),
        (None, Some(most)) => format!("{word}to {}", number(most)),
        (None, None) => word.to_owned(),
    }
}

/// A number in a unit, as finely as a limit is written: to a hundred-thousandth of itself.
fn in_unit(si: f64, dimension: Dimension, unit: &str) -> String {
    let one = Quantity::parse_as(&format!("1 {unit}"), dimension).map_or(1.0, |one| one.si);
    let value = si / one;
    let size = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    let decimals = (4.0 - size).clamp(0.0, 6.0) as usize;
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let text = if text == "-0" { "0" } else { text };
    match unit {
        "" => text.to_owned(),
        "%" | "°" => format!("{text} {unit}").replace(" °", "°"),
        unit => format!("{text} {unit}"),
    }
}
