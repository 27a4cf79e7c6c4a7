//! The commands about libraries, and reading those that the other commands go by.

use std::path::{Path, PathBuf};

use knockon_core::made_with::Differs;
use knockon_core::showing::{Measure, count};
use knockon_core::source::SourceKind;
use knockon_report::library_page::library_page;
use knockon_store::disk::Machine;
use knockon_store::libraries::{self, Library, Loaded, Wanted};
use knockon_store::library::{Problem, Weight};
use knockon_store::lists::{self, Known};
use knockon_store::tidy;
use serde_json::json;

use crate::terminal::{complain, say, say_json, say_whole};

type Done = Result<(), String>;

/// The libraries a command goes by. Faults in the user's own are told, and what has none of them counts.
///
/// # Errors
/// The faults of another library: it was asked for and cannot be used.
pub fn read(wanted: &Wanted) -> Result<Loaded, String> {
    let loaded = libraries::usable(wanted).map_err(|problems| {
        let faults = problems.iter().filter(|p| p.weight != Weight::Warning).map(|p| p.text.as_str());
        faults.collect::<Vec<_>>().join("\n")
    })?;
    let faults: Vec<&Problem> = loaded.faults().collect();
    for fault in &faults {
        complain(&fault.text);
    }
    if let Some(own) = wanted.own.as_ref().filter(|_| !faults.is_empty()) {
        complain(&format!(
            "{}: of your own library the files with a fault are left out until it is mended",
            own.display()
        ));
    }
    Ok(loaded)
}

/// What to do about a library of a sheet that is another here, or none.
pub fn way_out(differs: &Differs) -> &'static str {
    match differs {
        Differs::Missing(_) => "; name its folder with --add",
        Differs::Another { .. } => "; the desk takes them over on request",
    }
}

/// Prints what is wrong in the files of a library, or of those that are read; warnings too are an `Err`.
pub fn check(dir: Option<PathBuf>, wanted: Wanted, with_sources: bool) -> Done {
    let name = dir.as_ref().map_or_else(|| "what is read".to_owned(), |dir| dir.display().to_string());
    let wanted = match dir {
        Some(_) if wanted.base.is_some() || !wanted.add.is_empty() => {
            return Err(format!(
                "\"knockon library check {name}\" checks that folder by itself; for what is read with --library and \
                 --add leave the folder out"
            ));
        }
        Some(dir) => Wanted { base: Some(dir), ..Wanted::default() },
        None => wanted,
    };
    let loaded = libraries::load(&wanted);
    let is_faulty = loaded.faults().next().is_some();
    if !is_faulty {
        let of = &loaded.catalogue;
        say(&format!(
            "{name}: {}, {}, {}\n",
            count(of.parts.len(), "part", "parts"),
            count(of.port_types.len(), "port type", "port types"),
            count(of.vehicles.len(), "vehicle", "vehicles")
        ))?;
    }
    if with_sources && !is_faulty {
        sources(&loaded)?;
    }
    for problem in &loaded.problems {
        say(&format!("{}\n", problem.text))?;
    }
    let of = |weight: Weight| loaded.problems.iter().filter(|p| p.weight == weight).count();
    let (faults, warnings) = (of(Weight::Fault), of(Weight::Warning));
    say(&format!("{}, {}\n", count(faults, "fault", "faults"), count(warnings, "warning", "warnings")))?;
    if faults > 0 {
        let hint = wanted.base.as_ref().map(|dir| on_top(dir, faults)).unwrap_or_default();
        Err(format!("{name}: this library cannot be used as it is{hint}"))
    } else if warnings == 0 {
        Ok(())
    } else {
        Err(format!("{name}: this library can be used; mend the warnings to have it pass"))
    }
}

/// Prints how many numbers there are by what their sources are worth, and those without one.
fn sources(loaded: &Loaded) -> Done {
    let sources = loaded.catalogue.sources();
    for (kind, many) in SourceKind::ALL.into_iter().zip(sources.counts) {
        say(&format!("{many:>6} {}\n", kind.word()))?;
    }
    say(&format!("{:>6} without a source\n", sources.without.len()))?;
    for (file, spec) in &sources.without {
        say(&format!("{file}: {spec}: {}\n", spec.value).replace(": \n", "\n"))?;
    }
    Ok(())
}

