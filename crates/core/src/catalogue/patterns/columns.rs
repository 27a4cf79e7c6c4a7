//! The columns of a family: which of them a path lies in.

/// The column in which a path lies.
pub(super) fn column_of(columns: &[Vec<String>], path: &str) -> Option<usize> {
    let lies = |column: &String| {
        path.strip_prefix(column.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
            // a word of the way that is not known ends the path that is told
            || column.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'))
    };
    columns.iter().position(|paths| paths.iter().any(lies))
}
