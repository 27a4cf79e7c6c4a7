//! What the desk remembers between sessions: recent files, light or dark, that the start page was seen.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use crate::board::density::Density;
use knockon_core::Money;
use knockon_core::look_twice::Bounds;
use knockon_core::showing::Measure;
use knockon_store::put::{own_file, read_own};
use serde::{Deserialize, Serialize};

/// How many recent files are kept.
const RECENT: usize = 8;

/// The remembered settings.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Config {
    /// Dark rather than light.
    pub dark: bool,
    /// Quantities in metric units rather than inches and pounds.
    pub metric: bool,
    /// From where on a line is dear.
    pub dear: Option<Money>,
    /// From how many hours on a line takes long.
    pub long: Option<f64>,
    /// How much of the board is told.
    pub density: Density,
    /// The vehicle's drawing is shown; `None`: where the window is tall enough.
    pub elevation: Option<bool>,
    /// Command that shows a picture; `None`: the system's own.
    pub viewer: Option<String>,
    /// Everything is drawn half as large again.
    pub large: bool,
    /// Nothing moves by itself.
    pub still: bool,
    /// Of what another library has too, what stays as the owner has it: by path, with the mark of the other.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub mine: BTreeMap<String, String>,
    /// Newest first.
    pub recent: Vec<PathBuf>,
    /// The start page has been left once.
    pub started: bool,
}

impl Config {
    /// The system quantities are shown in.
    pub fn measure(&self) -> Measure {
        if self.metric { Measure::Metric } else { Measure::Inch }
    }

    /// From where on to look twice.
    pub fn bounds(&self) -> Bounds {
        Bounds { dear: self.dear.clone(), long: self.long }
    }

    /// Reads the settings; anything unreadable is as if nothing was remembered.
    pub fn load(home: Option<&Path>) -> Self {
        home.and_then(|home| read_own(&home.join("config.json")))
            .and_then(|text| serde_json::from_str(&text).ok())
            .unwrap_or_default()
    }

    /// Writes the settings; losing them is no reason to bother anybody.
    pub fn store(&self, home: Option<&Path>) {
        if let Some(home) = home
            && let Ok(text) = serde_json::to_string_pretty(self)
        {
            let _ = own_file(&home.join("config.json"), &text);
        }
    }

    /// Puts a file on top of the recent ones.
    pub fn remember(&mut self, path: &Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_owned());
        self.recent.truncate(RECENT);
    }
}

/// The folder of this program's settings.
pub fn home() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "knockon").map(|dirs| dirs.config_dir().to_owned())
}

/// The folder of the user's own library, whether there is one or not.
pub fn own_library() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "knockon").map(|dirs| dirs.data_dir().join("library"))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::Config;
    use std::path::Path;

    #[test]
    fn comes_back_and_survives_a_broken_file() {
        let home = tempfile::tempdir().unwrap();
        let mut config = Config { dark: true, ..Config::default() };
        config.remember(Path::new("/a"));
        config.remember(Path::new("/b"));
        config.remember(Path::new("/a"));
        config.store(Some(home.path()));
        let back = Config::load(Some(home.path()));
        assert_eq!(back, config);
        assert_eq!(back.recent.len(), 2);
        std::fs::write(home.path().join("config.json"), "{").unwrap();
        assert_eq!(Config::load(Some(home.path())), Config::default());
    }
}
