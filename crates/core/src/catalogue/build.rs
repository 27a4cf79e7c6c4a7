//! Turns the files of a library into a [`Catalogue`]; what does not resolve is a fault and is left out.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use serde_json::Value as Json;

use super::aims::aims;
use super::bits::Bits;
use super::check::{Faults, Missing};
use super::drawings::drawings;
use super::measured::AtPorts;
use super::parts::parts;
use super::rules::rules;
use super::survey::survey;
use super::vehicles::vehicles;
use super::work::{first_time, work};
use super::{
    Catalogue, ClassEntry, ClassId, ClassPlaces, Fault, FigureId, Id, Names, NeedId, PoolEntry, PoolId,
    PortTypeEntry, SpecId, amounts, below_zero, classes, dated, lint_places, lints, slips, sourced, unsaid,
    unused, values,
};
use crate::date::Dated;
use crate::key::FactKey;
use crate::library::{ClassAt, FieldDef, LibraryFile, Rule, Table, Want};
use crate::meant::{nearest, then};
use crate::mismatch;
use crate::value::{Kind, Value};

/// An entry with the file it stands in.
pub(super) type Placed<'a, T> = BTreeMap<String, (&'a str, &'a T)>;

pub(super) fn gather<'a, T>(
    files: &'a [(String, LibraryFile)],
    section: &str,
    of: impl Fn(&'a LibraryFile) -> &'a Table<T>,
    faults: &mut Faults,
) -> Placed<'a, T> {
    let mut all: Placed<'a, T> = BTreeMap::new();
    for (file, content) in files {
        for (id, entry) in of(content) {
            if let Some((first, _)) = all.get(id) {
                faults.error(
                    file,
                    format!("{section}.{id}"),
                    format!("the id \"{id}\" stands in {first} already; give one of them another id"),
                );
                continue;
            }
            all.insert(id.clone(), (file, entry));
        }
    }
    all
}

/// The number of a port spec and its values.
type Spec = (SpecId, Arc<[Option<Value>]>);

/// What is looked up by its id, and the table it stands in.
const TABLES: [(&str, &str); 6] = [
    ("class", "classes"),
    ("figure", "figures"),
    ("need", "needs"),
    ("part", "parts"),
    ("pool", "pools"),
    ("port type", "port_types"),
];

/// Behind so many faults nobody is asked any more what may be meant.
const MOST_ASKED: usize = 500;

/// What has been built so far.
pub(super) struct Ctx {
    pub faults: Faults,
    pub cat: Catalogue,
    /// Numbers of port specs by their words, and their values.
    pub specs: HashMap<String, Spec>,
    /// Figures, and fields of port types, whose definition has a fault: what is written for them cannot be judged.
    pub unread: HashSet<String>,
    /// Parts some vehicle came with: they need no price.
    pub found: HashSet<String>,
    /// When the prices of each file were looked up, by its place among the files.
    pub priced: Vec<Option<Arc<Dated>>>,
}

impl Ctx {
    pub fn look<T>(
        &mut self,
        what: &str,
        names: fn(&Catalogue) -> &Names<T>,
        id: &str,
        file: &str,
        path: String,
    ) -> Option<Id<T>> {
        let found = names(&self.cat).get(id);
        if found.is_none() {
            // a library that is wrong all over is not searched all over for each of its words
            let words = names(&self.cat).ids.values().filter(|_| self.faults.list.len() < MOST_ASKED);
            let near = nearest(id, words.map(String::as_str)).map(str::to_owned);
            let way_out = then(near.as_deref(), "add it or correct the word");
            let table = TABLES.iter().find(|(of, _)| *of == what);
            if let (Some(near), Some((_, table))) = (near, table) {
                let fault = self.faults.list.len();
                self.faults.missing.push(Missing { table, id: id.to_owned(), near, fault });
            }
            self.faults.error(file, path, format!("there is no {what} \"{id}\"{way_out}"));
        }
        found
    }

    pub fn class(&mut self, id: &str, file: &str, path: String) -> Option<ClassId> {
        self.look("class", |c| &c.class_names, id, file, path)
    }

    pub fn kind(&mut self, word: &str, file: &str, path: String) -> Option<Kind> {
        let kind = Kind::from_word(word);
        if kind.is_none() {
            let present = path.starts_with("needs.").then_some("present");
            let known: Vec<&str> = Kind::words().chain(present).collect();
            let near = nearest(word, known.iter().copied());
            let list = then(near, &format!("expected one of {}", known.join(", ")));
            self.faults.error(file, path, format!("\"{word}\" is no kind of value{list}"));
        }
        kind
    }

