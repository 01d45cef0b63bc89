//! The browser's abilities, one file each. Nothing else in the app knows web-sys.

pub mod aside;
pub mod clock;
pub mod database;
pub mod file;
pub mod frame;
pub mod offline;
pub mod page;
pub mod persist;
pub mod route;
pub mod share;
pub mod sound;
pub mod storage;
pub mod tabs;
pub mod vibration;
pub mod wake_lock;
