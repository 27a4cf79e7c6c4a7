//! Limits that are plain comparisons of two or three figures of one kind.

use super::Inputs;
use super::entry::{Answer, Own, alike, close, either, less, more, one};
use crate::phrase;
use crate::phrase::Number;
use crate::units::Dimension::Ratio;

pub(super) const ALL: &[Own] = &[
    Own {
        name: "at-least",
        inputs: &[alike("have"), alike("want")],
        levers: &[more("have", "")],
        work: at_least,
    },
    Own {
        name: "at-most",
        inputs: &[alike("have"), alike("most")],
        levers: &[less("have", "")],
        work: at_most,
    },
    Own {
        name: "between",
        inputs: &[alike("have"), alike("least"), alike("most")],
        levers: &[either("have", "")],
        work: between,
    },
    Own {
        name: "left-at-least",
        inputs: &[alike("space"), alike("taken"), alike("want")],
        levers: &[less("taken", "taken"), more("space", "space")],
        work: left,
    },
    Own {
        name: "ratio-at-least",
        inputs: &[alike("a"), alike("b"), one("ratio", Ratio)],
        levers: &[more("a", "")],
        work: ratio_at_least,
    },
];

fn at_least(i: &Inputs<'_>) -> Answer {
    let (have, want) = (i.number("have")?, i.number("want")?);
    let text = || {
        phrase!["it is ", i.beside("have", want), ", where at least ", i.beside("want", have), " is wanted"]
    };
    Ok((have >= want - close(have, want), i.say(text)))
}

fn at_most(i: &Inputs<'_>) -> Answer {
    let (have, most) = (i.number("have")?, i.number("most")?);
    let text = || {
        phrase!["it is ", i.beside("have", most), ", where at most ", i.beside("most", have), " is wanted"]
    };
    Ok((have <= most + close(have, most), i.say(text)))
}

fn between(i: &Inputs<'_>) -> Answer {
    let (have, least, most) = (i.number("have")?, i.number("least")?, i.number("most")?);
    let text = || {
        let near = if have < least { least } else { most };
        let wanted = Number { beside: Some(have), ..Number::of(least, i.kind("least")) }.to(most);
        phrase!["it is ", i.beside("have", near), ", where ", wanted, " is wanted"]
    };
    Ok((have >= least - close(have, least) && have <= most + close(have, most), i.say(text)))
}

fn left(i: &Inputs<'_>) -> Answer {
    let (space, taken, want) = (i.number("space")?, i.number("taken")?, i.number("want")?);
    let text = || {
        let left = space - taken;
        let shown = Number::of(left, i.kind("space")).difference().beside(want);
        let wanted = Number::of(want, i.kind("want")).difference().beside(left);
        phrase![
            i.shown("taken"),
            " of ",
            i.shown("space"),
            " taken leaves ",
            shown,
            ", at least ",
            wanted,
            " wanted"
        ]
    };
    Ok((space - taken >= want - close(space, taken), i.say(text)))
}

fn ratio_at_least(i: &Inputs<'_>) -> Answer {
    let (a, b, ratio) = (i.number("a")?, i.number("b")?, i.number("ratio")?);
    let text =
        || phrase!["it is ", i.shown("a"), format!(", where {ratio} times "), i.shown("b"), " is wanted"];
    Ok((a >= ratio * b * (1.0 - 1e-9), i.say(text)))
}
