//! What the id of a line of a buy list is of: a part, or what work on it uses up, as in "pump-electric.rebuild".

/// What a line is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Of {
    /// The part itself.
    Part,
    /// What rebuilding it uses up.
    Rebuild,
    /// What cleaning it uses up.
    Clean,
}

impl Of {
    /// What stands behind the part of the id.
    fn ending(self) -> &'static str {
        match self {
            Self::Part => "",
            Self::Rebuild => ".rebuild",
            Self::Clean => ".clean",
        }
    }

    /// The id of the line of a part.
    pub(crate) fn id(self, part: &str) -> String {
        format!("{part}{}", self.ending())
    }

    /// The name of the line of a part.
    pub(crate) fn name(self, part: &str) -> String {
        match self {
            Self::Part => part.to_owned(),
            Self::Rebuild => format!("Rebuild: {part}"),
            Self::Clean => format!("Clean: {part}"),
        }
    }
}

/// The part of a line by its id, and what the line is of it.
pub(crate) fn read(id: &str) -> (&str, Of) {
    let work = [Of::Rebuild, Of::Clean].into_iter();
    work.filter_map(|of| Some((id.strip_suffix(of.ending())?, of))).next().unwrap_or((id, Of::Part))
}

#[cfg(test)]
mod tests {
    use super::{Of, read};

    #[test]
    fn the_id_of_a_line_reads_as_it_is_written() {
        for of in [Of::Part, Of::Rebuild, Of::Clean] {
            assert_eq!(read(&of.id("pump")), ("pump", of));
        }
        assert_eq!(read("rebuild"), ("rebuild", Of::Part));
    }
}
