//! Which containers to buy for a capacity: the least waste, or the least money (exact search).

use uom::si::f64::Volume;
use uom::si::volume::{liter, milliliter};

use super::cheapest::cheapest;
use crate::error::FigureError;
use crate::range::Range;

const CAPACITY: Range = Range::new(0.001, 250.0, "L");
const SIZE: Range = Range::new(0.001, 250.0, "L");
const SIZES: Range = Range::new(1.0, 32.0, "sizes");
const PRICE: Range = Range::new(0.0, 1e8, "hundredths");

/// A container to be had.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Container {
    /// What is in it, 1 mL to 250 L.
    pub volume: Volume,
    /// Price in hundredths of any one money, up to 100 million.
    pub price: u64,
}

/// What to look for first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Least left over; then least money, then fewest containers.
    LeastWaste,
    /// Least money; then least left over, then fewest containers.
    Cheapest,
}

/// Containers that cover a capacity.
#[derive(Clone, Debug, PartialEq)]
pub struct Cover {
    /// How many of each container, in the order they were given.
    pub counts: Vec<u32>,
    /// What they hold together.
    pub bought: Volume,
    /// What is left over; never less than nothing.
    pub left_over: Volume,
    /// What they cost together, in hundredths.
    pub price: u64,
}

/// What units leave behind when they are turned into each other, in seven digits: so much may be lacking, no more.
const ROUNDING: f64 = 5e-7;

/// Sums of one millilitre that are kept apart. A fill of a few sizes has one or two.
const SUMS_KEPT: usize = 4;

/// Best choice of containers for a capacity.
///
/// * `capacity`: 1 mL to 250 L.
/// * `containers`: 1 to 32, in any order.
///
/// The cheapest are what [`cheapest`] says. Half a millionth of the capacity may be lacking, which is what units are
/// rounded to: four quarts are a gallon, and a quart with three quarters of one too.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range or there are no containers.
///
/// Source: unbounded knapsack (Martello and Toth, Knapsack Problems, 1990, chapter 3); the least waste over every
/// millilitre, of which the four cheapest sums are kept with their exact volumes.
pub fn cover(capacity: Volume, containers: &[Container], goal: Goal) -> Result<Cover, FigureError> {
    CAPACITY.check("capacity", capacity.get::<liter>())?;
    SIZES.check("containers to choose from", containers.len() as f64)?;
    for container in containers {
        SIZE.check("size of a container", container.volume.get::<liter>())?;
        PRICE.check("price of a container", container.price as f64)?;
    }
    let counts = match goal {
        // the ranges have seen to it that some container holds something
        Goal::Cheapest => cheapest(capacity, containers).unwrap_or_default(),
        Goal::LeastWaste => least_waste(capacity, containers),
    };
    let bought = || counts.iter().zip(containers);
    let price = bought().map(|(count, c)| u64::from(*count) * c.price).sum();
    let bought: Volume = bought().map(|(count, c)| c.volume * f64::from(*count)).sum();
    let left_over = if bought > capacity { bought - capacity } else { bought * 0.0 };
    Ok(Cover { counts, bought, left_over, price })
}

/// Some containers together.
#[derive(Clone, Copy, Debug)]
struct Sum {
    /// Exact, mL.
    volume: f64,
    price: u64,
    count: u32,
    /// The sum it came from, by millilitre and place there, and the container that was added.
    from: (usize, usize, usize),
}

impl Sum {
    /// Whether it is the dearer for the same, by price and number.
    fn is_worse(&self, other: &Self) -> bool {
        (self.price, self.count) > (other.price, other.count)
    }
}

