//! Names photos of a position, takes them off and has them shown.

use std::path::{Path, PathBuf};

use knockon_core::Edit;

use crate::app::App;
use crate::app::viewer;
use crate::app::work::{Done, What, pick_picture};
use crate::document::photo_paths::{Step, found, kept};
use crate::panel::small_photos::{SIDE, Small};

impl App {
    /// Does what was asked of the photos.
    pub(crate) fn photos(&mut self, step: Step) {
        match step {
            Step::Add(position, path) => self.add_photos(&position, &[path]),
            Step::Remove(position, at) => {
                let mut paths = self.document.sheet().photos.get(&position).cloned().unwrap_or_default();
                if at < paths.len() {
                    paths.remove(at);
                    self.edit(&[Edit::Photos { position, paths }]);
                }
            }
            Step::Open(text) => {
                let path = found(&text, self.document.path.as_deref());
                let command = self.config.viewer.clone();
                let folder = self.document.path.as_deref().and_then(Path::parent).map(Path::to_owned);
                let named = std::fs::canonicalize(&path).is_ok_and(|path| self.named.contains(&path));
                self.work.start(What::Shown, move |_| {
                    Done::Viewed(viewer::show(&path, command.as_deref(), folder.as_deref(), named).err())
                });
            }
            Step::Small(text) => {
                let path = found(&text, self.document.path.as_deref());
                self.view.small.insert(text.clone(), Small::Working);
                self.work.start(What::Shown, move |_| Done::Small(text, viewer::small(&path, SIDE)));
            }
            Step::Browse(position) => {
                let near = self.document.path.clone();
                self.work.start(What::Shown, move |_| pick_picture(position, near));
            }
        }
    }

    /// Names photos of a position, as one step; what is no picture or is named already is told.
    pub(crate) fn add_photos(&mut self, position: &str, new: &[PathBuf]) {
        let sheet_file = self.document.path.as_deref();
        let mut paths = self.document.sheet().photos.get(position).cloned().unwrap_or_default();
        let (before, mut refused) = (paths.len(), Vec::new());
        for path in new {
            let text = kept(path, sheet_file);
            match viewer::check(&found(&text, sheet_file)) {
                Err(why) => refused.push(why),
                Ok(()) if paths.contains(&text) => refused.push(format!("{text} is named here already")),
                Ok(()) => {
                    self.named.extend(std::fs::canonicalize(found(&text, sheet_file)));
                    paths.push(text);
                }
            }
        }
        let added = paths.len() > before;
        if added {
            self.edit(&[Edit::Photos { position: position.to_owned(), paths }]);
            self.view.photo = None;
        }
        if !refused.is_empty() {
            let lead = if added { "Not all of them are named here" } else { "Nothing is named" };
            self.trouble(format!("{lead}: {}.", refused.join("; ")));
        }
    }
}
