//! Generated libraries and sheets: same seed, same library. Everything in them is made up; sizes of one family of
//! vehicles never match those of another, as in a library that serves many vehicles.

use std::collections::BTreeMap;

use fastrand::Rng;
use knockon_core::Money;
use knockon_core::date::{Date, day};
use knockon_core::key::{CompanionKey, FactKey};
use knockon_core::library::{
    Again, Alone, Circuit, Class, ClassAt, Content, Decided, End, FieldDef, FigureDef, Input, Joint, Lasts,
    Level, LibraryFile, LimitDef, NeedDef, Opening, Part, PoolDef, Port, PortType, Position, Role, Rule,
    Sharing, System, Vehicle, Want, Whereabouts, Work,
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
    /// Share of places that are of the class of another, in hundredths. Above 0 there are also words on where, joints
    /// that are alternatives, limits that read sums, and parts that set a fact of the vehicle.
    pub twins: u8,
}

/// The vehicle of every generated library.
pub const VEHICLE: &str = "generated";
/// Nobody has measured what was found on the vehicle: no size at its ports is known.
pub fn forget_sizes(file: &mut LibraryFile) {
    let found = file.vehicles.values().flat_map(|v| v.positions.values()).filter_map(|p| p.as_found.clone());
    for part in found.collect::<Vec<_>>() {
        for port in file.parts.get_mut(&part).into_iter().flat_map(|part| part.ports.values_mut()) {
            for (_, size) in port.fields.iter_mut().filter(|(name, _)| *name == "size") {
                *size = Json::String("unknown: measure it".to_owned());
            }
        }
    }
}

/// The day of every assessment of a generated sheet.
pub const DAY: &str = "2026-03-01";
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

/// A joint of a vehicle, and the name its ports have. Ends that no part is made for stand as [`NOBODY`].
struct JointPlan {
    name: String,
    kind: usize,
    ends: Vec<usize>,
}

const NOBODY: usize = usize::MAX;
/// Words on where a place is.
const WHERE: [&str; 5] = ["", "front", "rear", "front left", "front right"];

struct Maker {
    rng: Rng,
    size: Size,
    file: LibraryFile,
    joints: Vec<JointPlan>,
    /// The place whose class each place has: its own, or for a twin another's.
    leaders: Vec<usize>,
    /// Parts of the family in hand that may lie in a kit's box.
    boxable: Vec<String>,
}

