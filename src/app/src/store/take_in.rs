//! What a link or a file brings: offered first, taken in by the crew's choice, taken back as one step.

use std::collections::HashMap;
use std::sync::Arc;

use leptos::prelude::*;
use liftmargin_document::merge::{Keep, merge_with};
use liftmargin_document::open::Opened;
use liftmargin_document::record::List;
use liftmargin_document::words::take_in::done;

use super::Store;

/// What comes in.
#[derive(Clone, PartialEq)]
pub struct Coming {
    /// Where it comes from, in words: the name of a file.
    pub from: String,
    /// What is in it.
    pub opened: Arc<Opened>,
}

impl Store {
    /// Takes in what comes, of two things with one id what `choices` say, else both; says what happened. What comes with a
    /// setup alone is opened.
    pub fn take_in_chosen(&self, coming: &Coming, choices: &HashMap<(List, String), Keep>) -> String {
        let theirs = &coming.opened.bundle;
        let choose =
            |list: List, id: &str| choices.get(&(list, id.to_owned())).copied().unwrap_or(Keep::Both);
        let result = self.bundle.with_untracked(|mine| merge_with(mine, theirs, &choose));
        let words = done(&result);
        let setup = theirs.setups.first().filter(|_| theirs.setups.len() == 1).map(|setup| setup.id.clone());
        let setup = setup.map(|id| result.id_now(List::Setups, &id));
        self.replace("what was taken in", result.bundle);
        if let Some(setup) = setup {
            self.select(&setup);
        }
        self.keep_broken(coming.opened.broken.clone());
        self.undo_offer.set(Some(words.clone()));
        words
    }
}
