//! Figures below zero that nobody means so: a length with a minus is a slip of the keyboard, an offset is none.

use std::collections::BTreeSet;

use super::build::Ctx;
use super::{FigureId, PartId};
use crate::library::LibraryFile;
use crate::value::Value;

pub(super) fn below_zero(files: &[(String, LibraryFile)], ctx: &mut Ctx) {
    let all = files.iter().flat_map(|(_, file)| &file.figures);
    let signed: BTreeSet<FigureId> =
        all.filter(|(_, def)| def.signed).filter_map(|(id, _)| ctx.cat.figure_names.get(id)).collect();
    let is_slip = |figure: FigureId, value: &Value| {
        let dimension = value.dimension().filter(|dimension| !dimension.has_sides());
        let is_below = value.bounds().is_some_and(|(low, _)| low < 0.0)
            && matches!(value, Value::Quantity(q) if q.si < 0.0);
        dimension.is_some() && is_below && !signed.contains(&figure)
    };
    let mut told = Vec::new();
    for (file, content) in files {
        let mut look = |path: &str, figure: FigureId, value: &Value| {
            if is_slip(figure, value) {
                let id = ctx.cat.figure_names.id(figure);
                let message = format!(
                    "expected 0 or more, found \"{}\"; where this can be below zero, as an offset can, write \"signed\": \
                     true at the figure \"{id}\"",
                    value.text()
                );
                told.push((file.clone(), format!("{path}.{id}"), message));
            }
        };
        for id in content.parts.keys() {
            let Some(part) = ctx.cat.part_names.get(id).and_then(|ix: PartId| ctx.cat.parts.get(ix)) else {
                continue;
            };
            part.figures.iter().for_each(|(f, v)| look(&format!("parts.{id}.figures"), *f, v));
            part.sets.iter().for_each(|(f, v)| look(&format!("parts.{id}.sets"), *f, v));
        }
        for (id, written) in &content.vehicles {
            let Some(vehicle) = ctx.cat.vehicles.get(id) else { continue };
            for figure in written.facts.keys().filter_map(|figure| ctx.cat.figure_names.get(figure)) {
                if let Some(value) = vehicle.facts.get(&figure) {
                    look(&format!("vehicles.{id}.facts"), figure, value);
                }
            }
            for pid in written.positions.keys() {
                let Some(at) = vehicle.position_ix.get(pid) else { continue };
                let figures = &vehicle.positions[*at].figures;
                figures
                    .iter()
                    .for_each(|(f, v)| look(&format!("vehicles.{id}.positions.{pid}.figures"), *f, v));
            }
        }
    }
    for (file, path, message) in told {
        ctx.faults.warn(&file, path, message);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use crate::Catalogue;
    use crate::library::LibraryFile;

    fn told(change: impl FnOnce(&mut Json)) -> Vec<String> {
        let mut file = json!({
            "format": 1,
            "systems": {"all": {"name": "All"}},
            "classes": {"wheel": {"name": "Wheel", "decided": "owner"}},
            "figures": {"offset": {"name": "offset", "kind": "length"}, "camber": {"name": "camber", "kind": "angle"}},
            "parts": {"steel": {"name": "Wheel", "class": "wheel", "price": "1 USD", "figures": {"offset": "12 mm", "camber": "-1°"}}},
            "vehicles": {"cart": {"name": "Cart", "facts": {"offset": "0 mm"}, "positions": {
                "wheel": {"name": "Wheel", "system": "all", "class": "wheel", "as_found": "steel", "figures": {"offset": "3 mm"}}}}}
        });
        change(&mut file);
        let file: LibraryFile = serde_json::from_value(file).unwrap();
        let faults = Catalogue::new(vec![("cart".to_owned(), file)]).1;
        faults.into_iter().filter(|f| f.message.starts_with("expected 0 or more")).map(|f| f.path).collect()
    }

    #[test]
    fn a_length_below_zero_is_told_wherever_it_stands_and_an_offset_is_not() {
        assert_eq!(told(|_| ()), [""; 0]);
        for (pointer, path) in [
            ("/parts/steel/figures/offset", "parts.steel.figures.offset"),
            ("/vehicles/cart/facts/offset", "vehicles.cart.facts.offset"),
            ("/vehicles/cart/positions/wheel/figures/offset", "vehicles.cart.positions.wheel.figures.offset"),
        ] {
            let below = |file: &mut Json| *file.pointer_mut(pointer).unwrap() = json!("-12 mm");
            assert_eq!(told(below), [path]);
            let signed = told(|file| {
                below(file);
                file["figures"]["offset"]["signed"] = json!(true);
            });
            assert_eq!(signed, [""; 0]);
        }
    }
}