    pub fn value(&mut self, json: &Json, kind: Kind, file: &str, path: String) -> Option<Value> {
        match Value::read(json, kind) {
            Ok(value) => Some(value),
            Err(message) => {
                self.faults.error(file, path, message);
                None
            }
        }
    }

    /// The same of something that is there: less than nothing of it cannot be.
    pub fn amount(&mut self, json: &Json, kind: Kind, file: &str, path: String) -> Option<Value> {
        let value = self.value(json, kind, file, path.clone())?;
        if let (Value::Quantity(q), Kind::Dimension(dimension)) = (&value, kind)
            && q.si < 0.0
            && !dimension.has_sides()
        {
            let message = format!("expected 0 or more, found the {} \"{}\"", dimension.word(), q.text);
            self.faults.error(file, path, message);
            return None;
        }
        Some(value)
    }

    pub fn need_value(
        &mut self,
        need: NeedId,
        text: &str,
        file: &str,
        path: String,
    ) -> Option<Option<Value>> {
        let kind_word = self.cat.needs.get(need).map(|n| n.kind.clone()).unwrap_or_default();
        if text == "present" {
            return Some(None);
        }
        if kind_word == "present" {
            let message =
                format!("having this need met is all it asks: expected \"present\", found \"{text}\"");
            self.faults.error(file, path, message);
            return None;
        }
        let kind = Kind::from_word(&kind_word)?;
        self.amount(&Json::String(text.to_owned()), kind, file, path).map(Some)
    }

    pub fn pool_list(&mut self, table: &Table<String>, file: &str, path: &str) -> Vec<(PoolId, Value)> {
        let mut out = Vec::new();
        for (id, text) in table {
            let here = format!("{path}.{id}");
            let Some(pool) = self.look("pool", |c| &c.pool_names, id, file, here.clone()) else { continue };
            let Some(kind) = self.cat.pools.get(pool).and_then(|p| Kind::from_word(&p.def.kind)) else {
                continue;
            };
            if let Some(value) = self.amount(&Json::String(text.clone()), kind, file, here) {
                out.push((pool, value));
            }
        }
        out
    }

    pub fn offer_list(
        &mut self,
        table: &Table<String>,
        file: &str,
        path: &str,
    ) -> Vec<(NeedId, Option<Value>)> {
        let mut out = Vec::new();
        for (id, text) in table {
            let here = format!("{path}.{id}");
            let Some(need) = self.look("need", |c| &c.need_names, id, file, here.clone()) else { continue };
            if let Some(value) = self.need_value(need, text, file, here) {
                out.push((need, value));
            }
        }
        out
    }

    /// The places of a class.
    pub fn class_places(&mut self, said: &ClassAt, file: &str, path: String) -> Option<ClassPlaces> {
        let class = self.class(&said.class, file, path)?;
        Some(ClassPlaces { class, whereabouts: said.whereabouts.clone() })
    }

    /// Values by figure id.
    pub fn figure_list(&mut self, table: &Table<Json>, file: &str, path: &str) -> Vec<(FigureId, Value)> {
        let mut out = Vec::new();
        for (figure, json) in table {
            let here = format!("{path}.{figure}");
            let Some(ix) = self.look("figure", |c| &c.figure_names, figure, file, here.clone()) else {
                continue;
            };
            if self.unread.contains(&format!("figures.{figure}")) {
                continue;
            }
            let kind = self.cat.figures.get(ix).map_or(Kind::Word, |f| f.1);
            out.extend(self.value(json, kind, file, here).map(|value| (ix, value)));
        }
        out
    }

    pub fn wants(&mut self, wants: &[Want], file: &str, path: &str) -> Vec<(ClassId, Want)> {
        let mut out = Vec::new();
        for (i, want) in wants.iter().enumerate() {
            if let Some(class) = self.class(&want.class, file, format!("{path}[{i}].class")) {
                out.push((class, want.clone()));
            }
        }
        out
    }
}

