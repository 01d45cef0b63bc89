//! Every key in the browser's small storage. What stands under them is the document's.

/// The workspace as versions before the database kept it: one text.
pub const OLD_WORKSPACE: &str = "liftmargin-workspace";
/// Beginning of the keys under which those versions set texts aside.
pub const OLD_RESCUE: &str = "liftmargin-rescue-";
/// Beginning of the keys for the last word of a page that was left.
pub const JOURNAL: &str = "liftmargin-journal-";
/// How figures are shown, which setup was open last, when a file was exported. May be lost.
pub const VIEW: &str = "liftmargin-view";
/// Which setup is open in this tab.
pub const OPEN: &str = "liftmargin-open";
