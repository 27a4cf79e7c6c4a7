//! In which job each part goes on: exactly one.

use crate::jobs::ask::All;
use crate::jobs::touched::Touched;

/// For each touched thing its job; `None` where it goes on in none. The last operation in the order of work for its own class
/// goes first; what has none goes on with the place it hangs under, and what hangs nowhere with the first job there is.
pub fn taken(
    touched: &[Touched],
    all: &All,
    order: &[usize],
    puts_on: &dyn Fn(usize) -> bool,
) -> Vec<Option<usize>> {
    let rank = |at: &usize| order.iter().position(|other| other == at);
    let own: Vec<Option<usize>> =
        all.by.iter().map(|jobs| jobs.iter().copied().filter(|at| puts_on(*at)).max_by_key(rank)).collect();
    let of_place = |place: &str| {
        let at = touched.iter().position(|thing| thing.sits && thing.place.as_deref() == Some(place))?;
        own[at]
    };
    let whole = || (0..all.jobs.len()).find(|at| puts_on(*at));
    let one = |i: usize| {
        own[i]
            .or_else(|| of_place(touched[i].place.as_deref()?))
            .or_else(|| own.iter().flatten().next().copied())
            .or_else(whole)
    };
    (0..touched.len()).map(|i| if touched[i].goes_on { one(i) } else { None }).collect()
}
