//! Pages of a PDF before they are drawn: what stands where, and what each of it is in the reading order.

use krilla::image::Image;

use super::fonts::Weight;

/// A colour, red, green and blue.
pub type Ink = (u8, u8, u8);
/// Text.
pub const DARK: Ink = (0x1e, 0x22, 0x26);
/// What stands back; 5.9 to 1 on white.
pub const SOFT: Ink = (0x5b, 0x61, 0x69);
/// Lines between rows.
pub const HAIR: Ink = (0xd5, 0xd9, 0xde);
/// Lines under heads and over sums.
pub const RULE: Ink = (0x86, 0x8d, 0x95);
/// What can hurt somebody; it says so in words too.
pub const DANGER: Ink = (0xb3, 0x37, 0x2b);

/// What a piece of a page is to who has it read aloud.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Role {
    /// The whole.
    Whole,
    /// A heading of a level.
    Heading(u16, String),
    /// A paragraph.
    Paragraph,
    /// A list, its points, the sign before one, and its words.
    List,
    /// A point of a list.
    Point,
    /// Its sign.
    Sign,
    /// Its words.
    Body,
    /// A table.
    Table,
    /// Its heads.
    Heads,
    /// Its rows.
    Rows,
    /// Its sums.
    Sums,
    /// A row.
    Row,
    /// A head.
    Head,
    /// A cell.
    Cell,
    /// Something to look at, and what is seen.
    Figure(String),
    /// Several that belong together.
    Group,
}

/// A piece in the reading order, with those in it.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is.
    pub role: Role,
    /// Those in it, by number.
    pub children: Vec<usize>,
}

/// What something drawn belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// A piece of the reading order, by number.
    Part(usize),
    /// The page: rules, heads that stand again, page numbers.
    Page,
}

/// Something drawn, in points from the upper left corner.
#[derive(Clone)]
pub enum Drawn {
    /// A line of words; `y` is its foot, and `x` where it begins, or where it ends.
    Words { x: f32, y: f32, ends: bool, size: f32, weight: Weight, ink: Ink, text: String },
    /// A filled box.
    Filled { x: f32, y: f32, width: f32, height: f32, ink: Ink },
    /// A box to tick.
    Box { x: f32, y: f32, side: f32, done: bool },
    /// The edge of something to cut out.
    Dashed { x: f32, y: f32, width: f32, height: f32 },
    /// Dark fields of a square code of so many to a side.
    Code { x: f32, y: f32, side: f32, fields: usize, dark: Vec<(usize, usize)> },
    /// A picture.
    Picture { x: f32, y: f32, width: f32, height: f32, image: Image },
}

/// A heading by which a reader gets about: its level, what it says, its page and how far down.
pub type Mark = (u8, String, usize, f32);

/// All of it.
pub struct Pages {
    /// Page by page.
    pub pages: Vec<Vec<(Of, Drawn)>>,
    /// The reading order; the first is the whole.
    pub parts: Vec<Part>,
    /// The headings.
    pub marks: Vec<Mark>,
    /// Width and height of a page.
    pub size: (f32, f32),
    /// How far down the page is used.
    pub y: f32,
}

/// White around a page.
pub const MARGIN: f32 = 50.0;
/// White at the foot, with the page's number in it.
const FOOT: f32 = 58.0;

impl Pages {
    /// One page with nothing on it.
    pub fn new(size: (f32, f32)) -> Self {
        let whole = Part { role: Role::Whole, children: Vec::new() };
        Self { pages: vec![Vec::new()], parts: vec![whole], marks: Vec::new(), size, y: MARGIN }
    }

    /// Width between the margins.
    pub fn width(&self) -> f32 {
        self.size.0 - 2.0 * MARGIN
    }

    /// How much height is left on the page.
    pub fn left(&self) -> f32 {
        self.size.1 - FOOT - self.y
    }

    /// The height of a whole page.
    pub fn height(&self) -> f32 {
        self.size.1 - FOOT - MARGIN
    }

    /// Goes on on a new page.
    pub fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.y = MARGIN;
    }

    /// Turns the page where less than this is left, and something stands on it.
    pub fn want(&mut self, height: f32) {
        if self.left() < height && self.y > MARGIN {
            self.turn();
        }
    }

    /// A new piece in another.
    pub fn part(&mut self, role: Role, within: usize) -> usize {
        let new = self.parts.len();
        self.parts.push(Part { role, children: Vec::new() });
        if let Some(parent) = self.parts.get_mut(within) {
            parent.children.push(new);
        }
        new
    }

    /// Draws on the page.
    pub fn draw(&mut self, of: Of, what: Drawn) {
        if let Some(page) = self.pages.last_mut() {
            page.push((of, what));
        }
    }

    /// A thin line over the width.
    pub fn rule(&mut self, y: f32, height: f32, ink: Ink) {
        let (x, width) = (MARGIN, self.width());
        self.draw(Of::Page, Drawn::Filled { x, y, width, height, ink });
    }
}
