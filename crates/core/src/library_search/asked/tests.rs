//! Queries taken apart.

use super::*;

fn bounds(query: &str) -> Vec<(f64, f64, Dimension)> {
    read(query).bounds.iter().map(|b| (b.span.low, b.span.high, b.dimension)).collect()
}

#[test]
fn what_is_compared_is_told_from_what_is_called_so() {
    let asked = read("radiator under 470 mm");
    assert_eq!((asked.words.as_str(), asked.bounds.len()), ("radiator", 1));
    assert!((asked.bounds[0].span.high - 0.47).abs() < 1e-9 && !asked.bounds[0].span.high_counts);
    let asked = read("tank under the seat");
    assert_eq!((asked.words.as_str(), asked.bounds.len()), ("tank under seat", 0));
    assert!(read("adapter 3/8 to 1/2").bounds.is_empty(), "two ends of one adapter");
    assert_eq!(read("adapter 3/8 to 1/2 in").bounds.len(), 1, "a range");
    let asked = read("overdrive gearbox, max");
    assert_eq!((asked.words.as_str(), asked.bounds.len()), ("overdrive gearbox max", 0));
}

#[test]
fn ranges_share_their_unit() {
    for query in [
        "carb between 200 and 350 cfm",
        "carb 200-350 cfm",
        "carb from 200 cfm to 350 cfm",
        "carb 200 to 350cfm",
    ] {
        let all = bounds(query);
        assert_eq!(all.len(), 1, "{query}");
        // 1 cfm is 0.028316846592 m3 / 60 s: NIST SP 811, appendix B
        let cfm = 0.028_316_846_592 / 60.0;
        assert!((all[0].0 / cfm - 200.0).abs() < 1e-3 && (all[0].1 / cfm - 350.0).abs() < 1e-3, "{query}");
    }
    let asked = read("alternator $150 to $200");
    assert_eq!(asked.prices.len(), 1);
    assert_eq!((asked.prices[0].span.low, asked.prices[0].span.high), (150.0, 200.0));
}

#[test]
fn what_something_ends_in_is_of_its_port() {
    let asked = read("master cylinder ends in 3/8-24 inverted flare");
    assert_eq!(asked.words, "master cylinder");
    assert_eq!(asked.port_words.as_deref(), Some("inverted flare"));
    assert!(asked.sizes.len() == 1 && asked.sizes[0].at_port);
    assert_eq!(read("ends in").port_words, None);
}

#[test]
fn comparisons_behind_their_amount_and_signs() {
    for query in ["30 A or more", "at least 30 A", ">=30A", "≥ 30 amps", "30A+", "min 30 A"] {
        assert_eq!(bounds(query), [(30.0, f64::INFINITY, Dimension::Current)], "{query}");
    }
    assert_eq!(read("radiator price below 300").prices.len(), 1);
    assert_eq!(read("radiator cheaper than 300").prices.len(), 1);
    assert_eq!(read("radiator under 300").bare.len(), 1);
    assert_eq!(read("6 cylinder").words, "6 cylinder");
}
