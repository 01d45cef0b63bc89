//! How the crew's data is kept in a browser's database so that nothing is lost: one record a key, each with a checksum, a
//! version number and its previous good copy; several tabs at once. No browser in it: the app moves the texts.
//!
//! A [`Keeper`] knows what this tab and the database have in common. `load` reads everything; `changes` says what differs
//! from it; `decide` says, inside the database's transaction, what becomes of a change when another tab wrote in between;
//! `wrote` and `pull` bring the common knowledge up to date.

mod change;
mod envelope;
mod journal;
mod keeper;
mod late;
mod load;
mod order;
mod others;
mod pull;

pub use change::{Change, Decision, Put};
pub use envelope::{Damaged, Envelope};
pub use journal::Journal;
pub use keeper::Keeper;
pub use late::{LATE, Late, is_whole, needed_at_once};
pub use load::{Loaded, Row};
pub use others::{Aside, Rescued};
pub use pull::{Conflict, Pulled};

/// What a record set aside is, in its key.
pub(crate) const BROKEN: &str = "broken/";
/// Texts that could not be read at all.
pub(crate) const RESCUED: &str = "rescue/";
/// Parts of the file beside its lists, of a later version.
pub(crate) const EXTRA: &str = "extra/";
/// Which text of an older version was taken in.
pub(crate) const TAKEN_IN: &str = "file/taken-in";
