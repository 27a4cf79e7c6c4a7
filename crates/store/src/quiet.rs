//! Writes a sheet into the text it came from: what nobody has changed stays as it was typed, and one edit changes one
//! place. No default is added, no number or amount is written otherwise than it was.

use std::panic::{AssertUnwindSafe, catch_unwind};

use jsonc_parser::ParseOptions;
use jsonc_parser::cst::{CstArray, CstInputValue, CstNode, CstObject, CstRootNode};
use knockon_core::Sheet;
use serde_json::Value as Json;

/// A text larger than this is written anew as a whole.
const LARGEST: usize = 4 * 1024 * 1024;

/// The text of a sheet; `old` is what its file holds.
///
/// # Errors
/// The sheet cannot be written as JSON.
pub(crate) fn text(old: Option<&[u8]>, sheet: &Sheet) -> Result<String, serde_json::Error> {
    let old = old.filter(|old| old.len() <= LARGEST).and_then(|old| std::str::from_utf8(old).ok());
    if let Some(old) = old {
        // a fault in the changer of texts must not cost anybody a save
        let changed = catch_unwind(AssertUnwindSafe(|| changed(old, sheet))).ok().flatten();
        if let Some(text) = changed {
            return Ok(text);
        }
    }
    let whole = serde_json::to_value(sheet)?;
    let bare = bare(&whole);
    let bare = serde_json::to_string_pretty(&bare)? + "\n";
    if serde_json::from_str::<Sheet>(&bare).is_ok_and(|read| read == *sheet) {
        return Ok(bare);
    }
    Ok(serde_json::to_string_pretty(sheet)? + "\n")
}

/// Nothing stands in it.
fn is_empty(value: &Json) -> bool {
    match value {
        Json::Object(table) => table.is_empty(),
        Json::Array(list) => list.is_empty(),
        Json::String(text) => text.is_empty(),
        _ => false,
    }
}

/// A value without what is empty in it.
fn bare(value: &Json) -> Json {
    match value {
        Json::Object(table) => {
            let full = table.iter().filter(|(_, value)| !is_empty(value));
            Json::Object(full.map(|(name, value)| (name.clone(), bare(value))).collect())
        }
        Json::Array(list) => Json::Array(list.iter().map(bare).collect()),
        other => other.clone(),
    }
}

/// The old text with the places that differ; `None` where it is no sheet, or would not read as this one.
fn changed(old: &str, sheet: &Sheet) -> Option<String> {
    let before: Sheet = serde_json::from_str(old).ok()?;
    let (was, now) = (serde_json::to_value(&before).ok()?, serde_json::to_value(sheet).ok()?);
    if was == now {
        return (before == *sheet).then(|| old.to_owned());
    }
    // what comes to nothing goes, unless it means something that it stands there
    [true, false].into_iter().find_map(|bare| {
        let root = CstRootNode::parse(old, &strict()).ok()?;
        object(&root.object_value()?, &was, &now, bare)?;
        let text = root.to_string();
        (serde_json::from_str::<Sheet>(&text).ok()? == *sheet).then_some(text)
    })
}

/// JSON as it is, without what others allow in it.
fn strict() -> ParseOptions {
    ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        allow_missing_commas: false,
        allow_single_quoted_strings: false,
        allow_hexadecimal_numbers: false,
        allow_unary_plus_numbers: false,
    }
}

/// Changes an object of the text from what was read of it to what it is to be; `None` where that cannot be done in
/// place.
fn object(place: &CstObject, was: &Json, now: &Json, bare: bool) -> Option<()> {
    let (was, now) = (was.as_object()?, now.as_object()?);
    for name in was.keys().filter(|name| !now.contains_key(*name)) {
        if let Some(property) = place.get(name) {
            property.remove();
        }
    }
    let mut before: Option<&str> = None;
    for (name, value) in now {
        let same = was.get(name) == Some(value);
        match place.get(name) {
            Some(_) if same => {}
            Some(property) if bare && is_empty(value) => {
                property.remove();
                continue;
            }
            Some(property) => {
                let inside = match (was.get(name), property.value()) {
                    (Some(was), Some(node)) => change(&node, was, value, bare),
                    _ => None,
                };
                if inside.is_none() {
                    property.set_value(input(&bared(value, bare)));
                }
            }
            // a default that nobody has written
            None if same || bare && is_empty(value) => continue,
            None => {
                let at = before.and_then(|name| Some(place.get(name)?.property_index() + 1)).unwrap_or(0);
                place.insert(at, name, input(&bared(value, bare)));
            }
        }
        before = Some(name);
    }
    Some(())
}

