//! What an inspection looks at besides its reading: what was found in a place, its figures, and facts of the vehicle.

use crate::catalogue::{Catalogue, InspectionEntry, PartId, PositionId, VehicleEntry};
use crate::key::FactKey;
use crate::library::Against;
use crate::sheet::Sheet;
use crate::value::{Kind, Value};

/// A sheet, its vehicle and the library for it.
#[derive(Clone, Copy)]
pub(super) struct Around<'a> {
    pub sheet: &'a Sheet,
    pub cat: &'a Catalogue,
    pub v: &'a VehicleEntry,
}

impl Around<'_> {
    /// The part that was found in a place; `None`: nothing, or nothing of its class.
    pub fn found(&self, pos: PositionId) -> Option<PartId> {
        let place = &self.v.positions[pos];
        match self.sheet.as_found.get(&place.id) {
            None => place.as_found,
            Some(None) => None,
            Some(Some(id)) => {
                self.cat.part_names.get(id).filter(|part| self.cat.parts[*part].class == place.class)
            }
        }
    }

    /// Whether a place has an inspection: what was found there is of its class, in its whereabouts, with the figure it needs,
    /// on a vehicle built as it wants.
    pub fn has(&self, entry: &InspectionEntry, pos: PositionId) -> bool {
        let (def, place) = (&entry.def, &self.v.positions[pos]);
        self.found(pos).is_some()
            && def.whom.iter().any(|whom| whom == self.class(pos))
            && place.whereabouts.bears(&def.whereabouts)
            && def.having.as_ref().is_none_or(|figure| self.figure(pos, figure).is_some())
            && self.v.is_built_so(&def.built)
    }

    /// The class id of a place.
    pub fn class(&self, pos: PositionId) -> &str {
        self.cat.class_names.id(self.v.positions[pos].class)
    }

    /// A fact of the vehicle: measured, else as the library has it.
    pub fn fact(&self, figure: &str) -> Option<Value> {
        let ix = self.cat.figure_names.get(figure)?;
        let kind = self.cat.figures.get(ix)?.1;
        let key = FactKey::Vehicle { figure: figure.to_owned() };
        let measured = self.measured(&key, kind);
        measured.or_else(|| self.v.facts.get(&ix).cloned())
    }

    fn measured(&self, key: &FactKey, kind: Kind) -> Option<Value> {
        Value::read(self.sheet.facts.get(&key.to_string())?, kind).ok()
    }

    /// What bounds are counted from, least and most; `None` where it is not known.
    pub fn counted_from(&self, against: &Against, pos: PositionId) -> Option<(f64, f64)> {
        if let Some(fact) = &against.fact {
            return self.fact(fact)?.bounds();
        }
        let class = against.class.as_deref();
        let here = class.is_none_or(|class| class == self.class(pos)).then_some(pos);
        let elsewhere =
            || self.v.positions.ids().find(|p| Some(self.class(*p)) == class && self.found(*p).is_some());
        let pos = here.or_else(elsewhere)?;
        if let Some(figure) = &against.figure {
            return self.figure(pos, figure)?.bounds();
        }
        let entry = &self.cat.parts[self.found(pos)?];
        let name = self.cat.port_names.get(against.port.as_deref()?)?;
        let port = entry.ports.iter().find(|port| port.name_ix == name)?;
        let fields = &self.cat.port_types.get(port.port_type)?.fields;
        let at = fields.iter().position(|(id, ..)| Some(id.as_str()) == against.field.as_deref())?;
        port.values.get(at)?.as_ref()?.bounds()
    }

    /// A figure of what was found in a place: measured, else as the library has it.
    pub fn figure(&self, pos: PositionId, figure: &str) -> Option<Value> {
        let part = self.found(pos)?;
        let ix = self.cat.figure_names.get(figure)?;
        let id = self.cat.part_names.id(part).to_owned();
        let key = FactKey::Part { figure: figure.to_owned(), part: id };
        let measured = self.measured(&key, self.cat.figures.get(ix)?.1);
        let written = || self.cat.parts[part].figures.iter().find(|(f, _)| *f == ix);
        measured.or_else(|| written().map(|(_, value)| value.clone()))
    }

    /// Whether what was found in a place has a port of a type.
    pub fn has_port(&self, pos: PositionId, port_type: &str) -> bool {
        let Some(part) = self.found(pos) else { return false };
        let wanted = self.cat.port_type_names.get(port_type);
        wanted.is_some_and(|wanted| self.cat.parts[part].ports.iter().any(|port| port.port_type == wanted))
    }
}
