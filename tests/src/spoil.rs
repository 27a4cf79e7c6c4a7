//! Spoils texts as disks, editors and hands do: bytes are changed, cut out, doubled, put elsewhere, or come from nowhere.

use fastrand::Rng;

/// The longest input a target gets, in bytes.
pub const LONGEST: usize = 4096;

const MILLION: u32 = 1_000_000;

/// Bits that mean something to one reader or another.
const TOKENS: [&[u8]; 28] = [
    b"{",
    b"}",
    b"[",
    b"]",
    b"\"",
    b":",
    b",",
    b"\\u0000",
    b"\\ud800",
    b"null",
    b"-1e999",
    b"1e-400",
    b"0.1.2",
    b"99999999999999999999",
    b"\n",
    b"\r\n",
    b"\0",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    "½ °C · ±".as_bytes(),
    b"unknown:",
    b" to ",
    b"NaN",
    b"inf",
    b"/0",
    b"x",
    b"-",
    b"R15LT",
];

/// A seed spoilt in one to eight places, at most [`LONGEST`] bytes long; now and then nothing but random bytes.
#[must_use]
pub fn spoilt(random: &mut Rng, seeds: &[Vec<u8>]) -> Vec<u8> {
    if seeds.is_empty() || random.u8(..) < 8 {
        let long = random.usize(0..300);
        return std::iter::repeat_with(|| random.u8(..)).take(long).collect();
    }
    let mut bytes = seeds[random.usize(..seeds.len())].clone();
    for _ in 0..random.usize(1..=8) {
        let at = random.usize(0..=bytes.len());
        let end = (at + random.usize(0..24)).min(bytes.len());
        match random.u8(0..7) {
            0 if at < bytes.len() => bytes[at] = random.u8(..),
            1 if at < bytes.len() => bytes[at] ^= 1 << random.u8(0..8),
            2 => drop(bytes.drain(at..end)),
            3 => {
                let piece = bytes[at..end].to_vec();
                let to = random.usize(0..=bytes.len());
                bytes.splice(to..to, piece);
            }
            4 => bytes.truncate(at),
            5 => {
                let seed = &seeds[random.usize(..seeds.len())];
                let from = random.usize(0..=seed.len());
                let piece = seed[from..(from + random.usize(0..60)).min(seed.len())].to_vec();
                bytes.splice(at..end, piece);
            }
            _ => {
                let token = TOKENS[random.usize(..TOKENS.len())];
                let many = if random.u8(..) < 4 { 300 } else { 1 };
                bytes.splice(at..at, token.repeat(many));
            }
        }
    }
    bytes.truncate(LONGEST);
    bytes
}

/// Tries a target on so many spoilt inputs. Where it panics, the number of the case is told.
pub fn each(target: &str, seeds: &[Vec<u8>], cases: u32, mut try_one: impl FnMut(&[u8])) {
    struct Told<'a>(&'a str, u32, Vec<u8>);
    impl Drop for Told<'_> {
        fn drop(&mut self) {
            if std::thread::panicking() {
                eprintln!("{}: case {}: {:?}", self.0, self.1, String::from_utf8_lossy(&self.2));
            }
        }
    }
    let seed = std::env::var("PROPTEST_RNG_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(1);
    let mut random = Rng::with_seed(seed);
    for case in 0..cases {
        let told = Told(target, case, spoilt(&mut random, seeds));
        try_one(&told.2);
        // a long trial by hand may be stopped before its end: it says how far it came
        if (case + 1).is_multiple_of(MILLION) {
            eprintln!("{target}: {} of {cases} tried", case + 1);
        }
    }
}
