//! The libraries a program reads: the shipped one or another in its place, what is laid on top, and the user's own.

use std::collections::BTreeSet;
use std::hash::{Hash as _, Hasher as _};
use std::path::{Path, PathBuf};

use knockon_core::Catalogue;
use knockon_core::layers::{Layer, Replaced};
use knockon_core::library::{LibraryFile, LibraryHead, Part, Written};
use knockon_core::made_with::MadeWith;

use crate::disk::{Disk as _, Machine};
use crate::folder;
use crate::library::{Checked, Parsed, Problem, Weight, checked, fault, parsed, shipped_texts};

/// Longest name and version of a library, in letters.
const LONGEST_NAME: usize = 80;
/// What the user's own library is called where it does not say.
const OWN: &str = "own library";

/// Which libraries are read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// In place of the one shipped with the program.
    pub base: Option<PathBuf>,
    /// On top of it, the lowest first.
    pub add: Vec<PathBuf>,
    /// The user's own, on top of all; it need not be there.
    pub own: Option<PathBuf>,
}

impl Wanted {
    /// The folders that are read, the lowest first.
    pub fn folders(&self) -> impl Iterator<Item = &Path> {
        self.base.iter().chain(&self.add).chain(&self.own).map(PathBuf::as_path)
    }
}

/// One of the libraries that were read.
#[derive(Clone, Debug)]
pub struct Library {
    /// What sheets remember it by.
    pub mark: MadeWith,
    /// Where it lies; `None`: in the program.
    pub folder: Option<PathBuf>,
    /// How many files it has.
    pub files: usize,
    /// How many parts are written in it.
    pub parts: usize,
    /// How many vehicles it has, or has a piece of.
    pub vehicles: usize,
}

/// What came of reading libraries.
#[derive(Clone, Debug, Default)]
pub struct Loaded {
    /// All of them on top of each other. What has a fault is left out of it.
    pub catalogue: Catalogue,
    /// What is wrong, each with its file and line.
    pub problems: Vec<Problem>,
    /// The libraries, the lowest first.
    pub libraries: Vec<Library>,
    /// What of a lower library an upper one replaces.
    pub replaced: Vec<Replaced>,
}

impl Loaded {
    /// The faults: what keeps a part of a library from being used.
    pub fn faults(&self) -> impl Iterator<Item = &Problem> {
        self.problems.iter().filter(|p| p.weight == Weight::Fault)
    }
}

/// Reads libraries. A user's own folder that is not there, or holds no file, is no library and no fault.
#[must_use]
pub fn load(wanted: &Wanted) -> Loaded {
    load_without(wanted, &BTreeSet::new(), &[])
}

/// The same with other files in the user's own library, each given by its path and text: as if they lay there, in the place of
/// those that do.
pub(crate) fn load_with(wanted: &Wanted, files: &[(String, String)]) -> Loaded {
    load_without(wanted, &files.iter().map(|(name, _)| name.clone()).collect(), files)
}

/// The same to work with: a file of the user's own library that has a fault is left out as a whole, and the rest
/// counts. All that is wrong is told.
///
/// # Errors
/// What is wrong with a library that is not the user's own, or comes of it: these are wanted as they are or not at all.
pub fn usable(wanted: &Wanted) -> Result<Loaded, Vec<Problem>> {
    /// What hangs on a file that is left out may be left out in turn; nobody writes longer chains of files.
    const ROUNDS: usize = 8;
    let first = load(wanted);
    let mut out = BTreeSet::new();
    let mut now = first.clone();
    for _ in 0..ROUNDS {
        let faulty: Vec<String> = now.faults().map(|problem| problem.file.clone()).collect();
        if faulty.is_empty() {
            return Ok(Loaded { problems: first.problems, ..now });
        }
        let is_own = |file: &String| {
            wanted.own.as_ref().is_some_and(|own| Path::new(file).starts_with(own)) && !out.contains(file)
        };
        let own: Vec<String> = faulty.into_iter().filter(is_own).collect();
        if own.is_empty() {
            break;
        }
        out.extend(own);
        now = load_without(wanted, &out, &[]);
    }
    let bare = load(&Wanted { own: None, ..wanted.clone() });
    if bare.faults().next().is_some() {
        Err(bare.problems)
    } else {
        Ok(Loaded { problems: first.problems, ..bare })
    }
}

/// What tells at a glance that something in the folders of these libraries has changed: names, lengths and times.
#[must_use]
pub fn glance(wanted: &Wanted) -> u64 {
    let mut sum = std::hash::DefaultHasher::new();
    for dir in wanted.folders() {
        let paths = folder::paths(dir);
        let found = paths.as_ref().map_or(&[][..], |paths| &paths.found);
        (dir.exists(), paths.as_ref().map(|paths| paths.refused.len()).ok()).hash(&mut sum);
        for path in found {
            let looked = Machine.look(path).ok().flatten().map(|looked| (looked.len, looked.modified));
            (path, looked).hash(&mut sum);
        }
    }
    sum.finish()
}

fn load_without(wanted: &Wanted, out: &BTreeSet<String>, more: &[(String, String)]) -> Loaded {
    let mut loaded = Loaded::default();
    let mut whole = Whole::default();
    match &wanted.base {
        None => {
            let texts = shipped_texts();
            let digest = crate::library::digest_of(&texts).to_string();
            let texts = texts.into_iter().map(|(name, text)| (format!("shipped/{name}"), text)).collect();
            whole.layer(&mut loaded, "Knockon", None, texts, digest);
        }
        Some(dir) => whole.folder(&mut loaded, dir, None, &[]),
    }
    for dir in &wanted.add {
        whole.folder(&mut loaded, dir, None, &[]);
    }
    if let Some(dir) = &wanted.own {
        whole.folder(&mut loaded, dir, Some(out), more);
    }
    let problems = std::mem::take(&mut loaded.problems);
    let Checked { catalogue, problems, replaced } =
        checked(whole.layers, &whole.texts, whole.missing, problems);
    (loaded.catalogue, loaded.problems, loaded.replaced) = (catalogue, problems, replaced);
    loaded.catalogue.libraries = loaded.libraries.iter().map(|library| library.mark.clone()).collect();
    loaded
}

