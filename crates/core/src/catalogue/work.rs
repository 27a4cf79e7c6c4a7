//! The work of the trade: operations, rules of their order and checks, held to the classes and to each other.

use std::collections::BTreeSet;

use super::build::{Ctx, Placed, gather};
use super::built::Built;
use crate::edit::MOST_WEEKS;
use crate::jobs::limit::Limits;
use crate::library::{Card, LibraryFile, OrderRule};
use crate::meant::{nearest, then};

/// No hours at home are more times those of a workshop; what is more is a slip.
const MOST_TIMES: f64 = 20.0;

/// One word of what comes before an operation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Before {
    /// One of these: the first that is in the plan, else the first that is there on the vehicle.
    pub any: Vec<String>,
    /// It orders only: it is not asked for.
    pub orders_only: bool,
}

impl Before {
    /// "tank-drained", "front-raised | rear-raised", "exhaust-off?".
    #[must_use]
    pub fn read(text: &str) -> Self {
        let text = text.trim();
        let (text, orders_only) = text.strip_suffix('?').map_or((text, false), |rest| (rest, true));
        Self { any: text.split('|').map(|id| id.trim().to_owned()).collect(), orders_only }
    }
}

/// Takes in operations, orders and checks.
pub(super) fn work(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let operations = gather(files, "operations", |f| &f.operations, &mut ctx.faults);
    let orders = gather(files, "orders", |f| &f.orders, &mut ctx.faults);
    let checks = gather(files, "checks", |f| &f.checks, &mut ctx.faults);
    let cards = gather(files, "cards", |f| &f.cards, &mut ctx.faults);
    let told: BTreeSet<&str> = cards.keys().map(String::as_str).collect();
    let mut used: BTreeSet<&str> = BTreeSet::new();
    let jobs: BTreeSet<&str> = operations.keys().map(String::as_str).collect();
    let tests: BTreeSet<&str> = checks.keys().map(String::as_str).collect();
    let all: BTreeSet<&str> = jobs.union(&tests).copied().collect();
    for id in jobs.intersection(&tests) {
        let (file, _) = checks[*id];
        let said = format!("\"{id}\" is an operation already; give one of them another id");
        ctx.faults.error(file, format!("checks.{id}"), said);
    }
    let built = Built::of(files);
    for (id, (file, op)) in &operations {
        let at = format!("operations.{id}");
        if id == "fit" {
            let said = "\"fit\" is what a place without an operation has; give it another id".to_owned();
            ctx.faults.error(file, at.clone(), said);
        }
        built.check(&op.built, file, &format!("{at}.built"), ctx);
        built.check(op.after_built.keys(), file, &format!("{at}.after_built"), ctx);
        classes(ctx, file, &at, [("for", &op.whom), ("at", &op.at)]);
        cautions(ctx, file, &at, &op.cautions);
        known(ctx, &told, "card", file, format!("{at}.card"), op.card.as_slice());
        used.extend(op.card.as_deref());
        for (i, text) in op.after.iter().enumerate() {
            known(ctx, &jobs, "operation", file, format!("{at}.after[{i}]"), &Before::read(text).any);
        }
        for (word, texts) in &op.after_built {
            for (i, text) in texts.iter().enumerate() {
                let path = format!("{at}.after_built.{word}[{i}]");
                known(ctx, &jobs, "operation", file, path, &Before::read(text).any);
            }
        }
        let closed = op.closed_by.iter().cloned().collect::<Vec<_>>();
        known(ctx, &jobs, "operation", file, format!("{at}.closed_by"), &closed);
        let rises = |[least, likely, most]: [f64; 3]| {
            0.0 <= least && least <= likely && likely <= most && most <= 1000.0
        };
        if let Some(hours) = op.hours.filter(|hours| !rises(*hours)) {
            let said = format!(
                "expected hours at least, likely and at most, rising, such as [0.5, 0.7, 1], found {hours:?}"
            );
            ctx.faults.error(file, format!("{at}.hours"), said);
        } else if op.hours.is_some() && op.source.is_empty() {
            let said = "hours want a source, such as \"common practice\"".to_owned();
            ctx.faults.warn(file, format!("{at}.source"), said);
        }
        weeks(ctx, file, &at, op.weeks, !op.source.is_empty());
        ctx.cat.operations.insert(id.clone(), (*op).clone());
    }
    for (id, (file, order)) in &orders {
        let at = format!("orders.{id}");
        known(ctx, &all, "operation or check", file, format!("{at}.before"), &order.before);
        known(ctx, &all, "operation or check", file, format!("{at}.after"), &order.after);
        if order.why.trim().is_empty() {
            ctx.faults.warn(file, format!("{at}.why"), "a rule of the order says why".to_owned());
        }
        ctx.cat.orders.insert(id.clone(), OrderRule::clone(order));
    }
    for (id, (file, check)) in &checks {
        let at = format!("checks.{id}");
        classes(ctx, file, &at, [("for", &check.whom), ("at", &check.at)]);
        cautions(ctx, file, &at, &check.cautions);
        known(ctx, &told, "card", file, format!("{at}.card"), check.card.as_slice());
        used.extend(check.card.as_deref());
        known(ctx, &jobs, "operation", file, format!("{at}.by"), &check.by);
        known(ctx, &tests, "check", file, format!("{at}.after"), &check.after);
        if let Err(why) = Limits::read(&check.limit) {
            ctx.faults.error(file, format!("{at}.limit"), why);
        }
        for (word, text) in [("method", &check.method), ("pass", &check.pass), ("fail", &check.fail)] {
            if text.trim().is_empty() {
                let said =
                    "a check says how it is done, what passes, and what to do where it does not".to_owned();
                ctx.faults.warn(file, format!("{at}.{word}"), said);
            }
        }
        ctx.cat.checks.insert(id.clone(), (*check).clone());
    }
    cards_told(&cards, &used, ctx);
}

