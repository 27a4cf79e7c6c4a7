//! Generated libraries and sheets: same seed, same library. Everything in them is made up; sizes of one family of
//! vehicles never match those of another, as in a library that serves many vehicles.

use std::collections::BTreeMap;

use fastrand::Rng;
use knockon_core::Money;
use knockon_core::library::{
    Alone, Circuit, Class, Content, Decided, End, FieldDef, FigureDef, Input, Joint, Level, LibraryFile,
    LimitDef, NeedDef, Opening, Part, PoolDef, Port, PortType, Position, Role, Rule, Sharing, System,
    Vehicle, Want, Work,
};
use knockon_core::sheet::{Choice, Finding, Line, LineState, Plan, Route, Sheet, Verdict};
use rust_decimal::Decimal;
use serde_json::Value as Json;

/// How large, and how wild.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    /// Positions of the vehicle.
    pub positions: usize,
    /// Joints of the vehicle.
    pub joints: usize,
    /// Parts of the library, about; each family of vehicles has its share.
    pub parts: usize,
    /// Parts of one family, about.
    pub family: usize,
    /// Positions the owner chooses for.
    pub choices: usize,
    /// Port types: few make bridges meet often.
    pub types: usize,
    /// Share of sizes that are unknown or carry a wide tolerance, in hundredths.
    pub doubt: u8,
}

/// The vehicle of every generated library.
pub const VEHICLE: &str = "generated";
/// The plan of every generated sheet.
pub const PLAN: &str = "plan";

/// Classes that are free and have a place on some vehicles.
pub const FREE: [&str; 4] = ["bridge", "cap", "seal-00", "sundry"];

/// Larger vehicles have no place for a free class: they measure how long it takes without.
const MOST_WITH_FREE_PLACES: usize = 50;

const NEEDS: usize = 10;
const POOLS: usize = 6;
/// Ports somebody has measured on one vehicle: it has so many parts, not those of the whole library.
const MOST_MEASURED: usize = 24;
/// Sizes in use at a joint, mm: as found and what others have.
const SIZES: [f64; 5] = [10.0, 12.0, 14.0, 17.0, 20.0];

struct JointPlan {
    name: String,
    kind: usize,
    ends: Vec<usize>,
}

struct Maker {
    rng: Rng,
    size: Size,
    file: LibraryFile,
    joints: Vec<JointPlan>,
    /// Parts of the family in hand that may lie in a kit's box.
    boxable: Vec<String>,
}

/// A library and a sheet for its vehicle.
#[must_use]
pub fn generate(seed: u64, size: Size) -> (LibraryFile, Sheet) {
    let file = LibraryFile { format: 1, ..LibraryFile::default() };
    let mut maker = Maker { rng: Rng::with_seed(seed), size, file, joints: Vec::new(), boxable: Vec::new() };
    maker.vocabulary();
    maker.vehicle();
    let families = (size.parts / size.family).max(1);
    maker.family(0);
    // the sheet comes before the other families, so that it is the same whatever the size of the library
    let sheet = maker.sheet();
    for family in 1..families {
        maker.family(family);
    }
    (maker.file, sheet)
}

fn class(position: usize) -> String {
    format!("class-{position:03}")
}

fn kind(ty: usize) -> String {
    format!("type-{ty:02}")
}

fn loose(name: String) -> Class {
    Class { name, free: true, ..Class::default() }
}

fn dollars(amount: i64) -> Option<Money> {
    Some(Money::new(Decimal::new(amount, 0), "USD"))
}

impl Maker {
    fn chance(&mut self, hundredths: u8) -> bool {
        self.rng.u8(0..100) < hundredths
    }

