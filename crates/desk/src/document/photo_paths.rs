//! Paths of photos: the sheet names them, the pictures stay where they are.

use std::path::{Path, PathBuf};

use knockon_core::Sheet;

/// What is asked of the photos.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Name one more: position and path.
    Add(String, PathBuf),
    /// Take one off: position and place in the list.
    Remove(String, usize),
    /// Look at one: its path as it stands in the sheet.
    Open(String),
    /// Show one small in the panel: its path as it stands in the sheet.
    Small(String),
    /// Find one with the file chooser, for a position.
    Browse(String),
}

/// A path as the sheet keeps it: relative where it lies in the folder of the sheet, so that both can move together.
/// A sheet without a file has no folder yet: the whole path is kept.
pub fn kept(path: &Path, sheet: Option<&Path>) -> String {
    let Some(sheet) = sheet else { return whole(path).display().to_string() };
    let folder = whole(sheet).parent().map(Path::to_owned);
    let inside = folder.as_deref().and_then(|f| path.strip_prefix(f).ok());
    inside.filter(|p| !p.as_os_str().is_empty()).unwrap_or(path).display().to_string()
}

/// The path from the root on; as it stands where the system cannot say.
fn whole(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

/// A photo of a sheet that goes from one file to another: kept so that it leads to the same picture.
pub fn moved(text: &str, from: Option<&Path>, to: &Path) -> String {
    kept(&whole(&found(text, from)), Some(to))
}

/// All photos of a sheet that goes from one file to another.
pub fn all_moved(sheet: &Sheet, from: Option<&Path>, to: &Path) -> Sheet {
    let mut sheet = sheet.clone();
    for text in sheet.photos.values_mut().flatten() {
        *text = moved(text, from, to);
    }
    sheet
}

/// Where a photo lies.
pub fn found(text: &str, sheet: Option<&Path>) -> PathBuf {
    match sheet.and_then(Path::parent) {
        Some(folder) => folder.join(text),
        None => PathBuf::from(text),
    }
}

#[cfg(test)]
mod tests {
    use super::{found, kept, moved};
    use std::path::Path;

    #[test]
    fn a_photo_in_the_folder_of_the_sheet_moves_with_it() {
        let sheet = Some(Path::new("/home/me/truck/truck.json"));
        assert_eq!(kept(Path::new("/home/me/truck/photos/a.jpg"), sheet), "photos/a.jpg");
        assert_eq!(kept(Path::new("/mnt/card/a.jpg"), sheet), "/mnt/card/a.jpg");
        assert_eq!(kept(Path::new("/mnt/card/a.jpg"), None), "/mnt/card/a.jpg");
        let moved = Some(Path::new("/home/you/truck.json"));
        assert_eq!(found("photos/a.jpg", moved), Path::new("/home/you/photos/a.jpg"));
        assert_eq!(found("/mnt/card/a.jpg", moved), Path::new("/mnt/card/a.jpg"));
    }

    #[test]
    fn a_sheet_saved_elsewhere_keeps_the_way_to_its_photos() {
        let from = Some(Path::new("/home/me/truck/truck.json"));
        let to = |path: &'static str, text: &str| moved(text, from, Path::new(path));
        assert_eq!(to("/mnt/stick/truck.json", "photos/a.jpg"), "/home/me/truck/photos/a.jpg");
        assert_eq!(to("/home/me/truck/second.json", "photos/a.jpg"), "photos/a.jpg");
        assert_eq!(to("/home/me/all.json", "photos/a.jpg"), "truck/photos/a.jpg");
        assert_eq!(to("/mnt/stick/truck.json", "/mnt/stick/b.jpg"), "b.jpg");
        assert_eq!(to("/home/truck.json", "/elsewhere/b.jpg"), "/elsewhere/b.jpg");
        // no file yet
        assert_eq!(moved("/home/me/a.jpg", None, Path::new("/home/me/truck.json")), "a.jpg");
    }
}
