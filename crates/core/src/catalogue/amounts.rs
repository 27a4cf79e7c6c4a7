//! Money, hours, counts, names and ids that resolve and cannot be meant so.

use std::collections::BTreeMap;

use super::build::Ctx;
use super::work::in_weeks;
use crate::library::{LibraryFile, Part, Want, Work};
use crate::meant::then;
use crate::money::Money;
use crate::quantity::Quantity;

/// More own hours than this for one part are a slip of the keyboard.
const MOST_HOURS: f64 = 1000.0;

pub(super) fn amounts(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let currencies = currencies(files);
    for (file, content) in files {
        let mut at = At { file, ctx, currencies: &currencies };
        for (id, part) in &content.parts {
            at.part(id, part);
        }
        at.names(content);
        at.ids(content);
        for (id, opening) in &content.openings {
            at.wants(&opening.wants, &format!("openings.{id}.wants"));
        }
        for (id, port_type) in &content.port_types {
            at.wants(&port_type.opened, &format!("port_types.{id}.opened"));
        }
        for (id, vehicle) in &content.vehicles {
            let path = format!("vehicles.{id}");
            for (pid, position) in &vehicle.positions {
                at.some(position.qty, &format!("{path}.positions.{pid}.qty"));
            }
            for (jid, joint) in &vehicle.joints {
                at.some(joint.qty, &format!("{path}.joints.{jid}.qty"));
            }
            for (cid, circuit) in &vehicle.circuits {
                at.holds(&circuit.capacity, &format!("{path}.circuits.{cid}.capacity"));
            }
        }
    }
    for (file, id) in files.iter().flat_map(|(file, f)| f.classes.keys().map(move |id| (file, id))) {
        if ctx.cat.part_names.get(id).is_some() {
            let message =
                format!("\"{id}\" is the id of a part too, and a part never names another; rename the part");
            ctx.faults.error(file, format!("classes.{id}"), message);
        }
    }
}

fn prices(part: &Part) -> impl Iterator<Item = (&'static str, &Money)> {
    let work = [("clean.price", part.clean.as_ref()), ("rebuild.price", part.rebuild.as_ref())];
    let work = work.into_iter().filter_map(|(word, work)| Some((word, work?.price.as_ref()?)));
    part.price.iter().map(|price| ("price", price)).chain(work)
}

/// How often each currency stands in the library.
fn currencies(files: &[(String, LibraryFile)]) -> BTreeMap<&str, usize> {
    let mut out = BTreeMap::new();
    for part in files.iter().flat_map(|(_, f)| f.parts.values()) {
        for (_, money) in prices(part) {
            *out.entry(money.currency.as_str()).or_default() += 1;
        }
    }
    out
}

/// The file looked at.
struct At<'a> {
    file: &'a str,
    ctx: &'a mut Ctx,
    currencies: &'a BTreeMap<&'a str, usize>,
}

