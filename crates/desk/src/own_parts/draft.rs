//! A part of the user's own while it is typed: every value is checked as it stands, and nothing typed is thrown away.

use std::collections::BTreeMap;

use knockon_core::library::{Part, Port};
use knockon_core::{Money, money};
use serde_json::Value as Json;

use crate::own_parts::field::{DraftPort, Field, PoolRow};
use crate::own_parts::shelf::Shelf;
use crate::wording;

/// Most letters of a name.
const MOST: usize = 120;

/// The part as typed so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Id of the part it replaces; `None` for a new one.
    pub id: Option<String>,
    /// The position it is for.
    pub position: String,
    /// Class of that position.
    pub class: String,
    /// Part id it started from.
    pub start: Option<String>,
    /// As shown.
    pub name: String,
    /// Amount, with or without a currency.
    pub price: String,
    /// Own hours to fit.
    pub hours: String,
    /// From whom.
    pub supplier: String,
    /// Ports.
    pub ports: Vec<DraftPort>,
    /// Measured figures.
    pub figures: Vec<Field>,
    /// Pools.
    pub pools: Vec<PoolRow>,
    /// What is carried over from the start unseen by the form's fields: needs, what it offers, cautions.
    pub rest: Part,
}

impl Draft {
    /// A new part for a position, started from the part that is there as found.
    pub fn new(shelf: &Shelf<'_>, position: &str, as_found: Option<&str>) -> Option<Self> {
        let class = shelf.class_at(position)?;
        let start =
            as_found.map(str::to_owned).or_else(|| shelf.starts(&class).first().map(|(id, _)| id.clone()));
        let mut draft = Self {
            id: None,
            position: position.to_owned(),
            rest: Part { class: class.clone(), ..Part::default() },
            class,
            start: None,
            name: String::new(),
            price: String::new(),
            hours: String::new(),
            supplier: String::new(),
            ports: Vec::new(),
            figures: Vec::new(),
            pools: Vec::new(),
        };
        if let Some(start) = start {
            draft.start_from(shelf, &start);
        }
        Some(draft)
    }

    /// A part of the user's own, to change.
    pub fn of(shelf: &Shelf<'_>, id: &str) -> Option<Self> {
        let part = shelf.part(id)?;
        let position = shelf.position_of(&part.class)?;
        let mut draft = Self::new(shelf, &position, Some(id))?;
        draft.id = Some(id.to_owned());
        draft.start = None;
        draft.name.clone_from(&part.name);
        draft.price = part.price.as_ref().map(Money::to_string).unwrap_or_default();
        draft.hours = part.hours.map(|h| h.to_string()).unwrap_or_default();
        draft.supplier.clone_from(&part.supplier);
        Some(draft)
    }

    /// Takes ports, figures and pools from another part; what the user typed stays where it still has a place.
    pub fn start_from(&mut self, shelf: &Shelf<'_>, id: &str) {
        let Some(part) = shelf.part(id) else { return };
        let typed: BTreeMap<(String, String), String> = self
            .ports
            .iter()
            .flat_map(|p| p.fields.iter().map(|f| (p.name.clone(), f)))
            .chain(self.figures.iter().map(|f| (String::new(), f)))
            .filter(|(_, f)| f.touched)
            .map(|(port, f)| ((port, f.id.clone()), f.text.clone()))
            .collect();
        let keep = |port: &str, field: &mut Field| {
            if let Some(text) = typed.get(&(port.to_owned(), field.id.clone())) {
                field.text.clone_from(text);
                field.touched = true;
            }
        };
        self.start = Some(id.to_owned());
        self.ports = part.ports.iter().filter_map(|(name, port)| shelf.port(name, port)).collect();
        for port in &mut self.ports {
            let name = port.name.clone();
            port.fields.iter_mut().for_each(|f| keep(&name, f));
        }
        self.figures = part
            .figures
            .iter()
            .filter_map(|(id, json)| {
                let mut field = shelf.figure(id)?;
                field.read(json);
                keep("", &mut field);
                Some(field)
            })
            .collect();
        let typed_pools = self.pools.iter().filter(|row| row.field.touched).cloned().collect::<Vec<_>>();
        let row = |gives: bool, id: &String, text: &String| {
            let field = Field { text: text.clone(), ..shelf.pool(id)? };
            Some(PoolRow { gives, field })
        };
        let given = part.gives.iter().filter_map(|(id, text)| row(true, id, text));
        let taken = part.takes.iter().filter_map(|(id, text)| row(false, id, text));
        let same = |a: &PoolRow, b: &PoolRow| a.gives == b.gives && a.field.id == b.field.id;
        self.pools = given.chain(taken).filter(|new| !typed_pools.iter().any(|old| same(old, new))).collect();
        self.pools.extend(typed_pools);
        self.rest = Part {
            class: self.class.clone(),
            needs: part.needs.clone(),
            advises: part.advises.clone(),
            offers: part.offers.clone(),
            holds: part.holds.clone(),
            bridges: part.bridges.clone(),
            reversible: part.reversible,
            undone: part.undone.clone(),
            safety: part.safety,
            cautions: part.cautions.clone(),
            ..Part::default()
        };
    }

