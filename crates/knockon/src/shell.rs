//! What a shell and "man" know of the program: made from the definition of the command line, so that it cannot be older.

use std::path::Path;

use clap::{Command, ValueEnum};
use knockon_store::disk::plain;

use crate::terminal::say_whole;

type Done = Result<(), String>;

/// The name it is called by.
const NAME: &str = "knockon";

/// A shell that completes words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Shell {
    Bash,
    Zsh,
    Fish,
}

/// Prints the completions for a shell.
pub fn completions(mut command: Command, shell: Shell) -> Done {
    let generator = match shell {
        Shell::Bash => clap_complete::Shell::Bash,
        Shell::Zsh => clap_complete::Shell::Zsh,
        Shell::Fish => clap_complete::Shell::Fish,
    };
    let mut text = Vec::new();
    clap_complete::generate(generator, &mut command, NAME, &mut text);
    say_whole(&String::from_utf8_lossy(&text))
}

/// Writes a page for each command into a folder.
pub fn man_pages(command: Command, dir: &Path) -> Done {
    std::fs::create_dir_all(dir)
        // "help" has no page: "man knockon" is what it would say
        .and_then(|()| clap_mangen::generate_to(command.disable_help_subcommand(true), dir))
        .map_err(|e| format!("{}: the pages cannot be written: {}", dir.display(), plain(&e)))
}
