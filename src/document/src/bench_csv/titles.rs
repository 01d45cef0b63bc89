//! What the words above a column say of it.

use super::ThrustUnit;
use super::figures::is_unit;

/// What a column of a bench table may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Quantity {
    Throttle,
    Voltage,
    Current,
    Thrust,
    Speed,
    Power,
    Efficiency,
    Torque,
    Temperature,
    /// Motor, rotor, type: the same for many rows, and printed once.
    Name,
}

/// A column title in lower case, and its words.
pub(super) struct Title {
    text: String,
    words: Vec<String>,
}

impl Title {
    pub fn new(header: &str) -> Self {
        let text = header.to_lowercase();
        let words = text
            .split(|c: char| !c.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect();
        Self { text, words }
    }

    fn has(&self, parts: &[&str]) -> bool {
        self.words.iter().any(|word| parts.iter().any(|part| word.starts_with(part)))
    }

    fn word(&self, words: &[&str]) -> bool {
        self.words.iter().any(|word| words.contains(&word.as_str()))
    }

    pub fn electrical(&self) -> bool {
        self.has(&["electrical", "erpm"])
    }

    pub fn percent(&self) -> bool {
        self.text.contains('%')
    }

    /// Throttle by name, not the signal that carries it.
    pub fn names_throttle(&self) -> bool {
        self.has(&["throttle", "duty"])
    }

    /// The unit of force, where it is nothing else.
    pub fn only_force(&self) -> Option<ThrustUnit> {
        self.force().filter(|_| self.words.len() == 1)
    }

    /// Power that leaves the shaft, not power drawn.
    pub fn mechanical(&self) -> bool {
        self.has(&["mechanical", "shaft", "output"])
    }

    /// What it names; the plainest words first.
    pub fn quantity(&self) -> Option<Quantity> {
        let is = |words: &[&str], units: &[&str]| self.has(words) || self.word(units);
        let per_watt = self.word(&["w", "kw"]) && self.word(&["g", "gf", "kg", "n"]);
        Some(if is(&["effic"], &["eff"]) || per_watt {
            Quantity::Efficiency
        } else if is(&["torque"], &["nm"]) || self.word(&["n"]) && self.word(&["m"]) {
            Quantity::Torque
        } else if is(&["temp"], &[]) || self.text.contains("°c") {
            Quantity::Temperature
        } else if is(&["throttle", "duty", "esc", "pwm", "signal", "stick"], &["thr"]) {
            Quantity::Throttle
        } else if is(&["thrust", "pull", "lift"], &[]) {
            Quantity::Thrust
        } else if is(&["volt"], &["v", "vdc"]) {
            Quantity::Voltage
        } else if is(&["current", "amp"], &["a", "adc"]) && !self.has(&["ambient"]) {
            Quantity::Current
        } else if is(&["power", "watt"], &["w"]) {
            Quantity::Power
        } else if is(&["rpm", "erpm", "speed", "revs"], &[])
            || self.text.contains("/min")
            || self.text.contains("min-1")
        {
            Quantity::Speed
        } else if is(&["motor", "prop", "rotor", "blade", "model", "type", "item"], &["kv", "size"]) {
            Quantity::Name
        } else if self.text.trim() == "%" || self.text.trim() == "(%)" {
            Quantity::Throttle
        } else if self.force().is_some() && !self.has(&["weight", "mass"]) {
            Quantity::Thrust
        } else {
            return None;
        })
    }

    /// The unit of force in it.
    pub fn force(&self) -> Option<ThrustUnit> {
        Some(if self.word(&["kg", "kgf", "kilogram", "kilograms"]) {
            ThrustUnit::KilogramForce
        } else if self.word(&["n", "newton", "newtons"]) {
            ThrustUnit::Newton
        } else if self.word(&["lb", "lbs", "lbf", "pound", "pounds"]) {
            ThrustUnit::PoundForce
        } else if self.word(&["oz", "ozf", "ounce", "ounces"]) {
            ThrustUnit::OunceForce
        } else if self.word(&["g", "gf", "gram", "grams"]) {
            ThrustUnit::GramForce
        } else {
            return None;
        })
    }
}

/// What a title names.
pub(super) fn quantity(title: &str) -> Option<Quantity> {
    Title::new(title).quantity()
}

/// How many different quantities stand in a line of titles.
pub(super) fn known(titles: &[String]) -> usize {
    let mut found: Vec<Quantity> = Vec::new();
    for title in titles.iter().filter_map(|title| quantity(title)) {
        if !found.contains(&title) {
            found.push(title);
        }
    }
    found.len()
}

/// Whether a word is the unit of the title before it, not a title of its own.
pub(super) fn belongs(word: &str, title: &str) -> bool {
    let says = quantity(word);
    let is_bracket = word.starts_with(['(', '[', '/']) || (says.is_none() && word.ends_with([')', ']']));
    is_bracket || (is_unit(word) && (says.is_none() || says == quantity(title)))
}

/// Words of a line put together to titles: a known word begins one, words before it that are none belong to it, a unit to
/// the title before it. Motor and rotor are columns of their own or belong to what follows them.
pub(super) fn grouped(words: &[String], join_names: bool) -> Vec<String> {
    let mut titles: Vec<(String, Option<Quantity>, bool)> = Vec::new();
    for word in words {
        let says = quantity(word);
        match titles.last_mut() {
            Some((title, _, has_unit)) if belongs(word, title) && !*has_unit => {
                *title = format!("{title} {word}");
                *has_unit = true;
            }
            Some((title, quantity, _))
                if quantity.is_none()
                    || (join_names && *quantity == Some(Quantity::Name) && says.is_some()) =>
            {
                *title = format!("{title} {word}");
                *quantity = says;
            }
            _ => titles.push((word.clone(), says, is_unit(word))),
        }
    }
    titles.into_iter().map(|(title, ..)| title).collect()
}
