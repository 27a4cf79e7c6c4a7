//! Keys and their texts: each once, there and back, and what is refused.

use std::collections::BTreeSet;
use std::fmt::{Debug, Display};
use std::str::FromStr;

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use serde::{Serialize, de::DeserializeOwned};

use super::{CheckKey, CompanionKey, FactKey, KeyError, KeyOf, Premise};

fn id(text: &str) -> String {
    text.to_owned()
}

/// A key and its text, in both directions, and in a file.
fn is_written<K>(key: &K, text: &str)
where
    K: Display + FromStr<Err = KeyError> + Debug + PartialEq + Serialize + DeserializeOwned,
{
    assert_eq!(key.to_string(), text);
    assert_eq!(text.parse::<K>().as_ref(), Ok(key));
    let json = serde_json::to_string(key).unwrap_or_default();
    assert_eq!(json, serde_json::to_string(text).unwrap_or_default());
    assert_eq!(serde_json::from_str::<K>(&json).ok().as_ref(), Some(key));
}

#[test]
fn companions() {
    let need = |cause: Option<&str>| CompanionKey::Need {
        cause: cause.map(id),
        asker: id("kit"),
        need: id("regulated-fuel"),
    };
    let seal = |n| CompanionKey::Seal { joint: id("cap"), class: id("gasket"), n };
    let fluid = |n| CompanionKey::Fluid { class: id("oil"), n };
    is_written(&CompanionKey::Bridge { joint: id("fuel"), n: 1 }, "bridge:fuel:1");
    is_written(&CompanionKey::Cap { joint: id("drive") }, "cap:drive");
    is_written(&CompanionKey::fill("fuel-pump"), "position:fuel-pump");
    is_written(&need(Some("carburettor")), "need:carburettor:kit:regulated-fuel");
    is_written(&need(None), "need:-:kit:regulated-fuel");
    is_written(&seal(0), "joint:cap:gasket");
    is_written(&seal(2), "joint:cap:gasket:2");
    let apart = |at: &[&str]| CompanionKey::Apart {
        opening: id("sump"),
        at: at.iter().map(|word| id(word)).collect(),
        class: id("gasket"),
    };
    is_written(&apart(&[]), "apart:sump:gasket");
    is_written(&apart(&["front", "left"]), "apart:sump@front+left:gasket");
    is_written(&CompanionKey::beside("clutch"), "beside:clutch");
    is_written(&fluid(0), "fluid:oil");
    is_written(&fluid(1), "fluid:oil:1");
    is_written(&CompanionKey::survey("harness"), "survey:harness");
}

#[test]
fn checks() {
    let limit =
        |at: &[&str]| CheckKey::Limit { limit: id("tyre-load"), at: at.iter().copied().map(id).collect() };
    is_written(&CheckKey::joint("fuel-flow"), "joint:fuel-flow");
    is_written(&CheckKey::limit("tyre-load"), "limit:tyre-load");
    is_written(&limit(&["front-tyres"]), "limit:tyre-load@front-tyres");
    is_written(&limit(&["front-tyres", "front-axle"]), "limit:tyre-load@front-tyres+front-axle");
    is_written(
        &CheckKey::Need { cause: Some(id("fan")), asker: id("slim"), need: id("charging") },
        "need:fan:slim:charging",
    );
    is_written(&CheckKey::pool("load"), "pool:load");
    is_written(&CheckKey::Port { position: id("gearbox"), port: id("speedo") }, "port:gearbox:speedo");
}

#[test]
fn measured_values_and_premises() {
    let flow = FactKey::Port { port: id("outlet"), field: id("flow"), part: id("pump") };
    is_written(&FactKey::Vehicle { figure: id("idle-speed") }, "idle-speed");
    is_written(&FactKey::Part { figure: id("bore"), part: id("hub") }, "bore@hub");
    is_written(&flow, "outlet.flow@pump");
    is_written(&Premise::Chosen { position: id("fan") }, "chosen:fan");
    is_written(&Premise::AsFound { position: id("fan") }, "as-found:fan");
    is_written(&Premise::Survey { position: id("fan") }, "survey:fan");
    is_written(&Premise::Measured { fact: flow }, "measured:outlet.flow@pump");
}

