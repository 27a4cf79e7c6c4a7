//! The cheapest containers for a volume, of any sizes, metric and US together: an exact search over sums.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use uom::si::f64::Volume;
use uom::si::volume::liter;

use super::containers::Container;

/// What units leave behind when they are turned into each other, in seven digits: so much may be lacking, no more.
const ROUNDING: f64 = 5e-7;

/// Sums looked at before the search gives up. Containers as they are sold want a few dozen.
const MOST_SUMS: usize = 20_000;

/// How many of each container hold at least a volume for the least money; then with least left over; then fewest; then
/// most of those that stand first. `None` where no container holds anything.
///
/// * `wanted`: any volume; nothing or less wants no container. Half a millionth of it may be lacking, which is
///   what units are rounded to: four quarts are a gallon.
/// * `containers`: any number, in the order that breaks ties; those that hold nothing are passed over. Volumes count to
///   a billionth of a litre.
///
/// It ends for whatever is asked. Only where more than 20,000 sums would have to be looked at, which takes some dozens of
/// sizes all nearly the same price a litre, the answer is the best of those with at most two sizes: never short, and not
/// proved to be the cheapest.
///
/// Source: unbounded covering knapsack (Martello and Toth, Knapsack Problems, 1990, chapter 3), here by sums in order of
/// price, without those that another sum of lower price holds as much as.
#[must_use]
pub fn cheapest(wanted: Volume, containers: &[Container]) -> Option<Vec<u32>> {
    let wanted = ((wanted.get::<liter>() * (1.0 - ROUNDING) * 1e9).ceil()) as u64;
    let sold = worth_having(containers);
    let search = Search::new(wanted, &sold)?;
    let counts = search.run().unwrap_or_else(|| search.plain.counts.clone());
    let mut out = vec![0; containers.len()];
    for (entry, count) in sold.iter().zip(counts) {
        if let Some(slot) = out.get_mut(entry.index) {
            *slot = count;
        }
    }
    Some(out)
}

/// A container in whole numbers, so that sums are exact.
#[derive(Clone, Copy, Debug)]
struct Sold {
    /// Its place in the list given.
    index: usize,
    /// Billionths of a litre, more than none.
    volume: u64,
    price: u128,
}

impl Sold {
    /// Whether it is the cheaper by the litre; the larger where both are the same.
    fn is_better(&self, other: &Self) -> bool {
        let (own, others) = (self.price * u128::from(other.volume), other.price * u128::from(self.volume));
        own < others || own == others && self.volume > other.volume
    }
}

/// Without what another beats outright: one that holds as much for less money, or is the same and stands before it.
fn worth_having(containers: &[Container]) -> Vec<Sold> {
    let sold = containers.iter().enumerate().map(|(index, c)| Sold {
        index,
        volume: (c.volume.get::<liter>() * 1e9).round() as u64,
        price: c.price.into(),
    });
    let mut all: Vec<Sold> = sold.filter(|c| c.volume > 0).collect();
    let beats = |a: &Sold, b: &Sold| {
        a.price < b.price && a.volume >= b.volume
            || a.price == b.price && a.volume == b.volume && a.index < b.index
    };
    let beaten: Vec<bool> = all.iter().map(|b| all.iter().any(|a| beats(a, b))).collect();
    let mut beaten = beaten.into_iter();
    all.retain(|_| !beaten.next().unwrap_or(false));
    all
}

/// Some containers together. The order of the fields is what is looked for: the first sum in order that holds enough is
/// the best there is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Sum {
    price: u128,
    volume: u64,
    count: u64,
    /// How many of each: more of the first go before.
    counts: Reverse<Vec<u32>>,
    /// Only those from here on are added, so that each sum is made once.
    from: usize,
}

/// A cover found without searching.
#[derive(Clone, Debug)]
struct Plain {
    price: u128,
    counts: Vec<u32>,
}

#[derive(Debug)]
struct Search<'a> {
    wanted: u64,
    sold: &'a [Sold],
    /// The cheapest by the litre, by its place.
    best: usize,
    /// What the search need not beat.
    plain: Plain,
}

