//! The place of a seal in what is written out: a digest over all the rest, by which a file is known as written by this program and
//! untouched since. Who writes the file fills it in.

/// What stands before the digits of a seal.
pub const BEFORE: &str = "knockon-seal-";

/// So many hexadecimal digits has a seal.
pub const DIGITS: usize = 32;

/// A seal that is not filled in yet, as a writer puts it into a page.
pub const PLACE: &str = "knockon-seal-00000000000000000000000000000000";

#[cfg(test)]
mod tests {
    use super::{BEFORE, DIGITS, PLACE};

    #[test]
    fn the_place_is_the_word_and_its_digits() {
        assert_eq!(PLACE, format!("{BEFORE}{}", "0".repeat(DIGITS)));
    }
}
