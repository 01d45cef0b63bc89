//! On keeping the data: what a browser promises, how the app is installed, when to export.
//!
//! How each browser installs a page: from memory; menus move.

/// What the browser on a device is built on, as far as words on it differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// A browser on an iPhone or iPad.
    AppleTouch,
    /// The maker's own browser on a Mac.
    AppleDesktop,
    /// Gecko on a phone or tablet.
    GeckoTouch,
    /// Gecko on a computer.
    GeckoDesktop,
    /// Chromium and what is built on it.
    Chromium,
}

impl Engine {
    /// By what the browser calls itself. An iPad says that it is a Mac; its touch tells.
    pub fn of(user_agent: &str, has_touch: bool) -> Self {
        let says = |word: &str| user_agent.contains(word);
        if says("iPhone") || says("iPad") || (says("Macintosh") && has_touch) {
            Self::AppleTouch
        } else if says("Firefox/") {
            if says("Android") { Self::GeckoTouch } else { Self::GeckoDesktop }
        } else if says("AppleWebKit") && !says("Chrome/") && !says("Chromium/") {
            Self::AppleDesktop
        } else {
            Self::Chromium
        }
    }

    /// Whether a page that is not installed may lose its data after seven days of use of the browser without a visit.
    ///
    /// Source: the engine's tracking prevention, as its makers announced it in 2020; from memory.
    pub const fn forgets_after_a_week(self) -> bool {
        matches!(self, Self::AppleTouch | Self::AppleDesktop)
    }

    /// How to install the page.
    pub const fn install_words(self) -> &'static str {
        match self {
            Self::AppleTouch => "Touch Share, then Add to Home Screen, and open it from there.",
            Self::AppleDesktop => "Open the File menu, choose Add to Dock, and open it from there.",
            Self::GeckoTouch => "Open the menu, then Add to Home screen (or Install).",
            Self::GeckoDesktop => {
                "This browser installs no pages; bookmark it, and it opens without a network all the same."
            }
            Self::Chromium => "Open the menu, then Install app (or Add to Home screen).",
        }
    }
}

/// Data of one's own in no file for so many days wants a word, where the browser promises nothing.
const DAYS_TO_REMIND: f64 = 3.0;

const MS_A_DAY: f64 = 86_400_000.0;

/// What must be said about the crew's data, if anything: `unexported_since_ms` is when it first changed after the last
/// export, `lasts` whether the browser promises to keep it.
pub fn keeping_words(
    engine: Engine,
    is_installed: bool,
    lasts: bool,
    unexported_since_ms: Option<f64>,
    now_ms: f64,
) -> Option<String> {
    let since_ms = unexported_since_ms?;
    if lasts {
        return None;
    }
    let days = ((now_ms - since_ms) / MS_A_DAY).floor();
    let old = (days >= DAYS_TO_REMIND).then(|| format!("Your data has been in no file for {days} days."));
    if engine.forgets_after_a_week() && !is_installed {
        let install = engine.install_words();
        let old = old.map(|old| format!(" {old}")).unwrap_or_default();
        return Some(format!(
            "This browser may clear the data of a page that was not visited for seven days, unless it is installed.{old} \
             {install} Export a file too."
        ));
    }
    old.map(|old| format!("{old} This browser does not promise to keep it: export one."))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regress_engines_by_their_own_names() {
        let table = [
            (
                "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 Version/18.0 Safari/604.1",
                true,
                Engine::AppleTouch,
            ),
            (
                "Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 Version/18.0 Safari/605.1.15",
                true,
                Engine::AppleTouch,
            ),
            (
                "Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 Version/18.0 Safari/605.1.15",
                false,
                Engine::AppleDesktop,
            ),
            (
                "Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0",
                true,
                Engine::GeckoTouch,
            ),
            (
                "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0",
                false,
                Engine::GeckoDesktop,
            ),
            (
                "Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/140.0 Mobile Safari/537.36",
                true,
                Engine::Chromium,
            ),
        ];
        for (name, touch, engine) in table {
            assert_eq!(Engine::of(name, touch), engine, "{name}");
        }
    }

    #[test]
    fn regress_words_only_where_something_may_be_lost() {
        let words = |engine, installed, lasts, days: Option<f64>| {
            keeping_words(engine, installed, lasts, days.map(|days| 1e12 - days * MS_A_DAY), 1e12)
        };
        assert_eq!(words(Engine::AppleTouch, false, false, None), None);
        assert!(
            words(Engine::AppleTouch, false, false, Some(0.1))
                .is_some_and(|words| words.contains("seven days"))
        );
        assert_eq!(words(Engine::AppleTouch, true, false, Some(0.1)), None);
        assert_eq!(words(Engine::Chromium, false, true, Some(30.0)), None);
        assert_eq!(words(Engine::Chromium, false, false, Some(1.0)), None);
        assert!(
            words(Engine::Chromium, false, false, Some(4.0)).is_some_and(|words| words.contains("4 days"))
        );
    }
}
