//! Lists for a terminal: laid out in lines that end between two things, never within one.

/// Columns that every terminal has room for.
const COLUMNS: usize = 80;

/// Things behind a word, parted by `part`: the first line begins with `lead`, the others go on below its end.
#[must_use]
pub fn listed(lead: &str, things: &[String], part: &str) -> String {
    let hang = lead.chars().count();
    let mut out = lead.to_owned();
    let mut used = hang;
    for (n, thing) in things.iter().enumerate() {
        let is_last = n + 1 == things.len();
        let end = if is_last { "" } else { part.trim_end() };
        let wide = thing.chars().count() + end.chars().count();
        if n > 0 && used + 1 + wide > COLUMNS {
            out.push('\n');
            out.extend(std::iter::repeat_n(' ', hang));
            used = hang;
        } else if n > 0 {
            out.push(' ');
            used += 1;
        }
        out.push_str(thing);
        out.push_str(end);
        used += wide;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{COLUMNS, listed};

    #[test]
    fn lines_end_between_two_things_and_none_is_lost() {
        let things: Vec<String> = (0..30).map(|n| format!("part {n}, of some size")).collect();
        let told = listed("  with: ", &things, "; ");
        assert!(told.lines().count() > 5);
        assert!(told.lines().all(|line| line.chars().count() <= COLUMNS), "{told}");
        assert!(told.lines().skip(1).all(|line| line.starts_with("        part ")), "{told}");
        let one = told.lines().map(str::trim).collect::<Vec<_>>().join(" ");
        assert_eq!(one, format!("with: {}", things.join("; ")));
        assert_eq!(listed("with: ", &things[..1], "; "), "with: part 0, of some size");
        // what is longer than a line has one to itself
        let long = ["x".repeat(120), "y".to_owned()];
        assert_eq!(listed("- ", &long, " > "), format!("- {} >\n  y", long[0]));
    }
}
