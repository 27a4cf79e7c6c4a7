//! What answers a search in a library, as text and JSON.

use std::fmt::Write as _;

use knockon_core::Catalogue;
use knockon_core::library_search::places::PlaceHit;
use knockon_core::library_search::{Answer, Hit, LibrarySearch};
use knockon_core::showing::{Measure, count};
use serde_json::{Value, json};

/// What was found, and by what it is told.
pub struct Found<'a> {
    /// The library that was searched.
    pub catalogue: &'a Catalogue,
    /// The same, taken apart.
    pub search: &'a LibrarySearch,
    /// What answers.
    pub answer: &'a Answer,
    /// The vehicle that is looked at besides; `None`: the library alone.
    pub vehicle: Option<&'a str>,
    /// Places of its plan where something sits that answers; `None` with it.
    pub places: Option<Vec<PlaceHit>>,
    /// Whose units quantities are told in.
    pub measure: Measure,
}

/// Lines of each list that are printed.
const SHOWN: usize = 40;

impl Found<'_> {
    /// For a person at a terminal.
    #[must_use]
    pub fn text(&self) -> String {
        let answer = self.answer;
        let mut out = format!("{}\n", answer.understood.say());
        match answer.hits.len() {
            0 if answer.open.is_empty() => {
                out.push_str("\nNo part answers. Fewer words find more; a size takes its unit, such as 470 mm or 5/16 in.\n");
                return out;
            }
            0 => out.push_str("\nNo part surely answers.\n"),
            n => {
                let _ = writeln!(out, "\n{}", count(n, "part answers", "parts answer"));
            }
        }
        self.list(&mut out, &answer.hits);
        if !answer.open.is_empty() {
            let _ = writeln!(
                out,
                "\nNot known of {}, so that each may answer or not",
                count(answer.open.len(), "part", "parts")
            );
            self.list(&mut out, &answer.open);
        }
        self.on_the_vehicle(&mut out);
        out
    }

    fn on_the_vehicle(&self, out: &mut String) {
        let Some(places) = &self.places else { return };
        if places.is_empty() {
            out.push_str("\nNothing that answers sits on this vehicle, as the plan leaves it.\n");
            return;
        }
        let _ = writeln!(out, "\nOn this vehicle, as the plan leaves it");
        for place in places {
            let ports =
                if place.ports.is_empty() { String::new() } else { format!(": {}", place.ports.join(", ")) };
            let _ = writeln!(out, "  {} ({}){ports}\n      {}", place.name, place.position, place.part.1);
        }
    }

    fn list(&self, out: &mut String, hits: &[Hit]) {
        let mut groups: Vec<(&str, Vec<&Hit>)> = Vec::new();
        for hit in hits.iter().take(SHOWN) {
            let system = self.system(hit).map_or("Used loose", |(_, name)| name);
            match groups.iter_mut().find(|(of, _)| *of == system) {
                Some((_, list)) => list.push(hit),
                None => groups.push((system, vec![hit])),
            }
        }
        for (system, hits) in groups {
            let _ = writeln!(out, "  {system}");
            for hit in hits {
                self.one(out, hit);
            }
        }
        if hits.len() > SHOWN {
            let more = count(hits.len() - SHOWN, "more", "more");
            let _ = writeln!(out, "  and {more}; more words narrow it down, --json has all");
        }
    }

    fn system(&self, hit: &Hit) -> Option<(&str, &str)> {
        let part = self.catalogue.parts.get(hit.part)?;
        self.catalogue.system_of(part.class, self.vehicle)
    }

    fn one(&self, out: &mut String, hit: &Hit) {
        let Some(part) = self.catalogue.parts.get(hit.part) else { return };
        let id = self.catalogue.part_names.id(hit.part);
        let price = part.part.price.as_ref().map_or_else(String::new, |price| format!(", {price}"));
        let _ = writeln!(out, "    {}{price}  [{id}]", part.part.name);
        for why in self
            .search
            .why(self.catalogue, self.answer, hit, self.measure)
            .iter()
            .filter(|why| !why.starts_with("price "))
        {
            let _ = writeln!(out, "        {why}");
        }
        if let Some(vehicle) = self.vehicle {
            let places = self.catalogue.places_of(vehicle, part.class);
            let names: Vec<&str> = places.iter().map(|(id, _)| id.as_str()).collect();
            if !names.is_empty() {
                let _ = writeln!(out, "        would go to: {}", names.join(", "));
            }
        }
    }

    /// For another program.
    #[must_use]
    pub fn json(&self) -> Value {
        let list = |hits: &[Hit]| -> Vec<Value> { hits.iter().filter_map(|hit| self.hit(hit)).collect() };
        let places = self.places.as_ref().map(|places| {
            let one = |place: &PlaceHit| {
                json!({"position": place.position, "name": place.name, "part": place.part.0, "part_name": place.part.1, "ports": place.ports})
            };
            places.iter().map(one).collect::<Vec<_>>()
        });
        json!({
            "understood": self.answer.understood.say(), "parts": list(&self.answer.hits), "not_known": list(&self.answer.open), "places": places,
        })
    }

    fn hit(&self, hit: &Hit) -> Option<Value> {
        let part = self.catalogue.parts.get(hit.part)?;
        let places = self.vehicle.map(|vehicle| {
            let all = self.catalogue.places_of(vehicle, part.class);
            all.into_iter().map(|(id, _)| id).collect::<Vec<_>>()
        });
        Some(json!({
            "id": self.catalogue.part_names.id(hit.part),
            "name": part.part.name,
            "class": self.catalogue.class_names.id(part.class),
            "system": self.system(hit).map(|(id, _)| id),
            "price": part.part.price.as_ref().map(ToString::to_string),
            "why": self.search.why(self.catalogue, self.answer, hit, self.measure),
            "would_go_to": places,
            "score": (f64::from(hit.score) * 1000.0).round() / 1000.0,
        }))
    }
}
