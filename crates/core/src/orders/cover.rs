//! Which suppliers cover a list at the least cost, shipping counted: an integer programme.
//!
//! In words: each line is bought from one of those who sell it. A supplier that is bought from asks for shipping once, but not
//! where the order comes to the sum from which it is free, and takes no order below its minimum.

use microlp::{ComparisonOp, OptimizationDirection, Problem, SolutionStatus, SolveOptions, Variable};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

/// Nodes of the search at most; then the best that was found is taken, and said not to be proved.
const NODES: u64 = 20_000;

/// What a supplier asks besides the parts, in one currency.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Terms {
    /// For an order.
    pub shipping: Decimal,
    /// From this sum of parts on nothing; `None`: always.
    pub free_from: Option<Decimal>,
    /// The least sum of parts.
    pub minimum: Decimal,
}

impl Terms {
    /// An order of this sum of parts is sent for nothing.
    #[must_use]
    pub fn is_free(&self, sum: Decimal) -> bool {
        self.free_from.is_some_and(|from| sum >= from)
    }
}

/// A line: who sells it, by number, and what all of it costs there.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// Each supplier once.
    pub offers: Vec<(usize, Decimal)>,
}

/// What was chosen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cover {
    /// For each line the place of its offer.
    pub choice: Vec<usize>,
    /// Parts and shipping.
    pub cost: Decimal,
    /// No other choice costs less.
    pub proved: bool,
    /// No choice keeps every minimum; this one leaves them out.
    pub minimum_missed: bool,
}

/// The cheapest cover of lines that each have an offer.
#[must_use]
pub fn cover(lines: &[Line], terms: &[Terms]) -> Cover {
    let wanted =
        |minimums: bool| solve(lines, terms, minimums).map(|(choice, proved)| (choice, proved, !minimums));
    let none = terms.iter().all(|t| t.minimum <= Decimal::ZERO);
    let found = if none { None } else { wanted(true) };
    // where no minimum can be kept they are left out, and it is said
    let found = found.or_else(|| wanted(false));
    let (choice, proved, missed) = found.unwrap_or_else(|| (vec![0; lines.len()], false, true));
    let cost = cost(lines, terms, &choice);
    Cover { choice, cost, proved, minimum_missed: missed && !none }
}

/// What a choice costs, exactly.
fn cost(lines: &[Line], terms: &[Terms], choice: &[usize]) -> Decimal {
    let mut sums: Vec<Option<Decimal>> = vec![None; terms.len()];
    for (line, at) in lines.iter().zip(choice) {
        if let Some((supplier, cost)) = line.offers.get(*at)
            && let Some(sum) = sums.get_mut(*supplier)
        {
            *sum = Some(sum.unwrap_or_default() + *cost);
        }
    }
    let of = |(sum, terms): (Option<Decimal>, &Terms)| match sum {
        Some(sum) if terms.is_free(sum) => sum,
        Some(sum) => sum + terms.shipping,
        None => Decimal::ZERO,
    };
    sums.into_iter().zip(terms).map(of).sum()
}

fn float(amount: Decimal) -> f64 {
    amount.to_f64().unwrap_or_default()
}

/// An offer for each line, and whether it is proved; `None` where the programme has no solution.
fn solve(lines: &[Line], terms: &[Terms], minimums: bool) -> Option<(Vec<usize>, bool)> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let used: Vec<Variable> = terms.iter().map(|t| problem.add_binary_var(float(t.shipping))).collect();
    let free: Vec<Option<Variable>> = terms
        .iter()
        .map(|t| {
            let counts = t.free_from.is_some() && t.shipping > Decimal::ZERO;
            counts.then(|| problem.add_binary_var(-float(t.shipping)))
        })
        .collect();
    let mut sums: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); terms.len()];
    let mut chosen = Vec::new();
    for line in lines {
        let vars: Vec<Variable> =
            line.offers.iter().map(|(_, cost)| problem.add_binary_var(float(*cost))).collect();
        let one: Vec<(Variable, f64)> = vars.iter().map(|v| (*v, 1.0)).collect();
        problem.add_constraint(&one, ComparisonOp::Eq, 1.0);
        for (var, (supplier, cost)) in vars.iter().zip(&line.offers) {
            problem.add_constraint(&[(*var, 1.0), (*used.get(*supplier)?, -1.0)], ComparisonOp::Le, 0.0);
            sums.get_mut(*supplier)?.push((*var, float(*cost)));
        }
        chosen.push(vars);
    }
    for (at, terms) in terms.iter().enumerate() {
        let reaches = |switch: Variable, least: Decimal| {
            let mut all = sums[at].clone();
            all.push((switch, -float(least)));
            all
        };
        if let (Some(free), Some(from)) = (free[at], terms.free_from) {
            problem.add_constraint(&[(free, 1.0), (used[at], -1.0)], ComparisonOp::Le, 0.0);
            problem.add_constraint(reaches(free, from), ComparisonOp::Ge, 0.0);
        }
        if minimums && terms.minimum > Decimal::ZERO {
            problem.add_constraint(reaches(used[at], terms.minimum), ComparisonOp::Ge, 0.0);
        }
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(NODES);
    let solution = problem.solve_with(options).ok()?.into_solution().ok()?;
    let proved = solution.status() == SolutionStatus::Optimal;
    let of_line = |vars: &Vec<Variable>| vars.iter().position(|v| solution.var_value(*v) > 0.5);
    Some((chosen.iter().map(of_line).collect::<Option<Vec<usize>>>()?, proved))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn terms(shipping: i64, free_from: Option<i64>, minimum: i64) -> Terms {
        Terms { shipping: shipping.into(), free_from: free_from.map(Into::into), minimum: minimum.into() }
    }

    fn line(offers: &[(usize, i64)]) -> Line {
        Line { offers: offers.iter().map(|(at, cost)| (*at, (*cost).into())).collect() }
    }

    #[test]
    fn one_parcel_is_cheaper_than_two_where_shipping_is_dear() {
        let lines = [line(&[(0, 10), (1, 12)]), line(&[(1, 20)])];
        let found = cover(&lines, &[terms(9, None, 0), terms(9, None, 0)]);
        assert_eq!((found.choice, found.cost, found.proved), (vec![1, 0], 41.into(), true));
    }

    #[test]
    fn an_order_is_filled_up_to_where_shipping_is_free() {
        let lines = [line(&[(0, 10), (1, 12)]), line(&[(1, 20)])];
        let found = cover(&lines, &[terms(0, None, 0), terms(9, Some(32), 0)]);
        assert_eq!((found.choice, found.cost), (vec![1, 0], 32.into()));
    }

    #[test]
    fn a_minimum_is_kept_or_said_to_be_missed() {
        let lines = [line(&[(0, 10), (1, 12)]), line(&[(1, 20), (0, 22)])];
        let found = cover(&lines, &[terms(0, None, 15), terms(0, None, 0)]);
        assert_eq!((found.choice, found.cost, found.minimum_missed), (vec![1, 0], 32.into(), false));
        let alone = cover(&lines[..1], &[terms(0, None, 15), terms(0, None, 15)]);
        assert_eq!((alone.choice, alone.cost, alone.minimum_missed), (vec![0], 10.into(), true));
        assert_eq!(cover(&[], &[]).cost, Decimal::ZERO);
    }
}
