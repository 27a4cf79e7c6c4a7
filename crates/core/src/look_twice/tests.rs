//! A wide carburettor that the owner chose brings a wide air cleaner, which follows. What is said of the cleaner is what the
//! restorer should look at twice.

use rust_decimal::Decimal;
use serde_json::{Value as Json, json};

use super::{Bounds, Mark, marks};
use crate::assess::least::{Least, merge};
use crate::money::Money;
use crate::sheet::Verdict;

fn cleaner(more: Json) -> Least {
    let neck = |class: &str, port: &str| json!({"class": class, "ports": {"neck": port}});
    let mut library = json!({
        "classes": {"carburettor": {"decided": "owner"}},
        "parts": {
            "old-carburettor": neck("carburettor", "67-mm"), "old-cleaner": neck("cleaner", "67-mm"),
            "wide-carburettor": neck("carburettor", "108-mm"), "wide-cleaner": neck("cleaner", "108-mm"),
        },
        "vehicle": {
            "positions": {"carburettor": "old-carburettor", "cleaner": "old-cleaner"},
            "joints": {"neck": ["carburettor.neck", "cleaner.neck"]},
        },
    });
    merge(&mut library, json!({"parts": {"wide-cleaner": more}}));
    Least::new(library).convert("carburettor", "wide-carburettor")
}

fn said(plan: &Least, bounds: &Bounds) -> Vec<Mark> {
    let a = plan.assess();
    let brought: Vec<_> = a.companions.iter().filter(|c| c.part == "wide-cleaner").collect();
    assert_eq!(brought.len(), 1);
    marks(brought[0], bounds)
}

fn from(dear: i64, long: f64) -> Bounds {
    Bounds { dear: Some(Money::new(Decimal::from(dear), "USD")), long: Some(long) }
}

#[test]
fn what_can_be_undone_and_takes_nothing_good_off_has_no_mark() {
    assert_eq!(said(&cleaner(json!({})), &Bounds::default()), []);
    assert_eq!(said(&cleaner(json!({})).survey("cleaner", Verdict::Watch), &Bounds::default()), []);
    assert_eq!(said(&cleaner(json!({})).survey("cleaner", Verdict::Renew), &Bounds::default()), []);
}

#[test]
fn what_cannot_be_undone_says_what_is_lost() {
    let words = |undo: &str| {
        let lost = "The rim of the bonnet is cut.";
        let plan = cleaner(json!({"reversible": undo, "undone": lost}));
        said(&plan, &Bounds::default()).iter().map(Mark::words).collect::<Vec<_>>()
    };
    assert_eq!(words("no"), ["cannot be undone: The rim of the bonnet is cut"]);
    assert_eq!(words("partly"), ["can be undone with some repair: The rim of the bonnet is cut"]);
    assert_eq!(words("yes"), [""; 0]);
}

#[test]
fn a_part_found_good_that_goes_off_is_named() {
    let plan = cleaner(json!({})).survey("cleaner", Verdict::Good);
    assert_eq!(said(&plan, &Bounds::default()), [Mark::TakesOffGood("old-cleaner".to_owned())]);
}

/// The reader's figure is the first that counts.
#[test]
fn dear_and_long_are_the_readers_figures() {
    let plan = cleaner(json!({"price": "48.00 USD", "hours": 1.5}));
    let dear = Mark::Dear(Money::new(Decimal::from(48), "USD"));
    assert_eq!(said(&plan, &from(48, 1.5)), [dear, Mark::Long(1.5)]);
    assert_eq!(said(&plan, &from(49, 1.6)), []);
    let other = Bounds { dear: Some(Money::new(Decimal::ONE, "EUR")), long: None };
    assert_eq!(said(&plan, &other), [], "money of another currency is not compared");
    assert_eq!(
        said(&cleaner(json!({"price": "0.00 USD"})), &from(0, 1.0)),
        [],
        "what costs nothing is not dear"
    );
}