impl<'a> Search<'a> {
    fn new(wanted: u64, sold: &'a [Sold]) -> Option<Self> {
        let better = |best: Option<(usize, &'a Sold)>, (at, c): (usize, &'a Sold)| match best {
            Some((_, b)) if !c.is_better(b) => best,
            _ => Some((at, c)),
        };
        let (best, by_litre) = sold.iter().enumerate().fold(None, better)?;
        // so many of the best, and the rest in one other size: all of it, or what a whole number of the best leaves
        let whole = wanted / by_litre.volume;
        let covers = sold.iter().enumerate().flat_map(|(at, c)| {
            [0, whole].map(|n| {
                let rest = wanted.saturating_sub(n.saturating_mul(by_litre.volume));
                let mut counts = vec![0_u32; sold.len()];
                let mut price = 0;
                for (at, count, c) in [(best, n, by_litre), (at, rest.div_ceil(c.volume), c)] {
                    if let Some(slot) = counts.get_mut(at) {
                        *slot = slot.saturating_add(few(count));
                    }
                    price += u128::from(count) * c.price;
                }
                Plain { price, counts }
            })
        });
        let plain = covers.min_by_key(|c| c.price)?;
        Some(Self { wanted, sold, best, plain })
    }

    /// Sums in order, until one holds enough; `None` where there are too many.
    fn run(&self) -> Option<Vec<u32>> {
        let mut due = BinaryHeap::new();
        due.push(Reverse(self.first()));
        let mut looked_at = 0;
        // what the sums of a lower price hold, and those of this price
        let (mut held, mut price, mut now) = (None, 0, None);
        while let Some(Reverse(sum)) = due.pop() {
            if sum.volume >= self.wanted {
                return Some(sum.counts.0);
            }
            if sum.price > price {
                (held, price) = (held.max(now), sum.price);
            }
            // beaten by a lower price, or the same sum made otherwise
            if held.is_some_and(|h| h >= sum.volume) || now == Some(sum.volume) {
                continue;
            }
            now = Some(sum.volume);
            looked_at += 1;
            if looked_at > MOST_SUMS {
                return None;
            }
            self.add_to(&sum, &mut due);
        }
        None
    }

    fn add_to(&self, sum: &Sum, due: &mut BinaryHeap<Reverse<Sum>>) {
        let Some(by_litre) = self.sold.get(self.best) else { return };
        for (at, c) in self.sold.iter().enumerate().skip(sum.from) {
            let (price, volume) = (sum.price + c.price, sum.volume.saturating_add(c.volume));
            // what is still wanted costs at least what the best costs by the litre
            let rest = u128::from(self.wanted.saturating_sub(volume));
            let room = self.plain.price.checked_sub(price);
            if room.is_none_or(|room| {
                room.saturating_mul(by_litre.volume.into()) < rest.saturating_mul(by_litre.price)
            }) {
                continue;
            }
            let mut counts = sum.counts.clone();
            if let Some(count) = counts.0.get_mut(at) {
                *count = count.saturating_add(1);
            }
            due.push(Reverse(Sum { price, volume, count: sum.count + 1, counts, from: at }));
        }
    }

    /// Where the sums begin: with as many of the best as any answer has.
    fn first(&self) -> Sum {
        let mut counts = vec![0; self.sold.len()];
        let mut sum = Sum { price: 0, volume: 0, count: 0, counts: Reverse(Vec::new()), from: 0 };
        if let (Some(slot), Some(by_litre)) = (counts.get_mut(self.best), self.sold.get(self.best)) {
            let others = self.others(by_litre);
            let sure = (self.wanted as f64 - others) / by_litre.volume as f64 - 1.0;
            *slot = few(sure as u64);
            sum.count = u64::from(*slot);
            sum.price = u128::from(*slot) * by_litre.price;
            sum.volume = u64::from(*slot).saturating_mul(by_litre.volume);
        }
        sum.counts = Reverse(counts);
        sum
    }

