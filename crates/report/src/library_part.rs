//! One part of a library, where it fits, and another beside it, as text and JSON.

use std::fmt::Write as _;

use knockon_core::library::Level;
use knockon_core::library_search::beside::{Row, Stands};
use knockon_core::library_search::fits::{Fit, Fits};
use knockon_core::library_search::part_page::{Line, PartPage};
use knockon_core::phrase::Phrase;
use serde_json::{Value, json};

/// A part and what is told of it.
pub struct Told<'a> {
    /// The part.
    pub page: &'a PartPage,
    /// The one beside it.
    pub second: Option<&'a PartPage>,
    /// The two, row by row.
    pub rows: Option<&'a [Row]>,
    /// Where the first fits.
    pub fits: Option<&'a Fits>,
}

impl Told<'_> {
    /// For a person at a terminal.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        match (self.second, self.rows) {
            (Some(second), Some(rows)) => side_by_side(&mut out, self.page, second, rows),
            _ => page(&mut out, self.page),
        }
        if let Some(fits) = self.fits {
            where_it_fits(&mut out, fits);
        }
        out
    }

    /// For another program.
    #[must_use]
    pub fn json(&self) -> Value {
        let rows = self.rows.map(|rows| {
            let one = |row: &Row| {
                json!({"group": row.group, "name": row.name, "first": row.first, "second": row.second, "stands": row.stands.word()})
            };
            rows.iter().map(one).collect::<Vec<_>>()
        });
        json!({
            "part": page_json(self.page), "beside": self.second.map(page_json), "rows": rows, "fits": self.fits.map(fits_json),
        })
    }
}

fn page(out: &mut String, page: &PartPage) {
    let _ = writeln!(out, "{}  [{}]", page.name, page.id);
    let mut facts = vec![page.class.clone()];
    facts.push(page.price.as_ref().map_or_else(|| "price not known".to_owned(), ToString::to_string));
    facts.extend(page.hours.map(|hours| format!("{hours} h of one's own to fit")));
    if !page.supplier.is_empty() {
        facts.push(page.supplier.clone());
    }
    let _ = writeln!(out, "  {}", facts.join(", "));
    if !page.note.is_empty() {
        let _ = writeln!(out, "  {}", page.note);
    }
    if !page.ports.is_empty() {
        let _ = writeln!(out, "\nPorts");
    }
    for port in &page.ports {
        let _ = writeln!(out, "  {} ({})", port.name, port.kind);
        port.fields.iter().for_each(|line| one(out, line, "      "));
    }
    for (title, lines) in [("Numbers", &page.numbers), ("Needs", &page.needs)] {
        if !lines.is_empty() {
            let _ = writeln!(out, "\n{title}");
            lines.iter().for_each(|line| one(out, line, "  "));
        }
    }
    if !page.contents.is_empty() {
        let _ = writeln!(out, "\nIn the box");
        for (qty, id, name) in &page.contents {
            let _ = writeln!(out, "  {qty} x {name}  [{id}]");
        }
    }
    for missing in &page.not_in_box {
        let _ = writeln!(out, "  not in the box: {missing}");
    }
    for caution in &page.cautions {
        let guard = Phrase::read(&caution.guard).in_both();
        let _ = writeln!(out, "\nCaution: {}\n  {guard}", caution.danger);
    }
    if !page.undone.is_empty() {
        let _ = writeln!(out, "\nIt {}", page.undone);
    }
}

fn one(out: &mut String, line: &Line, lead: &str) {
    let value = if line.value.is_empty() { String::new() } else { format!(" {}", line.value) };
    let source = if line.source.is_empty() { String::new() } else { format!("  ({})", line.source) };
    let _ = writeln!(out, "{lead}{}{value}{source}", line.name);
    if !line.how.is_empty() {
        let _ = writeln!(out, "{lead}    to measure: {}", line.how);
    }
}

fn side_by_side(out: &mut String, first: &PartPage, second: &PartPage, rows: &[Row]) {
    let _ = writeln!(out, "First:  {}  [{}]\nSecond: {}  [{}]", first.name, first.id, second.name, second.id);
    let differs = rows.iter().filter(|row| row.stands == Stands::Differs).count();
    let alone = rows.iter().filter(|row| !matches!(row.stands, Stands::Same | Stands::Differs)).count();
    let _ =
        writeln!(out, "{} the same, {differs} differ, {alone} only one has", rows.len() - differs - alone);
    let mut group = "";
    for row in rows {
        if row.group != group {
            group = &row.group;
            let _ = writeln!(out, "\n{group}");
        }
        let text = |value: &Option<String>| value.clone().unwrap_or_else(|| "-".to_owned());
        let _ = match row.stands {
            Stands::Same => writeln!(out, "  = {}: {}", row.name, text(&row.first)),
            Stands::Differs => {
                writeln!(out, "  x {}: {} | {}", row.name, text(&row.first), text(&row.second))
            }
            Stands::OnlyFirst => writeln!(out, "  1 {}: {} | -", row.name, text(&row.first)),
            Stands::OnlySecond => writeln!(out, "  2 {}: - | {}", row.name, text(&row.second)),
        };
    }
}

