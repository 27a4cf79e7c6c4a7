//! Sheets on disk: read, and written whole or not at all, with the versions before kept beside them.

use std::path::{Path, PathBuf};
use std::time::SystemTime;

use knockon_core::Sheet;
use knockon_core::meant::{nearest, then};

use crate::backups;
use crate::digest::Digest;
use crate::disk::{Disk, Kind, LARGEST, Machine, folder, plain};
use crate::journal::Mark;
use crate::place::line_of;
use crate::put::{Ready, sync_names};
use crate::quiet;
use crate::reading::{self, Read};
use crate::text::{read_text_on, without_mark};

pub use crate::sheet_error::SheetError;

fn io(path: &Path, what: &'static str) -> impl FnOnce(std::io::Error) -> SheetError {
    let path = path.display().to_string();
    move |source| SheetError::Io { path, what, source }
}

/// Reads a sheet.
///
/// # Errors
/// The file cannot be read or is no sheet.
pub fn open(path: &Path) -> Result<Sheet, SheetError> {
    open_with_text(path).map(|(sheet, _)| sheet)
}

/// Reads a sheet, and keeps its text, in which a message can find a line.
///
/// # Errors
/// The file cannot be read or is no sheet.
pub fn open_with_text(path: &Path) -> Result<(Sheet, String), SheetError> {
    open_on(&Machine, path)
}

/// The same on another disk.
///
/// # Errors
/// The file cannot be read or is no sheet.
pub fn open_on(disk: &dyn Disk, path: &Path) -> Result<(Sheet, String), SheetError> {
    let text = read_text_on(disk, path).map_err(|why| {
        // the folder is where the sheet may lie
        SheetError::Wrong(if path.is_dir() {
            format!("{}: this is a folder; name the sheet file in it, which ends in .json", path.display())
        } else {
            why
        })
    })?;
    let named = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
    if !named && !text.trim_start().starts_with('{') {
        return Err(SheetError::Wrong(format!(
            "{}: this is no sheet file; a sheet is a JSON file as the desk saves it, and ends in .json",
            path.display()
        )));
    }
    let sheet = parse(&path.display().to_string(), &text)?;
    Ok((sheet, text))
}

/// Reads a sheet from text; `name` is used in messages.
///
/// # Errors
/// The text is no sheet, or of a newer format.
pub fn parse(name: &str, text: &str) -> Result<Sheet, SheetError> {
    let Read { thing, wrong, torn } = reading::read::<Sheet>(name, text, "sheet");
    let sheet = match thing {
        Some(sheet) if wrong.is_empty() => sheet,
        _ if is_library_file(text) => {
            return Err(SheetError::Wrong(format!(
                "{name}: this is a file of a parts library and no sheet; \"knockon library check\" with its folder \
                 checks it"
            )));
        }
        _ => {
            // every save leaves the version before
            let backup = if torn { "; the version before may lie beside it, with .bak added" } else { "" };
            return Err(SheetError::Wrong(wrong.join("\n") + backup));
        }
    };
    if sheet.plans.is_empty() {
        return Err(SheetError::Wrong(format!("{name}: at plans: expected at least one plan")));
    }
    if !sheet.plans.contains_key(&sheet.plan) {
        return Err(SheetError::Wrong(format!(
            "{name}:{}: at plan: there is no plan \"{}\"{}",
            line_of(text, "plan").unwrap_or(1),
            sheet.plan,
            then(
                nearest(&sheet.plan, sheet.plans.keys().map(String::as_str)),
                &format!("it has {}", sheet.plans.keys().cloned().collect::<Vec<_>>().join(", "))
            )
        )));
    }
    Ok(sheet)
}

/// Whether a text is an object with a table that only files of a library have.
fn is_library_file(text: &str) -> bool {
    let whole: Option<serde_json::Value> = serde_json::from_str(without_mark(text)).ok();
    let has = |word: &str| whole.as_ref().is_some_and(|w| w.get(word).is_some());
    let tables = [
        "systems",
        "classes",
        "port_types",
        "vehicles",
        "limits",
        "openings",
        "cautions",
        "operations",
        "orders",
        "checks",
        "inspections",
        "zones",
        "aims",
        "cards",
        "pools",
        "drawings",
    ];
    !has("plans") && (has("parts") || tables.iter().any(|table| has(table)))
}

/// What tells one version of a file from another at a glance: when it was written, and how long it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp(SystemTime, u64);

/// The stamp of a file as it lies on disk; `None` where there is none to read.
#[must_use]
pub fn stamp(path: &Path) -> Option<Stamp> {
    let meta = std::fs::metadata(path).ok()?;
    Some(Stamp(meta.modified().ok()?, meta.len()))
}

/// The digest of a sheet's file; `None` where there is no plain file to read.
#[must_use]
pub fn digest(disk: &dyn Disk, path: &Path) -> Option<Digest> {
    let real = disk.real(path).ok()?;
    disk.read(&real, LARGEST).ok().map(|bytes| Digest::of(&bytes))
}