    /// What is wrong with the name.
    pub fn name_trouble(&self) -> Option<String> {
        let none = self.name.trim().is_empty();
        let wanted = none.then(|| "a name is wanted, starting with what the part is".to_owned());
        wanted.or_else(|| wording::no_line(&self.name, MOST))
    }

    /// What is wrong with the supplier.
    pub fn supplier_trouble(&self) -> Option<String> {
        wording::no_line(&self.supplier, MOST)
    }

    /// The price read; without a currency it is the sheet's.
    ///
    /// # Errors
    /// What is wrong with it.
    pub fn price(&self, currency: &str) -> Result<Money, String> {
        money::typed(&self.price, currency).map_err(|why| why.to_string())?.ok_or_else(|| {
            "a price is wanted, 0 where you have the part: without one it is not offered".to_owned()
        })
    }

    /// The hours read; empty: not known.
    ///
    /// # Errors
    /// What is wrong with them.
    pub fn hours(&self) -> Result<Option<f64>, String> {
        let text = self.hours.trim();
        let text = text.strip_suffix('h').unwrap_or(text).trim();
        if text.is_empty() {
            return Ok(None);
        }
        match text.parse::<f64>() {
            Ok(hours) if (0.0..=10_000.0).contains(&hours) => Ok(Some(hours)),
            _ => Err(format!("expected hours such as \"1.5\", found \"{}\"", wording::begin(text))),
        }
    }

    /// How many fields cannot be saved as they stand.
    pub fn troubles(&self, currency: &str) -> usize {
        let fields = self.figures.iter().chain(self.pools.iter().map(|row| &row.field));
        usize::from(self.name_trouble().is_some())
            + usize::from(self.supplier_trouble().is_some())
            + usize::from(self.price(currency).is_err())
            + usize::from(self.hours().is_err())
            + self.ports.iter().map(|p| p.troubles().count()).sum::<usize>()
            + fields.filter(|f| f.trouble().is_some()).count()
    }