    fn pick<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.rng.usize(0..list.len())]
    }

    fn price(&mut self) -> Option<Money> {
        let amount = self.rng.i64(1..60);
        dollars(amount)
    }

    /// Port types in four kinds: a size; a size and its gender; a window of pressure; a size and a strength.
    fn vocabulary(&mut self) {
        self.file.systems.insert("all".into(), System { name: "All".into(), order: 1 });
        let field =
            |rule, kind: &str| FieldDef { name: kind.into(), kind: kind.into(), rule, ..FieldDef::default() };
        for ty in 0..self.size.types {
            let mut fields = BTreeMap::new();
            let size = FieldDef { within: Some("0.25 mm".into()), ..field(Rule::Equal, "length") };
            match ty % 4 {
                0 => drop(fields.insert("size".to_owned(), size)),
                1 => {
                    fields.insert("size".to_owned(), size);
                    let words = vec![vec!["male".to_owned(), "female".to_owned()]];
                    fields.insert("gender".to_owned(), FieldDef { words, ..field(Rule::Mates, "word") });
                }
                2 => drop(fields.insert("pressure".to_owned(), field(Rule::Inside, "pressure"))),
                _ => {
                    fields.insert("size".to_owned(), size);
                    fields.insert("strength".to_owned(), field(Rule::AtLeast, "length"));
                }
            }
            let mut opened = Vec::new();
            if ty % 3 == 0 {
                self.file.classes.insert(format!("seal-{ty:02}"), loose(format!("Seal {ty}")));
                let level = if ty % 2 == 0 { Level::Required } else { Level::Advised };
                opened.push(Want { class: format!("seal-{ty:02}"), qty: 1, level, why: String::new() });
            }
            self.file.port_types.insert(kind(ty), PortType { name: format!("type {ty}"), fields, opened });
        }
        for free in ["bridge", "cap", "sundry", "fluid"] {
            self.file.classes.insert(free.into(), loose(free.into()));
        }
        for need in 0..NEEDS {
            let sharing = if need % 4 == 3 { Sharing::Own } else { Sharing::Shared };
            let kind = if need % 3 == 2 { "pressure" } else { "present" };
            let def =
                NeedDef { name: format!("need {need}"), kind: kind.into(), sharing, ..NeedDef::default() };
            self.file.needs.insert(format!("need-{need}"), def);
        }
        for pool in 0..POOLS {
            let def = PoolDef {
                name: format!("pool {pool}"),
                kind: "current".into(),
                margin: (pool % 2 == 0).then(|| "2 A".to_owned()),
                ..PoolDef::default()
            };
            self.file.pools.insert(format!("pool-{pool}"), def);
        }
        self.file.figures.insert(
            "container".into(),
            FigureDef { name: "container".into(), kind: "volume".into(), measure: String::new() },
        );
        self.file.figures.insert(
            "reach".into(),
            FigureDef { name: "reach".into(), kind: "length".into(), measure: "with a tape".into() },
        );
    }

    fn vehicle(&mut self) {
        let n = self.size.positions;
        let mut vehicle = Vehicle { name: "Generated".into(), ..Vehicle::default() };
        for p in 0..n {
            let decided = Some(if p % 2 == 0 { Decided::Owner } else { Decided::Follows });
            let of_place = Class { name: format!("Class {p}"), decided, ..Class::default() };
            self.file.classes.insert(class(p), of_place);
            let position = Position {
                name: format!("Place {p}"),
                system: "all".into(),
                class: class(p),
                qty: if self.chance(15) { 2 } else { 1 },
                as_found: (!self.chance(12)).then(|| format!("found-{p:03}")),
            };
            vehicle.positions.insert(format!("place-{p:03}"), position);
        }
        for j in 0..self.size.joints {
            let mut ends = vec![self.rng.usize(0..n)];
            let wanted = if self.chance(8) { 3 } else { 2 };
            while ends.len() < wanted.min(n) {
                // near places meet
                let other = (ends[0] + self.rng.usize(1..n.min(12))) % n;
                if !ends.contains(&other) {
                    ends.push(other);
                }
            }
            let joint =
                JointPlan { name: format!("joint-{j:03}"), kind: self.rng.usize(0..self.size.types), ends };
            let ends =
                joint.ends.iter().map(|p| End { at: format!("place-{p:03}"), port: joint.name.clone() });
            let qty = if self.chance(10) { 2 } else { 1 };
            vehicle
                .joints
                .insert(joint.name.clone(), Joint { name: format!("Joint {j}"), ends: ends.collect(), qty });
            self.joints.push(joint);
        }
        self.free_places(&mut vehicle);
        for c in 0..n / 20 + 1 {
            let positions = (0..3).map(|_| format!("place-{:03}", self.rng.usize(0..n))).collect();
            let circuit = Circuit {
                name: format!("Circuit {c}"),
                fluid: "fluid".into(),
                capacity: format!("{} L", self.rng.u8(1..9)),
                positions,
            };
            vehicle.circuits.insert(format!("circuit-{c}"), circuit);
        }
        for pool in 0..POOLS {
            let room = self.rng.usize(n / 3..n + 4);
            vehicle.gives.insert(format!("pool-{pool}"), format!("{room} A"));
        }
        vehicle.offers.insert("need-0".into(), "present".into());
        self.file.vehicles.insert(VEHICLE.into(), vehicle);
        for o in 0..(n / 15 + 1).max(5) {
            let classes = vec![class(self.rng.usize(0..n)), class(self.rng.usize(0..n))];
            let want = |class: String, level| Want { class, qty: 1, level, why: String::new() };
            let place = class(self.rng.usize(0..n));
            let wants = vec![want("sundry".into(), Level::Required), want(place, Level::Advised)];
            self.file
                .openings
                .insert(format!("opening-{o}"), Opening { name: format!("Opening {o}"), classes, wants });
        }
        for l in 0..(n / 15 + 1).max(3) {
            let a = self.rng.usize(0..n);
            let figure = |p: usize| Input::Figure { class: class(p), figure: "reach".into(), optional: true };
            let inputs = [("have".to_owned(), figure(a)), ("want".to_owned(), figure((a + 1) % n))].into();
            let def = LimitDef {
                name: format!("limit {l}"),
                calc: "at-least".into(),
                inputs,
                raises: None,
                raises_value: None,
                yields_to: (l % 3 == 1).then(|| format!("limit-{}", l - 1)),
                safety: l % 2 == 0,
                why: String::new(),
                source: "made up".into(),
            };
            self.file.limits.insert(format!("limit-{l}"), def);
        }
    }

    /// Some vehicles have a place for what is a loose part on others: a bridge between two places, a cap, a seal, a sundry.
    fn free_places(&mut self, vehicle: &mut Vehicle) {
        // with numbers of its own: a vehicle without such a place is the same as before
        let mut own = Rng::with_seed(self.rng.clone().u64(..));
        // nor do parts of other families find a place: the same findings come of a larger library
        if own.bool()
            || self.size.parts >= 2 * self.size.family
            || self.size.positions > MOST_WITH_FREE_PLACES
        {
            return;
        }
        std::mem::swap(&mut own, &mut self.rng);
        for class in FREE {
            if !self.file.classes.contains_key(class) || !self.chance(40) {
                continue;
            }
            let place = format!("place-{class}");
            let part = match class {
                "sundry" => self.sundry(1),
                "bridge" | "cap" => self.bridge(0.0, Some(class == "cap")),
                _ => self.seal(0, SIZES[0]),
            };
            for (port, written) in &part.ports {
                let p = self.rng.usize(0..self.size.positions);
                let name = format!("joint-{:03}", self.joints.len());
                let ends = [
                    End { at: format!("place-{p:03}"), port: name.clone() },
                    End { at: place.clone(), port: port.clone() },
                ];
                let joint = Joint { name: format!("Joint of {class}"), ends: ends.into(), qty: 1 };
                vehicle.joints.insert(name.clone(), joint);
                // who gives and is male stands first
                let kind = (0..self.size.types).find(|ty| kind(*ty) == written.port_type).unwrap_or(0);
                let ends =
                    if port == "in" || port == "cap" { vec![p, usize::MAX] } else { vec![usize::MAX, p] };
                self.joints.push(JointPlan { name, kind, ends });
            }
            let as_found = self.chance(50).then(|| format!("found-{class}"));
            self.file.parts.insert(format!("found-{class}"), part);
            let position = Position {
                name: format!("Place of {class}"),
                system: "all".into(),
                class: class.into(),
                qty: 1,
                as_found,
            };
            vehicle.positions.insert(place, position);
        }
        self.rng = own;
    }

    /// The parts that fit one family of vehicles; the first is the vehicle's own.
    fn family(&mut self, family: usize) {
        let n = self.size.positions;
        let offset = family as f64 * 100.0;
        self.boxable.clear();
        if family == 0 {
            for p in 0..n {
                let part = self.part(p, offset, true);
                self.file.parts.insert(format!("found-{p:03}"), part);
            }
        }
        let sundries = (self.size.family / 20).max(4);
        let bridges = (self.size.family / 6).max(8);
        let places = self.size.family.saturating_sub(sundries + bridges + self.size.types);
        for i in 0..bridges {
            let part = self.bridge(offset, None);
            let is_cap = part.class == "cap";
            let id = self.id(if is_cap { "cap" } else { "bridge" }, family, i);
            self.file.parts.insert(id, part);
        }
        for i in 0..sundries {
            let mut part = self.sundry(i);
            if family > 0 {
                // what serves other vehicles is dearer, so that the same findings come of a larger library
                part.price = dollars(1_000);
            }
            let id = self.id("sundry", family, i);
            self.file.parts.insert(id, part);
        }
        for i in 0..places {
            let p = i % n;
            let mut part = self.part(p, offset, false);
            if self.chance(25) {
                self.fill_box(p, &mut part);
            }
            let id = self.id("part", family, i);
            self.file.parts.insert(id, part);
        }
        for ty in (0..self.size.types).filter(|t| t % 3 == 0) {
            for size in SIZES {
                let mut part = self.seal(ty, size + offset);
                if family > 0 {
                    part.price = dollars(1_000);
                }
                self.file.parts.insert(format!("seal-{family:03}-{ty:02}-{size:02}"), part);
            }
        }
    }

    /// Ids whose order has nothing to do with prices.
    fn id(&mut self, word: &str, family: usize, i: usize) -> String {
        let id = format!("{word}-{:04x}-{family:03}-{i:05}", self.rng.u16(..));
        self.boxable.push(id.clone());
        id
    }

    fn part(&mut self, p: usize, offset: f64, found: bool) -> Part {
        let mut part = Part {
            name: format!("Part for place {p}"),
            class: class(p),
            price: self.price(),
            ..Part::default()
        };
        let here: Vec<(String, usize, usize)> = self
            .joints
            .iter()
            .filter_map(|j| j.ends.iter().position(|e| *e == p).map(|end| (j.name.clone(), j.kind, end)))
            .collect();
        for (name, ty, end) in here {
            // what serves other vehicles has its ports in full and its sizes known, or it would fit here too
            if !found && offset == 0.0 && self.chance(8) {
                continue;
            }
            let size = if found || self.chance(60) { SIZES[0] } else { *self.pick(&SIZES) };
            let port = self.port(ty, end, size + offset, found);
            part.ports.insert(name, port);
        }
        if self.chance(30) {
            part.hours = Some(f64::from(self.rng.u8(1..9)) * 0.5);
        }
        part.rebuild = Some(Work { price: self.price(), hours: Some(2.0) });
        if !found && self.chance(35) {
            let need = self.rng.usize(0..NEEDS);
            let table = if self.chance(70) { &mut part.needs } else { &mut part.advises };
            table.insert(
                format!("need-{need}"),
                if need % 3 == 2 { "3 to 6 psi" } else { "present" }.to_owned(),
            );
        }
        if self.chance(10) {
            let need = self.rng.usize(0..NEEDS);
            part.offers
                .insert(format!("need-{need}"), if need % 3 == 2 { "7 psi" } else { "present" }.to_owned());
        }
        if self.chance(40) {
            let amps = self.rng.u8(1..if found { 3 } else { 6 });
            part.takes.insert(format!("pool-{}", self.rng.usize(0..POOLS)), format!("{amps} A"));
        }
        if self.chance(60) {
            let reach = if found { 100 } else { 90 + i32::from(self.rng.u8(0..30)) };
            let tolerance = if self.chance(self.size.doubt) { " ±8 mm" } else { "" };
            part.figures.insert("reach".into(), Json::String(format!("{reach} mm{tolerance}")));
        }
        part
    }

    /// The first end of a joint gives and is male.
    fn port(&mut self, ty: usize, end: usize, size: f64, found: bool) -> Port {
        let mut fields: BTreeMap<String, Json> = BTreeMap::new();
        let doubt = if size > 100.0 { 0 } else { self.size.doubt };
        let mut put = |name: &str, text: String| drop(fields.insert(name.to_owned(), Json::String(text)));
        let size_text = if !found && self.rng.u8(0..100) < doubt {
            match self.rng.u8(0..3) {
                0 => "unknown: measure it".to_owned(),
                1 => format!("{size} mm ±0.2 mm"),
                _ => "any".to_owned(),
            }
        } else {
            format!("{size} mm")
        };
        let role = match ty % 4 {
            2 => {
                let low = if found || self.rng.u8(0..100) < 65 { 3 } else { self.rng.u8(1..9) };
                // another family works at other pressures
                let low = i64::from(low) + (size / 100.0).floor() as i64 * 20;
                let text = if end == 0 {
                    format!("{low} to {} psi", low + 1)
                } else {
                    format!("{} to {} psi", low - 1, low + 2)
                };
                put("pressure", text);
                if end == 0 { Role::Give } else { Role::Take }
            }
            3 => {
                put("size", size_text);
                let strength = if found { 50 } else { self.rng.u8(42..60) };
                put("strength", format!("{strength} mm"));
                if end == 0 { Role::Give } else { Role::Take }
            }
            1 => {
                put("size", size_text);
                put("gender", if end == 0 { "male" } else { "female" }.to_owned());
                Role::Plain
            }
            _ => {
                put("size", size_text);
                Role::Plain
            }
        };
        let alone = match self.rng.u8(0..10) {
            0..=3 => Alone::Fine,
            4 | 5 => Alone::Required,
            6..=8 => Alone::Surplus,
            _ => Alone::Cap,
        };
        Port { port_type: kind(ty), role, alone, fields }
    }

    /// A part of the same family in the box, for another place or loose.
    fn fill_box(&mut self, p: usize, part: &mut Part) {
        if self.boxable.is_empty() {
            return;
        }
        for _ in 0..self.rng.usize(1..4) {
            let id = self.boxable[self.rng.usize(0..self.boxable.len())].clone();
            let known = self.file.parts.get(&id);
            if known.is_some_and(|k| k.class != class(p) && k.contents.is_empty()) {
                part.contents.push(Content { part: id, qty: u32::from(self.rng.u8(1..3)) });
            }
        }
        if self.chance(20) {
            part.leaves_empty.push(class((p + 1) % self.size.positions));
        }
    }

    /// A bridge from one size or window to another of a type, or a cap.
    fn bridge(&mut self, offset: f64, is_cap: Option<bool>) -> Part {
        let ty = self.rng.usize(0..self.size.types);
        let (a, b) = (*self.pick(&SIZES) + offset, *self.pick(&SIZES) + offset);
        let mut part = Part {
            name: format!("Bridge of type {ty}"),
            price: self.price(),
            class: "bridge".into(),
            ..Part::default()
        };
        // its first port faces a giver, so it takes there
        let mut enter = self.port(ty, 1, a, true);
        let mut leave = self.port(ty, 0, b, true);
        for port in [&mut enter, &mut leave] {
            port.alone = Alone::Fine;
        }
        if ty % 4 == 2 {
            let base = (offset / 100.0).floor() as i64 * 20;
            enter.fields.insert("pressure".into(), Json::String(format!("{} to {} psi", base + 1, base + 9)));
            let low = base + self.rng.i64(1..8);
            leave.fields.insert("pressure".into(), Json::String(format!("set {low} to {} psi", low + 1)));
        }
        if is_cap.unwrap_or_else(|| self.chance(15)) {
            part.class = "cap".into();
            part.ports.insert("cap".into(), enter);
            return part;
        }
        part.ports.insert("in".into(), enter);
        part.ports.insert("out".into(), leave);
        part.bridges = Some(["in".into(), "out".into()]);
        if self.chance(10) {
            part.needs.insert(format!("need-{}", self.rng.usize(0..NEEDS) / 3 * 3), "present".into());
        }
        part
    }

    fn sundry(&mut self, i: usize) -> Part {
        let need = i % NEEDS;
        let mut part = Part {
            name: format!("Sundry {i}"),
            class: "sundry".into(),
            price: self.price(),
            ..Part::default()
        };
        let value = if need % 3 == 2 { format!("{} psi", self.rng.u8(1..9)) } else { "present".to_owned() };
        part.offers.insert(format!("need-{need}"), value);
        if self.chance(25) {
            part.needs.insert(format!("need-{}", (need + 3) / 3 * 3 % NEEDS), "present".into());
        }
        if i.is_multiple_of(7) {
            part.class = "fluid".into();
            part.offers.clear();
            part.needs.clear();
            part.figures.insert("container".into(), Json::String(format!("{} L", self.rng.u8(1..6))));
        }
        if self.chance(20) {
            part.takes.insert(format!("pool-{}", self.rng.usize(0..POOLS)), "1 A".into());
        }
        part
    }

    fn seal(&mut self, ty: usize, size: f64) -> Part {
        let mut part = Part {
            name: format!("Seal {ty}, {size} mm"),
            class: format!("seal-{ty:02}"),
            price: self.price(),
            ..Part::default()
        };
        let mut port = self.port(ty, 0, size, true);
        if ty % 4 == 1 {
            port.fields.insert("gender".into(), Json::String("any".into()));
        }
        if ty % 4 == 2 {
            port.fields.insert("pressure".into(), Json::String("any".into()));
        }
        if ty % 4 == 3 {
            port.fields.insert("strength".into(), Json::String("any".into()));
        }
        port.alone = Alone::Fine;
        part.ports.insert("seal".into(), port);
        part
    }

    fn sheet(&mut self) -> Sheet {
        let mut plan = Plan { name: "Plan".into(), ..Plan::default() };
        let mut sheet = Sheet {
            format: 1,
            name: "Generated".into(),
            vehicle: VEHICLE.into(),
            plan: PLAN.into(),
            ..Sheet::default()
        };
        let own: Vec<(String, String)> = self
            .file
            .parts
            .iter()
            .filter(|(id, p)| id.starts_with("part-") && id.contains("-000-") && !p.class.starts_with("seal"))
            .map(|(id, p)| (id.clone(), p.class.clone()))
            .collect();
        for _ in 0..self.size.choices {
            let p = self.rng.usize(0..self.size.positions);
            let fits: Vec<&String> = own.iter().filter(|(_, c)| *c == class(p)).map(|(id, _)| id).collect();
            let route = if fits.is_empty() || self.chance(20) {
                *self.pick(&[Route::Keep, Route::Renew, Route::Rebuild, Route::LeaveOff])
            } else {
                Route::Convert
            };
            let part = (route == Route::Convert).then(|| (*self.pick(&fits)).clone());
            plan.routes.insert(format!("place-{p:03}"), Choice { route, part });
        }
        for class in FREE {
            let place = format!("place-{class}");
            if !self.file.vehicles[VEHICLE].positions.contains_key(&place) {
                continue;
            }
            let all = self.file.parts.iter().filter(|(_, p)| p.class == class);
            let parts: Vec<String> = all.map(|(id, _)| id.clone()).collect();
            if self.chance(40) {
                let route =
                    *self.pick(&[Route::Keep, Route::Renew, Route::LeaveOff, Route::Convert, Route::Convert]);
                let part = (route == Route::Convert).then(|| self.pick(&parts).clone());
                plan.routes.insert(place.clone(), Choice { route, part });
            }
            if self.chance(20) {
                plan.waived.insert(format!("beside:{place}"), "later".into());
            }
            if self.chance(20) {
                let verdict = *self.pick(&[Verdict::Renew, Verdict::Stop]);
                sheet
                    .survey
                    .insert(place, Finding { verdict, note: String::new(), extra: Default::default() });
            }
        }
        for _ in 0..(self.size.positions / 10).max(2) {
            let verdict = *self.pick(&[Verdict::Good, Verdict::Renew, Verdict::Stop]);
            let place = format!("place-{:03}", self.rng.usize(0..self.size.positions));
            sheet.survey.insert(place, Finding { verdict, note: String::new(), extra: Default::default() });
        }
        for (id, _) in own.iter().take(3) {
            sheet.lines.insert(id.clone(), Line { state: LineState::OnOrder, ..Line::default() });
        }
        // some of what the survey or an opening renews is left out
        for position in sheet.survey.keys().cloned().collect::<Vec<_>>() {
            if self.chance(20) {
                plan.waived.insert(format!("survey:{position}"), "later".into());
            }
        }
        for (opening, def) in self.file.openings.clone() {
            if self.chance(20) {
                let place = def.wants[1].class.replace("class", "place");
                plan.waived.insert(format!("beside:{place}"), "later".into());
            }
            if self.chance(10) {
                plan.waived.insert(format!("apart:{opening}:{}", def.wants[0].class), "later".into());
            }
        }
        sheet.plans.insert(PLAN.into(), plan);
        self.measured(&mut sheet);
        sheet
    }

    /// Some sizes have been measured at ports: most that were not known, a few others; now and then no better than
    /// before. With numbers of its own, so that all else is the same with it and without.
    fn measured(&self, sheet: &mut Sheet) {
        let mut rng = self.rng.clone();
        for (id, part) in &self.file.parts {
            for (port, written) in &part.ports {
                let Some(size) = written.fields.get("size").and_then(Json::as_str) else { continue };
                let chance = if size.starts_with("unknown") { 50 } else { 1 };
                if rng.u8(0..100) >= chance || sheet.facts.len() >= MOST_MEASURED {
                    continue;
                }
                let size = SIZES[rng.usize(0..SIZES.len())];
                let value = match rng.u8(0..6) {
                    0 => "unknown: measure it again".to_owned(),
                    1 => format!("{size} mm ±0.4 mm"),
                    _ => format!("{size} mm"),
                };
                sheet.facts.insert(format!("{port}.size@{id}"), Json::String(value));
            }
        }
    }
}
