//! A JSON text as a tree of the pieces it is written in, and its layout: on one line what fits, else a line for each entry.

/// Longest line, in letters, where an entry can be broken.
const WIDEST: usize = 120;
/// Letters by which what lies inside is moved in.
const STEP: usize = 2;

/// A value as it is written.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Node<'a> {
    /// A text, a number, true, false or null.
    Plain(&'a str),
    List(Vec<Node<'a>>),
    /// Each key with its quotes.
    Object(Vec<(&'a str, Node<'a>)>),
}

impl Node<'_> {
    /// How wide it is on one line, as long as that is less than `most`.
    fn width(&self, most: usize) -> Option<usize> {
        let mut wide = 0_usize;
        let mut add = |more: usize| {
            wide += more;
            (wide <= most).then_some(())
        };
        match self {
            Node::Plain(text) => add(text.chars().count())?,
            Node::List(list) => {
                add(2 + 2 * list.len().saturating_sub(1))?;
                list.iter().try_for_each(|one| add(one.width(most)?))?;
            }
            Node::Object(words) => {
                add(2 + 2 * words.len().saturating_sub(1))?;
                words.iter().try_for_each(|(key, one)| add(key.chars().count() + 2 + one.width(most)?))?;
            }
        }
        Some(wide)
    }

    fn is_number(&self) -> bool {
        matches!(self, Node::Plain(text) if !text.starts_with('"'))
    }

    /// Numbers, or points.
    fn is_run(&self) -> bool {
        let is_point = |one: &Node<'_>| match one {
            Node::List(list) => list.iter().all(Node::is_number),
            one => one.is_number(),
        };
        matches!(self, Node::List(list) if list.iter().all(is_point))
    }
}

/// The tree of a text that is known to be JSON. `None`: it is none after all.
pub(super) fn parsed(text: &str) -> Option<Node<'_>> {
    let mut reader = Reader { text, at: 0 };
    let node = reader.value()?;
    reader.blank();
    (reader.at == text.len()).then_some(node)
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
}

impl<'a> Reader<'a> {
    fn blank(&mut self) {
        let rest = &self.text[self.at..];
        self.at += rest.len() - rest.trim_start_matches([' ', '\t', '\n', '\r']).len();
    }

    /// Reads this letter, where it comes next.
    fn takes(&mut self, letter: char) -> bool {
        self.blank();
        let is_next = self.text[self.at..].starts_with(letter);
        self.at += usize::from(is_next);
        is_next
    }

    fn value(&mut self) -> Option<Node<'a>> {
        if self.takes('{') {
            let mut words = Vec::new();
            while !self.takes('}') {
                if !words.is_empty() && !self.takes(',') {
                    return None;
                }
                self.blank();
                let key = self.plain().filter(|key| key.starts_with('"'))?;
                if !self.takes(':') {
                    return None;
                }
                words.push((key, self.value()?));
            }
            return Some(Node::Object(words));
        }
        if self.takes('[') {
            let mut list = Vec::new();
            while !self.takes(']') {
                if !list.is_empty() && !self.takes(',') {
                    return None;
                }
                list.push(self.value()?);
            }
            return Some(Node::List(list));
        }
        self.blank();
        self.plain().map(Node::Plain)
    }

    /// The letters of a text with its quotes, or of a number or word.
    fn plain(&mut self) -> Option<&'a str> {
        let rest = &self.text[self.at..];
        let end = if rest.starts_with('"') {
            let mut escaped = false;
            let closes = |(at, letter): (usize, char)| {
                let closes = letter == '"' && !escaped && at > 0;
                escaped = letter == '\\' && !escaped;
                closes.then_some(at + 1)
            };
            rest.char_indices().find_map(closes)?
        } else {
            rest.find(|c: char| c.is_ascii_whitespace() || ",]}:".contains(c)).unwrap_or(rest.len())
        };
        self.at += end;
        Some(&rest[..end]).filter(|text| !text.is_empty())
    }
}

/// The text of a file: the file and its tables have a line for each entry, however short.
pub(super) fn written(whole: &Node<'_>) -> String {
    let mut out = String::new();
    put(&mut out, whole, Place { indent: 0, before: 0, open: 2 });
    out.push('\n');
    out
}

/// Where a value is written.
#[derive(Clone, Copy)]
struct Place {
    /// Letters by which its line is moved in.
    indent: usize,
    /// Letters before it on its line.
    before: usize,
    /// How many levels from here have a line for each entry, however short.
    open: usize,
}

fn put(out: &mut String, node: &Node<'_>, place: Place) {
    let Place { indent, before, open } = place;
    // a comma may follow
    let room = WIDEST.saturating_sub(before + 1);
    let is_open = open > 0 && matches!(node, Node::Object(_));
    if !is_open && node.width(room).is_some() {
        return flat(out, node);
    }
    let inside = indent + STEP;
    let line = |out: &mut String, indent: usize| {
        out.push('\n');
        out.extend(std::iter::repeat_n(' ', indent));
    };
    match node {
        Node::Object(words) if !words.is_empty() => {
            out.push('{');
            for (n, (key, one)) in words.iter().enumerate() {
                if n > 0 {
                    out.push(',');
                }
                line(out, inside);
                out.push_str(key);
                out.push_str(": ");
                let before = inside + key.chars().count() + 2;
                put(out, one, Place { indent: inside, before, open: open.saturating_sub(1) });
            }
            line(out, indent);
            out.push('}');
        }
        Node::List(list) if !list.is_empty() => {
            out.push('[');
            let is_run = node.is_run();
            let mut at = WIDEST;
            for (n, one) in list.iter().enumerate() {
                if n > 0 {
                    out.push(',');
                }
                let wide = one.width(WIDEST).unwrap_or(WIDEST);
                // numbers stand as many to a line as fit
                if is_run && at + wide + 2 <= WIDEST {
                    out.push(' ');
                    at += wide + 2;
                } else {
                    line(out, inside);
                    at = inside + wide + 1;
                }
                put(out, one, Place { indent: inside, before: inside, open: 0 });
            }
            line(out, indent);
            out.push(']');
        }
        node => flat(out, node),
    }
}

fn flat(out: &mut String, node: &Node<'_>) {
    match node {
        Node::Plain(text) => out.push_str(text),
        Node::List(list) => {
            out.push('[');
            for (n, one) in list.iter().enumerate() {
                out.push_str(if n > 0 { ", " } else { "" });
                flat(out, one);
            }
            out.push(']');
        }
        Node::Object(words) => {
            out.push('{');
            for (n, (key, one)) in words.iter().enumerate() {
                out.push_str(if n > 0 { ", " } else { "" });
                out.push_str(key);
                out.push_str(": ");
                flat(out, one);
            }
            out.push('}');
        }
    }
}
