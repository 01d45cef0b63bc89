//! Kinds with a stable key each: one row a kind, so that none can be forgotten.

/// An enum of plain kinds, each with its key in files: `ALL`, `KEYS`, `key()` and `from_key()`.
#[macro_export]
macro_rules! keyed {
    ($(#[$says:meta])* pub enum $name:ident { $($(#[$kind_says:meta])* $kind:ident = $key:literal,)+ }) => {
        $(#[$says])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name {
            $($(#[$kind_says])* $kind,)+
        }

        impl $name {
            /// All of them.
            pub const ALL: [Self; [$($key),+].len()] = [$(Self::$kind),+];
            /// Their keys, in the same order.
            pub const KEYS: &'static [&'static str] = &[$($key),+];

            /// Its stable key in files.
            pub const fn key(self) -> &'static str {
                match self { $(Self::$kind => $key),+ }
            }

            /// The one with this key.
            pub fn from_key(key: &str) -> Option<Self> {
                match key { $($key => Some(Self::$kind),)+ _ => None }
            }
        }
    };
}