/// With values that a sheet has measured at ports of parts. `lint`: what resolves is looked through for what is hardly
/// meant; the author of a library wants to hear it, and whoever lays a sheet over it does not.
pub(super) fn build(
    files: Vec<(String, LibraryFile)>,
    measured: AtPorts,
    lint: bool,
) -> (Catalogue, Vec<Fault>) {
    let found = files
        .iter()
        .flat_map(|(_, f)| f.vehicles.values())
        .flat_map(|v| v.positions.values())
        .filter_map(|p| p.as_found.clone())
        .collect();
    let mut ctx = Ctx {
        faults: Faults::default(),
        cat: Catalogue { measured, ..Catalogue::default() },
        specs: HashMap::new(),
        unread: HashSet::new(),
        found,
        priced: Vec::new(),
    };
    ctx.priced = dated::prices(&files, &mut ctx);
    vocabulary(&files, &mut ctx);
    port_types(&files, &mut ctx);
    port_names(&files, &mut ctx.cat);
    parts(&files, &mut ctx);
    rules(&files, &mut ctx);
    work(&files, &mut ctx);
    first_time(&files, &mut ctx);
    survey(&files, &mut ctx);
    aims(&files, &mut ctx);
    vehicles(&files, &mut ctx);
    drawings(&files, &mut ctx);
    classes::classes(&files, &mut ctx);
    amounts::amounts(&files, &mut ctx);
    // of words that are not there yet nothing can be said as a whole
    if lint && ctx.faults.list.iter().all(|fault| fault.warning) {
        lints::lints(&files, &mut ctx);
        lint_places::lints(&files, &mut ctx);
        values::values(&files, &mut ctx);
        unused::unused(&files, &mut ctx);
        unsaid::unsaid(&files, &mut ctx);
        sourced::sourced(&files, &mut ctx);
        below_zero::below_zero(&files, &mut ctx);
    }
    slips::at_their_cause(&files, &mut ctx.faults);
    ctx.cat.files = files;
    let mut faults = ctx.faults.list;
    faults.sort();
    (ctx.cat, faults)
}

fn vocabulary(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let classes = gather(files, "classes", |f| &f.classes, &mut ctx.faults);
    ctx.cat.class_names = Names::new(classes.keys());
    ctx.cat.classes = classes.values().map(|(_, c)| ClassEntry::new(c)).collect();
    ctx.cat.lasts = classes.iter().map(|(id, (file, c))| ctx.lasts(id, c, file)).collect();
    let services = ctx.cat.classes.iter().filter(|(_, c)| c.service).map(|(class, _)| class);
    ctx.cat.services = Bits::of(classes.len(), services);
    let figures = gather(files, "figures", |f| &f.figures, &mut ctx.faults);
    ctx.cat.figure_names = Names::new(figures.keys());
    for (id, (file, def)) in &figures {
        if (FactKey::Vehicle { figure: id.clone() }).to_string() != *id {
            let text =
                "an id of a figure has no dot, no @ and no %: they tell the keys of measured values apart";
            ctx.faults.error(file, format!("figures.{id}"), text.to_owned());
        }
        let kind = ctx.kind(&def.kind, file, format!("figures.{id}.kind")).unwrap_or_else(|| {
            ctx.unread.insert(format!("figures.{id}"));
            Kind::Word
        });
        ctx.cat.figures.push((def.name.clone(), kind, def.measure.clone()));
    }
    let needs = gather(files, "needs", |f| &f.needs, &mut ctx.faults);
    ctx.cat.need_names = Names::new(needs.keys());
    for (id, (file, def)) in &needs {
        if def.kind != "present" {
            ctx.kind(&def.kind, file, format!("needs.{id}.kind"));
        }
        ctx.cat.needs.push((*def).clone());
    }
    let pools = gather(files, "pools", |f| &f.pools, &mut ctx.faults);
    ctx.cat.pool_names = Names::new(pools.keys());
    for (id, (file, def)) in &pools {
        let kind = ctx.kind(&def.kind, file, format!("pools.{id}.kind"));
        let margin = match (&def.margin, kind) {
            (Some(text), Some(kind)) => ctx
                .value(&Json::String(text.clone()), kind, file, format!("pools.{id}.margin"))
                .and_then(|v| v.bounds())
                .map_or(0.0, |b| b.1),
            _ => 0.0,
        };
        let close = def.close.as_ref().zip(kind).and_then(|(text, kind)| {
            let path = format!("pools.{id}.close");
            ctx.value(&Json::String(text.clone()), kind, file, path).and_then(|v| v.bounds()).map(|b| b.1)
        });
        ctx.cat.pools.push(PoolEntry { def: (*def).clone(), margin, close });
    }
    ctx.cat.cautions = gather(files, "cautions", |f| &f.cautions, &mut ctx.faults)
        .into_iter()
        .map(|(id, (_, c))| (id, c.clone()))
        .collect();
    let mut systems: Vec<_> = gather(files, "systems", |f| &f.systems, &mut ctx.faults).into_iter().collect();
    systems.sort_by(|a, b| (a.1.1.order, &a.0).cmp(&(b.1.1.order, &b.0)));
    ctx.cat.system_stages = systems.iter().map(|(id, (_, s))| (id.clone(), s.stage)).collect();
    ctx.cat.systems = systems.into_iter().map(|(id, (_, s))| (id, s.name.clone())).collect();
}

