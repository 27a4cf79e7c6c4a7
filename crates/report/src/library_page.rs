//! A parts library as one page to read or print: what it has, how it joins, and by which rules. Nothing in it is fetched from
//! anywhere.

use knockon_core::catalogue::{
    Catalogue, ClassEntry, Id, OpeningEntry, PartEntry, PortEntry, PortTypeEntry, VehicleEntry,
};
use knockon_core::library::{Decided, FieldDef, Level, Role, Rule, Says, Want};
use knockon_core::made_with::MadeWith;
use knockon_core::seal;
use knockon_core::showing::{Measure, count, show};
use maud::{Markup, PreEscaped, html};

/// What the first line of a page says: a file that begins otherwise is none.
pub const FIRST_LINE: &str = "<!DOCTYPE html><!-- parts library -->";

const STYLE: &str = "
body { font: 15px/1.45 sans-serif; max-width: 62rem; margin: 2rem auto; padding: 0 1rem; color: #222; background: #fff; }
h1 { font-size: 1.7rem; margin-bottom: .2rem; } h2 { margin-top: 2.5rem; border-bottom: 2px solid #888; }
h3 { margin: 1.6rem 0 .3rem; font-size: 1.05rem; } p { margin: .3rem 0; }
table { border-collapse: collapse; width: 100%; margin: .4rem 0; } th, td { text-align: left; vertical-align: top; padding: .2rem .6rem .2rem 0; border-bottom: 1px solid #ddd; }
th { font-weight: 600; white-space: nowrap; } code, .id { font: .85em monospace; color: #555; }
.note { color: #555; } .danger { border-left: 4px solid #b33; padding-left: .6rem; } .num { text-align: right; white-space: nowrap; }
nav a { margin-right: 1rem; } a { color: #14539a; }
@media print { nav { display: none; } h2 { break-before: page; } tr, .part { break-inside: avoid; } }
";

/// A library as a page of HTML that stands by itself, its quantities as the reader wants them.
#[must_use]
pub fn library_page(catalogue: &Catalogue, measure: Measure) -> String {
    let page = Page { catalogue, measure };
    let named = |of: &MadeWith| format!("{} {}", of.name, of.version).trim().to_owned();
    let names: Vec<String> = catalogue.libraries.iter().map(named).collect();
    let title = if names.is_empty() { "Parts library".to_owned() } else { names.join(", ") };
    let sections: [(&str, &str, Markup); 7] = [
        ("vehicles", "Vehicles", page.vehicles()),
        ("parts", "Parts by class", page.classes()),
        ("joints", "How parts join", page.port_types()),
        ("needs", "What one part wants of others", page.needs()),
        ("limits", "Limits", page.limits()),
        ("openings", "While it is apart", page.openings()),
        ("cautions", "Cautions", page.cautions()),
    ];
    let body = html! {
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (title) }
                p {
                    (count(catalogue.parts.len(), "part", "parts")) ", "
                    (count(catalogue.port_types.len(), "kind of joint", "kinds of joint")) ", "
                    (count(catalogue.limits.len(), "limit", "limits")) ", "
                    (count(catalogue.vehicles.len(), "vehicle", "vehicles")) "."
                }
                p.danger {
                    "What stands here helps to plan. The vehicle maker's manual, local law and a licensed practice decide what is safe "
                    "and allowed on the road."
                }
                nav { @for (id, name, _) in &sections { a href={ "#" (id) } { (name) } } }
                @for (id, name, content) in &sections {
                    h2 id=(id) { (name) }
                    (content)
                }
            }
        }
    };
    format!("{FIRST_LINE}\n{}\n<!-- {} -->\n", body.into_string(), seal::PLACE)
}

struct Page<'a> {
    catalogue: &'a Catalogue,
    measure: Measure,
}

impl Page<'_> {
    fn shown(&self, text: &str) -> String {
        show(text, self.measure)
    }

    fn class(&self, class: Id<ClassEntry>) -> Markup {
        let name = self.catalogue.classes.get(class).map_or("", |c| c.name.as_str());
        let id = self.catalogue.class_names.id(class);
        html! { a href={ "#class-" (id) } { (name) } }
    }

    fn port_type(&self, port_type: Id<PortTypeEntry>) -> Markup {
        let name = self.catalogue.port_types.get(port_type).map_or("", |t| t.name.as_str());
        let id = self.catalogue.port_type_names.id(port_type);
        html! { a href={ "#joint-" (id) } { (name) } }
    }

    fn vehicles(&self) -> Markup {
        html! {
            @for (id, vehicle) in &self.catalogue.vehicles {
                h3 { (vehicle.name) " " span.id { (id) } }
                @if !vehicle.about.is_empty() { p { (vehicle.about) } }
                (self.vehicle(vehicle))
            }
        }
    }

    fn vehicle(&self, vehicle: &VehicleEntry) -> Markup {
        let system =
            |id: &str| self.catalogue.systems.iter().find(|(of, _)| of == id).map_or("", |(_, name)| name);
        html! {
            table {
                tr { th { "System" } th { "Place" } th { "Takes" } th { "As found" } }
                @for place in vehicle.positions.values() {
                    tr {
                        td { (system(&place.system)) }
                        td { (place.name) @if place.qty > 1 { " (" (place.qty) ")" } }
                        td { (self.class(place.class)) }
                        td { @match place.as_found.and_then(|part| self.catalogue.parts.get(part)) {
                            Some(part) => (part.part.name),
                            None => span.note { "empty" },
                        } }
                    }
                }
            }
        }
    }

    fn classes(&self) -> Markup {
        let mut classes: Vec<(Id<ClassEntry>, &ClassEntry)> = self.catalogue.classes.iter().collect();
        classes.sort_by_key(|(_, class)| class.name.to_lowercase());
        html! {
            @for (number, class) in classes {
                h3 id={ "class-" (self.catalogue.class_names.id(number)) } {
                    (class.name) " " span.id { (self.catalogue.class_names.id(number)) }
                }
                p.note { (who_decides(class)) }
                @for part in &self.catalogue.by_class[number] {
                    @if let Some(entry) = self.catalogue.parts.get(*part) {
                        (self.part(self.catalogue.part_names.id(*part), entry))
                    }
                }
            }
        }
    }

    fn part(&self, id: &str, entry: &PartEntry) -> Markup {
        let part = &entry.part;
        let needs: Vec<(String, Level)> = entry
            .needs
            .iter()
            .filter_map(|(need, value, level)| {
                let name = &self.catalogue.needs.get(*need)?.name;
                Some((with(name, value.as_ref().map(|v| self.shown(&v.text()))), *level))
            })
            .collect();
        let of_level = |level: Level| -> Vec<&str> {
            needs.iter().filter(|(_, of)| *of == level).map(|(name, _)| name.as_str()).collect()
        };
        let offers: Vec<String> = entry
            .offers
            .iter()
            .filter_map(|(need, value)| {
                let name = &self.catalogue.needs.get(*need)?.name;
                Some(with(name, value.as_ref().map(|v| self.shown(&v.text()))))
            })
            .collect();
        let figures: Vec<String> = entry
            .figures
            .iter()
            .filter_map(|(figure, value)| {
                let (name, ..) = self.catalogue.figures.get(*figure)?;
                Some(format!("{name} {}", self.shown(&value.text())))
            })
            .collect();
        let contents: Vec<String> = entry
            .contents
            .iter()
            .filter_map(|content| {
                let name = &self.catalogue.parts.get(content.part)?.part.name;
                Some(if content.qty > 1 { format!("{} of {name}", content.qty) } else { name.clone() })
            })
            .collect();
        let mut rows: Vec<(&str, String)> = vec![
            ("Needs", of_level(Level::Required).join("; ")),
            ("Better with", of_level(Level::Advised).join("; ")),
            ("Supplies", offers.join("; ")),
            ("Figures", figures.join("; ")),
            ("In the box", contents.join("; ")),
            ("Not in the box", part.not_in_box.join("; ")),
            ("Undone", part.undone.clone()),
            ("Taken off", part.leaves.clone()),
            ("Note", part.note.clone()),
        ];
        rows.retain(|(_, text)| !text.is_empty());
        html! {
            div.part id={ "part-" (id) } {
                p { strong { (part.name) } " " span.id { (id) } }
                p.note {
                    @match &part.price { Some(price) => (price), None => "no price is known" }
                    @if let Some(hours) = part.hours { ", " (hours) " h to fit" }
                    @if !part.supplier.is_empty() { ", " (part.supplier) }
                    @if part.safety { ", people depend on it" }
                }
                table {
                    @for port in &entry.ports { tr { th { (self.catalogue.port_names.id(port.name_ix)) } td { (self.port(port)) } } }
                    @for (name, text) in rows { tr { th { (name) } td { (self.shown(&text)) } } }
                    @if !part.cautions.is_empty() {
                        tr { th { "Cautions" } td { @for id in &part.cautions { a href={ "#caution-" (id) } { (id) } " " } } }
                    }
                }
            }
        }
    }

    fn port(&self, port: &PortEntry) -> Markup {
        let fields = self.catalogue.port_types.get(port.port_type).map_or(&[][..], |t| &t.fields);
        let values: Vec<String> = fields
            .iter()
            .zip(port.values.iter())
            .filter_map(|((_, field, ..), value)| {
                Some(format!("{} {}", field.name, self.shown(&value.as_ref()?.text())))
            })
            .collect();
        let role = match port.role {
            Role::Plain => "",
            Role::Give => ", gives",
            Role::Take => ", takes",
        };
        html! { (self.port_type(port.port_type)) (role) @if !values.is_empty() { ": " (values.join(", ")) } }
    }

    fn port_types(&self) -> Markup {
        html! {
            @for (number, port_type) in self.catalogue.port_types.iter() {
                h3 id={ "joint-" (self.catalogue.port_type_names.id(number)) } {
                    (port_type.name) " " span.id { (self.catalogue.port_type_names.id(number)) }
                }
                table {
                    @for (_, field, kind, _) in &port_type.fields {
                        tr {
                            th { (field.name) }
                            td { (kind.word()) ", " (self.rule(field)) @if field.optional { ", where it is stated" } }
                            td { (what_happens(field)) }
                        }
                    }
                }
                (self.wants("Opened, it wants", &port_type.opened))
            }
        }
    }

    fn rule(&self, field: &FieldDef) -> String {
        let words = || field.words.iter().map(|list| list.join(" and ")).collect::<Vec<_>>().join("; ");
        match field.rule {
            Rule::Equal => match &field.within {
                Some(within) => format!("the same within {}", self.shown(within)),
                None => "the same".to_owned(),
            },
            Rule::Mates => format!("opposites: {}", words()),
            Rule::Class if field.words.is_empty() => "the same word".to_owned(),
            Rule::Class => format!("the same word, or together: {}", words()),
            Rule::Inside => "what is given lies inside what is taken".to_owned(),
            Rule::AtLeast => "at least what is wanted".to_owned(),
            Rule::AtMost => "at most what is wanted".to_owned(),
            Rule::Told => "told, never compared".to_owned(),
        }
    }

    fn wants(&self, heading: &str, wants: &[(Id<ClassEntry>, Want)]) -> Markup {
        html! {
            @if !wants.is_empty() {
                p { (heading) ":" }
                ul {
                    @for (class, want) in wants {
                        li {
                            @if want.qty > 1 { (want.qty) " of " }
                            (self.class(*class))
                            @if want.level == Level::Advised { " (wise)" }
                            @if !want.why.is_empty() { ": " (self.shown(&want.why)) }
                        }
                    }
                }
            }
        }
    }

    fn needs(&self) -> Markup {
        html! {
            table {
                @for (number, need) in self.catalogue.needs.iter() {
                    tr {
                        th { (need.name) }
                        td { (self.shown(&need.why)) }
                        td {
                            @for part in self.catalogue.offered_by.get(number).into_iter().flatten() {
                                @if let Some(entry) = self.catalogue.parts.get(*part) {
                                    a href={ "#part-" (self.catalogue.part_names.id(*part)) } { (entry.part.name) }
                                    br;
                                }
                            }
                        }
                    }
                }
            }
        }
    }

    fn limits(&self) -> Markup {
        html! {
            @for limit in self.catalogue.limits.values() {
                h3 id={ "limit-" (limit.id) } { (limit.def.name) " " span.id { (limit.id) } }
                p { (self.shown(&limit.def.why)) @if limit.def.safety { " " strong { "People depend on it." } } }
                p.note { "Worked out by " code { (limit.def.calc) } ". Source: " (limit.def.source) }
            }
        }
    }

    fn openings(&self) -> Markup {
        html! {
            @for OpeningEntry { name, classes, wants, .. } in self.catalogue.openings.values() {
                h3 { (name) }
                p.note { "opened by work at: " @for place in classes { (self.class(place.class)) " " } }
                (self.wants("Then wanted", wants))
            }
        }
    }

    fn cautions(&self) -> Markup {
        html! {
            @for (id, caution) in &self.catalogue.cautions {
                div.danger id={ "caution-" (id) } {
                    p { strong { (self.shown(&caution.danger)) } }
                    p { (self.shown(&caution.guard)) }
                }
                br;
            }
        }
    }
}

/// A name, and its value behind it where it has one.
fn with(name: &str, value: Option<String>) -> String {
    value.map_or_else(|| name.to_owned(), |value| format!("{name}, {value}"))
}

fn who_decides(class: &ClassEntry) -> &'static str {
    match (class.service, class.decided, class.free) {
        (true, ..) => "Work that leaves no part on the vehicle.",
        (_, Some(Decided::Owner), _) => "What sits in its place is yours to decide.",
        (.., true) => "Used loose where the vehicle has no place for it; what it joins settles which.",
        (_, Some(Decided::Follows), _) => "What it joins settles which.",
        _ => "No vehicle has a place for it.",
    }
}

