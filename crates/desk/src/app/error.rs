//! Why the window could not be opened, in one sentence that says what to do.

use std::fmt;

/// Why the desk ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DeskError {
    /// There is no display.
    NoDisplay(String),
    /// Libraries of the display are missing.
    MissingLibraries(String),
    /// The window ended for another reason.
    Window(String),
}

impl DeskError {
    /// Sorts what the window layer said.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let low = text.to_lowercase();
        let has = |words: &[&str]| words.iter().any(|w| low.contains(w));
        let text = text.lines().map(str::trim).filter(|l| !l.is_empty()).collect::<Vec<_>>().join(" ");
        // the window layer puts the place in its source before what it has to say
        let text = match text.rsplit_once(".rs:") {
            Some((_, rest)) => {
                rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == ':' || c == ' ').to_owned()
            }
            None => text,
        };
        let text = text.trim_end_matches('.').to_owned();
        // what was looked for, in the words of the source, helps nobody
        let text = match text.split_once("configs matching") {
            Some(_) => "no driver for OpenGL was found".to_owned(),
            None => text,
        };
        if has(&[
            "could not be loaded",
            "failed to load",
            "glutinconfig",
            "glutin",
            "opengl",
            "libegl",
            "libgl",
        ]) {
            Self::MissingLibraries(text)
        } else if has(&["neither wayland_display", "x server", "wayland compositor", "display is set"]) {
            Self::NoDisplay(text)
        } else {
            Self::Window(text)
        }
    }
}

impl fmt::Display for DeskError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoDisplay(why) => write!(
                f,
                "There is no display to open the window on ({why}): start knockon in a desktop session or set DISPLAY, \
                 or use the command line, see knockon --help."
            ),
            Self::MissingLibraries(why) => write!(
                f,
                "The libraries of the display are missing ({why}): on Debian, sudo apt-get install libx11-6 libx11-xcb1 \
                 libxcursor1 libxi6 libxkbcommon-x11-0 libgl1 brings them."
            ),
            Self::Window(why) => write!(
                f,
                "The window closed unexpectedly ({why}); every change is in the journal beside the sheet and comes back \
                 when the sheet is opened again."
            ),
        }
    }
}

impl std::error::Error for DeskError {}

#[cfg(test)]
mod tests {
    use super::DeskError;

    #[test]
    fn says_what_to_install_or_set() {
        let missing = DeskError::from_text("Library libxkbcommon-x11.so could not be loaded.").to_string();
        assert!(missing.contains("libxkbcommon-x11-0"), "{missing}");
        let driver = "Found no glutin configs matching the template: ConfigTemplate { color_buffer_type: Rgb { r_size: 8 } }";
        let driver = DeskError::from_text(driver).to_string();
        assert!(driver.contains("libgl1") && !driver.contains("ConfigTemplate"), "{driver}");
        let none =
            DeskError::from_text("os error: neither WAYLAND_DISPLAY nor WAYLAND_SOCKET nor DISPLAY is set.");
        assert!(matches!(none, DeskError::NoDisplay(_)));
    }
}
