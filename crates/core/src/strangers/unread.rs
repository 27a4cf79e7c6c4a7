//! Words of a sheet that this program does not read: kept for a newer one, and never in silence, for they may be slips of
//! the keyboard.

use crate::library::Extra;
use crate::meant::{nearest, then};
use crate::sheet::Sheet;

use super::Stranger;

/// The words of a sheet; a test holds them against what is written.
const SHEET: [&str; 37] = [
    "$schema",
    "about",
    "as_found",
    "budget",
    "classes",
    "described",
    "directions",
    "done",
    "facts",
    "figures",
    "for_sale",
    "format",
    "identity",
    "libraries",
    "limits",
    "lines",
    "made",
    "name",
    "needs",
    "not_driven",
    "notes",
    "own_bounds",
    "parts",
    "photos",
    "pinned",
    "plan",
    "plans",
    "port_types",
    "put_off",
    "readings",
    "seen",
    "signed",
    "suppliers",
    "survey",
    "time",
    "vehicle",
    "worth",
];
const PLAN: [&str; 6] = ["about", "accepted", "name", "picks", "routes", "waived"];
const CHOICE: [&str; 2] = ["part", "route"];
const DESCRIBED: [&str; 8] = ["about", "built", "circuits", "gives", "joints", "name", "offers", "positions"];
const FINDING: [&str; 2] = ["note", "verdict"];
const LINE: [&str; 8] = ["came_back", "fitted", "paid", "promised", "qty", "state", "supplier", "weeks"];
const BUDGET: [&str; 3] = ["contingency", "systems", "total"];
const WORTH: [&str; 3] = ["as_it_stands", "done", "in_parts"];
const SUPPLIER: [&str; 4] = ["free_from", "minimum", "prices", "shipping"];
const DONE: [&str; 2] = ["hours", "on"];
const SIGNED: [&str; 3] = ["by", "on", "reading"];
const DIRECTION: [&str; 8] = ["aims", "budget", "deadline", "drivers", "on", "reason", "use", "way"];
const FOR_SALE: [&str; 5] = ["asked", "bought", "on", "papers", "where"];
const IDENTITY: [&str; 5] = ["built", "counter", "digits", "marks", "wear"];
const MARK: [&str; 6] = ["dated", "evidence", "of", "text", "trust", "what"];
const WEAR: [&str; 3] = ["least", "most", "what"];
const READING: [&str; 6] = ["by", "of", "on", "tool", "value", "which"];
const SEEN: [&str; 4] = ["by", "on", "verdict", "what"];
const OWN_BOUNDS: [&str; 4] = ["good", "renew", "source", "watch"];
const PUT_OFF: [&str; 2] = ["on", "reason"];
const NOT_DRIVEN: [&str; 2] = ["by", "since"];
const TIME: [&str; 6] = ["hours", "people", "sessions_a_week", "start", "wanted", "weekdays"];
const PERSON: [&str; 2] = ["can", "name"];
const LIBRARY: [&str; 3] = ["digest", "name", "version"];

/// What stands in a sheet, and in one of its plans, under words nobody reads.
#[must_use]
pub fn words(sheet: &Sheet, plan: &str) -> Vec<Stranger> {
    let mut out = Vec::new();
    told(&mut out, "", &sheet.extra, &SHEET);
    for (n, library) in sheet.libraries.iter().enumerate() {
        told(&mut out, &format!("libraries[{n}]."), &library.extra, &LIBRARY);
    }
    told(&mut out, "described.", &sheet.described.extra, &DESCRIBED);
    for (position, finding) in &sheet.survey {
        told(&mut out, &format!("survey.{position}."), &finding.extra, &FINDING);
    }
    for (n, direction) in sheet.directions.iter().enumerate() {
        told(&mut out, &format!("directions[{n}]."), &direction.extra, &DIRECTION);
    }
    if let Some(sale) = &sheet.for_sale {
        told(&mut out, "for_sale.", &sale.extra, &FOR_SALE);
    }
    if let Some(identity) = &sheet.identity {
        told(&mut out, "identity.", &identity.extra, &IDENTITY);
        for (n, mark) in identity.marks.iter().enumerate() {
            told(&mut out, &format!("identity.marks[{n}]."), &mark.extra, &MARK);
        }
        for (n, wear) in identity.wear.iter().enumerate() {
            told(&mut out, &format!("identity.wear[{n}]."), &wear.extra, &WEAR);
        }
    }
    for (position, readings) in &sheet.readings {
        for (n, reading) in readings.iter().enumerate() {
            told(&mut out, &format!("readings.{position}[{n}]."), &reading.extra, &READING);
        }
    }
    for (position, seen) in &sheet.seen {
        for (n, seen) in seen.iter().enumerate() {
            told(&mut out, &format!("seen.{position}[{n}]."), &seen.extra, &SEEN);
        }
    }
    for (position, of) in &sheet.own_bounds {
        for (inspection, own) in of {
            told(&mut out, &format!("own_bounds.{position}.{inspection}."), &own.extra, &OWN_BOUNDS);
        }
    }
    for (position, of) in &sheet.put_off {
        for (inspection, off) in of {
            told(&mut out, &format!("put_off.{position}.{inspection}."), &off.extra, &PUT_OFF);
        }
    }
    if let Some(off) = &sheet.not_driven {
        told(&mut out, "not_driven.", &off.extra, &NOT_DRIVEN);
    }
    for (part, line) in &sheet.lines {
        told(&mut out, &format!("lines.{part}."), &line.extra, &LINE);
    }
    told(&mut out, "budget.", &sheet.budget.extra, &BUDGET);
    told(&mut out, "worth.", &sheet.worth.extra, &WORTH);
    for (name, supplier) in &sheet.suppliers {
        told(&mut out, &format!("suppliers.{name}."), &supplier.extra, &SUPPLIER);
    }
    for (job, done) in &sheet.done {
        told(&mut out, &format!("done.{job}."), &done.extra, &DONE);
    }
    for (check, signed) in &sheet.signed {
        told(&mut out, &format!("signed.{check}."), &signed.extra, &SIGNED);
    }
    if let Some(time) = &sheet.time {
        told(&mut out, "time.", &time.extra, &TIME);
        for (n, person) in time.people.iter().enumerate() {
            told(&mut out, &format!("time.people[{n}]."), &person.extra, &PERSON);
        }
    }
    if let Some(entry) = sheet.plans.get(plan) {
        told(&mut out, &format!("plans.{plan}."), &entry.extra, &PLAN);
        for (position, extra) in &entry.choice_extra {
            told(&mut out, &format!("plans.{plan}.routes.{position}."), extra, &CHOICE);
        }
    }
    out
}

