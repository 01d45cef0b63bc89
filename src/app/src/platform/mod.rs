//! The browser's abilities, one file each. Nothing else in the app knows web-sys.

pub mod clock;
pub mod file;
pub mod frame;
pub mod offline;
pub mod page;
pub mod route;
pub mod share;
pub mod storage;