impl At<'_> {
    fn error(&mut self, path: String, message: String) {
        self.ctx.faults.error(self.file, path, message);
    }

    fn part(&mut self, id: &str, part: &Part) {
        let path = format!("parts.{id}");
        for (word, money) in prices(part) {
            let here = format!("{path}.{word}");
            if money.amount.is_sign_negative() && !money.amount.is_zero() {
                self.error(here, format!("expected a price of 0 or more, found \"{money}\""));
            } else if self.currencies.len() > 1 && self.currencies.get(money.currency.as_str()) == Some(&1) {
                let own = money.currency.as_str();
                // of three letters two are enough to be meant
                let mut others = self.currencies.keys().copied().filter(|c| *c != own);
                let near = others.find(|other| strsim::osa_distance(own, other) == 1);
                let rest = match near {
                    Some(_) => then(near, ""),
                    None => then(None, "use one that other prices of the library have"),
                };
                let message = format!("the currency {own} stands only here{rest}");
                self.ctx.faults.warn(self.file, here, message);
            }
        }
        let work = |w: &Option<Work>| w.as_ref().and_then(|w| w.hours);
        for (word, hours) in [
            ("hours", part.hours),
            ("clean.hours", work(&part.clean)),
            ("rebuild.hours", work(&part.rebuild)),
        ] {
            let Some(hours) = hours.filter(|h| !(0.0..=MOST_HOURS).contains(h)) else { continue };
            let message = format!("expected hours from 0 to {MOST_HOURS}, found {hours:?}");
            self.error(format!("{path}.{word}"), message);
        }
        if let Some(weeks) = part.weeks.filter(|weeks| !in_weeks(*weeks)) {
            let message = format!(
                "expected weeks at least and at most, rising to 520, such as [2, 4], found {weeks:?}"
            );
            self.error(format!("{path}.weeks"), message);
        }
        for (i, content) in part.contents.iter().enumerate() {
            self.some(content.qty, &format!("{path}.contents[{i}].qty"));
        }
        for (circuit, amount) in &part.holds {
            self.holds(amount, &format!("{path}.holds.{circuit}"));
        }
    }

    /// How many of a thing there are: one or more.
    fn some(&mut self, qty: u32, path: &str) {
        if qty == 0 {
            self.error(path.to_owned(), "expected how many, 1 or more, found 0".to_owned());
        }
    }

    fn wants(&mut self, wants: &[Want], path: &str) {
        for (i, want) in wants.iter().enumerate() {
            self.some(want.qty, &format!("{path}[{i}].qty"));
        }
    }

    /// What holds a fluid holds some.
    fn holds(&mut self, amount: &str, path: &str) {
        // what cannot be read is told where it is read
        if Quantity::parse(amount).is_ok_and(|q| q.si < 0.0) {
            self.error(path.to_owned(), format!("expected a volume of 0 or more, found \"{amount}\""));
        }
    }

    fn names(&mut self, content: &LibraryFile) {
        let mut empty: Vec<String> = Vec::new();
        let mut look = |path: String, name: &str| {
            if name.trim().is_empty() {
                empty.push(path);
            }
        };
        macro_rules! tables {
            ($($table:ident),*) => {
                $(for (id, entry) in &content.$table {
                    look(format!("{}.{id}", stringify!($table)), &entry.name);
                })*
            };
        }
        tables!(
            systems,
            classes,
            figures,
            needs,
            pools,
            port_types,
            limits,
            openings,
            operations,
            checks,
            cards,
            inspections,
            zones,
            aims,
            parts
        );
        for (id, port_type) in &content.port_types {
            for (field, def) in &port_type.fields {
                look(format!("port_types.{id}.fields.{field}"), &def.name);
            }
        }
        for (id, vehicle) in &content.vehicles {
            let path = format!("vehicles.{id}");
            vehicle.positions.iter().for_each(|(p, x)| look(format!("{path}.positions.{p}"), &x.name));
            vehicle.joints.iter().for_each(|(j, x)| look(format!("{path}.joints.{j}"), &x.name));
            vehicle.circuits.iter().for_each(|(c, x)| look(format!("{path}.circuits.{c}"), &x.name));
            // other files may hold further pieces of it; one of them names it
            if self.ctx.cat.vehicles.get(id).is_some_and(|v| v.name.trim().is_empty()) {
                look(path, "");
            }
        }
        for path in empty {
            self.error(format!("{path}.name"), "expected a name as it is shown, found nothing".to_owned());
        }
    }

    fn ids(&mut self, content: &LibraryFile) {
        let mut wrong: Vec<(String, &str)> = Vec::new();
        macro_rules! tables {
            ($($table:ident),*) => {
                $(for id in content.$table.keys().filter(|id| !words(id)) {
                    wrong.push((format!("{}.{id}", stringify!($table)), id));
                })*
            };
        }
        tables!(
            systems,
            classes,
            figures,
            needs,
            pools,
            limits,
            openings,
            cautions,
            operations,
            checks,
            cards,
            inspections,
            zones,
            stages,
            aims,
            parts,
            vehicles,
            drawings
        );
        for (vehicle, v) in &content.vehicles {
            let ids = [
                ("positions", v.positions.keys().collect::<Vec<_>>()),
                ("joints", v.joints.keys().collect()),
                ("circuits", v.circuits.keys().collect()),
            ];
            for (table, ids) in ids {
                for id in ids.into_iter().filter(|id| !words(id)) {
                    wrong.push((format!("vehicles.{vehicle}.{table}.{id}"), id));
                }
            }
        }
        for (path, id) in wrong {
            let message = format!(
                "expected an id of lower-case words with hyphens, such as \"pressure-cap\", found \"{id}\""
            );
            self.ctx.faults.warn(self.file, path, message);
        }
        for id in content.port_types.keys() {
            if !id.split_once('.').is_some_and(|(group, word)| words(group) && words(word)) {
                let message = format!(
                    "expected an id of two parts with a dot, such as \"cool.cap-neck\", found \"{id}\""
                );
                self.ctx.faults.warn(self.file, format!("port_types.{id}"), message);
            }
        }
    }
}

/// Lower-case words and numbers with hyphens between them.
fn words(id: &str) -> bool {
    id.split('-')
        .all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit()))
}