/// The file that a sheet's path stands for: a link is followed, so that what lies beside the file is the same by every
/// way to it.
#[must_use]
pub fn real(disk: &dyn Disk, path: &Path) -> PathBuf {
    let by_folder = || Some(disk.real(folder(path)).ok()?.join(path.file_name()?));
    disk.real(path).ok().or_else(by_folder).unwrap_or_else(|| path.to_owned())
}

/// A sheet that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// Digest of what is in the file now.
    pub digest: Digest,
    /// A power cut does not take it back: what was kept of it elsewhere can go.
    pub safe: bool,
    /// What the user should know of it: complete sentences without a full stop, each with its file.
    pub notes: Vec<String>,
}

/// Writes a sheet whole or not at all; the versions before stay beside it. What nobody has changed stays as it was written.
///
/// # Errors
/// The folder or file cannot be written; the old file is unharmed.
pub fn save(path: &Path, sheet: &Sheet) -> Result<Saved, SheetError> {
    save_on(&Machine, path, sheet, None, None)
}

/// The same on a disk; `known` is what the file held when it was read or written last: anything else is not replaced.
/// A file that has gone may be written anew. `mark` is where the save began in the journal.
///
/// # Errors
/// [`SheetError::Changed`], or the folder or file cannot be written; the old file is unharmed.
pub fn save_on(
    disk: &dyn Disk,
    path: &Path,
    sheet: &Sheet,
    known: Option<Digest>,
    mark: Option<&Mark>,
) -> Result<Saved, SheetError> {
    let target = real(disk, path);
    let there = disk.look(&target).map_err(io(path, "cannot be written; is the folder still there?"))?;
    match there.as_ref().map(|there| there.kind) {
        None | Some(Kind::File) => {}
        Some(Kind::Folder) => {
            return Err(SheetError::Wrong(format!(
                "{}: this is a folder; name a file in it",
                path.display()
            )));
        }
        Some(Kind::Link) => {
            return Err(SheetError::Wrong(format!(
                "{}: this is a link that leads nowhere; save the sheet under another name",
                path.display()
            )));
        }
        Some(Kind::Other) => {
            return Err(SheetError::Wrong(format!(
                "{}: this is no plain file; save the sheet under another name",
                path.display()
            )));
        }
    }
    let old = match &there {
        Some(_) => {
            let what = "the file that is there cannot be read, so that it is not replaced; save the sheet under \
                        another name";
            Some(disk.read(&target, LARGEST).map_err(io(path, what))?)
        }
        None => None,
    };
    if let (Some(old), Some(known)) = (&old, known)
        && Digest::of(old) != known
    {
        return Err(SheetError::Changed { path: path.display().to_string() });
    }
    let text = quiet::text(old.as_deref(), sheet)
        .map_err(|e| SheetError::Wrong(format!("{}: cannot be written ({e})", path.display())))?;
    let mut saved = Saved { digest: Digest::of(text.as_bytes()), safe: true, notes: Vec::new() };
    let unput = |(path, what, source): (PathBuf, &'static str, _)| io(&path, what)(source);
    if old.as_deref() != Some(text.as_bytes()) {
        let ready = Ready::new(disk, &target, text.as_bytes(), there.as_ref()).map_err(unput)?;
        if let (Some(old), Some(there)) = (&old, &there) {
            saved.notes = backups::keep(disk, &target, old, there);
        }
        if let Some(Err(why)) = mark.map(|mark| mark.wrote(disk, &saved.digest.to_string())) {
            saved
                .notes
                .push(format!("{why}; should the power fail right now, look through the sheet afterwards"));
        }
        ready.place(&target).map_err(unput)?;
        if let Some(names) = there.as_ref().and_then(|there| there.names).filter(|names| *names > 1) {
            saved.notes.push(format!(
                "{}: this file lay under {names} names (hard links); the others still have the version before",
                path.display()
            ));
        }
    } else if let Err(e) = disk.sync(&target) {
        saved.notes.push(unsure(path, &e));
        saved.safe = false;
    }
    if let Err(e) = sync_names(disk, folder(&target)) {
        saved.notes.push(unsure(path, &e));
        saved.safe = false;
    }
    Ok(saved)
}

fn unsure(path: &Path, e: &std::io::Error) -> String {
    format!(
        "{}: the sheet is written, but the disk did not confirm it: {}; after a power cut the version before may be \
         back, with the journal beside it",
        path.display(),
        plain(e)
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use std::fs;

    use super::*;

    const SMALL: &str = r#"{"format":1,"name":"a","vehicle":"furrow-10","plan":"p","plans":{"p":{"name":"P","later":7}},"from-tomorrow":{"x":1}}"#;

    #[test]
    fn a_folder_and_a_file_of_another_kind_are_told_in_plain_words() {
        let folder = tempfile::tempdir().unwrap();
        let told = |path: &Path| open(path).unwrap_err().to_string();
        assert!(told(folder.path()).contains("this is a folder"), "{}", told(folder.path()));
        let readme = folder.path().join("README.md");
        for text in ["# Knockon\n", "", "plain words"] {
            fs::write(&readme, text).unwrap();
            assert!(told(&readme).contains("README.md: this is no sheet file"), "{}", told(&readme));
        }
        // a sheet under another name is still one, and a broken one still told by its line
        let kept = folder.path().join("a.json.bak");
        fs::write(&kept, SMALL).unwrap();
        assert!(open(&kept).is_ok());
        fs::write(&kept, "{\"format\": 1, ").unwrap();
        assert!(told(&kept).contains("a.json.bak:1: the file ends"), "{}", told(&kept));
    }

    #[test]
    fn unknown_words_survive_a_round_trip_and_a_back_up_is_kept() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.json");
        let sheet = parse("a", SMALL).unwrap();
        save(&path, &sheet).unwrap();
        save(&path, &Sheet { name: "b".into(), ..sheet.clone() }).unwrap();
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains("from-tomorrow") && text.contains("later"), "{text}");
        assert_eq!(open(&folder.path().join("a.json.bak")).unwrap(), sheet);
        assert!(!folder.path().join("a.json.new").exists());
    }

    #[test]
    fn unknown_words_survive_at_every_depth_that_reads_them() {
        let text = r#"{"format":1,"name":"a","vehicle":"furrow-10","plan":"p","z-top":1,
            "survey":{"tank":{"verdict":"good","z-finding":2}},
            "lines":{"pump":{"state":"in-hand","z-line":3}},
            "plans":{"p":{"name":"P","z-plan":4,"routes":{"tank":{"route":"convert","part":"x","z-choice":[5]}}}}}"#;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.json");
        let sheet = parse("a", text).unwrap();
        save(&path, &sheet).unwrap();
        let back: serde_json::Value = serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
        assert_eq!(back["z-top"], 1);
        assert_eq!(back["survey"]["tank"]["z-finding"], 2);
        assert_eq!(back["lines"]["pump"]["z-line"], 3);
        assert_eq!(back["plans"]["p"]["z-plan"], 4);
        let choice = &back["plans"]["p"]["routes"]["tank"];
        assert_eq!((&choice["z-choice"][0], &choice["part"]), (&5.into(), &"x".into()));
        assert_eq!(open(&path).unwrap(), sheet);
        // a choice that is wrong is still named with its place
        let wrong = text.replace("convert", "convrt");
        let message = parse("a.json", &wrong).unwrap_err().to_string();
        assert!(message.contains("a.json:4: at ") && message.contains("routes.tank"), "{message}");
    }

    #[test]
    fn what_is_said_of_companions_by_no_key_survives_in_its_place() {
        let plan = r#"{"name":"P","about":"","routes":{},"picks":{"needs:a":"x","position:fan":"y","zz":"z"},"accepted":["beside:hub","nosuch:a","survey:b"],"waived":{"cap:a:b":"later","cap:b":"no need"}}"#;
        let text = SMALL.replace(r#"{"name":"P","later":7}"#, plan);
        let sheet = parse("a", &text).unwrap();
        let of_plan = &sheet.plans["p"];
        assert_eq!((of_plan.picks.len(), of_plan.accepted.len(), of_plan.waived.len()), (1, 2, 1));
        let told: Vec<String> = of_plan.unread.errors().map(|why| why.to_string()).collect();
        let begins =
            ["\"needs:a\" is no key", "\"zz\" is no key", "\"nosuch:a\" is no key", "\"cap:a:b\" is no key"];
        assert_eq!(told.len(), begins.len());
        assert!(told.iter().zip(begins).all(|(told, begins)| told.starts_with(begins)), "{told:#?}");
        assert_eq!(serde_json::to_string(&of_plan).unwrap(), plan);
    }

    #[test]
    fn broken_files_name_line_and_path() {
        let text = "{\n \"format\": 1,\n \"name\": 5\n}";
        let message = parse("x.json", text).unwrap_err().to_string();
        assert!(message.contains("x.json:3") && message.contains("name"), "{message}");
        for bad in [
            "",
            "[]",
            "null",
            "{",
            &SMALL.replace("\"p\":{", "\"q\":{"),
            &SMALL.replace("\"format\":1", "\"format\":9"),
        ] {
            assert!(parse("x", bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_file_that_was_cut_off_says_so_in_plain_words() {
        for torn in ["{ \"format\": 1,", "", &SMALL[..SMALL.len() - 9]] {
            let message = parse("truck.json", torn).unwrap_err().to_string();
            assert!(message.contains("ends before it is complete") && message.contains(".bak"), "{message}");
        }
        let message = parse("truck.json", "hello").unwrap_err().to_string();
        assert!(!message.contains("at ?") && !message.contains("at .:"), "{message}");
    }
}
