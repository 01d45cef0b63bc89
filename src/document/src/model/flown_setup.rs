//! A setup as it was flown: a frozen copy with everything that it refers to, which no later edit touches.

use std::sync::Arc;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::{Extra, parts};

/// A frozen copy. Flights of one and the same setup share it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct FlownSetup {
    /// Reference for flights.
    pub id: String,
    /// Shown name: the setup's as it was.
    pub name: String,
    /// Which setup of the copy was flown.
    pub setup: String,
    /// A file of its own: this setup and what it needs.
    pub as_flown: Frozen,
    /// Of a later version.
    #[serde(flatten)]
    pub extra: Extra,
}

parts!(FlownSetup {});

/// A file inside the file, shared by all copies in memory.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Frozen(pub Arc<Value>);

impl Serialize for Frozen {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Frozen {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Value::deserialize(deserializer).map(|value| Self(Arc::new(value)))
    }
}