/// A library and a sheet for its vehicle.
#[must_use]
pub fn generate(seed: u64, size: Size) -> (LibraryFile, Sheet) {
    let file = LibraryFile { format: 1, ..LibraryFile::default() };
    let mut maker = Maker {
        rng: Rng::with_seed(seed),
        size,
        file,
        joints: Vec::new(),
        leaders: Vec::new(),
        boxable: Vec::new(),
    };
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
        self.file.systems.insert("all".into(), System { name: "All".into(), order: 1, ..System::default() });
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
                opened.push(Want { class: format!("seal-{ty:02}"), qty: 1, level, ..Want::default() });
            }
            if ty % 5 == 1 {
                opened.push(Want {
                    class: "service".into(),
                    qty: 1,
                    level: Level::Advised,
                    ..Want::default()
                });
            }
            self.file.port_types.insert(
                kind(ty),
                PortType {
                    name: format!("type {ty}"),
                    fields,
                    opened,
                    later: Vec::new(),
                    ..PortType::default()
                },
            );
        }
        for free in ["bridge", "cap", "sundry", "fluid"] {
            self.file.classes.insert(free.into(), loose(free.into()));
        }
        let service = Class { name: "Service".into(), service: true, ..Class::default() };
        self.file.classes.insert("service".into(), service);
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
            FigureDef {
                name: "container".into(),
                kind: "volume".into(),
                measure: String::new(),
                signed: false,
            },
        );
        self.file.figures.insert(
            "fluid".into(),
            FigureDef { name: "fluid".into(), kind: "word".into(), measure: String::new(), signed: false },
        );
        for figure in ["reach", "room"] {
            self.file.figures.insert(
                figure.into(),
                FigureDef {
                    name: figure.into(),
                    kind: "length".into(),
                    measure: "with a tape".into(),
                    signed: false,
                },
            );
        }
    }

    fn vehicle(&mut self) {
        let n = self.size.positions;
        let mut vehicle = Vehicle { name: "Generated".into(), ..Vehicle::default() };
        let twins = n * usize::from(self.size.twins) / 100;
        let alone = (n - twins).max(3.min(n));
        self.leaders = (0..n).map(|p| if p < alone { p } else { self.rng.usize(0..alone) }).collect();
        for p in 0..n {
            let leader = self.leaders[p];
            let decided = Some(if leader.is_multiple_of(2) { Decided::Owner } else { Decided::Follows });
            let of_place = Class { name: format!("Class {leader}"), decided, ..Class::default() };
            self.file.classes.insert(class(leader), of_place);
            let position = Position {
                name: format!("Place {p}"),
                system: "all".into(),
                class: class(leader),
                qty: if self.chance(15) { 2 } else { 1 },
                as_found: (!self.chance(12)).then(|| format!("found-{leader:03}")),
                ..Position::default()
            };
            vehicle.positions.insert(format!("place-{p:03}"), position);
        }
        if self.size.twins > 0 {
            self.words(&mut vehicle);
        }
        let n = alone;
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
            let name = format!("Joint {j}");
            let ends = ends.collect();
            vehicle.joints.insert(joint.name.clone(), Joint { name, ends, qty, ..Joint::default() });
            self.joints.push(joint);
        }
        if self.size.twins > 0 {
            self.alternatives(&mut vehicle, n);
            self.joints_of_twins(&mut vehicle);
            if !self.chance(10) {
                let room = if self.chance(10) { "unknown: with a tape" } else { "100 mm" };
                vehicle.facts.insert("room".into(), room.into());
            }
        }
        self.free_places(&mut vehicle);
        let n = self.size.positions;
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
        let n = self.leaders.iter().max().map_or(0, |last| last + 1);
        for o in 0..(n / 15 + 1).max(5) {
            let mut classes = vec![class(self.rng.usize(0..n)), class(self.rng.usize(0..n))]
                .into_iter()
                .map(|class| ClassAt { class, ..ClassAt::default() })
                .collect::<Vec<_>>();
            let (first, second) = (self.somewhere(), self.somewhere());
            classes[0].whereabouts = first;
            let want = |class: String, level| Want {
                class,
                qty: 1,
                level,
                whereabouts: second.clone(),
                ..Want::default()
            };
            let place = class(self.rng.usize(0..n));
            let mut wants = vec![want("sundry".into(), Level::Required), want(place, Level::Advised)];
            if self.chance(50) {
                let qty = u32::from(self.rng.u8(1..3));
                let level = if self.chance(50) { Level::Required } else { Level::Advised };
                wants.push(Want { qty, ..want("service".into(), level) });
            }
            self.file.openings.insert(
                format!("opening-{o}"),
                Opening { name: format!("Opening {o}"), classes, wants, ..Opening::default() },
            );
        }
        for l in 0..(n / 15 + 1).max(3) {
            let a = self.rng.usize(0..n);
            let (have, want) = (self.limit_input(a), self.limit_input((a + 1) % n));
            let inputs = [("have".to_owned(), have), ("want".to_owned(), want)].into();
            let def = LimitDef {
                name: format!("limit {l}"),
                calc: "at-least".into(),
                inputs,
                raises: None,
                raises_value: None,
                yields_to: (l % 3 == 1).then(|| format!("limit-{}", l - 1)),
                close: (l % 2 == 1).then(|| "6 mm".into()),
                safety: l % 2 == 0,
                why: String::new(),
                source: "made up".into(),
            };
            self.file.limits.insert(format!("limit-{l}"), def);
        }
    }

    /// Words on where places are, and figures of places.
    fn words(&mut self, vehicle: &mut Vehicle) {
        for p in 0..self.leaders.len() {
            let mut twins = self.leaders.iter().enumerate().filter(|(_, leader)| **leader == self.leaders[p]);
            let nth = twins.position(|(twin, _)| twin == p).unwrap_or(0);
            let has_twin = self.leaders.iter().filter(|leader| **leader == self.leaders[p]).count() > 1;
            let words = match nth {
                _ if !has_twin => WHERE[self.rng.usize(0..WHERE.len())],
                _ if self.chance(8) => "",
                0 => "front",
                1 => "rear",
                _ => "front left",
            };
            let position = vehicle.positions.get_mut(&format!("place-{p:03}"));
            let place_figure = self.chance(15).then(|| format!("{} mm", 90 + self.rng.u8(0..20)));
            if let Some(position) = position {
                position.whereabouts = words.into();
                position.figures.extend(place_figure.map(|reach| ("reach".to_owned(), Json::String(reach))));
            }
        }
    }

    /// Now and then words on where, when somebody speaks of a class.
    fn somewhere(&mut self) -> Whereabouts {
        if self.size.twins == 0 || !self.chance(40) {
            return Whereabouts::default();
        }
        (*self.pick(&["front", "rear", "left"])).into()
    }

    /// Some joints get an alternative: the first port meets a port of another place instead.
    fn alternatives(&mut self, vehicle: &mut Vehicle, places: usize) {
        for j in 0..self.joints.len() {
            let (name, kind, ends) =
                (self.joints[j].name.clone(), self.joints[j].kind, self.joints[j].ends.clone());
            let other = self.rng.usize(0..places);
            if ends.len() != 2 || ends.contains(&other) || !self.chance(15) {
                continue;
            }
            let end = |p: usize| End { at: format!("place-{p:03}"), port: name.clone() };
            let either = Some(name.clone());
            let joint = Joint {
                name: format!("{name} or else"),
                ends: vec![end(ends[0]), end(other)],
                qty: 1,
                either: either.clone(),
            };
            vehicle.joints.insert(format!("{name}-or"), joint);
            if let Some(first) = vehicle.joints.get_mut(&name) {
                first.either = either;
            }
            self.joints.push(JointPlan { name, kind, ends: vec![NOBODY, other] });
        }
    }

    /// A twin meets what its leader meets, or the twin of that; where both meet one port, one may be enough.
    fn joints_of_twins(&mut self, vehicle: &mut Vehicle) {
        for p in 0..self.leaders.len() {
            let leader = self.leaders[p];
            if leader == p {
                continue;
            }
            let at = |p: usize| format!("place-{p:03}");
            let words = vehicle.positions[&at(p)].whereabouts.clone();
            let twin = |other: &str| {
                let leader = vehicle.positions[other].class.clone();
                let mut same = vehicle.positions.iter().filter(|(_, pos)| pos.class == leader);
                same.find(|(_, pos)| pos.whereabouts == words)
                    .map_or_else(|| other.to_owned(), |(id, _)| id.clone())
            };
            let theirs: Vec<(String, Joint)> = vehicle
                .joints
                .iter()
                .filter(|(_, j)| j.ends.iter().any(|e| e.at == at(leader)))
                .filter(|(_, j)| !j.ends.iter().any(|e| e.at == at(p)))
                .map(|(id, j)| (id.clone(), j.clone()))
                .collect();
            let mut copies = Vec::new();
            for (id, mut joint) in theirs {
                for end in &mut joint.ends {
                    end.at = if end.at == at(leader) { at(p) } else { twin(&end.at) };
                }
                copies.push((id, joint));
            }
            for (id, mut joint) in copies {
                if self.chance(15) {
                    continue;
                }
                joint.either = None;
                let shares =
                    vehicle.joints[&id].ends.iter().any(|e| joint.ends.iter().any(|own| own.at == e.at));
                if shares && self.chance(40) {
                    let word = vehicle.joints[&id].either.clone().unwrap_or_else(|| id.clone());
                    if let Some(first) = vehicle.joints.get_mut(&id) {
                        first.either = Some(word.clone());
                    }
                    joint.either = Some(word);
                }
                vehicle.joints.insert(format!("{id}-at-{p:03}"), joint);
            }
        }
    }

    /// What a limit reads: as a rule a figure; with twins also a fact, or a sum with what holds where nothing is fitted.
    fn limit_input(&mut self, p: usize) -> Input {
        let figure = |whereabouts, otherwise| Input::Figure {
            class: class(p),
            whereabouts,
            figure: "reach".into(),
            optional: true,
            otherwise,
        };
        if self.size.twins == 0 || self.chance(40) {
            return figure(self.somewhere(), None);
        }
        let fact =
            Input::Fact { fact: "room".into(), otherwise: self.chance(50).then(|| "100 mm".to_owned()) };
        if self.chance(40) {
            return fact;
        }
        let (one, other) = (self.somewhere(), self.somewhere());
        Input::Sum {
            sum: vec![figure(one, Some("100 mm".into())), Input::Fixed { value: "100 mm".into() }],
            less: vec![if self.chance(50) { fact } else { figure(other, Some("98 mm".into())) }],
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
        let leaders = self.leaders.iter().max().map_or(0, |last| last + 1);
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
                let p = self.rng.usize(0..leaders);
                let name = format!("joint-{:03}", self.joints.len());
                let ends = [
                    End { at: format!("place-{p:03}"), port: name.clone() },
                    End { at: place.clone(), port: port.clone() },
                ];
                let joint = Joint {
                    name: format!("Joint of {class}"),
                    ends: ends.into(),
                    qty: 1,
                    ..Joint::default()
                };
                vehicle.joints.insert(name.clone(), joint);
                // who gives and is male stands first
                let kind = (0..self.size.types).find(|ty| kind(*ty) == written.port_type).unwrap_or(0);
                let ends = if port == "in" || port == "cap" { vec![p, NOBODY] } else { vec![NOBODY, p] };
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
                ..Position::default()
            };
            vehicle.positions.insert(place, position);
        }
        self.rng = own;
    }

    /// The parts that fit one family of vehicles; the first is the vehicle's own.
    fn family(&mut self, family: usize) {
        let n = self.leaders.iter().max().map_or(0, |last| last + 1);
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
        for i in 0..2 {
            let mut part = self.sundry(self.size.family + i);
            part.class = "service".into();
            part.takes.clear();
            if family > 0 {
                part.price = dollars(1_000);
            }
            let id = self.id("service", family, i);
            self.file.parts.insert(id, part);
        }
        for i in 0..4 {
            let mut part = self.fluid();
            if family > 0 {
                part.price = part.price.and(dollars(1_000));
            }
            let id = self.id("fluid", family, i);
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
            // what the survey would renew is required where people depend on it
            safety: p.is_multiple_of(3),
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
        if self.size.twins > 0 && offset == 0.0 && self.chance(if found { 4 } else { 12 }) {
            let room = Json::String(format!("{} mm", 90 + self.rng.u8(0..25)));
            part.sets.insert("room".into(), room);
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
            let Some(known) = self.file.parts.get(&id) else { continue };
            // now and then a kit in a kit, and no deeper
            let is_kit = |id: &String| self.file.parts.get(id).is_some_and(|k| !k.contents.is_empty());
            let nested = known.contents.iter().any(|c| is_kit(&c.part));
            let other = known.class != class(p);
            let plain = known.contents.is_empty();
            if other && !nested && (plain || self.chance(50)) {
                let whereabouts = self.somewhere();
                part.contents.push(Content { part: id, whereabouts, qty: u32::from(self.rng.u8(1..3)) });
            }
        }
        if self.chance(20) {
            let class = class((p + 1) % (self.leaders.iter().max().map_or(0, |last| last + 1)));
            part.leaves_empty.push(ClassAt { class, whereabouts: self.somewhere() });
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
        if self.chance(20) {
            part.takes.insert(format!("pool-{}", self.rng.usize(0..POOLS)), "1 A".into());
        }
        part
    }

    /// A container of one of two fluids; not all are for sale.
    fn fluid(&mut self) -> Part {
        let mut part = Part { name: "Fluid".into(), class: "fluid".into(), ..Part::default() };
        let halves = *self.pick(&[1, 2, 2, 4, 5, 8, 10]);
        let litres = f64::from(halves) / 2.0;
        part.figures.insert("container".into(), Json::String(format!("{litres} L")));
        // near one price a litre, so that they are mixed
        part.price = dollars(i64::from(halves * 5 + self.rng.i32(0..9)));
        if self.chance(25) {
            part.figures.insert("fluid".into(), Json::String("other".into()));
        }
        if self.chance(15) {
            part.price = None;
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
            let class = class(self.leaders[p]);
            let fits: Vec<&String> = own.iter().filter(|(_, c)| *c == class).map(|(id, _)| id).collect();
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
                plan.waived.insert(CompanionKey::beside(place.clone()), "later".into());
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
                plan.waived.insert(CompanionKey::survey(position), "later".into());
            }
        }
        for (opening, def) in self.file.openings.clone() {
            if self.chance(20) {
                let place = def.wants[1].class.replace("class", "place");
                plan.waived.insert(CompanionKey::beside(place.clone()), "later".into());
            }
            if self.chance(10) {
                let (opening, class) = (opening.clone(), def.wants[0].class.clone());
                plan.waived.insert(CompanionKey::Apart { opening, at: Vec::new(), class }, "later".into());
            }
            if def.wants.len() > 2 && self.chance(15) {
                let class = "service".to_owned();
                plan.waived.insert(CompanionKey::Apart { opening, at: Vec::new(), class }, "later".into());
            }
        }
        if self.chance(15) {
            plan.waived.insert(CompanionKey::Fluid { class: "fluid".into(), n: 0 }, "later".into());
        }
        sheet.plans.insert(PLAN.into(), plan);
        self.measured(&mut sheet);
        if self.size.twins > 0 && self.chance(20) {
            sheet.facts.insert("room".into(), Json::String(format!("{} mm", 92 + self.rng.u8(0..20))));
        }
        self.aged(&mut sheet);
        sheet
    }

    /// Some classes do not last for ever, some of what was found has a date, close to the end of its time more often than
    /// not; some of what was bought was fitted on a day; and what is opened wants something done again. With numbers of
    /// its own, so that all else is the same with it and without.
    fn aged(&mut self, sheet: &mut Sheet) {
        let mut rng = self.rng.clone();
        let lasts = |rng: &mut Rng| Lasts {
            time: (*rng.choice(&["10 years", "120 months", "3652 days"]).unwrap_or(&"10 years")).to_owned(),
            safety: rng.bool(),
            ..Lasts::default()
        };
        let vehicle = &self.file.vehicles[VEHICLE];
        for (position, def) in &vehicle.positions {
            if rng.u8(0..100) >= 35 {
                continue;
            }
            if let Some(class) = self.file.classes.get_mut(&def.class) {
                class.lasts = Some(lasts(&mut rng));
            }
            if let Some(part) = def.as_found.as_ref().and_then(|id| self.file.parts.get_mut(id)) {
                part.safety = rng.u8(0..4) == 0;
            }
            if rng.u8(0..4) > 0 {
                sheet.made.insert(position.clone(), date(&mut rng));
            }
            if rng.u8(0..100) < 20
                && let Some(plan) = sheet.plans.get_mut(PLAN)
            {
                plan.waived.insert(CompanionKey::Age { position: position.clone() }, "later".into());
            }
        }
        if let Some(fluid) = self.file.classes.get_mut("fluid") {
            fluid.lasts = Some(lasts(&mut rng));
        }
        for circuit in vehicle.circuits.keys() {
            // few stay shut, so that many are asked for whose date leaves their age open
            if rng.u8(0..4) > 0 {
                let made = if rng.bool() { "2016".to_owned() } else { date(&mut rng) };
                sheet.made.insert(circuit.clone(), made);
            }
        }
        let bought = sheet.plans[PLAN].routes.values().filter_map(|c| c.part.clone());
        let all: Vec<String> =
            bought.chain(self.file.parts.keys().filter(|id| id.starts_with("sundry-")).cloned()).collect();
        for part in all {
            if rng.u8(0..100) < 40 {
                let fitted = (rng.u8(0..4) > 0).then(|| date(&mut rng));
                sheet.lines.insert(part, Line { state: LineState::Fitted, fitted, ..Line::default() });
            }
        }
        let again = |rng: &mut Rng| {
            let after = [["50 miles", "100 miles"], ["100 miles", "2 weeks"], ["20 min", "500 km"]];
            let many = 1 + rng.usize(0..2);
            let after = after[rng.usize(0..after.len())][..many].iter().map(|text| (*text).to_owned());
            Again {
                what: format!("look again at {}", rng.u8(0..4)),
                after: after.collect(),
                ..Again::default()
            }
        };
        for entry in self.file.port_types.values_mut() {
            if rng.u8(0..100) < 30 {
                entry.later.push(again(&mut rng));
            }
        }
        for entry in self.file.openings.values_mut() {
            if rng.u8(0..100) < 60 {
                entry.later.push(again(&mut rng));
            }
        }
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
                let at = FactKey::Port { port: port.clone(), field: "size".to_owned(), part: id.clone() };
                sheet.facts.insert(at.to_string(), Json::String(value));
            }
        }
    }
}

/// The day of every assessment of a generated sheet.
#[must_use]
pub fn on() -> Date {
    day(DAY).unwrap_or_default()
}

/// A date that things of ten years are near the end of, or far from it.
fn date(rng: &mut Rng) -> String {
    const DATES: [&str; 11] = [
        "1966",
        "2015-12-31",
        "2016",
        "2016",
        "2016-02",
        "2016-02-29",
        "2016-03",
        "2016-03-01",
        "2016-03-02",
        "2017",
        "2026-01",
    ];
    DATES[rng.usize(0..DATES.len())].to_owned()
}
