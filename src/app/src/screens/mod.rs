//! The screens, a folder or a file each. They read the store, show parts, and know no browser.

mod before_after;
mod build;
mod card;
mod entry;
mod listing;
mod notes;
mod problem;
mod settings;
mod site;
mod what_if;

pub use build::BuildScreen;
pub use card::CardScreen;
pub use notes::Notes;
pub use settings::SettingsScreen;
pub use site::SiteScreen;
