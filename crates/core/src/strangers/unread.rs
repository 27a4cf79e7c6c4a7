//! Words of a sheet that this program does not read: kept for a newer one, and never in silence, for they may be slips of
//! the keyboard.

use crate::library::Extra;
use crate::meant::{nearest, then};
use crate::sheet::Sheet;

use super::Stranger;

/// The words of a sheet; a test holds them against what is written.
const SHEET: [&str; 28] = [
    "$schema",
    "about",
    "as_found",
    "budget",
    "classes",
    "described",
    "done",
    "facts",
    "figures",
    "format",
    "libraries",
    "limits",
    "lines",
    "made",
    "name",
    "needs",
    "notes",
    "parts",
    "photos",
    "pinned",
    "plan",
    "plans",
    "port_types",
    "signed",
    "suppliers",
    "survey",
    "time",
    "vehicle",
];
const PLAN: [&str; 6] = ["about", "accepted", "name", "picks", "routes", "waived"];
const CHOICE: [&str; 2] = ["part", "route"];
const DESCRIBED: [&str; 8] = ["about", "built", "circuits", "gives", "joints", "name", "offers", "positions"];
const FINDING: [&str; 2] = ["note", "verdict"];
const LINE: [&str; 8] = ["came_back", "fitted", "paid", "promised", "qty", "state", "supplier", "weeks"];
const BUDGET: [&str; 3] = ["contingency", "systems", "total"];
const SUPPLIER: [&str; 4] = ["free_from", "minimum", "prices", "shipping"];
const DONE: [&str; 2] = ["hours", "on"];
const SIGNED: [&str; 3] = ["by", "on", "reading"];
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
    for (part, line) in &sheet.lines {
        told(&mut out, &format!("lines.{part}."), &line.extra, &LINE);
    }
    told(&mut out, "budget.", &sheet.budget.extra, &BUDGET);
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
            ..serde_json::from_value(text).unwrap()
        };
        let written = serde_json::to_value(&whole).unwrap();
        for word in written.as_object().unwrap().keys() {
            assert!(SHEET.contains(&word.as_str()), "{word}");
        }
    }
}