fn least_waste(capacity: Volume, containers: &[Container]) -> Vec<u32> {
    let sizes: Vec<f64> = containers.iter().map(|c| c.volume.get::<milliliter>()).collect();
    let wanted = capacity.get::<milliliter>() * (1.0 - ROUNDING);
    let largest = sizes.iter().copied().fold(1.0, f64::max);
    // the ranges have held both to numbers that a `usize` holds
    let last = (wanted + largest).ceil() as usize + 1;
    let mut sums: Vec<Vec<Sum>> = vec![Vec::new(); last + 1];
    if let Some(nothing) = sums.get_mut(0) {
        nothing.push(Sum { volume: 0.0, price: 0, count: 0, from: (0, 0, 0) });
    }
    let mut best: Option<Sum> = None;
    for at in 0..=last {
        let here = sums.get(at).cloned().unwrap_or_default();
        for (place, sum) in here.into_iter().enumerate() {
            if sum.volume >= wanted {
                let less = |b: &Sum| {
                    sum.volume < b.volume - 1e-6 || sum.volume < b.volume + 1e-6 && b.is_worse(&sum)
                };
                if best.as_ref().is_none_or(less) {
                    best = Some(sum);
                }
                continue;
            }
            for (index, (size, container)) in sizes.iter().zip(containers).enumerate() {
                let volume = sum.volume + size;
                let more = Sum {
                    volume,
                    price: sum.price.saturating_add(container.price),
                    count: sum.count + 1,
                    from: (at, place, index),
                };
                // a container holds a millilitre at least, so that every sum lies ahead of its own
                let ahead = (volume.floor() as usize).max(at + 1);
                if let Some(slot) = sums.get_mut(ahead) {
                    keep(slot, more);
                }
            }
        }
        // what lies ahead of the first that is enough holds more
        if best.is_some() && best.is_some_and(|b| b.volume < at as f64) {
            break;
        }
    }
    // the containers are counted on the way back
    let mut counts = vec![0_u32; sizes.len()];
    let mut next = best;
    while let Some(sum) = next.filter(|s| s.count > 0) {
        let (at, place, index) = sum.from;
        if let Some(count) = counts.get_mut(index) {
            *count += 1;
        }
        next = sums.get(at).and_then(|slot| slot.get(place)).copied();
    }
    counts
}