/// A library that lacks only what the one of the program has is meant to lie on top of it.
fn on_top(dir: &Path, faults: usize) -> String {
    let added = libraries::load(&Wanted { add: vec![dir.to_owned()], ..Wanted::default() });
    if added.faults().count() < faults {
        let dir = dir.display();
        format!(
            "; on top of the library of the program it has fewer faults: \"knockon library check --add {dir}\" checks \
             it there"
        )
    } else {
        String::new()
    }
}

/// Puts the files of a library into the one layout, and prints which. `check`: only looks; what would change is an `Err`.
pub fn tidy(dir: &Path, check: bool) -> Done {
    let tidied = tidy::tidy(&Machine, dir, !check)?;
    let done = if check { "would be put in order" } else { "put in order" };
    for file in &tidied.changed {
        say(&format!("{file}: {done}\n"))?;
    }
    for fault in &tidied.faults {
        say(&format!("{fault}\n"))?;
    }
    let files = count(tidied.files, "file", "files");
    say(&format!("{files}, {} {done}\n", tidied.changed.len()))?;
    let name = dir.display();
    if !tidied.faults.is_empty() {
        Err(format!("{name}: files with a fault are left as they are; mend it and try again"))
    } else if check && !tidied.changed.is_empty() {
        Err(format!("{name}: \"knockon library tidy {name}\" puts these files in order"))
    } else {
        Ok(())
    }
}

/// Prints the schema of a library's file or of a sheet.
pub fn schema(of: &str) -> Done {
    say_whole(if of == "sheet" { knockon_store::schema::SHEET } else { knockon_store::schema::LIBRARY })
}

/// Prints which libraries are read and what one replaces of another.
pub fn list(wanted: &Wanted, as_json: bool) -> Done {
    let loaded = read(wanted)?;
    if as_json {
        let library = |of: &Library| {
            json!({
                "name": of.mark.name, "version": of.mark.version, "digest": of.mark.digest,
                "folder": of.folder.as_ref().map(|dir| dir.display().to_string()),
                "files": of.files, "parts": of.parts, "vehicles": of.vehicles,
            })
        };
        let replaced: Vec<_> =
            loaded.replaced.iter().map(|r| json!({"path": r.path, "file": r.file, "by": r.by})).collect();
        let own = wanted.own.as_ref().map(|dir| dir.display().to_string());
        let libraries: Vec<_> = loaded.libraries.iter().map(library).collect();
        return say_json(&json!({"libraries": libraries, "replaced": replaced, "own_folder": own}));
    }
    for of in &loaded.libraries {
        let at =
            of.folder.as_ref().map_or_else(|| "in the program".to_owned(), |dir| dir.display().to_string());
        say(&format!(
            "{}: {}, {}, {}\n  {at}\n",
            of.mark,
            count(of.files, "file", "files"),
            count(of.parts, "part", "parts"),
            count(of.vehicles, "vehicle", "vehicles")
        ))?;
    }
    if let Some(own) = &wanted.own
        && !loaded.libraries.iter().any(|of| of.folder.as_ref() == Some(own))
    {
        let is_faulty = loaded.problems.iter().any(|problem| Path::new(&problem.file).starts_with(own));
        let text = if is_faulty {
            format!("Your own library in {} is left out until what is wrong in it is mended", own.display())
        } else {
            format!("Your own library would lie in {} (it is empty or not there yet)", own.display())
        };
        say(&format!("{text}\n"))?;
    }
    for replaced in &loaded.replaced {
        say(&format!("{}: of {}, replaced by {}\n", replaced.path, replaced.file, replaced.by))?;
    }
    Ok(())
}

/// Writes what is in the libraries that are read as a page.
pub fn manual(wanted: &Wanted, out: &Path, units: Measure) -> Done {
    let catalogue = read(wanted)?.catalogue;
    let page = library_page(&catalogue, units);
    lists::write_bytes(out, page.as_bytes(), None, Known::Seal).map_err(|why| why.to_string())?;
    say(&format!("{} written to {}\n", count(catalogue.parts.len(), "part", "parts"), out.display()))
}
