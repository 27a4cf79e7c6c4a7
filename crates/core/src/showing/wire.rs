//! Wire sizes for who works in inches: the gauge that has at least the copper.

use knockon_figures::wiring::gauge::{gauge_area, gauge_for, gauge_name};
use uom::si::area::square_meter;
use uom::si::f64::Area;

use crate::quantity::Quantity;
use crate::units::Dimension;

/// The thickest gauge, 4/0.
const THICKEST: i32 = -3;

/// The gauge of a bare cross-section in square millimetres, or of a window of them; `None` for all else.
pub fn gauge(text: &str) -> Option<String> {
    let text = text.trim();
    let (low, high) = match text.split_once(" to ") {
        None => return sold(text).map(|n| format!("{n} AWG")),
        Some(ends) => ends,
    };
    let low = if low.contains('m') { low.to_owned() } else { format!("{low} mm2") };
    Some(format!("{} to {} AWG", sold(&low)?, sold(high)?))
}

/// Whether an area in this unit is a wire's: what is thicker than any wire is the face of something.
pub fn is_size(unit: &str, square_metres: f64) -> bool {
    let thickest = gauge_area(THICKEST).map_or(0.0, |a| a.get::<square_meter>());
    // the last metric size under 4/0 is 95 mm2, the next one, 120 mm2, stands in no vehicle of this kind
    matches!(unit, "mm2" | "sq mm" | "mm²") && square_metres > 0.0 && square_metres <= thickest
}

/// The thinnest gauge on sale that has at least this area: from 20 to 2 the even ones, then each.
/// Source: common practice.
fn sold(text: &str) -> Option<String> {
    let quantity = Quantity::parse(text).ok().filter(|_| !text.contains('±'))?;
    let unit = text.trim_start_matches(|c: char| c.is_ascii_digit() || "./- ".contains(c));
    if quantity.dimension != Dimension::Area || !is_size(unit, quantity.si) {
        return None;
    }
    let n = gauge_for(Area::new::<square_meter>(quantity.si)).ok()?;
    Some(gauge_name(if n > 2 { n - n % 2 } else { n }))
}

#[cfg(test)]
mod tests {
    use super::gauge;

    #[test]
    fn never_thinner_and_of_a_size_that_is_sold() {
        // ASTM B258: 10 AWG 5.26, 8 AWG 8.37, 6 AWG 13.3, 4 AWG 21.2, 2 AWG 33.6, 1 AWG 42.4, 2/0 67.4, 4/0 107 mm2
        for (area, wire) in [
            ("0.75 mm2", "18 AWG"),
            ("5 mm2", "10 AWG"),
            ("8 mm2", "8 AWG"),
            ("8.4 mm2", "6 AWG"),
            ("10 mm2", "6 AWG"),
            ("13 mm2", "6 AWG"),
            ("20 mm2", "4 AWG"),
            ("25 sq mm", "2 AWG"),
            ("35 mm²", "1 AWG"),
            ("60 mm2", "2/0 AWG"),
            ("107 mm2", "4/0 AWG"),
            ("10 to 16 mm2", "6 to 4 AWG"),
            ("10 mm2 to 16 mm2", "6 to 4 AWG"),
        ] {
            assert_eq!(gauge(area).as_deref(), Some(wire), "{area}");
        }
        for text in [
            "120 mm2",
            "0 mm2",
            "-5 mm2",
            "3750 mm2",
            "13 mm",
            "6 AWG",
            "2 cm2",
            "13 mm2 ±1 mm2",
            "any",
            "",
            "1 to 3 psi",
        ] {
            assert_eq!(gauge(text), None, "{text}");
        }
    }
}
