//! Numbers as text: rounded, without zeros at the end.

/// So many digits behind the point at most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Decimals(pub usize);

/// With so many decimals at most; zeros at the end, and the sign of a zero, are left off.
pub(crate) fn rounded(value: f64, decimals: usize) -> String {
    // 311.15 mm lies a hair under the half in binary, and is a half all the same
    let text = format!("{:.decimals$}", value * (1.0 + 1e-12));
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A number with its unit: "13 mm", "3°", and a bare number where the unit is empty.
pub(crate) fn with_unit(number: &str, symbol: &str) -> String {
    match symbol {
        "" | "°" => format!("{number}{symbol}"),
        _ => format!("{number} {symbol}"),
    }
}

#[cfg(test)]
mod tests {
    use super::{rounded, with_unit};

    #[test]
    fn a_degree_stands_at_its_number() {
        assert_eq!(with_unit("3", "°"), "3°");
        assert_eq!(with_unit("3", "°C"), "3 °C");
        assert_eq!(with_unit("3", ""), "3");
    }

    #[test]
    fn halves_zeros_and_signs() {
        for (value, decimals, text) in [
            (311.15, 1, "311.2"),
            (2.0, 3, "2"),
            (100.0, 0, "100"),
            (0.25, 4, "0.25"),
            (-0.04, 1, "0"),
            (-1.5, 1, "-1.5"),
        ] {
            assert_eq!(rounded(value, decimals), text);
        }
    }
}
