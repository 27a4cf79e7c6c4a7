//! A measured outline as text: points along the axle and in radius, as they are read off a rule.

use crate::quantity::Quantity;
use crate::units::Dimension;

/// An example, for messages and fields.
pub const EXAMPLE: &str = "-89 190; -79 176; 38 176; 32 162; 32 93; 0 85; 0 54 mm";

/// Most characters that are read; a profile of 200 points needs less.
const MOST: usize = 8_000;

/// Reads points with `;`, `,` or a new line between them, each a place along the axle and a radius with a space or `:`
/// between: `"0 178; 20 176 mm"`, `"0 in: 7 in, 0.8 in: 6-15/16 in"`. A unit after a number counts for it and for
/// what stands before it in its point without one; a point without any takes the last unit of the text. In metres.
///
/// # Errors
/// A sentence with what was expected: a unit nobody wrote is never guessed.
pub fn read(text: &str) -> Result<Vec<(f64, f64)>, String> {
    if text.len() > MOST {
        return Err(format!("expected at most {MOST} characters, found {}", text.len()));
    }
    let pieces = text.split([';', ',', '\n']).map(str::trim).filter(|p| !p.is_empty());
    let points: Vec<Vec<(String, Option<String>)>> = pieces.map(numbers).collect();
    let last = points.iter().flatten().rev().find_map(|(_, unit)| unit.clone());
    let mut out = Vec::with_capacity(points.len());
    for point in &points {
        let [(along, own), (radius, after)] = point.as_slice() else {
            return Err(wrong(&shown(point)));
        };
        let Some(radius_unit) = after.as_ref().or(last.as_ref()) else {
            return Err(format!("write the unit, mm or in, at the end, for example \"{EXAMPLE}\""));
        };
        let along_unit = own.as_ref().unwrap_or(radius_unit);
        out.push((one(along, along_unit)?, one(radius, radius_unit)?));
    }
    if out.is_empty() {
        return Err(format!("expected points such as \"{EXAMPLE}\""));
    }
    Ok(out)
}

/// Numbers of a point, each with the unit that stands behind it.
fn numbers(piece: &str) -> Vec<(String, Option<String>)> {
    let mut out: Vec<(String, Option<String>)> = Vec::new();
    for word in piece.split([' ', ':', '\t']).filter(|w| !w.is_empty()) {
        let end = word.find(|c: char| c.is_alphabetic() || c == '"' || c == '″').unwrap_or(word.len());
        let (number, unit) = word.split_at(end);
        if !number.is_empty() {
            out.push((number.to_owned(), None));
        }
        if !unit.is_empty() {
            match out.last_mut() {
                Some((_, place @ None)) => *place = Some(unit.to_owned()),
                _ => out.push((String::new(), Some(unit.to_owned()))),
            }
        }
    }
    out
}

fn one(number: &str, unit: &str) -> Result<f64, String> {
    let text = format!("{number} {unit}");
    Quantity::parse_as(&text, Dimension::Length).map(|q| q.si).map_err(|_| wrong(&text))
}

fn shown(point: &[(String, Option<String>)]) -> String {
    let words = point.iter().map(|(number, unit)| format!("{number} {}", unit.as_deref().unwrap_or("")));
    words.collect::<Vec<_>>().join(" ").trim().to_owned()
}

fn wrong(found: &str) -> String {
    let found: String = found.chars().take(40).collect();
    format!("expected two lengths in each point, as in \"{EXAMPLE}\", found \"{found}\"")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn mm(text: &str) -> Vec<(f64, f64)> {
        let round = |x: f64| (x * 1e6).round() / 1e3;
        let points = read(text).unwrap_or_else(|why| unreachable!("{why}"));
        points.into_iter().map(|(z, r)| (round(z), round(r))).collect()
    }

    #[test]
    fn the_ways_people_write_points() {
        assert_eq!(mm("0 178; 20 176 mm"), [(0.0, 178.0), (20.0, 176.0)]);
        assert_eq!(mm("-1 7; 0 6-7/8 in"), [(-25.4, 177.8), (0.0, 174.625)]);
        assert_eq!(mm("0 mm: 178 mm, 20mm: 176mm"), [(0.0, 178.0), (20.0, 176.0)]);
        // one point in inches among millimetres
        assert_eq!(mm("0 178 mm\n1 7 in"), [(0.0, 178.0), (25.4, 177.8)]);
        assert_eq!(mm(" 0:178 ;; 20:176 mm ; "), [(0.0, 178.0), (20.0, 176.0)]);
        assert_eq!(mm(EXAMPLE).len(), 7);
    }

    #[test]
    fn what_is_no_outline_is_told_what_is_wanted() {
        for text in
            ["", "  ", ";", "0 178; 20 176", "0 178 20 mm", "0 mm", "x y mm", "0 1e999 mm", "mm", "0 178 psi"]
        {
            assert!(read(text).is_err_and(|why| why.contains(EXAMPLE)), "{text}");
        }
        assert!(read(&"0 1 mm;".repeat(2_000)).is_err());
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "[-0-9 .;:,/min\"″xé\n]{0,60}", other in any::<String>()) {
            for text in [text, other] {
                if let Ok(points) = read(&text) {
                    prop_assert!(points.iter().all(|(z, r)| z.is_finite() && r.is_finite()));
                }
            }
        }
    }
}
