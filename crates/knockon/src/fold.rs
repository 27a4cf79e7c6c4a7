//! Lines as wide as a terminal: what is longer goes on below, further in, and breaks between words.

use std::io::IsTerminal as _;

/// How wide a terminal is that does not say it.
const WIDE: usize = 80;
/// In narrower columns nothing can be read.
const LEAST: usize = 40;
/// So much further in a line goes on.
const FURTHER: usize = 4;

/// How many columns there are: as `COLUMNS` says (POSIX, environment variables), else those of a terminal. `None`: what is
/// printed goes to another program or into a file, and each line stays one.
pub fn columns() -> Option<usize> {
    let said = std::env::var("COLUMNS").ok().and_then(|text| text.trim().parse().ok());
    let said = said.filter(|columns| *columns >= LEAST);
    said.or_else(|| std::io::stdout().is_terminal().then_some(WIDE))
}

/// A text in so many columns. What has no space to break at, a path say, stays whole.
pub fn folded(text: &str, columns: usize) -> String {
    let mut out = String::with_capacity(text.len() + text.len() / 16);
    for line in text.split_inclusive('\n') {
        let (line, end) = line.strip_suffix('\n').map_or((line, ""), |line| (line, "\n"));
        if line.chars().count() <= columns {
            out.push_str(line);
        } else {
            fold(line, columns, &mut out);
        }
        out.push_str(end);
    }
    out
}

fn fold(line: &str, columns: usize, out: &mut String) {
    let words = line.trim_start_matches(' ');
    // however deep a line stands, half of the width is left to it
    let hang = (line.len() - words.len() + FURTHER).min(columns / 2);
    let mut used = line.len() - words.len();
    out.push_str(&line[..used]);
    let mut is_first = true;
    for word in words.split_inclusive(' ') {
        let wide = word.trim_end_matches(' ').chars().count();
        if !is_first && used + wide > columns {
            out.truncate(out.trim_end_matches(' ').len());
            out.push('\n');
            out.extend(std::iter::repeat_n(' ', hang));
            used = hang;
        }
        out.push_str(word);
        used += word.chars().count();
        is_first = false;
    }
}

#[cfg(test)]
mod tests {
    use super::folded;

    #[test]
    fn a_long_line_goes_on_further_in_and_a_short_one_stays() {
        let text = "Head\n  caution: one two three four five six seven eight nine ten\n\nend";
        let told = "Head\n  caution: one two three four five six\n      seven eight nine ten\n\nend";
        assert_eq!(folded(text, 40), told);
        assert_eq!(folded(told, 40), told);
        assert_eq!(folded("", 40), "");
    }

    #[test]
    fn no_word_is_lost_and_what_has_no_space_stays_whole() {
        let path = "x".repeat(60);
        let text =
            format!("        in {path} there is   something to be read that nobody has read yet, {path}");
        let told = folded(&text, 40);
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(words(&told), words(&text));
        assert!(told.lines().all(|line| line.chars().count() <= 40 || line.contains(&path)), "{told}");
        assert!(!told.contains(" \n"), "{told}");
    }
}