/// Takes in the cards: each says what it is about, how it is done and how one knows that it is, and something asks for it.
fn cards_told(cards: &Placed<'_, Card>, used: &BTreeSet<&str>, ctx: &mut Ctx) {
    for (id, (file, card)) in cards {
        let at = format!("cards.{id}");
        cautions(ctx, file, &at, &card.cautions);
        let texts =
            [("name", &card.name), ("when", &card.when), ("done", &card.done), ("manual", &card.manual)];
        let empty = texts.into_iter().find(|(_, text)| text.trim().is_empty()).map(|(word, _)| word);
        let said = "a card says its name, when it is wanted, its steps, how one knows that it is done, and what is left to \
                    the maker's manual";
        if let Some(word) = empty.or(card.steps.is_empty().then_some("steps")) {
            ctx.faults.warn(file, format!("{at}.{word}"), said.to_owned());
        }
        if !used.contains(id.as_str()) {
            let said = "no operation and no check names this card; name it there, or take it out".to_owned();
            ctx.faults.warn(file, at, said);
        }
        ctx.cat.cards.insert(id.clone(), (*card).clone());
    }
}

/// What the hours of operations are against those of a workshop, said once.
pub(super) fn first_time(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let mut first: Option<&str> = None;
    for (file, content) in files {
        let Some(said) = &content.first_time else { continue };
        let [least, most] = said.of_workshop;
        if let Some(first) = first {
            let message = format!(
                "what hours are against a workshop's stands in {first} already; say it once for all files"
            );
            ctx.faults.error(file, "first_time".to_owned(), message);
        } else if !(0.0 < least && least <= most && most <= MOST_TIMES) {
            let message = format!(
                "expected how many times a workshop's hours at least and at most, rising to {MOST_TIMES}, such as [1.5, 2.5], \
                 found {:?}",
                said.of_workshop
            );
            ctx.faults.error(file, "first_time.of_workshop".to_owned(), message);
        } else {
            if said.source.trim().is_empty() {
                let message = "this wants a source, such as \"common practice\"".to_owned();
                ctx.faults.warn(file, "first_time.source".to_owned(), message);
            }
            ctx.cat.first_time = Some(said.of_workshop);
        }
        first.get_or_insert(file);
    }
}

/// Weeks at least and at most, with a source.
fn weeks(ctx: &mut Ctx, file: &str, at: &str, weeks: Option<[f64; 2]>, sourced: bool) {
    let Some(weeks) = weeks else { return };
    if !in_weeks(weeks) {
        let said =
            format!("expected weeks at least and at most, rising to 520, such as [2, 4], found {weeks:?}");
        ctx.faults.error(file, format!("{at}.weeks"), said);
    } else if !sourced {
        let said = "weeks want a source, such as \"common practice\"".to_owned();
        ctx.faults.warn(file, format!("{at}.source"), said);
    }
}

/// Whether weeks can be meant so.
pub(super) fn in_weeks([least, most]: [f64; 2]) -> bool {
    0.0 <= least && least <= most && most <= MOST_WEEKS
}

fn classes(ctx: &mut Ctx, file: &str, at: &str, lists: [(&str, &Vec<String>); 2]) {
    for (word, list) in lists {
        for (i, class) in list.iter().enumerate() {
            ctx.class(class, file, format!("{at}.{word}[{i}]"));
        }
    }
}

fn cautions(ctx: &mut Ctx, file: &str, at: &str, list: &[String]) {
    for (i, id) in list.iter().enumerate() {
        if !ctx.cat.cautions.contains_key(id) {
            let near = nearest(id, ctx.cat.cautions.keys().map(String::as_str));
            let said = format!("there is no caution \"{id}\"{}", then(near, "add it or correct the word"));
            ctx.faults.error(file, format!("{at}.cautions[{i}]"), said);
        }
    }
}

fn known(ctx: &mut Ctx, ids: &BTreeSet<&str>, what: &str, file: &str, path: String, words: &[String]) {
    for word in words {
        if !ids.contains(word.as_str()) {
            let near = nearest(word, ids.iter().copied());
            let said = format!("there is no {what} \"{word}\"{}", then(near, "add it or correct the word"));
            ctx.faults.error(file, path.clone(), said);
        }
    }
}