/// What has been read of all libraries.
#[derive(Default)]
struct Whole {
    layers: Vec<Layer<Written<Part>>>,
    texts: Vec<(String, String)>,
    /// Files that could not be read.
    missing: usize,
}

impl Whole {
    /// Reads a folder. `own`: it is the user's own and need not be there; these files of it are left out. `more`: files that
    /// count as if they lay there.
    fn folder(
        &mut self,
        loaded: &mut Loaded,
        dir: &Path,
        own: Option<&BTreeSet<String>>,
        more: &[(String, String)],
    ) {
        let is_own = own.is_some();
        if is_own && !dir.exists() {
            if !more.is_empty() {
                self.layer(loaded, OWN, Some(dir), more.to_vec(), String::new());
            }
            return;
        }
        let shown = dir.display().to_string();
        let mut folder = match folder::read(dir) {
            Ok(folder) => folder,
            Err(why) => {
                loaded.problems.push(fault(&shown, why));
                self.missing += 1;
                return;
            }
        };
        if let Some(out) = own {
            folder.texts.retain(|(name, _)| !out.contains(name));
            folder.unread.retain(|(name, _)| !out.contains(name));
        }
        folder.texts.extend_from_slice(more);
        self.missing += folder.unread.len();
        let none = folder.texts.is_empty() && folder.unread.is_empty();
        loaded.problems.extend(folder.unread.iter().map(|(file, why)| fault(file, why.clone())));
        if none {
            if !is_own {
                let text = format!("{shown}: there is no .json file in this folder");
                loaded.problems.push(fault(&shown, text));
                self.missing += 1;
            }
            return;
        }
        let called = dir.file_name().map(|name| name.to_string_lossy().into_owned());
        let name = if is_own { OWN.to_owned() } else { called.unwrap_or_else(|| dir.display().to_string()) };
        let digest = folder.digest.map(|digest| digest.to_string()).unwrap_or_default();
        self.layer(loaded, &name, Some(dir), folder.texts, digest);
    }

    fn layer(
        &mut self,
        loaded: &mut Loaded,
        called: &str,
        folder: Option<&Path>,
        texts: Vec<(String, String)>,
        digest: String,
    ) {
        let Parsed { files, missing, problems } = parsed(&texts);
        self.missing += missing;
        loaded.problems.extend(problems);
        let head = head(&files, &texts, called == OWN, &mut loaded.problems);
        let name = head.map_or(called, |head| head.name.trim());
        if loaded.libraries.iter().any(|library| library.mark.name == name) {
            let at = folder.unwrap_or(Path::new("")).display().to_string();
            let text = format!(
                "{at}: another library that is read is called \"{name}\" too; give one of them another name: \
                 \"library\": {{\"name\": \"..\"}} in one of its files"
            );
            loaded.problems.push(fault(&at, text));
        }
        loaded.libraries.push(Library {
            mark: MadeWith {
                name: name.to_owned(),
                version: head.map_or_else(String::new, |head| head.version.trim().to_owned()),
                digest,
                ..MadeWith::default()
            },
            folder: folder.map(Path::to_owned),
            files: texts.len(),
            parts: files.iter().map(|(_, file)| parts(file)).sum(),
            vehicles: {
                let mut ids: Vec<&String> = files.iter().flat_map(|(_, file)| file.vehicles.keys()).collect();
                ids.sort();
                ids.dedup();
                ids.len()
            },
        });
        self.layers.push(files);
        self.texts.extend(texts);
    }
}

/// How many parts are written in a file, as themselves or as a row.
fn parts(file: &LibraryFile<Written<Part>>) -> usize {
    file.parts.len() + file.families.values().map(|family| family.rows.len()).sum::<usize>()
}

/// What a library is called; that it says so twice, or in a way nobody can read, is told. The user's own may hold several that
/// others wrote, each with its name: then it goes by none of them.
fn head<'a>(
    files: &'a Layer<Written<Part>>,
    texts: &[(String, String)],
    is_own: bool,
    problems: &mut Vec<Problem>,
) -> Option<&'a LibraryHead> {
    let several = is_own && files.iter().filter(|(_, file)| file.library.is_some()).count() > 1;
    let mut said: Option<(&str, &LibraryHead)> = None;
    for (name, file) in files {
        let Some(head) = &file.library else { continue };
        let text = texts.iter().find(|(n, _)| n == name).map_or("", |(_, text)| text);
        let line = |path: &str| crate::place::line_of(text, path).unwrap_or(1);
        let fits = |text: &str| text.chars().count() <= LONGEST_NAME && !text.chars().any(char::is_control);
        if let Some((first, _)) = said.filter(|_| !several) {
            problems.push(fault(name, format!(
                "{name}:{}: at library: what the library is called stands in {first} already; say it in one file",
                line("library")
            )));
        } else if head.name.trim().is_empty()
            || ![&head.name, &head.version, &head.author, &head.licence].into_iter().all(|text| fits(text))
        {
            problems.push(fault(name, format!(
                "{name}:{}: at library.name: expected a name of 1 to {LONGEST_NAME} letters, such as \"Mill vans\", and \
                 a version such as \"1.2\"; author and licence take as many letters",
                line("library.name")
            )));
        } else {
            said = Some((name, head));
        }
    }
    said.filter(|_| !several).map(|(_, head)| head)
}
