//! A page of the manual as blocks: what of CommonMark such a page uses. Its links lead nowhere from the window and are read
//! as their text.

use pulldown_cmark::{Event, HeadingLevel, Options, Parser, Tag, TagEnd};

/// How a piece of text is set.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Style {
    #[default]
    Plain,
    Strong,
    /// Second text: what is emphasised, heads of tables.
    Soft,
    /// Keys, commands, paths.
    Code,
}

/// A piece of text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Span {
    pub text: String,
    pub style: Style,
}

/// A block of the page, from top to bottom.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// Level from 1 on, and its text.
    Heading(u8, String),
    Paragraph(Vec<Span>),
    /// The number of the first item, where they are counted.
    List {
        first: Option<u64>,
        items: Vec<Vec<Span>>,
    },
    Table {
        head: Vec<Vec<Span>>,
        rows: Vec<Vec<Vec<Span>>>,
    },
    /// Its path, and what is to be seen on it.
    Picture {
        file: String,
        told: String,
    },
}

/// Reads a page. What such a page should not use (pages within pages, HTML) is left out; a test holds that the page has none.
pub fn read(text: &str) -> Vec<Block> {
    let mut reader = Reader::default();
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        reader.take(event);
    }
    reader.blocks
}

#[derive(Default)]
struct Reader {
    blocks: Vec<Block>,
    /// The text being read.
    spans: Vec<Span>,
    style: Vec<Style>,
    list: Option<(Option<u64>, Vec<Vec<Span>>)>,
    head: Vec<Vec<Span>>,
    rows: Vec<Vec<Vec<Span>>>,
    row: Vec<Vec<Span>>,
    /// The path of the picture whose text is being read.
    picture: Option<String>,
}

impl Reader {
    fn say(&mut self, text: &str, style: Style) {
        match self.spans.last_mut().filter(|last| last.style == style) {
            Some(last) => last.text.push_str(text),
            None => self.spans.push(Span { text: text.to_owned(), style }),
        }
    }

    fn take(&mut self, event: Event<'_>) {
        let style = self.style.last().copied().unwrap_or_default();
        match event {
            Event::Text(text) => self.say(&text, style),
            Event::Code(text) => self.say(&text, Style::Code),
            Event::SoftBreak => self.say(" ", style),
            Event::HardBreak => self.say("\n", style),
            Event::Start(Tag::Strong) => self.style.push(Style::Strong),
            Event::Start(Tag::Emphasis) => self.style.push(Style::Soft),
            Event::End(TagEnd::Strong | TagEnd::Emphasis) => {
                self.style.pop();
            }
            Event::Start(Tag::Image { dest_url, .. }) => {
                self.picture = Some(dest_url.into_string());
                self.spans.clear();
            }
            Event::End(TagEnd::Image) => {
                let told = std::mem::take(&mut self.spans).into_iter().map(|s| s.text).collect();
                let file = self.picture.take().unwrap_or_default();
                self.blocks.push(Block::Picture { file, told });
            }
            Event::End(TagEnd::Heading(level)) => {
                let text = std::mem::take(&mut self.spans).into_iter().map(|s| s.text).collect();
                self.blocks.push(Block::Heading(number(level), text));
            }
            Event::End(TagEnd::Paragraph) if self.list.is_none() && !self.spans.is_empty() => {
                let spans = std::mem::take(&mut self.spans);
                self.blocks.push(Block::Paragraph(spans));
            }
            Event::Start(Tag::List(first)) => self.list = Some((first, Vec::new())),
            Event::End(TagEnd::Item) => {
                let spans = std::mem::take(&mut self.spans);
                if let Some((_, items)) = &mut self.list {
                    items.push(spans);
                }
            }
            Event::End(TagEnd::List(_)) => {
                if let Some((first, items)) = self.list.take() {
                    self.blocks.push(Block::List { first, items });
                }
            }
            Event::End(TagEnd::TableCell) => self.row.push(std::mem::take(&mut self.spans)),
            Event::End(TagEnd::TableHead) => self.head = std::mem::take(&mut self.row),
            Event::End(TagEnd::TableRow) => self.rows.push(std::mem::take(&mut self.row)),
            Event::End(TagEnd::Table) => {
                let (head, rows) = (std::mem::take(&mut self.head), std::mem::take(&mut self.rows));
                self.blocks.push(Block::Table { head, rows });
            }
            _ => {}
        }
    }
}

