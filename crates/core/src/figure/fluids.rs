//! Fluid figures: containers to buy, coolant mixture, frost.

use knockon_figures::fluids::antifreeze::{freezing_point, share_for};
use knockon_figures::fluids::containers::{Container, Goal, cover};
use knockon_figures::fluids::mixture::{fill, share_after, top_up};
use uom::si::f64::Volume as Space;
use uom::si::volume::{cubic_meter, liter};

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{LITRE, MONEY, PERCENT, celsius, number, text};
use super::trouble::Trouble;
use crate::number::rounded;
use crate::units::Dimension::{Ratio, Temperature, Volume};

const CAPACITY: Input = need("capacity", "of the system", Takes::One(Volume), "14 US qt");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "containers",
        called: &["how many quarts", "how many bottles", "oil to buy"],
        group: Group::Fluids,
        name: "Containers to buy",
        meaning: "which containers to buy for a capacity",
        inputs: &[
            need("capacity", "of the circuit", Takes::One(Volume), "5.7 L"),
            need(
                "sold",
                "each container with its price, in any one money",
                Takes::Pairs(Volume, Ratio),
                "5 L: 32.50, 1 L: 8.20",
            ),
            or(
                "goal",
                "least waste, or least money",
                Takes::Choice(&["least-waste", "cheapest"]),
                "least-waste",
            ),
        ],
        formula: "every combination that covers the capacity, the best by waste or by money",
        source: "unbounded knapsack, solved exactly: waste in whole millilitres, money by the sizes as sold",
        cases: &["capacity=5.7 L sold=5 L: 32.50, 1 L: 8.20 -> bought: 6 L; counted by hand"],
        work: containers,
        ..FIGURE
    },
    Figure {
        id: "coolant-mix",
        called: &["coolant mix", "antifreeze", "fifty fifty", "glycol"],
        group: Group::Fluids,
        name: "Coolant mixture",
        meaning: "concentrate and water for an empty system, and its frost",
        inputs: &[
            CAPACITY,
            or("wanted", "share in the system by volume", Takes::One(Ratio), "50 %"),
            or("strength", "share in the concentrate as sold", Takes::One(Ratio), "100 %"),
        ],
        formula: "concentrate = capacity x wanted / strength",
        source: "balance of volumes; freezing ASHRAE (CoolProp 8.0.0)",
        cases: &["capacity=14 US qt -> concentrate: 7 US qt; balance of volumes"],
        moves: &["capacity -> concentrate: rises"],
        work: mix,
        ..FIGURE
    },
    Figure {
        id: "coolant-top-up",
        called: &["raise the antifreeze share", "drain and fill"],
        group: Group::Fluids,
        name: "Coolant top-up",
        meaning: "how much to drain and replace so that a share is reached",
        inputs: &[
            CAPACITY,
            need("now", "share in the system", Takes::One(Ratio), "30 %"),
            or("wanted", "share wanted", Takes::One(Ratio), "50 %"),
            or("top-up", "share in what goes in; 0 % is water", Takes::One(Ratio), "100 %"),
        ],
        formula: "capacity (wanted - now) / (top up - now)",
        source: "balance of volumes",
        cases: &["capacity=14 US qt now=30 % -> drain and replace: 4 US qt; balance of volumes"],
        work: topping,
        ..FIGURE
    },
    Figure {
        id: "freeze-point",
        called: &["freezing point", "frost", "freeze protection", "how cold"],
        group: Group::Fluids,
        name: "Freezing point",
        meaning: "temperature at which the first ice forms in a coolant",
        inputs: &[need(
            "glycol",
            "share of undiluted glycol by volume, up to 60 %",
            Takes::One(Ratio),
            "50 %",
        )],
        formula: "by the table, straight lines between",
        source: "ASHRAE Handbook, Fundamentals; CoolProp 8.0.0",
        cases: &["glycol=50 % -> first ice: -37 °C; ASHRAE, by a general-purpose library"],
        moves: &["glycol -> first ice: falls"],
        work: freeze,
        ..FIGURE
    },
    Figure {
        id: "glycol-for-frost",
        called: &["antifreeze for a temperature", "how much antifreeze"],
        group: Group::Fluids,
        name: "Glycol for a frost",
        meaning: "least share of glycol that stays free of ice",
        inputs: &[need("frost", "lowest temperature", Takes::One(Temperature), "-25 °C").signed()],
        formula: "the inverse of the freezing point",
        source: "ASHRAE Handbook, Fundamentals; CoolProp 8.0.0",
        cases: &["frost=-37.11 °C -> least share of glycol: 50 %; ASHRAE, by a general-purpose library"],
        work: frost,
        ..FIGURE
    },
];

fn containers(g: &Given<'_>) -> Worked {
    let sold = g.pairs("sold");
    let mut containers = Vec::with_capacity(sold.len());
    for (volume, price) in sold {
        if !(0.0..=1e6).contains(price) {
            return Err(Trouble::Words(format!("price: found {price}, expected 0 to 1000000")));
        }
        let hundredths = (price * 100.0).round() as u64;
        containers.push(Container { volume: Space::new::<cubic_meter>(*volume), price: hundredths });
    }
    let goal = if g.word("goal") == "cheapest" { Goal::Cheapest } else { Goal::LeastWaste };
    let best = cover(g.volume("capacity"), &containers, goal)?;
    let bought: Vec<String> = best
        .counts
        .iter()
        .zip(&containers)
        .filter(|(count, _)| **count > 0)
        .map(|(count, c)| format!("{count} x {} L", rounded(c.volume.get::<liter>(), 3)))
        .collect();
    Ok(vec![
        text("buy", bought.join(", ")),
        number("bought", best.bought.value, &LITRE),
        number("left over", best.left_over.value, &LITRE),
        number("price", best.price as f64 / 100.0, &MONEY),
    ])
}

fn mix(g: &Given<'_>) -> Worked {
    let filling = fill(g.volume("capacity"), g.si("wanted"), g.si("strength"))?;
    let mut out = vec![
        number("concentrate", filling.concentrate.value, &LITRE),
        number("water", filling.water.value, &LITRE),
    ];
    match freezing_point(g.si("wanted")) {
        Ok(frost) => out.push(celsius("first ice", frost)),
        // more than the table has freezes sooner again
        Err(_) => out.push(text("first ice", "not known above 60 %, where it freezes sooner again")),
    }
    Ok(out)
}

fn topping(g: &Given<'_>) -> Worked {
    let (capacity, now, with) = (g.volume("capacity"), g.si("now"), g.si("top-up"));
    let drain = top_up(capacity, now, g.si("wanted"), with)?;
    Ok(vec![
        number("drain and replace", drain.value, &LITRE),
        number("share then", share_after(capacity, now, drain, with)?, &PERCENT),
    ])
}

fn freeze(g: &Given<'_>) -> Worked {
    Ok(vec![celsius("first ice", freezing_point(g.si("glycol"))?)])
}

fn frost(g: &Given<'_>) -> Worked {
    Ok(vec![number("least share of glycol", share_for(g.temperature("frost"))?, &PERCENT)])
}