/// Changes a value inside; `None` where it has to be replaced as a whole.
fn change(node: &CstNode, was: &Json, now: &Json, bare: bool) -> Option<()> {
    match now {
        Json::Object(now_table) if !now_table.is_empty() => {
            let place = node.as_object()?;
            // a table that comes from nothing is written as a whole
            (!place.properties().is_empty()).then_some(())?;
            object(&place, was, now, bare)
        }
        Json::Array(now) if !now.is_empty() => list(&node.as_array()?, was.as_array()?, now),
        _ => None,
    }
}

/// Changes a list of texts: what stays in front and behind is left alone.
fn list(place: &CstArray, was: &[Json], now: &[Json]) -> Option<()> {
    let elements = place.elements();
    let stands = |element: &CstNode| element.as_string_lit()?.decoded_value().ok();
    let written: Option<Vec<String>> = elements.iter().map(stands).collect();
    let read: Option<Vec<&str>> = was.iter().map(Json::as_str).collect();
    // what was read in another order or only once stands elsewhere than it seems
    (!elements.is_empty() && written?.iter().map(String::as_str).eq(read?)).then_some(())?;
    let front = was.iter().zip(now).take_while(|(a, b)| a == b).count();
    let behind = was[front..].iter().rev().zip(now[front..].iter().rev()).take_while(|(a, b)| a == b).count();
    for element in elements.into_iter().take(was.len() - behind).skip(front) {
        element.remove();
    }
    for (at, value) in now.iter().enumerate().take(now.len() - behind).skip(front) {
        place.insert(at, input(value));
    }
    Some(())
}

fn bared(value: &Json, yes: bool) -> Json {
    if yes { bare(value) } else { value.clone() }
}

