//! Airframes learned from their bench tables, each once for all setups that fly it.

use std::collections::HashMap;

use liftmargin_core::card::Airframe;

use super::resolve_airframe;
use crate::error::DocumentError;
use crate::model;

/// What is learned so far, by the airframes' ids: of one file as it stands, not to be kept over a change.
#[derive(Debug, Default)]
pub struct LearnedAirframes(HashMap<String, Result<Airframe, DocumentError>>);

impl LearnedAirframes {
    /// An airframe as core's parameters; a fault is learned once too.
    ///
    /// # Errors
    /// As `resolve_airframe`.
    pub fn get(&mut self, airframe: &model::Airframe) -> Result<Airframe, DocumentError> {
        let learn = || resolve_airframe(airframe).map(|learned| learned.airframe);
        self.0.entry(airframe.id.clone()).or_insert_with(learn).clone()
    }
}