/// Keeps a sum unless one of the same volume is no dearer, or all places are taken by cheaper ones.
fn keep(slot: &mut Vec<Sum>, sum: Sum) {
    if let Some(same) = slot.iter_mut().find(|s| (s.volume - sum.volume).abs() < 1e-6) {
        if same.is_worse(&sum) {
            *same = sum;
        }
    } else if slot.len() < SUMS_KEPT {
        slot.push(sum);
    } else if let Some(dearest) = slot.iter_mut().max_by_key(|s| (s.price, s.count))
        && dearest.is_worse(&sum)
    {
        *dearest = sum;
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::refuses;

    fn run(litres: f64, sizes: &[(f64, u64)], goal: Goal) -> Result<Cover, FigureError> {
        let containers: Vec<_> = sizes
            .iter()
            .map(|(volume, price)| Container { volume: Volume::new::<liter>(*volume), price: *price })
            .collect();
        cover(Volume::new::<liter>(litres), &containers, goal)
    }

    fn counts(litres: f64, sizes: &[(f64, u64)], goal: Goal) -> Vec<u32> {
        run(litres, sizes, goal).unwrap().counts
    }

    const OIL: [(f64, u64); 2] = [(1.0, 900), (5.0, 3_200)];

    #[test]
    fn trade_fills() {
        // capacities of an example vehicle: 4.7 L of engine oil by 1 and 5 L: 5 L is both cheapest and least waste
        assert_eq!(counts(4.7, &OIL, Goal::Cheapest), [0, 1]);
        assert_eq!(counts(4.7, &OIL, Goal::LeastWaste), [0, 1]);
        // 4.8 L with the filter, the same; 2.4 L of gear oil: three single litres, 0.6 L over; cheaper than one of five
        assert_eq!(counts(2.4, &OIL, Goal::Cheapest), [3, 0]);
        // 15.1 L of coolant by 1 and 5 L: 16 L, 0.9 L over; 20 L would be cheaper by price of 5 L cans at 1,000
        let coolant = [(1.0, 1_200), (5.0, 1_000)];
        assert_eq!(counts(15.1, &coolant, Goal::LeastWaste), [1, 3]);
        assert_eq!(counts(15.1, &coolant, Goal::Cheapest), [0, 4]);
        let found = run(15.1, &coolant, Goal::LeastWaste).unwrap();
        assert_eq!((found.price, found.bought.get::<milliliter>().round()), (4_200, 16_000.0));
        assert!((found.left_over.get::<milliliter>() - 900.0).abs() < 1e-6);
        // brake fluid 1.5 L by 0.25, 0.5 and 1 L: nothing left over, by the fewest tins
        let brake = [(0.25, 400), (0.5, 700), (1.0, 1_200)];
        assert_eq!(counts(1.5, &brake, Goal::LeastWaste), [0, 1, 1]);
    }

    #[test]
    fn a_greedy_choice_would_be_wrong() {
        // 6 L by 1, 3 and 4 L: two of three, not four and two ones
        let sizes = [(1.0, 500), (3.0, 900), (4.0, 1_150)];
        assert_eq!(counts(6.0, &sizes, Goal::Cheapest), [0, 2, 0]);
        // what an exact capacity asks for is not rounded up to one container more
        assert_eq!(counts(0.3, &[(0.1, 1)], Goal::Cheapest), [3]);
        // a US gallon is four quarts, five imperial pints are short of three litres (units/US qt->L, UK gal->L, tier L)
        assert_eq!(counts(3.785_411_784, &[(0.946_352_946, 1)], Goal::Cheapest), [4]);
        assert_eq!(counts(4.546_09, &[(4.546_09 / 8.0, 1)], Goal::Cheapest), [8]);
        assert_eq!(counts(3.0, &[(4.546_09 / 8.0, 1)], Goal::Cheapest), [6]);
    }

    #[test]
    fn the_least_waste_is_never_short_and_mixes_quarts_and_gallons() {
        // NIST SP 811: a US gallon is 3.785 411 784 L, a quart a quarter of it
        let us = [(0.946_352_946, 800), (3.785_411_784, 2_400)];
        assert_eq!(counts(3.785_411_784, &us, Goal::LeastWaste), [0, 1]);
        // five quarts
        assert_eq!(counts(4.731_764_73, &us, Goal::LeastWaste), [1, 1]);
        assert_eq!(counts(4.731_764_73, &us, Goal::Cheapest), [1, 1]);
        // four quarts want 3.7854 L: of 3.79 L there would be 5 mL too few
        assert_eq!(counts(3.79, &[(0.946_352_946, 800)], Goal::LeastWaste), [5]);
        // imperial: a gallon is 4.546 09 L, a pint an eighth; metric and US side by side
        assert_eq!(counts(4.546_09, &[(4.546_09 / 8.0, 1), (4.546_09, 9)], Goal::LeastWaste), [8, 0]);
        assert_eq!(counts(5.946, &[(1.0, 1), (0.946_352_946, 1)], Goal::LeastWaste), [5, 1]);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in [f64::NAN, f64::INFINITY, 0.0, -1.0, 251.0] {
            refuses(run(bad, &OIL, Goal::Cheapest), "capacity");
            refuses(run(4.7, &[(bad, 900)], Goal::Cheapest), "size of a container");
        }
        refuses(run(4.7, &[], Goal::Cheapest), "containers to choose from");
        refuses(run(4.7, &[(1.0, 1); 33], Goal::Cheapest), "containers to choose from");
        refuses(run(4.7, &[(1.0, u64::MAX)], Goal::Cheapest), "price of a container");
        // the ends of the ranges end in reasonable time
        assert!(run(250.0, &[(0.001, 1), (249.999, 1)], Goal::LeastWaste).is_ok());
    }

    /// Every choice up to 12 of each: volume in L and price.
    fn all_choices(sizes: &[(u32, u64)]) -> Vec<(u32, u64)> {
        sizes.iter().fold(vec![(0, 0)], |choices, (size, price)| {
            let more = |(v, p): (u32, u64)| (0..=12).map(move |n| (v + n * size, p + u64::from(n) * price));
            choices.into_iter().flat_map(more).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn no_choice_is_better(
            wanted in 1_u32..12, sizes in proptest::collection::vec((1_u32..7, 1_u64..50), 1..4),
        ) {
            let given: Vec<_> = sizes.iter().map(|(v, p)| (f64::from(*v), *p)).collect();
            let enough: Vec<_> = all_choices(&sizes).into_iter().filter(|(v, _)| *v >= wanted).collect();
            let waste = run(f64::from(wanted), &given, Goal::LeastWaste).unwrap();
            let money = run(f64::from(wanted), &given, Goal::Cheapest).unwrap();
            let least = enough.iter().min().unwrap();
            let cheapest = enough.iter().map(|(v, p)| (*p, *v)).min().unwrap();
            let litres = |c: &Cover| (c.bought.get::<liter>()).round() as u32;
            prop_assert_eq!((litres(&waste), waste.price), *least);
            // a whole container more than wanted is never looked at, but could not be cheaper: taking it out is
            prop_assert_eq!((money.price, litres(&money)), cheapest);
            for c in [&waste, &money] {
                prop_assert!(c.bought.get::<liter>() >= f64::from(wanted) * (1.0 - ROUNDING));
                let sum: f64 = c.counts.iter().zip(&given).map(|(n, (v, _))| f64::from(*n) * v).sum();
                prop_assert!((sum - c.bought.get::<liter>()).abs() < 1e-9);
            }
        }
    }
}
