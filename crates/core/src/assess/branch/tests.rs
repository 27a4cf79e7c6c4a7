//! The search finds what trying all choices finds, and says whether it tried enough.

use proptest::prelude::*;

use super::super::order::{Marks, Row};
use super::{Branch, Choice, Found, Place, Tie};
use crate::catalogue::{Id, PartId};

/// Marks in two rows before money and in money.
fn marks() -> impl Strategy<Value = Marks> {
    (0_i64..3, 0_i64..3, 0_i64..5).prop_map(|(apart, advice, money)| {
        let mut marks = Marks::of(Row::Apart, apart);
        marks.count(Row::Advice, advice);
        marks.count(Row::Money, money);
        marks
    })
}

/// Places with what each value comes to by itself; what neighbours and what three in a row come to together; which choices
/// may not be taken.
#[derive(Clone, Debug)]
struct Table {
    own: Vec<Vec<Marks>>,
    together: Vec<Marks>,
    forbidden: Vec<usize>,
}

fn table() -> impl Strategy<Value = Table> {
    let own = proptest::collection::vec(proptest::collection::vec(marks(), 1..4), 1..5);
    let together = proptest::collection::vec(marks(), 16);
    (own, together, proptest::collection::vec(0_usize..32, 0..8))
        .prop_map(|(own, together, forbidden)| Table { own, together, forbidden })
}

impl Table {
    /// The first value of a place is what is there. Parts are shared by the places.
    fn places(&self) -> Vec<Place> {
        let value = |at: usize, n: usize| (n > 0).then(|| PartId::new(n + at % 2));
        let place = |(at, own): (usize, &Vec<Marks>)| Place {
            pos: Id::new(at),
            values: own.iter().enumerate().map(|(n, marks)| (value(at, n), *marks)).collect(),
        };
        self.own.iter().enumerate().map(place).collect()
    }

    /// Two in a row, and three.
    fn ties(&self) -> Vec<Tie> {
        let places = self.own.len();
        let rows = |n: usize| (n..=places).map(move |end| (end - n..end).collect());
        rows(2).chain(rows(3)).collect()
    }

    fn weigh(&self, choice: &[Option<PartId>]) -> Marks {
        let number = |part: &Option<PartId>| part.map_or(0, |part| part.ix());
        self.together[choice.iter().fold(choice.len(), |sum, part| sum * 3 + number(part)) % 16]
    }

    fn may(&self, choice: &Choice) -> bool {
        let sum = choice.iter().fold(0, |sum, part| sum * 5 + part.map_or(0, |part| part.ix()));
        !self.forbidden.contains(&(sum % 32))
    }

    fn search(&self, most_steps: usize) -> Found {
        let weigh = |_: usize, choice: &Choice| self.weigh(choice);
        Branch::search(&self.places(), &self.ties(), most_steps, weigh, |choice: &Choice| self.may(choice))
    }

    /// The best by trying all.
    fn by_trying(&self) -> Option<(Marks, Choice)> {
        let places = self.places();
        let mut all: Vec<(Marks, Choice)> = vec![(Marks::default(), Choice::new())];
        for place in &places {
            for (before, choice) in std::mem::take(&mut all) {
                for (part, own) in &place.values {
                    let mut choice = choice.clone();
                    choice.push(*part);
                    all.push((before + *own, choice));
                }
            }
        }
        let whole = |marks: Marks, choice: &Choice| {
            let ties = self.ties();
            ties.iter().fold(marks, |sum, tie| sum + self.weigh(&choice[tie[0]..tie[0] + tie.len()]))
        };
        let own = |choice: &Choice| {
            let values = places.iter().zip(choice);
            let each = values.map(|(place, part)| place.values.iter().find(|(p, _)| p == part));
            each.flatten().fold(Marks::default(), |sum, (_, own)| sum + *own)
        };
        let earns = |marks: Marks, choice: &Choice| {
            (0..choice.len()).filter(|at| choice[*at].is_some()).all(|at| {
                let mut fewer = choice.clone();
                fewer[at] = None;
                whole(own(&fewer), &fewer).before_money() > marks.before_money()
            })
        };
        all.iter_mut().for_each(|(marks, choice)| *marks = whole(*marks, choice));
        all.retain(|(marks, choice)| self.may(choice) && earns(*marks, choice));
        all.into_iter().min_by_key(|(marks, choice)| {
            let put_in = places.iter().zip(choice).filter_map(|(place, part)| Some((place.pos, (*part)?)));
            let (mut at, mut parts): (Vec<_>, Vec<_>) = put_in.unzip();
            at.sort_unstable();
            parts.sort_unstable();
            (*marks, parts, at)
        })
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_choice_of_all_is_better(table in table()) {
        let found = table.search(usize::MAX);
        prop_assert!(found.proved);
        prop_assert_eq!(found.best, table.by_trying());
    }

    #[test]
    fn it_takes_no_more_steps_than_it_may_and_says_whether_they_sufficed(table in table(), most in 0_usize..100) {
        let all = table.search(usize::MAX);
        let few = table.search(most);
        prop_assert!(few.steps <= most);
        if few.proved {
            prop_assert_eq!(few.best, all.best);
        } else {
            prop_assert!(all.steps >= most);
        }
        prop_assert!(table.search(all.steps + 1).proved);
    }
}

/// Two places of three values each, none of which is better than another.
fn alike() -> Table {
    Table { own: vec![vec![Marks::default(); 3]; 2], together: vec![Marks::default(); 16], forbidden: vec![] }
}

#[test]
fn what_cannot_be_better_is_not_tried() {
    // values of the first place, those of the second with each, what each two come to together, and whether they earn
    assert_eq!(alike().search(usize::MAX).steps, 3 + 9 + 9 + 2);
    let mut table = alike();
    table.own[0][1] = Marks::of(Row::Money, 1);
    table.own[0][2] = Marks::of(Row::Money, 2);
    assert_eq!(table.search(usize::MAX).steps, 1 + 3 + 3 + 2);
}

#[test]
fn a_search_that_is_cut_off_is_not_proved() {
    let cut = alike().search(5);
    assert_eq!((cut.steps, cut.proved), (5, false));
    assert_eq!(cut.best.map(|(_, choice)| choice), Some(Choice::from_elem(None, 2)));
    let none = alike().search(0);
    assert!(none.best.is_none() && !none.proved);
    assert!(alike().search(24).proved);
}

#[test]
fn where_every_choice_is_forbidden_there_is_none() {
    let table = Table { forbidden: (0..32).collect(), ..alike() };
    let found = table.search(usize::MAX);
    assert!(found.best.is_none() && found.proved);
}