#[test]
fn a_mark_in_an_id_is_written_by_its_number() {
    is_written(&CompanionKey::survey("a:b"), "survey:a%3Ab");
    is_written(&CompanionKey::survey("50%"), "survey:50%25");
    // the second is none, the first a place of that id
    let need = |cause| CompanionKey::Need { cause, asker: id("a"), need: id("n") };
    is_written(&need(Some(id("-"))), "need:%2D:a:n");
    is_written(&need(None), "need:-:a:n");
    is_written(&CheckKey::limit("a@b+c"), "limit:a%40b%2Bc");
    is_written(&FactKey::Vehicle { figure: id("hub.bore") }, "hub%2Ebore");
    is_written(&FactKey::Part { figure: id("bore"), part: id("hub.2@x") }, "bore@hub.2%40x");
}

#[test]
fn what_is_no_key_says_what_was_found_and_what_was_expected() {
    let told = |text: &str| text.parse::<CompanionKey>().map_err(|why| why.to_string());
    assert_eq!(
        told("needs:fan:slim:charging"),
        Err("\"needs:fan:slim:charging\" is no key of a companion; did you mean \"need\"? Such a key begins with \
             \"bridge:\", \"cap:\", \"position:\", \"need:\", \"joint:\", \"apart:\", \"beside:\", \"fluid:\", \
             \"survey:\", \"age:\", as the assessment writes it"
            .to_owned())
    );
    assert_eq!(
        told("bridge:fuel:first"),
        Err("\"bridge:fuel:first\" is no key of a companion; expected bridge:JOINT:NUMBER, as the assessment writes it"
            .to_owned())
    );
    assert_eq!(
        "a.b.c@pump".parse::<FactKey>().map_err(|why| why.to_string()),
        Err("\"a.b.c@pump\" is no key of a measured value; expected FIGURE, FIGURE@PART or PORT.FIELD@PART, as the \
             assessment writes it"
            .to_owned())
    );
    assert!(matches!("limit:a:b".parse::<CheckKey>(), Err(KeyError::Form { of: KeyOf::Check, .. })));
    assert!(matches!("pools:a".parse::<CheckKey>(), Err(KeyError::Kind { of: KeyOf::Check, .. })));
    assert!(matches!("measured:a.b".parse::<Premise>(), Err(KeyError::Form { of: KeyOf::Premise, .. })));
    // another text for what has one already
    for text in [
        "bridge:fuel:00",
        "bridge:fuel:+1",
        "joint:cap:gasket:0",
        "fluid:oil:0",
        "survey:%61",
        "survey:a%3ab",
    ] {
        assert!(told(text).is_err(), "{text}");
    }
}

/// Ids as the library has them, and such as nobody should write.
fn ids() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z][a-z0-9]{0,6}(-[a-z0-9]{1,4}){0,2}", "[-%:@+.0-9a-z]{0,6}", "\\PC{0,4}"]
}

fn companion() -> impl Strategy<Value = CompanionKey> {
    (0..10_u8, ids(), ids(), ids(), any::<bool>(), prop_oneof![0..3_u32, any::<u32>()]).prop_map(
        |(kind, a, b, c, none, n)| match kind {
            0 => CompanionKey::Bridge { joint: a, n },
            1 => CompanionKey::Cap { joint: a },
            2 => CompanionKey::Fill { position: a },
            3 => CompanionKey::Need { cause: (!none).then_some(a), asker: b, need: c },
            4 => CompanionKey::Seal { joint: a, class: b, n },
            5 => CompanionKey::Apart { opening: a, at: if none { Vec::new() } else { vec![c] }, class: b },
            6 => CompanionKey::Beside { position: a },
            7 => CompanionKey::Fluid { class: a, n },
            8 => CompanionKey::Age { position: a },
            _ => CompanionKey::Survey { position: a },
        },
    )
}