    /// The most that all but the best hold together in any answer. What each costs beyond the best, for what it holds,
    /// must fit into what the plain cover costs beyond it; and so many of one size as fill whole numbers of the best are
    /// better the best.
    fn others(&self, by_litre: &Sold) -> f64 {
        let a_litre = by_litre.price as f64 / by_litre.volume as f64;
        let gap = (self.plain.price as f64 - a_litre * self.wanted as f64).max(0.0);
        let others = self.sold.iter().enumerate().filter(|(at, _)| *at != self.best);
        let most = others.map(|(_, c)| {
            let beyond = (c.price as f64 - a_litre * c.volume as f64).max(0.0);
            let whole = by_litre.volume / common_divisor(by_litre.volume, c.volume) - 1;
            // a hair for what is lost in the division
            (gap / beyond * 1.001).min(whole as f64) * c.volume as f64
        });
        most.sum()
    }
}

/// A count of containers as it is told; nobody buys more.
fn few(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// Greatest common divisor.
fn common_divisor(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { common_divisor(b, a % b) }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::volume::{fluid_ounce, gallon, quart_liquid};

    use super::*;

    fn litres(sizes: &[(f64, u64)]) -> Vec<Container> {
        let container =
            |(volume, price): &(f64, u64)| Container { volume: Volume::new::<liter>(*volume), price: *price };
        sizes.iter().map(container).collect()
    }

    fn counts(wanted: f64, sizes: &[(f64, u64)]) -> Vec<u32> {
        cheapest(Volume::new::<liter>(wanted), &litres(sizes)).unwrap()
    }

    #[test]
    fn sizes_are_mixed_where_that_costs_less() {
        // 5.4 L of oil by 1 and 5 L: one of each, not six singles and not two of five
        assert_eq!(counts(5.4, &[(1.0, 750), (5.0, 2_800)]), [1, 1]);
        assert_eq!(counts(4.7, &[(1.0, 750), (5.0, 2_800)]), [0, 1]);
        assert_eq!(counts(2.0, &[(1.0, 750), (5.0, 2_800)]), [2, 0]);
        // the large one comes to less money than what is wanted in small ones
        assert_eq!(counts(2.4, &[(1.0, 1_000), (5.0, 2_900)]), [0, 1]);
        // 6 L by 1, 3 and 4 L: whoever takes the cheapest by the litre first pays for four and two ones
        assert_eq!(counts(6.0, &[(1.0, 500), (3.0, 900), (4.0, 1_150)]), [0, 2, 0]);
    }

    #[test]
    fn us_and_metric_sizes_are_mixed_and_as_large_as_they_are_sold() {
        let at = |volume, price| Container { volume, price };
        let quart = at(Volume::new::<quart_liquid>(1.0), 700);
        let large = at(Volume::new::<gallon>(1.0), 2_500);
        let twelve = at(Volume::new::<fluid_ounce>(12.0), 350);
        let one = at(Volume::new::<liter>(1.0), 740);
        let all = [twelve, quart, large, one];
        let buy = |wanted| cheapest(Volume::new::<liter>(wanted), &all).unwrap();
        // 4.7 L: a gallon and a quart hold 4.73 L; 4.75 L is more than that, and a litre holds it
        assert_eq!(buy(4.7), [0, 1, 1, 0]);
        assert_eq!(buy(4.75), [0, 0, 1, 1]);
        // four quarts are a gallon, and are not more
        let quarts = |volume| cheapest(volume, &[quart]).unwrap();
        assert_eq!(quarts(Volume::new::<gallon>(1.0)), [4]);
        assert_eq!(quarts(Volume::new::<liter>(3.8)), [5]);
    }

    #[test]
    fn what_costs_the_same_is_told_apart_by_what_is_left_then_by_fewest_then_by_place() {
        // 4 L: 4 x 1, 2 + 2 and 5 cost the same; the five leaves a litre over, two are fewer than four
        assert_eq!(counts(4.0, &[(5.0, 400), (1.0, 100), (2.0, 200)]), [0, 0, 2]);
        // 5 L in two: 1 + 4 or 2 + 3
        assert_eq!(counts(5.0, &[(4.0, 400), (3.0, 300), (2.0, 200), (1.0, 100)]), [1, 0, 0, 1]);
        assert_eq!(counts(5.0, &[(3.0, 300), (4.0, 400), (1.0, 100), (2.0, 200)]), [1, 0, 0, 1]);
        // the same size at the same price
        assert_eq!(counts(2.0, &[(1.0, 100), (1.0, 100)]), [2, 0]);
    }

    #[test]
    fn odd_questions_have_answers() {
        assert_eq!(cheapest(Volume::new::<liter>(1.0), &[]), None);
        assert_eq!(cheapest(Volume::new::<liter>(1.0), &litres(&[(0.0, 1), (f64::NAN, 1), (-1.0, 1)])), None);
        for nothing in [0.0, -1.0, f64::NAN] {
            assert_eq!(counts(nothing, &[(1.0, 1)]), [0]);
        }
        assert_eq!(counts(3.0, &[(1.0, 0), (2.0, 0), (4.0, 1)]), [1, 1, 0], "given away");
        assert_eq!(counts(1e300, &[(1.0, u64::MAX), (f64::INFINITY, 1)]), [0, 1]);
        assert_eq!(counts(1e300, &[(1e-9, u64::MAX)]), [u32::MAX]);
    }

    /// A thousand litres out of millilitres, and forty sizes of nearly one price a litre.
    #[test]
    fn absurd_questions_end_soon() {
        assert_eq!(counts(1_000.0, &[(0.001, 1)]), [1_000_000]);
        assert_eq!(counts(1_000.0, &[(0.001, 1), (1.0, 999)]), [0, 1_000]);
        assert_eq!(counts(1_000.0, &[(0.001, 1), (1.0, 1_000)]), [0, 1_000]);
        assert_eq!(counts(1_000.9, &[(0.001, 1), (1.0, 1_000)]), [900, 1_000]);
        // each costs two and ten cents a litre: 21 hold 1,003 L, 20 do not
        let like = |n: u32| (f64::from(n), u64::from(n) * 10 + 200);
        let forty: Vec<_> = (11..=50).map(like).collect();
        let found = counts(1_003.0, &forty);
        assert_eq!(found.iter().sum::<u32>(), 21);
        // sizes that have nothing in common
        let odd: Vec<_> =
            (0..40_u32).map(|n| (0.1 + f64::from(n).sqrt(), 50 + u64::from(n * n % 997))).collect();
        for wanted in [0.01, 7.3, 99.9, 1_000.0] {
            let found = counts(wanted, &odd);
            let held: f64 = found.iter().zip(&odd).map(|(n, (v, _))| f64::from(*n) * v).sum();
            assert!(held >= wanted, "{wanted}: {held}");
        }
    }

    /// Every choice of up to so many of each.
    fn all_choices(sizes: &[(f64, u64)], most: u32) -> Vec<Vec<u32>> {
        sizes.iter().fold(vec![Vec::new()], |choices, _| {
            let more = |c: Vec<u32>| (0..=most).map(move |n| [c.clone(), vec![n]].concat());
            choices.into_iter().flat_map(more).collect()
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(256))]
        #[test]
        fn no_choice_is_better(
            wanted in 1_u32..24, sizes in proptest::collection::vec((1_u32..9, 0_u64..12), 1..5),
        ) {
            // in quarters of a litre, so that sums are exact; few prices, so that many choices cost the same
            let wanted = f64::from(wanted) / 4.0;
            let sizes: Vec<_> = sizes.iter().map(|(v, p)| (f64::from(*v) / 4.0, *p)).collect();
            let most = if sizes.len() < 4 { 24 } else { 12 };
            let order = |c: &Vec<u32>| {
                let all = || c.iter().zip(&sizes);
                let held: f64 = all().map(|(n, (v, _))| f64::from(*n) * v).sum();
                let price: u64 = all().map(|(n, (_, p))| u64::from(*n) * p).sum();
                (price, (held * 4.0) as u64, c.iter().sum::<u32>(), Reverse(c.clone()))
            };
            let holds = |c: &&Vec<u32>| order(c).1 as f64 / 4.0 >= wanted;
            let choices = all_choices(&sizes, most);
            let found = counts(wanted, &sizes);
            // twelve of each of four may be fewer than the best has of the smallest
            let best = choices.iter().chain([&found]).filter(holds).min_by_key(|c| order(c));
            prop_assert_eq!(Some(&found), best);
        }
    }
}
