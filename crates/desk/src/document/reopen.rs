//! A file that is open already is not read again: its history would be lost.

use std::path::{Path, PathBuf};

use crate::app::App;
use crate::app::view::Page;

impl App {
    /// Opens a sheet; one that lies open here as it is on disk is only brought up.
    pub(crate) fn open_once(&mut self, path: PathBuf) {
        self.view.dialog = None;
        let whole = |path: &Path| std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        let here = self.document.path.as_deref().is_some_and(|open| whole(open) == whole(&path));
        if !here || self.document.elsewhere().is_some() || self.document.changed_on_disk() {
            self.open(path);
            return;
        }
        if self.view.page == Page::Start {
            self.go(Page::Board);
        }
        let changed = if self.document.dirty() {
            " What you changed since it was saved is kept; undo takes it back."
        } else {
            ""
        };
        self.tell(format!("{} is open already.{changed}", path.display()));
    }
}