/// What happens where two values do not agree, without the values.
fn what_happens(field: &FieldDef) -> String {
    let lead = |text: &str| {
        let lead = text.split(": ").next().unwrap_or_default();
        lead.replace("{one}", "one end").replace("{other}", "the other").replace(['{', '}'], "")
    };
    match &field.says {
        Some(Says::Always(text)) => lead(text),
        Some(Says::By(by)) => by.values().map(|text| lead(text)).collect::<Vec<_>>().join("; "),
        None => field.why.clone(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn page() -> String {
        let loaded = knockon_store::libraries::usable(&knockon_store::libraries::Wanted::default()).unwrap();
        library_page(&loaded.catalogue, Measure::Metric)
    }

    /// Every link leads to something on the page, and nothing is fetched.
    #[test]
    fn the_page_stands_by_itself() {
        let page = page();
        let after = |mark: &str| -> BTreeSet<String> {
            page.split(mark).skip(1).filter_map(|rest| Some(rest.split('"').next()?.to_owned())).collect()
        };
        let (links, ids) = (after("href=\"#"), after(" id=\""));
        assert!(
            links.len() > 100 && links.is_subset(&ids),
            "{:?}",
            links.difference(&ids).collect::<Vec<_>>()
        );
        assert!(!page.contains("http") && !page.contains("src=") && !page.contains("<script"));
        assert!(page.starts_with(FIRST_LINE));
    }

    /// What a library says is text and never a mark of the page.
    #[test]
    fn a_name_cannot_write_the_page() {
        let file = serde_json::from_value(serde_json::json!({
            "format": 1,
            "classes": {"hose": {"name": "<script>x</script>", "free": true}},
        }))
        .unwrap();
        let (catalogue, _) = Catalogue::new(vec![("a.json".to_owned(), file)]);
        let page = library_page(&catalogue, Measure::Metric);
        assert!(!page.contains("<script>") && page.contains("&lt;script&gt;"));
    }
}
