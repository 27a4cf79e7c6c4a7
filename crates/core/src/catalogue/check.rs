//! What can be wrong with a library, each fault with its file, its JSON path, what was expected and the way out.

/// A fault or warning.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// File name.
    pub file: String,
    /// JSON path with dots: `parts.pump.ports.outlet.fields.pressure`.
    pub path: String,
    /// What is wrong, what was expected, the way out.
    pub message: String,
    /// A warning does not stop the library from being used.
    pub warning: bool,
}

/// Gathers faults.
#[derive(Default)]
pub(super) struct Faults {
    pub list: Vec<Fault>,
    /// Ids that something names and nobody defines, where a defined one is near.
    pub missing: Vec<Missing>,
}

/// An id that is not there.
pub(super) struct Missing {
    /// The table it would stand in.
    pub table: &'static str,
    pub id: String,
    /// A defined one that may be meant.
    pub near: String,
    /// The place of its fault in the list.
    pub fault: usize,
}

impl Faults {
    pub fn error(&mut self, file: &str, path: String, message: String) {
        self.list.push(Fault { file: file.to_owned(), path, message, warning: false });
    }

    pub fn warn(&mut self, file: &str, path: String, message: String) {
        self.list.push(Fault { file: file.to_owned(), path, message, warning: true });
    }
}
