//! Speed symbol of a tyre (UN R54, ISO 4223-1).

use uom::si::f64::Velocity;
use uom::si::velocity::kilometer_per_hour;

use super::code_error::{TyreCodeError, TyreCodeProblem};

/// Speed symbol and the speed in km/h the tyre is made for, slowest first; H does not stand in its alphabetical place.
///
/// Source: UN R54 and ISO 4223-1. Q, R, S, H, V and W were read in a car maker's owner's manual; the others are from
/// memory.
pub const SPEED_SYMBOLS: [(char, u16); 21] = [
    ('B', 50),
    ('C', 60),
    ('D', 65),
    ('E', 70),
    ('F', 80),
    ('G', 90),
    ('J', 100),
    ('K', 110),
    ('L', 120),
    ('M', 130),
    ('N', 140),
    ('P', 150),
    ('Q', 160),
    ('R', 170),
    ('S', 180),
    ('T', 190),
    ('U', 200),
    ('H', 210),
    ('V', 240),
    ('W', 270),
    ('Y', 300),
];

/// Speed a tyre of a symbol is made for; small letters will do.
///
/// # Errors
/// [`TyreCodeError`] for a letter that is no speed symbol.
///
/// Source: [`SPEED_SYMBOLS`].
pub fn speed_limit(symbol: char) -> Result<Velocity, TyreCodeError> {
    let wanted = symbol.to_ascii_uppercase();
    let found = SPEED_SYMBOLS.iter().find(|(letter, _)| *letter == wanted);
    let (_, speed) =
        found.ok_or_else(|| TyreCodeError::new(&symbol.to_string(), TyreCodeProblem::SpeedSymbol))?;
    Ok(Velocity::new::<kilometer_per_hour>(f64::from(*speed)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limit(symbol: char) -> Option<f64> {
        speed_limit(symbol).ok().map(|v| v.get::<kilometer_per_hour>().round())
    }

    #[test]
    fn symbols_as_printed() {
        // ISO 4000-1, UN R30
        for (symbol, speed) in
            [('Q', 160.0), ('R', 170.0), ('S', 180.0), ('H', 210.0), ('V', 240.0), ('W', 270.0)]
        {
            assert_eq!(limit(symbol), Some(speed));
            assert_eq!(limit(symbol.to_ascii_lowercase()), Some(speed));
        }
    }

    #[test]
    fn the_table_rises_and_h_lies_between_u_and_v() {
        assert!(SPEED_SYMBOLS.windows(2).all(|w| w[0].1 < w[1].1));
        assert!(limit('U') < limit('H') && limit('H') < limit('V') && limit('W') < limit('Y'));
    }

    #[test]
    fn other_letters_are_refused() {
        for symbol in ['A', 'I', 'O', 'X', 'Z', '7', ' ', 'ß', '\0'] {
            let error = speed_limit(symbol);
            assert_eq!(error.map_err(|e| e.problem), Err(TyreCodeProblem::SpeedSymbol));
        }
    }
}
