//! Limits of wires and fuses: volts lost, and a fuse that holds the load and guards the wire.

use knockon_figures::charging::Run;
use knockon_figures::wiring::fuse::{HEADROOM, RATINGS};
use knockon_figures::wiring::gauge::gauge_name;
use knockon_figures::wiring::size::SIZES;
use knockon_figures::wiring::strands::wire_drop;
use uom::si::f64::ThermodynamicTemperature;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::Inputs;
use super::entry::{Answer, Entry, Way, close, less, one, qty, said, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Area, Current, Length, Voltage};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "wire-drop",
        inputs: &[one("area", Area), one("current", Current), one("length", Length), one("most", Voltage)],
        levers: &[said("area", Way::Sizes(areas), cable), less("length", "length of the run")],
        work: drop,
    },
    Entry {
        name: "wire-fuse",
        inputs: &[one("area", Area), one("fuse", Current), one("load", Current)],
        levers: &[
            said("fuse", Way::Sizes(|| RATINGS.to_vec()), |a| phrase!["a fuse of ", qty(a, Current)]),
            said("area", Way::Sizes(areas), cable),
            less("load", "load"),
        ],
        work: fuse,
    },
];

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

/// `U = I x length x resistance`, the most that IEC 60228 allows flexible cable (Ohm's law). At 20 °C, as the drop that is
/// allowed is measured: on a vehicle that has just been started.
fn drop(i: &Inputs<'_>) -> Answer {
    let (current, length, area) = (i.current("current")?, i.length("length")?, i.area("area")?);
    let cold = ThermodynamicTemperature::new::<degree_celsius>(20.0);
    let (drop, most) = (told(wire_drop(current, length, area, Run::OneWay, cold))?.value, i.number("most")?);
    let text = || {
        let (drop, most) = (qty(drop, Voltage).beside(most), qty(most, Voltage).beside(drop));
        phrase!["the cable loses ", drop, ", at most ", most, " wanted"]
    };
    Ok((drop <= most + close(drop, most), i.say(text)))
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
