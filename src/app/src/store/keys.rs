//! Every key in the browser's storage. What stands under them is the document's; the schema number is its own.

/// The workspace.
pub const WORKSPACE: &str = "liftmargin-workspace";
/// Beginning of the keys under which workspaces that could not be read stand, word for word.
pub const RESCUE: &str = "liftmargin-rescue-";
