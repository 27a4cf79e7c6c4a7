//! Letter sizes such as F78-14: the letter stands for a load, so diameter and width can only be looked up (T&RA).

/// One letter size of the 78 series, bias-ply.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LetterSize {
    /// Letter of the load class, A to L.
    pub letter: char,
    /// Rim code, in.
    pub rim_in: f64,
    /// Overall diameter of the new tyre, in.
    pub diameter_in: f64,
    /// Section width of the new tyre, in.
    pub section_in: f64,
}

/// Load of a letter at load range B.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LetterLoad {
    /// Letter of the load class.
    pub letter: char,
    /// Load of one tyre at 32 psi, lb.
    pub load_lb: u16,
}

/// How far a tyre may be off the diameter in [`LETTER_SIZES`], as a share.
pub const LETTER_WITHIN: f64 = 0.03;

const fn size(letter: char, rim_in: f64, diameter_in: f64, section_in: f64) -> LetterSize {
    LetterSize { letter, rim_in, diameter_in, section_in }
}

/// Sizes of the 78 series by rim, then by letter.
///
/// Source: T&RA year books of the 1970s and the former 49 CFR 571.109 appendix A, **from memory and not confirmed**;
/// good to [`LETTER_WITHIN`]. The table is only held against itself: heights near 78 % of the width, and rising with
/// the letter. The same letter is another tyre on another rim.
pub const LETTER_SIZES: [LetterSize; 17] = [
    size('A', 13.0, 23.3, 6.5),
    size('B', 13.0, 23.9, 6.8),
    size('C', 13.0, 24.3, 7.1),
    size('D', 13.0, 24.7, 7.3),
    size('C', 14.0, 25.0, 6.9),
    size('D', 14.0, 25.4, 7.1),
    size('E', 14.0, 26.0, 7.4),
    size('F', 14.0, 26.6, 7.7),
    size('G', 14.0, 27.2, 8.2),
    size('H', 14.0, 27.9, 8.6),
    size('J', 14.0, 28.3, 8.8),
    size('E', 15.0, 26.5, 7.2),
    size('F', 15.0, 27.1, 7.4),
    size('G', 15.0, 27.8, 8.0),
    size('H', 15.0, 28.4, 8.4),
    size('J', 15.0, 28.8, 8.6),
    size('L', 15.0, 29.3, 9.0),
];

const fn load(letter: char, load_lb: u16) -> LetterLoad {
    LetterLoad { letter, load_lb }
}

/// Load by letter at load range B and 32 psi; the same for all series and rims.
///
/// Source: T&RA year books and the former 49 CFR 571.109 appendix A table I, **from memory and not confirmed**: to be
/// checked against the sidewall, which states the load.
pub const LETTER_LOADS_LB: [LetterLoad; 11] = [
    load('A', 1060),
    load('B', 1150),
    load('C', 1230),
    load('D', 1320),
    load('E', 1400),
    load('F', 1500),
    load('G', 1620),
    load('H', 1770),
    load('J', 1860),
    load('K', 1900),
    load('L', 1970),
];

/// The row of a letter and rim, if there is one.
pub(crate) fn look_up(letter: char, rim_in: f64) -> Option<LetterSize> {
    LETTER_SIZES.iter().copied().find(|row| row.letter == letter && (row.rim_in - rim_in).abs() < 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_agree_with_the_series() {
        // definition of the 78 series: the section is 78 % as high as wide
        for row in LETTER_SIZES {
            let nominal = row.rim_in + 2.0 * 0.78 * row.section_in;
            let off = row.diameter_in / nominal - 1.0;
            assert!(off.abs() < LETTER_WITHIN, "{}78-{}: off by {off}", row.letter, row.rim_in);
        }
    }

    #[test]
    fn sizes_agree_with_what_they_were_replaced_by() {
        // common practice: the metric sizes a shop fits in their place
        for (letter, rim, section, aspect) in [
            ('E', 14.0, 195.0, 75.0),
            ('F', 14.0, 205.0, 75.0),
            ('G', 14.0, 215.0, 75.0),
            ('H', 14.0, 225.0, 75.0),
            ('F', 15.0, 205.0, 75.0),
            ('G', 15.0, 215.0, 75.0),
            ('H', 15.0, 225.0, 75.0),
            ('L', 15.0, 235.0, 75.0),
        ] {
            let metric = rim + 2.0 * section * aspect / 100.0 / 25.4;
            let row = look_up(letter, rim).map(|row| row.diameter_in / metric - 1.0);
            assert!(row.is_some_and(|off| off.abs() < LETTER_WITHIN), "{letter}78-{rim}: {row:?}");
        }
    }

    #[test]
    fn both_tables_rise_with_the_letter() {
        for pair in LETTER_SIZES.windows(2).filter(|w| w[0].rim_in == w[1].rim_in) {
            assert!(pair[0].letter < pair[1].letter);
            assert!(pair[0].diameter_in < pair[1].diameter_in && pair[0].section_in < pair[1].section_in);
        }
        assert!(LETTER_LOADS_LB.windows(2).all(|w| w[0].letter < w[1].letter && w[0].load_lb < w[1].load_lb));
        assert!(LETTER_SIZES.iter().all(|s| LETTER_LOADS_LB.iter().any(|l| l.letter == s.letter)));
    }

    #[test]
    fn the_same_letter_is_another_tyre_on_another_rim() {
        let [fourteen, fifteen] = [14.0, 15.0].map(|rim| look_up('F', rim));
        assert!(fourteen.is_some() && fifteen.is_some() && fourteen != fifteen);
        assert_eq!(look_up('F', 13.0), None);
        assert_eq!(look_up('I', 15.0), None);
    }
}
