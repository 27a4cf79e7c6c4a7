//! Limits that are plain comparisons of two or three figures of one kind.

use super::Inputs;
use super::entry::{Answer, Entry, alike, close, either, less, more, one};
use crate::units::Dimension::Ratio;

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "at-least",
        inputs: &[alike("have"), alike("want")],
        levers: &[more("have", "")],
        work: at_least,
    },
    Entry {
        name: "at-most",
        inputs: &[alike("have"), alike("most")],
        levers: &[less("have", "")],
        work: at_most,
    },
    Entry {
        name: "between",
        inputs: &[alike("have"), alike("least"), alike("most")],
        levers: &[either("have", "")],
        work: between,
    },
    Entry {
        name: "left-at-least",
        inputs: &[alike("space"), alike("taken"), alike("want")],
        levers: &[less("taken", "taken"), more("space", "space")],
        work: left,
    },
    Entry {
        name: "ratio-at-least",
        inputs: &[alike("a"), alike("b"), one("ratio", Ratio)],
        levers: &[more("a", "")],
        work: ratio_at_least,
    },
];

fn at_least(i: &Inputs<'_>) -> Answer {
    let (have, want) = (i.number("have")?, i.number("want")?);
    let text = || format!("{}, at least {} wanted", i.show("have"), i.show("want"));
    Ok((have >= want - close(have, want), i.say(text)))
}

fn at_most(i: &Inputs<'_>) -> Answer {
    let (have, most) = (i.number("have")?, i.number("most")?);
    let text = || format!("{}, at most {} wanted", i.show("have"), i.show("most"));
    Ok((have <= most + close(have, most), i.say(text)))
}

fn between(i: &Inputs<'_>) -> Answer {
    let (have, least, most) = (i.number("have")?, i.number("least")?, i.number("most")?);
    let text = || format!("{}, {} to {} wanted", i.show("have"), i.show("least"), i.show("most"));
    Ok((have >= least - close(have, least) && have <= most + close(have, most), i.say(text)))
}

fn left(i: &Inputs<'_>) -> Answer {
    let (space, taken, want) = (i.number("space")?, i.number("taken")?, i.number("want")?);
    let text = || {
        let left = crate::explain::show(space - taken, i.kind("space"));
        format!(
            "{} of {} taken leaves {left}, at least {} wanted",
            i.show("taken"),
            i.show("space"),
            i.show("want")
        )
    };
    Ok((space - taken >= want - close(space, taken), i.say(text)))
}

fn ratio_at_least(i: &Inputs<'_>) -> Answer {
    let (a, b, ratio) = (i.number("a")?, i.number("b")?, i.number("ratio")?);
    let text = || format!("{} against {ratio} times {}", i.show("a"), i.show("b"));
    Ok((a >= ratio * b * (1.0 - 1e-9), i.say(text)))
}