fn where_it_fits(out: &mut String, fits: &Fits) {
    let _ = writeln!(out, "\nWhere it fits on this vehicle");
    if !fits.none.is_empty() {
        let _ = writeln!(out, "  {}", fits.none);
    }
    for meets in &fits.meets {
        let places: Vec<String> =
            meets.places.iter().map(|(_, name, port)| format!("{name} ({port})")).collect();
        let _ = writeln!(out, "  its {} joins: {}", meets.port, places.join(", "));
    }
    fits.places.iter().for_each(|fit| place(out, fit));
}

fn place(out: &mut String, fit: &Fit) {
    let _ = writeln!(out, "  {} ({}): {}", fit.name, fit.position, fit.outcome.words());
    if let Some(other) = &fit.replaces {
        let _ = writeln!(out, "      takes the place of: {other}");
    }
    for (name, why) in &fit.clashes {
        let _ = writeln!(out, "      does not fit: {name}: {why}");
    }
    for name in &fit.clears {
        let _ = writeln!(out, "      fits again: {name}");
    }
    for what in &fit.to_measure {
        let _ = writeln!(out, "      to measure: {what}");
    }
    for dragged in &fit.drags {
        let sign = if dragged.level == Level::Required { '+' } else { '~' };
        let qty = if dragged.qty > 1 { format!("{} x ", dragged.qty) } else { String::new() };
        let between = if dragged.bridge { ", put between" } else { "" };
        let _ = writeln!(out, "      {sign} {qty}{}{between}: {}", dragged.name, dragged.why);
    }
    for name in &fit.surplus {
        let _ = writeln!(out, "      no longer needed: {name}");
    }
}

fn line_json(line: &Line) -> Value {
    json!({"name": line.name, "value": line.value, "source": line.source, "to_measure": line.how})
}

fn page_json(page: &PartPage) -> Value {
    let ports = page.ports.iter().map(|port| {
        json!({"name": port.name, "type": port.kind, "fields": port.fields.iter().map(line_json).collect::<Vec<_>>()})
    });
    let contents = page.contents.iter().map(|(qty, id, name)| json!({"qty": qty, "part": id, "name": name}));
    let cautions =
        page.cautions.iter().map(|caution| json!({"danger": caution.danger, "guard": caution.guard}));
    json!({
        "id": page.id, "name": page.name, "class": page.class, "price": page.price.as_ref().map(ToString::to_string), "hours": page.hours,
        "supplier": page.supplier, "ports": ports.collect::<Vec<_>>(), "numbers": page.numbers.iter().map(line_json).collect::<Vec<_>>(),
        "needs": page.needs.iter().map(line_json).collect::<Vec<_>>(), "contents": contents.collect::<Vec<_>>(),
        "not_in_box": page.not_in_box, "cautions": cautions.collect::<Vec<_>>(), "undone": page.undone, "leaves": page.leaves, "note": page.note,
    })
}

fn fits_json(fits: &Fits) -> Value {
    let places = fits.places.iter().map(|fit| {
        let drags = fit.drags.iter().map(|d| {
            let level = if d.level == Level::Required { "required" } else { "advised" };
            json!({"name": d.name, "qty": d.qty, "level": level, "bridge": d.bridge, "why": d.why})
        });
        let clashes = fit.clashes.iter().map(|(name, why)| json!({"name": name, "why": why}));
        json!({
            "position": fit.position, "name": fit.name, "outcome": fit.outcome.word(), "replaces": fit.replaces,
            "drags": drags.collect::<Vec<_>>(), "clashes": clashes.collect::<Vec<_>>(), "clears": fit.clears,
            "to_measure": fit.to_measure, "surplus": fit.surplus, "hours": fit.hours,
        })
    });
    let meets = fits.meets.iter().map(|meets| {
        let places =
            meets.places.iter().map(|(id, name, port)| json!({"position": id, "name": name, "port": port}));
        json!({"port": meets.port, "places": places.collect::<Vec<_>>()})
    });
    json!({"places": places.collect::<Vec<_>>(), "meets": meets.collect::<Vec<_>>(), "none": fits.none})
}