fn input(value: &Json) -> CstInputValue {
    match value {
        Json::Null => CstInputValue::Null,
        Json::Bool(yes) => CstInputValue::Bool(*yes),
        Json::Number(number) => CstInputValue::Number(number.to_string()),
        Json::String(text) => CstInputValue::String(text.clone()),
        Json::Array(list) => CstInputValue::Array(list.iter().map(input).collect()),
        Json::Object(table) => {
            CstInputValue::Object(table.iter().map(|(name, value)| (name.clone(), input(value))).collect())
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use knockon_core::edit::AsFound;
    use knockon_core::sheet::{Choice, Done, LineState, Route};
    use knockon_core::{Edit, apply};

    /// As a person may write it: short lists in a line, no defaults, an amount with a half cent, `2` for hours.
    const TYPED: &str = r#"{
  "format": 1,
  "name": "The \u0041pple truck",
  "vehicle": "furrow-10",
  "plan": "p",
  "parts": {
    "own-hose": {"name": "Hose", "class": "hose", "hours": 2, "price": "12.505 USD"}
  },
  "plans": {
    "p": { "name": "P", "routes": {"tank": {"route": "clean"}, "fan": {"route": "renew"}},
           "accepted": ["fluid:oil", "beside:hub"] },
    "q": { "name": "Q" }
  },
  "lines": {
    "pump": { "state": "in-hand", "paid": "40 USD" }
  },
  "from-tomorrow": {"x": 1.50}
}
"#;

    fn after(old: &str, edits: &[Edit]) -> String {
        let mut sheet: Sheet = serde_json::from_str(old).unwrap();
        edits.iter().for_each(|edit| apply(&mut sheet, edit).unwrap());
        let new = text(Some(old.as_bytes()), &sheet).unwrap();
        assert_eq!(serde_json::from_str::<Sheet>(&new).unwrap(), sheet);
        new
    }

    /// Lines that are only in the first of two texts.
    fn only(a: &str, b: &str) -> Vec<String> {
        let mut rest: Vec<&str> = b.lines().collect();
        let mut out = Vec::new();
        for line in a.lines() {
            match rest.iter().position(|other| *other == line) {
                Some(at) => drop(rest.remove(at)),
                None => out.push(line.trim().to_owned()),
            }
        }
        out
    }

    #[test]
    fn what_nobody_changed_stays_as_it_was_typed() {
        assert_eq!(after(TYPED, &[]), TYPED);
        let example = crate::library::example();
        assert_eq!(after(example, &[]), example);
    }

    #[test]
    fn one_edit_is_one_place() {
        let plan = || "p".to_owned();
        let choice = |route| Some(Choice { route, part: None });
        let edits = [
            Edit::Rename { name: "Other".into() },
            Edit::Note { position: "tank".into(), text: "a \"dent\"\nbelow \\ the \u{7} seam".into() },
            Edit::SetLine { part: "pump".into(), state: LineState::Fitted },
            Edit::SetSupplier { part: "pump".into(), supplier: "Mill Yard".into() },
            Edit::SetLine { part: "belt".into(), state: LineState::OnOrder },
            Edit::Choose { plan: plan(), position: "hub".into(), choice: choice(Route::Rebuild) },
            Edit::Choose { plan: plan(), position: "tank".into(), choice: choice(Route::LeaveOff) },
            Edit::Choose { plan: plan(), position: "tank".into(), choice: None },
            Edit::Accept { plan: plan(), key: "survey:tank".parse().unwrap(), yes: true },
            Edit::Accept { plan: plan(), key: "beside:hub".parse().unwrap(), yes: false },
            Edit::Found { position: "fan".into(), found: AsFound::Nothing },
            Edit::Photos { position: "fan".into(), paths: vec!["a.jpg".into()] },
            Edit::Done { job: "tank-out".into(), done: Some(Done::default()) },
            Edit::PutPlan { id: "q".into(), plan: None },
        ];
        for edit in &edits {
            let new = after(TYPED, std::slice::from_ref(edit));
            let gone = only(TYPED, &new);
            assert!(gone.len() <= 2, "{edit:?}\n{new}");
            assert!(
                new.contains("12.505 USD")
                    && new.contains("\"hours\": 2,")
                    && new.contains("\\u0041") == !matches!(edit, Edit::Rename { .. }),
                "{new}"
            );
            assert!(!new.contains("survey\": {") && !new.contains("\"about\""), "no default: {new}");
        }
    }

    #[test]
    fn a_step_back_leads_to_the_same_text() {
        let example = crate::library::example();
        let sheet: Sheet = serde_json::from_str(example).unwrap();
        let plan = sheet.plan.clone();
        let choice = Some(Choice { route: Route::Convert, part: Some("x".into()) });
        for position in ["aaa", "mmm", "zzz"] {
            let position = position.to_owned();
            let there = [
                Edit::Choose { plan: plan.clone(), position: position.clone(), choice: choice.clone() },
                Edit::Note { position: position.clone(), text: "n".into() },
                Edit::SetLine { part: position.clone(), state: LineState::InHand },
            ];
            let back = [
                Edit::Choose { plan: plan.clone(), position: position.clone(), choice: None },
                Edit::Note { position: position.clone(), text: String::new() },
                Edit::SetLine { part: position.clone(), state: LineState::ToBuy },
            ];
            let whole = text(None, &sheet).unwrap();
            for old in [example, &whole] {
                assert_eq!(after(&after(old, &there), &back), old);
            }
        }
    }

    #[test]
    fn what_is_no_sheet_is_written_anew() {
        let sheet: Sheet = serde_json::from_str(TYPED).unwrap();
        let whole = text(None, &sheet).unwrap();
        assert!(!whole.contains("notes") && !whole.contains("\"about\""), "{whole}");
        for old in ["", "mine", "{}", "[1]", "{\"format\":1,\"format\":1}", &"[".repeat(100_000)] {
            assert_eq!(text(Some(old.as_bytes()), &sheet).unwrap(), whole);
        }
        assert_eq!(text(Some(&[0xff]), &sheet).unwrap(), whole);
        assert_eq!(text(None, &sheet).unwrap(), whole);
    }
}
