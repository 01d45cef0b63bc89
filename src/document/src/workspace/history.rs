//! What can be taken back: earlier states, one for each edit, edits of one field in a row counting as one.

/// Earlier states of `T`.
#[derive(Debug, Clone, PartialEq)]
pub struct History<T> {
    past: Vec<Step<T>>,
    group: Option<String>,
}

#[derive(Debug, Clone, PartialEq)]
struct Step<T> {
    before: T,
    words: String,
}

/// More than anybody takes back by hand; a bundle is some ten kilobytes.
const MOST_STEPS: usize = 60;

impl<T> History<T> {
    /// Nothing to take back.
    pub const fn new() -> Self {
        Self { past: Vec::new(), group: None }
    }

    /// Remembers the state before an edit, unless the edit goes on with the last one in the same `group`.
    pub fn record(&mut self, group: &str, words: &str, before: impl FnOnce() -> T) {
        if self.group.as_deref() == Some(group) && !self.past.is_empty() {
            return;
        }
        self.group = Some(group.to_owned());
        if self.past.len() == MOST_STEPS {
            self.past.remove(0);
        }
        self.past.push(Step { before: before(), words: words.to_owned() });
    }

    /// Changes every earlier state: what another tab did is not taken back by going back to one.
    pub fn for_each(&mut self, change: impl FnMut(&mut T)) {
        self.past.iter_mut().map(|step| &mut step.before).for_each(change);
    }

    /// The next edit counts as a new one, even in the same group.
    pub fn close_group(&mut self) {
        self.group = None;
    }

    /// What taking back would take back, in words.
    pub fn next_words(&self) -> Option<&str> {
        self.past.last().map(|step| step.words.as_str())
    }

    /// The state before the last edit.
    pub fn take_back(&mut self) -> Option<T> {
        self.group = None;
        self.past.pop().map(|step| step.before)
    }
}

impl<T> Default for History<T> {
    fn default() -> Self {
        Self::new()
    }
}
