//! Limits of wires and fuses: volts lost, and a fuse that holds the load and guards the wire.

use knockon_figures::wiring::fuse::{HEADROOM, RATINGS};
use knockon_figures::wiring::gauge::gauge_name;
use knockon_figures::wiring::size::SIZES;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, close, less, one, qty, said};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Area, Current, Voltage};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[Declared {
    name: "wire-drop",
    figure: "wire-drop",
    called: &[],
    fixed: &[("return", ""), ("temperature", "20 °C"), ("bus", "")],
    asks: &[one("most", Voltage)],
    holds: Holds::AtMost("voltage lost", "most"),
    says: "the cable loses {voltage lost}, at most {most} wanted",
    levers: &[said("area", Way::Sizes(areas), cable), less("length", "length of the run")],
}];

pub(super) const ALL: &[Own] = &[Own {
    name: "wire-fuse",
    inputs: &[one("area", Area), one("fuse", Current), one("load", Current)],
    levers: &[
        said("fuse", Way::Sizes(|| RATINGS.to_vec()), |a| phrase!["a fuse of ", qty(a, Current)]),
        said("area", Way::Sizes(areas), cable),
        less("load", "load"),
    ],
    work: fuse,
}];

/// Sizes as sold, m2.
fn areas() -> Vec<f64> {
    SIZES.iter().map(|s| s.area_mm2 * 1e-6).collect()
}

fn cable(area: f64) -> Phrase {
    let mm2 = area * 1e6;
    let size = SIZES.iter().find(|s| (s.area_mm2 - mm2).abs() < 1e-6);
    let gauge = size.map_or_else(String::new, |s| format!(" ({} AWG)", gauge_name(s.gauge)));
    format!("a wire of {mm2:.1} mm2{gauge}").replace(".0 mm2", " mm2").into()
}

/// A fuse of at least 1.25 times the load and at most what guards the wire (common practice; ISO 8820-3).
fn fuse(i: &Inputs<'_>) -> Answer {
    let (fuse, load, area) = (i.number("fuse")?, i.number("load")?, i.number("area")? * 1e6);
    let sizes = SIZES.iter().rev().find(|s| s.area_mm2 <= area * (1.0 + 1e-9));
    let Some(size) = sizes else {
        return Err(format!("area: found {area} mm2, expected {} mm2 at least", SIZES[0].area_mm2));
    };
    let Some(guards) = size.largest_fuse else {
        return Err(format!("area: found {area} mm2, a battery cable, which no fuse guards"));
    };
    if !(load > 0.0 && fuse > 0.0) {
        return Err(format!("fuse {fuse} A, load {load} A: expected more than 0 A"));
    }
    let least = load * HEADROOM;
    let text = || {
        let near = if fuse < least { least } else { guards };
        phrase![
            "the fuse is of ",
            qty(fuse, Current).beside(near),
            "; the load wants ",
            qty(least, Current).beside(fuse),
            " at least, the wire of ",
            qty(area * 1e-6, Area),
            " allows ",
            qty(guards, Current).beside(fuse)
        ]
    };
    Ok((fuse >= least - close(fuse, least) && fuse <= guards + close(fuse, guards), i.say(text)))
}