fn check() -> impl Strategy<Value = CheckKey> {
    (0..4_u8, ids(), ids(), ids(), any::<bool>(), vec(ids(), 0..4)).prop_map(|(kind, a, b, c, none, at)| {
        match kind {
            0 => CheckKey::Joint { joint: a },
            1 => CheckKey::Limit { limit: a, at },
            2 => CheckKey::Need { cause: (!none).then_some(a), asker: b, need: c },
            _ => CheckKey::Pool { pool: a },
        }
    })
}

fn fact() -> impl Strategy<Value = FactKey> {
    (0..3_u8, ids(), ids(), ids()).prop_map(|(kind, a, b, part)| match kind {
        0 => FactKey::Vehicle { figure: a },
        1 => FactKey::Part { figure: a, part },
        _ => FactKey::Port { port: a, field: b, part },
    })
}

fn premise() -> impl Strategy<Value = Premise> {
    (0..4_u8, ids(), fact()).prop_map(|(kind, position, fact)| match kind {
        0 => Premise::Chosen { position },
        1 => Premise::AsFound { position },
        2 => Premise::Survey { position },
        _ => Premise::Measured { fact },
    })
}

/// Text that is nearly a key.
fn texts() -> impl Strategy<Value = String> {
    let word = "bridge|cap|position|need|joint|apart|beside|fluid|survey|limit|pool|chosen|as-found|measured|\\PC{0,3}";
    (word, "(:([a-z]{1,3}|-|[0-9]{1,2}|%[0-9A-Fa-f]{2}|[@+.%:]|\\PC){0,2}){0,4}")
        .prop_map(|(word, rest)| word + &rest)
}

fn there_and_back<K: Display + FromStr<Err = KeyError> + Debug + PartialEq>(
    key: &K,
) -> Result<(), TestCaseError> {
    let read = key.to_string().parse::<K>();
    prop_assert_eq!(read.as_ref(), Ok(key));
    Ok(())
}

/// What reads a text writes it again; what does not, names it.
fn back_and_there<K: Display + FromStr<Err = KeyError>>(text: &str) -> Result<bool, TestCaseError> {
    match text.parse::<K>() {
        Ok(key) => prop_assert_eq!(key.to_string(), text),
        Err(why) => {
            let named = format!("\"{text}\" is no key of a");
            prop_assert!(why.to_string().starts_with(&named), "{}", why);
            return Ok(false);
        }
    }
    Ok(true)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_key_reads_its_own_text(of in companion(), at in check(), fact in fact(), on in premise()) {
        there_and_back(&of)?;
        there_and_back(&at)?;
        there_and_back(&fact)?;
        there_and_back(&on)?;
    }

    #[test]
    fn any_text_is_one_key_or_an_error(text in texts()) {
        back_and_there::<CompanionKey>(&text)?;
        back_and_there::<CheckKey>(&text)?;
        back_and_there::<FactKey>(&text)?;
        back_and_there::<Premise>(&text)?;
    }

    #[test]
    fn keys_of_measured_values_are_in_the_order_of_their_texts(facts in vec(fact(), 0..6)) {
        let sorted: Vec<String> = facts.iter().collect::<BTreeSet<_>>().into_iter().map(FactKey::to_string).collect();
        let texts: BTreeSet<String> = facts.iter().map(FactKey::to_string).collect();
        prop_assert_eq!(sorted, texts.into_iter().collect::<Vec<_>>());
    }
}

/// The texts tried are of both sorts.
#[test]
fn some_of_the_texts_tried_are_keys() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut read = 0;
    for _ in 0..2000 {
        let text = texts().new_tree(&mut runner).map(|tree| tree.current()).unwrap_or_default();
        read += usize::from(text.parse::<CompanionKey>().is_ok() || text.parse::<CheckKey>().is_ok());
    }
    assert!((50..1900).contains(&read), "{read}");
}