    /// The part with its id, once nothing is wrong any more.
    pub fn build(&self, shelf: &Shelf<'_>, currency: &str) -> Option<(String, Part)> {
        if self.troubles(currency) > 0 {
            return None;
        }
        let values = |fields: &[Field]| -> BTreeMap<String, Json> {
            fields.iter().filter_map(|f| Some((f.id.clone(), f.json()?))).collect()
        };
        let pools = |gives: bool| -> BTreeMap<String, String> {
            let rows = self.pools.iter().filter(|row| row.gives == gives);
            rows.map(|row| (row.field.id.clone(), row.field.text.trim().to_owned())).collect()
        };
        let port = |p: &DraftPort| (p.name.clone(), Port { fields: values(&p.fields), ..p.copied.clone() });
        let part = Part {
            name: self.name.trim().to_owned(),
            price: self.price(currency).ok(),
            hours: self.hours().ok().flatten(),
            supplier: self.supplier.trim().to_owned(),
            ports: self.ports.iter().map(port).collect(),
            figures: values(&self.figures),
            gives: pools(true),
            takes: pools(false),
            ..self.rest.clone()
        };
        Some((self.id.clone().unwrap_or_else(|| shelf.free_id(&self.name)), part))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::Draft;
    use crate::own_parts::shelf::Shelf;
    use knockon_core::library::Written;
    use knockon_core::{Edit, Sheet, apply};

    fn sheet() -> Sheet {
        knockon_store::sheets::parse("example", knockon_store::library::example()).unwrap()
    }

    #[test]
    fn every_part_of_the_library_can_be_copied_and_keeps_its_ports() {
        let (catalogue, sheet) = (knockon_store::library::shipped(), sheet());
        let shelf = Shelf::new(&catalogue, &sheet);
        let vehicle = &catalogue.vehicles[&sheet.vehicle];
        let mut copied = 0;
        for position in vehicle.positions.values() {
            let class = shelf.class_at(&position.id).unwrap();
            for (id, _) in shelf.starts(&class) {
                let mut draft = Draft::new(&shelf, &position.id, Some(&id)).unwrap();
                assert_eq!(draft.troubles("USD"), 2, "{id}: name and price are wanted, nothing else");
                draft.name = "My own".to_owned();
                draft.price = "12.50".to_owned();
                let (own, part) = draft.build(&shelf, "USD").unwrap();
                let old = shelf.part(&id).unwrap();
                assert!(shelf.part(&own).is_none());
                assert_eq!(part.ports, old.ports, "{id}");
                assert_eq!((&part.gives, &part.takes), (&old.gives, &old.takes), "{id}");
                assert_eq!(part.figures.len(), old.figures.len(), "{id}");
                assert_eq!(part.price.unwrap().to_string(), "12.50 USD");
                copied += 1;
            }
        }
        assert!(copied > 100, "{copied}");
    }

    #[test]
    fn what_cannot_be_read_is_told_and_stays() {
        let (catalogue, sheet) = (knockon_store::library::shipped(), sheet());
        let shelf = Shelf::new(&catalogue, &sheet);
        let mut draft = Draft::new(&shelf, "carburettor", None).unwrap();
        draft.name = "Carburettor from the shed".to_owned();
        draft.price = "ten".to_owned();
        draft.hours = "-1".to_owned();
        let why = draft.price("USD").unwrap_err();
        assert!(why.starts_with("\"ten\" is no price") && why.contains("412.50 USD"), "{why}");
        assert!(draft.hours().is_err());
        assert_eq!(draft.troubles("USD"), 2);
        assert_eq!(draft.build(&shelf, "USD"), None);
        draft.price = "99999999".to_owned();
        assert!(draft.price("USD").unwrap_err().contains("10,000,000"));
        draft.price = "1.250,00 EUR".to_owned();
        draft.hours = "2.5 h".to_owned();
        let length =
            draft.ports.iter_mut().flat_map(|p| &mut p.fields).find(|f| f.text.ends_with(" mm")).unwrap();
        length.text = "3.5 psi".to_owned();
        length.touched = true;
        assert!(length.trouble().unwrap().contains("length"), "{:?}", length.trouble());
        length.text.clear();
        assert_eq!(length.trouble().is_some(), !length.optional);
        length.text = "unknown: calliper, to 0.1 mm".to_owned();
        assert_eq!(length.trouble(), None);
        let (id, part) = draft.build(&shelf, "USD").unwrap();
        assert_eq!(id, "own-carburettor-from-the-shed");
        assert_eq!(part.price.as_ref().unwrap().to_string(), "1250.00 EUR");
        assert_eq!(part.hours, Some(2.5));
        assert_eq!(part.class, "carburettor");
        // what was typed outlives another start
        let other = shelf
            .starts("carburettor")
            .into_iter()
            .map(|(id, _)| id)
            .find(|id| Some(id) != draft.start.as_ref());
        draft.start_from(&shelf, &other.unwrap());
        let kept = draft
            .ports
            .iter()
            .flat_map(|p| &p.fields)
            .filter(|f| f.text.starts_with("unknown: calliper"))
            .count();
        assert_eq!(kept, 1);
        assert_eq!(draft.name, "Carburettor from the shed");
    }

    #[test]
    fn a_word_no_other_part_has_at_such_a_port_is_told_with_the_nearest() {
        let (catalogue, sheet) = (knockon_store::library::shipped(), sheet());
        let shelf = Shelf::new(&catalogue, &sheet);
        let mut draft = Draft::new(&shelf, "carburettor", None).unwrap();
        let male = |words: &Vec<String>| words.contains(&"male".to_owned());
        let port = draft.ports.iter_mut().find(|p| p.words.values().any(male)).unwrap();
        let id = port.words.iter().find(|(_, words)| male(words)).unwrap().0.clone();
        let mut say = |text: &str| {
            port.fields.iter_mut().find(|f| f.id == id).unwrap().text = text.to_owned();
            port.troubles().next()
        };
        let why = say("mael").unwrap();
        assert!(why.contains("\"mael\"") && why.contains("did you mean \"male\"?"), "{why}");
        let why = say("zzz").unwrap();
        assert!(why.contains("\"female\"") && why.contains("\"male\""), "{why}");
        assert!(say("male or femal").unwrap().contains("\"femal\""), "each of several is looked at");
        for good in ["male", "male or female", "unknown: look at its end", "any"] {
            assert_eq!(say(good), None, "{good}");
        }
        say("mael");
        draft.name = "Mine".to_owned();
        draft.price = "1".to_owned();
        assert_eq!((draft.troubles("USD"), draft.build(&shelf, "USD")), (1, None));
    }

    #[test]
    fn a_saved_part_can_be_changed_under_its_id() {
        let (catalogue, mut sheet) = (knockon_store::library::shipped(), sheet());
        let (id, part) = {
            let shelf = Shelf::new(&catalogue, &sheet);
            let mut draft = Draft::new(&shelf, "fuel-pump", None).unwrap();
            draft.name = "Pump".to_owned();
            draft.price = "0".to_owned();
            draft.build(&shelf, "USD").unwrap()
        };
        apply(
            &mut sheet,
            &Edit::PutPart { id: id.clone(), part: Some(Box::new(Written::whole(part.clone()))) },
        )
        .unwrap();
        let (_, faults) = catalogue.with_parts(&sheet.parts);
        assert!(faults.iter().all(|f| f.warning || !f.path.contains(&id)), "{faults:?}");
        let shelf = Shelf::new(&catalogue, &sheet);
        let draft = Draft::of(&shelf, &id).unwrap();
        assert_eq!(draft.build(&shelf, "USD"), Some((id.clone(), part)));
        let mut second = Draft::new(&shelf, "fuel-pump", Some(&id)).unwrap();
        second.name = "Pump".to_owned();
        second.price = "1".to_owned();
        assert_ne!(second.build(&shelf, "USD").unwrap().0, id, "another part, another id");
    }
}