/// Whether a rule can compare what a field holds, and whether all that is said of the field counts.
fn rule_of_kind(ctx: &mut Ctx, def: &FieldDef, kind: Kind, file: &str, path: &str) {
    let is_quantity = matches!(kind, Kind::Dimension(_));
    let (rule, wanted) = match def.rule {
        Rule::AtLeast => ("at-least", "a quantity"),
        Rule::AtMost => ("at-most", "a quantity"),
        Rule::Inside => ("inside", "a quantity"),
        Rule::Mates => ("mates", "a word"),
        Rule::Class => ("class", "a word"),
        Rule::Equal => ("equal", ""),
        Rule::Told => ("told", ""),
    };
    let fits = match wanted {
        "a quantity" => is_quantity,
        "a word" => kind == Kind::Word,
        _ => true,
    };
    if !fits {
        let message = format!(
            "\"{rule}\" compares {wanted}, and this field is of the kind \"{}\"; where both must be the same write \"equal\"",
            def.kind
        );
        ctx.faults.error(file, format!("{path}.rule"), message);
    }
    if def.within.is_some() && !(def.rule == Rule::Equal && is_quantity) {
        let message = "\"within\" is the difference that \"equal\" allows between quantities, and counts nowhere else; take it out";
        ctx.faults.error(file, format!("{path}.within"), message.to_owned());
    }
    if !def.words.is_empty() && !matches!(def.rule, Rule::Mates | Rule::Class) {
        let message = format!(
            "\"words\" are for the rules \"mates\" and \"class\"; with \"{rule}\" they count nothing"
        );
        ctx.faults.error(file, format!("{path}.words"), message);
    }
}

/// Port names of all parts and joints, as numbers.
fn port_names(files: &[(String, LibraryFile)], cat: &mut Catalogue) {
    let of_parts = files.iter().flat_map(|(_, f)| f.parts.values()).flat_map(|p| p.ports.keys());
    let of_joints = files
        .iter()
        .flat_map(|(_, f)| f.vehicles.values())
        .flat_map(|v| v.joints.values())
        .flat_map(|j| j.ends.iter().map(|e| &e.port));
    cat.port_names = Names::new(of_parts.chain(of_joints));
}

fn port_types(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let types = gather(files, "port_types", |f| &f.port_types, &mut ctx.faults);
    ctx.cat.port_type_names = Names::new(types.keys());
    for (id, (file, def)) in &types {
        let path = format!("port_types.{id}");
        let mut fields = Vec::new();
        for (field, def) in &def.fields {
            let here = format!("{path}.fields.{field}");
            let Some(kind) = ctx.kind(&def.kind, file, format!("{here}.kind")) else {
                ctx.unread.insert(format!("{id}.{field}"));
                continue;
            };
            let within = match &def.within {
                Some(text) => ctx
                    .amount(&Json::String(text.clone()), kind, file, format!("{here}.within"))
                    .and_then(|v| v.bounds())
                    .map_or(0.0, |b| b.1),
                None => 0.0,
            };
            rule_of_kind(ctx, def, kind, file, &here);
            if matches!(def.rule, Rule::Mates) && def.words.is_empty() {
                ctx.faults.error(
                    file,
                    format!("{here}.words"),
                    "a field that mates wants its pairs, such as [[\"male\", \"female\"]]".to_owned(),
                );
            }
            let field = (field.clone(), def.clone(), kind, within);
            for (is_error, at, message) in mismatch::faults(&field) {
                let path = format!("{here}{at}");
                if is_error {
                    ctx.faults.error(file, path, message);
                } else {
                    ctx.faults.warn(file, path, message);
                }
            }
            fields.push(field);
        }
        let opened = ctx.wants(&def.opened, file, &format!("{path}.opened"));
        let later = ctx.again(&def.later, file, &format!("{path}.later"));
        let name = def.name.clone();
        ctx.cat.port_types.push(PortTypeEntry { name, fields, opened, later, key_field: None });
    }
}
