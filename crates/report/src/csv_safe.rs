//! Words made safe for a spreadsheet: a cell that it would take for a formula is none.

/// What a formula begins with, in both widths of letters.
const STARTS: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// A cell of words. Where it begins, after blanks or what parts cells, with = + - or @ it gets an apostrophe before it; so
/// does what stands behind a semicolon, a tab or a new line in it, for another spreadsheet parts the line there.
#[must_use]
pub fn safe(cell: &str) -> String {
    let starts = |rest: &str| {
        let rest = rest.trim_start_matches(|c: char| {
            c.is_whitespace() || is_unseen(c) || matches!(c, ',' | ';' | '"' | '|')
        });
        rest.starts_with(STARTS)
    };
    let mut out = String::with_capacity(cell.len() + 1);
    if starts(cell) {
        out.push('\'');
    }
    for (at, c) in cell.char_indices() {
        out.push(c);
        let rest = &cell[at + c.len_utf8()..];
        let parts = matches!(c, ';' | '\t' | '\n' | '\r');
        let blanks = rest.len() - rest.trim_start_matches([' ', '\u{a0}']).len();
        if parts && rest[blanks..].starts_with(STARTS) {
            out.push('\'');
        }
    }
    out
}

/// Takes no room, and a spreadsheet may pass over it.
fn is_unseen(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::safe;

    #[test]
    fn what_would_run_does_not() {
        // OWASP, "CSV Injection": = + - @, tab and return start a formula, and so do they behind a separator
        for cell in [
            "=1+1",
            "+1",
            "-1",
            "@sum",
            "\t=1",
            "\r=1",
            " =1",
            "\u{a0}=1",
            ";=1",
            ", =1",
            "\u{feff}=1",
            "\n@x",
            "＝1",
        ] {
            assert!(safe(cell).starts_with('\''), "{cell:?} -> {:?}", safe(cell));
        }
        for (cell, is) in [("a;=1", "a;'=1"), ("a; -1", "a;' -1"), ("a\t@x", "a\t'@x"), ("a\n +1", "a\n' +1")]
        {
            assert_eq!(safe(cell), is, "{cell:?}");
        }
        for cell in ["hose 3/8 in", "a - b", "5.2 x 3; front", "", "12-spline", "'tis"] {
            assert_eq!(safe(cell), cell);
        }
    }
}
