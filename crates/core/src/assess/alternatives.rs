//! What else would serve where a companion is proposed, and what a part's ports say: asked for one thing at a time.

use super::bench::{Bench, Comp, Key};
use super::fills::Must;
use super::ground::Ground;
use super::specs::is_number;
use super::spent::Item;
use crate::assessment::{Alternative, PortRow};
use crate::catalogue::{Catalogue, PartId};
use crate::key::CompanionKey;
use crate::sheet::Sheet;
use crate::sources::{Spec, SpecTable};
use crate::value::Kind;

/// More are no help to a reader.
const MOST: usize = 12;

/// Others that would serve for a companion of a plan, by its key; cheapest first, at most twelve. Empty where plan,
/// vehicle or key are not known.
#[must_use]
pub fn alternatives(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    key: &CompanionKey,
) -> Vec<Alternative> {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(entry) = sheet.plans.get(plan) else { return Vec::new() };
    let Ok(ground) = Ground::new(sheet, entry, &catalogue) else { return Vec::new() };
    let mut bench = Bench::new(&ground, false);
    bench.decide();
    let number = ground.numbered(key);
    let Some(comp) = bench.all_comps().into_iter().find(|c| Some(c.key) == number) else {
        return Vec::new();
    };
    others(&bench, &comp)
        .into_iter()
        .filter(|p| *p != comp.part)
        .take(MOST)
        .map(|p| Alternative {
            part: bench.cat.part_names.id(p).to_owned(),
            name: bench.name(p),
            price: ground.price_that_counts(Item::part(p)).cloned(),
        })
        .collect()
}

fn others(bench: &Bench<'_>, comp: &Comp) -> Vec<PartId> {
    match comp.key {
        Key::Fill(pos) => bench
            .candidates(pos, Must::Fit, usize::MAX)
            .into_iter()
            .filter(|(marks, _)| *marks == 0)
            .map(|(_, part)| part)
            .collect(),
        Key::Bridge(joint, _) => match bench.met_now(joint).ports.as_slice() {
            [a, b] => bench.other_bridges(a.1, b.1).into_iter().map(|link| link.part).collect(),
            _ => Vec::new(),
        },
        Key::Need(_, asker, need) => {
            let wanted = bench.wanted_of(asker, need);
            bench.cat.offered_by[need]
                .iter()
                .copied()
                .filter(|p| {
                    bench.part(*p).class == bench.part(comp.part).class && bench.offers_it(*p, need, wanted)
                })
                .collect()
        }
        _ => Vec::new(),
    }
}

/// The ports of a part, field by field; empty where the library does not know it.
#[must_use]
pub fn ports(catalogue: &Catalogue, part: &str) -> Vec<PortRow> {
    let Some(entry) = catalogue.part(part) else { return Vec::new() };
    let mut out = Vec::new();
    for port in &entry.ports {
        let Some(ty) = catalogue.port_types.get(port.port_type) else { continue };
        let at = catalogue.port_names.id(port.name_ix);
        for ((id, def, kind, _), value) in ty.fields.iter().zip(port.values.iter()) {
            let Some(value) = value else { continue };
            let spec = || {
                let path = format!("ports.{at}.fields.{id}");
                Spec::new(SpecTable::Parts, part, path, value.text())
            };
            let source =
                if *kind != Kind::Word && is_number(value) { catalogue.source(&spec()) } else { None };
            out.push(PortRow {
                port: at.replace('-', " "),
                kind: ty.name.clone(),
                field: def.name.clone(),
                value: value.text(),
                source: source.map_or_else(String::new, |source| source.to_string()),
            });
        }
    }
    out
}

#[cfg(test)]
mod tests;
