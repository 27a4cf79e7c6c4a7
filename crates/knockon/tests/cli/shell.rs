//! Completions and man pages tell every command and every option there is.

use std::fs;
use std::process::{Command, Stdio};

use super::{prints, refused};

/// The commands as "--help" lists them.
fn commands() -> Vec<String> {
    let help = prints(&["--help"]);
    let list = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let names: Vec<String> = list
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .filter(|name| name != "help")
        .collect();
    assert!(names.len() > 9, "{names:?}");
    names
}

#[test]
fn completions_know_every_command_and_option() {
    for shell in ["bash", "zsh", "fish"] {
        let text = prints(&["completions", shell]);
        for name in commands() {
            assert!(text.contains(&name), "{shell}: {name}");
        }
        // as a shell writes an option: fish without its dashes
        let option = if shell == "fish" { "-l with-unsaved" } else { "--with-unsaved" };
        assert!(text.contains(option) && text.contains("this-saturday"), "{shell}");
    }
    assert!(refused(2, &["completions", "tcsh"]).contains("bash"));
}

/// The shell itself reads them: `bash -n` is its own check of a script; what it then completes is asked of it as its manual
/// says (Bash Reference Manual, "Programmable Completion": COMP_WORDS, COMP_CWORD, COMPREPLY).
#[cfg(target_os = "linux")]
#[test]
fn bash_completes_a_command_and_its_options() {
    let script = prints(&["completions", "bash"]);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("knockon");
    fs::write(&file, script).unwrap();
    let ask = |words: &str, at: usize| {
        let asked = format!(
            "source '{}'; COMP_WORDS=({words}); COMP_CWORD={at}; _knockon knockon '' ''; echo \"${{COMPREPLY[@]}}\"",
            file.display()
        );
        let output = Command::new("bash").args(["-c", &asked]).stdin(Stdio::null()).output().unwrap();
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).unwrap()
    };
    assert!(Command::new("bash").arg("-n").arg(&file).status().unwrap().success());
    let begun = ask("knockon ''", 1);
    for name in commands() {
        assert!(begun.split_whitespace().any(|word| word == name), "{name}: {begun}");
    }
    let options = ask("knockon jobs --", 2);
    assert!(options.contains("--this-saturday") && options.contains("--library"), "{options}");
}

#[test]
fn there_is_a_man_page_for_every_command() {
    let folder = tempfile::tempdir().unwrap();
    let dir = folder.path().join("man");
    // a second time replaces them
    for _ in 0..2 {
        assert_eq!(prints(&["man-pages", dir.to_str().unwrap()]), "");
    }
    let page = |name: &str| fs::read_to_string(dir.join(name)).unwrap_or_else(|e| panic!("{name}: {e}"));
    let first = page("knockon.1");
    // man(7): the title line, and the sections every page begins with
    assert!(first.contains(".TH knockon 1") && first.contains(".SH NAME") && first.contains(".SH SYNOPSIS"));
    for name in commands() {
        // a hyphen is written so that it stays one
        assert!(first.contains(&format!("knockon\\-{}", name.replace('-', "\\-"))), "{name}");
        assert!(page(&format!("knockon-{name}.1")).contains(".SH SYNOPSIS"), "{name}");
    }
    assert!(page("knockon-library-check.1").contains("\\-\\-sources"));
    assert!(!dir.join("knockon-help.1").exists());
    let said = refused(1, &["man-pages", "/dev/null/here"]);
    assert!(said.contains("/dev/null/here") && said.contains("cannot be written"), "{said}");
}