fn number(level: HeadingLevel) -> u8 {
    match level {
        HeadingLevel::H1 => 1,
        HeadingLevel::H2 => 2,
        HeadingLevel::H3 => 3,
        HeadingLevel::H4 => 4,
        HeadingLevel::H5 => 5,
        HeadingLevel::H6 => 6,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use egui::Context;

    use super::*;
    use crate::app::commands::Command;
    use crate::how::{BLOCKS, TEXT, pictures};

    fn plain(text: &str) -> Vec<Span> {
        vec![Span { text: text.to_owned(), style: Style::Plain }]
    }

    /// Examples after the CommonMark specification (0.31: headings, lists, images, emphasis) and the tables of GitHub
    /// Flavored Markdown (4.10).
    #[test]
    fn what_such_a_page_uses_is_read() {
        let blocks = read(
            "# How *it* works\n\nTwo\nlines, **strong**, `Ctrl+K`.\n\n3. one\n4. two\n\n- a\n\n| head | second |\n|---|---|\n| x | **y** |\n\n\
             ![what is seen](../picture/board.png)\n",
        );
        let mixed = vec![
            Span { text: "Two lines, ".into(), style: Style::Plain },
            Span { text: "strong".into(), style: Style::Strong },
            Span { text: ", ".into(), style: Style::Plain },
            Span { text: "Ctrl+K".into(), style: Style::Code },
            Span { text: ".".into(), style: Style::Plain },
        ];
        let strong = vec![Span { text: "y".into(), style: Style::Strong }];
        let wanted = vec![
            Block::Heading(1, "How it works".into()),
            Block::Paragraph(mixed),
            Block::List { first: Some(3), items: vec![plain("one"), plain("two")] },
            Block::List { first: None, items: vec![plain("a")] },
            Block::Table { head: vec![plain("head"), plain("second")], rows: vec![vec![plain("x"), strong]] },
            Block::Picture { file: "../picture/board.png".into(), told: "what is seen".into() },
        ];
        assert_eq!(blocks, wanted);
    }

    #[test]
    fn the_page_uses_nothing_else_and_has_its_pictures() {
        assert!(!TEXT.contains('<') && !TEXT.contains("```") && !TEXT.contains("\n> "));
        let pictures: Vec<&str> = BLOCKS
            .iter()
            .filter_map(|block| match block {
                Block::Picture { file, told } => {
                    assert!(told.split(' ').count() > 4, "{file}: say what is to be seen on it");
                    Some(file.as_str())
                }
                _ => None,
            })
            .collect();
        assert!(pictures.len() > 3, "{pictures:?}");
        for file in pictures {
            assert!(pictures::size(file).is_some(), "{file} is not in the program");
        }
        assert!(matches!(BLOCKS.first(), Some(Block::Heading(1, _))));
    }

    #[test]
    fn the_keys_it_tells_are_those_of_the_commands() {
        let ctx = Context::default();
        let said = |spans: &Vec<Span>| spans.iter().map(|s| s.text.as_str()).collect::<String>();
        let table = BLOCKS.iter().find_map(|block| match block {
            Block::Table { head, rows } if head.first().map(said).as_deref() == Some("Command") => Some(rows),
            _ => None,
        });
        let rows = table.unwrap();
        assert!(rows.len() > 8, "{rows:?}");
        for row in rows {
            let (label, keys) = (said(&row[0]), said(&row[1]));
            let command = Command::ALL.into_iter().find(|c| c.label() == label);
            let command = command.unwrap_or_else(|| unreachable!("there is no command \"{label}\""));
            assert_eq!(command.keys(&ctx), keys, "{label}");
        }
    }
}