fn told(out: &mut Vec<Stranger>, before: &str, extra: &Extra, known: &[&str]) {
    out.extend(extra.keys().map(|word| {
        let rest = then(nearest(word, known.iter().copied()), "it is kept, and nothing rests on it");
        Stranger {
            path: format!("{before}{word}"),
            message: format!("the word \"{word}\" is not known here{rest}"),
        }
    }));
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::json;

    use super::{SHEET, words};
    use crate::Sheet;
    use crate::described::Described;

    #[test]
    fn a_word_nobody_reads_is_told_wherever_it_is_kept() {
        let sheet: Sheet = serde_json::from_value(json!({
            "$schema": "sheet.json", "format": 1, "name": "a", "vehicle": "v", "plan": "p", "nots": {},
            "described": {"poistions": {}},
            "libraries": [{"name": "Shop", "versoin": "1"}],
            "survey": {"tank": {"verdict": "good", "nte": 2}},
            "lines": {"pump": {"state": "in-hand", "payed": 3}},
            "budget": {"totl": "5.00 USD"}, "suppliers": {"Mill Yard": {"shipment": "5.00 USD"}},
            "plans": {"p": {"name": "P", "waved": 4, "routes": {"tank": {"route": "keep", "prt": "x"}}},
                      "q": {"name": "Q", "waved": 4}}
        }))
        .unwrap();
        let told = words(&sheet, "p");
        let paths: Vec<&str> = told.iter().map(|s| s.path.as_str()).collect();
        assert_eq!(
            paths,
            [
                "nots",
                "libraries[0].versoin",
                "described.poistions",
                "survey.tank.nte",
                "lines.pump.payed",
                "budget.totl",
                "suppliers.Mill Yard.shipment",
                "plans.p.waved",
                "plans.p.routes.tank.prt"
            ]
        );
        assert_eq!(
            told[0].message,
            "the word \"nots\" is not known here; did you mean \"notes\"? It is kept, and nothing rests on it"
        );
    }

    #[test]
    fn every_word_of_a_sheet_is_known() {
        let text = json!({"format": 1, "name": "", "vehicle": "", "plan": "", "plans": {}, "$schema": "s"});
        let whole = Sheet {
            schema: Some("s".into()),
            libraries: vec![Default::default()],
            made: [("a".into(), "1966".into())].into(),
            time: Some(Default::default()),
            pinned: [("a".into(), "2026-04-04".into())].into(),
            done: [("a".into(), Default::default())].into(),
            signed: [("a".into(), Default::default())].into(),
            photos: [("a".into(), vec![])].into(),
            budget: serde_json::from_value(json!({"contingency": 10})).unwrap(),
            suppliers: [("a".into(), Default::default())].into(),
            classes: [("a".into(), Default::default())].into(),
            described: Described { name: "mine".into(), ..Default::default() },
            figures: [("a".into(), Default::default())].into(),
            needs: [("a".into(), Default::default())].into(),
            port_types: [("a".into(), Default::default())].into(),
            for_sale: Some(Default::default()),
            identity: Some(Default::default()),
            worth: serde_json::from_value(json!({"in_parts": "5.00 USD"})).unwrap(),
            directions: vec![Default::default()],
            readings: [("a".into(), vec![])].into(),
            seen: [("a".into(), vec![])].into(),
            own_bounds: [("a".into(), Default::default())].into(),
            put_off: [("a".into(), Default::default())].into(),
            not_driven: Some(Default::default()),
            ..serde_json::from_value(text).unwrap()
        };
        let written = serde_json::to_value(&whole).unwrap();
        for word in written.as_object().unwrap().keys() {
            assert!(SHEET.contains(&word.as_str()), "{word}");
        }
    }
}
