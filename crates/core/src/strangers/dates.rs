//! Dates of a sheet that only say when something was seen, done or meant, and its distances: each with its path, to be told where
//! it is none.

use crate::date::Dated;
use crate::quantity::Quantity;
use crate::sheet::Sheet;

/// What cannot be read, with its path.
pub(super) fn wrong(sheet: &Sheet) -> Vec<(String, String)> {
    let mut out = Vec::new();
    let mut dated = |path: String, text: Option<&String>| {
        if let Some(Err(why)) = text.map(|text| Dated::parse(text)) {
            out.push((path, format!("{why}; the date is left out")));
        }
    };
    for (job, done) in &sheet.done {
        dated(format!("done.{job}.on"), done.on.as_ref());
    }
    for (check, signed) in &sheet.signed {
        dated(format!("signed.{check}.on"), signed.on.as_ref());
    }
    for (place, all) in &sheet.readings {
        for (n, reading) in all.iter().enumerate() {
            dated(format!("readings.{place}[{n}].on"), reading.on.as_ref());
        }
    }
    for (place, all) in &sheet.seen {
        for (n, seen) in all.iter().enumerate() {
            dated(format!("seen.{place}[{n}].on"), seen.on.as_ref());
        }
    }
    for (place, all) in &sheet.put_off {
        for (of, put_off) in all {
            dated(format!("put_off.{place}.{of}.on"), put_off.on.as_ref());
        }
    }
    for (n, direction) in sheet.directions.iter().enumerate() {
        dated(format!("directions[{n}].on"), direction.on.as_ref());
        dated(format!("directions[{n}].deadline"), direction.deadline.as_ref());
    }
    dated("not_driven.since".to_owned(), sheet.not_driven.as_ref().and_then(|off| off.since.as_ref()));
    dated("for_sale.on".to_owned(), sheet.for_sale.as_ref().and_then(|sale| sale.on.as_ref()));
    let Some(identity) = &sheet.identity else { return out };
    dated("identity.built".to_owned(), identity.built.as_ref());
    for (n, mark) in identity.marks.iter().enumerate() {
        dated(format!("identity.marks[{n}].dated"), mark.dated.as_ref());
    }
    let mut far = |path: String, text: Option<&String>| {
        if let Some(Err(why)) = text.map(|text| Quantity::parse(text)) {
            out.push((path, format!("{why}; the distance is left out")));
        }
    };
    far("identity.counter".to_owned(), identity.counter.as_ref());
    for (n, wear) in identity.wear.iter().enumerate() {
        far(format!("identity.wear[{n}].least"), wear.least.as_ref());
        far(format!("identity.wear[{n}].most"), wear.most.as_ref());
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value, json};

    use super::wrong;
    use crate::sheet::Sheet;

    #[test]
    fn what_is_no_date_and_no_distance_is_told_by_its_path() {
        let sheet = |date: &str, far: &str| -> Sheet {
            let sheet: Value = json!({
                "format": 1, "name": "Cart", "vehicle": "cart", "plan": "plan", "plans": {},
                "done": {"tank-in": {"on": date}},
                "signed": {"leak": {"on": date}},
                "not_driven": {"since": date},
                "for_sale": {"on": date},
                "directions": [{"way": "custom", "reason": "it stands dry", "on": date, "deadline": date}],
                "identity": {
                    "built": date, "counter": far, "wear": [{"what": "pedals", "least": far, "most": far}],
                    "marks": [{"what": "plate", "of": "chassis", "dated": date, "trust": "sure"}],
                },
            });
            serde_json::from_value(sheet).unwrap()
        };
        assert_eq!(wrong(&sheet("1958-06", "41000 miles")), []);
        let paths: Vec<String> = wrong(&sheet("", "")).into_iter().map(|(path, _)| path).collect();
        assert_eq!(
            paths,
            [
                "done.tank-in.on",
                "signed.leak.on",
                "directions[0].on",
                "directions[0].deadline",
                "not_driven.since",
                "for_sale.on",
                "identity.built",
                "identity.marks[0].dated",
                "identity.counter",
                "identity.wear[0].least",
                "identity.wear[0].most",
            ]
        );
    }
}
