//! What can be wrong with what a figure is asked; each message holds an example.

/// What is wrong with the inputs of a figure; the text always holds an example.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FigureInputError {
    /// An input that has no default was not given.
    #[error("{figure}: {input} is missing; wanted: {wanted}, for example {input}=\"{example}\"")]
    Missing {
        /// Id of the figure.
        figure: &'static str,
        /// The input.
        input: &'static str,
        /// Its meaning.
        wanted: &'static str,
        /// A good value.
        example: &'static str,
    },
    /// There is no such input.
    #[error("{figure}: there is no input \"{given}\"{}; it takes {}, for example {example}", meant(.nearest), .known.join(", "))]
    Unknown {
        /// Id of the figure.
        figure: &'static str,
        /// As given.
        given: String,
        /// The nearest input there is.
        nearest: Option<&'static str>,
        /// All inputs.
        known: Vec<&'static str>,
        /// Good values for all that must be given.
        example: String,
    },
    /// The text of an input cannot be read.
    #[error("{figure}: {input}: {why}; wanted: {wanted}, for example {input}=\"{example}\"")]
    Unreadable {
        /// Id of the figure.
        figure: &'static str,
        /// The input.
        input: &'static str,
        /// What is wrong with it.
        why: String,
        /// Its meaning.
        wanted: &'static str,
        /// A good value.
        example: &'static str,
    },
    /// The values were read, and no figure can be worked out from them.
    #[error("{figure}: {why}; for example {example}")]
    Refused {
        /// Id of the figure.
        figure: &'static str,
        /// What was found and what was expected.
        why: String,
        /// Good values for all that must be given.
        example: String,
    },
}

/// There is no figure of this name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("there is no figure \"{given}\"{}; \"knockon figure\" lists them, \"knockon figure tyre code=31x10.50R15LT\" works one out", meant(.nearest))]
pub struct UnknownFigure {
    /// As given.
    pub given: String,
    /// The nearest there is.
    pub nearest: Option<&'static str>,
}

fn meant(nearest: &Option<&'static str>) -> String {
    nearest.map_or_else(String::new, |n| format!("; did you mean \"{n}\"?"))
}
