//! In which order words stand: those of a thing as its type has them, ids as they stand in the file.

use std::fmt;

use knockon_core::library as lib;
use serde::de::{Deserialize, Deserializer, Error, Visitor};

use super::layout::Node;

/// A thing with words of its own.
struct Thing {
    /// Its words, in order.
    words: fn() -> &'static [&'static str],
    /// What lies under some of them.
    inside: &'static [(&'static str, Inside)],
}

/// What lies under a word.
enum Inside {
    /// A thing.
    One(&'static Thing),
    /// Things by id.
    Table(&'static Thing),
    /// Things in a row.
    List(&'static Thing),
}

use Inside::{List, One, Table};

static FILE: Thing = Thing {
    words: words_of::<lib::LibraryFile>,
    inside: &[
        ("library", One(&HEAD)),
        ("first_time", One(&FIRST_TIME)),
        ("systems", Table(&SYSTEM)),
        ("classes", Table(&CLASS)),
        ("figures", Table(&FIGURE)),
        ("needs", Table(&NEED)),
        ("pools", Table(&POOL)),
        ("port_types", Table(&PORT_TYPE)),
        ("limits", Table(&LIMIT)),
        ("openings", Table(&OPENING)),
        ("cautions", Table(&CAUTION)),
        ("operations", Table(&OPERATION)),
        ("orders", Table(&ORDER)),
        ("checks", Table(&CHECK)),
        ("inspections", Table(&INSPECTION)),
        ("zones", Table(&ZONE)),
        ("stages", Table(&STAGE)),
        ("aims", Table(&AIM)),
        ("cards", Table(&CARD)),
        ("patterns", Table(&PART)),
        ("families", Table(&FAMILY)),
        ("parts", Table(&PART)),
        ("vehicles", Table(&VEHICLE)),
        ("drawings", Table(&DRAWING)),
    ],
};
static HEAD: Thing = Thing { words: words_of::<lib::LibraryHead>, inside: &[] };
static FIRST_TIME: Thing = Thing { words: words_of::<lib::FirstTime>, inside: &[] };
static SYSTEM: Thing = Thing { words: words_of::<lib::System>, inside: &[] };
static CLASS: Thing =
    Thing { words: words_of::<lib::Class>, inside: &[("lasts", One(&LASTS)), ("ports", Table(&PORT))] };
static LASTS: Thing = Thing { words: words_of::<lib::Lasts>, inside: &[] };
static AGAIN: Thing = Thing { words: words_of::<lib::Again>, inside: &[] };
static FIGURE: Thing = Thing { words: words_of::<lib::FigureDef>, inside: &[] };
static NEED: Thing = Thing { words: words_of::<lib::NeedDef>, inside: &[] };
static POOL: Thing = Thing { words: words_of::<lib::PoolDef>, inside: &[] };
static PORT_TYPE: Thing = Thing {
    words: words_of::<lib::PortType>,
    inside: &[("fields", Table(&FIELD)), ("opened", List(&WANT)), ("later", List(&AGAIN))],
};
static FIELD: Thing = Thing { words: words_of::<lib::FieldDef>, inside: &[] };
static WANT: Thing = Thing { words: words_of::<lib::Want>, inside: &[] };
static LIMIT: Thing = Thing { words: words_of::<lib::LimitDef>, inside: &[("inputs", Table(&INPUT))] };
/// An input is one of several things.
static INPUT: Thing = Thing {
    words: || &["class", "where", "figure", "fact", "pool", "value", "sum", "less", "optional", "else"],
    inside: &[("sum", List(&INPUT)), ("less", List(&INPUT))],
};
static OPENING: Thing = Thing {
    words: words_of::<lib::Opening>,
    inside: &[("classes", List(&CLASS_AT)), ("wants", List(&WANT)), ("later", List(&AGAIN))],
};
/// Where it is no class alone.
static CLASS_AT: Thing = Thing { words: || &["class", "where"], inside: &[] };
static CAUTION: Thing = Thing { words: words_of::<lib::Caution>, inside: &[] };
static OPERATION: Thing = Thing { words: words_of::<lib::Operation>, inside: &[] };
static ORDER: Thing = Thing { words: words_of::<lib::OrderRule>, inside: &[] };
static CHECK: Thing = Thing { words: words_of::<lib::Check>, inside: &[] };
static INSPECTION: Thing = Thing {
    words: words_of::<lib::Inspection>,
    inside: &[
        ("good", One(&BOUNDS)),
        ("watch", One(&BOUNDS)),
        ("renew", One(&BOUNDS)),
        ("against", One(&AGAINST)),
        ("cases", List(&CASE)),
        ("before_buying", One(&BEFORE_BUYING)),
    ],
};
static BEFORE_BUYING: Thing = Thing { words: words_of::<lib::BeforeBuying>, inside: &[] };
static BOUNDS: Thing = Thing { words: words_of::<lib::Bounds>, inside: &[] };
static AGAINST: Thing = Thing { words: words_of::<lib::Against>, inside: &[] };
static CASE: Thing = Thing {
    words: words_of::<lib::BoundsCase>,
    inside: &[("good", One(&BOUNDS)), ("watch", One(&BOUNDS)), ("renew", One(&BOUNDS))],
};
static ZONE: Thing = Thing { words: words_of::<lib::Zone>, inside: &[] };
static STAGE: Thing = Thing { words: words_of::<lib::StageDef>, inside: &[] };
static AIM: Thing = Thing { words: words_of::<lib::Aim>, inside: &[] };
static CARD: Thing = Thing { words: words_of::<lib::Card>, inside: &[] };
static PART: Thing = Thing {
    words: words_of::<lib::Part>,
    inside: &[
        ("ports", Table(&PORT)),
        ("contents", List(&CONTENT)),
        ("leaves_empty", List(&CLASS_AT)),
        ("clean", One(&WORK)),
        ("rebuild", One(&WORK)),
    ],
};
static PORT: Thing = Thing { words: words_of::<lib::Port>, inside: &[] };
static CONTENT: Thing = Thing { words: words_of::<lib::Content>, inside: &[] };
static WORK: Thing = Thing { words: words_of::<lib::Work>, inside: &[] };
static FAMILY: Thing = Thing { words: words_of::<lib::Family>, inside: &[] };
static VEHICLE: Thing = Thing {
    words: words_of::<lib::Vehicle>,
    inside: &[("positions", Table(&POSITION)), ("joints", Table(&JOINT)), ("circuits", Table(&CIRCUIT))],
};
static POSITION: Thing = Thing { words: words_of::<lib::Position>, inside: &[] };
static JOINT: Thing = Thing { words: words_of::<lib::Joint>, inside: &[("ends", List(&END))] };
static END: Thing = Thing { words: words_of::<lib::End>, inside: &[] };
static CIRCUIT: Thing = Thing { words: words_of::<lib::Circuit>, inside: &[] };
static DRAWING: Thing = Thing { words: words_of::<knockon_core::drawing::Drawing>, inside: &[] };

/// Puts the words of a file in order.
pub(super) fn order(file: &mut Node<'_>) {
    thing(file, &FILE);
}

fn thing(node: &mut Node<'_>, of: &Thing) {
    let Node::Object(words) = node else { return };
    let known = (of.words)();
    let bare = |key: &str| key.trim_matches('"').to_owned();
    // words that are not known stay where they are among themselves, behind the others
    words.sort_by_key(|(key, _)| known.iter().position(|word| *word == bare(key)).unwrap_or(known.len()));
    for (key, below) in words {
        let key = bare(key);
        let Some((_, inside)) = of.inside.iter().find(|(word, _)| *word == key) else { continue };
        match (inside, below) {
            (One(of), below) => thing(below, of),
            (Table(of), Node::Object(all)) => all.iter_mut().for_each(|(_, below)| thing(below, of)),
            (List(of), Node::List(all)) => all.iter_mut().for_each(|below| thing(below, of)),
            _ => {}
        }
    }
}

/// The words of a type in the order in which it has them.
fn words_of<T: Deserialize<'static>>() -> &'static [&'static str] {
    T::deserialize(Asked).err().map_or(&[], |words| words.0)
}

/// Reads nothing: whoever asks for a thing tells its words by that.
struct Asked;

/// The words that were asked for.
#[derive(Debug)]
struct Words(&'static [&'static str]);

impl fmt::Display for Words {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?}", self.0)
    }
}

impl std::error::Error for Words {}

impl Error for Words {
    fn custom<M: fmt::Display>(_: M) -> Self {
        Self(&[])
    }
}

impl<'de> Deserializer<'de> for Asked {
    type Error = Words;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Words> {
        Err(Words(&[]))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        _: V,
    ) -> Result<V::Value, Words> {
        Err(Words(fields))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::ptr;

    use super::{FILE, Inside, Thing};

    fn below(of: &'static Thing, seen: &mut Vec<&'static Thing>) {
        if seen.iter().any(|other| ptr::eq(*other, of)) {
            return;
        }
        seen.push(of);
        let words = (of.words)();
        assert!(!words.is_empty());
        for (word, inside) in of.inside {
            assert!(words.contains(word), "{word} of {words:?}");
            let (Inside::One(of) | Inside::Table(of) | Inside::List(of)) = inside;
            below(of, seen);
        }
    }

    #[test]
    fn every_word_of_a_thing_is_one_of_its_type() {
        let mut seen = Vec::new();
        below(&FILE, &mut seen);
        assert!(seen.len() > 20, "{}", seen.len());
        assert_eq!((FILE.words)()[..3], ["$schema", "format", "about"]);
    }
}
